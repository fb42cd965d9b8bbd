"""Which machine was seen, when, and how that is known.

A photograph weighs 14 points, L = 25.1189. Carried over: by caption (q = .98) 16.6196, 12.2062 points; of a sister
(q = .9) 6.65526, 8.2316 points; of another batch (q = .75) 2.71549, 4.3385 points; of a related type (q = .6) 1.45304,
1.6228 points.
"""

import pytest
from builders import Record, a_claim, a_component, a_feature, a_source, an_event, an_item, applies, shows

from cases.case_building import chances, counted, flag_on, flags_on, judge, near, values, view, weights
from provenance.records.components import Sign
from provenance.records.kinds import How
from provenance.records.sources import Shows
from provenance.rules.grades import Category, Grade


def test_a_number_that_can_be_read_is_ahead_of_a_caption_and_does_not_settle_it() -> None:
    """Number: 25.1189; caption: (.98 x 25.1189 + .02) / (.02 x 25.1189 + .98) = 24.6365 / 1.48238 = 16.6196.

    Of 1 + 41.7384 = 42.7384: .5877 and .3889, which is .15 or more and covers this machine: contested.
    """
    records: tuple[Record, ...] = (
        a_source("numbered"),
        a_source("captioned"),
        a_claim("acetylene", view("numbered")),
        a_claim("electric", view("captioned", known_by="caption")),
    )

    verdict = judge(*records)

    assert (verdict.grade, verdict.value, verdict.lines) == (Grade.CONTESTED, "acetylene", 1)
    assert chances(verdict) == near(0.58774, 0.38887)
    assert values(verdict)["electric"].weight_for == near(12.2062)
    assert flags_on(*records) == ("contested", "single-source")


def test_a_caption_that_names_the_target_gives_way_to_the_number_read_in_the_same_picture() -> None:
    """The album says No. 9, the number is 10: entered as seen on No. 10, a sister: (.9 x 25.1189 + .1) /
    (.1 x 25.1189 + .9) = 22.7070 / 3.41189 = 6.65526, 8.2316 points; 6.65526 / 7.65526 = .8694."""
    records: tuple[Record, ...] = (
        a_source("view", shows=(shows("9", "1934", "caption"),)),
        a_claim("acetylene", view("view", "10")),
    )

    verdict = judge(*records)

    assert (verdict.grade, verdict.lines, verdict.rests_on) == (Grade.UNCORROBORATED, 1, ("view",))
    assert verdict.candidates[0].items[0].applies is Category.SAME_BATCH
    assert (verdict.candidates[0].weight_for, verdict.posterior) == (near(8.2316), near(0.86937))
    assert set(flags_on(*records)) == {"single-source", "other-example-only"}


@pytest.mark.parametrize(
    ("example", "known_by", "category", "points", "chance", "grade"),
    [
        ("9", "number", Category.ITSELF, 14, 0.96171, Grade.UNCORROBORATED),
        ("9", "caption", Category.COVERED, 12.2062, 0.94325, Grade.UNCORROBORATED),
        ("9", "likeness", Category.SAME_BATCH, 8.2316, 0.86937, Grade.UNCORROBORATED),
        ("11", "number", Category.SAME_BATCH, 8.2316, 0.86937, Grade.UNCORROBORATED),
        ("4", "number", Category.SAME_TYPE, 4.3385, 0.73086, Grade.INFERRED),
        ("shunter", "number", Category.RELATED_TYPE, 1.6228, 0.59234, Grade.INFERRED),
    ],
)
def test_one_photograph_is_worth_less_the_farther_off_the_machine_is(
    *, example: str, known_by: str, category: Category, points: float, chance: float, grade: Grade
) -> None:
    """L' / (1 + L'): 25.1189 / 26.1189, 16.6196 / 17.6196, 6.65526 / 7.65526, 2.71549 / 3.71549, 1.45304 / 2.45304."""
    verdict = judge(
        a_source("view"), a_claim("acetylene", view("view", example, known_by=known_by)), related=["shunter"]
    )

    (acetylene,) = verdict.candidates
    assert (acetylene.items[0].applies, acetylene.items[0].weight, verdict.grade) == (category, 14, grade)
    assert (acetylene.weight_for, verdict.posterior) == (near(points), near(chance))


def test_what_its_source_says_it_shows_is_what_an_item_saw() -> None:
    """The photograph is entered as of No. 9, known by its number, and the item does not repeat it: 14, .9617."""
    verdict = judge(
        a_source("view", shows=(shows("9", "1934", "number"),)),
        a_claim("acetylene", an_item("view", "shows"), to="all"),
    )

    assert (verdict.candidates[0].items[0].applies, verdict.posterior) == (Category.ITSELF, near(0.96171))


@pytest.mark.parametrize(
    "shown",
    [(shows("9", "1934", "number"), shows("10", "1934", "number")), (shows("9", "1934", "number", "bogie"),)],
    ids=["two-machines", "another-component"],
)
def test_a_source_that_does_not_say_which_machine_leaves_what_the_claim_covers(shown: tuple[Shows, ...]) -> None:
    """Then it is a statement about all: covered, 16.6196 / 17.6196 = .9432."""
    verdict = judge(a_source("view", shows=shown), a_claim("acetylene", an_item("view", "shows"), to="all"))

    assert (verdict.candidates[0].items[0].applies, verdict.posterior) == (Category.COVERED, near(0.94325))


def test_the_period_of_a_claim_is_not_looked_at_for_a_sighting() -> None:
    """The claim says "from 1936", the photograph shows No. 9 in 1934: 14 points, .9617."""
    verdict = judge(a_source("view"), a_claim("acetylene", view("view"), to=applies("9", since="1936")))

    assert (verdict.candidates[0].items[0].applies, verdict.posterior) == (Category.ITSELF, near(0.96171))


COLLISION = an_event("1934-02")
BEFORE_AND_AFTER: tuple[Record, ...] = (
    a_source("view-before"),
    a_source("view-after"),
    a_claim("acetylene", view("view-before", when="1933-08")),
    a_claim("electric", view("view-after", when="1934-09")),
)


def test_a_sighting_before_the_collision_gives_way_to_one_after_it() -> None:
    """As at June 1934. August 1933 lies before the collision of February 1934: as a sister, 6.65526. September 1934
    lies after it, as the day represented does: 25.1189. Of 1 + 31.7741 = 32.7741: .7664 and .2031, of a sister only."""
    verdict = judge(*BEFORE_AND_AFTER, events=(COLLISION,))

    assert (verdict.grade, verdict.value, verdict.lines) == (Grade.UNCORROBORATED, "electric", 1)
    assert chances(verdict) == near(0.76642, 0.20306)
    before = values(verdict)["acetylene"]
    assert (before.grade, before.items[0].applies) == (Grade.OUTWEIGHED, Category.SAME_BATCH)
    assert (before.weight_for, values(verdict)["electric"].weight_for) == (near(8.2316), 14)


def test_without_the_collision_the_two_sightings_are_contested() -> None:
    """25.1189 each: 25.1189 / (1 + 50.2377) = .4902 each."""
    verdict = judge(*BEFORE_AND_AFTER)

    assert (verdict.grade, verdict.value, chances(verdict)) == (Grade.CONTESTED, "acetylene", near(0.49024, 0.49024))


@pytest.mark.parametrize(
    ("date", "example"), [("1933/1934", "9"), ("1934-02", "8")], ids=["perhaps-in-between", "another-machine"]
)
def test_an_event_that_is_only_possibly_in_between_or_of_another_machine_moves_nothing(date: str, example: str) -> None:
    """Both stay sightings of the machine itself: .4902 each, contested."""
    verdict = judge(*BEFORE_AND_AFTER, events=(an_event(date, example=example),))

    assert (verdict.grade, chances(verdict)) == (Grade.CONTESTED, near(0.49024, 0.49024))
    assert bool(values(verdict)["acetylene"].items[0].notes) is (example == "9")


@pytest.mark.parametrize(
    ("when", "category"), [("1939-06", Category.ITSELF), ("1939", Category.ITSELF), ("1939-07", Category.SAME_BATCH)]
)
def test_a_machine_is_taken_to_have_stayed_the_same_for_five_years(when: str, category: Category) -> None:
    """30 June 1934 plus five years is 30 June 1939: July 1939 is certainly more, June 1939 and "1939" are not."""
    verdict = judge(a_source("view"), a_claim("acetylene", view("view", when=when)))

    assert verdict.candidates[0].items[0].applies is category


SIGN = "conduit-on-cantrail"


def test_a_machine_that_was_told_by_its_lamp_proves_nothing_about_the_lamp() -> None:
    """The photograph is held to be No. 9 *because* it has the conduit, which the feature lists: no weight.

    Drawing alone: 15.8489 / 16.8489 = .9406.
    """
    records: tuple[Record, ...] = (
        a_source("view"),
        a_claim("acetylene", view("view", known_by="likeness", told_by=[SIGN])),
        a_claim("electric", "works-drawing"),
    )

    verdict = judge(*records)

    assert (verdict.grade, verdict.value, verdict.rests_on) == (Grade.UNCORROBORATED, "electric", ("works-drawing",))
    assert chances(verdict) == near(0.94065, 0)
    assert (values(verdict)["acetylene"].items[0].weight, counted(values(verdict)["acetylene"])) == (0, [])
    assert set(flags_on(*records)) == {"single-source", "circular-identification"}
    assert flag_on("circular-identification", *records).sources == ("view",)


def test_a_machine_told_by_a_sign_of_something_else_does_tell_of_the_lamp() -> None:
    """By likeness: as a sister, 6.65526 / 7.65526 = .8694, and nothing is circular."""
    component = a_component(signs=(Sign(id=SIGN, name="conduit"), Sign(id="bent-step", name="bent step")))
    records: tuple[Record, ...] = (
        component,
        a_source("view"),
        a_claim("acetylene", view("view", known_by="likeness", told_by=["bent-step"])),
    )

    assert judge(*records).posterior == near(0.86937)
    assert "circular-identification" not in flags_on(*records)


def test_five_photographs_of_other_batches_never_outweigh_a_drawing_of_this_one() -> None:
    """Four of Nos 1 to 4, and one of No. 5, 14 each: 70 points, L = 10^7: (7500000 + .25) / (2500000 + .75) = 3.00000,
    4.7712 points and never more. Drawing of the third batch: 11.9909, 10.7885 points.

    Of 1 + 14.9909 = 15.9909: .7499 and .1876; the latter only by comparison: outweighed.
    """
    verdict = judge(
        *(a_source(f"view-of-{n}") for n in range(1, 6)),
        a_claim("acetylene", *(view(f"view-of-{n}", str(n), "1931") for n in range(1, 6))),
        a_claim("electric", "works-drawing", to=applies(None, batch="third")),
    )

    assert (verdict.grade, verdict.value, verdict.lines) == (Grade.UNCORROBORATED, "electric", 1)
    assert chances(verdict) == near(0.74986, 0.18761)
    acetylene = values(verdict)["acetylene"]
    assert (acetylene.grade, acetylene.lines, acetylene.weight_for) == (Grade.OUTWEIGHED, 5, near(4.7712))


def test_what_is_said_of_groups_counts_by_the_nearest_machine_in_them() -> None:
    """No. 9 alone; all; No. 10 alone; Nos 1 to 4; a related type: the five categories, 12 points each (drawings).

    L = 15.8489 carried over with 1, .98, .9, .75, .6: 15.8489, 11.9909, 5.78055, 2.57557, 1.42795;
    points 12 + 10.7885 + 7.6197 + 4.1087 + 1.5471 = 36.0641.
    """
    covers = {
        "itself": applies("9"),
        "covered": applies("all"),
        "same-batch": applies("10"),
        "same-type": applies("1..4"),
        "related-type": applies(None, related="shunter"),
    }

    verdict = judge(
        *(a_claim("acetylene", f"drawing-{name}", claim_id=name, to=to) for name, to in covers.items()),
        related=["shunter"],
    )

    (acetylene,) = verdict.candidates
    assert {item.claim: str(item.applies) for item in acetylene.items} == {name: name for name in covers}
    assert (acetylene.weight_for, acetylene.lines, verdict.grade) == (near(36.0641), 5, Grade.PROBABLE)


@pytest.mark.parametrize(
    ("kind", "aspect", "process", "how", "taken", "points"),
    [
        ("photograph", "material", None, "shows", How.IMPLIES, 7),
        ("photograph", "finish", "monochrome", "shows", How.IMPLIES, 7),
        ("photograph", "finish", "colour", "shows", How.SHOWS, 14),
        ("photograph", "dimension", None, "shows", How.IMPLIES, 7),
        ("photograph", "dimension", None, "measured", How.MEASURED, 14),
        ("film", "quantity", None, "shows", How.IMPLIES, 6),
        ("artwork", "material", None, "shows", How.IMPLIES, 2),
        ("artefact", "material", None, "shows", How.SHOWS, 16),
    ],
)
def test_a_source_is_not_believed_beyond_what_it_can_show(
    *, kind: str, aspect: str, process: str | None, how: str, taken: How, points: float
) -> None:
    """Taken as implied: half of 14, 12 or 4 points; else in full."""
    verdict = judge(
        a_component("headlamp", a_feature(aspect=aspect, datum="top of rail")),
        a_source("source", kind, process=process),
        a_claim("acetylene", view("source", how=how)),
    )

    (item,) = verdict.candidates[0].items
    assert (item.how, weights(verdict.candidates[0])) == (taken, {"source": points})
