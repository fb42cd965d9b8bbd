#!/bin/sh
# Makes the two lock files of this folder anew from pyproject.toml, for every platform and Python that is served.
# For whoever changes a dependency; it needs `uv` (`pip install uv`), which nothing else here does.
#
#   sh .ci/lock.sh [--upgrade]
set -eu
cd "$(dirname "$0")/.."

# lock FILE ARGUMENT...: without the names of registries or of this machine in the file. Extras stay: without them pip
# refuses a locked package that another one asks for with its extra, as soon as there is a newer release.
lock() {
    file=$1
    shift
    uv pip compile pyproject.toml "$@" --universal --python-version 3.11 --fork-strategy fewest --generate-hashes \
        --no-strip-extras --no-header --no-annotate --no-emit-index-url --no-emit-find-links --quiet --output-file "$file"
}

lock .ci/requirements.txt "$@"
lock .ci/requirements-test.txt --group test --constraint .ci/requirements.txt "$@"
