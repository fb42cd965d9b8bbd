"""Changes from one machine to the next, and in the life of one machine.

Order of production: Nos 1-4 (1927/1928), 5-8 (1930), 9-11 (1933); No. 9 as at June 1934. The first machine of a batch
is five times as likely to be the first with the new value, unless the team says otherwise.
"""

from dataclasses import replace
from typing import Any

import pytest
from builders import (
    FEATURE,
    Record,
    a_claim,
    a_component,
    a_date,
    a_decision,
    a_feature,
    a_source,
    an_archive,
    an_event,
    an_item,
    applies,
)

from cases.case_building import chances, flags_on, judge, near, values, view
from provenance.records.archive import Target
from provenance.records.components import Option, OptionSign, Sign
from provenance.records.kinds import Changes, Expected, SignSeen
from provenance.rules.change_values import ChangeOver
from provenance.rules.grades import Category, Grade
from provenance.rules.judging import judge_feature
from provenance.rules.verdicts import Verdict


def sightings(**seen: tuple[str, str, str]) -> list[Record]:
    """Photographs, each by name with what it shows, the number of the machine and when."""
    records: list[Record] = [a_source(name) for name in seen]
    records += [
        a_claim(value, view(name, example, when), claim_id=f"claim-{name}")
        for name, (value, example, when) in seen.items()
    ]
    return records


def change_over(verdict: Verdict) -> ChangeOver:
    assert verdict.change_over is not None, verdict.change_said
    return verdict.change_over


def test_acetylene_on_no_8_and_electric_on_no_10_with_a_new_batch_between() -> None:
    """The first with electric is No. 9 (first of its batch: 5) or No. 10 (1): P(electric on 9) = 5 / 6 = .8333."""
    records = sightings(a=("acetylene", "8", "1931"), b=("electric", "10", "1934"))

    verdict = judge(*records)

    change = change_over(verdict)
    assert (verdict.grade, verdict.value) == (Grade.INFERRED, "electric")
    assert [(each.value, each.posterior) for each in verdict.candidates] == [
        ("electric", near(0.83333)),
        ("acetylene", near(0.16667)),
    ]
    assert (change.before.example, change.before.value, change.after.example, change.after.value) == (
        "8",
        "acetylene",
        "10",
        "electric",
    )
    assert (change.value, change.probability) == ("electric", near(0.83333))
    assert values(verdict)["acetylene"].grade is Grade.OUTWEIGHED
    assert "inferred-only" in flags_on(*records)


def test_without_a_step_at_batches_each_machine_between_is_equally_likely() -> None:
    """batch_step 1, No. 7 to No. 10: the first with electric is 8, 9 or 10: P = (9 - 7) / (10 - 7) = .6667.

    With the step: 1 + 5 of 1 + 5 + 1 = 6 / 7 = .8571.
    """
    records = sightings(a=("acetylene", "7", "1931"), b=("electric", "10", "1934"))

    assert change_over(judge(*records, weights={"batch_step": 1})).probability == near(0.66667)
    assert change_over(judge(*records)).probability == near(0.85714)


def test_without_a_step_between_the_two_neighbours_it_is_one_to_one() -> None:
    """No. 8 to No. 10, batch_step 1: (9 - 8) / (10 - 8) = .5 each."""
    verdict = judge(*sightings(a=("acetylene", "8", "1931"), b=("electric", "10", "1934")), weights={"batch_step": 1})

    assert (verdict.grade, verdict.value) == (Grade.INFERRED, "acetylene")
    assert chances(verdict) == near(0.5, 0.5)


def test_the_old_value_may_be_the_likelier() -> None:
    """No. 8 to No. 11 with batch_step 1: the first is 9, 10 or 11: P(electric) = 1 / 3, acetylene .6667.

    With the step: 5 of 5 + 1 + 1 = 5 / 7 = .7143 for electric.
    """
    records = sightings(a=("acetylene", "8", "1931"), b=("electric", "11", "1934"))

    plain, stepped = judge(*records, weights={"batch_step": 1}), judge(*records)

    assert (plain.value, plain.posterior, plain.grade) == ("acetylene", near(0.66667), Grade.INFERRED)
    assert (stepped.value, stepped.posterior) == ("electric", near(0.71429))


def test_of_several_machines_the_nearest_on_either_side_count() -> None:
    """Acetylene on 2, 5 and 7, electric on 10 and 11: from 7 to 10: 6 / 7 = .8571, however many more there are."""
    verdict = judge(
        *sightings(
            a=("acetylene", "2", "1929"),
            b=("acetylene", "5", "1931"),
            c=("acetylene", "7", "1931"),
            d=("electric", "10", "1934"),
            e=("electric", "11", "1934"),
        )
    )

    change = change_over(verdict)
    assert (change.before.example, change.after.example, change.probability) == ("7", "10", near(0.85714))


def test_a_third_value_is_outweighed_where_a_change_over_decides() -> None:
    """Oil by an opinion that only implies it (4 x .5 = 2 points): the change-over decides all the same."""
    verdict = judge(
        *sightings(a=("acetylene", "8", "1931"), b=("electric", "10", "1934")),
        a_source("opinion", "opinion", created="1934"),
        a_claim("oil", an_item("opinion", "implies")),
    )

    assert (verdict.value, verdict.grade) == ("electric", Grade.INFERRED)
    assert values(verdict)["electric"].posterior == near(0.83333)
    assert (values(verdict)["acetylene"].grade, values(verdict)["oil"].grade) == (Grade.OUTWEIGHED, Grade.OUTWEIGHED)


@pytest.mark.parametrize(
    ("when", "before"),
    [("1935", "8"), ("1936", "6")],
    ids=["possibly-five-years", "certainly-more"],
)
def test_a_machine_seen_long_after_it_was_built_may_have_been_altered(when: str, before: str) -> None:
    """No. 8, built 1930 (until 31 December): plus five years is the end of 1935: 1936 is certainly later: not taken.

    Then No. 6 is the nearest: the first with electric is 7, 8, 9 or 10: (1 + 1 + 5) / 8 = .875; else 5 / 6.
    """
    verdict = judge(*sightings(a=("acetylene", "6", "1931"), b=("acetylene", "8", when), c=("electric", "10", "1934")))

    change = change_over(verdict)
    assert (change.before.example, change.probability) == (before, near(0.83333 if before == "8" else 0.875))


def test_a_machine_seen_after_something_happened_to_it_is_not_taken() -> None:
    """No. 8 was rebuilt in 1931 and seen in 1932: not taken; No. 6 is the nearest: 7 / 8 = .875."""
    verdict = judge(
        *sightings(a=("acetylene", "6", "1931"), b=("acetylene", "8", "1932"), c=("electric", "10", "1934")),
        events=(an_event("1931", example="8"),),
    )

    assert (change_over(verdict).before.example, change_over(verdict).probability) == ("6", near(0.875))


def test_the_same_value_on_either_side_is_taken_not_to_have_changed() -> None:
    """No change-over: the ladder stands. No. 10, sister, 14: 6.65526; No. 8, another batch, 14: 2.71549; together
    18.0723, 8.2316 + 4.3385 = 12.5701 points; 18.0723 / 19.0723 = .9476, two lines, a sister: probable."""
    verdict = judge(*sightings(a=("electric", "8", "1931"), b=("electric", "10", "1934")))

    assert (verdict.change_over, verdict.grade, verdict.value) == (None, Grade.PROBABLE, "electric")
    assert (verdict.lines, verdict.posterior) == (2, near(0.94757))
    assert verdict.change_said


def test_a_fitting_that_comes_in_changes_over_as_a_choice_does() -> None:
    """Seen absent on No. 8 (against `present`), present on No. 10: 5 / 6 = .8333 for present on No. 9."""
    verdict = judge(
        a_component("headlamp", a_feature(kind="presence", aspect="presence")),
        a_source("a"),
        a_source("b"),
        a_claim("present", view("a", "8", "1931", stance="contradicts"), view("b", "10", "1934")),
    )

    assert (verdict.grade, verdict.value, verdict.posterior) == (Grade.INFERRED, "present", near(0.83333))
    assert (change_over(verdict).before.value, change_over(verdict).after.value) == ("absent", "present")


def test_two_batches_between_are_two_likely_places() -> None:
    """Acetylene on No. 3, electric on No. 10: the first is 4, 5, 6, 7, 8, 9 or 10, weighing 1, 5, 1, 1, 1, 5, 1: 15.

    At or before No. 9: 14 / 15 = .9333. With batch_step 1: (9 - 3) / (10 - 3) = 6 / 7 = .8571.
    """
    records = sightings(a=("acetylene", "3", "1929"), b=("electric", "10", "1934"))

    assert judge(*records).posterior == near(0.93333)
    assert judge(*records, weights={"batch_step": 1}).posterior == near(0.85714)


def test_a_machine_seen_on_a_day_unknown_is_taken_as_built() -> None:
    """No. 8 in a photograph without a date: 5 / 6 = .8333."""
    verdict = judge(
        a_source("a"),
        a_source("b"),
        a_claim("acetylene", view("a", "8", None)),
        a_claim("electric", view("b", "10", "1934")),
    )

    assert (verdict.value, verdict.posterior) == ("electric", near(0.83333))


def test_what_signs_show_on_a_sister_makes_a_change_over_too() -> None:
    """No. 8 shown with acetylene. On No. 10 the conduit alone is seen: always for electric, never for acetylene: .95,
    12.7875 points, shows: a direct sighting of electric: 5 / 6 = .8333."""
    options = (
        Option(id="acetylene", name="Acetylene", signs=(OptionSign(sign="conduit", expect=Expected.NEVER),)),
        Option(id="electric", name="Electric", signs=(OptionSign(sign="conduit", expect=Expected.ALWAYS),)),
    )

    verdict = judge(
        a_component("headlamp", a_feature(options=options), signs=(Sign(id="conduit", name="conduit"),)),
        a_source("a"),
        a_source("b"),
        a_claim("acetylene", view("a", "8", "1931")),
        a_claim("electric", view("b", "10", "1934", how="implies", signs=(("conduit", SignSeen.SEEN),))),
    )

    assert (verdict.grade, verdict.value, verdict.posterior) == (Grade.INFERRED, "electric", near(0.83333))


def test_what_is_only_implied_of_other_machines_makes_no_change_over() -> None:
    """No. 8 shown with acetylene; No. 10 only implies electric: 14 x .5 = 7 points. No direct sighting after No. 9.

    Acetylene 2.71549; electric q = .9: L = 5.01187: (.9 x 5.01187 + .1) / (.1 x 5.01187 + .9) = 4.61068 / 1.40119 =
    3.29056. Of 1 + 6.00605 = 7.00605: .3876 and .4697; no direct item near: inferred, electric.
    """
    verdict = judge(
        a_source("a"),
        a_source("b"),
        a_claim("acetylene", view("a", "8", "1931")),
        a_claim("electric", view("b", "10", "1934", how="implies")),
    )

    assert (verdict.change_over, verdict.grade, verdict.value) == (None, Grade.INFERRED, "electric")
    assert chances(verdict) == near(0.46967, 0.38759)


NO_CHANGE_OVER: dict[str, Any] = {
    "nearest-with-two-values": {
        "a": ("acetylene", "8", "1931"),
        "b": ("electric", "8", "1932"),
        "c": ("electric", "10", "1934"),
    },
    "an-example-with-both": {
        "a": ("acetylene", "8", "1931"),
        "b": ("electric", "10", "1934"),
        "c": ("acetylene", "5", "1931"),
        "d": ("electric", "5", "1932"),
    },
    "new-value-at-or-before-the-old": {
        "a": ("acetylene", "8", "1931"),
        "b": ("electric", "10", "1934"),
        "c": ("electric", "6", "1931"),
    },
    "old-value-at-or-after-the-new": {
        "a": ("acetylene", "8", "1931"),
        "b": ("electric", "10", "1934"),
        "c": ("acetylene", "11", "1934"),
    },
}


@pytest.mark.parametrize("seen", NO_CHANGE_OVER.values(), ids=NO_CHANGE_OVER)
def test_where_the_values_do_not_go_over_cleanly_none_is_computed_and_it_is_said(
    seen: dict[str, tuple[str, str, str]],
) -> None:
    verdict = judge(*sightings(**seen))

    assert verdict.change_over is None
    assert verdict.change_said


def test_where_a_machine_was_seen_with_both_the_ladder_stands() -> None:
    """No. 8 with acetylene and with electric, No. 10 with electric. Electric 6.65526 x 2.71549 = 18.0723; acetylene
    2.71549; of 1 + 20.7878 = 21.7878: .8295 and .1246; a sister, two lines: probable."""
    verdict = judge(*sightings(**NO_CHANGE_OVER["nearest-with-two-values"]))

    assert (verdict.grade, verdict.value, verdict.lines) == (Grade.PROBABLE, "electric", 2)
    assert chances(verdict) == near(0.82947, 0.12463)


def test_a_word_about_the_machine_itself_goes_before_any_change_over() -> None:
    """A catalogue of all (11, covered) states acetylene: a direct word: the ladder stands.

    Acetylene: 10.0322 x 2.71549 (No. 8) = 27.2423; electric: No. 10, 6.65526; of 1 + 33.8975 = 34.8975: .7806 and
    .1907.
    """
    verdict = judge(
        *sightings(a=("acetylene", "8", "1931"), b=("electric", "10", "1934")),
        a_source("catalogue", "catalogue"),
        a_claim("acetylene", "catalogue", to="all"),
    )

    assert (verdict.change_over, verdict.value) == (None, "acetylene")
    assert chances(verdict) == near(0.78064, 0.19071)


def test_machines_seen_on_one_side_only_leave_the_ladder_standing() -> None:
    """No. 8 alone: 2.71549 / 3.71549 = .7309: inferred by comparison, without a change-over."""
    verdict = judge(*sightings(a=("acetylene", "8", "1931")))

    assert (verdict.change_over, verdict.grade, verdict.posterior) == (None, Grade.INFERRED, near(0.73086))


# In service

LAMP_IN_SERVICE = a_component("headlamp", a_feature(changes=Changes.IN_SERVICE))


def in_service(as_at: str, last_old: str, first_new: str, **more: tuple[str, str, str]) -> Verdict:
    """No. 9 with acetylene until the one day, with electric from the other, represented as at a third."""
    records = sightings(a=("acetylene", "9", last_old), b=("electric", "9", first_new), **more)
    archive = an_archive(LAMP_IN_SERVICE, *records)
    return judge_feature(replace(archive, target=Target(example="9", as_at=a_date(as_at))), FEATURE)


@pytest.mark.parametrize(
    ("as_at", "value", "chance"),
    [("1934-06-15", "acetylene", 0.54670), ("1934-10-01", "electric", 0.75)],
)
def test_between_the_last_of_the_old_and_the_first_of_the_new_the_days_decide(
    as_at: str, value: str, chance: float
) -> None:
    """Acetylene on 1 January 1934, electric on 31 December: 364 days. 15 June is day 165: P(electric) = 165 / 364 =
    .4533, acetylene .5467. 1 October is day 273: 273 / 364 = .75."""
    verdict = in_service(as_at, "1934-01-01", "1934-12-31")

    assert (verdict.grade, verdict.value, verdict.posterior) == (Grade.INFERRED, value, near(chance))
    assert chances(verdict) == near(chance, 1 - chance)
    assert change_over(verdict).probability == near(chance)
    assert [item.applies for each in verdict.candidates for item in each.items] == [Category.ITSELF] * 2


def test_between_two_sightings_the_days_decide_beside_any_drawing() -> None:
    """A drawing of No. 9 (12 points) has acetylene; on 1 October 1934 it is electric by days: 273 / 364 = .75."""
    records = sightings(a=("acetylene", "9", "1934-01-01"), b=("electric", "9", "1934-12-31"))
    target = Target(example="9", as_at=a_date("1934-10-01"))

    verdict = judge(LAMP_IN_SERVICE, *records, a_claim("acetylene", "works-drawing", claim_id="drawn"), target=target)

    assert (verdict.grade, verdict.value) == (Grade.INFERRED, "electric")
    assert chances(verdict) == near(0.75, 0.25)


def test_a_feature_that_is_as_built_knows_no_change_in_service() -> None:
    """The same two sightings of a lamp that does not change in service: 25.1189 each: .4902 each, contested."""
    verdict = judge(*sightings(a=("acetylene", "9", "1934-01-01"), b=("electric", "9", "1934-12-31")))

    assert (verdict.change_over, verdict.grade, chances(verdict)) == (None, Grade.CONTESTED, near(0.49024, 0.49024))


def test_a_month_represented_counts_by_its_middle() -> None:
    """June 1934 is 1 to 30 June, days 151 to 180 from 1 January: the middle 165.5: 165.5 / 364 = .4547 (a whole day
    either way is .0014)."""
    verdict = in_service("1934-06", "1934-01-01", "1934-12-31")

    assert (verdict.value, verdict.posterior) == ("acetylene", near(0.54533, within=0.0015))


def test_the_last_of_several_old_sightings_and_the_first_of_several_new_ones_count() -> None:
    """Acetylene in 1933 too, electric in 1935 too: still from 1 January to 31 December 1934: 273 / 364 = .75."""
    verdict = in_service(
        "1934-10-01",
        "1934-01-01",
        "1934-12-31",
        c=("acetylene", "9", "1933-08"),
        d=("electric", "9", "1935-03"),
    )

    assert (verdict.value, verdict.posterior) == ("electric", near(0.75))


def test_what_changes_in_service_knows_no_change_over_from_machine_to_machine() -> None:
    """Acetylene on No. 8, electric on No. 10: a lamp that is as built would be electric by 5 / 6 = .8333.

    One that is changed in service may be changed on any machine, so the ladder stands: No. 8, another batch, 14:
    2.71549; No. 10, a sister, 14: 6.65526; of 1 + 9.37075 = 10.37075: .2618 and .6417; one line: uncorroborated.
    """
    records = sightings(a=("acetylene", "8", "1931"), b=("electric", "10", "1934"))

    verdict = judge(LAMP_IN_SERVICE, *records)

    assert (verdict.change_over, verdict.change_said) == (None, "")
    assert (verdict.grade, verdict.value, verdict.lines) == (Grade.UNCORROBORATED, "electric", 1)
    assert chances(verdict) == near(0.64173, 0.26184)


def test_after_the_first_of_the_new_the_old_speaks_as_a_sister_would() -> None:
    """As at June 1934; electric from 1 May 1934, acetylene last on 1 October 1933: 25.1189 and, as a sister, 6.65526.

    Of 1 + 31.7741 = 32.7741: .7664 and .2031, of a sister only: outweighed. No chance by days.
    """
    verdict = in_service("1934-06", "1933-10-01", "1934-05-01")

    assert (verdict.grade, verdict.value, verdict.lines) == (Grade.UNCORROBORATED, "electric", 1)
    assert chances(verdict) == near(0.76642, 0.20306)
    old = values(verdict)["acetylene"]
    assert (old.grade, old.items[0].applies, old.weight_for) == (Grade.OUTWEIGHED, Category.SAME_BATCH, near(8.2316))


def test_before_the_last_of_the_old_the_new_speaks_as_a_sister_would() -> None:
    """As at June 1934; acetylene still on 1 August 1934, electric on 1 October: .7664 for acetylene, .2031."""
    verdict = in_service("1934-06", "1934-08-01", "1934-10-01")

    assert (verdict.grade, verdict.value) == (Grade.UNCORROBORATED, "acetylene")
    assert chances(verdict) == near(0.76642, 0.20306)
    assert values(verdict)["electric"].items[0].applies is Category.SAME_BATCH


@pytest.mark.parametrize(
    ("as_at", "last_old", "first_new"),
    [("1934-06", "1934", "1934-08"), ("1934-06", "1934-01-01", "1934-06-10")],
    ids=["sightings-overlap", "day-represented-straddles"],
)
def test_where_it_is_not_certain_which_came_first_the_ladder_stands(as_at: str, last_old: str, first_new: str) -> None:
    """25.1189 each: .4902 each, both of the machine itself: contested."""
    verdict = in_service(as_at, last_old, first_new)

    assert (verdict.change_over, verdict.grade, chances(verdict)) == (None, Grade.CONTESTED, near(0.49024, 0.49024))


def test_three_values_in_service_leave_the_ladder_standing() -> None:
    """25.1189 each: 25.1189 / (1 + 75.3566) = .3290 each."""
    verdict = in_service("1934-06-15", "1934-01-01", "1934-12-31", c=("oil", "9", "1934-06-01"))

    assert (verdict.change_over, verdict.grade) == (None, Grade.CONTESTED)
    assert chances(verdict) == near(0.32897, 0.32897, 0.32897)


def test_two_choices_that_never_stood_together_on_one_machine_are_flagged() -> None:
    """Lamp chosen by what held until March 1934, dynamo by what held from January 1935: no day is in both."""
    dynamo = a_component("dynamo", a_feature("fitted", "presence", "presence", changes=Changes.IN_SERVICE))
    records: tuple[Record, ...] = (
        LAMP_IN_SERVICE,
        dynamo,
        a_claim("acetylene", "lamp-drawing", to=applies("9", until="1934-03")),
        a_claim("present", "dynamo-drawing", about="dynamo/fitted", to=applies("9", since="1935-01")),
        a_decision(basis=("headlamp-type-acetylene",), why="as drawn"),
        a_decision(
            "build-the-dynamo",
            "dynamo/fitted",
            build="present",
            basis=("dynamo-fitted-present",),
            why="as drawn",
        ),
    )

    assert "never-coexisted" in {*flags_on(*records), *flags_on(*records, about="dynamo/fitted")}
