from math import sqrt

import pytest
from builders import a_feature, a_source, an_item
from quantity_builders import HEIGHT, SURVEYS, a_figure, quantity


@pytest.mark.parametrize(
    ("value", "source_kind", "how", "half_width"),
    [
        ("3 ft 4 1/2 in", "drawing", "states", 25.4 / 64),
        ("40.5 in", "manual", "states", 25.4 / 64),
        ("40 in", "catalogue", "states", 25.4 / 64),
        ("1029 mm", "specification", "states", 0.5),
        ("1.03 m", "drawing", "states", 0.5),
        ("30 um", "drawing", "states", 0.0005),
        ("64 thou", "drawing", "states", 0.0127),
        ("16 SWG", "drawing", "states", 0.1016),
        ("2 BA", "drawing", "states", 0.3),
        ("3 ft 4 1/2 in", "survey", "measured", 25.4 / 4),
        ("3 ft 4 1/16 in", "letter", "states", 25.4 / 32),
        ("40.5 in", "survey", "measured", 25.4 / 20),
        ("1029 mm", "survey", "measured", 0.5),
        ("1.03 m", "report", "states", 5),
        ("1029 mm", "drawing", "measured", 0.5),
        ("40 in", "drawing", "implies", 12.7),
    ],
)
def test_a_figure_that_names_no_uncertainty_is_good_to_half_its_last_place_or_to_the_custom_of_drawings(
    value: str, source_kind: str, how: str, half_width: float
) -> None:
    """1/64 in and .5 mm are common practice, no source; 16 SWG has .008 in to the next, 2 BA .6 mm (4.1 to 4.7)."""
    (found,) = quantity(HEIGHT, a_source("source", source_kind), a_figure(value, an_item("source", how))).values

    assert found.half_width == pytest.approx(half_width)
    assert found.standard == pytest.approx(half_width / sqrt(3))
    assert found.is_nominal is (source_kind in {"drawing", "manual", "catalogue", "specification"} and how == "states")


@pytest.mark.parametrize("kind", ["drawing", "survey"])
@pytest.mark.parametrize("give", ["1/4 in", "6.35 mm", "0.635 cm", "250 thou"])
def test_a_half_width_in_any_unit_counts_the_same_for_what_is_drawn_and_what_is_measured(kind: str, give: str) -> None:
    (found,) = quantity(HEIGHT, a_source("source", kind), a_figure("3 ft 4 1/2 in", "source", give=give)).values

    assert found.half_width == pytest.approx(6.35)
    assert found.standard == pytest.approx(6.35 / sqrt(3))


def test_half_widths_and_standard_uncertainties_are_told_apart_as_the_guide_does() -> None:
    """JCGM 100:2008, H.1: a difference good to +-.05 deg C, rectangular, has the standard uncertainty .029 deg C."""
    feature = a_feature(kind="quantity", aspect="quantity", unit="degC")
    of = a_source("analysis", "analysis")

    (wide,) = quantity(feature, of, a_figure("19.9 degC", "analysis", give="0.05 degC")).values
    (sure,) = quantity(feature, of, a_figure("19.9 degC", "analysis", standard="0.029 degC")).values

    assert round(wide.standard, 3) == 0.029
    assert wide.half_width == 0.05
    assert sure.standard == pytest.approx(0.029, rel=1e-12)
    assert sure.half_width == pytest.approx(0.029 * sqrt(3))


def test_a_give_or_take_in_fahrenheit_is_a_difference_and_no_temperature() -> None:
    """9 degrees Fahrenheit wide are 5 degrees Celsius wide; 212 stand for 100."""
    feature = a_feature(kind="quantity", aspect="quantity", unit="degC")

    (found,) = quantity(feature, a_source("log", "logbook"), a_figure("212 degF", "log", give="9 degF")).values

    assert (found.value, found.half_width) == pytest.approx((100, 5))


@pytest.mark.parametrize("give", ["0 mm", "rather close", "1 kg", "16 gauge"])
def test_an_uncertainty_that_says_nothing_of_use_is_taken_as_none(give: str) -> None:
    (found,) = quantity(HEIGHT, *SURVEYS, a_figure("1029 mm", "survey-1", give=give)).values

    assert found.half_width == 0.5
