#!/bin/sh
# Photos of offcuts from the command line: the frame, outlines traced, pictures refused.
#   sh tests/command/photo.sh PATH/TO/haftwright
. "$(dirname "$0")/helpers.sh"
own=$XDG_DATA_HOME/haftwright/bin.json
kept=$XDG_DATA_HOME/haftwright/bin-pictures
make() { python3 "$here/make_photos.py" "$@"; }
holds() { python3 -c "import json, sys; d = json.load(open(sys.argv[1])); assert $1, d" "$from"; }
# The size of an outline, and whether it is one.
sized() {
  python3 -c '
import json, sys
d = json.load(open(sys.argv[1]))
o = next(x for x in d["offcuts"] if x["id"] == sys.argv[2])
if "size" in o: width, height = o["size"]["length_mm"], o["size"]["width_mm"]
else:
    xs = [p["x_mm"] for p in o["outline"]]; ys = [p["y_mm"] for p in o["outline"]]
    width, height = max(xs) - min(xs), max(ys) - min(ys)
assert abs(width - float(sys.argv[3])) < 0.3 and abs(height - float(sys.argv[4])) < 0.3, (width, height)
' "$own" "$@"
}

expect 'a frame' 0 "$haftwright" bin frame --paper a5 -o frame.svg
that 'says how to print it' has out 'Print it at true size'
that 'is a drawing of that size' has frame.svg 'width="148mm" height="210mm"'
expect 'a frame as a picture' 0 "$haftwright" bin frame -o frame.png --json
from=out
that 'says which' holds 'd["paper"] == "a4" and d["written"] == "frame.png"'
that 'of A4 at 300 dots an inch' python3 -c "
import struct; d = open('frame.png', 'rb').read(24); assert struct.unpack('>II', d[16:24]) == (2480, 3508)"
expect 'a frame as a PDF' 0 "$haftwright" bin frame --paper letter -o frame.pdf
that 'of that size, never scaled' sh -c "grep -aq 'MediaBox \\[0 0 612 792\\]' frame.pdf && grep -aq 'PrintScaling /None' frame.pdf"
if command -v pdftoppm >/dev/null; then
  expect 'a frame of A4 as a PDF' 0 "$haftwright" bin frame -o a4.pdf
  expect 'and as a drawing' 0 "$haftwright" bin frame -o a4.svg
  expect 'another reader draws it' 0 pdftoppm -r 254 -singlefile -gray a4.pdf drawn
  expect 'they agree' 0 python3 "$here/frame_drawn.py" a4.svg drawn.pgm
else
  echo 'photo: no pdftoppm here (poppler-utils), so no other reader has looked at the PDF'
fi
expect 'a frame of another kind' 2 "$haftwright" bin frame -o frame.gif
that 'says which there are' has err '--output: must end in .pdf, .svg or .png'
expect 'a frame on a paper that is none' 2 "$haftwright" bin frame --paper b5 -o frame.svg
expect 'a frame that can not be written' 3 "$haftwright" bin frame -o nowhere/frame.svg
that 'makes no bin' test ! -e "$own"

make frame frame.svg framed.png
make marks marked.png
make sheet sheet.png
expect 'a trace that is only reported' 0 "$haftwright" bin trace --file framed.png --frame --above 0 -o squared.png
that 'says which frame' has out 'the printed frame, A5'
that 'and by what it is off' has out 'off by at most'
that 'and how far marks agree' has out 'marks agree within'
that 'with the picture' has squared.png PNG
that 'makes no bin either' test ! -e "$own"
expect 'the same as JSON' 0 "$haftwright" bin trace --file framed.png --frame --above 0 --json
that 'the size within its bound' holds 'abs(d["traced"]["width_mm"] - 60) < d["traced"]["bound_mm"]["total"] < 1 and abs(d["traced"]["height_mm"] - 30) < 0.3'
that 'a bound that is the sum of its causes' holds 'abs(2 * d["traced"]["bound_mm"]["total"] - sum(d["traced"]["bound_mm"].values())) < 1e-9'
expect 'a frame printed smaller' 0 "$haftwright" bin trace --file framed.png --frame --above 0 --printed-line 98 --json
that 'is that much smaller' holds 'abs(d["traced"]["width_mm"] - 58.8) < 0.3'

expect 'an offcut by the frame' 0 "$haftwright" bin trace --file framed.png --frame --above 0 --name Plank --material walnut --thickness 9
that 'is added' has out 'Added: plank, black walnut, '
that 'of its size' sized plank 60 30
that 'the picture kept' cmp framed.png "$kept/framed.png"
from=$own
that 'with its marks' holds '30 <= len(d["offcuts"][0]["photos"][0]["marks"]) <= 64'
that 'its corner at the origin' holds '"size" in d["offcuts"][0] or abs(min(p["x_mm"] for p in d["offcuts"][0]["outline"])) < 1e-9'
# The block's lower left corner lies at (70, 45) of the picture of 200 x 120 mm, seen from its lower left corner.
marks='--mark 40,920=-65,-40 --mark 1560,920=125,-40 --mark 1560,40=125,70 --mark 40,40=-65,70'
expect 'one by marks' 0 "$haftwright" bin trace --file marked.png $marks --id block --material olive --thickness 12
that 'of its size' sized block 60 30
expect 'the lower face of one' 0 "$haftwright" bin trace --file marked.png --face lower --mark 40,920=125,-40 \
  --mark 1560,920=-65,-40 --mark 1560,40=-65,70 --mark 40,40=125,70 --id under --material olive --thickness 12
that 'of its size too' sized under 60 30
expect 'the same marks for the other face' 2 "$haftwright" bin trace --file marked.png --face lower $marks
that 'are seen as in a mirror' has err 'as in a mirror'
expect 'one on a sheet' 0 "$haftwright" bin trace --file sheet.png --sheet 210x148 --above 0 --id leaf --material olive --thickness 2
that 'of its size as well' sized leaf 60 30
make card card.png
expect 'one beside a card' 0 "$haftwright" bin trace --file card.png --sheet 85.6x54 --above 0 --seed 1280,440 --id chip --material olive --thickness 2
that 'of its size too' sized chip 60 30
that 'is told that it lies outside the marks' has out 'reaches beyond the marks'
expect 'a seed on the ground' 2 "$haftwright" bin trace --file marked.png $marks --seed 100,100
that 'is told' has err '--file: "marked.png": '
expect 'a seed on the block' 0 "$haftwright" bin trace --file marked.png $marks --seed 800,480

expect 'an offcut measured by hand' 0 "$haftwright" bin add --id hand --material teak --length 61 --width 31 --thickness 20
expect 'with a knot' 0 "$haftwright" bin defect hand --circle 30,15,6
expect 'traced anew' 0 "$haftwright" bin trace --file marked.png --id hand --mark 40,920=-65,-40 --mark 1560,920=125,-40 \
  --mark 1560,40=125,70 --mark 40,40=-65,70
that 'is reported' has out 'Changed: hand, '
that 'of its new size' sized hand 60 30
that 'keeps its knot' holds '[len(x["defects"]) for x in d["offcuts"] if x["id"] == "hand"] == [1]'
that 'and its photo' holds '[x["photos"][0]["file"] for x in d["offcuts"] if x["id"] == "hand"] == ["marked.png"]'
expect 'a knot at the end' 0 "$haftwright" bin change hand --length 120 --width 31
expect 'beyond the block' 0 "$haftwright" bin defect hand --circle 110,15,6
cp "$own" own.before
cp marked.png again.png
printf ' ' >>again.png
expect 'an outline beside a knot' 2 "$haftwright" bin trace --file again.png --id hand $marks
that 'is refused' has err 'lies beside the offcut'
that 'and changes nothing' cmp "$own" own.before
that 'nor keeps the picture' test ! -e "$kept/again.png"

echo 'no picture' >words.jpg
make huge huge.png
head -c 20000 framed.png >half.png
while IFS='|' read -r what says arguments; do
  expect "$what" 2 sh -c "'$haftwright' bin $arguments"
  that "$what: says what is wrong" has err "$says"
  that "$what: in one line" one_line err
  that "$what: leaves the bin as it is" cmp "$own" own.before
done <<'EOF'
words|--file: "words.jpg": The file is no picture|photo hand --file words.jpg
200 million pixels|--file: "huge.png": |photo hand --file huge.png
half a picture|--file: "half.png": |photo hand --file half.png
crossing marks|--mark: The marks make no rectangle|photo hand --file framed.png --mark 40,920=0,0 --mark 900,920=90,60 --mark 900,40=90,0 --mark 40,40=0,60
marks off the picture|--mark: The place of mark 2 must lie on the picture|photo hand --file marked.png --mark 40,920=0,0 --mark 5000,920=90,0 --mark 900,40=90,60 --mark 40,40=0,60
a trace of words|--file: "words.jpg": The file is no picture|trace --file words.jpg --frame --above 0
a trace of half a picture|--file: "half.png": |trace --file half.png --frame --above 0
no picture|--file: is missing|trace --frame --above 0
no scale|--frame: give one of --frame, --sheet WIDTHxHEIGHT, or --mark|trace --file framed.png
two scales|--frame: give one of|trace --file framed.png --frame --sheet 10x10
no height|--above: is missing|trace --file framed.png --frame
no frame|--frame: "marked.png": |trace --file marked.png --frame --above 0
no sheet size|--sheet: must be lengths with x between|trace --file sheet.png --sheet 10 --above 0
too few marks|--mark: "marked.png": Four marks or more|trace --file marked.png --mark 1,1=0,0
a seed that is none|--seed: must be "X,Y"|trace --file framed.png --frame --above 0 --seed 5
a line without the frame|--printed-line: is about the printed frame|trace --file sheet.png --sheet 148x210 --printed-line 99
a line that no printer makes|--frame: "framed.png": The frame's line|trace --file framed.png --frame --above 0 --printed-line 40
a lens that is none|--lens-k1: must be from -0.5 to 0.5|trace --file framed.png --frame --above 0 --lens-k1 3
a camera on the ground|--frame: "framed.png": The camera's height|trace --file framed.png --frame --above 0 --camera-height 0
an id that nothing has|nothing in the bin is called "hant"; did you mean "hand"?|trace --file framed.png --frame --id hant
a wood without a thickness|--thickness: is missing|trace --file framed.png --frame --above 0 --material olive
EOF
that 'none of them kept' no_leftovers "$kept" 4

expect 'a photo' 0 "$haftwright" bin photo hand --file marked.png $marks --mark 840,480=35,15
that 'says how far the marks agree' has out 'the marks agree within'
that 'and how far a place may be off' has out 'a place on the wood may be off by at most'
expect 'check' 0 "$haftwright" bin check
make plain 300 200 "$kept/marked.png"
expect 'check of a picture that marks no longer fit' 1 "$haftwright" bin check
that 'names it' has out "hand: marked.png can't be squared up: The place of mark"
cp words.jpg "$kept/marked.png"
expect 'check of what is no picture any more' 1 "$haftwright" bin check --json
from=out
that 'names that too' holds '"marked.png" in [x["file"] for x in d["useless_photos"]]'

echo "photo: $passed passed, $failed failed"
[ "$failed" -eq 0 ]
