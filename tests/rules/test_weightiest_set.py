from collections.abc import Sequence
from itertools import combinations

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from provenance.rules.carrying_over import carry_over
from provenance.rules.independence import conflicts_of
from provenance.rules.weightiest_set import Load, weightiest_set

STANDARD = (1.0, 0.98, 0.9, 0.75, 0.6)
WEIGHTS = (16.0, 14.0, 12.0, 11.0, 8.0, 7.0, 5.6, 4.0, 2.75)


def by_hand(loads: Sequence[Load], closed: Sequence[int], agreements: Sequence[float]) -> tuple[float, tuple[int, ...]]:
    """Try every subset: the weightiest (to 1e-9), of those the larger, of those the first in order."""
    found: list[tuple[float, tuple[int, ...]]] = []
    for size in range(len(loads) + 1):
        for chosen in combinations(range(len(loads)), size):
            if all(not closed[one] >> other & 1 for one, other in combinations(chosen, 2)):
                totals = [0.0] * len(agreements)
                for number in chosen:
                    totals[loads[number].category] += loads[number].weight
                found.append((sum(map(carry_over, totals, agreements)), chosen))
    most = max(weight for weight, _ in found)
    best = min((chosen for weight, chosen in found if weight >= most - 1e-9), key=lambda chosen: (-len(chosen), chosen))
    return most, best


@st.composite
def problems(draw: st.DrawFn, most: int = 8) -> tuple[list[Load], list[int]]:
    """Items whose total stays where a deciban still counts more than 1e-9, so that ties are ties and not rounding."""
    size = draw(st.integers(1, most))
    weights = draw(st.sampled_from([WEIGHTS, (12.0,), (12.0, 6.0)]))
    categories = draw(st.sampled_from([1, 2, 5]))
    loads = [Load(draw(st.integers(0, categories - 1)), draw(st.sampled_from(weights))) for _ in range(size)]
    closed = [1 << number for number in range(size)]
    pairs = list(combinations(range(size), 2))
    for one, other in draw(st.sets(st.sampled_from(pairs))) if pairs else ():
        closed[one] |= 1 << other
        closed[other] |= 1 << one
    return loads, closed


@settings(max_examples=300)
@given(problems())
def test_the_weightiest_set_is_what_trying_every_subset_finds(problem: tuple[list[Load], list[int]]) -> None:
    weight, chosen = weightiest_set(*problem, STANDARD)

    expected, best = by_hand(*problem, STANDARD)
    assert weight == pytest.approx(expected, abs=1e-9)
    assert chosen == best


@settings(max_examples=150)
@given(problems(12))
def test_with_full_agreement_everywhere_it_is_the_heaviest_clique_of_the_complement(
    problem: tuple[list[Load], list[int]],
) -> None:
    """Against networkx 3.6 `max_weight_clique`, which takes whole numbers: weights in hundredths."""
    loads, closed = problem
    beside: nx.Graph[int] = nx.Graph()
    for number, load in enumerate(loads):
        beside.add_node(number, weight=round(load.weight * 100))
    beside.add_edges_from(
        (one, other) for one, other in combinations(range(len(loads)), 2) if not closed[one] >> other & 1
    )
    _, expected = nx.max_weight_clique(beside)

    weight, _ = weightiest_set(loads, closed, (1.0,) * 5)

    assert weight == pytest.approx(expected / 100)


def test_two_of_one_category_can_outweigh_a_heavier_one_between_them() -> None:
    """One compilation of 12 conflicts with two letters of 8: 16 beats 12 for the machine itself."""
    loads = [Load(0, 8), Load(0, 12), Load(0, 8)]

    assert weightiest_set(loads, [0b011, 0b111, 0b110], STANDARD) == (16, (0, 2))


def test_a_second_category_counts_more_than_more_of_a_full_one() -> None:
    """Ten photographs of the first batch are worth at most 4.77 here; the eleventh source has one more of them or a
    word on a related type (4): T_.6(4) = 10 log10((.6 x 2.5119 + .4) / (.4 x 2.5119 + .6)) = .750 counts more."""
    loads = [Load(3, 14.0)] * 10 + [Load(3, 14.0), Load(4, 4.0)]
    closed = [1 << number for number in range(10)] + [0b11 << 10] * 2

    weight, chosen = weightiest_set(loads, closed, STANDARD)

    assert chosen == (*range(10), 11)
    assert weight == pytest.approx(carry_over(140, 0.75) + 0.750, abs=5e-4)


def test_nothing_weighs_nothing() -> None:
    assert weightiest_set([], [], STANDARD) == (0, ())


def sources_in_every_category(
    count: int, weights: Sequence[float], categories: Sequence[int]
) -> tuple[list[Load], tuple[int, ...]]:
    """So many sources, each cited once in every category; sources differ in weight by turns."""
    cited = [(source, category) for source in range(count) for category in categories]
    loads = [Load(category, weights[(source + category) % len(weights)]) for source, category in cited]
    return loads, conflicts_of([frozenset({str(source)}) for source, _ in cited])


def test_many_sources_cited_in_all_categories_are_weighed_without_trying_every_mixture() -> None:
    """Sixty sources could be mixed in 4^60 ways. Shared out evenly each category has 150 and more, so the weight is the
    sum of the four limits, 10 log10(q / (1-q)): 16.9020 + 9.5424 + 4.7712 + 1.7609."""
    loads, closed = sources_in_every_category(60, (14.0, 12.0, 11.0), (1, 2, 3, 4))

    weight, chosen = weightiest_set(loads, closed, STANDARD)

    assert weight == pytest.approx(32.9765, abs=5e-4)
    assert len(chosen) == 60
    assert all(closed[number] & sum(1 << each for each in chosen) == 1 << number for number in chosen)


def test_what_weighs_the_same_by_single_exchange_comes_first_in_order() -> None:
    loads, closed = sources_in_every_category(60, (14.0,), (1, 2, 3, 4))

    weight, chosen = weightiest_set(loads, closed, STANDARD)

    for number in range(len(loads)):
        if number not in chosen:
            (rival,) = [each for each in chosen if closed[number] >> each & 1]
            totals = [0.0] * 5
            for each in {*chosen, number} - {rival}:
                totals[loads[each].category] += loads[each].weight
            assert rival < number or sum(map(carry_over, totals, STANDARD)) < weight - 1e-9


def by_table(sources: Sequence[Sequence[float]], categories: Sequence[int]) -> float:
    """Write down every total that can be reached when each source gives one of its items, one source after another."""
    reached = {(0.0,) * len(categories)}
    for weights in sources:
        reached = {
            (*totals[:place], totals[place] + weight, *totals[place + 1 :])
            for totals in reached
            for place, weight in enumerate(weights)
        }
    agreements = [STANDARD[category] for category in categories]
    return max(sum(map(carry_over, totals, agreements)) for totals in reached)


@pytest.mark.parametrize(
    ("categories", "sources"),
    [
        ((0, 1, 3), [(14.0 if source % 2 else 5.5, 11.0, 12.0) for source in range(24)]),
        # Found by trying: here the set that lies nearest to the best mixture is not the weightiest.
        (
            (1, 2, 3),
            [
                (11, 12, 8), (8, 11, 8), (7, 11, 11), (12, 12, 7), (7, 8, 7), (8, 7, 11), (11, 8, 12),
                (7, 7, 12), (7, 11, 12), (12, 12, 12), (8, 8, 8), (7, 7, 7), (8, 8, 8), (8, 12, 7),
            ],
        ),
        (
            (1, 2, 3, 4),
            [
                (4, 4, 8, 8), (8, 8, 4, 8), (8, 8, 4, 4), (8, 4, 8, 8), (8, 4, 4, 8), (4, 4, 4, 4), (4, 8, 4, 4),
                (4, 8, 4, 8), (8, 8, 8, 8), (8, 8, 8, 8), (4, 4, 4, 4), (8, 4, 8, 4), (8, 4, 4, 4), (4, 4, 8, 4),
            ],
        ),
        # Thousands of half-joined sets of which none is beaten by another.
        (
            (1, 2, 3, 4),
            [
                (8, 4, 4, 8), (8, 8, 8, 8), (8, 4, 8, 4), (4, 8, 8, 4), (8, 4, 8, 8), (4, 4, 8, 8), (4, 8, 8, 8),
                (4, 4, 8, 4), (8, 8, 4, 4), (8, 4, 4, 4), (4, 4, 4, 8), (8, 4, 8, 8), (8, 4, 4, 4), (8, 8, 8, 4),
                (4, 4, 4, 4), (4, 8, 4, 8), (4, 4, 4, 4), (8, 4, 4, 4), (8, 8, 4, 8), (8, 4, 8, 8),
            ],
        ),
    ],
)  # fmt: skip
def test_many_sources_give_what_a_table_of_all_totals_gives(
    categories: Sequence[int], sources: Sequence[Sequence[float]]
) -> None:
    loads = [
        Load(category, float(weight))
        for weights in sources
        for category, weight in zip(categories, weights, strict=True)
    ]
    closed = conflicts_of([frozenset({str(number // len(categories))}) for number in range(len(loads))])

    weight, _ = weightiest_set(loads, closed, STANDARD)

    assert weight == pytest.approx(by_table(sources, categories), abs=1e-9)
