"""The size that a worn piece was probably made to."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from provenance.records.gauges import GAUGES
from provenance.records.measures import parse_measure
from provenance.records.near_sizes import nearest_sizes


def names(value_mm: str, within_mm: str, *series: str) -> list[str]:
    found = nearest_sizes(Fraction(value_mm), Fraction(within_mm), series=series or ("SWG",))
    return [size.name for size in found]


@pytest.mark.parametrize(
    ("value", "within", "near"),
    [
        ("1.62", "0.04", ["16 SWG", "1/16 in"]),  # .064 in is 1.6256 mm, 1/16 in is 1.5875 mm
        ("1.60", "0.02", ["1/16 in"]),  # 1.5875 is .0125 off, 16 SWG .0256
        ("1.60", "0.004", []),
        ("1028.5", "1", ["3 ft 4 1/2 in"]),  # 40.5 in is 1028.7 mm
        ("1016.1", "1", ["3 ft 4 in"]),
        ("25.4", "0", ["1 in"]),
        ("5.0", "-1", []),
        ("4.7", "0.05", []),  # 11/64 in is 4.3656 mm, 12/64 in 4.7625 mm
        ("4.7", "0.4", ["3/16 in", "6 SWG"]),  # 4.7625 mm; 6 SWG of .192 in is 4.8768 mm, 7 SWG of .176 in 4.4704 mm
        ("4.7", "2", ["6 SWG", "1/4 in"]),
        ("12", "50", ["6/0 SWG", "1 in"]),  # .464 in is 11.7856 mm
        ("0.1", "0.01", ["42 SWG"]),  # .0040 in is .1016 mm; 1/64 in is .397 mm
    ],
)
def test_the_nearest_gauge_and_the_simplest_fraction_are_named(value: str, within: str, near: list[str]) -> None:
    assert names(value, within) == near


def test_a_thread_is_near_only_where_threads_are_asked_for() -> None:
    assert "2 BA" not in names("4.72", "0.05")
    assert names("4.72", "0.05", "BA", "SWG") == ["2 BA", "3/16 in"]


@given(st.decimals(min_value="0.02", max_value=3000, places=3), st.decimals(min_value=0, max_value=5, places=3))
def test_what_is_named_is_within_the_distance_and_reads_back(value: Decimal, within: Decimal) -> None:
    found = nearest_sizes(Fraction(value), Fraction(within))

    for size in found:
        measure = parse_measure(size.name)
        assert measure.value * measure.unit.factor == size.millimetres
        assert abs(size.millimetres - Fraction(value)) <= Fraction(within)
    distances = [abs(size.millimetres - Fraction(value)) for size in found]
    assert distances == sorted(distances)


@given(st.decimals(min_value="0.02", max_value=20, places=3))
def test_no_other_gauge_is_nearer_and_no_simpler_fraction_is_near(value: Decimal) -> None:
    within = Fraction(1, 5)
    found = {size.name: size.millimetres for size in nearest_sizes(Fraction(value), within)}

    gauges = {
        f"{name} SWG": abs(size.value * Fraction("25.4") - Fraction(value)) for name, size in GAUGES["SWG"].items()
    }
    near_gauges = {name for name, distance in gauges.items() if distance <= within}
    assert bool(near_gauges) == any(name.endswith("SWG") for name in found)
    assert all(gauges[name] == min(gauges.values()) for name in found if name.endswith("SWG"))
    near = [
        Fraction(count, divisor)
        for divisor in (1, 2, 4, 8, 16, 32, 64)
        for count in range(1, 64)
        if abs(Fraction(count, divisor) * Fraction("25.4") - Fraction(value)) <= within
    ]
    fractions = [parse_measure(name).value for name in found if name.endswith("in")]
    assert bool(near) == bool(fractions)
    if fractions:
        assert fractions[0].denominator == min(each.denominator for each in near)
