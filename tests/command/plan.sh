#!/bin/sh
# Cutting plans from the command line: planned, drawn, reserved, cut, refused.
#   sh tests/command/plan.sh PATH/TO/haftwright
. "$(dirname "$0")/helpers.sh"
own=$XDG_DATA_HOME/haftwright/bin.json
# holds PYTHON: what the code says of d, the file or the answer named in $from.
holds() { python3 -c "import json, sys; d = json.load(open(sys.argv[1])); assert $1, d" "$from"; }

expect 'no bin yet' 2 "$haftwright" plan "$good"
that 'says which file is not there' has err "$own: there is no bin here"
that 'in one line' one_line err

# The sample's wood: two boards, sheets and a rod for all of it.
python3 - "$good" <<'EOF'
import json, sys
design = json.load(open(sys.argv[1]))
left = design["sides"]["left"]
woods = [piece["material"] for piece in left["pieces"]]
size = {"length_mm": 260, "width_mm": 90}
offcuts = [{"id": f"board_{i}", "material": wood, "size": size, "thickness_mm": 26} for i, wood in enumerate(woods)]
sheets = {(sheet["material"], sheet["thickness_mm"])
          for sheet in left.get("liners", []) + [s for joint in left.get("joints", []) for s in joint.get("spacers", [])]}
rods = {json.dumps(pin["stock"], sort_keys=True) for pin in design["pins"]}
json.dump({"haftwright_bin": 1, "offcuts": offcuts,
           "sheets": [{"id": f"sheet_{i}", "material": m, "thickness_mm": t, "size": size}
                      for i, (m, t) in enumerate(sorted(sheets))],
           "rods": [{"id": f"rod_{i}", "stock": json.loads(rod), "length_mm": 150} for i, rod in enumerate(sorted(rods))]},
          open("bin.json", "w"))
EOF
expect 'the bin is good' 0 "$haftwright" bin check --bin bin.json
cp bin.json before.json

expect 'a typed blank is at hand' 0 "$haftwright" plan "$good" --bin bin.json
that 'and says so' has out 'its blank is at hand'
expect 'a plan' 0 "$haftwright" plan "$good" --bin bin.json --all-pieces -o cut.svg
that 'that is proven' has out 'proven best'
that 'with saw cuts' has out 'Cut 1: right through'
that 'and cautions' has out 'Caution:'
that 'and a drawing' has cut.svg '</svg>'
that 'at true size' has cut.svg 'mm"'
that 'the bin is as it was' cmp bin.json before.json
expect 'the same as JSON' 0 "$haftwright" plan "$good" --bin bin.json --all-pieces --json
cp out plan.json
from=plan.json
that 'complete' holds 'd["plans"][0]["complete"] and not d["plans"][0]["without"] and not d["why_not"]'
that 'left and right out of one block' holds 'all(b["pairing"] == "book" for o in d["plans"][0]["offcuts"] for b in o["blanks"])'
that 'every piece once' holds 'sorted(b["name"] for o in d["plans"][0]["offcuts"] for b in o["blanks"]) == sorted(n["name"] for n in d["needs"]["pieces"])'
expect 'an output that is a folder' 3 "$haftwright" plan "$good" --bin bin.json --all-pieces -o .
expect 'a plan that there is none of' 2 "$haftwright" plan "$good" --bin bin.json --all-pieces --plans 1 --take 2
that 'says how many there are' has err '--take: there is only 1 plan'
expect 'reserved and cut at once' 2 "$haftwright" plan "$good" --bin bin.json --reserve --cut
expect 'no plans' 2 "$haftwright" plan "$good" --bin bin.json --plans 0
that 'the bin is still as it was' cmp bin.json before.json

expect 'reserve' 0 "$haftwright" plan "$good" --bin bin.json --all-pieces --reserve
from=bin.json
that 'notes every piece' holds 'sum(len(o.get("reserved", [])) for o in d["offcuts"]) == 4'
expect 'reserve again' 0 "$haftwright" plan "$good" --bin bin.json --all-pieces --reserve
that 'changes nothing' holds 'sum(len(o.get("reserved", [])) for o in d["offcuts"]) == 4'
sed 's/"name": "[^"]*"/"name": "Another knife"/' "$good" >another.json
expect 'another project has no wood then' 1 "$haftwright" plan another.json --bin bin.json --all-pieces
that 'and is told so' has out 'no place: left front piece'
expect 'cut' 0 "$haftwright" plan "$good" --bin bin.json --all-pieces --cut
that 'leaves leftovers' holds 'd["offcuts"] and all("_rest" in o["id"] for o in d["offcuts"])'
that 'and no reservation' holds 'not any(o.get("reserved") for o in d["offcuts"])'
expect 'the bin is good after it' 0 "$haftwright" bin check --bin bin.json

# The handle in the planned wood: a photo of one colour, 2 pixels a millimetre, for one of the two boards.
python3 "$here/make_photos.py" plain 560 220 plain.png
python3 - <<'EOF'
import json
bin = json.load(open("before.json"))
places = [(0, 0), (260, 0), (260, 90), (0, 90)]
bin["offcuts"][0]["photos"] = [{"file": "plain.png", "face": "upper", "marks": [
    {"x_px": 20 + 2 * x, "y_px": 200 - 2 * y, "x_mm": x, "y_mm": y} for x, y in places]}]
json.dump(bin, open("seen.json", "w"))
EOF
mkdir seen-pictures
cp plain.png seen-pictures/
# shows: whether the picture has more than 2000 pixels of the photo's colour.
shows() {
  python3 - "$1" <<'EOF'
import struct, sys, zlib
data = open(sys.argv[1], "rb").read()
width, height = struct.unpack(">II", data[16:24])
packed, at = b"", 8
while at < len(data):
    size, = struct.unpack(">I", data[at:at + 4])
    if data[at + 4:at + 8] == b"IDAT":
        packed += data[at + 8:at + 8 + size]
    at += size + 12
raw, above, near = zlib.decompress(packed), bytes(4 * width), 0
for y in range(height):
    line = bytearray(raw[y * (4 * width + 1):(y + 1) * (4 * width + 1)])
    kind, row = line[0], line[1:]
    for i in range(len(row)):
        a, b, c = row[i - 4] if i > 3 else 0, above[i], above[i - 4] if i > 3 else 0
        p = a + b - c
        paeth = min((a, b, c), key=lambda each: abs(p - each))
        row[i] = (row[i] + (0, a, b, (a + b) // 2, paeth)[kind]) % 256
    near += sum(abs(row[i] - 150) < 4 and abs(row[i + 1] - 105) < 4 and abs(row[i + 2] - 60) < 4
                for i in range(0, len(row), 4))
    above = row
sys.exit(near <= 2000)
EOF
}
hides() { ! shows "$1"; }
flat="--view left --parallel --show colours --transparent --size 400x250"
expect 'a picture in the planned wood' 0 "$haftwright" picture "$good" --bin seen.json --all-pieces $flat -o wood.png
that 'shows the photo' shows wood.png
that 'and names the pieces without one' has err 'left rear piece: no photo of either face of "board_1" has marks'
that 'but not those with one' lacks err 'front piece'
expect 'without a plan' 0 "$haftwright" picture "$good" $flat -o material.png
that 'the material shows' sh -c '! cmp -s wood.png material.png'
that 'and no photo' hides material.png
expect 'blanks at hand' 0 "$haftwright" picture "$good" --bin seen.json $flat -o hand.png
that 'are in no plan' has err 'left front piece: its blank is at hand and in no plan'
rm seen-pictures/plain.png
expect 'a photo that is gone' 0 "$haftwright" picture "$good" --bin seen.json --all-pieces $flat -o gone.png
that 'is named' has err "left front piece: the photo plain.png can't be used: There is no such picture file"
that 'and the material shows' cmp gone.png material.png
expect 'a plan that there is none of' 2 "$haftwright" picture "$good" --bin seen.json --all-pieces --plans 1 --take 2 -o no.png
expect 'a plan without a bin' 2 "$haftwright" picture "$good" --take 2 -o no.png
that 'names what is missing' has err '--bin'
expect 'no bin there' 2 "$haftwright" picture "$good" --bin nowhere.json -o no.png
that 'no picture was written' test ! -e no.png
# Blanks laid by hand: tried, kept in the project, freed.
cp before.json bin.json
cp "$good" hand.json
expect 'a blank laid by hand' 0 "$haftwright" plan hand.json --bin bin.json --fix 'left front=board_0@100,45,180' --json
cp out plan.json
from=plan.json
that 'lies there' holds '[b["by_hand"] for o in d["plans"][0]["offcuts"] for b in o["blanks"] if b["name"] == "left front piece"] == [True]'
that 'as it was typed' holds 'd["hand_places"][0]["at_mm"] == [100, 45] and abs(d["hand_places"][0]["turn_deg"]) == 180'
that 'is planned though its blank is typed' holds 'sum(len(o["blanks"]) for o in d["plans"][0]["offcuts"]) == 1'
that 'and the project is as it was' cmp hand.json "$good"
expect 'kept' 0 "$haftwright" plan hand.json --bin bin.json --all-pieces --fix 'left front=board_0@4 in,45,180,book' --keep
that 'says where' has out 'Written: hand.json'
that 'names it' has out 'left front piece (put there by hand), right front piece (put there by hand)'
from=hand.json
that 'is in the project' holds 'len(d["hand_places"]) == 1 and d["hand_places"][0]["cut"] == "book" and abs(d["hand_places"][0]["x_mm"] - 101.6) < 1e-9'
expect 'planned again' 0 "$haftwright" plan hand.json --bin bin.json --all-pieces --json
cp out plan.json
from=plan.json
that 'it still lies there' holds '[b["pairing"] for o in d["plans"][0]["offcuts"] for b in o["blanks"] if b["by_hand"]] == ["book", "book"]'
expect 'all fixed where the plan has them' 0 "$haftwright" plan hand.json --bin bin.json --all-pieces --fix all --keep --json
from=hand.json
that 'two books' holds '[p["cut"] for p in d["hand_places"]] == ["book", "book"]'
expect 'one freed' 0 "$haftwright" plan hand.json --bin bin.json --free 'right rear' --keep
that 'is free' holds 'len(d["hand_places"]) == 1'
sed 's/"board_0"/"gone"/' bin.json >moved.json
expect 'an offcut that is gone' 1 "$haftwright" plan hand.json --bin moved.json --all-pieces
that 'is told as a finding' has out 'FAIL  cut.by_hand'
tr -s ' \n' ' ' <out >words
that 'with what is wrong' has words 'there is no offcut board_0 in the bin'
expect 'all freed' 0 "$haftwright" plan hand.json --bin bin.json --free all --keep
that 'none is left' holds 'not d.get("hand_places")'
cp hand.json as_it_was.json
expect 'off the rim' 2 "$haftwright" plan hand.json --bin bin.json --fix 'left front=board_0@5,5,180' --keep
that 'says why and where it may' has err 'it would reach over the rim; the nearest place is '
that 'in one line' one_line err
expect 'other wood' 2 "$haftwright" plan hand.json --bin bin.json --fix 'left front=board_1'
that 'says so' has err "can't lie there: the offcut board_1 is "
expect 'no such piece' 2 "$haftwright" plan hand.json --bin bin.json --fix 'left tail=board_0@90,45'
that 'names those there are' has err 'there are left front piece, '
expect 'no such offcut' 2 "$haftwright" plan hand.json --bin bin.json --fix 'left front=nothing@90,45'
expect 'half a place' 2 "$haftwright" plan hand.json --bin bin.json --fix 'left front=board_0@90'
that 'says how one is typed' has err 'must be PIECE, PIECE=OFFCUT or PIECE=OFFCUT@X,Y'
expect 'free what is free' 2 "$haftwright" plan hand.json --bin bin.json --free 'left front'
expect 'nothing to keep' 2 "$haftwright" plan hand.json --bin bin.json --keep
that 'nothing was written' cmp hand.json as_it_was.json
expect 'an order of preferences' 0 "$haftwright" plan hand.json --bin bin.json --all-pieces --order cuts,small
expect 'one named twice' 2 "$haftwright" plan hand.json --bin bin.json --order cuts,cuts
that 'says which there are' has err '--order: must name some of small, leftover, cuts, grain'

# What is too short comes with what would help.
sed 's/"length_mm": 260, "width_mm": 90/"length_mm": 35, "width_mm": 90/' before.json >short.json
expect 'a bin that is too short' 1 "$haftwright" plan "$good" --bin short.json --all-pieces
that 'says what has no place' has out 'No place for the'
that 'and what is nearest' has out 'too short for it along the handle'
that 'as a finding' has out 'FAIL  cut.place'
sed 's/"haftwright_bin": 1/"haftwright_bin": 9/' before.json >newer.json
expect 'a newer bin' 2 "$haftwright" plan "$good" --bin newer.json
that 'is named first' has err 'haftwright: newer.json: '
sed 's/"thickness_mm": 26/"thickness_mm": -26/' before.json >thin.json
expect 'a bin with a wrong field' 2 "$haftwright" plan "$good" --bin thin.json
that 'names file and field' has err 'haftwright: thin.json: offcuts[0].thickness_mm: '
expect 'a bin that is a project' 2 "$haftwright" plan "$good" --bin "$good"
expect 'a project that is a bin' 2 "$haftwright" plan before.json --bin before.json

# The samples: one comes wholly out of the sample bin, the other comes with what would help.
expect 'a sample from the sample bin' 0 "$haftwright" plan "$projects/rigging_knife.json" --bin "$projects/bin.json" --json
cp out rigging.json
from=rigging.json
that 'wood, sheets and rods' holds 'd["plans"][0]["complete"] and d["plans"][0]["sheets"] and d["plans"][0]["rods"]'
that 'left and right out of one block' holds '{"book", "slices"} == {b["pairing"] for o in d["plans"][0]["offcuts"] for b in o["blanks"]}'
expect 'a sample that does not' 1 "$haftwright" plan "$projects/shucking_knife.json" --bin "$projects/bin.json" --all-pieces
that 'says what has no place' has out 'No place for the'
that 'what is nearest' has out 'nearest'
that 'and what would help' has out 'It has one if you move joint 1'

# A plan with gaps is carried out only when it is asked for.
cp short.json gaps.json
expect 'a cut with gaps' 2 "$haftwright" plan "$good" --bin gaps.json --all-pieces --cut
that 'says which pieces and what to add' has err '--cut: there is no place for: left front piece'
that 'in one line' one_line err
that 'and leaves the bin' cmp gaps.json short.json
expect 'that it may have gaps without a cut' 2 "$haftwright" plan "$good" --bin gaps.json --incomplete
expect 'a cut with gaps that was asked for' 1 "$haftwright" plan "$good" --bin gaps.json --all-pieces --cut --incomplete
that 'takes the rest' sh -c '! cmp -s gaps.json short.json'

echo "plan: $passed passed, $failed failed"
[ "$failed" -eq 0 ]
