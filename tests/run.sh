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
build() { # build FOLDER TYPE SANITIZE [OPTION...]
  folder=$1
  type=$2
  sanitize=$3
  shift 3
  cmake -S . -B "$folder" -G Ninja -DCMAKE_BUILD_TYPE="$type" -DHAFTWRIGHT_SANITIZE="$sanitize" "$@" >/dev/null &&
    cmake --build "$folder"
}
sanitized_tests() {
  HAFTWRIGHT_SHORT=1 UBSAN_OPTIONS=print_stacktrace=1 ASAN_OPTIONS=detect_leaks=1 \
    LSAN_OPTIONS="suppressions=$here/tests/leaks_of_others.txt:print_suppressions=0" \
    run_tests build-sanitize --exclude-regex '^(render|pages|installed)$'
}
run_tests() { # run_tests FOLDER [OPTION...]
  folder=$1
  shift
  ctest --test-dir "$folder" --output-on-failure --parallel 2 "$@"
}
# A private header (src/ROOM/*.hpp) keeps its types in a namespace of its own: two rooms may then use a name twice.
private_namespaces() {
  common=$(grep -lx 'namespace haftwright {' src/*/*.hpp | grep -v '/bodies_impl.hpp$')
  [ -z "$common" ] || { echo "in the common namespace: $common"; false; }
}

step 'formatting' formatted
step 'private namespaces' private_namespaces
step 'build, Release' build build-test Release OFF
step 'tests, Release' run_tests build-test
# With another compiler, which compiles instrumented code in half the time.
step 'build, sanitizers' build build-sanitize Debug ON -DCMAKE_CXX_COMPILER=clang++
# Without the pictures: the software renderer makes machine code as it runs, which the sanitizers do not follow. What the
# solid kernel keeps until the end is no leak of ours.
step 'tests under sanitizers' sanitized_tests
step 'command line' sh tests/command/run.sh build-test/haftwright
step 'the real window' python3 tests/window/run.py build-test/haftwright

echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
