#!/bin/sh
# The command line as a person runs it: exit codes, messages, files left behind, a full disk, a read-only folder.
#   sh tests/command/run.sh PATH/TO/haftwright
. "$(dirname "$0")/helpers.sh"
cases=$(realpath "$here/../cases/projects")

bad_marks=$projects/marking_knife.json

expect 'help' 0 "$haftwright" --help
cp out help
for verb in check align jig handle glue new picture shop bin list; do
  that "help names $verb" has help "$verb"
  expect "$verb --help" 0 "$haftwright" "$verb" --help
  that "$verb --help tells the exit codes" has out 'Exit codes'
done
expect 'version' 0 "$haftwright" --version
expect 'no verb opens the window, which wants a display' 2 env -u DISPLAY -u WAYLAND_DISPLAY "$haftwright"
that 'says what works without one' has err 'check'
expect 'unknown verb' 2 "$haftwright" chek "$good"
expect 'unknown option' 2 "$haftwright" check "$good" --jsn
expect 'no project' 2 "$haftwright" check

expect 'check of a good project' 0 "$haftwright" check "$good"
that 'nothing on stderr' empty err
that 'cautions at the end' has out 'Take care'
that 'every margin is listed' has out 'hole.spacing'
expect 'check of the project with problems' 1 "$haftwright" check "$bad_marks"
that 'names the interference in inches' has out '0.0015 in'
that 'names the drill that would do' has out '#30'
cat >caliper.py <<'PY'
import json
for side in ("left", "right"):
    for joint in json.load(open("out"))["handle"][side]["joints"]:
        for line in joint["lines"]:
            for edge in ("spine", "belly"):
                assert line[edge]["caliper_from_front_mm"]["inner"] > 5
x = json.load(open("out"))["handle"]["left"]["joints"][0]["lines"][0]
print("%.2f" % x["spine"]["caliper_from_front_mm"]["inner"], "%.2f" % x["spine"]["inner"][0])
PY
expect 'check --json of a slanted front' 0 "$haftwright" check "$projects/paring_knife.json" --json
python3 caliper.py >reads
expect 'check of a slanted front' 0 "$haftwright" check "$projects/paring_knife.json"
that 'tells what a caliper reads at the spine' has out "caliper from the front face's end at the same edge"
that 'as the JSON report does' has out "spine $(cut -d ' ' -f 1 reads) mm"
that 'and x apart from it' has out "x: spine $(cut -d ' ' -f 2 reads) mm"
expect 'handle of pins whose holes overlap' 1 "$haftwright" handle "$cases/overlapping_pins.json" -o overlap.step
that 'names both' has out 'pin 1 (n827) to pin 2 (pin 4)'
that 'and what is wrong' has out 'run into each other'
expect 'check --json' 0 "$haftwright" check "$good" --json
that 'is JSON' python3 -c 'import json; d = json.load(open("out")); assert d["findings"] and d["handle"]["left"]["parts"]'
expect 'glue' 0 "$haftwright" glue "$good"
that 'tells what to mix' has out 'g resin'
expect 'glue --json' 0 "$haftwright" glue "$good" --json
that 'is JSON' python3 -c 'import json; e = json.load(open("out"))["epoxy"]; assert e["resin_g"] + e["hardener_g"] >= e["total_g"]'

expect 'align' 0 "$haftwright" align "$good" --samples 5000
sed -n 2,9p out >opening
for line in Step 'Worst place' 'Best change' Pins; do
  that "opens with: $line" grep -q "^  $line " opening
done
that 'the tables wait' lacks out 'way of drilling  '
that 'and are told of' has out '--full'
expect 'align --full' 0 "$haftwright" align "$good" --samples 5000 --full
that 'every way of drilling side by side' has out 'through the drill guide'
that 'tells what makes up the spread' has out 'What makes up the spread'
that 'tells what one change would do' has out 'What one change would do'
that 'cautions at the end' has out 'Take care'
cp out align.before
expect 'align again' 0 "$haftwright" align "$good" --samples 5000 --full
that 'same seed, same words' cmp out align.before
expect 'align with another seed' 0 "$haftwright" align "$good" --samples 5000 --full --seed 2
that 'other figures' test "$(cmp -s out align.before; echo $?)" -eq 1
expect 'align --json of another way, in which a step shows too often' 1 "$haftwright" align "$good" --samples 5000 --way guide --json
cat >ways.py <<'PY'
import json
d = json.load(open("out"))["line_up"]
assert d["chosen"] == "guide" and len(d["ways"]) == 5 and d["samples"] == 5000
assert sum(s["share"] for s in d["shares"]) < 1.05 and sum(s["total"] for s in d["shares"]) > 0.95
assert all(0 <= s["share"] <= s["total"] for s in d["shares"]) and len(d["summary"]) == 4
for way in d["ways"]:
    assert 0 <= way["any_shows"]["low"] <= way["any_shows"]["share"] <= way["any_shows"]["high"] <= 1
    for m in way["measures"]:
        assert abs(m["nominal"]) <= m["rss"] <= m["worst"] + 1e-9 and m["low_95"] <= m["high_95"]
PY
that 'is JSON, its figures in order' python3 ways.py
expect 'align of the project with problems' 1 "$haftwright" align "$bad_marks" --samples 2000
that 'a pin that does not go in' has out 'some pin does not go into all its holes'
that 'by how much they bind, and what eases it' has out 'thinner'
that 'a warning' has err 'will not line up'
expect 'align where a step shows too often' 1 "$haftwright" align "$good" --samples 2000 --way by_eye
that 'as a failing check' has out 'FAIL  line_up.step'
cat >change.py <<'PY'
import json, sys
d = json.load(open(sys.argv[1]))
exec(sys.argv[2])
json.dump(d, open("changed.json", "w"))
PY
python3 change.py "$good" 'd["rules"] = {"step_shows_share": 0.01}'
for verb in check align glue; do
  expect "$verb over a limit of the line-up" 1 "$haftwright" "$verb" changed.json
done
expect 'check --json' 1 "$haftwright" check changed.json --json
that 'the limit and what was drawn' python3 -c 'import json; f = [f for f in json.load(open("out"))["findings"] if f["id"] == "line_up.step"]; assert f[0]["status"] == "fail" and f[0]["limit"] == 0.01 < f[0]["value"]'
python3 change.py "$good" 'd["pins"] = []; d["rules"] = {"step_shows_share": 1}; d["drilling"] = {"way": "taped"}'
for verb in check align; do
  expect "$verb without a pin" 1 "$haftwright" "$verb" changed.json
  that 'says so' has out 'line_up.pins'
done
python3 change.py "$good" 'd["pins"] = []'
expect 'a guide without a pin' 1 "$haftwright" align changed.json
that 'why that way is closed' has out "can't be used: no drill guide can be made"
python3 change.py "$good" '[p["stock"].update(measured_mm=6.1) for p in d["pins"]]; d["rules"] = {"step_shows_share": 1}'
for verb in check align; do
  expect "$verb where a millimetre too much was typed" 1 "$haftwright" "$verb" changed.json
  that 'binding fails' has out 'FAIL  line_up.bind'
done
expect 'a way that nobody knows' 2 "$haftwright" align "$good" --way by_luck
expect 'too few samples' 2 "$haftwright" align "$good" --samples 5
expect 'samples by the power' 0 "$haftwright" align "$good" --samples 5e3
cp out align.power
expect 'or written out' 0 "$haftwright" align "$good" --samples 5000
that 'are the same' cmp out align.power
for seed in -1 18446744073709551616 1.5 ''; do
  expect "a seed of '$seed'" 2 "$haftwright" align "$good" --samples 100 --seed "$seed"
  that 'says what would be one' has err 'whole number from 0 to 18446744073709551615'
done
expect 'the largest seed' 0 "$haftwright" align "$good" --samples 100 --seed 18446744073709551615
expect 'no samples' 2 "$haftwright" align "$good" --samples 1.5e0
expect 'stopped while it samples' 130 timeout --preserve-status -s INT 2 "$haftwright" align "$good" --samples 1e8
that 'in words' has err 'stopped before all handles were drawn'
that 'without half an answer' empty out
cat >dry.py <<'PY'
import json, sys
d = json.load(open(sys.argv[1]))
j = d["sides"]["left"]["joints"][0]
def r(side, at, mm, pin=None):
    d.setdefault("dry_fit", []).append(dict(joint="joint_1", side=side, at=at, reading_mm=mm, **({"from_pin": pin} if pin else {})))
r("left", "spine", 35.0); r("right", "spine", 35.3); r("left", "belly", 35.0); r("right", "belly", 35.3)
r("left", "spine", 20, "fornt_pin")
json.dump(d, open("dry.json", "w"))
PY
python3 dry.py "$good"
expect 'align after a dry fit' 0 "$haftwright" align dry.json --samples 2000
that 'the steps found' has out 'The dry fit'
that 'what can be done' has out 'What can be done'
that 'a reading of a pin that is not there is named' has out 'fornt_pin'
that 'with a warning' has err 'not every reading'
expect 'the same as JSON' 0 "$haftwright" align dry.json --samples 2000 --json
that 'each mend verified' python3 -c 'import json; f = json.load(open("out"))["dry_fit"]; assert f["mends"] and all(abs(m["predicted_mm"] - m["verified_mm"]) < 0.01 for m in f["mends"])'
cat >edit.py <<'PY'
import json, sys
d = json.load(open("dry.json"))
exec(sys.argv[1])
json.dump(d, open("edited.json", "w"))
PY
python3 edit.py 'd["dry_fit"] = d["dry_fit"][4:]'
expect 'no reading that can be used' 1 "$haftwright" align edited.json --samples 2000
that 'it says so' has err 'no reading of the dry fit could be used'
python3 edit.py 'd["dry_fit"] += [dict(d["dry_fit"][0], reading_mm=36)]'
expect 'readings that contradict each other' 1 "$haftwright" align edited.json --samples 2000
that 'they are named' has out 'contradict each other'
that 'nothing is advised' lacks out 'What can be done'
python3 edit.py 'd["dry_fit"] = [dict(joint="joint_1", kind="step", at=at, side="right", reading_mm=0.3) for at in ("spine", "belly")]'
expect 'a step read straight across' 0 "$haftwright" align edited.json --samples 2000
that 'left less right' has out 'spine -0.30'
python3 edit.py 'd["dry_fit"][0]["accuracy_mm"] = 0.005'
expect 'more accurate than a caliper' 2 "$haftwright" align edited.json
that 'the field is named' has err 'dry_fit[0].accuracy_mm'
python3 edit.py 'd["dry_fit"][4]["kind"] = "step"'
expect 'a step from a pin' 2 "$haftwright" align edited.json
that 'the field is named' has err 'dry_fit[4].from_pin'
sed 's/"joint": "joint_1"/"joint": 1.5/' dry.json >half.json
expect 'half a joint' 2 "$haftwright" align half.json
that 'the field is named' has err 'dry_fit[0].joint'

mkdir folder && cd folder || exit 1
expect 'jig into the current folder' 0 "$haftwright" jig "$good"
mv out err ..
that 'one file named after the project' test -s shucking_knife-drill-guide.step
that 'and nothing else' no_leftovers . 1
cd .. || exit 1
expect 'jig again, elsewhere' 0 "$haftwright" jig "$good" -o again.step --json
that 'is JSON' python3 -c 'import json; d = json.load(open("out")); assert d["guide"]["bores"] and d["bodies"][0]["closed_and_valid"]'
that 'same input, same bytes' cmp folder/shucking_knife-drill-guide.step again.step
expect 'jig with its order of work' 0 "$haftwright" jig "$good" -o worked.step --steps worked.txt
that 'printed' has out 'Order of work'
that 'written, cautions first' sh -c 'head -n 1 worked.txt | grep -q "^Caution: "'
that 'its steps numbered' has worked.txt '1. Work the '
expect 'jig --json tells the order of work' 0 "$haftwright" jig "$good" -o again.step --json
that 'cautions marked' python3 -c 'import json; w = json.load(open("out"))["order_of_work"]; assert w[0]["caution"] and not w[-1]["caution"] and w[-1]["words"].endswith(".")'
expect 'the order of work over the guide' 2 "$haftwright" jig "$good" -o worked.step --steps worked.step
that 'which is kept' has worked.step 'ISO-10303-21;'
cp "$good" mine.json
expect 'the order of work over the project' 2 "$haftwright" jig mine.json --steps mine.json
that 'which is kept' cmp mine.json "$good"
# Where things lie in memory must not show in a file.
for sample in "$good" "$bad_marks"; do
  for verb in jig handle; do
    "$haftwright" $verb "$sample" -o here.step >out 2>err
    setarch -R "$haftwright" $verb "$sample" -o there.step >out 2>err
    that "$verb, memory laid out in another way: same bytes" cmp here.step there.step
    env PADDING="$(head -c 50000 /dev/zero | tr '\0' x)" "$haftwright" $verb "$sample" -o there.step >out 2>err
    that "$verb, a large environment: same bytes" cmp here.step there.step
  done
done
expect 'handle' 0 "$haftwright" handle "$good" -o handle.step
that 'STEP header' has handle.step 'ISO-10303-21;'
that 'part names a maker knows' has handle.step 'left front piece'
expect 'jig of a project with problems is written all the same' 1 "$haftwright" jig "$bad_marks" -o marks.step
that 'the file' test -s marks.step
that 'a warning' has err 'warning'

cp "$good" mine.json
cp mine.json mine.before
expect 'output over the project' 2 "$haftwright" jig mine.json -o mine.json
that 'the project is untouched' cmp mine.json mine.before
expect 'no such project' 2 "$haftwright" check nowhere.json
that 'the message names the file' has err 'nowhere.json'
echo '{"haftwright": 1, "tang": {' >broken.json
expect 'broken JSON' 2 "$haftwright" check broken.json
that 'one line' one_line err
that 'nothing on stdout' empty out
sed 's/"slant_deg"/"slnat_deg"/' "$good" >typo.json
expect 'a misspelt key' 2 "$haftwright" check typo.json
that 'the nearest known key is named' has err 'slant_deg'
that 'with its path' has err 'sides.left.joints[0]'
expect 'a folder as project' 2 "$haftwright" check .
expect 'jig of a bad project' 2 "$haftwright" jig typo.json -o never.step
that 'leaves no file' test ! -e never.step

echo old >kept.step
expect 'a folder that is not there' 3 "$haftwright" jig "$good" -o nowhere/guide.step
expect 'a full standard output' 3 sh -c '"$0" check "$1" >/dev/full' "$haftwright" "$good"
expect 'a disk that fills up' 3 sh -c 'ulimit -f 4; exec "$0" jig "$1" -o kept.step' "$haftwright" "$good"
that 'the old file is still there' has kept.step old
that 'no half-written file beside it' sh -c '! ls -A | grep -q "kept.step."'
mkdir locked && chmod 555 locked
nobody=''
[ "$(id -u)" -eq 0 ] && nobody='setpriv --reuid=65534 --clear-groups'
# That somebody may not be able to enter the folders that the program and the samples lie in.
chmod 755 "$work"
cp "$haftwright" program && chmod 755 program
# With its module of the solid kernel, where it has one.
modules=$(dirname "$haftwright")/lib
[ ! -d "$modules" ] || { cp -R "$modules" lib && chmod -R a+rX lib; }
cp "$good" sample.json && chmod 644 sample.json
# shellcheck disable=SC2086
expect 'a folder one may not write to' 3 $nobody ./program jig sample.json -o locked/guide.step
that 'the message says so' has err 'locked'
chmod 755 locked
that 'nothing was left there' no_leftovers locked 0

expect 'new' 0 "$haftwright" new first.json --length '4 3/8 in' --units inch_fraction
expect 'the new project is good but for how it is drilled, which the maker has still to say' 1 "$haftwright" check first.json
that 'nothing else' has out '1 fail,'
expect 'new over an old file' 3 "$haftwright" new first.json
expect 'new with --replace' 0 "$haftwright" new first.json --tang bowed --replace
expect 'so is the bowed one' 1 "$haftwright" check first.json
that 'and only that' has out '1 fail,'
expect 'new with a length that is none' 2 "$haftwright" new second.json --length 'long'
that 'names the option' has err '--length'
that 'leaves no file' test ! -e second.json

png_size() {
  python3 -c 'import struct, sys
d = open(sys.argv[1], "rb").read()
assert d[:8] == b"\x89PNG\r\n\x1a\n"
print(*struct.unpack(">II", d[16:24]))' "$1"
}
expect 'picture without a display' 0 env -u DISPLAY -u WAYLAND_DISPLAY "$haftwright" picture "$good"
that 'named after project and view' test -s shucking_knife-three-quarter.png
that 'of the usual size' test "$(png_size shucking_knife-three-quarter.png)" = '1600 1000'
for view in left right spine belly front butt three-quarter; do
  expect "picture, $view" 0 "$haftwright" picture "$good" --view "$view" --size 320x200 -o "$view.png"
  that 'of the size asked for' test "$(png_size "$view.png")" = '320 200'
done
that 'left and right differ' sh -c '! cmp -s left.png right.png'
expect 'the same picture again' 0 "$haftwright" picture "$good" --view left --size 320x200 -o left-again.png
that 'same input, same bytes' cmp left.png left-again.png
expect 'picture, taken apart' 0 "$haftwright" picture "$good" --exploded 1 --transparent --parallel --size 320x200 -o apart.png
expect 'picture, cut open' 0 "$haftwright" picture "$good" --section 'y=0 mm' --show ghost --backdrop dark --size 320x200 -o cut.png
expect 'picture of a project with problems is written all the same' 1 "$haftwright" picture "$bad_marks" --show mismatch --size 320x200 -o marks.png
that 'the file' test -s marks.png
expect 'a size that is none' 2 "$haftwright" picture "$good" --size wide
that 'names the option' has err '--size'
expect 'a size too large' 2 "$haftwright" picture "$good" --size 100000x100000
expect 'a plane that is none' 2 "$haftwright" picture "$good" --section 'q=1'
expect 'a view that is none' 2 "$haftwright" picture "$good" --view inside
expect 'a picture into a folder that is not there' 3 "$haftwright" picture "$good" --size 320x200 -o nowhere/picture.png
expect 'a picture without a graphics driver' 3 env __EGL_VENDOR_LIBRARY_FILENAMES=/nowhere "$haftwright" picture "$good" -o none.png
that 'says what is missing' has err 'libegl1'
that 'leaves no file' test ! -e none.png

sh "$here/hostile.sh" "$haftwright" || failed=$((failed + 1))
sh "$here/shop.sh" "$haftwright" || failed=$((failed + 1))
sh "$here/bin.sh" "$haftwright" || failed=$((failed + 1))
sh "$here/photo.sh" "$haftwright" || failed=$((failed + 1))
sh "$here/plan.sh" "$haftwright" || failed=$((failed + 1))
sh "$here/import.sh" "$haftwright" || failed=$((failed + 1))

echo "command line: $passed passed, $failed failed"
[ "$failed" -eq 0 ]
