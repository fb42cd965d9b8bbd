import warnings
from collections.abc import Sequence
from fractions import Fraction
from itertools import permutations
from math import inf, nan, sqrt
from operator import mul

import numpy as np
import pytest
from GTC import ureal
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq
from scipy.stats import chi2
from statsmodels.stats.meta_analysis import combine_effects
from statsmodels.stats.tests.results import results_meta
from uncertainties import ufloat

from provenance.rules.averaging import Average, average

# Kaon mass in MeV, the six measurements that the Particle Data Group averages (*Review of Particle Physics*).
KAON = ((493.696, 0.007), (493.636, 0.011), (493.640, 0.054), (493.670, 0.029), (493.657, 0.020), (493.691, 0.040))

# Kacker, *Metrologia* 41 (2004) 132, table 1, first row: figures and variances.
KACKER = (61.00, 61.40, 62.21, 62.30, 62.34, 62.60, 62.70, 62.84, 65.90)
KACKER_VARIANCES = (0.2025, 1.2100, 0.0900, 0.2025, 0.3844, 0.5625, 0.0676, 0.0225, 1.8225)

# PCB 105, key comparison CCQM-K25 (example data of the package metRology for R).
K25 = ((10.21, 0.381), (10.9, 0.250), (10.94, 0.130), (10.58, 0.410), (10.81, 0.445), (9.62, 0.196), (10.8, 0.093))

# Heat of vaporisation of cadmium, figures and variances: Paule & Mandel, *J. Research of the NBS* 87 (1982) 377.
CADMIUM = (27.044, 26.022, 26.340, 26.787, 26.796)
CADMIUM_VARIANCES = (0.003, 0.076, 0.464, 0.003, 0.014)


def average_of(pairs: Sequence[tuple[float, float]]) -> Average:
    return average([figure for figure, _ in pairs], [standard for _, standard in pairs])


def with_variances(figures: Sequence[float], variances: Sequence[float]) -> Average:
    return average(figures, [sqrt(variance) for variance in variances])


def test_one_figure_is_its_own_mean_and_agrees_with_itself() -> None:
    found = average([1028.7], [0.23])

    assert (found.mean, found.fixed_mean) == (1028.7, 1028.7)
    assert (found.standard, found.fixed_standard) == pytest.approx((0.23, 0.23), rel=1e-15)
    assert (found.chi_square, found.degrees, found.birge, found.consistent, found.between) == (0, 0, None, True, 0)


def test_the_surer_figure_counts_for_more() -> None:
    """By hand: weights 1 and 4, so the mean is a fifth of the way from the second; chi-square .64 + .64."""
    found = average([10.0, 12.0], [2.0, 1.0])

    assert found.mean == pytest.approx(11.6)
    assert found.standard == pytest.approx(sqrt(0.8))
    assert found.chi_square == pytest.approx(0.8)
    assert (found.degrees, found.consistent, found.between) == (1, True, 0)
    assert found.birge == pytest.approx(sqrt(0.8))


def test_two_figures_four_uncertainties_apart_disagree() -> None:
    """A toy of lectures, 10 +- 4 and 30 +- 5; by hand: weights 1/16 and 1/25, so the mean is 730/41 = 17.80488."""
    found = average([10.0, 30.0], [4.0, 5.0])

    assert found.fixed_mean == pytest.approx(730 / 41)
    assert found.fixed_standard == pytest.approx(20 / sqrt(41))
    assert found.chi_square == pytest.approx(400 / 41)
    assert found.consistent is False


@pytest.mark.filterwarnings("ignore::sqlalchemy.exc.SAWarning")
def test_the_kaon_mass_comes_out_as_the_particle_data_group_prints_it() -> None:
    """Inputs and mean from the group's own data base; the rest follows from these inputs, here in exact fractions."""
    import pdg  # noqa: PLC0415  # it opens a data base

    mass = next(iter(pdg.connect().get_particle_by_mcid(321).masses()))
    values = [value for each in mass.get_measurements() for value in each.values() if value.used_in_average]
    (published,) = {value.value for value in mass.summary_values()}

    found = average_of([(value.value, value.error_positive) for value in values])

    figures, standards = zip(*((Fraction(str(one)), Fraction(str(other))) for one, other in KAON), strict=True)
    weights = [1 / standard**2 for standard in standards]
    exact = sum(map(mul, weights, figures)) / sum(weights)
    chi_square = sum(weight * (figure - exact) ** 2 for weight, figure in zip(weights, figures, strict=True))
    assert sorted((value.value, value.error_positive) for value in values) == sorted(KAON)
    assert found.fixed_mean == pytest.approx(published, abs=1e-10)
    assert published == pytest.approx(493.6765994580, abs=1e-10)
    assert found.fixed_standard == pytest.approx(0.005477530, abs=1e-9)
    assert found.chi_square == pytest.approx(float(chi_square), rel=1e-10) == pytest.approx(22.904804, abs=1e-6)
    assert found.birge == pytest.approx(2.140318, abs=1e-6)
    assert found.degrees == 5
    assert found.consistent is False  # p = 3.5e-4


def test_the_scatter_between_sources_is_what_kacker_printed_and_metafor_computes() -> None:
    """Kacker's table 1 prints .8399 for the method of Paule and Mandel; the rest is R metafor, from statsmodels."""
    found = with_variances(KACKER, KACKER_VARIANCES)
    fixed, random = results_meta.exk1_fe, results_meta.exk1_metafor

    assert round(found.between, 4) == 0.8399
    assert found.between**2 == pytest.approx(random.tau2, rel=1e-10)
    assert (found.mean, found.standard) == pytest.approx((random.b, random.se), rel=1e-10)
    assert (found.fixed_mean, found.fixed_standard) == pytest.approx((fixed.b, fixed.se), rel=1e-12)
    assert found.chi_square == pytest.approx(fixed.QE, rel=1e-10)
    assert found.degrees == 8
    assert found.consistent is False  # metafor: p = .00168


def test_the_key_comparison_of_pcb_105_is_met() -> None:
    """Recomputed with statsmodels and by own root-finding from the inputs that R's metRology carries."""
    found = average_of(K25)

    assert (found.fixed_mean, found.fixed_standard) == pytest.approx((10.688565, 0.065273), abs=1e-6)
    assert found.between == pytest.approx(0.428785, abs=1e-6)
    assert (found.mean, found.standard) == pytest.approx((10.557736, 0.191625), abs=1e-6)


def test_the_cadmium_of_paule_and_mandel_is_met() -> None:
    """Recomputed from their inputs; their printed answer was not at hand."""
    found = with_variances(CADMIUM, CADMIUM_VARIANCES)

    assert (found.fixed_mean, found.fixed_standard) == pytest.approx((26.886920, 0.036432), abs=1e-6)
    assert found.between == pytest.approx(0.324375, abs=1e-6)
    assert (found.mean, found.standard) == pytest.approx((26.712129, 0.171137), abs=1e-6)


@pytest.mark.parametrize("data", [(KACKER, KACKER_VARIANCES), (CADMIUM, CADMIUM_VARIANCES)], ids=["nine", "cadmium"])
def test_statsmodels_gives_the_same_where_it_converges(data: tuple[Sequence[float], Sequence[float]]) -> None:
    figures, variances = data

    theirs = combine_effects(np.array(figures), np.array(variances), method_re="pm", atol=1e-9)

    ours = with_variances(figures, variances)
    assert ours.between**2 == pytest.approx(theirs.tau2, rel=1e-6)
    assert ours.mean == pytest.approx(theirs.mean_effect_re, rel=1e-9)
    assert ours.standard == pytest.approx(theirs.sd_eff_w_re, rel=1e-6)
    assert ours.chi_square == pytest.approx(theirs.q, rel=1e-9)


def test_where_an_open_iteration_silently_answers_no_scatter_ours_finds_it() -> None:
    """Of two figures the variance between is half the squared difference less the mean variance: 112.7375.

    An iteration that steps past the root gives up with 0, says nothing, and claims an uncertainty of .0593 for figures
    that lie 15 apart. In which order of the figures it happens depends on the last bit, so both are asked.
    """
    figures, standards = np.array([201.533, 216.55]), np.array([0.0629, 0.1768])
    expected = (216.55 - 201.533) ** 2 / 2 - (0.0629**2 + 0.1768**2) / 2

    theirs = [
        combine_effects(figures[order], standards[order] ** 2, method_re="pm", atol=atol, maxiter=100)
        for order in (np.array([0, 1]), np.array([1, 0]))
        for atol in (1e-10, 1e-11, 1e-12, 1e-13, 1e-14)
    ]

    silent = [each for each in theirs if each.tau2 == 0]
    assert silent
    assert silent[0].sd_eff_w_re == pytest.approx(0.05926, abs=1e-5)
    for pairs in permutations(zip(figures, standards, strict=True)):
        ours = average_of([(float(figure), float(standard)) for figure, standard in pairs])
        assert ours.between**2 == pytest.approx(expected, rel=1e-12)
        assert (ours.mean, ours.standard) == pytest.approx((209.0406, 7.5085), abs=1e-4)


def paule_mandel_by_brentq(figures: Sequence[float], standards: Sequence[float]) -> float:
    """The same equation handed to another root-finder, written out anew with numpy."""
    values, variances = np.array(figures), np.array(standards) ** 2

    def excess(added: float) -> float:
        weights = 1 / (variances + added)
        mean = (weights * values).sum() / weights.sum()
        return float((weights * (values - mean) ** 2).sum() - (len(values) - 1))

    if excess(0.0) <= 0:
        return 0.0
    return float(brentq(excess, 0.0, float(((values - values.mean()) ** 2).sum()), xtol=1e-300, rtol=1e-14))


SURE = st.floats(0.001, 50)
PAIRS = st.lists(st.tuples(st.floats(-1000, 1000), SURE), min_size=1, max_size=9)


@settings(max_examples=300)
@given(PAIRS)
def test_on_any_figures_scipy_and_numpy_come_to_the_same(pairs: list[tuple[float, float]]) -> None:
    figures, standards = [figure for figure, _ in pairs], [standard for _, standard in pairs]
    mean = np.average(figures, weights=np.array(standards) ** -2.0)
    chi_square = float((((np.array(figures) - mean) / np.array(standards)) ** 2).sum())
    probability = chi2.sf(chi_square, len(pairs) - 1) if len(pairs) > 1 else 1.0
    assume(abs(probability - 0.05) > 1e-6)

    found = average(figures, standards)

    assert found.fixed_mean == pytest.approx(mean, rel=1e-9, abs=1e-9)
    assert found.chi_square == pytest.approx(chi_square, rel=1e-6, abs=1e-9)
    assert found.consistent is bool(probability >= 0.05)
    expected = 0.0 if found.consistent else paule_mandel_by_brentq(figures, standards)
    assert found.between**2 == pytest.approx(expected, rel=1e-6)


@given(PAIRS, st.randoms(use_true_random=False))
def test_the_order_in_which_figures_are_entered_never_matters(pairs: list[tuple[float, float]], chance: object) -> None:
    shuffled = list(pairs)
    chance.shuffle(shuffled)  # type: ignore[attr-defined]  # hypothesis gives no narrower type

    assert average_of(shuffled) == average_of(pairs)


@given(PAIRS, st.sampled_from([1e-90, 1e-9, 1 / 25.4, 1 / 304.8, 25.4, 1e90]))
def test_the_same_figures_in_another_unit_give_the_same_answer_in_that_unit(
    pairs: list[tuple[float, float]], factor: float
) -> None:
    ours = average_of(pairs)
    assume(ours.degrees == 0 or abs(chi2.sf(ours.chi_square, ours.degrees) - 0.05) > 1e-6)

    found = average_of([(figure * factor, standard * factor) for figure, standard in pairs])

    assert found.mean == pytest.approx(ours.mean * factor, rel=1e-7, abs=1e-6 * factor)
    assert found.standard == pytest.approx(ours.standard * factor, rel=1e-6)
    assert found.between == pytest.approx(ours.between * factor, rel=1e-6)
    assert found.chi_square == pytest.approx(ours.chi_square, rel=1e-6, abs=1e-9)
    assert found.consistent is ours.consistent


def test_figures_beyond_all_measure_still_come_to_an_answer() -> None:
    """By hand: with uncertainties that vanish beside the spread, the variance between is that of the figures, 1/2."""
    found = average([0.0, 1.0], [1e-200, 1e-200])

    assert found.consistent is False
    assert found.between == pytest.approx(sqrt(0.5))
    assert (found.mean, found.standard) == pytest.approx((0.5, 0.5))


def test_the_root_is_shut_in_however_far_out_it_lies() -> None:
    """Of two figures again half the squared difference less the mean variance."""
    found = average([0.0, 1e9], [0.001, 1000.0])

    assert found.between**2 == pytest.approx(5e17 - 5e5, rel=1e-12)


@pytest.mark.parametrize(
    ("readings", "mean", "standard"),
    [
        ((5.007, 4.994, 5.005, 4.990, 4.999), "4.9990", "0.0032"),
        ((19.663, 19.639, 19.640, 19.685, 19.678), "19.6610", "0.0095"),
        ((1.0456, 1.0438, 1.0468, 1.0428, 1.0433), "1.04446", "0.00075"),
    ],
    ids=["volts", "milliamperes", "radians"],
)
def test_readings_that_scatter_far_beyond_their_own_claims_are_as_sure_as_their_scatter_allows(
    readings: tuple[float, ...], mean: str, standard: str
) -> None:
    """JCGM 100:2008, table H.2: arithmetic means of five readings and the standard deviations of these means.

    Equal and negligible uncertainties make the variance between just the experimental variance of the guide's 4.2.2.
    """
    found = average(readings, [1e-6] * 5)

    places = [len(printed.partition(".")[2]) for printed in (mean, standard)]
    assert [f"{found.mean:.{places[0]}f}", f"{found.standard:.{places[1]}f}"] == [mean, standard]


@given(st.lists(st.tuples(st.floats(99, 101), st.floats(1, 5)), min_size=2, max_size=6))
def test_the_uncertainty_of_the_mean_is_what_gtc_and_uncertainties_propagate(pairs: list[tuple[float, float]]) -> None:
    """GUM 5.1.2, the law of propagation, on the weighted sum written out."""
    found = average_of(pairs)
    assume(found.consistent)
    total = sum(1 / standard**2 for _, standard in pairs)

    by_gtc = sum(ureal(figure, standard) / standard**2 for figure, standard in pairs) / total
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        propagated = sum(ufloat(figure, standard) / standard**2 for figure, standard in pairs) / total

    assert (found.mean, found.standard) == pytest.approx((by_gtc.x, by_gtc.u), rel=1e-9)
    assert (found.mean, found.standard) == pytest.approx((propagated.nominal_value, propagated.std_dev), rel=1e-9)


@pytest.mark.parametrize(
    ("figures", "standards"),
    [
        ([], []),
        ([1.0], []),
        ([1.0], [1.0, 1.0]),
        ([1.0], [0.0]),
        ([1.0, 2.0], [1.0, -1.0]),
        ([1.0], [nan]),
        ([inf], [1.0]),
        ([1.0], [inf]),
    ],
)
def test_figures_that_nobody_can_average_are_refused(figures: list[float], standards: list[float]) -> None:
    with pytest.raises(ValueError, match="uncertainty above 0"):
        average(figures, standards)


def test_no_mean_is_ever_said_to_be_surer_than_its_figures_allow() -> None:
    assert average([1.0, 1.0, 1.0, 1.0], [1.0] * 4).standard == 0.5
