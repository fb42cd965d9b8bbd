from dataclasses import replace

import pytest
from builders import (
    BY,
    TODAY,
    a_claim,
    a_component,
    a_decision,
    a_feature,
    a_source,
    an_archive,
    an_item,
    applies,
    seen_on,
)
from public_archives import an_archive_that_holds_back, an_open_source, leaked, texts_in
from reports.registers import an_archive_with_everything, feature_rows, the_features

from provenance.records.archive import Archive
from provenance.records.decisions import ModernChange, Query
from provenance.records.kinds import Access, SourceKind
from provenance.reports.registers import FeatureRow
from provenance.reports.registers_features import CLASSES, parts_in_order

TYPE = "headlamp/type"


def an_archive_seen_in(kind: str, how: str = "states", **fields: object) -> Archive:
    """The head lamp's type rests on one open source of that kind."""
    item = an_item("s", how, seen=seen_on("9") if how in {"shows", "measured"} else None)
    return an_archive(an_open_source("s", kind, **fields), a_claim("electric", item))


def test_each_field_of_a_feature_stands_in_its_row_in_words() -> None:
    rows = feature_rows(an_archive_with_everything("so"))

    assert rows["headlamp/lagging"] == FeatureRow(
        number=3,
        record="headlamp/lagging",
        part="Headlamp so",
        part_of="Cab so",
        feature="Lagging so",
        aspect="material",
        made_as="newly made, after the evidence",
        value="",
        grade="unsupported",
        witnesses="0",
        chance="",
        evidence="",
        declared="modern change for safety: so; the new part is marked: R9",
        built="so",
        made="February 2026",
        confidence="",
        hazards="asbestos",
    )
    lamp = rows[TYPE]
    assert (lamp.value, lamp.grade, lamp.witnesses) == ("Electric", "uncorroborated", "1")
    assert lamp.chance.endswith("chances in 100")
    assert lamp.evidence == "pictorial, an unbuilt design"


def test_parts_stand_in_the_order_of_their_tree_and_features_as_their_part_lists_them() -> None:
    parts = [
        a_component("zebra", a_feature("b", "text"), a_feature("a", "text")),
        a_component("car", a_feature("x", "text")),
        a_component("axle", a_feature("x", "text"), part_of="car"),
        a_component("bearing", a_feature("x", "text"), part_of="axle"),
        a_component("buffer", a_feature("x", "text"), part_of="car"),
    ]

    rows = the_features(an_archive(*parts)).rows

    expected = ["car/x", "axle/x", "bearing/x", "buffer/x", "zebra/b", "zebra/a"]
    assert [(row.number, row.record) for row in rows] == list(enumerate(expected, 1))


def test_a_part_of_what_is_not_there_stands_with_those_that_belong_to_nothing() -> None:
    parts = {each.id: each for each in (a_component("b", part_of="lost"), a_component("a"))}

    assert [part.id for part in parts_in_order(parts)] == ["a", "b"]


@pytest.mark.parametrize("depth", [5000])
def test_a_tree_of_parts_may_be_as_deep_as_it_likes(depth: int) -> None:
    parts = {
        f"p{number:05}": a_component(f"p{number:05}", part_of=f"p{number - 1:05}" if number else None)
        for number in range(depth)
    }

    assert [part.id for part in parts_in_order(parts)] == sorted(parts)


@pytest.mark.parametrize(
    ("kind", "how", "expected"),
    [
        ("artefact", "measured", "physical"),
        ("survey", "states", "physical"),
        ("photograph", "shows", "pictorial"),
        ("manual", "states", "documentary"),
        ("newspaper", "states", "documentary"),
        ("oral-history", "states", "told"),
        ("opinion", "states", "told"),
    ],
)
def test_the_class_of_the_evidence_behind_a_value_is_told(kind: str, how: str, expected: str) -> None:
    assert feature_rows(an_archive_seen_in(kind, how))[TYPE].evidence == expected


@pytest.mark.parametrize("kind", SourceKind)
def test_every_kind_of_source_has_one_class(kind: SourceKind) -> None:
    assert feature_rows(an_archive_seen_in(kind.value))[TYPE].evidence in CLASSES


def test_a_value_known_of_another_machine_is_declared_to_be_known_by_comparison() -> None:
    item = an_item("s", "shows", seen=seen_on("3"))
    archive = an_archive(an_open_source("s"), a_claim("electric", item, to=applies("3")))

    row = feature_rows(archive)[TYPE]

    assert row.grade == "inferred"
    assert row.evidence == "pictorial, all by comparison with another machine"
    assert row.declared == "inferred by comparison with another machine"


def test_what_is_known_of_a_sister_in_part_is_said_to_be_so() -> None:
    """No. 10 is of the same batch as No. 9."""
    sister = an_item("piece", "measured", seen=seen_on("10"))
    archive = an_archive(
        an_open_source("piece", "artefact"),
        an_open_source("book", "manual"),
        a_claim("electric", sister, an_item("book"), to="9..10"),
    )

    row = feature_rows(archive)[TYPE]

    assert row.evidence == "physical, documentary, in part by comparison with another machine"


def test_a_design_that_was_never_built_is_told_of_and_counts_for_nothing() -> None:
    row = feature_rows(an_archive_seen_in("drawing", executed=False))[TYPE]

    assert (row.grade, row.evidence) == ("unsupported", "an unbuilt design")
    assert row.declared == "conjecture: nothing that can be shown here supports any answer"


def test_what_is_built_without_support_is_declared_to_be_conjecture() -> None:
    archive = an_archive(an_open_source("s"), a_claim("electric", "s"), a_decision(build="oil"))

    row = feature_rows(archive)[TYPE]

    assert (row.value, row.built) == ("Electric", "oil")
    assert row.declared == "conjecture: nothing that can be shown here supports what is built"


def test_a_departure_for_the_present_day_is_declared_beside_what_the_evidence_speaks_for() -> None:
    changed = a_decision(build="glow worms", modern_change=ModernChange(reason="regulation", note="no flame."))
    archive = an_archive(an_open_source("s"), a_claim("electric", "s"), changed)

    row = feature_rows(archive)[TYPE]

    assert row.declared == "modern change because the law of today asks for it: no flame"
    assert (row.value, row.built) == ("Electric", "glow worms")


def test_nothing_is_declared_of_a_part_that_is_not_shown() -> None:
    assert feature_rows(an_archive(a_component(made_as="not-represented")))[TYPE].declared == ""
    assert feature_rows(an_archive())[TYPE].declared.startswith("conjecture")


def test_that_something_is_in_doubt_is_declared_and_not_what() -> None:
    query = Query(id="q", about=TYPE, by=BY, date=TODAY, grounds="Miss Secret says so")
    archive = replace(an_archive_seen_in("manual"), queries={"q": query})

    row = feature_rows(archive)[TYPE]

    assert row.declared == "in doubt: a question about it has not been answered yet"
    assert not any("Secret" in text for text in texts_in(row))


def test_what_the_public_is_not_shown_is_told_of_and_no_more() -> None:
    archive = an_archive_that_holds_back()

    register = the_features(archive)

    lamp = next(row for row in register.rows if row.record == TYPE)
    assert "A source held privately supports this too." in lamp.confidence
    assert leaked(texts_in(register)) == set()


def test_a_proposal_is_the_teams_own() -> None:
    rows = feature_rows(an_archive(a_decision(status="proposed", build="oil")))

    assert rows[TYPE].built == ""


def test_a_feature_that_closed_sources_alone_know_is_unsupported_in_public() -> None:
    archive = an_archive(a_source("s", access=Access.CLOSED), a_claim("electric", "s"))

    assert feature_rows(archive)[TYPE].value == ""


def test_only_grades_that_rows_have_are_explained() -> None:
    """The value that is outweighed stands in no row."""
    photo = an_item("photo", "shows", seen=seen_on("9"), page=1)
    archive = an_archive(
        an_open_source("photo", created="1934"),
        an_open_source("tale", "oral-history", created="1990"),
        a_claim("electric", photo),
        a_claim("oil", "tale"),
    )

    register = the_features(archive)
    meanings = dict(register.head.meanings)

    assert register.rows[0].grade in meanings
    assert {"established", "outweighed"} & meanings.keys() == set()
    assert set(CLASSES) <= meanings.keys()


def test_an_archive_without_features_has_an_empty_register() -> None:
    register = the_features(replace(an_archive(), components={}))

    assert register.rows == ()
    assert "It lists no features of no parts." in register.head.about
