# What the tests of the command line share: a folder of their own, and ways to say what must be. Sourced with
# the program's path as $1.
set -u
haftwright=$(realpath "$1")
here=$(realpath "$(dirname "$0")")
projects=$(realpath "$here/../../projects")
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT INT TERM
cd "$work" || exit 1
# Nobody's own shop file may be read or written here.
export XDG_DATA_HOME="$work/data"
passed=0
failed=0

# expect WHAT CODE COMMAND...: runs it, keeps stdout in ./out and stderr in ./err, compares the exit code.
expect() {
  what=$1
  code=$2
  shift 2
  "$@" >out 2>err </dev/null
  got=$?
  if [ "$got" -eq "$code" ]; then
    passed=$((passed + 1))
  else
    failed=$((failed + 1))
    echo "FAILED: $what: exit code $got, expected $code"
    sed 's/^/    /' err
  fi
}
# that WHAT COMMAND...: the command must succeed.
that() {
  what=$1
  shift
  if "$@" >/dev/null 2>&1; then
    passed=$((passed + 1))
  else
    failed=$((failed + 1))
    echo "FAILED: $what"
  fi
}
has() { grep -qF -- "$2" "$1"; }
lacks() { ! has "$@"; }
one_line() { [ "$(wc -l <"$1")" -eq 1 ]; }
empty() { [ ! -s "$1" ]; }
no_leftovers() { [ "$(ls -A "$1" | wc -l)" -eq "$2" ]; }

good=$projects/shucking_knife.json
