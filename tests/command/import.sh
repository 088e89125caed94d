#!/bin/sh
# Projects out of drawings from the command line: listed, chosen, placed, refused.
#   sh tests/command/import.sh PATH/TO/haftwright
. "$(dirname "$0")/helpers.sh"
drawings=$here/../intake/files
# holds PYTHON: what the code says of d, the project written last.
holds() { python3 -c "import json, sys; d = json.load(open('mine.json')); t = d['tang']; assert $1, d"; }

expect 'a drawing is listed' 0 "$haftwright" import "$drawings/inches_r2018.dxf" --list
that 'with its unit' has out 'inches, as the file says (25.4 mm)'
that 'its loops' has out 'may be the tang, layer TANG'
that 'its holes' has out 'round, 3.10 mm across'
that 'and what is left out' has out 'TEXT 1'
that 'nothing is written' no_leftovers . 2

expect 'a project comes of it' 0 "$haftwright" import "$drawings/inches_r2018.dxf" -o mine.json
that 'with its length told' has out 'Tang: 110.00 mm from the front face to the butt'
that 'and how far curves are left' has out 'mm was allowed'
that 'with holes' holds "len(t['holes']) == 4 and abs(t['holes'][0]['diameter_mm'] - 3.1) < 1e-6"
that 'with its cutout' holds "len(t['cutouts']) == 1"
that 'with pins through the holes' holds "len(d['pins']) == 4 and 'existing_tang_hole' in d['pins'][0]"
"$haftwright" check mine.json >out 2>err
that 'that can be checked' test $? -le 1

expect 'an old file is kept' 3 "$haftwright" import "$drawings/inches_r2018.dxf" -o mine.json
that 'in one line' one_line err
expect 'or replaced, other end and face' 0 "$haftwright" import "$drawings/millimetres_r2000.dxf" -o mine.json \
  --replace --mirror --front-end right --front 0.5 --thickness 0.125 --units inch
that 'thickness as typed in inches' holds "abs(t['thickness_front_mm'] - 3.175) < 1e-6"
that 'the front face where it was said' has out 'front face 0.5000 in behind the front end'
expect 'an axis of two places' 0 "$haftwright" import "$drawings/blocks_r12.dxf" --unit mm -o mine.json --replace \
  --axis '0,0; 110,0'
expect 'without a unit' 2 "$haftwright" import "$drawings/blocks_r12.dxf" -o other.json
that 'it is asked for, with what it would mean' has err '110.00 mm long with --unit mm, and 2794.00 mm with --unit in'
that 'in one line' one_line err

expect 'a front face ahead of slanted steel' 2 "$haftwright" import "$drawings/blocks_r12.dxf" --unit mm --turn 20 -o other.json
that 'with the option that moves it' has err '; --front says where it is'
that 'in one line' one_line err
expect 'a front face behind the butt' 2 "$haftwright" import "$drawings/blocks_r12.dxf" --unit mm --front 111 -o other.json
that 'says how long the tang is' has err '110.000 mm long'

cat >two.svg <<'SVG'
<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="100mm" viewBox="0 0 300 100">
<rect width="120" height="28"/><rect x="150" width="110" height="26"/><circle cx="20" cy="14" r="1.6"/>
</svg>
SVG
expect 'two that may be it' 2 "$haftwright" import two.svg -o two.json
that 'are both named' has err '1 is 120.00 mm x 28.00 mm; 2 is 110.00 mm x 26.00 mm'
that 'in one line' one_line err
that 'and nothing is written' test ! -e two.json
expect 'one of them is chosen' 0 "$haftwright" import two.svg -o two.json --loop 2
expect 'none of that number' 2 "$haftwright" import two.svg -o no.json --loop 9

printf '0\nSECTION\n2\nENTITIES\n0\nLINE\n' >cut.dxf
expect 'a file that is cut off' 2 "$haftwright" import cut.dxf
that 'is named with its line' has err 'cut.dxf: line 6: the file ends here'
expect 'no such file' 2 "$haftwright" import nowhere.dxf
that 'says so' has err 'nowhere.dxf: there is no such file'
for bad in '--tolerance 0' '--gap -1' '--front -3' '--axis 1,2' '--axis x' '--unit cubit' '--turn 9 --axis 3' '--loop 0'; do
  # The options are words on purpose.
  expect "refused: $bad" 2 "$haftwright" import two.svg -o no.json --loop 1 $bad
done
that 'and nothing is written' test ! -e no.json

echo "import: $passed passed, $failed failed"
[ "$failed" -eq 0 ]
