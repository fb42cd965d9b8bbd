"""A hundred features whose items overlap densely (named in `bench.hard_descents`), exact against networkx 3.6."""

from collections.abc import Iterable
from itertools import combinations

import networkx as nx
import pytest
from bench.hard_descents import HardCase, complement, hard_cases

from provenance.rules.carrying_over import carry_over
from provenance.rules.independence import count_lines
from provenance.rules.weightiest_set import weightiest_set

CASES = {case.name: case for case in hard_cases()}
STANDARD = (1.0, 0.98, 0.9, 0.75, 0.6)
HUNDREDTHS = 100
TOO_MANY_TO_LIST = {
    "Les Miserables",
    "binary tree of 63",
    "chain of 60",
    "circulant 60, 1 to 5",
    "cube of six",
    "random 60, 5 in 100",
    "random by attachment, 60",
    "random cubic, 60",
    "random near, 60",
    "small world, 60",
    "ten chains of four copies",
    "windmill of 12 fours",
}
LONG_TO_LIST = {
    "Harary 4, 45",
    "Harary 9, 50",
    "Hoffman-Singleton",
    "Kneser 8, 3",
    "Petersen 20, 3",
    "Tutte",
    "bishops on 7",
    "circulant 51, 1 3 9",
    "five copies each of eight originals, and a book on all",
    "grid of 7",
    "kings on 7",
    "knights on 7",
    "random 50, 10 in 100",
    "random 60, 10 in 100",
    "random 60, 20 in 100",
    "random of degree 6, 50",
    "ring of 41",
    "rooks on 8",
    "triangles in strips",
}


def test_there_are_a_hundred_of_them_each_another_and_each_with_conflicts() -> None:
    assert len(CASES) == 100
    assert len({(case.closed, case.loads) for case in CASES.values()}) == 100
    assert all(any(conflicts & (conflicts - 1) for conflicts in case.closed) for case in CASES.values())


@pytest.mark.parametrize(
    ("name", "lines"),
    [
        ("Petersen", 4),
        ("Heawood", 7),
        ("dodecahedron", 8),
        ("icosahedron", 3),
        ("Hoffman-Singleton", 15),
        ("Kneser 8, 3", 21),
        ("Johnson 11, 2", 5),
        ("queens on 8", 8),
        ("kings on 7", 16),
        ("words of 6, closer than 3", 8),
        ("words of 6, closer than 4", 4),
        ("words of 5, closer than 3", 4),
        ("ring of 41", 20),
        ("Turan 45, 9", 5),
        ("one original and 39 copies", 1),
        ("a chain of 40 copies", 1),
        ("ten chains of four copies", 10),
        ("five copies each of eight originals, and a book on all", 8),
    ],
)
def test_lines_are_the_independence_numbers_that_are_known(name: str, lines: int) -> None:
    """By theorem: P. Erdos, C. Ko and R. Rado (1961) for Kneser, 7 over 2; best binary codes, A(6, 3) = 8, A(6, 4) = 4
    and A(5, 3) = 4; eight queens; five pairs of eleven; 4 times 4 kings; half a ring, 45 by nines. Heawood's two sides
    are of 7; those of the other named graphs are from memory. The copies: one line for each original.
    """
    assert count_lines(CASES[name].closed) == lines


@pytest.mark.parametrize("name", CASES)
def test_lines_and_the_set_heaviest_alone_are_what_networkx_finds(name: str) -> None:
    """`max_weight_clique` on who is independent of whom; it takes whole numbers: weights in hundredths of a deciban."""
    case = CASES[name]
    graph = complement(case.closed, [round(HUNDREDTHS * load.weight) for load in case.loads])
    _, lines = nx.max_weight_clique(graph, weight=None)
    _, heaviest = nx.max_weight_clique(graph)

    alone, chosen = weightiest_set(case.loads, case.closed, (1.0,) * len(STANDARD))

    assert count_lines(case.closed) == lines
    assert alone == pytest.approx(heaviest / HUNDREDTHS)
    assert all(graph.has_edge(one, other) for one, other in combinations(chosen, 2))


@pytest.mark.parametrize("name", sorted(CASES.keys() - TOO_MANY_TO_LIST - LONG_TO_LIST))
def test_carried_over_the_weightiest_set_is_the_best_of_all_that_cannot_be_added_to(name: str) -> None:
    weighs_what_the_best_listed_set_weighs(CASES[name])


@pytest.mark.long
@pytest.mark.parametrize("name", sorted(LONG_TO_LIST))
def test_so_it_is_where_there_are_many_such_sets(name: str) -> None:
    weighs_what_the_best_listed_set_weighs(CASES[name])


def weighs_what_the_best_listed_set_weighs(case: HardCase) -> None:
    """Every item adds weight, so the weightiest set is a maximal one: networkx `find_cliques` lists them all."""
    graph = complement(case.closed, [1] * len(case.loads))
    best = max(worth(case, items) for items in nx.find_cliques(graph))

    weight, chosen = weightiest_set(case.loads, case.closed, STANDARD)

    assert weight == pytest.approx(best, abs=1e-9)
    assert weight == pytest.approx(worth(case, chosen), abs=1e-9)
    assert all(graph.has_edge(one, other) for one, other in combinations(chosen, 2))


def worth(case: HardCase, items: Iterable[int]) -> float:
    totals = [0.0] * len(STANDARD)
    for number in items:
        totals[case.loads[number].category] += case.loads[number].weight
    return sum(map(carry_over, totals, STANDARD))
