from math import log10

import pytest
from hypothesis import given
from hypothesis import strategies as st

from provenance.rules.posterior import at_least, posteriors, same_chance


def decibans(ratio: float) -> float:
    return 10 * log10(ratio)


def test_the_odds_of_a_value_are_the_prior_odds_times_the_likelihood_ratio() -> None:
    """Prior 1 %, sensitivity .99, false positives .05: LR 19.8, odds .2, chance .1667 (Bayes).

    The prior stands here as the weight for of one value beside "none of these": 1 to 99.
    """
    (chance,) = posteriors([decibans(1 / 99) + decibans(0.99 / 0.05)])

    assert chance / (1 - chance) == pytest.approx(0.2)
    assert chance == pytest.approx(1 / 6)


def test_a_doubled_test_is_the_error_of_counting_a_copy() -> None:
    """Mammography (Eddy; Gigerenzer): 1 %, .80, .096: 7.8 %; the same test counted twice would make it 41 %."""
    prior, test = decibans(1 / 99), decibans(0.80 / 0.096)

    assert posteriors([prior + test])[0] == pytest.approx(0.0776398, abs=5e-8)
    assert posteriors([prior + test + test])[0] == pytest.approx(0.412269, abs=5e-7)


def test_two_values_share_with_none_of_these() -> None:
    """10 and 0 points: 10 / (1 + 10 + 1) and 1 / 12."""
    assert posteriors([10, 0]) == pytest.approx((10 / 12, 1 / 12))


def test_no_value_has_no_chance() -> None:
    assert posteriors([]) == ()


@given(st.lists(st.floats(-5000, 5000), max_size=6))
def test_chances_never_overflow_and_never_add_up_to_more_than_one(balances: list[float]) -> None:
    chances = posteriors(balances)

    assert all(0 <= chance <= 1 for chance in chances)
    assert sum(chances) <= 1 + 1e-12


def test_chances_that_are_equal_to_twelve_decimals_are_equal() -> None:
    assert at_least(0.15 - 1e-13, 0.15)
    assert not at_least(0.15 - 1e-11, 0.15)
    assert same_chance(0.3 + 1e-13) == same_chance(0.3)
