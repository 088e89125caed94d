#!/bin/sh
# Makes the pictures of the README anew: of the real window on a virtual screen, and of the finished handle.
#   sh projects/pictures.sh [PATH/TO/haftwright]     without it the program is built in build-demo/
set -eu
here=$(cd "$(dirname "$0")/.." && pwd)
. "$here/projects/packages.sh"
need_packages $build_packages xvfb xdotool imagemagick python3

haftwright=${1:-$here/build-demo/haftwright}
if [ $# -eq 0 ]; then
  cmake -S "$here" -B "$here/build-demo" -G Ninja -DCMAKE_BUILD_TYPE=Release -DHAFTWRIGHT_TESTS=OFF \
    -DHAFTWRIGHT_BENCHMARKS=OFF >/dev/null
  cmake --build "$here/build-demo"
fi

pictures="$here/projects/pictures"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT INT TERM
mkdir -p "$pictures"

python3 "$here/tests/window/take_pictures.py" "$haftwright" "$work"
# 1 means that a check fails; the picture is written all the same.
"$haftwright" picture "$here/projects/shucking_knife.json" -o "$work/exploded.png" --exploded 0.7 \
  --size 1200x700 || [ $? -eq 1 ]

# Few colours make a small file: a picture in the README is looked at, not measured.
for picture in "$work"/*.png; do
  name=$(basename "$picture")
  for colours in 256 128 64 32; do
    convert "$picture" -strip +dither -colors "$colours" -define png:compression-level=9 "PNG8:$pictures/$name"
    [ "$(wc -c <"$pictures/$name")" -ge 150000 ] || break
  done
  echo "$name: $(wc -c <"$pictures/$name") bytes, $colours colours"
done
