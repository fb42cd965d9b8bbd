from itertools import combinations

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from provenance.rules.independence import conflicts_of, count_lines
from provenance.rules.independent_sets import HeaviestSets, connected_parts, members, pivot


def graph(size: int, edges: set[tuple[int, int]]) -> list[int]:
    closed = [1 << number for number in range(size)]
    for one, other in edges:
        closed[one] |= 1 << other
        closed[other] |= 1 << one
    return closed


@st.composite
def graphs(draw: st.DrawFn, most: int = 14) -> list[int]:
    size = draw(st.integers(1, most))
    pairs = list(combinations(range(size), 2))
    return graph(size, draw(st.sets(st.sampled_from(pairs))) if pairs else set())


def complement(closed: list[int], weights: list[int] | None = None) -> "nx.Graph[int]":
    beside: nx.Graph[int] = nx.Graph()
    for number in range(len(closed)):
        beside.add_node(number, weight=weights[number] if weights else 1)
    beside.add_edges_from(
        (one, other) for one, other in combinations(range(len(closed)), 2) if not closed[one] >> other & 1
    )
    return beside


@given(graphs())
def test_lines_are_the_largest_clique_of_the_complement(closed: list[int]) -> None:
    """Against networkx 3.6 `max_weight_clique` on the graph of who is independent of whom."""
    _, lines = nx.max_weight_clique(complement(closed), weight=None)

    assert count_lines(closed) == lines


@settings(max_examples=150)
@given(graphs(), st.data())
def test_the_heaviest_set_is_the_heaviest_clique_of_the_complement(closed: list[int], data: st.DataObject) -> None:
    weights = data.draw(st.lists(st.integers(1, 16), min_size=len(closed), max_size=len(closed)))
    _, expected = nx.max_weight_clique(complement(closed, weights))

    weight, chosen = HeaviestSets(closed, [float(each) for each in weights]).heaviest((1 << len(closed)) - 1)

    assert weight == expected
    assert sum(weights[number] for number in members(chosen)) == expected
    assert all(closed[number] & chosen == 1 << number for number in members(chosen))


def test_thirty_circles_of_five_behind_one_book_that_used_them_all_are_sixty_lines() -> None:
    """A circle of five holds two independent items (C5), and the book conflicts with all 150: 30 x 2."""
    edges = {(5 * ring + spot, 5 * ring + (spot + 1) % 5) for ring in range(30) for spot in range(5)}

    closed = graph(151, edges | {(150, number) for number in range(150)})

    assert count_lines(closed) == 60


def test_a_chain_of_a_thousand_neighbours_counts_every_second() -> None:
    assert count_lines(graph(1000, {(number, number + 1) for number in range(999)})) == 500


def test_no_items_are_no_lines_and_no_descents_no_conflicts() -> None:
    assert conflicts_of([]) == ()
    assert count_lines([]) == 0


def test_items_conflict_where_their_descents_have_anything_in_common() -> None:
    closed = conflicts_of([frozenset("ab"), frozenset("bc"), frozenset("cd"), frozenset("e")])

    assert closed == (0b0011, 0b0111, 0b0110, 0b1000)


def test_parts_have_no_conflict_with_one_another() -> None:
    assert connected_parts(0b11111, graph(5, {(0, 3), (1, 2)})) == [0b01001, 0b00110, 0b10000]


def test_the_search_branches_on_the_item_with_most_conflicts() -> None:
    assert pivot(0b11111, graph(5, {(0, 3), (1, 3), (2, 4)})) == 3


def test_where_every_source_has_one_parent_lines_are_the_vertex_disjoint_paths() -> None:
    """Menger (1927), networkx `node_connectivity`: origin -> roots -> copies -> claim, so that no end is adjacent.

    Three roots; the drawing has two tracings, one of them a print: items from the two tracings, the print, the
    photograph and the letter go back to three roots.
    """
    parents = {"tracing": "drawing", "second tracing": "drawing", "print": "tracing"}
    cited = ["tracing", "second tracing", "print", "photograph", "letter"]
    paths: nx.DiGraph[str] = nx.DiGraph()
    for source in ("drawing", "photograph", "letter", *parents):
        paths.add_edge(parents.get(source, "origin"), source)
    for source in cited:
        paths.add_edge(source, f"item {source}")
        paths.add_edge(f"item {source}", "claim")

    def descent(source: str) -> frozenset[str]:
        return frozenset({source}) | (descent(parents[source]) if source in parents else frozenset())

    assert nx.node_connectivity(paths, "origin", "claim") == 3
    assert count_lines(conflicts_of([descent(source) for source in cited])) == 3


@given(st.lists(st.integers(0, 8), min_size=1, max_size=9), st.data())
def test_lines_equal_vertex_disjoint_paths_on_any_forest(picks: list[int], data: st.DataObject) -> None:
    """The same, on forests of any shape; sources are numbered, each one's parent comes before it."""
    parent = [
        data.draw(st.integers(-1, number - 1), label=f"parent of {number}") if number else -1 for number in range(9)
    ]
    paths: nx.DiGraph[str] = nx.DiGraph()
    for number in range(9):
        paths.add_edge(f"source {parent[number]}" if parent[number] >= 0 else "origin", f"source {number}")
    for place, number in enumerate(picks):
        paths.add_edge(f"source {number}", f"item {place}")
        paths.add_edge(f"item {place}", "claim")

    def descent(number: int) -> frozenset[str]:
        return frozenset({str(number)}) | (descent(parent[number]) if parent[number] >= 0 else frozenset())

    lines = count_lines(conflicts_of([descent(number) for number in picks]))

    assert lines == nx.node_connectivity(paths, "origin", "claim")


def test_rays_together_outweigh_a_lighter_hub() -> None:
    """A star of three: the hub weighs 5, its rays 2 each, so the rays win with 6; a hub of 7 would win."""
    closed = graph(4, {(0, 1), (0, 2), (0, 3)})

    weight, chosen = HeaviestSets(closed, [5.0, 2.0, 2.0, 2.0]).heaviest(0b1111)

    assert (weight, chosen) == (6.0, 0b1110)
    assert HeaviestSets(closed, [7.0, 2.0, 2.0, 2.0]).heaviest(0b1111) == (7.0, 0b0001)
    assert HeaviestSets(closed, [7.0, 2.0, 2.0, 2.0]).heaviest(0) == pytest.approx((0.0, 0))
