#!/bin/sh
# Holds the program's sources against .clang-tidy, all of them or those named. About ten minutes on two cores.
#   sh tests/tidy.sh [FILE...]
set -eu
here=$(cd "$(dirname "$0")/.." && pwd)
. "$here/projects/packages.sh"
need_packages $build_packages $test_packages clang-tidy
cd "$here"
cmake --preset sanitizers >/dev/null
[ $# -gt 0 ] || set -- $(git ls-files 'src/*.cpp')
printf '%s\n' "$@" | xargs -P "$(nproc)" -n 4 clang-tidy --quiet -p build-sanitizers
echo "tidy: $# files hold"
