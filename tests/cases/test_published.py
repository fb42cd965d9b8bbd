"""The arithmetic of decibans held against published worked examples."""

from math import log10

import pytest

from provenance.rules.carrying_over import carry_over
from provenance.rules.posterior import posteriors


def test_the_coin_of_the_general_report_on_tunny_comes_out() -> None:
    """General Report on Tunny (1945), section 21 (g), "The deciban", page 39 of the typescript: 10 log10 of the factor.

    A penny falls heads 20 times: factor 2 each, 3 decibans, 60 in all. Prior odds 1 in 10^4, 40 decibans down:
    posterior odds 20 decibans, 100 to 1 on. Without rounding 20 x 3.0103 - 40 = 20.2060, 2^20 / 10^4 = 104.858 to 1.
    """
    rounded, exact = 20 * 3 - 40, 20 * 10 * log10(2) - 40

    assert posteriors([rounded]) == pytest.approx([100 / 101], abs=1e-12)
    assert posteriors([exact]) == pytest.approx([104.8576 / 105.8576], abs=1e-12)


def test_weights_of_evidence_are_ten_times_the_logarithm_of_the_likelihood_ratio() -> None:
    """I. J. Good, Probability and the Weighing of Evidence, 1950 (from memory; the definition is that of the report
    above). The textbook test for an illness: it finds .99 of the ill and .05 of the well, prior 1 in 100.

    L = 19.8, 12.9667 decibans; prior odds 1/99, -19.9564; together -6.9897: odds 1/5, chance 1/6.
    """
    balance = 10 * log10(0.99 / 0.05) + 10 * log10(0.01 / 0.99)

    assert balance == pytest.approx(-6.9897, abs=5e-5)
    assert posteriors([balance]) == pytest.approx([1 / 6], abs=1e-12)


def test_counting_a_copy_as_a_second_test_is_the_error_of_the_textbook() -> None:
    """The mammography example of Eddy (1982): prior .01, it finds .80 of the ill and .096 of the well.

    L = 8.3333, 9.2082 decibans; prior odds -19.9564; one test: .077640 (published as 7.8 %, from
    memory); counted twice: .412269.
    """
    prior, test = 10 * log10(0.01 / 0.99), 10 * log10(0.80 / 0.096)

    assert posteriors([prior + test]) == pytest.approx([0.0776398], abs=5e-8)
    assert posteriors([prior + 2 * test]) == pytest.approx([0.412269], abs=5e-7)


@pytest.mark.parametrize(("agreement", "limit"), [(0.98, 49), (0.9, 9), (0.75, 3), (0.6, 1.5)])
def test_no_evidence_of_other_machines_is_worth_more_than_how_often_machines_agree(
    agreement: float, limit: float
) -> None:
    """Total probability: for L without bound L' goes to q / (1-q): 49, 9, 3, 1.5, that is 16.90, 9.54, 4.77, 1.76."""
    assert carry_over(200, agreement) == pytest.approx(10 * log10(limit), abs=1e-9)
    assert carry_over(30, agreement) < 10 * log10(limit)


def test_total_probability_carries_twelve_decibans_over_as_worked_by_hand() -> None:
    """L = 10^1.2 = 15.84893; q = .75: chance of the evidence if this machine has it .75 L + .25 = 12.13670, if not
    .25 L + .75 = 4.712233; ratio 2.575573: 4.10874 decibans."""
    assert carry_over(12, 0.75) == pytest.approx(4.10874, abs=5e-6)
