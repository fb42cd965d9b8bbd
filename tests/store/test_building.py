"""Sound text made records: every field arrives, under the name and in the type that the records give it.

The expected records are written out by hand beside the texts of `whole_records`.
"""

from dataclasses import fields
from decimal import Decimal
from typing import Any

import pytest
from store.whole_records import DIGEST, WHOLE, file_of

from provenance.records.archive import Archive, Caution, Event, Person, RelatedType, Subject, Target
from provenance.records.claims import AppliesTo, At, Claim, EvidenceItem, Seen
from provenance.records.components import CommonTo, Component, Feature, Mate, Option, OptionSign, Sign
from provenance.records.dates import EdtfError, parse_edtf
from provenance.records.decisions import (
    AlikePlace,
    CopyPair,
    Decision,
    FoundBy,
    Lead,
    Made,
    MadeDrawing,
    ModernChange,
    Panel,
    Printed,
    Query,
    Release,
    SetAside,
    Statement,
)
from provenance.records.examples import ExampleRange, ExampleSet
from provenance.records.kinds import (
    Access,
    Aspect,
    Changes,
    Condition,
    Derivation,
    Expected,
    FeatureKind,
    How,
    KnownBy,
    Legibility,
    Publish,
    Ruling,
    SignSeen,
    SourceKind,
    Stance,
)
from provenance.records.production import Batch, Production
from provenance.records.regions import PageRange, Region, RegionUnit, TimeSpan, parse_region, parse_time_span
from provenance.records.sources import (
    Acquired,
    DerivesFrom,
    Loan,
    OriginalFile,
    Permission,
    Rights,
    Shows,
    Source,
    Withdrawal,
    Within,
)
from provenance.store.building import build_archive, build_record
from provenance.store.document import Document
from provenance.store.record_kinds import RecordKind
from provenance.store.record_reading import read_record

on = parse_edtf
MADE_ON = on("2026-11-01")


def content_of(text: str, file: str) -> dict[str, Any]:
    document = read_record(text, file)
    assert isinstance(document, Document), document
    return document.content


def build(kind: RecordKind, which: int = 0) -> Any:
    return build_record(kind, "one", content_of(WHOLE[kind][which], file_of(kind)))


def build_from(kind: RecordKind, text: str) -> Any:
    return build_record(kind, "one", content_of(text, file_of(kind)))


def test_the_archives_own_record() -> None:
    archive = build_archive(content_of(WHOLE[RecordKind.ARCHIVE][0], "archive.yaml"), {})

    assert archive == Archive(
        title="Railcar 9",
        subject=Subject(name="Vale railcar", kind="petrol railcar", claims_to_be="reproduction"),
        production=Production(
            batches=(
                Batch(batch="first", examples=("1", "2", "3", "4"), built=on("1927/1928")),
                Batch(batch="second", examples=("5", "6"), built=on("1930")),
            )
        ),
        target=Target(example="5", as_at=on("1934-06"), why="best known"),
        events=(Event(example="6", date=on("1932-03"), what="rebuilt after collision"),),
        related=(RelatedType(name="Vale trailer", note="same frames"),),
        languages=("en", "de"),
        weights={
            "base.letter": Decimal("6.50"),
            "base.photograph": Decimal(13),
            "reliability.A": Decimal(1),
            "reliability.E": Decimal(0),
            "how.implies": Decimal(".4"),
            "doubtful": Decimal("0.5"),
            "late_memory": Decimal("0.25"),
            "late_years": Decimal(12),
            "agreement.same-batch": Decimal("0.85"),
            "same_time": Decimal(4),
            "batch_step": Decimal(3),
            "contested": Decimal("0.2"),
            "established": Decimal("0.9"),
            "probable": Decimal("0.7"),
        },
        people=(Person(id="mh", name="Mara Holm", credited_as="M. Holm"),),
        cautions=(
            Caution(hazard="petrol", text="Vapour burns.", consult="the fire officer", jurisdiction="the county"),
        ),
    )


def test_a_new_archive_says_only_its_title() -> None:
    archive = build_archive(content_of("format: 1\ntitle: A\n", "archive.yaml"), {})

    assert archive == Archive(title="A")


def test_a_component() -> None:
    component = build(RecordKind.COMPONENT)

    kind = Feature(
        id="kind",
        name="Kind of lamp",
        aspect=Aspect.FORM,
        kind=FeatureKind.CHOICE,
        options=(
            Option(
                id="acetylene",
                name="Acetylene lamp",
                also=("gas lamp",),
                signs=(OptionSign(sign="conduit", expect=Expected.NEVER, source="parts-list"),),
            ),
            Option(id="electric", name="Electric lamp"),
        ),
        changes=Changes.IN_SERVICE,
    )
    wording = Feature(
        id="wording",
        name="Wording on the plate",
        aspect=Aspect.MARKING,
        kind=FeatureKind.TEXT,
        same=(("M.S.", "mild steel"),),
    )
    height = Feature(
        id="height",
        name="Height of the bracket",
        aspect=Aspect.POSITION,
        kind=FeatureKind.QUANTITY,
        unit="mm",
        needed="10 mm",
        datum="rail level",
        mates=(Mate(mate="front-end/hole", rule="bolts-to", within="1 mm"),),
        note="ask the shed",
    )
    assert component == Component(
        id="one",
        name="Headlamp",
        by="mh",
        date=MADE_ON,
        part_of="front-end",
        references=("0047", "drawing 30921"),
        also_called=("front light",),
        hazards=("stored-energy",),
        made_as="reproduction",
        common_to=(CommonTo(examples=ExampleSet((ExampleRange("5", "6"),)), source="parts-list"),),
        needed_by=on("2027-03"),
        prominence="focal",
        features=(kind, wording, height),
        signs=(Sign(id="conduit", name="a conduit on the rail"),),
        note="two of them",
    )


def test_a_source() -> None:
    source = build(RecordKind.SOURCE)

    assert source == Source(
        id="one",
        title="Works photograph",
        by="mh",
        date=MADE_ON,
        kind=SourceKind.PHOTOGRAPH,
        created=on("1934~"),
        creator="unknown",
        occasion="official visit",
        holder="County record office",
        place="Oldbridge",
        reference="#12/4",
        language=("en", "sr-Latn"),
        acquired=(Acquired(date=on("2026-10"), giver="A donor", note="by post", received_as="IMG_1.JPG"),),
        loan=Loan(owner="The museum", due=on("2027-01"), returned=on("2026-12-24")),
        files=(
            OriginalFile(
                path="originals/works-photo/Front view.jpg",
                received_as="IMG_1.JPG",
                sha256=DIGEST,
                size=123456,
                media_type="image/jpeg",
                pages=1,
            ),
        ),
        derives_from=(DerivesFrom(source="glass-plate", how=Derivation.PRINT, note="contact print"),),
        origin_stated=True,
        issue="C",
        replaces="works-photo-b",
        executed=False,
        process="colour",
        altered="retouched",
        reliability="B",
        reliability_why="the works took it",
        shows=(
            Shows(example="5", when=on("1934-06"), known_by=KnownBy.NUMBER, component="headlamp", note="left side"),
        ),
        rights=Rights(
            statement="InC",
            holder="The works",
            credit="Works collection",
            publish=Publish.ALLOWED,
            permission=Permission(
                giver="The works",
                date=on("2026-11-02"),
                scope=("panel", "book"),
                until=on("2030"),
                file="letter-3",
            ),
        ),
        access=Access.CLOSED,
        access_until=on("2030"),
        hazards=("nitrate-film",),
        topics=("headlamp", "front-end"),
        tagged=True,
        withdrawn=Withdrawal(why="a fake", by="mh", date=on("2026-11-20")),
        note="on card",
    )


def test_a_source_that_is_kept_in_another_and_that_nobody_has_looked_at() -> None:
    source = build(RecordKind.SOURCE, 1)

    region = Region(unit=RegionUnit.PERCENT, x=Decimal("12.5"), y=Decimal(40), w=Decimal(30), h=Decimal(8))
    assert source == Source(
        id="one",
        title="Page of an album",
        by="mh",
        date=MADE_ON,
        within=Within(source="album", pages=PageRange(3, 7), region=region),
    )
    assert not source.tagged


@pytest.mark.parametrize(
    ("written", "tagged"),
    [("", False), ("kind: book\n", True), ("kind: book\nstate: untagged\n", False), ("state: tagged\n", True)],
)
def test_a_source_is_tagged_where_it_says_so_or_else_where_it_has_a_kind(written: str, *, tagged: bool) -> None:
    source = build_from(RecordKind.SOURCE, f"title: A\nby: mh\ndate: 2026\n{written}")

    assert source.tagged is tagged


@pytest.mark.parametrize(("written", "executed"), [("", None), ("built", True), ("unbuilt", False), ("unknown", None)])
def test_whether_a_design_was_built_may_be_unknown(written: str, *, executed: bool | None) -> None:
    line = f"executed: {written}\n" if written else ""

    source = build_from(RecordKind.SOURCE, f"title: A\nby: mh\ndate: 2026\n{line}")

    assert source.executed is executed


def test_rights_may_be_known_before_anybody_has_asked() -> None:
    source = build_from(RecordKind.SOURCE, "title: A\nby: mh\ndate: 2026\nrights: {statement: CNE}\n")

    assert source.rights == Rights(statement="CNE")


def test_a_claim() -> None:
    claim = build(RecordKind.CLAIM)

    region = Region(unit=RegionUnit.PIXEL, x=Decimal(160), y=Decimal(120), w=Decimal(320), h=Decimal(240))
    first = EvidenceItem(
        source="works-photo",
        at=At(page=14, page_label="xii", region=region, who="the foreman"),
        stance=Stance.CONTRADICTS,
        how=How.IMPLIES,
        legibility=Legibility.DOUBTFUL,
        condition=Condition.WORN,
        quote="3 ft 4 1/2 in",
        seen=Seen(example="6", when=on("1931"), known_by=KnownBy.LIKENESS, signs=("conduit",), why="the dent"),
        applies_to=AppliesTo(batch="second"),
        via="glass-plate",
        signs=(("conduit", SignSeen.NOT_SEEN), ("vent", SignSeen.SEEN)),
        by="jk",
        date=on("2026-11-03"),
        withdrawn=Withdrawal(why="misread", by="mh", date=on("2026-11-04")),
        note="hard to see",
    )
    second = EvidenceItem(
        source="tape",
        at=At(time=TimeSpan(Decimal("751.000"), Decimal("764.000")), file=2),
        stance=Stance.SUPPORTS,
        how=How.STATES,
        applies_to=AppliesTo(related="Vale trailer"),
    )
    assert claim == Claim(
        id="one",
        about="headlamp/height",
        value="3 ft 4 1/2 in",
        applies_to=AppliesTo(examples=ExampleSet(("2", ExampleRange("5", "6"))), since=on("1930"), until=on("1934-06")),
        evidence=(first, second),
        by="mh",
        date=on("2026-11-02"),
        uncertainty="1/4 in",
        uncertainty_standard=True,
        reasoning="Scaled from the wheel. It is near enough.",
        withdrawn=Withdrawal(why="twice", by="mh", date=on("2026-11-05")),
        note="first try",
    )


def test_what_an_item_does_not_say_is_the_usual() -> None:
    claim = build(RecordKind.CLAIM, 2)

    assert claim.evidence == (EvidenceItem(source="tape", stance=Stance.SUPPORTS, how=How.ANALOGY),)
    assert (claim.uncertainty, claim.uncertainty_standard) == (None, False)


def test_an_individual_is_known_by_its_caption_where_nothing_else_is_said() -> None:
    text = WHOLE[RecordKind.CLAIM][2].replace("how: analogy", 'how: shows, seen: {example: "6"}')

    claim = build_from(RecordKind.CLAIM, text)

    assert claim.evidence[0].seen == Seen(example="6", known_by=KnownBy.CAPTION)


def test_a_pair_of_copies() -> None:
    pair = build(RecordKind.COPY)

    assert pair == CopyPair(
        id="one",
        between=("album", "works-photo"),
        by="mh",
        date=on("2026-11-02"),
        ruling=Ruling.COPY,
        found_by=FoundBy(
            method="picture",
            version="2",
            settings="plain",
            score="0.910",
            points="84",
            overlap="0.50",
            letters="212",
            places=(
                AlikePlace(page=3, region=parse_region("percent:10,10,50,50")),
                AlikePlace(page=1, time=parse_time_span("00:12:31")),
            ),
        ),
        why="same dent",
        how=Derivation.PRINT,
        why_ruled="same grain",
        ruled_by="mh",
        ruled_date=on("2026-11-06"),
        note="seen twice",
    )


def test_a_pair_on_which_nobody_has_ruled_is_open() -> None:
    pair = build_from(RecordKind.COPY, "between: [a, b]\nby: mh\ndate: 2026-11-01\n")

    assert pair == CopyPair(id="one", between=("a", "b"), by="mh", date=MADE_ON, ruling=Ruling.OPEN)


def test_a_decision() -> None:
    decision = build(RecordKind.DECISION)

    assert decision == Decision(
        id="one",
        about="headlamp/height",
        status="released",
        build="1029 mm",
        by="mh",
        date=on("2026-11-07"),
        tolerance="2 mm",
        basis=("height-1",),
        set_aside=(SetAside(claim="height-2", why="another batch"),),
        modern_change=ModernChange(reason="safety", note="lamp law"),
        drawings=(MadeDrawing(number="R9-104", issue="B"),),
        grade_then="probable",
        replaces="height-old",
        stamp="R9 on the back",
        why="two witnesses",
        released=Release(by="jk", date=on("2026-11-07")),
        made=(
            Made(
                date=on("2026-11-08"),
                by="The shed",
                value="1030 mm",
                fits="badly",
                inspected_by="jk",
                photo="made-1",
                note="high",
            ),
        ),
        withdrawn=Withdrawal(why="overtaken", by="mh", date=on("2026-11-09")),
        note="urgent",
    )


def test_a_decision_that_changes_nothing_for_the_present_day() -> None:
    text = "about: a/b\nstatus: proposed\nbuild: c\nby: mh\ndate: 2026-11-01\n"

    decision = build_from(RecordKind.DECISION, text)

    assert decision == Decision(id="one", about="a/b", status="proposed", build="c", by="mh", date=MADE_ON)


def test_a_query() -> None:
    query = build(RecordKind.QUERY)

    assert query == Query(
        id="one",
        about="headlamp/height",
        by="mh",
        date=on("2026-11-09"),
        grounds="looks high",
        open=False,
        raised_by="A visitor",
        would_settle="a rule beside it",
        answer="measured again",
        answered_by="jk",
        answered_date=on("2026-11-10"),
        note="kind letter",
    )


@pytest.mark.parametrize("written", ["", "state: open\n"])
def test_a_query_is_open_until_it_is_answered(written: str) -> None:
    query = build_from(RecordKind.QUERY, f"about: one\ngrounds: b\nby: mh\ndate: 2026\n{written}")

    assert query.open


def test_a_panel() -> None:
    panel = build(RecordKind.PANEL)

    assert panel == Panel(
        id="one",
        title="Light",
        by="mh",
        date=on("2026-11-10"),
        statements=(Statement(text="It had gas lamps.", features=("headlamp/kind",)),),
        components=("headlamp",),
        printed=(Printed(date=on("2026-11-11"), digest=DIGEST),),
        note="by the door",
    )


def test_a_lead() -> None:
    lead = build(RecordKind.LEAD)

    assert lead == Lead(
        id="one",
        what="three tins of film",
        by="mh",
        date=on("2026-11-10"),
        holder="A family",
        place="Oldbridge",
        reference="attic",
        hoped_for=("headlamp/kind",),
        effort="small",
        cost="40 euro",
        chance=".3",
        searched=True,
        outcome="nothing",
        note="call first",
    )


@pytest.mark.parametrize("kind", [kind for kind in RecordKind if kind is not RecordKind.ARCHIVE])
def test_no_field_of_a_record_is_forgotten(kind: RecordKind) -> None:
    records = [build(kind, which) for which in range(len(WHOLE[kind]))]

    for field in fields(records[0]):
        values = [getattr(record, field.name) for record in records]
        assert any(value != field.default for value in values), field.name


def test_a_building_that_fails_on_content_that_no_schema_would_pass_is_not_hidden() -> None:
    with pytest.raises(EdtfError):
        build_record(RecordKind.LEAD, "one", {"what": "tins", "by": "mh", "date": "soon"})
    with pytest.raises(KeyError):
        build_record(RecordKind.LEAD, "one", {"by": "mh", "date": "2026"})
