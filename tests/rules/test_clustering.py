from collections.abc import Sequence
from fractions import Fraction
from itertools import combinations

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from provenance.rules.clustering import Uncertain, gather


def uncertain(value: float | str, standard: float | str) -> Uncertain:
    return Uncertain(Fraction(value), Fraction(standard) ** 2)


def by_all_pairs(figures: Sequence[Uncertain]) -> set[frozenset[int]]:
    """Hold every figure against every other, and let networkx find what hangs together."""
    graph: nx.Graph[int] = nx.Graph()
    graph.add_nodes_from(range(len(figures)))
    for one, other in combinations(range(len(figures)), 2):
        distance = figures[one].value - figures[other].value
        if distance**2 <= 4 * (figures[one].variance + figures[other].variance):
            graph.add_edge(one, other)
    return {frozenset(part) for part in nx.connected_components(graph)}


SMALL = st.builds(
    Uncertain,
    st.builds(Fraction, st.integers(-60, 60), st.sampled_from([1, 2, 3])),
    st.builds(Fraction, st.sampled_from([0, 1, 2, 4, 9, 25, 100]), st.sampled_from([3, 4, 16])),
)


@settings(max_examples=300)
@given(st.lists(SMALL, max_size=14))
def test_clusters_are_what_holding_every_figure_against_every_other_finds(figures: list[Uncertain]) -> None:
    found = gather(figures)

    assert {frozenset(cluster) for cluster in found} == by_all_pairs(figures)
    assert sum(map(len, found)) == len(figures)


@settings(max_examples=10)
@given(st.lists(SMALL, min_size=60, max_size=120))
def test_so_do_those_of_many_figures(figures: list[Uncertain]) -> None:
    assert {frozenset(cluster) for cluster in gather(figures)} == by_all_pairs(figures)


def test_no_figure_makes_no_cluster() -> None:
    assert gather([]) == []


@pytest.mark.parametrize(("other", "clusters"), [("1010", [[0, 1]]), ("1010.000001", [[0], [1]])])
def test_twice_the_root_of_both_variances_is_just_within_reach(other: str, clusters: list[list[int]]) -> None:
    """By hand: 2 sqrt(3^2 + 4^2) = 10."""
    assert gather([uncertain("1000", 3), uncertain(other, 4)]) == clusters


def test_a_row_of_near_figures_hangs_together_from_end_to_end() -> None:
    """Each is 2.8 from the next, within 2 sqrt 2; the ends are 8.4 apart."""
    assert gather([uncertain(value, 1) for value in ("8.4", "0", "5.6", "2.8")]) == [[1, 3, 2, 0]]


def test_unsure_figures_join_across_a_sure_one_that_neither_neighbour_reaches() -> None:
    """0 and 2.8, good to 1, reach one another; .7 reaches only the first, 2.1 only the last, and neither the other."""
    figures = [uncertain("0", 1), uncertain("0.7", 0), uncertain("2.1", 0), uncertain("2.8", 1)]

    assert gather(figures) == [[0, 1, 2, 3]]
    assert gather(figures[:3]) == [[0, 1], [2]]


def test_equal_figures_are_together_however_sure_each_is() -> None:
    assert gather([uncertain("5", 0), uncertain("5", 0), uncertain("6", 0)]) == [[0, 1], [2]]


def test_thousands_of_figures_are_gathered_without_holding_each_against_each() -> None:
    """A staircase of ever wider figures, all in one; and as many that are sure and apart."""
    wide = [Uncertain(Fraction(number), Fraction(number * number, 3)) for number in range(3_000)]
    sure = [Uncertain(Fraction(number), Fraction(1, 100)) for number in range(3_000)]

    assert len(gather(wide)) == 1  # already the first step of 1 is within 2 sqrt(1/3)
    assert len(gather(sure)) == 3_000
