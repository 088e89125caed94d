#!/bin/sh
# The bin of offcuts: listed, filled, changed, cut and checked from the command line, by several at once too.
#   sh tests/command/bin.sh PATH/TO/haftwright
. "$(dirname "$0")/helpers.sh"
own=$XDG_DATA_HOME/haftwright/bin.json
sample=$projects/bin.json
# holds PYTHON: what the code says of d, the file or the answer named in $from.
holds() { python3 -c "import json, sys; d = json.load(open(sys.argv[1])); assert $1, d" "$from"; }

expect 'no bin yet' 0 "$haftwright" bin list
that 'says where it would lie' has out "$own"
that 'and what creates it' has out "'haftwright bin add' creates it"
that 'and makes none' test ! -e "$own"
expect 'nothing to show' 2 "$haftwright" bin show thwart
that 'says that there is no bin' has err 'is not there'
expect 'a named bin that is not there' 2 "$haftwright" bin list --bin nowhere.json
that 'is named' has err 'nowhere.json: is not there'
expect 'no action' 2 "$haftwright" bin
expect 'an action that is none' 2 "$haftwright" bin lend thwart

expect 'add' 0 "$haftwright" bin add --name 'Old thwart' --material walnut --length 180 --width '1 3/4 in' \
  --thickness 22 --grain 3 --kept-at 'box 3' --moisture 8.5
that 'reports what was added' has out 'Added: old_thwart, black walnut, 180.0 x 44.5 x 22.0 mm (7.09 x 1.75 x 0.87 in)'
that 'in one line' one_line out
that 'a file that says what it is' has "$own" '"haftwright_bin": 1'
from=$own
that 'with what was typed' holds 'd["offcuts"][0]["grain"]["along_deg"] == 3 and d["offcuts"][0]["moisture_percent"] == 8.5'
expect 'add of an odd shape' 0 "$haftwright" bin add --id odd --material olive \
  --outline '0,0; 130,4,0.1; 5 in,45; -5,40' --thickness '30 mm' --alike 2 --faces upper
that 'which is reported' has out 'odd shape'
that 'with its arc' holds 'd["offcuts"][1]["outline"][1] == {"x_mm": 130, "y_mm": 4, "bulge": 0.1}'
that 'and its length in inches' holds 'd["offcuts"][1]["outline"][2]["x_mm"] == 127'
printf '0,0\n60, 0\n\n50,30\n' >corner.txt
expect 'add of an outline from a file' 0 "$haftwright" bin add --id corner --material teak --outline corner.txt \
  --thickness 9 --set 'teak block' --slice 2
that 'of three corners' holds 'len(d["offcuts"][2]["outline"]) == 3 and d["offcuts"][2]["slice"] == 2'
expect 'add-sheet' 0 "$haftwright" bin add-sheet --material g10 --id red --length 200 --width 100 --thickness 0.8
expect 'add-rod' 0 "$haftwright" bin add-rod --id brass --diameter '1/8 in' --length '12 in' --measured 3.17
that 'all of it there' holds 'd["sheets"][0]["size"] == {"length_mm": 200, "width_mm": 100} and abs(d["rods"][0]["length_mm"] - 304.8) < 1e-9'

expect 'list' 0 "$haftwright" bin list
for id in old_thwart odd corner red brass; do that "names $id" has out "$id"; done
expect 'list of a wood' 0 "$haftwright" bin list --material walnut
that 'has it' has out old_thwart
that 'and no other' lacks out odd
expect 'list of a size' 0 "$haftwright" bin list --least '100x30x25'
that 'has what may do' has out odd
that 'and not what is too thin' lacks out old_thwart
expect 'list as JSON' 0 "$haftwright" bin list --json
cp out list.json
from=list.json
that 'with the area' holds 'abs(d["offcuts"][0]["area_mm2"] - 180 * 44.45) < 1e-6 and d["bin_file_there"]'
expect 'show' 0 "$haftwright" bin show odd brass
that 'the faces' has out 'upper'
that 'the rod as bought' has out '3.175 mm (0.1250 in)'
expect 'show as JSON' 0 "$haftwright" bin show brass --json
from=out
that 'says what it is' holds 'd["shown"][0]["what"] == "rod" and d["shown"][0]["stock"]["measured_mm"] == 3.17'
from=$own

expect 'change' 0 "$haftwright" bin change old_thwart --thickness 18 --moisture none --note 'planed'
that 'what was named' holds 'd["offcuts"][0]["thickness_mm"] == 18 and "moisture_percent" not in d["offcuts"][0]'
that 'and nothing else' holds 'd["offcuts"][0]["kept_at"] == "box 3" and d["offcuts"][0]["size"]["length_mm"] == 180'
expect 'change of one length' 0 "$haftwright" bin change red --width 90
that 'keeps the other' holds 'd["sheets"][0]["size"] == {"length_mm": 200, "width_mm": 90}'
expect 'change of a rod' 0 "$haftwright" bin change brass --length 200 --alike 2
expect 'defect' 0 "$haftwright" bin defect old_thwart --kind knot --circle 60,20,8 --note loose
expect 'a second one' 0 "$haftwright" bin defect old_thwart --kind check --polygon '170,10; 180,9; 180,12'
that 'both there' holds '[x["kind"] for x in d["offcuts"][0]["defects"]] == ["knot", "check"]'
expect 'a defect moved' 0 "$haftwright" bin defect old_thwart --move 1:5,-2
that 'by so much' holds 'd["offcuts"][0]["defects"][0]["outline"][0] == {"x_mm": 61, "y_mm": 18, "bulge": 1}'
expect 'a defect taken away' 0 "$haftwright" bin defect old_thwart --remove 2
that 'the other stays' holds '[x["kind"] for x in d["offcuts"][0]["defects"]] == ["knot"]'

python3 "$here/make_photos.py" plain 1900 1000 'top face.jpg'
expect 'photo' 0 "$haftwright" bin photo old_thwart --file 'top face.jpg' --mark 10,900=0,0 --mark 1810,905=180,0 \
  --mark 1808,460=180,44.45 --mark 12,455=0,44.45 --above 1.5 --camera-height 450
that 'is copied' cmp 'top face.jpg' "$(dirname "$own")/bin-pictures/top face.jpg"
that 'with its height' holds 'd["offcuts"][0]["photos"][0]["camera_height_mm"] == 450'
that 'with its marks' holds 'd["offcuts"][0]["photos"][0]["marks"][2] == {"x_px": 1808, "y_px": 460, "x_mm": 180, "y_mm": 44.45}'
mkdir other && python3 "$here/make_photos.py" plain 300 200 'other/top face.jpg'
expect 'another picture of that name' 0 "$haftwright" bin photo odd --file 'other/top face.jpg' --face lower
that 'gets a name of its own' holds 'd["offcuts"][1]["photos"][0]["file"] == "top face_2.jpg"'
expect 'check' 0 "$haftwright" bin check
that 'misses none' has out 'no picture missing'
rm "$(dirname "$own")/bin-pictures/top face_2.jpg"
expect 'check with a picture gone' 1 "$haftwright" bin check
that 'names it' has out 'odd: no picture top face_2.jpg'
expect 'check as JSON' 1 "$haftwright" bin check --json
from=out
that 'names it too' holds 'd["missing_photos"] == [{"offcut": "odd", "file": "top face_2.jpg"}]'
from=$own
expect 'the photo forgotten' 0 "$haftwright" bin photo odd --remove 1
expect 'three marks' 2 "$haftwright" bin photo old_thwart --file 'top face.jpg' --mark 1,1=0,0 --mark 2,2=9,0 --mark 3,3=9,9
that 'are too few' has err 'must have none or at least 4'
cp 'top face.jpg' second.jpg
expect 'a new picture with too few marks' 2 "$haftwright" bin photo old_thwart --file second.jpg --mark 1,1=0,0
that 'is not kept' test ! -e "$(dirname "$own")/bin-pictures/second.jpg"
expect 'a mark that is none' 2 "$haftwright" bin photo old_thwart --file 'top face.jpg' --mark 1,1
that 'is reported with its option' has err '--mark: must be "PX,PY=X,Y"'

expect 'reserve' 0 "$haftwright" bin reserve old_thwart --project 'shucking knife' --piece 'left rear'
expect 'for another project' 2 "$haftwright" bin reserve old_thwart --project 'marking knife'
that 'says for whom it is' has err '"old_thwart" is reserved for "shucking knife"; release that first'
expect 'what is reserved is not removed' 2 "$haftwright" bin remove old_thwart
expect 'and left out of the list' 0 "$haftwright" bin list
that 'which says so' has out '1 offcut is reserved and left out; --all shows all'
that 'and does so' lacks out old_thwart
expect 'all of the list' 0 "$haftwright" bin list --all
that 'says for what' has out 'for shucking knife (left rear)'
expect 'cut' 0 "$haftwright" bin cut old_thwart --project 'shucking knife' --left '90,0; 180,0; 180,44.45; 90,44.45'
that 'reports what is left' has out 'left: old_thwart_rest, black walnut, 90.0 x 44.5 x 18.0 mm'
that 'in the place of what it was' holds '[x["id"] for x in d["offcuts"]] == ["odd", "corner", "old_thwart_rest"]'
that 'its photo marked for it' holds 'd["offcuts"][2]["photos"][0]["marks"][1] == {"x_px": 1810, "y_px": 905, "x_mm": 90, "y_mm": 0}'
that 'free' holds 'd["offcuts"][2]["reserved"] == [] and d["offcuts"][2]["defects"] == []'
expect 'cut of a rod' 0 "$haftwright" bin cut brass --used 50
that 'one of two' holds '[(x["length_mm"], x["alike"]) for x in d["rods"]] == [(200, 1), (150, 1)]'
expect 'leftovers that are too large' 2 "$haftwright" bin cut old_thwart_rest --left '0,0; 95,0; 95,20; 0,20'
that 'are refused' has err 'leftover 1 lies partly outside'
"$haftwright" bin reserve odd --project 'marking knife' >/dev/null
"$haftwright" bin reserve red --project 'marking knife' >/dev/null
expect 'release' 0 "$haftwright" bin release 'marking knife'
that 'reports how much' has out 'Released: 2 things'
expect 'release again' 2 "$haftwright" bin release 'marking knife'
expect 'remove' 0 "$haftwright" bin remove red brass
that 'both' holds 'd["sheets"] == [] and [x["id"] for x in d["rods"]] == ["brass_rest"]'

cp "$own" own.before
while IFS='|' read -r what words line; do
  # shellcheck disable=SC2086
  expect "$what" 2 sh -c "exec \"\$0\" bin $line" "$haftwright"
  that "$what: says $words" has err "$words"
  that "$what: in one line" one_line err
  that "$what: nothing changed" cmp "$own" own.before
done <<'EOF'
an id that is none|nothing in the bin is called "od"; did you mean "odd"?|change od --thickness 3
nothing to change|name what is to be changed|change odd
a field of another thing|--grain: is not about a rod|change brass_rest --grain 3
a length that is none|--thickness: |change odd --thickness thick
a comma for a point|--thickness: |change odd --thickness 1,5
no number|--alike: must be a whole number|change odd --alike two
too many|offcuts[0].alike: must be a whole number from 1 to 999|change odd --alike 1000
a size for an odd shape|--width: is missing|change odd --length 100
outline and size|--outline: give --outline, or --length and --width|add --material olive --outline '0,0;9,0;9,9' --length 9 --width 9 --thickness 5
crossing lines|offcuts[3].outline[|add --material olive --outline '0,0; 50,50; 50,0; 0,50' --thickness 5
narrower than a saw|is nowhere as wide as 3 mm|add --material olive --length 90 --width 2 --thickness 5
no material|--material: is missing|add --length 90 --width 20 --thickness 5
an unknown material|did you mean "olive"|add --material oliv --length 90 --width 20 --thickness 5
no size|--length: is missing|add --material olive --thickness 5
no file|there is no file "nowhere.txt"|add --material olive --outline nowhere.txt --thickness 5
an id that is taken|"odd" is in the bin already|add --id odd --material olive --length 90 --width 20 --thickness 5
an id that can't be|offcuts[3].id: must be 1 to 24 characters|add --id 'Odd One' --material olive --length 90 --width 20 --thickness 5
a slice without a set|must be left out where there is no matched_set|change odd --slice 1
a face that is none|--faces: must be one of upper, lower|change odd --faces left
a defect beside it|lies beside the offcut|defect odd --circle 500,0,5
a defect without a place|give --circle or --polygon|defect odd --kind knot
a defect of no size|the diameter must be more than 0|defect odd --circle 5,5,0
a defect that is not there|"odd" has no defect 3|defect odd --remove 3
a photo that is not there|--file: "nowhere.jpg": There is no such picture file.|photo odd --file nowhere.jpg
a list of an unknown wood|--material: no material is called "walnit"; did you mean|list --material walnit
a size that is none|--least: must be lengths with x between them|list --least '1x2x3x4'
EOF
expect 'units that are none' 2 "$haftwright" bin units feet
expect 'a kind of defect that is none' 2 "$haftwright" bin defect odd --kind hollow --circle 5,5,2
expect 'an unknown option' 2 "$haftwright" bin add --wood olive

expect 'a bin for a project' 2 "$haftwright" check "$own"
that 'says what it is' has err 'this is a Haftwright bin of offcuts'
sed 's/"haftwright_bin": 1/"haftwright_bin": 2/' own.before >newer.json
cp newer.json newer.before
expect 'a bin of a newer version' 2 "$haftwright" bin change odd --thickness 3 --bin newer.json
that 'says so' has err 'newer.json: haftwright_bin: this bin of offcuts was saved by a newer Haftwright (format 2)'
that 'and stays' cmp newer.json newer.before
sed 's/"thickness_mm"/"thicknes_mm"/' own.before >bad.json
expect 'a misspelt key' 2 "$haftwright" bin list --bin bad.json
that 'names the right one' has err 'did you mean "thickness_mm"?'
head -c 300 own.before >half.json
expect 'half a file' 2 "$haftwright" bin check --bin half.json
expect 'a full disk' 3 sh -c 'ulimit -f 0; exec "$0" bin change odd --thickness 7' "$haftwright"
that 'leaves the bin' cmp "$own" own.before
that 'no leftovers' no_leftovers "$(dirname "$own")" 2

expect 'units' 0 "$haftwright" bin units inch
expect 'an offcut in inches' 0 "$haftwright" bin add --id inches --material olive --length 5 --width 2 --thickness 0.75
that 'is reported in inches first' has out '5.00 x 2.00 x 0.75 in (127.0 x 50.8 x 19.1 mm)'
that 'and kept in millimetres' holds 'd["offcuts"][-1]["size"]["length_mm"] == 127'
expect 'units back' 0 "$haftwright" bin units mm

# Several commands at once: each waits for the lock, and none loses what another has written.
for i in 1 2 3 4 5 6 7 8; do
  "$haftwright" bin add --id "many_$i" --material olive --length 90 --width 30 --thickness 12 >/dev/null 2>"err_$i" &
done
wait
that 'eight at once' holds 'sum(x["id"].startswith("many_") for x in d["offcuts"]) == 8'
cat err_* >errors
that 'without a word' empty errors

for i in 1 2 3 4; do
  "$haftwright" bin add --id "first_$i" --material olive --length 90 --width 30 --thickness 12 --bin new/bin.json >/dev/null &
done
wait
from=new/bin.json
that 'four that begin a bin at once' holds 'len(d["offcuts"]) == 4'

expect 'the sample' 0 "$haftwright" bin check --bin "$sample"
from=$sample
that 'says that it is invented' holds '"nvented" in d["note"]'
that 'has what it should' holds 'len(d["offcuts"]) >= 20 and len({x["material"] for x in d["offcuts"]}) >= 8'
that 'a set of four slices' holds 'sorted(x["slice"] for x in d["offcuts"] if "matched_set" in x) == [1, 2, 3, 4]'
that 'sheets and rods' holds 'len(d["sheets"]) >= 3 and len(d["rods"]) >= 3'
cp "$sample" copy.json
"$haftwright" bin change thwart --alike 2 --bin copy.json >/dev/null
"$haftwright" bin change thwart --alike 1 --bin copy.json >/dev/null
that 'is written as the program writes it' cmp "$sample" copy.json

echo "bin: $passed passed, $failed failed"
[ "$failed" -eq 0 ]
