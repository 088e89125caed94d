#!/bin/sh
# tests/compare/run.sh OLD NEW BUILD [COUNT]: what two builds of the program print as JSON, compared: the verbs check,
# glue, align and jig on every sample and on COUNT random designs (500), the verb handle on the samples. Every answer that
# differs is shown; so a change that is to leave the answers alone can be held to it. BUILD: a build folder with the tests.
set -u
old=$(realpath "$1")
new=$(realpath "$2")
build=$(realpath "$3")
count=${4:-500}
here=$(cd "$(dirname "$0")/../.." && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
"$build/tests/write_random_projects" "$work/projects" "$count"
cp "$here"/projects/*.json "$work/projects/"
rm "$work/projects/bin.json" # no project

answer() { # answer PROGRAM VERB PROJECT INTO
  case $2 in
    jig | handle) set -- "$@" -o "$work/out.step" ;;
  esac
  program=$1 verb=$2 project=$3 into=$4
  shift 4
  "$program" "$verb" "$project" --json "$@" >"$into" 2>"$into.err"
  echo "exit code $?" >>"$into"
}

asked=0
different=0
for project in "$work"/projects/*.json; do
  verbs='check glue align jig'
  case $project in */random-*) ;; *) verbs="$verbs handle" ;; esac
  for verb in $verbs; do
    answer "$old" "$verb" "$project" "$work/old"
    answer "$new" "$verb" "$project" "$work/new"
    asked=$((asked + 1))
    cmp -s "$work/old" "$work/new" && cmp -s "$work/old.err" "$work/new.err" && continue
    different=$((different + 1))
    echo "== $verb $(basename "$project")"
    diff "$work/old" "$work/new"
    diff "$work/old.err" "$work/new.err"
  done
done
echo "$asked answers, $different of them different"
[ "$different" -eq 0 ]
