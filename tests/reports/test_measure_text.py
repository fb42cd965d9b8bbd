"""The figures of a measure as they are laid out, worked out by hand."""

from dataclasses import replace

import pytest
from builders import a_claim, a_component, a_feature, a_source, an_archive, an_item, seen_on
from quantity_builders import a_figure, measured
from reports.answering import the_answer

from provenance.records.archive import Archive
from provenance.reports.evidence_text import evidence_text
from provenance.reports.measure_text import measure_lines
from provenance.rules.judging import judge_feature
from provenance.rules.quantity_values import Quantity

TITLES = {
    "plan": "General arrangement",
    "one": "Survey by A",
    "two": "Survey by B",
    "stub": "A bracket",
    "old": "A scheme",
}


def sheet_thickness() -> Archive:
    """A drawing lays down 16 SWG, .064 in or 1.6256 mm, half a step of the series wide: .1016 mm.

    Surveys of Nos. 9 and 10 found 1.62 and 1.64 mm, give or take .03: u = .01732, mean 1.63, U = 2 x .01732 / root 2 =
    .0245. A corroded bracket has 1.6 mm, to half a tenth. An unbuilt scheme has the gauge too, without weight.
    """
    thickness = a_feature(kind="quantity", aspect="dimension", unit="mm", name="Thickness")
    return an_archive(
        a_component("headlamp", thickness),
        a_source("plan", "drawing"),
        a_source("one", "survey"),
        a_source("two", "survey"),
        a_source("stub", "artefact"),
        a_source("old", "drawing", executed=False),
        a_figure("16 SWG", "plan", "old", to="all"),
        a_figure("1.62 mm", measured("one"), give=".03 mm"),
        a_figure("1.64 mm", measured("two", example="10"), give=".03 mm"),
        a_figure("1.6 mm", measured("stub", "corroded")),
    )


def figures(archive: Archive) -> Quantity:
    found = judge_feature(archive, "headlamp/type").quantity
    assert found is not None
    return found


def test_every_figure_stands_with_what_it_is_and_what_they_come_to_below() -> None:
    assert measure_lines(figures(sheet_thickness()), TITLES, 100, "  ") == [
        "  Figures, in mm:",
        "    - 1.600 give or take 0.050, written 1.6 mm; measured on a corroded piece: A bracket",
        "    - 1.620 give or take 0.030, written 1.62 mm; measured, in the mean: Survey by A",
        "    - 1.640 give or take 0.030, written 1.64 mm; measured, in the mean: Survey by B",
        "    - 1.63 give or take 0.10, written 16 SWG; laid down by the works, without weight: A scheme",
        "    - 1.63 give or take 0.10, written 16 SWG; laid down by the works: General arrangement",
        "  Mean 1.630 mm, give or take 0.024 mm.",
        "  Within that lies the size of the trade 16 SWG (1.626 mm).",
    ]


def test_figures_that_disagree_say_by_how_much_they_differ_among_one_another() -> None:
    """1000, 1001.5 and 1003, give or take 1: chi-square 13.5, between 4.5 / (1/3 + t2) = 2, t = 1.384, U = 1.7."""
    height = a_component("headlamp", a_feature(kind="quantity", aspect="dimension", unit="mm"))
    surveys = [a_source(name, "survey") for name in ("one", "two", "three")]
    claims = [
        replace(a_claim(f"{value} mm", an_item(name, "measured", seen=seen_on("9"))), uncertainty="1 mm")
        for name, value in (("one", "1000"), ("two", "1001.5"), ("three", "1003"))
    ]

    lines = measure_lines(figures(an_archive(height, *surveys, *claims)), {}, 200, "")

    assert lines[-2:] == [
        "Mean 1001.50 mm, give or take 1.7 mm, widened by what they differ among one another (1.4 mm).",
        "Within that lies the size of the trade 3 ft 3 3/8 in (1000.1 mm).",
    ]


def test_without_a_measurement_nothing_stands_below_the_figures() -> None:
    height = a_component("headlamp", a_feature(kind="quantity", aspect="dimension", unit="mm"))

    assert measure_lines(figures(an_archive(height, a_claim("3 ft 4 1/2 in", "plan"))), TITLES, 100, "") == [
        "Figures, in mm:",
        "  - 1028.70 give or take 0.40, written 3 ft 4 1/2 in; laid down by the works: General arrangement",
    ]


@pytest.mark.parametrize("width", [60, 80, 100])
def test_a_page_with_figures_keeps_to_its_width(width: int) -> None:
    page = evidence_text(the_answer(sheet_thickness()), width)

    assert max(len(line) for line in page.split("\n")) <= width
    assert "Figures, in mm:" in page
