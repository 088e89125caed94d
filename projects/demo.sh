#!/bin/sh
# Builds Haftwright and does the main job on samples: check report, drill guide and finished handle, and cutting plans
# over the sample bin, one that comes wholly out of it and one that does not.
#   sh projects/demo.sh [FOLDER]     writes into FOLDER, or into out/ beside the sources
set -eu
here=$(cd "$(dirname "$0")/.." && pwd)
out=${1:-$here/out}
. "$here/projects/packages.sh"

need_packages $build_packages
echo "Building Haftwright (Release) in build-demo/ ..."
cmake -S "$here" -B "$here/build-demo" -G Ninja -DCMAKE_BUILD_TYPE=Release -DHAFTWRIGHT_TESTS=OFF \
  -DHAFTWRIGHT_BENCHMARKS=OFF >/dev/null
cmake --build "$here/build-demo"

haftwright="$here/build-demo/haftwright"
sample="$here/projects/shucking_knife.json"
mkdir -p "$out"

# 1 means that a check fails: the demo goes on and shows it. Anything worse ends it.
run() {
  echo
  echo "\$ haftwright $*"
  "$haftwright" "$@" || [ $? -eq 1 ]
}
run check "$sample"
run glue "$sample"
run jig "$sample" -o "$out/shucking_knife-drill-guide.step"
run handle "$sample" -o "$out/shucking_knife-handle.step"
bin="$here/projects/bin.json"
run plan "$here/projects/rigging_knife.json" --bin "$bin" -o "$out/rigging_knife-cutting.svg"
run plan "$sample" --bin "$bin" --all-pieces
echo
echo "The drill guide, the finished handle and the cutting plan are in $out"
