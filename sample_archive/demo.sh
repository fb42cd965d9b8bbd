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

say() {
    printf '\n=== %s\n' "$*"
}

say 'An archive of a team that builds petrol rail car No. 9 anew. Is it sound, and are the originals as received?'
show check --fixity

say 'Every page is read: text layers as they are, scans by the recogniser.'
show rebuild

say 'Two finds have just come in. They are copied in, registered, read, and can be searched.'
show ingest "$made/finds" --by mh

say 'What do our sources say of the head lamp bracket, H-205?'
show search '"lamp bracket" H-205' --limit 5

say 'A builder asks: what does the head lamp rest on, and how sure is that?'
show evidence headlamp

say 'And if that drawing were wrong?'
show evidence headlamp/bracket-height --without drawing-30921-c

say 'A lead asks: what rests on a single source that nothing confirms?'
show flags --rule single-source

say 'The coupling is contested, and the lagging must not be reproduced.'
show evidence coupling/form
show evidence exhaust-lagging

say 'The same answers for programs.'
printf "\n$ provenance evidence roof-ventilator/pattern --json\n"
provenance evidence roof-ventilator/pattern --json >"$made/roof-ventilator.json"
printf "$ provenance flags --json\n"
provenance flags --json >"$made/flags.json"

say 'What was made'
cat <<END
$made/archive               a copy of the sample archive, with the two finds taken in
$made/archive/.derived      what was read on each page, and the search index; safe to delete
$made/roof-ventilator.json  one verdict as JSON
$made/flags.json            all flags as JSON
Try it yourself: cd $made/archive && $top/.venv/bin/provenance flags
END
