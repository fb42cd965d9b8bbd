#!/bin/sh
# The three daily jobs, end to end, on a copy of the sample archive: a find is taken in and says something new, a part is
# decided on and made, a panel is printed with its sources. Nothing in the checkout changes.
set -eu

here=$(CDPATH='' cd -- "$(dirname -- "$0")" && pwd)
top=$(dirname -- "$here")
"$top/.ci/setup.sh"

made=${PROVENANCE_DEMO_DIR:-$(mktemp -d "${TMPDIR:-/tmp}/provenance-demo.XXXXXX")}
cp -R "$here/archive" "$made/archive"
cp -R "$here/finds" "$made/finds"
cd "$made/archive"

letter=letter-1934-05-22-01f1344e
photo=no11-pellow-halt-1ba2b0e8
quarterly=quarterly-1971-d9a1d337

provenance() {
    "$top/.venv/bin/provenance" "$@"
}

show() {
    printf '\n$ provenance'
    for word in "$@"; do
        case $word in
        *[\ \"]*) printf " '%s'" "$word" ;;
        *) printf ' %s' "$word" ;;
        esac
    done
    printf '\n\n'
    provenance "$@"
}

say() {
    printf '\n=== %s\n' "$*"
}

job() {
    printf '\n\n######## %s\n' "$*"
}

say 'An archive of a team that builds petrol rail car No. 9 anew. Is it sound, and are the originals as received?'
show check --fixity

say 'Every page is read: text layers as they are, scans by the recogniser.'
show rebuild

job 'A researcher gets a tin of papers in'
PROVENANCE_BY=ic
export PROVENANCE_BY

say 'Three finds have just come. They are copied in, registered, read, compared with all that is held, and can be searched.'
show ingest "$made/finds" --lot 'tin from Pellow' --from 'Mrs. Quenby' --date 2026-03-02
show finds

say 'A page of a quarterly prints a photograph again that we hold: it is no second witness. So it is ruled, and drawn.'
show tag "$quarterly" --title 'Branch Lines Quarterly, autumn 1971' --kind book --created 1971 \
    --shows example=9,known_by=caption --component luggage-rack --access open
show copies
show copies show photo-no9-rear-1934 "$quarterly" --output "$made/seen-before.png"
show copies confirm photo-no9-rear-1934 "$quarterly" --how print \
    --why 'the same shadows; cut at the right and printed in dots' --date 2026-03-02
show descent photo-no9-rear-1934
show descent luggage-rack/fitted --output "$made/luggage-rack-descent.svg"

say 'The letter says that No. 9 was painted in holly green. Who has said so before? And who speaks of lamps H-204?'
show search '"holly green"' --limit 5
show search H-204 --limit 5

say 'It is said what the other two finds are.'
show tag "$letter" --title 'Letter to the works, 22 May 1934' --kind letter --created '22 May 1934' \
    --creator 'H. J. Morvane' --holder 'Rail Car Nine Group' --component livery --access open \
    --rights 'statement=InC,holder=family of H. J. Morvane,publish=ask'
show tag "$photo" --title 'No. 11 at Pellow Halt' --kind photograph --created 'between 1933 and 1936' \
    --shows example=11,known_by=number --component coupling

say 'What would the letter change? Only tried, then entered; the page and the region are found by the quotation.'
quote='touched up below the waist with the holly green'
show claim livery/body-colour 'holly green' --source "$letter" --applies-to 9 --quote "$quote" --try
show claim livery/body-colour 'holly green' --source "$letter" --applies-to 9 --quote "$quote" --date 2026-03-02

say 'The coupling is contested. What does the photograph do to that?'
show evidence coupling/form
show claim coupling/form buffer-and-hook --source "$photo" --page 1 --region percent:78,72,9,18 --try
show claim coupling/form buffer-and-hook --source "$photo" --page 1 --region percent:78,72,9,18 --date 2026-03-02
show used "$letter"

job 'A builder asks what backs a fitting, decides, and writes down what was made'
PROVENANCE_BY=tw

say 'What does the head lamp rest on, and how sure is that? And if that drawing were wrong?'
show evidence headlamp
show evidence headlamp/bracket-height --without drawing-30921-c

say 'What is open about the coupling? The photograph answers it, and the coupling is decided.'
show flags --component coupling
show query coupling-of-no-9 --answer 'No. 11 at Pellow Halt has the hook too.' --date 2026-03-05
show decide coupling/form --build buffer-and-hook --why 'seen on Nos. 9 and 11' --drawing R9-140:A \
    --basis coupling-form-buffer-and-hook --basis coupling-form-buffer-and-hook-8f21 \
    --set-aside 'coupling-form-link-and-pin=it holds for the earlier cars' --release --date 2026-03-05

say 'The first piece does not fit. The brief for the workshop says so until that is settled.'
show made coupling/form --as-made buffer-and-hook --fits badly --note 'fouls the headstock' --date 2026-05-03
show evidence coupling/form --for workshop
show query coupling-form-misfit-2026-05-03 --answer 'Its slot was cut too short.' --date 2026-05-09
show made coupling/form --as-made buffer-and-hook --fits well --date 2026-05-20

say 'For the bench: the dossier on paper, with every place that is cited as a picture. And the brief for a contractor.'
show evidence headlamp --for workshop --output "$made/headlamp.pdf"
show evidence coupling --for contractor --output "$made/coupling-draft.docx" --draft --date 2026-05-20

say 'And if that photograph were not of No. 11: what would have to be looked at again?'
show used "$photo"

say 'The lagging must not be reproduced.'
show evidence exhaust-lagging --for workshop

job 'A curator prints the sources of a panel'
PROVENANCE_BY=mh

say 'Does any panel say what we no longer hold?'
show flags --rule panel-overtaken

say 'The sources of the panel on No. 9: not everything is cleared for print.'
show appendix no-9-in-1934 --output "$made/no-9-draft.html" --date 2026-06-01 || [ $? = 4 ]
show appendix no-9-in-1934 --output "$made/no-9-draft.html" --draft --date 2026-06-01

say 'The family has agreed; that is entered, and the appendix is printed.'
show tag "$letter" --rights 'credit=H. J. Morvane,publish=allowed'
show appendix no-9-in-1934 --output "$made/no-9.html" --date 2026-06-15
show appendix no-9-in-1934 --output "$made/no-9.md" --date 2026-06-15
show appendix no-9-in-1934 --output "$made/no-9.pdf" --date 2026-06-15
show appendix no-9-in-1934 --output "$made/no-9.docx" --style iso-690-author-date --date 2026-06-15

say 'And the whole lists: of sources as a workbook, of features on paper.'
show register sources --output "$made/sources.xlsx" --date 2026-06-15
show register features --output "$made/features.pdf" --date 2026-06-15

say 'The same evidence as the public may see it.'
show evidence livery/body-colour --for public --date 2026-06-15

job 'A lead asks what rests on a single source that nothing confirms'
show flags --rule single-source

say 'Nobody has seen the hand brake of No. 9: earlier cars had a wheel, a later one has a lever. And three axles that differ.'
show evidence hand-brake
show evidence axle/journal

say 'What should be looked for in the next photograph, to tell the lamps apart?'
show signs headlamp/illuminant

say 'Where should the next trip and the last money go?'
show look-next --money 60 --by holder

say 'The same answers for programs.'
printf "\n$ provenance evidence roof-ventilator/pattern --json\n"
provenance evidence roof-ventilator/pattern --json >"$made/roof-ventilator.json"
printf "$ provenance flags --json\n"
provenance flags --json >"$made/flags.json"

say 'Is the archive still sound, with all that was written?'
show check

say 'What was made'
cat <<END
$made/archive               a copy of the sample archive, with the three finds, two claims, a decision and its answers
$made/archive/.derived      what was read on each page, fingerprints, and the indexes; safe to delete
$made/seen-before.png       a find beside the photograph that it prints again
$made/luggage-rack-descent.svg  what the evidence for a fitting goes back to; open it in a browser
$made/no-9-draft.html       the sources appendix of a panel, as a draft; open it in a browser
$made/no-9.html             the same, cleared for print
$made/no-9.md               the same as text; no-9.pdf for print, no-9.docx to be worked on, cited by author and date
$made/headlamp.pdf          the dossier of the head lamps for the workshop
$made/coupling-draft.docx   a brief for a contractor, as a draft
$made/sources.xlsx          the register of sources
$made/features.pdf          the register of features with their grades
$made/roof-ventilator.json  one verdict as JSON
$made/flags.json            all flags as JSON
Try it yourself: cd $made/archive && $top/.venv/bin/provenance flags
END
