from typing import Any

import pytest
from builders import a_pair, a_source, an_archive, an_item

from provenance.records.sources import Within
from provenance.rules.descent import Lineage, in_order, rests_on

BARE = frozenset({"find"})


def descent(*records: Any, **item: Any) -> frozenset[str]:
    return Lineage(an_archive(*records)).of_item(an_item("find", **item))


def test_an_item_goes_back_to_its_source_and_all_that_the_source_was_made_from() -> None:
    drawing, tracing = (
        a_source("works-drawing", "drawing"),
        a_source("tracing", "drawing", of=["redrawn:works-drawing"]),
    )
    find = a_source("find", "drawing", of=["print:tracing", "measured-from:part"])

    assert descent(drawing, tracing, find) == {"find", "tracing", "works-drawing", "part"}


def test_with_via_it_goes_back_through_that_parent_alone() -> None:
    find = a_source("find", "manual", of=["cites:drawing", "cites:letter"])
    letter = a_source("letter", "letter", creator="A. Fitter", of=["cites:ledger"])

    assert descent(find, letter, via="letter") == {"find", "letter", "ledger", "witness:A. Fitter"}


def test_a_circle_of_copies_goes_back_to_all_of_itself() -> None:
    sources = [a_source("find", "drawing", of=["print:other"]), a_source("other", "drawing", of=["print:find"])]

    assert descent(*sources) == {"find", "other"}
    assert descent(*sources, via="other") == {"find", "other"}


def test_being_kept_in_an_album_is_no_descent() -> None:
    assert descent(a_source("find", within=Within(source="album"))) == BARE


@pytest.mark.parametrize(
    ("kind", "fields", "unstated"),
    [
        ("book", {}, True), ("website", {}, True), ("newspaper", {}, True), ("notes", {}, True),
        ("book", {"origin_stated": True}, False), ("book", {"of": ["cites:ledger"]}, False),
        ("letter", {}, False), ("drawing", {}, False),
    ],
)  # fmt: skip
def test_secondary_accounts_that_do_not_say_where_they_have_it_share_an_unnamed_origin(
    kind: str, fields: dict[str, Any], *, unstated: bool
) -> None:
    assert ("*unstated*" in descent(a_source("find", kind, **fields))) is unstated


def test_the_unnamed_origin_of_a_parent_is_inherited() -> None:
    assert "*unstated*" in descent(a_source("find", "manual", of=["cites:book"]), a_source("book", "book"))


@pytest.mark.parametrize(
    ("kind", "witness"),
    [
        ("letter", True), ("notes", True), ("oral-history", True), ("opinion", True), ("book", True), ("website", True),
        ("newspaper", False), ("report", False), ("drawing", False), ("photograph", False),
    ],
)  # fmt: skip
def test_who_told_it_stands_behind_an_account(kind: str, *, witness: bool) -> None:
    assert ("witness:A. Fitter" in descent(a_source("find", kind, creator="A. Fitter", origin_stated=True))) is witness


@pytest.mark.parametrize("creator", [None, "unknown"])
def test_an_unknown_creator_is_no_witness(creator: str | None) -> None:
    assert descent(a_source("find", "letter", creator=creator)) == BARE


def test_a_person_of_the_team_is_the_same_witness_by_id_and_by_name() -> None:
    assert descent(a_source("find", "letter", creator="mh")) == descent(a_source("find", "letter", creator="Mary Holt"))


def test_who_speaks_at_the_place_goes_before_the_creator_of_the_items_own_source() -> None:
    tape = a_source("find", "oral-history", creator="The Interviewer", of=["cites:letter"])
    letter = a_source("letter", "letter", creator="The Interviewer")

    assert descent(tape, who="A. Fitter") == {"find", "letter", "witness:A. Fitter"}
    assert descent(tape, letter, who="A. Fitter") == {"find", "letter", "witness:A. Fitter", "witness:The Interviewer"}
    assert descent(tape, who="unknown") == {"find", "letter"}


@pytest.mark.parametrize(
    "how", ["facsimile", "print", "crop", "scan", "recording", "transcription", "translation", "enhanced"]
)
def test_who_copied_an_account_is_no_witness(how: str) -> None:
    assert descent(a_source("find", "letter", creator="The Clerk", of=[f"{how}:letter"])) == {"find", "letter"}


def test_who_speaks_in_a_transcript_is_a_witness_though_its_clerk_is_none() -> None:
    transcript = a_source("find", "oral-history", creator="The Clerk", of=["transcription:tape"])

    assert descent(transcript, who="A. Fitter") == {"find", "tape", "witness:A. Fitter"}
    assert descent(transcript, who="unknown") == {"find", "tape"}


@pytest.mark.parametrize("how", ["extract", "cites", "redrawn", "cast", "measured-from", "scaled-from"])
def test_who_worked_from_another_source_is_a_witness_too(how: str) -> None:
    assert "witness:The Clerk" in descent(a_source("find", "letter", creator="The Clerk", of=[f"{how}:letter"]))


def test_pictures_by_one_creator_on_one_occasion_share_a_witness() -> None:
    roll = {"creator": "A. Lens", "occasion": "visit of 1931"}

    assert descent(a_source("find", "photograph", **roll)) == {"find", "witness:A. Lens, visit of 1931"}
    assert descent(a_source("find", "film", creator="A. Lens")) == BARE
    assert descent(a_source("find", "artwork", occasion="visit of 1931")) == BARE


@pytest.mark.parametrize(("ruling", "shared"), [("open", True), ("copy", True), ("distinct", False)])
def test_likely_copies_share_an_ancestor_until_they_are_ruled_distinct(ruling: str, *, shared: bool) -> None:
    lineage = Lineage(an_archive(a_source("find"), a_source("other"), a_pair("find", "other", ruling)))

    common = lineage.of_item(an_item("find")) & lineage.of_item(an_item("other"))

    assert common == ({"copy:find--other"} if shared else frozenset())
    assert bool(lineage.open_pairs) is (ruling == "open")


def test_a_source_that_joins_brings_all_that_it_goes_back_to() -> None:
    lineage = Lineage(an_archive(a_source("find"), a_source("stores-list", "book", of=["cites:ledger"])))

    assert lineage.of_item(an_item("find"), "stores-list") == {"find", "stores-list", "ledger"}


def test_a_value_rests_on_what_all_of_its_items_go_back_to() -> None:
    common = frozenset({"witness:A. Fitter", "*unstated*", "ledger", "album", "copy:a--b"})

    assert rests_on([common | {"x"}, common | {"y"}]) == ("album", "ledger", "*unstated*", "witness:A. Fitter")
    assert rests_on([]) == ()


def test_a_pair_of_likely_copies_comes_last_in_order() -> None:
    names = ["copy:a--b", "witness:A", "*unstated*", "zebra"]

    assert sorted(names, key=in_order) == ["zebra", "*unstated*", "witness:A", "copy:a--b"]
