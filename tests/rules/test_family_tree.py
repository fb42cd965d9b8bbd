"""What hangs together with a source, and what a feature goes back to."""

from dataclasses import replace

import networkx as nx
import pytest
from builders import (
    FEATURE,
    a_claim,
    a_component,
    a_feature,
    a_pair,
    a_source,
    an_archive,
    an_item,
    common_over,
    seen_on,
)
from hypothesis import given
from hypothesis import strategies as st

from provenance.records.archive import Archive
from provenance.records.decisions import CopyPair, FoundBy
from provenance.records.kinds import Derivation
from provenance.records.sources import Within
from provenance.rules.family_tree import FamilyTree, Link, Tie, family_behind, family_of, nearest_first
from provenance.rules.judging import judge_feature
from provenance.rules.verdicts import JudgedItem


def ends(tree: FamilyTree) -> list[tuple[str, str]]:
    return [(link.later, link.earlier) for link in tree.links]


def between(pairs: tuple[CopyPair, ...]) -> list[tuple[str, str]]:
    return [pair.between for pair in pairs]


def supporting(archive: Archive) -> tuple[JudgedItem, ...]:
    best = judge_feature(archive, FEATURE).best
    assert best is not None
    return best.supporting


def behind(archive: Archive) -> FamilyTree:
    return family_behind(archive, supporting(archive))


def a_picture_pair(one: str, other: str) -> CopyPair:
    return replace(a_pair(one, other), found_by=FoundBy(method="picture"))


def test_a_family_is_what_a_source_was_made_from_and_what_was_made_from_it_and_no_others() -> None:
    archive = an_archive(
        a_source("negative", created="1934"),
        a_source("print", of=["print:negative"], created="1950"),
        a_source("part", of=["crop:print"], created="1960"),
        a_source("other-print", of=["print:negative"]),
        a_source("leaf", within=Within(source="print")),
    )

    tree = family_of(archive, "print")

    assert tree.members == ("negative", "print", "part")
    assert ends(tree) == [("print", "negative"), ("part", "print")]
    assert (tree.behind, tree.after) == (frozenset({"negative"}), frozenset({"part"}))


def test_how_it_was_made_and_the_note_stand_on_the_link() -> None:
    source = a_source("print", of=["print:negative"])
    noted = replace(source, derives_from=(replace(source.derives_from[0], note="the crease is on it"),))

    (link,) = family_of(an_archive(a_source("negative"), noted), "print").links

    assert link == Link(later="print", earlier="negative", how=Derivation.PRINT, note="the crease is on it")


def test_a_source_that_was_made_in_two_ways_from_one_has_two_links() -> None:
    archive = an_archive(a_source("book", "book"), a_source("essay", "book", of=["extract:book", "cites:book"]))

    assert [link.how for link in family_of(archive, "book").links] == [Derivation.CITES, Derivation.EXTRACT]


def test_what_a_source_was_made_from_and_is_not_there_is_passed_over() -> None:
    assert family_of(an_archive(a_source("print", of=["lost"])), "print") == FamilyTree(members=("print",))


def test_likely_copies_of_any_of_the_family_belong_to_it_and_pairs_among_them_too() -> None:
    archive = an_archive(
        a_source("negative", created="1934"),
        a_source("print", of=["print:negative"]),
        a_source("card"),
        a_source("poster"),
        a_source("far"),
        a_pair("card", "negative"),
        a_pair("poster", "print", "copy"),
        a_pair("card", "poster"),
        a_pair("card", "far"),
    )

    tree = family_of(archive, "print")

    assert set(tree.members) == {"negative", "print", "card", "poster"}
    assert between(tree.pairs) == [("card", "negative"), ("card", "poster"), ("poster", "print")]
    assert tree.behind | tree.after == {"negative"}


def test_pairs_that_were_ruled_out_are_told_of_the_source_itself_alone() -> None:
    archive = an_archive(
        a_source("negative"),
        a_source("print", of=["print:negative"]),
        a_source("card"),
        a_source("part", of=["crop:print"]),
        a_pair("card", "print", "distinct"),
        a_pair("card", "negative", "distinct"),
        a_pair("negative", "part", "distinct"),
    )

    tree = family_of(archive, "print")

    assert set(tree.members) == {"negative", "print", "part"}
    assert between(tree.ruled_out) == [("card", "print")]
    assert tree.pairs == ()


@pytest.mark.parametrize("ruling", ["open", "copy", "distinct"])
def test_a_pair_of_which_the_one_is_entered_as_made_from_the_other_stands_on_that_link(ruling: str) -> None:
    pair = a_pair("negative", "print", ruling)
    archive = an_archive(a_source("negative"), a_source("print", of=["print:negative"]), pair)

    tree = family_of(archive, "print")

    assert tree.links[0].pair == pair
    assert (tree.pairs, tree.ruled_out) == ((), ())


def test_a_circle_is_told_and_its_sources_are_both_behind_and_after() -> None:
    archive = an_archive(
        a_source("a", of=["print:b"], created="1930"), a_source("b", of=["print:c"]), a_source("c", of=["print:a"])
    )

    tree = family_of(archive, "b")

    assert tree.circles == (("a", "c", "b"),)
    assert tree.behind == tree.after == {"a", "c"}
    assert len(tree.links) == 3


def test_a_person_behind_the_source_and_behind_another_ties_the_two() -> None:
    archive = an_archive(
        a_source("letter", "letter", creator="Tom"),
        a_source("typed", "letter", of=["transcription:letter"]),
        a_source("tape", "oral-history", creator="Tom"),
        a_source("notes", "notes", creator="Ann", of=["typed"]),
        a_source("diary", "notes", creator="Ann", origin_stated=True),
    )

    assert family_of(archive, "typed").ties == (Tie(origin="witness:Tom", sources=("letter",), others=("tape",)),)


def test_a_person_twice_in_the_family_ties_these_and_names_others_only_behind_the_source() -> None:
    archive = an_archive(
        a_source("letter", "letter", created="1930"),
        a_source("book", "book", creator="Tom", of=["letter"], created="1950"),
        a_source("second", "book", creator="Tom", of=["letter"], created="1960"),
        a_source("tape", "oral-history", creator="Tom"),
    )

    assert family_of(archive, "letter").ties == (Tie(origin="witness:Tom", sources=("book", "second")),)
    assert family_of(archive, "second").ties == (
        Tie(origin="witness:Tom", sources=("second",), others=("book", "tape")),
    )


def test_accounts_that_name_no_origin_are_tied_by_the_one_that_nobody_named() -> None:
    archive = an_archive(a_source("b", "book"), a_source("a", "book"), a_source("c", "book", origin_stated=True))

    assert family_of(archive, "b").ties == (Tie(origin="*unstated*", sources=("b",), others=("a",)),)
    assert family_of(archive, "c").ties == ()


def test_a_feature_goes_back_to_its_items_of_weight_and_all_behind_them() -> None:
    archive = an_archive(
        a_source("ledger", "logbook", created="1930"),
        a_source("letter", "letter", of=["ledger"], created="1962"),
        a_source("book", "book", of=["ledger"], created="1970"),
        a_source("offprint", "book", of=["book"]),
        a_claim("acetylene", "letter", "book"),
    )

    tree = behind(archive)

    assert tree.members == ("ledger", "letter", "book")
    assert ends(tree) == [("letter", "ledger"), ("book", "ledger")]
    assert tree.ties == ()


def test_an_item_by_way_of_one_parent_brings_in_that_parent_alone() -> None:
    archive = an_archive(
        a_source("drawing", "drawing"),
        a_source("letter", "letter"),
        a_source("book", "book", of=["drawing", "letter"]),
        a_claim("acetylene", an_item("book", via="drawing")),
    )

    assert behind(archive).members == ("drawing", "book")


def test_what_counts_on_the_word_of_another_source_is_led_to_it_and_not_to_what_that_goes_back_to() -> None:
    archive = an_archive(
        a_source("order", "letter"),
        a_source("handbook", "manual", of=["order"]),
        a_source("photo"),
        a_component("headlamp", a_feature(), common_to=(common_over("9..11", "handbook"),)),
        a_claim("acetylene", an_item("photo", "shows", seen=seen_on("10"))),
    )

    tree = behind(archive)

    assert Link(later="photo", earlier="handbook", how=None) in tree.links
    assert ends(tree) == [("handbook", "order"), ("photo", "handbook")]


def test_two_tapes_of_one_speaker_are_tied_by_who_speaks_and_not_by_who_recorded() -> None:
    archive = an_archive(
        a_source("tape-1", "oral-history", creator="Ann"),
        a_source("tape-2", "oral-history", creator="Ben"),
        a_claim("acetylene", an_item("tape-1", who="Tom"), an_item("tape-2", who="Tom")),
    )

    assert behind(archive).ties == (Tie(origin="witness:Tom", sources=("tape-1", "tape-2")),)


def test_a_pair_of_two_that_are_cited_is_drawn_as_a_pair_and_is_no_tie_besides() -> None:
    archive = an_archive(a_pair("card", "photo"), a_claim("acetylene", "card", "photo"))

    tree = behind(archive)

    assert between(tree.pairs) == [("card", "photo")]
    assert tree.ties == ()


def test_two_that_look_alike_only_by_way_of_a_third_that_is_not_cited_are_tied() -> None:
    archive = an_archive(
        a_source("card"),
        a_picture_pair("card", "photo"),
        a_picture_pair("card", "poster"),
        a_claim("acetylene", "photo", "poster"),
    )

    (tie,) = behind(archive).ties

    assert tie.origin.startswith("copy:")
    assert tie.sources == ("photo", "poster")


def test_what_lies_nearest_to_the_farthest_item_comes_first() -> None:
    """The ledger lies one step behind both, the notes two steps; who wrote the ledger's source stands behind them."""
    archive = an_archive(
        a_source("notes", "notes", creator="Tom"),
        a_source("ledger", "logbook", of=["notes"]),
        a_source("letter", "letter", of=["ledger"]),
        a_source("book", "book", of=["ledger"]),
        a_claim("acetylene", "letter", "book"),
    )
    items = supporting(archive)
    verdict = judge_feature(archive, FEATURE)

    assert verdict.rests_on == ("ledger", "notes", "*unstated*", "witness:Tom")
    assert nearest_first(archive, verdict.rests_on, items) == ("ledger", "notes", "*unstated*", "witness:Tom")


def test_of_one_source_alone_that_source_comes_before_what_it_was_made_from_and_before_its_writer() -> None:
    archive = an_archive(
        a_source("a-ledger", "logbook"),
        a_source("letter", "letter", of=["a-ledger"], creator="Tom"),
        a_claim("acetylene", "letter"),
    )

    named = nearest_first(archive, ["a-ledger", "letter", "witness:Tom"], supporting(archive))

    assert named == ("letter", "witness:Tom", "a-ledger")


def test_who_speaks_and_what_a_source_counts_on_stand_near() -> None:
    archive = an_archive(
        a_source("handbook", "manual"),
        a_source("tape", "oral-history", creator="Ann"),
        a_component("headlamp", a_feature(), common_to=(common_over("9..11", "handbook"),)),
        a_claim("acetylene", an_item("tape", who="Tom", seen=seen_on("10"))),
    )

    named = nearest_first(archive, ["handbook", "witness:Tom", "tape"], supporting(archive))

    assert named == ("tape", "witness:Tom", "handbook")


edges = st.lists(st.tuples(st.integers(0, 9), st.integers(0, 9)), max_size=20)


@given(edges, st.integers(0, 9))
def test_a_family_is_what_can_be_reached_up_and_down_the_graph(made: list[tuple[int, int]], asked: int) -> None:
    parents = {later: sorted({earlier for one, earlier in made if one == later}) for later in range(10)}
    archive = an_archive(
        *(a_source(f"s{later}", "drawing", of=[f"s{each}" for each in of]) for later, of in parents.items())
    )
    graph = nx.DiGraph([(later, earlier) for later, of in parents.items() for earlier in of])
    graph.add_nodes_from(range(10))

    tree = family_of(archive, f"s{asked}")

    up, down = nx.descendants(graph, asked), nx.ancestors(graph, asked)
    assert tree.behind == {f"s{each}" for each in up - {asked}}
    assert tree.after == {f"s{each}" for each in down - {asked}}
    assert set(tree.members) == {f"s{each}" for each in {asked, *up, *down}}
    drawn = graph.subgraph({asked, *up, *down})
    assert set(ends(tree)) == {(f"s{later}", f"s{earlier}") for later, earlier in drawn.edges}
