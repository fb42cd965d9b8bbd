"""Records of every kind that between them use every field, as people write them; the railcars are invented."""

from provenance.store.record_kinds import RecordKind

DIGEST = "0123456789abcdef" * 4

WHOLE: dict[RecordKind, tuple[str, ...]] = {
    RecordKind.ARCHIVE: (
        """\
format: 1
title: Railcar 9
subject: {name: Vale railcar, kind: petrol railcar, claims_to_be: reproduction}
production:
  - {batch: first, examples: ["1", "2", "3", "4"], built: 1927/1928}
  - {batch: second, examples: ["5", "6"], built: 1930, note: two only}
target: {example: "5", as_at: 1934-06, why: best known, note: agreed by all}
events: [{example: "6", date: 1932-03, what: rebuilt after collision, note: see the logbook}]
related: [{name: Vale trailer, note: same frames}]
languages: [en, de]
doctrine:
  base: {letter: 6.50, photograph: 13}
  reliability: {A: 1, E: 0}
  how: {implies: .4}
  doubtful: 0.5
  late_memory: 0.25
  late_years: 12
  agreement: {same-batch: 0.85}
  same_time: 4
  batch_step: 3
  contested: 0.2
  established: 0.9
  probable: 0.7
  x-why: {agreed: at the spring meeting}
people: [{id: mh, name: Mara Holm, credited_as: M. Holm, note: lead}]
cautions: [{hazard: petrol, text: Vapour burns., consult: the fire officer, jurisdiction: the county}]
note: begun in a shed
""",
    ),
    RecordKind.COMPONENT: (
        """\
name: Headlamp
part_of: front-end
references: ["0047", drawing 30921]
also_called: [front light]
hazards: [stored-energy]
made_as: reproduction
common_to: [{examples: 5..6, source: parts-list}]
needed_by: 2027-03
prominence: focal
features:
  - id: kind
    name: Kind of lamp
    aspect: form
    kind: choice
    options:
      - id: acetylene
        name: Acetylene lamp
        also: [gas lamp]
        signs: [{sign: conduit, expect: never, source: parts-list}]
      - {id: electric, name: Electric lamp}
    changes: in-service
  - id: wording
    name: Wording on the plate
    aspect: marking
    kind: text
    same: [["M.S.", mild steel]]
  - id: height
    name: Height of the bracket
    aspect: position
    kind: quantity
    unit: mm
    needed: 10 mm
    datum: rail level
    mates: [{with: front-end/hole, rule: bolts-to, within: 1 mm}]
    note: ask the shed
signs: [{id: conduit, name: a conduit on the rail}]
by: mh
date: 2026-11-01
note: two of them
""",
    ),
    RecordKind.SOURCE: (
        f"""\
title: Works photograph
kind: photograph
created: 1934~
creator: unknown
occasion: official visit
holder: County record office
place: Oldbridge
reference: "#12/4"
language: [en, sr-Latn]
acquired: [{{date: 2026-10, from: A donor, received_as: IMG_1.JPG, note: by post}}]
loan: {{owner: The museum, due: 2027-01, returned: 2026-12-24}}
files:
  - path: originals/works-photo/Front view.jpg
    received_as: IMG_1.JPG
    sha256: {DIGEST}
    bytes: 123456
    media_type: image/jpeg
    pages: 1
derives_from: [{{source: glass-plate, how: print, note: contact print}}]
origin: stated
issue: C
replaces: works-photo-b
executed: unbuilt
process: colour
altered: retouched
reliability: B
reliability_why: the works took it
shows: [{{example: "5", when: 1934-06, known_by: number, component: headlamp, note: left side}}]
rights:
  statement: InC
  holder: The works
  credit: Works collection
  publish: allowed
  permission: {{from: The works, date: 2026-11-02, scope: [panel, book], until: 2030, file: letter-3}}
access: closed
access_until: 2030
hazards: [nitrate-film]
topics: [headlamp, front-end]
state: tagged
withdrawn: {{why: a fake, by: mh, date: 2026-11-20}}
by: mh
date: 2026-11-01
note: on card
""",
        """\
title: Page of an album
within: {source: album, pages: 3..7, region: "percent:12.5,40,30,8"}
by: mh
date: 2026-11-01
""",
    ),
    RecordKind.CLAIM: (
        """\
about: headlamp/height
value: 3 ft 4 1/2 in
uncertainty: 1/4 in
uncertainty_kind: standard
applies_to: {examples: ["2", 5..6], from: 1930, until: 1934-06}
evidence:
  - source: works-photo
    at: {page: 14, page_label: xii, region: "pixel:160,120,320,240", who: the foreman}
    stance: contradicts
    how: implies
    legibility: doubtful
    condition: worn
    quote: 3 ft 4 1/2 in
    seen: {example: "6", when: 1931, known_by: likeness, signs: [conduit], why: the dent}
    applies_to: {batch: second}
    via: glass-plate
    signs: {conduit: not-seen, vent: seen}
    by: jk
    date: 2026-11-03
    withdrawn: {why: misread, by: mh, date: 2026-11-04}
    note: hard to see
  - source: tape
    at: {time: 00:12:31.000/00:12:44.000, file: 2}
    stance: supports
    how: states
    applies_to: {related: Vale trailer}
reasoning: >
  Scaled from the wheel.
  It is near enough.
by: mh
date: 2026-11-02
withdrawn: {why: twice, by: mh, date: 2026-11-05}
note: first try
""",
        """\
about: headlamp/kind
value: acetylene
applies_to: {batch: first}
evidence:
  - {source: tape, stance: supports, how: states, applies_to: {examples: "5", from: 1930, until: 1934}}
by: mh
date: 2026-11-02
""",
        """\
about: headlamp/kind
value: electric
applies_to: {related: Vale trailer}
evidence: [{source: tape, stance: supports, how: analogy}]
by: mh
date: 2026-11-02
""",
    ),
    RecordKind.COPY: (
        """\
between: [album, works-photo]
found_by:
  method: picture
  version: "2"
  settings: plain
  score: 0.910
  points: 84
  overlap: 0.50
  letters: 212
  places:
    - {page: 3, region: "percent:10,10,50,50"}
    - {page: 1, time: "00:12:31"}
why: same dent
ruling: copy
how: print
why_ruled: same grain
ruled_by: mh
ruled_date: 2026-11-06
by: mh
date: 2026-11-02
note: seen twice
""",
    ),
    RecordKind.DECISION: (
        """\
about: headlamp/height
status: released
build: 1029 mm
tolerance: 2 mm
basis: [height-1]
set_aside: [{claim: height-2, why: another batch}]
modern_change: {reason: safety, note: lamp law}
drawings: [{number: R9-104, issue: B}]
grade_then: probable
replaces: height-old
stamp: R9 on the back
why: two witnesses
released: {by: jk, date: 2026-11-07}
made: [{date: 2026-11-08, by: The shed, value: 1030 mm, fits: badly, inspected_by: jk, photo: made-1, note: high}]
withdrawn: {why: overtaken, by: mh, date: 2026-11-09}
by: mh
date: 2026-11-07
note: urgent
""",
    ),
    RecordKind.QUERY: (
        """\
about: headlamp/height
raised_by: A visitor
grounds: looks high
would_settle: a rule beside it
state: answered
answer: measured again
answered_by: jk
answered_date: 2026-11-10
by: mh
date: 2026-11-09
note: kind letter
""",
    ),
    RecordKind.PANEL: (
        f"""\
title: Light
statements: [{{text: It had gas lamps., features: [headlamp/kind]}}]
components: [headlamp]
printed: [{{date: 2026-11-11, digest: {DIGEST}}}]
by: mh
date: 2026-11-10
note: by the door
""",
    ),
    RecordKind.LEAD: (
        """\
what: three tins of film
holder: A family
place: Oldbridge
reference: attic
hoped_for: [headlamp/kind]
effort: small
cost: 40 euro
chance: .3
state: searched
outcome: nothing
by: mh
date: 2026-11-10
note: call first
""",
    ),
}
"""Texts by kind; between them they use every field that the schema of that kind has."""


def file_of(kind: RecordKind) -> str:
    """A place where a record of that kind may stand."""
    return kind.file_of("album--works-photo" if kind is RecordKind.COPY else "one")
