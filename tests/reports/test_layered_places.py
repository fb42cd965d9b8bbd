from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reports.made_graphs import a_family
from scipy.optimize import isotonic_regression

from provenance.reports.layered_order import in_few_crossings
from provenance.reports.layered_places import _kept_apart, straightened
from provenance.reports.layered_rows import grown

figures = st.lists(st.tuples(st.floats(-500, 500), st.floats(0.5, 20), st.floats(0, 200)), min_size=1, max_size=12)


def test_a_parent_stands_over_the_middle_of_its_two_children() -> None:
    rows = grown([0, 1, 1], [(0, 1), (0, 2)])

    assert straightened(rows, [100, 100, 100], gap=20) == pytest.approx([110, 50, 170])


def test_a_line_that_passes_rows_runs_straight_beside_the_boxes() -> None:
    """By 1 and 2 or past them to 3: the two points of the passing line stand one above the other."""
    rows = grown([0, 1, 2, 3], [(0, 1), (1, 2), (2, 3), (0, 3)])

    middles = straightened(rows, [100, 100, 100, 100, 0, 0], gap=20)

    assert middles[4] == pytest.approx(middles[5], abs=0.5)
    assert middles[4] - middles[1] >= 50


@given(figures)
def test_places_are_the_nearest_to_those_wanted_that_keep_neighbours_apart(
    points: list[tuple[float, float, float]],
) -> None:
    """Less the spaces, that is isotonic regression: against scipy's."""
    wanted, weights = [each[0] for each in points], [each[1] for each in points]
    spaces = [each[2] for each in points[1:]]
    shifts = [sum(spaces[:number]) for number in range(len(points))]
    less = [place - shift for place, shift in zip(wanted, shifts, strict=True)]

    kept = _kept_apart(wanted, weights, spaces)

    theirs = isotonic_regression(less, weights=weights).x
    assert kept == pytest.approx([level + shift for level, shift in zip(theirs, shifts, strict=True)], abs=1e-6)


@pytest.mark.parametrize("seed", range(6))
def test_neighbours_keep_their_order_and_stand_clear_of_one_another(seed: int) -> None:
    rows, _ = in_few_crossings(40, a_family(40, seed), most=4)
    widths = [100.0] * 40 + [0.0] * (rows.points - 40)

    middles = straightened(rows, widths, gap=20)

    apart = [
        (middles[right] - middles[left]) - (widths[left] + widths[right]) / 2
        for row in rows.order
        for left, right in pairwise(row)
    ]
    assert min(apart) >= 12 - 1e-9
    assert min(middle - width / 2 for middle, width in zip(middles, widths, strict=True)) == pytest.approx(0)
