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

formatted() { git ls-files '*.cpp' '*.hpp' | xargs -r clang-format --dry-run --Werror; }
build() { # build FOLDER TYPE SANITIZE
  cmake -S . -B "$1" -G Ninja -DCMAKE_BUILD_TYPE="$2" -DHAFTWRIGHT_SANITIZE="$3" >/dev/null && cmake --build "$1"
}
run_tests() { ctest --test-dir "$1" --output-on-failure --parallel 2; }

step 'formatting' formatted
step 'build, Release' build build-test Release OFF
step 'tests, Release' run_tests build-test
step 'build, sanitizers' build build-sanitize Debug ON
# Without the pictures: the software renderer makes machine code as it runs, which the sanitizers do not follow. Without
# looking for leaks, which the solid kernel's own long-lived tables are taken for.
step 'tests under sanitizers' env HAFTWRIGHT_SHORT=1 UBSAN_OPTIONS=print_stacktrace=1 ASAN_OPTIONS=detect_leaks=0 \
  ctest --test-dir build-sanitize --output-on-failure --parallel 2 -E '^render$'
step 'command line' sh tests/command/run.sh build-test/haftwright
step 'the real window' python3 tests/window/run.py build-test/haftwright

echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
