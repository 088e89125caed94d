#!/bin/sh
# The shop beside the projects: shown, begun, compared, taken over in either direction.
#   sh tests/command/shop.sh PATH/TO/haftwright
. "$(dirname "$0")/helpers.sh"
own=$XDG_DATA_HOME/haftwright/shop.json
cp "$good" mine.json && chmod 644 mine.json
# change FILE PYTHON: what the code does to the file's object d.
cat >change.py <<'PY'
import json, sys
d = json.load(open(sys.argv[1]))
exec(sys.argv[2])
json.dump(d, open(sys.argv[1], "w"))
PY
change() { python3 change.py "$@"; }
# says FIELD WORDS: a line of the answer, whatever room is between them.
says() { tr -s ' ' <out | grep -qF -- "$1 $2"; }

expect 'no shop file yet' 0 "$haftwright" shop
that 'says where it would lie' has out "$own"
that 'and that the defaults are in force' has out 'the built-in defaults are in force'
that 'no drills' has out 'No drills are named'
that 'and makes none' test ! -e "$own"
expect 'what is at its default does not differ' 0 "$haftwright" shop compare "$good" --only guide
that 'no file was made for it' test ! -e "$own"
expect 'init' 0 "$haftwright" shop init
that 'a file that says what it is' has "$own" '"haftwright_shop": 1'
cp "$own" own.before
expect 'init again' 3 "$haftwright" shop init
that 'leaves what is there' cmp "$own" own.before
that 'and says so' has err 'is there already'
expect 'the defaults from a file' 0 "$haftwright" shop
that 'none differs from itself' lacks out '(default'

change "$own" 'd["rules"]["edge_wall_mm"] = 2.5
d["drilling"]["errors"]["sight_mm"] = 0.07
d["adhesive"]["mix_by"] = "weight"
d["guide"]["bushing_outside_mm"] = 10
d["drills"] = [{"drill": "5.1 mm", "diameter_mm": 5.17, "measured_in": "olive"}, {"drill": "#30"}]'
expect 'the shop is shown' 0 "$haftwright" shop
that 'its value beside the default' says rules.edge_wall_mm '2.5 mm (default 2 mm)'
that 'a measured drill' says '5.1 mm' 'makes a hole of 5.17 mm in olive'
that 'one that is not' says '#30' 'not measured'
expect 'the shop as JSON' 0 "$haftwright" shop --json
cat >shown.py <<'PY'
import json
d = json.load(open("out"))
assert d["shop_file_there"] and len(d["values"]) > 60
value = {v["field"]: v for v in d["values"]}
wall = value["rules.edge_wall_mm"]
assert (wall["value"], wall["default"], wall["unit"]) == (2.5, 2, "mm") and wall["what"]
assert value["guide.bushing_outside_mm"]["default"] is None and value["adhesive.mix_by"]["value"] == "weight"
assert [x["diameter_mm"] for x in d["drills"]] == [5.17, None]
PY
that 'with all its values' python3 shown.py

change mine.json 'for p in d["pins"]: p["scale_hole"] = {"drill": "5.1 mm"}'
cp mine.json mine.before
expect 'compare' 1 "$haftwright" shop compare mine.json
that 'each value of both' says rules.edge_wall_mm 'project 2 mm, shop 2.5 mm'
that 'what it means' has out 'never less, however thin the pin'
that 'a word' says adhesive.mix_by 'project volume, shop weight'
that 'what is left out' says guide.bushing_outside_mm 'project left out, shop 10 mm'
that 'holes that the shop has measured' says 'pins[0].scale_hole.diameter_mm' 'project left out, measured in the shop 5.17 mm'
that 'nothing is changed' cmp mine.json mine.before
expect 'compare --json' 1 "$haftwright" shop compare mine.json --json
cat >compared.py <<'PY'
import json
d = json.load(open("out"))
assert {"drilling.errors.sight_mm", "rules.edge_wall_mm"} <= {x["field"] for x in d["differences"]}
assert d["measured_holes"][0] == {"field": "pins[0].scale_hole.diameter_mm", "diameter_mm": 5.17}
PY
that 'is JSON' python3 compared.py
expect 'compare of two sections' 1 "$haftwright" shop compare mine.json --only drilling.errors --only adhesive
that 'the one' has out 'drilling.errors.sight_mm'
that 'and the other' has out 'adhesive.mix_by'
that 'but no third' lacks out 'rules.'

expect 'apply of one field' 0 "$haftwright" shop apply mine.json --only rules.edge_wall_mm
that 'is saved' has mine.json '"edge_wall_mm": 2.5'
that 'alone' lacks mine.json '"sight_mm": 0.07'
expect 'apply' 0 "$haftwright" shop apply mine.json
expect 'nothing differs any longer' 0 "$haftwright" shop compare mine.json
cat >same.py <<'PY'
import json
before, after = json.load(open("mine.before")), json.load(open("mine.json"))
assert after["drilling"]["errors"]["sight_mm"] == 0.07 and after["guide"]["bushing_outside_mm"] == 10
assert all(p["scale_hole"] == {"drill": "5.1 mm", "diameter_mm": 5.17} for p in after["pins"])
assert after["drilling"]["one_block"] == before["drilling"]["one_block"]
assert after["name"] == before["name"] and [p["x_mm"] for p in after["pins"]] == [p["x_mm"] for p in before["pins"]]
PY
that 'and the rest is as it was' python3 same.py
cp mine.json mine.after
expect 'apply again' 0 "$haftwright" shop apply mine.json
that 'has nothing to do' has out 'Nothing was to be taken over'
that 'and writes nothing' cmp mine.json mine.after

change mine.json 'd["rules"]["near_share"] = 0.3; d["drilling"]["errors"]["pin_size_mm"] = 0.03'
expect 'learn of one section' 0 "$haftwright" shop learn mine.json --only drilling.errors
that 'the shop file has it' has "$own" '"pin_size_mm": 0.03'
that 'and not the rest' lacks "$own" '"near_share": 0.3'
expect 'learn' 0 "$haftwright" shop learn mine.json
that 'the rest too' has "$own" '"near_share": 0.3'
that 'its drills stay' has "$own" '"diameter_mm": 5.17'
expect 'both agree' 0 "$haftwright" shop compare mine.json

expect 'a new project starts from the shop' 0 "$haftwright" new begun.json
expect 'and does not differ from it' 0 "$haftwright" shop compare begun.json
that 'it holds the values itself' has begun.json '"near_share": 0.3'
expect 'another shop file is begun' 0 "$haftwright" shop init --shop other/shop.json
expect 'a new project starts from that one' 0 "$haftwright" new other.json --shop other/shop.json
that 'not from the own one' lacks other.json '"near_share": 0.3'
expect 'which differs' 1 "$haftwright" shop compare begun.json --shop other/shop.json
expect 'a shop file made by learning' 0 "$haftwright" shop learn begun.json --shop made/shop.json
expect 'agrees' 0 "$haftwright" shop compare begun.json --shop made/shop.json

expect 'a named shop file that is not there' 2 "$haftwright" shop compare mine.json --shop nowhere.json
that 'is named' has err 'nowhere.json: is not there'
expect 'for a new project neither' 2 "$haftwright" new never.json --shop nowhere.json
that 'leaves no project' test ! -e never.json
expect 'compare without a project' 2 "$haftwright" shop compare
that 'says what is missing' has err 'needs one: name a project file'
expect 'init with a project' 2 "$haftwright" shop init mine.json
expect 'an action that is none' 2 "$haftwright" shop lend mine.json
expect 'a field that is none' 2 "$haftwright" shop apply mine.json --only rules.edge_wal_mm
that 'names the nearest' has err 'did you mean "rules.edge_wall_mm"?'
expect 'nothing is taken over where the shop is shown' 2 "$haftwright" shop --only rules
expect 'no such project' 2 "$haftwright" shop apply nowhere.json
that 'the message names it' has err 'nowhere.json'
expect 'a shop file for a project' 2 "$haftwright" check "$own"
that 'says what it is' has err 'this is a Haftwright shop file'
cp "$own" own.before && cp mine.json mine.before
change mine.json 'd["rules"].update(glue_clearance_least_mm=0.2, glue_clearance_most_mm=0.3)'
expect 'one limit that another one forbids' 2 "$haftwright" shop learn mine.json --only rules.glue_clearance_least_mm
that 'leaves the shop file' cmp "$own" own.before
cp mine.before mine.json
sed 's/"edge_wall_mm"/"edge_wal_mm"/' own.before >"$own"
for action in '' 'compare mine.json' 'apply mine.json' 'learn mine.json' init; do
  # shellcheck disable=SC2086
  expect "a bad shop file: shop $action" 2 "$haftwright" shop $action
  that 'is named, with the field' has err "$own: rules: unknown key \"edge_wal_mm\"; did you mean \"edge_wall_mm\"?"
  that 'in one line' one_line err
done
expect 'a new project in a bad shop' 2 "$haftwright" new never.json
that 'leaves no project' test ! -e never.json
that 'nor is the bad file touched' has "$own" '"edge_wal_mm"'
that 'the project neither' cmp mine.json mine.before
cp own.before "$own"
change "$own" 'd["rules"]["edge_wall_mm"] = 4'
cp "$own" own.before
expect 'a project on a full disk' 3 sh -c 'ulimit -f 0; exec "$0" shop apply mine.json' "$haftwright"
that 'is as it was' cmp mine.json mine.before
expect 'a shop file on a full disk' 3 sh -c 'ulimit -f 0; exec "$0" shop learn mine.json' "$haftwright"
that 'is as it was' cmp "$own" own.before
that 'no leftovers' no_leftovers "$(dirname "$own")" 1

echo "shop: $passed passed, $failed failed"
[ "$failed" -eq 0 ]
