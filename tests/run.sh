#!/bin/sh
# Installs what is missing, builds, and runs every test: formatting, Release, then once more under sanitizers.
set -eu
here=$(cd "$(dirname "$0")/.." && pwd)
. "$here/projects/packages.sh"
need_packages $build_packages $test_packages
cd "$here"
# No display, and a locale with decimal commas where the system has one: neither may change an answer.
unset DISPLAY WAYLAND_DISPLAY 2>/dev/null || true

passed=0
failed=0
step() {
  name=$1
  shift
  echo "== $name"
  if "$@"; then
    passed=$((passed + 1))
  else
    failed=$((failed + 1))
    echo "== FAILED: $name"
  fi
}

# The compiler cache is to find a source again in another checkout.
export CCACHE_BASEDIR="$here" CCACHE_NOHASHDIR=1

formatted() { git ls-files '*.cpp' '*.hpp' | xargs -r clang-format --dry-run --Werror; }
# A private header (src/ROOM/*.hpp) keeps its types in a namespace of its own: two rooms may then use a name twice.
private_namespaces() {
  common=$(grep -lx 'namespace haftwright {' src/*/*.hpp)
  [ -z "$common" ] || { echo "in the common namespace: $common"; false; }
}
# What each preset is: CMakePresets.json.
build() { cmake --preset "$1" >/dev/null && cmake --build --preset "$1"; }
tests() { ctest --preset "$1" --parallel "$(nproc)"; }

step 'formatting' formatted
step 'private namespaces' private_namespaces
step 'build, Release' build release
step 'one name, one type' cmake --build --preset odr
step 'tests, Release' tests release
# With another compiler, which compiles instrumented code in half the time.
step 'build, sanitizers' build sanitizers
# Without the pictures: the software renderer makes machine code as it runs, which the sanitizers do not follow. What the
# solid kernel keeps until the end is no leak of ours.
step 'tests under sanitizers' tests sanitizers

echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
