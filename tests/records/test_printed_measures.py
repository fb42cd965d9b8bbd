"""How a measure is printed: to a place that means something, and so that it can be read again."""

from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from provenance.records.measures import parse_measure
from provenance.records.printed_measures import measure_in_words
from provenance.records.units import UNITS


@pytest.mark.parametrize(
    ("value", "unit_id", "step", "printed"),
    [
        ("1028.7", "mm", "0.1", "1028.7 mm"),
        ("1028.7", "mm", "0.03", "1028.70 mm"),
        ("1028.7", "mm", "2", "1029 mm"),
        ("1028.7", "mm", "50", "1029 mm"),
        ("1028.5", "mm", "1", "1028 mm"),  # halves go to the even figure
        ("1028.7", "mm", None, "1028.7 mm"),
        ("1/3", "mm", None, "0.333333 mm"),
        ("0", "mm", None, "0 mm"),
        ("0.00000001", "mm", None, "0 mm"),
        ("40.5", "in", "1/2", "3 ft 4 1/2 in"),
        ("40.5", "in", None, "3 ft 4 1/2 in"),
        ("40.5", "in", "0.3", "3 ft 4 1/2 in"),
        ("40.53", "in", "0.3", "3 ft 4 1/2 in"),
        ("40.53", "in", "1/64", "3 ft 4 17/32 in"),  # .53 is 33.92 sixty-fourths
        ("40.53", "in", "0.01", "40.53 in"),
        ("40.53", "in", "3", "3 ft 5 in"),
        ("36", "in", "1/16", "3 ft 0 in"),
        ("3", "ft", None, "3 ft 0 in"),
        ("6.375", "in", None, "6 3/8 in"),
        ("0.3", "in", None, "0.3 in"),
        ("0", "in", None, "0 in"),
        ("12.5", "deg", None, "12.5°"),
        ("750", "arcmin", "1", "12° 30'"),
        ("-150", "arcmin", "1", "-2° 30'"),
        ("45015", "arcsec", "1", "12° 30' 15\""),
        ("-40", "degC", "1", "-40 °C"),
        ("-0.2", "degC", "1", "0 °C"),
        ("12", "lbf/in2", None, "12 lbf/in2"),
        ("4", "off", None, "4 off"),
    ],
)
def test_a_figure_is_printed_to_a_place_that_means_something(
    value: str, unit_id: str, step: str | None, printed: str
) -> None:
    words = measure_in_words(Fraction(value), UNITS[unit_id], step=Fraction(step) if step else None)

    assert words == printed


SHOWN = sorted(set(UNITS) - {"arcmin", "arcsec", "in", "ft"})


@given(st.sampled_from(SHOWN), st.integers(0, 10**6), st.integers(0, 4))
def test_what_is_printed_reads_back_as_the_same_figure(unit_id: str, count: int, places: int) -> None:
    unit, value = UNITS[unit_id], Fraction(count, 10**places)
    assume(unit_id not in {"off", "g"} or (places == 0 and count > 100))  # 16 g may be a gauge, half a piece is none

    words = measure_in_words(value, unit, step=Fraction(1, 10**places))

    assert parse_measure(words, unit=unit).to(unit) == value


@given(st.sampled_from(["in", "ft"]), st.integers(0, 64 * 12 * 100))
def test_feet_and_inches_read_back_as_the_same_figure(unit_id: str, count: int) -> None:
    unit = UNITS[unit_id]
    value = Fraction(count, 64) * UNITS["in"].factor / unit.factor

    assert parse_measure(measure_in_words(value, unit), unit=unit).to(unit) == value


@given(st.sampled_from(["arcmin", "arcsec"]), st.integers(-(10**6), 10**6))
def test_degrees_and_minutes_read_back_as_the_same_figure(unit_id: str, count: int) -> None:
    unit = UNITS[unit_id]

    assert parse_measure(measure_in_words(count, unit), unit=unit).to(unit) == count
