from math import log10

import pytest
from hypothesis import given
from hypothesis import strategies as st

from provenance.rules.carrying_over import carry_over, slope

AGREEMENTS = st.sampled_from([1.0, 0.98, 0.9, 0.75, 0.6, 0.5])


@given(weight=st.floats(0, 60), agreement=AGREEMENTS, prior=st.floats(0.05, 0.95))
def test_carrying_over_is_total_probability_by_enumeration(weight: float, agreement: float, prior: float) -> None:
    """Enumerate the four states of (this machine has it, the other has it), given the evidence about the other.

    The evidence is L times as likely when the other has it. The odds that this machine has it, over the prior odds, is
    the likelihood ratio for this machine; it does not depend on the prior where "the other agrees" does not.
    """
    likelihood = {True: 10 ** (weight / 10), False: 1.0}
    joint = {
        (ours, other): (prior if ours else 1 - prior)
        * (agreement if ours == other else 1 - agreement)
        * likelihood[other]
        for ours in (True, False)
        for other in (True, False)
    }
    odds = (joint[True, True] + joint[True, False]) / (joint[False, True] + joint[False, False])
    expected = 10 * log10(odds / (prior / (1 - prior)))

    assert carry_over(weight, agreement) == pytest.approx(expected, abs=1e-9)


def test_a_photograph_of_a_sister_is_worth_seven_and_a_half_points_here() -> None:
    """14 points: L = 25.119; (.9 x 25.119 + .1) / (.1 x 25.119 + .9) = 22.707 / 3.4119 = 6.6553; 10 log10 = 8.232."""
    assert carry_over(14, 0.9) == pytest.approx(8.232, abs=5e-4)


def test_however_many_photographs_of_the_first_batch_they_stay_under_a_drawing_of_the_third() -> None:
    """The limit is 10 log10(.75 / .25) = 4.771."""
    assert all(carry_over(14.0 * number, 0.75) < 4.8 for number in (1, 2, 10, 100, 10_000))
    assert carry_over(140_000, 0.75) == pytest.approx(10 * log10(3))


@given(weight=st.floats(0, 1e5))
def test_what_is_seen_of_the_machine_itself_counts_in_full(weight: float) -> None:
    assert carry_over(weight, 1) == weight


@given(weight=st.floats(0, 80), more=st.floats(0, 40), agreement=AGREEMENTS)
def test_more_evidence_about_another_machine_never_counts_less(weight: float, more: float, agreement: float) -> None:
    assert carry_over(weight + more, agreement) >= carry_over(weight, agreement) - 1e-12


@given(weight=st.floats(0, 60), agreement=AGREEMENTS)
def test_the_slope_is_what_one_more_little_weight_gains(weight: float, agreement: float) -> None:
    step = 1e-4

    gained = (carry_over(weight + 2 * step, agreement) - carry_over(weight, agreement)) / (2 * step)

    assert slope(weight + step, agreement) == pytest.approx(gained, abs=1e-6)
