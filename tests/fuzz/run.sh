#!/bin/sh
# tests/fuzz/run.sh [SECONDS]: the fuzzers with coverage of the whole engine, on two processes: projects, bins, then
# drawings.
# What fails is left in build-fuzz/found/; a project found so goes into tests/cases/projects/, where the tests keep it, a
# bin becomes a test in tests/offcuts/ or tests/files/, a drawing goes into tests/intake/corpus/.
set -eu
seconds=${1:-600}
here=$(cd "$(dirname "$0")/../.." && pwd)
. "$here/projects/packages.sh"
need_packages $build_packages $test_packages
cd "$here"
cmake --preset fuzz >/dev/null
cmake --build --preset fuzz
mkdir -p build-fuzz/corpus build-fuzz/bins build-fuzz/drawings build-fuzz/found
cp projects/bin.json build-fuzz/bins/
ASAN_OPTIONS=detect_leaks=0 build-fuzz/tests/fuzz_project -max_total_time="$seconds" -timeout=60 -max_len=20000 \
  -rss_limit_mb=4096 -fork=2 -artifact_prefix=build-fuzz/found/ build-fuzz/corpus tests/cases/projects projects
ASAN_OPTIONS=detect_leaks=0 build-fuzz/tests/fuzz_bin -max_total_time="$seconds" -timeout=60 -max_len=40000 \
  -rss_limit_mb=4096 -fork=2 -artifact_prefix=build-fuzz/found/ build-fuzz/bins
ASAN_OPTIONS=detect_leaks=0 build-fuzz/tests/fuzz_intake -max_total_time="$seconds" -timeout=60 -max_len=40000 \
  -rss_limit_mb=4096 -fork=2 -artifact_prefix=build-fuzz/found/ build-fuzz/drawings tests/intake/files tests/intake/corpus
