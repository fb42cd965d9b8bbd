#!/bin/sh
# Every gate of this project, after bringing what they need. All of them run; the summary says which failed.
#
#   sh tests/run.sh         everything but the tests marked `long`; under a quarter of an hour on two cores
#   sh tests/run.sh long    everything
set -u
cd "$(dirname "$0")/.." || exit 1

case "${1-}" in
    "") chosen="not long" ;;
    long) chosen="long or not long" ;;
    *)
        echo "usage: sh tests/run.sh [long]" >&2
        exit 2
        ;;
esac

sh .ci/setup.sh || exit 1

bin=.venv/bin
summary=
failed=0

# gate NAME COMMAND...: runs one gate and keeps how it ended.
gate() {
    name=$1
    shift
    printf '\n--- %s\n' "$name"
    if "$@"; then
        verdict=sound
    else
        verdict=FAILED
        failed=1
    fi
    summary="$summary
  $verdict  $name"
}

gate "lint" $bin/ruff check
gate "layout of the code" $bin/ruff format --check
gate "types" $bin/mypy provenance tests
# Two at a time, each file by one of them: what a file makes ready once serves all its tests.
gate "tests" $bin/python -m pytest -m "$chosen" -n 2 --dist loadfile --cov --cov-report=
gate "coverage" $bin/python tests/coverage_gate.py

printf '\n--- summary%s\n' "$summary"
exit $failed
