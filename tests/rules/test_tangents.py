from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from provenance.rules.independence import conflicts_of
from provenance.rules.independent_sets import members
from provenance.rules.tangents import Load, Scales, relax

AGREEMENTS = (1.0, 0.98, 0.9, 0.75, 0.6)


@st.composite
def scales(draw: st.DrawFn) -> Scales:
    size = draw(st.integers(1, 9))
    loads = [Load(draw(st.integers(0, 4)), draw(st.sampled_from((14.0, 12.0, 5.5, 3.0)))) for _ in range(size)]
    descents = [frozenset(draw(st.sets(st.sampled_from("abcdef"), min_size=1, max_size=2))) for _ in range(size)]
    return Scales(loads, conflicts_of([each | {str(n)} for n, each in enumerate(descents)]), AGREEMENTS)


def independent(scales: Scales) -> list[int]:
    return [
        chosen
        for chosen in range(1 << len(scales.loads))
        if all(not scales.closed[one] >> other & 1 for one, other in combinations(members(chosen), 2))
    ]


@settings(max_examples=150, deadline=None)
@given(scales())
def test_no_set_is_worth_more_than_a_tangent_says_and_none_that_is_best_is_shut_out(scales: Scales) -> None:
    everything = (1 << len(scales.loads)) - 1
    worths = {chosen: scales.worth(scales.totals(chosen)) for chosen in independent(scales)}
    best = max(worths.values())

    relaxed = relax(scales, everything)

    assert relaxed.best in worths
    assert best <= worths[relaxed.best] + relaxed.lead + 1e-9
    assert best <= relaxed.tangent.bound + 1e-9
    for chosen, worth in worths.items():
        counted = sum(relaxed.tangent.counts[number] for number in members(chosen))
        assert worth < best or counted >= relaxed.tangent.least(everything) - 1e-9


def test_for_one_machine_alone_the_tangent_is_the_weight_itself() -> None:
    """Full agreement has slope 1 everywhere: 14 of the one source and 12 of the other, 26 in all; no lead is left."""
    scales = Scales([Load(0, 14.0), Load(0, 12.0), Load(0, 5.0)], [0b101, 0b010, 0b101], (1.0,))

    relaxed = relax(scales, 0b111)

    assert relaxed.best == 0b011
    assert relaxed.lead == pytest.approx(0, abs=1e-9)
    assert relaxed.tangent.bound == pytest.approx(26)


def test_a_set_that_falls_behind_cannot_be_part_of_the_weightiest() -> None:
    scales = Scales([Load(0, 14.0), Load(0, 5.0)], [0b11, 0b11], (1.0,))

    tangent = relax(scales, 0b11).tangent

    assert tangent.likely(0b11, 0b11) == 0b01
    assert tangent.likely(0b01, 0b11) == 0b01
    assert tangent.likely(0b10, 0b11) is None
