#!/bin/sh
# The benchmark: what is promised about speed and size, measured on this machine; prints ratios and fails nobody.
#
#   sh tests/bench/run.sh [NAME...]     NAME: start, pages, ... as in tests/bench/measure_<name>.py; all when absent
#
# A run of everything writes the table of the README, one of some measurements their rows of it. Every run adds one line
# to .bench/runs.jsonl (git-ignored) and is compared with the one before it on this machine.
set -eu
cd "$(dirname "$0")/../.."
sh .ci/setup.sh
PYTHONPATH=tests exec .venv/bin/python -m bench.measuring "$@"
