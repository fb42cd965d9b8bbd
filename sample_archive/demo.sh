#!/bin/sh
# The main job, end to end, on a copy of the sample archive: pages are read, found again by what they say, and the
# claims that rest on them are weighed. Nothing in the checkout changes.
set -eu

here=$(CDPATH='' cd -- "$(dirname -- "$0")" && pwd)
top=$(dirname -- "$here")
"$top/.ci/setup.sh"

made=${PROVENANCE_DEMO_DIR:-$(mktemp -d "${TMPDIR:-/tmp}/provenance-demo.XXXXXX")}
cp -R "$here/archive" "$made/archive"
cp -R "$here/finds" "$made/finds"
cd "$made/archive"

provenance() {
    "$top/.venv/bin/provenance" "$@"
}

show() {
    printf '\n$ provenance'
    for word in "$@"; do
        case $word in
        *' '*) printf " '%s'" "$word" ;;
        *) printf ' %s' "$word" ;;
        esac
    done
    printf '\n\n'
    provenance "$@"
}
