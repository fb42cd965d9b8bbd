from math import sqrt

import pytest
from builders import Record, a_claim, a_feature, a_source, a_withdrawal, against, an_item, seen_on
from GTC import ureal
from hypothesis import given, settings
from hypothesis import strategies as st
from quantity_builders import HEIGHT, PART, SURVEYS, a_figure, assess, chosen_of, clusters, in_unit, measured, quantity
from uncertainties import ufloat

from provenance.records.kinds import Condition
from provenance.rules.grades import Category
from provenance.rules.quantities import group_quantities, quantity_of, value_words

# Which figures are one value


def test_a_drawing_in_feet_and_inches_and_a_measurement_in_millimetres_are_one_value() -> None:
    """3 ft 4 1/2 in is 1028.7 mm; 1029 is .3 away, good to 1/64 in and to .5 mm."""
    found = clusters(
        HEIGHT,
        PART,
        a_figure("3 ft 4 1/2 in", "drawing", claim_id="a"),
        a_figure("1029 mm", measured("part"), claim_id="b"),
    )

    assert found == {("a", "b")}


@pytest.mark.parametrize(
    ("other", "found"), [("1010 mm", {("a", "b")}), ("1010.001 mm", {("a",), ("b",)})], ids=["just", "not quite"]
)
def test_figures_are_one_value_up_to_twice_their_uncertainties_together(
    other: str, found: set[tuple[str, ...]]
) -> None:
    """By hand: 2 sqrt(3^2 + 4^2) = 10."""
    assert found == clusters(
        HEIGHT,
        *SURVEYS,
        a_figure("1000 mm", measured("survey-1"), claim_id="a", standard="3 mm"),
        a_figure(other, measured("survey-2"), claim_id="b", standard="4 mm"),
    )


def test_a_figure_between_two_others_makes_them_one_value() -> None:
    figures = [
        a_figure(f"{value} mm", measured(f"survey-{number}"), claim_id=f"{number}", standard="1 mm")
        for number, value in enumerate((1005.4, 1000, 1002.7), start=1)
    ]

    assert clusters(HEIGHT, *SURVEYS, *figures) == {("1", "2", "3")}
    assert clusters(HEIGHT, *SURVEYS, *figures[:2]) == {("1",), ("2",)}


def test_a_figure_that_is_both_drawn_and_measured_reaches_as_far_as_the_less_sure_of_the_two() -> None:
    """40 in measured is good to half an inch, drawn to 1/64 in; 40.5 in, good to .05 in, is within the wider alone."""
    other = a_figure("40.5 in", measured("survey-1"), claim_id="b")

    drawn = clusters(HEIGHT, *SURVEYS, a_figure("40 in", "drawing", claim_id="a"), other)
    both = clusters(HEIGHT, *SURVEYS, PART, a_figure("40 in", "drawing", measured("part"), claim_id="a"), other)

    assert drawn == {("a",), ("b",)}
    assert both == {("a", "b")}


def test_what_speaks_against_a_figure_does_not_make_it_less_sure_unless_nothing_speaks_for_it() -> None:
    """Against 40 in speaks a survey, which as the one to go by would be good to half an inch."""
    other = a_figure("40.5 in", measured("survey-1"), claim_id="b")
    no = against("survey-2", "measured", seen=seen_on("9"))

    assert clusters(HEIGHT, *SURVEYS, a_figure("40 in", "drawing", no, claim_id="a"), other) == {("a",), ("b",)}
    assert clusters(HEIGHT, *SURVEYS, a_figure("40 in", no, claim_id="a"), other) == {("a", "b")}


def test_a_figure_without_weight_joins_no_other() -> None:
    withdrawn = a_claim("1029 mm", measured("survey-1"), claim_id="b", withdrawn=a_withdrawal())

    found = clusters(HEIGHT, *SURVEYS, a_figure("1029 mm", measured("survey-2"), claim_id="a"), withdrawn)

    assert found == {("a",), ("b",)}


def test_figures_that_cannot_be_read_stand_as_text() -> None:
    """16 gauge names no thickness, a kilogram is no length, and neither brings judgement down."""
    assessor, assessed = assess(
        HEIGHT,
        a_figure("16 gauge", "drawing", claim_id="a"),
        a_figure("16  Gauge", "manual", claim_id="b"),
        a_figure("3 kg", "letter", claim_id="c"),
        a_figure("1029 mm", "print", claim_id="d"),
    )

    groups = group_quantities(HEIGHT, assessed)

    assert [(group.value, group.shown, group.claims) for group in groups] == [
        ("1029 mm", "1029 mm", ["d"]),
        ("16 gauge", "16 gauge", ["a", "b"]),
        ("3 kg", "3 kg", ["c"]),
    ]
    assert quantity_of(HEIGHT, groups[1], chosen_of(assessor, groups[1])) is None


@pytest.mark.parametrize("unit", [None, "cubits"])
def test_without_a_unit_to_build_in_every_figure_is_text(unit: str | None) -> None:
    feature = in_unit(unit)
    assessor, assessed = assess(feature, a_figure("1029 mm", "drawing"), a_figure("40 1/2 in", "manual"))

    groups = group_quantities(feature, assessed)

    assert [group.value for group in groups] == ["1029 mm", "40 1/2 in"]
    assert quantity_of(feature, groups[0], chosen_of(assessor, groups[0])) is None


def test_items_for_and_against_a_figure_stand_on_their_own_sides() -> None:
    _, assessed = assess(HEIGHT, *SURVEYS, a_figure("1029 mm", measured("survey-1"), against("survey-2", "measured")))

    (group,) = group_quantities(HEIGHT, assessed)

    assert [each.item.source for each in group.supporting] == ["survey-1"]
    assert [each.item.source for each in group.contradicting] == ["survey-2"]


@settings(max_examples=60)
@given(st.lists(st.tuples(st.integers(0, 80), st.sampled_from(["1 mm", "2 mm", "5 mm", "0.5 in"])), max_size=9))
def test_clusters_are_the_union_of_all_pairs_within_reach(drawn: list[tuple[int, str]]) -> None:
    figures = [
        a_figure(f"{1000 + value} mm", measured("survey-1"), claim_id=f"{number:02}", give=give)
        for number, (value, give) in enumerate(drawn)
    ]
    half_widths = {"1 mm": 1.0, "2 mm": 2.0, "5 mm": 5.0, "0.5 in": 12.7}
    parts = {number: {number} for number in range(len(drawn))}
    for one, (value, give) in enumerate(drawn):
        for other, (value_2, give_2) in enumerate(drawn):
            if (value - value_2) ** 2 <= 4 * (half_widths[give] ** 2 + half_widths[give_2] ** 2) / 3:
                joined = parts[one] | parts[other]
                parts.update(dict.fromkeys(joined, joined))

    found = clusters(HEIGHT, *SURVEYS, *figures)

    assert found == {tuple(f"{number:02}" for number in sorted(part)) for part in parts.values()}


# What the figures of one value come to


def test_the_nominal_of_this_machine_is_the_value_and_measurements_stand_beside_it() -> None:
    """By hand: of 1029 and 1029.6, good to .5 mm, the mean is 1029.3, u is .5/sqrt 6, chi-square .6^2 / (2/12)."""
    found = quantity(
        in_unit("mm", needed="10 mm"),
        *SURVEYS,
        PART,
        a_figure("3 ft 4 1/2 in", "drawing", claim_id="a"),
        a_figure("1029 mm", measured("part"), claim_id="b"),
        a_figure("1029.6 mm", measured("survey-1"), claim_id="c", give="0.5 mm"),
    )

    assert found.nominal == pytest.approx(1028.7)
    assert found.nominal_written == "3 ft 4 1/2 in"
    assert found.mean == pytest.approx(1029.3)
    assert found.expanded == pytest.approx(2 * 0.5 / sqrt(6))
    assert found.chi_square == pytest.approx(2.16)
    assert (found.degrees, found.consistent, found.between) == (1, True, 0)
    assert found.birge == pytest.approx(sqrt(found.chi_square or 0))
    assert [(value.source, value.counted, value.is_nominal) for value in found.values] == [
        ("drawing", False, True),
        ("part", True, False),
        ("survey-1", True, False),
    ]
    assert (found.needed, found.not_close_enough, found.disagreement) == (10, False, False)
    assert value_words(found, "?") == ("3 ft 4 1/2 in", "3 ft 4 1/2 in (1028.7 mm)")


def test_a_nominal_alone_is_good_to_its_own_half_width() -> None:
    found = quantity(in_unit("mm", needed="1/64 in"), a_figure("3 ft 4 1/2 in", "drawing"))

    assert found.nominal == pytest.approx(1028.7)
    assert (found.mean, found.chi_square, found.degrees, found.birge, found.consistent, found.between) == (None,) * 6
    assert found.expanded == pytest.approx(25.4 / 64)
    assert found.not_close_enough is False  # needed to just as much
    assert found.disagreement is False


def test_of_several_nominals_the_heaviest_leads_and_then_the_first_claim() -> None:
    manual = a_source("manual", "manual")
    lighter = a_figure("1028.8 mm", "manual", claim_id="a")
    heavier = [a_figure("1028.7 mm", "drawing", claim_id="c"), a_figure("1028.9 mm", "tracing", claim_id="b")]

    assert quantity(HEIGHT, manual, lighter, *heavier).nominal_written == "1028.9 mm"
    assert quantity(HEIGHT, manual, lighter, heavier[0]).nominal_written == "1028.7 mm"


def test_a_nominal_said_of_a_group_with_the_machine_leads_and_one_of_its_sisters_does_not() -> None:
    of_all = quantity(HEIGHT, a_figure("1029 mm", "drawing", to="all"))
    of_sister = quantity(HEIGHT, a_figure("1029 mm", "drawing", to="10"))

    assert of_all.nominal_written == "1029 mm"
    assert (of_sister.nominal, of_sister.nominal_written) == (None, None)
    assert of_sister.mean == pytest.approx(1029)
    assert of_sister.values[0].applies is Category.SAME_BATCH
    assert of_sister.values[0].counted


def test_beside_a_nominal_of_a_sister_measurements_are_averaged_with_it_one_value_a_line() -> None:
    """By hand: u^2 of 1/3 and 1/12, so weights 1 to 4: 1029 + 4/5 of .5."""
    found = quantity(
        HEIGHT,
        *SURVEYS,
        a_figure("1029 mm", "drawing", to="10", claim_id="a", give="1 mm"),
        a_figure("1029.5 mm", measured("survey-1"), claim_id="b", give="0.5 mm"),
    )

    assert found.mean == pytest.approx(1029.4)
    assert found.expanded == pytest.approx(2 * sqrt(1 / 15))


@pytest.mark.parametrize("condition", ["worn", "corroded", "distorted"])
def test_a_piece_that_is_not_sound_supports_a_value_and_never_sets_it(condition: str) -> None:
    worn = a_figure("1028 mm", measured("part", condition), claim_id="a")
    sound = a_figure("1028.5 mm", measured("survey-1"), claim_id="b", give="0.5 mm")

    both = quantity(in_unit("mm", needed="5 mm"), *SURVEYS, PART, worn, sound)
    alone = quantity(in_unit("mm", needed="5 mm"), *SURVEYS, PART, worn)

    assert both.mean == pytest.approx(1028.5)
    assert [(value.condition, value.counted) for value in both.values] == [(condition, False), ("sound", True)]
    assert (alone.nominal, alone.mean, alone.expanded, alone.near) == (None, None, None, ())
    assert alone.not_close_enough
    assert value_words(alone, "1028 mm") == ("1028 mm", "1028 mm")


def test_a_drawing_marked_as_of_a_worn_piece_does_not_lead() -> None:
    item = an_item("drawing", condition=Condition.WORN)

    assert quantity(HEIGHT, a_figure("1028 mm", item)).nominal is None


def test_what_is_only_implied_sets_no_value() -> None:
    """A height scaled from a photograph: it cannot show a dimension, so it is taken as implied."""
    photograph = a_source("photograph")

    found = quantity(HEIGHT, photograph, a_figure("1029 mm", an_item("photograph", "shows", seen=seen_on("9"))))

    assert (found.mean, [value.counted for value in found.values]) == (None, [False])


def test_a_nominal_without_weight_does_not_lead() -> None:
    unbuilt = a_source("scheme", "drawing", executed=False)

    found = quantity(HEIGHT, *SURVEYS, unbuilt, a_figure("1029 mm", "scheme", measured("survey-1")))

    assert found.nominal is None
    assert [(value.source, value.weight, value.counted) for value in found.values] == [
        ("scheme", 0, False),
        ("survey-1", 14, True),
    ]


def three_readings(*, copy_of_first: bool) -> list[Record]:
    first, second, third = (a_source(f"sheet-{number}", "survey") for number in (1, 2, 3))
    if copy_of_first:
        second = a_source("sheet-2", "survey", of=["transcription:sheet-1"])
    return [
        first,
        second,
        third,
        a_figure("10 mm", measured("sheet-1"), measured("sheet-2"), claim_id="a", standard="1 mm"),
        a_figure("11 mm", measured("sheet-3"), claim_id="b", standard="1 mm"),
    ]


def test_a_copy_of_a_reading_is_the_same_reading_and_moves_no_mean() -> None:
    """10, 10 copied from it, and 11, each good to 1: 10.5, u .707; three readings would be 10.333, u .577.

    In `uncertainties` a copy is the same variable: the mean of all three there is no surer than its spread allows.
    """
    first, third = ufloat(10, 1), ufloat(11, 1)
    copy = first

    copied = quantity(HEIGHT, *three_readings(copy_of_first=True))
    apart = quantity(HEIGHT, *three_readings(copy_of_first=False))

    mean = (first + third) / 2
    assert copied.mean == pytest.approx(mean.nominal_value) == pytest.approx(10.5)
    assert copied.expanded == pytest.approx(2 * mean.std_dev) == pytest.approx(2 * 0.7071, abs=1e-4)
    assert copied.degrees == 1
    assert apart.mean == pytest.approx(31 / 3)
    assert apart.expanded == pytest.approx(2 / sqrt(3))
    assert ((first + copy + third) / 3).std_dev > mean.std_dev


def test_measurements_that_disagree_are_widened_and_say_so() -> None:
    """1000 and 1004 meet over 1002, good to 1.2 each way. By brute force: where the weighted spread is n - 1."""
    figures = [(1000.0, 0.2), (1004.0, 0.2), (1002.0, 1.2)]
    records = [
        a_figure(f"{value} mm", measured(f"survey-{number}"), claim_id=f"{number}", standard=f"{standard} mm")
        for number, (value, standard) in enumerate(figures, start=1)
    ]

    found = quantity(in_unit("mm", needed="2 mm"), *SURVEYS, *records)

    def spread(added: float) -> tuple[float, float, float]:
        weights = [1 / (standard**2 + added) for _, standard in figures]
        mean = sum(weight * value for weight, (value, _) in zip(weights, figures, strict=True)) / sum(weights)
        scatter = sum(weight * (value - mean) ** 2 for weight, (value, _) in zip(weights, figures, strict=True))
        return scatter, mean, 1 / sqrt(sum(weights))

    tried = min((step / 1000 for step in range(1, 20_000)), key=lambda added: abs(spread(added)[0] - 2))
    assert (found.consistent, found.disagreement, found.not_close_enough) == (False, True, True)
    assert found.between == pytest.approx(sqrt(tried), abs=1e-3)
    assert (found.mean, found.expanded) == pytest.approx((spread(tried)[1], 2 * spread(tried)[2]), abs=1e-3)
    assert found.chi_square == pytest.approx(spread(0)[0])
    assert found.birge == pytest.approx(sqrt(spread(0)[0] / 2))


def test_three_readings_are_as_sure_together_as_gtc_makes_them() -> None:
    """By the law of propagation of uncertainty (JCGM 100:2008, 5.1.2)."""
    standards = (5.8, 3.9, 6.7)
    records = [
        a_figure("215 mm", measured(f"survey-{number}"), claim_id=f"{number}", standard=f"{standard} mm")
        for number, standard in enumerate(standards, start=1)
    ]

    found = quantity(HEIGHT, *SURVEYS, *records)

    total = sum(1 / standard**2 for standard in standards)
    by_gtc = sum(ureal(215, standard) / standard**2 for standard in standards) / total
    assert (found.mean, found.expanded) == pytest.approx((by_gtc.x, 2 * by_gtc.u))


def test_sizes_of_the_trade_near_a_mean_are_named_in_the_unit_to_build_in() -> None:
    """16 SWG is .064 in, 1.6256 mm (BS 3737:1964)."""
    sheet = a_figure("1.63 mm", measured("part"), give="0.01 mm")

    in_mm = quantity(HEIGHT, PART, sheet).near
    in_inches = quantity(in_unit("in"), PART, sheet).near

    assert {size.name: size.value for size in in_mm} == pytest.approx({"16 SWG": 1.6256})
    assert {size.name: size.value for size in in_inches} == pytest.approx({"16 SWG": 0.064})


def test_just_within_is_within_whatever_the_last_bit_says() -> None:
    """By hand: three figures good to .9 mm have a mean of 1002.7 good to .6; 3 ft 3 1/2 in is 1003.3, just so far."""
    figures = [
        a_figure(f"{value} mm", measured(f"survey-{number}"), claim_id=f"{number}", give="0.9 mm")
        for number, value in enumerate((1002, 1002.4, 1003.7), start=1)
    ]

    found = [quantity(in_unit(unit, needed="0.6 mm"), *SURVEYS, *figures) for unit in ("mm", "in", "m")]

    assert [[size.name for size in each.near] for each in found] == [["3 ft 3 1/2 in"]] * 3
    assert [each.not_close_enough for each in found] == [False] * 3


def test_a_pressure_has_no_sizes_of_the_trade() -> None:
    feature = a_feature(kind="quantity", aspect="quantity", unit="lbf/in2")

    found = quantity(feature, a_source("log", "logbook"), a_figure("160 lbf/in2", "log"))

    assert found.mean == pytest.approx(160)
    assert found.near == ()


@pytest.mark.parametrize("needed", [None, "close", "1 kg"])
def test_without_a_need_that_can_be_read_every_figure_is_close_enough(needed: str | None) -> None:
    found = quantity(in_unit("mm", **({"needed": needed} if needed else {})), a_figure("1029 mm", "drawing"))

    assert (found.needed, found.not_close_enough) == (None, False)
