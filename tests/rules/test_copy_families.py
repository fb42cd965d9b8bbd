"""What hangs together by likely copies, held against graphs of networkx."""

from dataclasses import replace
from typing import Any

import networkx as nx
import pytest
from builders import Record, a_claim, a_pair, a_source, an_archive, an_item, seen_on
from hypothesis import given, settings
from hypothesis import strategies as st
from picture_pairs import alike

from provenance.records.archive import Archive
from provenance.records.decisions import CopyPair
from provenance.records.kinds import Ruling
from provenance.rules.copy_families import Joined, Ties, open_ancestors, places_of, tied
from provenance.rules.descent import Lineage
from provenance.rules.judging import judge_feature

NAMES = tuple("abcdefgh")


def prints(names: str, *records: Record) -> Archive:
    return an_archive(*(a_source(each) for each in names), *records)


def test_a_tree_of_pairs_ties_every_two_of_its_pictures() -> None:
    ties = tied(prints("abcd", alike("a", "b"), alike("b", "c")))

    assert ties.are_tied("a", "c")
    assert not ties.are_tied("a", "d")


def test_a_pair_that_is_taken_as_on_record_ties_the_families_of_both() -> None:
    ties = tied(prints("abcd", alike("a", "b"), alike("c", "d")))
    assert not ties.are_tied("a", "d")

    ties.tie("b", "c")

    assert ties.are_tied("a", "d")
    assert {ties.family(each) for each in "abcd"} == {"a"}


@pytest.mark.parametrize("method", ["text", "by eye"])
def test_a_pair_that_was_found_otherwise_ties_its_two_sources_alone(method: str) -> None:
    ties = tied(prints("abc"))

    ties.tie("a", "b", method=method)
    ties.tie("b", "c", method=method)

    assert ties.are_tied("a", "b")
    assert ties.are_tied("b", "c")
    assert not ties.are_tied("a", "c")
    assert ties.family("c") == "a", "what stands in all three is counted once all the same"


def test_pictures_on_two_pages_of_one_book_tie_nothing_to_one_another() -> None:
    ties = tied(prints("abc", alike("a", "b", pages=(1, 4))))

    ties.tie("c", "b", pages=(1, 5))

    assert ties.are_tied("a", "b")
    assert ties.are_tied("b", "c")
    assert not ties.are_tied("a", "c")


@pytest.mark.parametrize("whole_last", [True, False])
def test_a_picture_said_to_be_like_a_whole_book_is_like_each_of_its_plates(*, whole_last: bool) -> None:
    pairs = [alike("a", "b", pages=(1, 4)), alike("c", "b")]

    ties = tied(prints("abc", *(pairs if whole_last else pairs[::-1])))

    assert ties.are_tied("a", "c")


def test_descent_ties_and_being_ruled_distinct_does_not() -> None:
    copies = [alike("a", "b", "distinct"), a_pair("a", "c", "copy")]
    ties = tied(
        an_archive(a_source("a"), a_source("b"), a_source("c", of=["print:n"]), a_source("d", of=["n"]), *copies)
    )

    assert [ties.are_tied("a", other) for other in "bcd"] == [False, True, False]
    assert ties.are_tied("c", "d")
    assert [ties.family(each) for each in "abcdn"] == ["a", "b", "a", "a", "a"]


def test_two_books_without_a_stated_origin_are_not_tied_for_that() -> None:
    ties = tied(an_archive(*(a_source(each, "book", creator="A. Writer") for each in "ab")))

    assert not ties.are_tied("a", "b")


def test_what_a_picture_may_be_a_copy_of_it_may_go_back_beyond() -> None:
    """B was printed from the negative N; whoever is like B may have been printed from it too. N and M stay apart."""
    ties = tied(an_archive(a_source("a"), a_source("b", of=["print:n", "crop:m"]), alike("a", "b")))

    assert ties.are_tied("a", "n")
    assert ties.are_tied("a", "m")
    assert not ties.are_tied("n", "m")


def test_an_item_by_way_of_one_parent_is_tied_to_no_other_parent_by_its_family() -> None:
    archive = an_archive(
        a_source("a", of=["print:k"]), a_source("b", of=["print:n", "crop:m"]), alike("a", "b"), a_pair("m", "q")
    )
    lineage = Lineage(archive)

    found = lineage.of_item(an_item("b", via="n"))

    assert not found & lineage.of_source("m")
    assert found & lineage.of_source("n")
    assert found & lineage.of_source("a")
    assert found & lineage.of_source("k"), "it may be a copy of A, and A was printed from K"


def test_pictures_ruled_to_go_back_to_a_third_go_back_to_one_and_the_same() -> None:
    ties = tied(prints("abcd", alike("a", "b", "copy"), alike("b", "c", "copy"), alike("c", "d", "copy", (2, 1))))

    assert ties.are_tied("a", "c")
    assert ties.are_tied("a", "d"), "pair c--b speaks of the whole of C"


def test_a_print_and_what_it_was_made_from_go_back_together_to_what_is_behind_its_likeness() -> None:
    """B was printed from A, which alone it was made from; B and C go back to a third: A is not independent of C."""
    made = [a_source("a"), a_source("b", of=["print:a"]), a_source("c")]

    assert tied(an_archive(*made, alike("b", "c", "copy"))).are_tied("a", "c")
    assert tied(an_archive(*made, alike("a", "b", "copy"), alike("b", "c", "copy"))).are_tied("a", "c")


def test_a_ruled_copy_passes_on_a_likeness_that_nobody_has_ruled_on_to_its_original() -> None:
    """The view is like a print of the negative, and is then ruled to be redrawn from the plate.

    So the plate is like that print too, and may be a copy of the negative, or the negative of it: one witness, until
    somebody rules that the view is not like the print.
    """
    print_of_it = a_source("print", of=["print:negative"])
    held: list[Record] = [
        a_source("plate"),
        a_source("negative"),
        print_of_it,
        a_claim("acetylene", "plate", "negative"),
    ]
    before = an_archive(*held, a_source("view"), alike("plate", "view"), alike("print", "view"))
    redrawn = a_source("view", of=["redrawn:plate"])
    after, at_last = (
        an_archive(*held, redrawn, alike("plate", "view", "copy"), alike("print", "view", ruling))
        for ruling in ("open", "distinct")
    )

    lines = [judge_feature(archive, "headlamp/type").lines for archive in (before, after, at_last)]

    assert lines == [1, 1, 2]


def test_a_montage_of_two_pictures_makes_no_copies_of_them() -> None:
    """Ruled: made from both. They have nothing in common for that."""
    album = a_source("album", of=["print:a", "print:b"])

    ties = tied(
        an_archive(a_source("a"), a_source("b"), album, alike("a", "album", "copy"), alike("album", "b", "copy"))
    )

    assert not ties.are_tied("a", "b")


def test_a_circle_of_prints_is_followed_once() -> None:
    circle = [a_source("a", of=["print:b"]), a_source("b", of=["print:a"]), a_source("c")]

    ties = tied(an_archive(*circle, alike("b", "c", "copy"), alike("a", "c")))

    assert ties.are_tied("a", "c")


def test_a_source_that_the_archive_does_not_have_ties_as_any_other() -> None:
    ties = tied(prints("ac", alike("a", "lost"), alike("lost", "c")))

    assert ties.are_tied("a", "c")
    assert not ties.are_tied("a", "nowhere")


def test_where_a_pair_names_one_place_alone_it_is_of_both_sources_as_a_whole() -> None:
    pair = alike("a", "b", pages=(3, 4))
    assert places_of(pair) == (("a", 3), ("b", 4))
    assert pair.found_by is not None

    halved = replace(pair, found_by=replace(pair.found_by, places=pair.found_by.places[:1]))

    assert places_of(halved) == places_of(a_pair("a", "b")) == (("a", None), ("b", None))


def test_open_pairs_alone_have_an_open_ancestor() -> None:
    pairs = [a_pair("a", "b"), a_pair("a", "c", "copy"), a_pair("a", "d", "distinct")]

    assert open_ancestors(pairs) == {"copy:a--b"}


two_of_them = st.tuples(st.sampled_from(NAMES), st.sampled_from(NAMES)).filter(lambda two: two[0] < two[1])


@settings(max_examples=60, deadline=None)
@given(st.lists(two_of_them, max_size=12))
def test_what_is_joined_two_by_two_is_a_connected_part_of_the_graph(edges: list[tuple[str, str]]) -> None:
    joined: Joined[str] = Joined()
    for one, other in edges:
        joined.join(one, other)
    graph: nx.Graph[str] = nx.Graph(edges)
    graph.add_nodes_from(NAMES)

    for part in nx.connected_components(graph):
        roots = {joined.root(name) for name in part}
        assert len(roots) == 1
        assert set(joined.members(roots.pop())) == part


@st.composite
def archives(draw: st.DrawFn) -> Archive:
    """Prints that were made from one another, and pairs of every ruling, with pages and without."""
    of = {
        name: draw(st.lists(st.sampled_from([each for each in NAMES if each != name]), max_size=1))
        if draw(st.integers(0, 3)) == 0
        else []
        for name in NAMES
    }
    sources = [a_source(name, of=[f"print:{parent}" for parent in parents]) for name, parents in of.items()]
    pages = st.none() | st.tuples(st.integers(1, 2), st.integers(1, 2))
    pairs: list[CopyPair] = []
    for one, other in draw(st.sets(two_of_them, max_size=7)):
        ruling = draw(st.sampled_from(("open", "open", "open", "copy", "distinct")))
        found = alike(one, other, ruling, draw(pages)) if draw(st.integers(0, 2)) else a_pair(one, other, ruling)
        pairs.append(found)
    return an_archive(*sources, *pairs)


def tied_by_graph(archive: Archive) -> set[frozenset[str]]:
    """The two that are tied: a way is drawn for each thing that may have happened, and both lead to one place.

    Rulings that two pictures go back to a third are left to the tests above: archives with such are passed over.
    """
    ways: nx.DiGraph[Any] = nx.DiGraph()
    ways.add_nodes_from(archive.sources)
    for source in archive.sources.values():
        ways.add_edges_from((source.id, parent.source) for parent in source.derives_from)
    standing = [pair for pair in archive.copies.values() if pair.ruling is not Ruling.DISTINCT]
    by_themselves = [pair for pair in standing if pair.ruling is Ruling.COPY or pair.found_by is None]
    for pair in by_themselves:
        ways.add_edges_from((each, pair.id) for each in pair.between)
    for number, family in enumerate(nx.connected_components(plates_of(standing))):
        for source in {source for source, _ in family}:
            ways.add_edge(source, number)
            ways.add_edges_from((number, parent.source) for parent in archive.sources[source].derives_from)
            ruled = [pair for pair in by_themselves if pair.ruling is Ruling.COPY and source in pair.between]
            ways.add_edges_from((number, pair.id) for pair in ruled)
    reach = {name: nx.descendants(ways, name) | {name} for name in NAMES}
    return {frozenset((one, other)) for one in NAMES for other in NAMES if one < other and reach[one] & reach[other]}


def plates_of(pairs: list[CopyPair]) -> "nx.Graph[Any]":
    """The pictures of the open pairs; the whole of a source is each of its pages."""
    plates: nx.Graph[Any] = nx.Graph()
    plates.add_edges_from(places_of(pair) for pair in pairs if pair.ruling is Ruling.OPEN and pair.found_by)
    whole = [place for place in plates if place[1] is None]
    plates.add_edges_from((place, other) for place in whole for other in list(plates) if other[0] == place[0])
    return plates


def is_without_thirds(archive: Archive) -> bool:
    ruled = [pair for pair in archive.copies.values() if pair.ruling is Ruling.COPY]
    return all(pair.found_by is None for pair in ruled)


@settings(max_examples=120, deadline=None)
@given(archives().filter(is_without_thirds))
def test_ties_are_what_a_graph_of_all_that_may_have_happened_says(archive: Archive) -> None:
    ties, lineage = tied(archive), Lineage(archive)

    found = {frozenset((one, other)) for one in NAMES for other in NAMES if one < other and ties.are_tied(one, other)}
    descents = {name: lineage.of_item(an_item(name)) for name in NAMES}

    assert found == tied_by_graph(archive)
    assert found == {
        frozenset((one, other)) for one in NAMES for other in NAMES if one < other and descents[one] & descents[other]
    }


@settings(max_examples=50, deadline=None)
@given(archives(), st.lists(st.tuples(two_of_them, st.booleans()), max_size=5))
def test_pairs_taken_one_by_one_tie_as_if_they_had_been_on_record(
    archive: Archive, more: list[tuple[tuple[str, str], bool]]
) -> None:
    pairs = {(one, other): picture for (one, other), picture in more if f"{one}--{other}" not in archive.copies}
    ties = tied(archive)
    for (one, other), picture in pairs.items():
        ties.tie(other, one, method="picture" if picture else "text")

    records = [alike(*two) if picture else a_pair(*two) for two, picture in pairs.items()]
    again: Ties = tied(replace(archive, copies={**archive.copies, **{pair.id: pair for pair in records}}))

    for one in NAMES:
        assert ties.family(one) == again.family(one)
        for other in NAMES:
            assert ties.are_tied(one, other) == again.are_tied(one, other)


@settings(max_examples=40, deadline=None)
@given(st.sets(two_of_them, max_size=12))
def test_as_many_witnesses_as_parts_of_the_graph_where_open_pairs_alone_tie(edges: set[tuple[str, str]]) -> None:
    graph: nx.Graph[str] = nx.Graph(list(edges))
    graph.add_nodes_from(NAMES)
    claim = a_claim("acetylene", *(an_item(name, "shows", seen=seen_on("9", "1934")) for name in NAMES))

    verdict = judge_feature(prints("".join(NAMES), claim, *(alike(*two) for two in sorted(edges))), claim.about)

    parts = nx.number_connected_components(graph)
    assert verdict.lines == parts
    assert (verdict.lines_if_ruled_out or parts) == len(NAMES)
