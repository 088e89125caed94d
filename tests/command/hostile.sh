#!/bin/sh
# The command line against files and places that mean it no good, and against its user's slips: exit codes stay from
# 0 to 3, every message is plain words, and a terminal gets nothing that steers it.
#   sh tests/command/hostile.sh PATH/TO/haftwright
. "$(dirname "$0")/helpers.sh"

small='{"haftwright": 1, "rules": {"pins_per_piece": 0, "step_shows_share": 1}, "tang": {"starter": {"kind": "straight"}}, "sides": {"left": {"pieces": [{"material": "black_walnut"}]}}'
steers() { LC_ALL=C grep -q "$(printf '[\001-\010\013-\037\177]')" out err || LC_ALL=C grep -q "$(printf '\302[\200-\237]')" out err; }
plain() { ! steers; }
short() { [ "$(wc -c <err)" -lt 1000 ]; }

# Mixing.
echo "$small, \"adhesive\": {\"scale_step_g\": 5}}" >coarse.json
expect 'glue on a scale of 5 g steps' 1 "$haftwright" glue coarse.json
that 'both parts are in it' has out '5 g resin and 5 g hardener'
that 'with what is wrong' has out 'FAIL  glue.ratio'
expect 'check tells it too' 1 "$haftwright" check coarse.json
that 'with the way out' has out 'by volume'
echo "$small, \"adhesive\": {\"mix_by\": \"weight\", \"resin_parts\": 100, \"hardener_parts\": 1, \"scale_step_g\": 1}}" >thin.json
expect 'a hundredth of hardener on a scale of 1 g steps' 1 "$haftwright" glue thin.json
that 'is not left out' sh -c '! grep -q " 0 g hardener" out'
echo "$small, \"adhesive\": {\"scale_step_g\": 5e-324}}" >tiny.json
expect 'a scale step of next to nothing' 2 "$haftwright" glue tiny.json
that 'names field and range' has err 'adhesive.scale_step_g: must be from 0.001 to 100 g'
echo "$small, \"adhesive\": {\"resin_parts\": 1e-300}}" >parts.json
expect 'parts of next to nothing' 2 "$haftwright" glue parts.json
that 'names field and range' has err 'adhesive.resin_parts: must be from 0.01 to 1000 parts'

# Lists, and names that are plain.
for what in materials woods laminates metals plastics naturals sheets drills; do
  expect "list $what" 0 "$haftwright" list "$what"
  that 'something is in it' test -s out
done
expect 'list woods' 0 "$haftwright" list woods
that 'keys and names' has out 'sugar maple (hard maple)'
that 'no metal' sh -c '! grep -q brass out'
expect 'list drills --json' 0 "$haftwright" list drills --json
that 'labels and sources' python3 -c 'import json; d = json.load(open("out")); assert any(r["label"] == "#30" for r in d) and all(r["source"] for r in d)'
expect 'list of what is none' 2 "$haftwright" list fish
echo "$small}" | sed 's/black_walnut/walnut/' >walnut.json
expect 'a plain name' 0 "$haftwright" check walnut.json
that 'is the one that has it' has out 'black walnut'
echo "$small}" | sed 's/black_walnut/maple/' >maple.json
expect 'a name that several have' 2 "$haftwright" check maple.json
that 'names them' has err '"sugar_maple"'
that 'and the list' has err 'haftwright list materials'

# Units of typed lengths.
expect 'a fraction without a unit' 2 "$haftwright" new fraction.json --length '4 3/8'
that 'says what to write' has err '4 3/8 in'
expect 'a fraction where inches are shown' 0 "$haftwright" new fraction.json --length '4 3/8' --units inch

# Words that steer a terminal.
echo "$small, \"\\u001b]0;x\\u0007\": 1}" >key.json
expect 'an unknown key of escape sequences' 2 "$haftwright" check key.json
that 'is written out' has err '\u001b]0;x\u0007'
that 'and steers nothing' plain
echo "$small, \"\\u001bk\": 1, \"\\u001bk\": 2}" >doubled.json
expect 'a doubled one' 2 "$haftwright" check doubled.json
that 'steers nothing' plain
echo "$small, \"units\": \"\\u001b[2J\\nall good\"}" >choice.json
expect 'a choice of escape sequences' 2 "$haftwright" check choice.json
that 'steers nothing' plain
that 'and is one line' one_line err
echo "$small}" | sed 's/"straight"/"straight", "length_mm": "3 \\u001b[31m"/' >length.json
expect 'a length of escape sequences' 2 "$haftwright" check length.json
that 'steers nothing' plain
echo "$small, \"name\": \"a\\u009b31mb\"}" >second.json
expect 'a control character of the second set' 2 "$haftwright" check second.json
that 'steers nothing' plain
echo "$small, \"name\": \"a\\u202eb\"}" >direction.json
expect 'a mark that turns the direction of reading' 0 "$haftwright" check direction.json
that 'is written out' has out 'a\u202eb'
expect 'in JSON' 0 "$haftwright" check direction.json --json
that 'it is read back as it was' python3 -c 'import json; assert json.load(open("out"))["name"] == "a\u202eb"'
escape=$(printf 'no\033[31mwhere.json')
expect 'a file name of escape sequences' 2 "$haftwright" check "$escape"
that 'steers nothing' plain
python3 - "$small" <<'PY'
import sys
key = "k" * 100_000
open("long.json", "w").write(sys.argv[1] + ', "%s": 1}' % key)
open("long_doubled.json", "w").write(sys.argv[1] + ', "%s": 1, "%s": 1}' % (key, key))
open("long_choice.json", "w").write(sys.argv[1] + ', "units": "%s"}' % key)
open("utf16.json", "wb").write((sys.argv[1] + "}").encode("utf-16"))
PY
for file in long long_doubled long_choice; do
  expect "$file" 2 "$haftwright" check $file.json
  that 'is cut short' short
done
expect 'UTF-16' 2 "$haftwright" check utf16.json
that 'is called by its name' has err 'UTF-16'

# Places that can't be used. None may end by a signal or an exit code that has no meaning.
endless=$(printf 'n%.0s' $(seq 300)).json
expect 'new with a name too long' 3 "$haftwright" new "$endless"
that 'says so' has err 'too long'
expect 'check with a name too long' 2 "$haftwright" check "$endless"
ln -s loop.json loop.json
expect 'new in a circle of links' 3 "$haftwright" new loop.json
expect 'check of a circle of links' 2 "$haftwright" check loop.json
expect 'jig into a circle of links' 3 "$haftwright" jig "$good" -o loop.json
ln -s "$work/planted.json" link.json
expect 'new on a link that leads nowhere' 0 "$haftwright" new link.json
expect 'new on a link that leads to a file' 3 "$haftwright" new link.json
mkdir closed && echo "$small}" >closed/inside.json && chmod 600 closed
chmod 755 "$work"
nobody=''
[ "$(id -u)" -eq 0 ] && nobody='setpriv --reuid=65534 --clear-groups'
cp "$haftwright" program && chmod 755 program
# shellcheck disable=SC2086
expect 'new in a folder that may not be searched' 3 $nobody ./program new closed/new.json
# shellcheck disable=SC2086
expect 'check in one' 2 $nobody ./program check closed/inside.json
chmod 700 closed

# Output that fails.
for verb in check glue align handle jig; do
  expect "$verb to a full standard output" 3 sh -c '"$0" "$1" "$2" >/dev/full' "$haftwright" "$verb" "$good"
done
expect 'new to a full standard output' 3 sh -c '"$0" new full.json >/dev/full' "$haftwright"
expect 'list to a full standard output' 3 sh -c '"$0" list woods >/dev/full' "$haftwright"
for place in . /dev/full nowhere/x.step; do
  expect "jig to $place" 3 "$haftwright" jig "$good" -o $place
  expect "new to $place" 3 "$haftwright" new $place
done

# Two at once on one name: one writes it, the other is told.
for round in 1 2 3 4 5 6; do
  rm -f twice.json
  "$haftwright" new twice.json >one 2>&1 &
  first=$!
  "$haftwright" new twice.json >two 2>&1
  codes=$?
  wait $first
  codes=$((codes + $?))
  that "two at once, round $round: one of them made it" test $codes -eq 3
done

# Numbers that are none.
expect 'taken apart by no number' 2 "$haftwright" picture "$good" --exploded nan -o nan.png
that 'leaves no file' test ! -e nan.png

# Less memory than a picture takes: words, and no file.
expect 'a picture for which memory lacks' 3 sh -c 'ulimit -v 600000; exec "$0" picture "$1" --size 8000x4000 -o large.png' \
  "$haftwright" "$good"
that 'the message says so' has err 'memory'
that 'and leaves no file' test ! -e large.png

echo "hostile: $passed passed, $failed failed"
[ "$failed" -eq 0 ]
