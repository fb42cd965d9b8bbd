from math import exp, inf

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import chi2

from provenance.rules.chi_square import upper_tail

DEGREES = [*range(1, 41), 99, 100, 251, 400]


# Upper 5 % and 1 % points as tables of chi-square print them (common tables, from memory).
@pytest.mark.parametrize(
    ("degrees", "at_five", "at_one"),
    [(1, 3.841, 6.635), (2, 5.991, 9.210), (3, 7.815, 11.345), (5, 11.070, 15.086), (10, 18.307, 23.209)],
)
def test_the_points_of_the_tables_are_passed_by_chance_as_often_as_the_tables_say(
    degrees: int, at_five: float, at_one: float
) -> None:
    assert upper_tail(at_five, degrees) == pytest.approx(0.05, rel=1e-3)
    assert upper_tail(at_one, degrees) == pytest.approx(0.01, rel=1e-3)


@pytest.mark.parametrize("degrees", DEGREES)
@pytest.mark.parametrize("chi_square", [1e-9, 0.02, 1, 3.84, 22.904803, 150, 390, 1400])
def test_the_finite_sums_agree_with_the_incomplete_gamma_function_of_scipy(degrees: int, chi_square: float) -> None:
    assert upper_tail(chi_square, degrees) == pytest.approx(chi2.sf(chi_square, degrees), rel=1e-11, abs=1e-300)


def test_with_two_degrees_it_is_a_plain_exponential() -> None:
    assert upper_tail(7.0, 2) == pytest.approx(exp(-3.5), rel=1e-14)


@pytest.mark.parametrize("degrees", [1, 2, 7, 300])
def test_nothing_is_surely_passed_and_infinity_never(degrees: int) -> None:
    assert upper_tail(0.0, degrees) == 1
    assert upper_tail(5e-324, degrees) == 1  # half of it is nothing
    assert upper_tail(inf, degrees) == 0


@given(st.floats(0, 2000), st.floats(0, 2000), st.integers(1, 400))
def test_the_larger_a_chi_square_the_rarer(one: float, other: float, degrees: int) -> None:
    low, high = sorted((one, other))

    assert 0 <= upper_tail(high, degrees) <= upper_tail(low, degrees) + 1e-12 <= 1 + 1e-12


@pytest.mark.parametrize(("chi_square", "degrees"), [(1.0, 0), (-0.1, 1), (float("nan"), 1)])
def test_what_is_no_chi_square_is_refused(chi_square: float, degrees: int) -> None:
    with pytest.raises(ValueError, match="degrees of freedom"):
        upper_tail(chi_square, degrees)
