"""Figures: what was drawn, what was measured, how closely, and whether they agree.

A half-width a is rectangular: u = a / root 3. Two figures join where they are no further apart than
2 root(u1^2 + u2^2). The sums are held to half a unit of the fourth place.
"""

from dataclasses import replace
from typing import Any

import pytest
from builders import FEATURE, Record, a_claim, a_component, a_feature, a_source, an_item, applies

from cases.case_building import chances, counted, flags_on, judge, near, values, view
from provenance.records.claims import Claim, EvidenceItem
from provenance.records.kinds import Condition
from provenance.rules.grades import Grade
from provenance.rules.quantity_values import Quantity
from provenance.rules.verdicts import Verdict


def height(**fields: Any) -> Record:
    """A dimension in millimetres, taken from the top of the rail."""
    return a_component(
        "headlamp", a_feature(kind="quantity", aspect="dimension", unit="mm", datum="top of rail", **fields)
    )


def figure(
    value: str, *items: EvidenceItem | str, give: str | None = None, standard: bool = False, to: str = "9"
) -> Claim:
    """A claim of a figure, give or take; `standard` for a standard uncertainty."""
    return replace(a_claim(value, *items, to=to), uncertainty=give, uncertainty_standard=standard)


def measured(source: str, **fields: Any) -> EvidenceItem:
    """Measured on No. 9, known by its number, in 1934."""
    return view(source, how="measured", **fields)


def quantity(verdict: Verdict) -> Quantity:
    assert verdict.quantity is not None
    return verdict.quantity


def used(verdict: Verdict) -> list[str]:
    """The sources over which the mean was taken."""
    return [each.source for each in quantity(verdict).values if each.counted]


def test_a_drawn_quarter_inch_and_a_corroded_sample_that_agrees() -> None:
    """Drawn 1/4 in = 6.35 mm, give or take 1/64 in = .396875 mm: u = .229136. Corroded sample 6.0 +- .1: u = .057735.

    .35 apart, within 2 root(.0525034 + .00333333) = 2 x .236297 = .472594: one value. 12 + 16 = 28 points, L =
    630.957, .9984, two lines, measured on the part: established. The sample supports and does not set: the value is
    the drawn one.
    """
    records: tuple[Record, ...] = (
        height(),
        a_source("sample", "artefact"),
        figure("1/4 in", "works-drawing"),
        figure("6.0 mm", measured("sample", condition=Condition.CORRODED), give="0.1 mm"),
    )

    verdict = judge(*records)

    assert (verdict.grade, verdict.value, verdict.lines) == (Grade.ESTABLISHED, "1/4 in", 2)
    assert (verdict.candidates[0].weight_for, verdict.posterior) == (28, near(0.99842))
    asked = quantity(verdict)
    assert (asked.nominal, asked.nominal_written, asked.mean, asked.chi_square) == (near(6.35), "1/4 in", None, None)
    assert used(verdict) == []
    assert flags_on(*records) == ()


@pytest.mark.parametrize("condition", [Condition.WORN, Condition.CORRODED, Condition.DISTORTED])
def test_a_piece_that_is_not_sound_is_left_out_of_the_mean(condition: Condition) -> None:
    """Survey 6.35 +- .2 and a worn piece 6.2 +- .2, u .11547 each: .15 apart, within .3266: one value; 14 + 16 = 30
    points: 1000 / 1001 = .9990. The mean is of the survey alone: 6.35, U = .23094."""
    verdict = judge(
        height(),
        a_source("survey", "survey"),
        a_source("piece", "artefact"),
        figure("6.35 mm", measured("survey"), give="0.2 mm"),
        figure("6.2 mm", measured("piece", condition=condition), give="0.2 mm"),
    )

    assert (verdict.grade, verdict.lines, verdict.posterior) == (Grade.ESTABLISHED, 2, near(0.99900))
    assert (quantity(verdict).mean, quantity(verdict).expanded) == (near(6.35), near(0.23094))
    assert used(verdict) == ["survey"]


def test_a_sound_sample_under_a_drawn_figure_is_averaged_and_the_drawn_figure_is_the_value() -> None:
    """Drawn 3 ft 4 1/2 in = 40.5 x 25.4 = 1028.7 mm; survey 1029 +- 3: u = 1.73205. .3 apart: one value.

    The value is the nominal as written; mean 1029 of the one measurement, U = 2 x 1.73205 = 3.4641, chi-square 0 with 0
    degrees, no Birge ratio, consistent.
    """
    verdict = judge(
        height(),
        a_source("survey", "survey"),
        figure("3 ft 4 1/2 in", "works-drawing"),
        figure("1029 mm", measured("survey"), give="3 mm"),
    )

    assert (verdict.grade, verdict.value, verdict.lines) == (Grade.ESTABLISHED, "3 ft 4 1/2 in", 2)
    asked = quantity(verdict)
    assert (asked.nominal, asked.mean, asked.expanded) == (near(1028.7), near(1029), near(3.4641))
    assert (asked.chi_square, asked.degrees, asked.birge, asked.consistent) == (0, 0, None, True)
    assert used(verdict) == ["survey"]


def test_of_two_nominal_figures_the_heavier_is_the_value() -> None:
    """Drawing 40.5 in = 1028.7 (12 points), manual 1029 mm (11): .3 apart, u = .229136 and .5 / 1.73205 = .288675:
    2 x .368556 = .737: one value, the drawing's as written. 23 points: .9950, probable."""
    verdict = judge(
        height(), a_source("manual", "manual"), figure("1029 mm", "manual"), figure("40.5 in", "works-drawing")
    )

    assert (verdict.grade, verdict.value, verdict.lines) == (Grade.PROBABLE, "40.5 in", 2)
    assert (quantity(verdict).nominal, verdict.posterior) == (near(1028.7), near(0.99501))


def test_a_figure_drawn_for_another_batch_does_not_set_the_value() -> None:
    """Drawn for Nos 1 to 4, 1028.7 mm, 12 points (q = .75: 4.1087); survey of No. 9 1029 +- 3, 14 points.

    One value of two lines, 18.1087 points; 25.1189 x 2.57557 = 64.6955; .9848. No nominal of this machine: not as
    drawn.
    """
    verdict = judge(
        height(),
        a_source("survey", "survey"),
        figure("40.5 in", "works-drawing", to="1..4"),
        figure("1029 mm", measured("survey"), give="3 mm"),
    )

    assert (verdict.grade, verdict.lines, verdict.posterior) == (Grade.ESTABLISHED, 2, near(0.98478))
    assert (quantity(verdict).nominal, quantity(verdict).nominal_written) == (None, None)
    assert verdict.value != "40.5 in"


THREE_THAT_AGREE: tuple[Record, ...] = (
    a_source("survey", "survey"),
    a_source("analysis", "analysis"),
    a_source("report", "report", created="1934"),
    figure("1029 mm", measured("survey"), give="3 mm"),
    figure("1030 mm", measured("report"), give="3 mm"),
    figure("1031 mm", measured("analysis"), give="3 mm"),
)


@pytest.mark.parametrize(
    ("needed", "flags"), [("1 mm", ("not-known-closely-enough",)), ("3 mm", ()), (None, ())], ids=str
)
def test_three_figures_that_agree_and_how_closely_they_are_needed(needed: str | None, flags: tuple[str, ...]) -> None:
    """1029, 1030, 1031, each +- 3: u = 1.73205, u^2 = 3. Mean 1030, u = root(3 / 3) = 1, U = 2.

    Chi-square (1 + 0 + 1) / 3 = .6667 with 2 degrees, p = e^(-.3333) = .7165: consistent; Birge root(.3333) = .5774.
    14 + 14 + 9 = 37 points: L = 5011.87, .9998, three lines: established. Needed within 1: U is more; within 3: not.
    """
    records: tuple[Record, ...] = (height(needed=needed), *THREE_THAT_AGREE)

    verdict = judge(*records)

    assert (verdict.grade, verdict.value, verdict.lines) == (Grade.ESTABLISHED, "1030.0 mm", 3)
    assert (verdict.candidates[0].weight_for, verdict.posterior) == (37, near(0.99980))
    asked = quantity(verdict)
    assert (asked.nominal, asked.mean, asked.expanded) == (None, near(1030), near(2))
    assert (asked.chi_square, asked.degrees, asked.birge, asked.consistent) == (near(0.66667), 2, near(0.57735), True)
    assert flags_on(*records) == flags


def test_two_surveys_that_disagree_beyond_their_limits() -> None:
    """1000.0, u 3, and 1009.9, u 4: 9.9 apart, within 2 root(9 + 16) = 10: one value. Fixed mean 1003.564; chi-square
    9.9^2 / 25 = 98.01 / 25 = 3.9204 with 1 degree, p = .0477 < .05: inconsistent; Birge root(3.9204) = 1.98.

    Paule-Mandel: 98.01 / (25 + 2 t) = 1: t = 36.505, root 6.0419. Weights 1 / 45.505 and 1 / 52.505: mean
    1000 + 9.9 x 45.505 / 98.01 = 1004.5965; u^2 = 45.505 x 52.505 / 98.01 = 24.3775, u = 4.9374, U = 9.8747.
    14 + 14 = 28 points: .9984, established all the same, and flagged.
    """
    records: tuple[Record, ...] = (
        height(),
        a_source("survey-1", "survey"),
        a_source("survey-2", "survey"),
        figure("1000.0 mm", measured("survey-1"), give="3 mm", standard=True),
        figure("1009.9 mm", measured("survey-2"), give="4 mm", standard=True),
    )

    verdict = judge(*records)

    assert (verdict.grade, verdict.lines, verdict.posterior) == (Grade.ESTABLISHED, 2, near(0.99842))
    asked = quantity(verdict)
    assert (asked.chi_square, asked.degrees, asked.birge, asked.consistent) == (near(3.9204), 1, near(1.98), False)
    assert (asked.between, asked.mean, asked.expanded) == (near(6.04194), near(1004.59646), near(9.87472))
    assert verdict.value == "1004.6 mm"
    assert "measurements-disagree" in flags_on(*records)


def test_three_surveys_joined_through_the_middle_one_disagree() -> None:
    """1000, 1009.5, 1019, u 5 each: neighbours 9.5 apart, within 2 root(50) = 14.1421; the ends only through the
    middle.

    Mean 1009.5; chi-square 2 x 90.25 / 25 = 7.22 with 2 degrees, p = e^(-3.61) = .0271: inconsistent; Birge 1.9.
    Paule-Mandel: 180.5 / (25 + t) = 2: t = 65.25, root 8.0777; u^2 = 90.25 / 3 = 30.0833, U = 2 x 5.48483 = 10.9697.
    """
    records: tuple[Record, ...] = (
        height(),
        *(a_source(f"survey-{n}", "survey") for n in (1, 2, 3)),
        *(
            figure(f"{value} mm", measured(f"survey-{n}"), give="5 mm", standard=True)
            for n, value in ((1, "1000.0"), (2, "1009.5"), (3, "1019.0"))
        ),
    )

    verdict = judge(*records)

    asked = quantity(verdict)
    assert (len(verdict.candidates), verdict.lines) == (1, 3)
    assert (asked.chi_square, asked.degrees, asked.birge, asked.consistent) == (near(7.22), 2, near(1.9), False)
    assert (asked.between, asked.mean, asked.expanded) == (near(8.07775), near(1009.5), near(10.96966))
    assert "measurements-disagree" in flags_on(*records)


def test_two_figures_too_far_apart_are_two_values() -> None:
    """1000 and 1011, u 3 and 4: 11 apart, more than 10: two values, 14 points each: .4902 each: contested."""
    records: tuple[Record, ...] = (
        height(),
        a_source("survey-1", "survey"),
        a_source("survey-2", "survey"),
        figure("1000 mm", measured("survey-1"), give="3 mm", standard=True),
        figure("1011 mm", measured("survey-2"), give="4 mm", standard=True),
    )

    verdict = judge(*records)

    assert (verdict.grade, len(verdict.candidates), chances(verdict)) == (Grade.CONTESTED, 2, near(0.49024, 0.49024))
    assert "measurements-disagree" not in flags_on(*records)


def test_a_claim_that_is_drawn_and_measured_joins_by_the_wider_of_its_two_limits() -> None:
    """40.5 in = 1028.7 mm: drawn, u .229136; measured to half of .1 in, 1.27 mm: u .733235. Another 1030.1 +- .1:
    u .057735. 1.4 apart: within 2 root(.537633 + .00333333) = 1.4710 by the wider, not .4726 by the narrower."""
    verdict = judge(
        height(),
        a_source("survey-1", "survey"),
        a_source("survey-2", "survey"),
        figure("40.5 in", "works-drawing", measured("survey-1")),
        figure("1030.1 mm", measured("survey-2"), give="0.1 mm"),
    )

    assert (len(verdict.candidates), verdict.lines, verdict.value) == (1, 3, "40.5 in")


def test_measurements_may_disagree_under_a_drawn_figure_that_stays_the_value() -> None:
    """Drawn 1004 mm (u .288675) and the two surveys 1000.0, u 3, and 1009.9, u 4: chi-square 3.9204 as before."""
    records: tuple[Record, ...] = (
        height(),
        a_source("survey-1", "survey"),
        a_source("survey-2", "survey"),
        figure("1004 mm", "works-drawing"),
        figure("1000.0 mm", measured("survey-1"), give="3 mm", standard=True),
        figure("1009.9 mm", measured("survey-2"), give="4 mm", standard=True),
    )

    verdict = judge(*records)

    assert (verdict.value, verdict.lines) == ("1004 mm", 3)
    assert (quantity(verdict).chi_square, quantity(verdict).mean) == (near(3.9204), near(1004.59646))
    assert flags_on(*records) == ("measurements-disagree",)


def test_a_figure_scaled_by_eye_from_a_photograph_supports_and_is_not_averaged() -> None:
    """Survey 1030 +- 3 (u 1.73205); a photograph shows 1032 (half a unit of the last place: .5, u .288675): 2 apart,
    within 2 x 1.75594 = 3.5119: one value. A photograph cannot show a dimension: implied, 7. 14 + 7 = 21 points:
    L = 125.893; .9921. The mean is of the survey alone: 1030, U = 3.4641."""
    verdict = judge(
        height(),
        a_source("survey", "survey"),
        a_source("view"),
        figure("1030 mm", measured("survey"), give="3 mm"),
        figure("1032 mm", view("view")),
    )

    assert (verdict.grade, verdict.lines, verdict.posterior) == (Grade.ESTABLISHED, 2, near(0.99212))
    assert (quantity(verdict).mean, quantity(verdict).expanded) == (near(1030), near(3.4641))
    assert used(verdict) == ["survey"]


def test_a_copy_of_a_survey_is_not_averaged_a_second_time() -> None:
    """The transcript of the survey is no second line: one line, 14 points, mean 1030, U 3.4641 and not 2.4495."""
    verdict = judge(
        height(),
        a_source("survey", "survey"),
        a_source("transcript", "survey", of=["transcription:survey"]),
        figure("1030 mm", measured("survey"), measured("transcript"), give="3 mm"),
    )

    assert (verdict.grade, verdict.lines, verdict.rests_on) == (Grade.UNCORROBORATED, 1, ("survey",))
    assert (quantity(verdict).mean, quantity(verdict).expanded) == (near(1030), near(3.4641))
    assert (quantity(verdict).degrees, len(counted(verdict.candidates[0]))) == (0, 1)


@pytest.mark.parametrize(
    ("written", "in_mm", "expanded"),
    [
        ("1030 mm", 1030, 0.57735),
        ("1030.0 mm", 1030, 0.057735),
        ("40 1/2 in", 1028.7, 7.33235),
        ("40.5 in", 1028.7, 1.46647),
    ],
)
def test_without_a_give_or_take_a_measured_figure_is_known_to_half_its_last_place(
    written: str, in_mm: float, expanded: float
) -> None:
    """U = 2 a / root 3, a being half a millimetre: .57735; of .1: .057735; of 1/2 in = 12.7 mm: 6.35, 7.33235;
    of .1 in = 2.54 mm: 1.27, 1.46647."""
    verdict = judge(height(), a_source("survey", "survey"), figure(written, measured("survey")))

    assert (quantity(verdict).mean, quantity(verdict).expanded) == (near(in_mm), near(expanded))


def test_weights_by_the_inverse_square_favour_the_closer_measurement() -> None:
    """1000.0, u 1 and 1003.0, u 2: 3 apart, within 2 root 5 = 4.4721. Weights 1 and 1/4: mean 1000 + 3 x .25 / 1.25 =
    1000.6; u = root(1 / 1.25) = .894427, U = 1.78885; chi-square .36 + 2.4^2 / 4 = .36 + 1.44 = 1.8 with 1 degree,
    p = .18: consistent; Birge root(1.8) = 1.34164."""
    verdict = judge(
        height(),
        a_source("survey-1", "survey"),
        a_source("survey-2", "survey"),
        figure("1000.0 mm", measured("survey-1"), give="1 mm", standard=True),
        figure("1003.0 mm", measured("survey-2"), give="2 mm", standard=True),
    )

    asked = quantity(verdict)
    assert (asked.mean, asked.expanded, asked.chi_square) == (near(1000.6), near(1.78885), near(1.8))
    assert (asked.birge, asked.consistent, asked.between) == (near(1.34164), True, 0)


def test_the_sizes_of_the_trade_within_the_give_or_take_are_named_the_nearest_first() -> None:
    """Sheet measured as 1.63 mm +- .03: U = 2 x .03 / 1.73205 = .034641. 16 SWG is .064 in = 1.6256 mm, .0044 off:
    within; 1/16 in = 1.5875 mm is .0425 off and 15 SWG, .072 in = 1.8288 mm, .1988 off: outside.

    (SWG: legal in the United Kingdom from 1884, BS 3737.)
    """
    verdict = judge(height(), a_source("survey", "survey"), figure("1.63 mm", measured("survey"), give="0.03 mm"))

    found = {each.name: each.value for each in quantity(verdict).near}
    assert quantity(verdict).expanded == near(0.034641)
    assert near(1.6256) in found.values()
    assert all(abs(value - 1.63) <= 0.034642 for value in found.values())
    assert list(found.values()) == sorted(found.values(), key=lambda value: abs(value - 1.63))


def test_a_dimension_without_a_datum_is_flagged() -> None:
    component = a_component("headlamp", a_feature(kind="quantity", aspect="dimension", unit="mm"))

    assert "no-datum" in flags_on(component, figure("40.5 in", "works-drawing"), about=FEATURE)


def test_a_drawn_figure_of_a_group_with_this_machine_sets_the_value_too() -> None:
    """Drawn for all, 12 points (q = .98: 11.9909, 10.7885 points), covered: the nominal is the value; .9230, one
    line."""
    verdict = judge(height(), figure("40.5 in", an_item("works-drawing", applies_to=applies("all"))))

    assert (verdict.grade, verdict.value, verdict.lines) == (Grade.UNCORROBORATED, "40.5 in", 1)
    assert (quantity(verdict).nominal, quantity(verdict).mean) == (near(1028.7), None)
    assert (values(verdict)["40.5 in"].weight_for, verdict.posterior) == (near(10.7885), near(0.92302))
