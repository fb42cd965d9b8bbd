"""The distance of two keys against every way of changing one into the other, and against the table, by hand."""

from functools import cache
from itertools import combinations
from math import inf

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from provenance.records.misreading import (
    FOUND_WITHIN,
    NEAR_WITHIN,
    boundary_trigrams,
    misreading_distance,
    near_within,
)

# by hand from the table in the docstring of the module, in hundredths
LETTERS = {frozenset(pair) for pair in ("1T", "4A", "1E", "1J", "7T", "0D")}
FIGURES = {frozenset(pair) for pair in ("09", "27", "68", "14", "06", "39")}
keys = st.text("0147AHJT", max_size=6)


@given(keys, keys)
@example("H204", "1H20")
@example("", "17")
@example("1717", "71717")
def test_the_distance_is_the_cheapest_of_all_ways(one: str, other: str) -> None:
    cheapest = every_way(one, other)

    assert misreading_distance(one, other, 20.0) == cheapest / 100
    assert misreading_distance(one, other) == (cheapest / 100 if cheapest <= 200 else inf)
    assert misreading_distance(one, other, 0.7) == (cheapest / 100 if cheapest <= 70 else inf)


@given(keys, keys)
def test_the_distance_is_the_same_from_either_side(one: str, other: str) -> None:
    assert misreading_distance(one, other) == misreading_distance(other, one)
    assert (misreading_distance(one, other) == 0) == (one == other)


@pytest.mark.parametrize(
    ("one", "other", "apart"),
    [
        ("H204", "H2A4", 1.0),
        ("H204", "H20A", 0.7),
        ("H204", "H294", 0.85),
        ("H204", "H205", 1.0),
        ("H204", "H2104", 0.85),
        ("H204", "H2804", 1.0),
        ("HK2045", "HK2DA5", 1.4),
        ("HK2045", "HK6015", 1.85),
        ("HK2045", "HK6915", inf),
        ("HK2045", "KH2045", 2.0),
        ("H204", "H204567", inf),
    ],
)
def test_what_recognisers_often_do_costs_less(one: str, other: str, apart: float) -> None:
    assert misreading_distance(one, other) == apart


def test_no_other_figure_and_no_other_count_of_figures_is_ever_found() -> None:
    figures = "0123456789"

    changed = [misreading_distance(f"H20{one}", f"H20{other}") for one, other in combinations(figures, 2)]
    added = [misreading_distance("H204", f"H2{figure}04") for figure in figures]

    assert min(changed) > FOUND_WITHIN
    assert min(added) > FOUND_WITHIN
    assert max(changed + added) <= NEAR_WITHIN


def test_the_shorter_of_two_keys_says_how_near_they_have_to_be() -> None:
    found = [near_within("H" * length, "H" * 9) for length in (4, 5, 6, 7, 20)]

    assert found == [1.0, 1.0, 1.7, 2.0, 2.0]
    assert near_within("H" * 9, "HHHH") == 1.0


def test_trigrams_run_from_the_marked_beginning_to_the_marked_end() -> None:
    assert boundary_trigrams("H204") == ("^H2", "H20", "204", "04$")
    assert boundary_trigrams("H") == ("^H$",)
    assert boundary_trigrams("") == ()


def every_way(one: str, other: str) -> int:
    """The least that any run of changes costs, one character after the other, with nothing left untried."""

    @cache
    def rest(n: int, m: int) -> int:
        ways = []
        if n < len(one):
            ways.append(lone(one[n]) + rest(n + 1, m))
        if m < len(other):
            ways.append(lone(other[m]) + rest(n, m + 1))
        if n < len(one) and m < len(other):
            ways.append(changed(one[n], other[m]) + rest(n + 1, m + 1))
        return min(ways, default=0)

    return rest(0, 0)


def lone(character: str) -> int:
    return 85 if character in "17J" else 100


def changed(one: str, other: str) -> int:
    if one == other:
        return 0
    pair = frozenset((one, other))
    return 70 if pair in LETTERS else 85 if pair in FIGURES else 100
