from collections.abc import Iterable

import pytest
from builders import (
    BY,
    FEATURE,
    TODAY,
    a_claim,
    a_component,
    a_decision,
    a_feature,
    a_pair,
    a_source,
    a_withdrawal,
    an_archive,
    an_item,
    an_option,
    common_over,
)

from provenance.records.archive import Archive
from provenance.records.components import Mate, Option, OptionSign
from provenance.records.decisions import Lead, Made, Panel, Printed, Query, Statement
from provenance.records.kinds import Expected
from provenance.records.sources import Within
from provenance.rules.resting import Thing, things_named, what_rests_on

CLAIM = "headlamp-type-acetylene"
PANEL = Panel(
    id="lamps",
    title="The lamps",
    by=BY,
    date=TODAY,
    statements=(Statement(text="It had gas lamps.", features=(FEATURE,)),),
    components=("headlamp",),
    printed=(Printed(date=TODAY, digest="abcdef0123456789" * 4),),
)


def a_whole_archive() -> Archive:
    """A tracing of a drawing, a claim that cites the tracing, a decision on it, a piece made, a panel printed."""
    return an_archive(
        a_source("works-drawing", "drawing"),
        a_source("tracing", "drawing", of=["redrawn:works-drawing"]),
        a_claim("acetylene", an_item("tracing", page=2)),
        a_decision(basis=(CLAIM,), made=(Made(date=TODAY, value="acetylene", photo="snap"),)),
        a_decision("hood", about="headlamp/hood"),
        a_source("snap"),
        panels={"lamps": PANEL},
        queries={
            "doubt": Query(id="doubt", about="lamps", by=BY, date=TODAY, grounds="no"),
            "old-doubt": Query(id="old-doubt", about=FEATURE, by=BY, date=TODAY, grounds="no", open=False),
        },
    )


def told(archive: Archive, kind: str, record_id: str) -> list[tuple[str, str]]:
    return [(each.record, each.how) for each in what_rests_on(archive, Thing(kind, record_id))]


def records(told: Iterable[tuple[str, str]]) -> list[str]:
    return list(dict.fromkeys(record for record, _ in told))


def test_from_a_source_the_way_goes_to_what_was_printed() -> None:
    rests = told(a_whole_archive(), "sources", "works-drawing")

    assert rests == [
        ("sources/tracing.yaml", "derives from works-drawing (redrawn)"),
        (f"claims/{CLAIM}.yaml", f"claims “acetylene” for {FEATURE}, and tracing, page 2 supports it"),
        ("decisions/build-the-lamp.yaml", f"builds “acetylene” for {FEATURE} (released), on {CLAIM}"),
        ("panels/lamps.yaml", f"states something about {FEATURE}"),
        ("decisions/build-the-lamp.yaml", "was made to “acetylene” on 2026-11-25"),
        ("panels/lamps.yaml", "was printed on 2026-11-25 (abcdef012345)"),
        ("queries/doubt.yaml", "doubts lamps"),
    ]


def test_from_a_component_the_way_goes_through_its_features() -> None:
    rests = told(a_whole_archive(), "components", "headlamp")

    assert records(rests) == [
        "components/headlamp.yaml",
        "panels/lamps.yaml",
        f"claims/{CLAIM}.yaml",
        "decisions/build-the-lamp.yaml",
        "queries/old-doubt.yaml",
        "queries/doubt.yaml",
    ]
    assert ("queries/old-doubt.yaml", f"doubted {FEATURE}") in rests
    assert ("panels/lamps.yaml", "tells of headlamp") in rests


def test_nothing_rests_on_what_nobody_cites() -> None:
    assert told(an_archive(a_source("stray")), "sources", "stray") == []


def test_a_photograph_of_a_made_part_is_named_and_the_way_ends_there() -> None:
    assert told(a_whole_archive(), "sources", "snap") == [
        ("decisions/build-the-lamp.yaml", "snap shows what was made on 2026-11-25")
    ]


def test_what_is_kept_replaced_or_set_aside_is_named_and_the_way_ends_there() -> None:
    archive = an_archive(
        a_source("album"),
        a_source("leaf", within=Within(source="album")),
        a_source("issue-b", "drawing"),
        a_source("issue-c", "drawing", replaces="issue-b", topics=("headlamp",)),
        a_claim("acetylene", "leaf", "issue-b", "issue-c"),
        a_claim("electric", "letter"),
        a_decision(set_aside=[("headlamp-type-electric", "of the trailer")]),
        a_decision("later", replaces="build-the-lamp"),
    )

    assert told(archive, "sources", "album") == [("sources/leaf.yaml", "is kept in album")]
    assert ("sources/issue-c.yaml", "is a later issue of issue-b") in told(archive, "sources", "issue-b")
    assert told(archive, "claims", "headlamp-type-electric") == [
        ("decisions/build-the-lamp.yaml", "sets headlamp-type-electric aside: of the trailer")
    ]
    assert told(archive, "decisions", "build-the-lamp") == [("decisions/later.yaml", "replaces build-the-lamp")]
    assert ("sources/issue-c.yaml", "speaks of headlamp") in told(archive, "components", "headlamp")


def test_a_withdrawn_claim_or_item_is_named_and_nothing_rests_on_it() -> None:
    gone = a_withdrawal()
    archive = an_archive(
        a_claim("acetylene", an_item("manual", withdrawn=gone), "drawing"),
        a_claim("electric", "letter", withdrawn=gone),
        a_decision(basis=(CLAIM, "headlamp-type-electric")),
        a_decision("dropped", basis=(CLAIM,), withdrawn=gone, made=(Made(date=TODAY),)),
    )

    assert told(archive, "sources", "manual") == [
        (f"claims/{CLAIM}.yaml", f"claims “acetylene” for {FEATURE}, and manual supports it (withdrawn)")
    ]
    assert records(told(archive, "sources", "letter")) == ["claims/headlamp-type-electric.yaml"]
    assert ("decisions/dropped.yaml", f"builds “acetylene” for {FEATURE} (released), on {CLAIM} (withdrawn)") in told(
        archive, "sources", "drawing"
    )
    assert ("decisions/dropped.yaml", "was made on 2026-11-25") not in told(archive, "sources", "drawing")


def test_pairs_of_copies_stand_by_words_of_their_ruling() -> None:
    archive = an_archive(*(a_source(name) for name in "abc"), a_pair("a", "b"), a_pair("a", "c", "distinct"))

    assert told(archive, "sources", "a") == [
        ("copies/a--b.yaml", "a may be a copy of b, or the other way round"),
        ("copies/a--c.yaml", "a was ruled no copy of c, or the other way round"),
    ]


def test_what_a_source_says_of_a_whole_component_or_of_a_sign_is_named() -> None:
    signed = Option(id="gas", name="Gas", signs=(OptionSign(sign="pipe", expect=Expected.ALWAYS, source="manual"),))
    unsaid = an_option("oil", signs=["pipe"])
    mates = (Mate(mate="bracket/height", rule="equal"),)
    archive = an_archive(
        a_component(
            "headlamp", a_feature(options=(signed, unsaid), mates=mates), common_to=(common_over("all", "list"),)
        ),
        a_component("bracket", a_feature("height", kind="text"), part_of="headlamp"),
        *(a_source(name, "manual") for name in ("manual", "list")),
        a_claim("gas", an_item("letter", via="list")),
        leads={"loft": Lead(id="loft", what="a trunk", by=BY, date=TODAY, hoped_for=(FEATURE,))},
    )

    assert told(archive, "sources", "manual") == [
        ("components/headlamp.yaml", "headlamp/type: pipe is always seen with gas, says manual")
    ]
    assert told(archive, "sources", "list") == [
        ("components/headlamp.yaml", "is the same over all, says list: its verdicts may rest on that"),
        ("claims/headlamp-type-gas.yaml", "claims “gas” for headlamp/type, by way of list"),
    ]
    assert ("components/headlamp.yaml", "headlamp/type has to fit bracket/height (equal)") in told(
        archive, "features", "bracket/height"
    )
    assert ("components/bracket.yaml", "is part of headlamp") in told(archive, "components", "headlamp")
    assert ("leads/loft.yaml", f"is hoped to tell of {FEATURE}") in told(archive, "features", FEATURE)


def test_sources_that_derive_from_one_another_in_a_circle_come_to_an_end() -> None:
    archive = an_archive(a_source("a", of=["b"]), a_source("b", of=["a"]))

    assert records(told(archive, "sources", "a")) == ["sources/b.yaml", "sources/a.yaml"]


@pytest.mark.parametrize(
    ("name", "kinds"),
    [
        ("tracing", ["sources"]),
        ("sources/tracing", ["sources"]),
        ("sources/tracing.yaml", ["sources"]),
        ("tracing.yaml", []),
        (FEATURE, ["features"]),
        ("headlamp", ["components", "decisions"]),
        ("decisions/headlamp", ["decisions"]),
        ("nothing", []),
    ],
)
def test_a_thing_is_named_by_its_id_or_its_file(name: str, kinds: list[str]) -> None:
    archive = an_archive(a_source("tracing"), a_decision("headlamp"))

    assert [thing.kind for thing in things_named(archive, name)] == kinds
