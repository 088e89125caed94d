#!/bin/sh
# tests/fuzz/run.sh [SECONDS]: the fuzzer with coverage of the whole engine, on two processes. What fails is left in
# build-fuzz/found/; a project found so goes into tests/cases/projects/, where the tests keep it.
set -eu
seconds=${1:-600}
here=$(cd "$(dirname "$0")/../.." && pwd)
. "$here/projects/packages.sh"
need_packages $build_packages $test_packages
cd "$here"
cmake --preset fuzz >/dev/null
cmake --build --preset fuzz
mkdir -p build-fuzz/corpus build-fuzz/found
ASAN_OPTIONS=detect_leaks=0 build-fuzz/tests/fuzz_project -max_total_time="$seconds" -timeout=60 -max_len=20000 \
  -rss_limit_mb=4096 -fork=2 -artifact_prefix=build-fuzz/found/ build-fuzz/corpus tests/cases/projects projects
