"""Recovered pieces: of which machine, how that is known, and whether the part is common to this one and that.

An artefact weighs 16 points: L = 39.8107.
"""

import pytest
from builders import Record, a_claim, a_component, a_decision, a_source, a_withdrawal, common_over

from cases.case_building import chances, counted, flag_on, flags_on, judge, near, values, view, weights
from provenance.rules.flag_values import Level
from provenance.rules.grades import Category, Grade

COMMON_PART = a_component(common_to=(common_over("5..11", "parts-list"),))
LAMP_OF_6: tuple[Record, ...] = (a_source("lamp", "artefact"), a_claim("acetylene", view("lamp", "6", "1932")))


def test_a_lamp_recovered_from_another_batch_is_a_comparison_only() -> None:
    """Off No. 6, second batch: (.75 x 39.8107 + .25) / (.25 x 39.8107 + .75) = 30.1080 / 10.7027 = 2.81313.

    4.4919 points; 2.81313 / 3.81313 = .7377.
    """
    verdict = judge(*LAMP_OF_6)

    (acetylene,) = verdict.candidates
    assert (verdict.grade, verdict.lines, verdict.rests_on) == (Grade.INFERRED, 1, ("lamp",))
    assert (acetylene.items[0].applies, acetylene.weight_for) == (Category.SAME_TYPE, near(4.4919))
    assert verdict.posterior == near(0.73775)
    assert set(flags_on(*LAMP_OF_6)) == {"single-source", "inferred-only", "other-example-only"}


def test_a_parts_list_that_makes_the_lamp_common_brings_it_near() -> None:
    """Common to Nos 5 to 11 says the parts list: covered. (.98 x 39.8107 + .02) / (.02 x 39.8107 + .98) = 39.0345 /
    1.77621 = 21.9762, 13.4195 points; 21.9762 / 22.9762 = .9565. One line, which now rests on the list too."""
    records: tuple[Record, ...] = (COMMON_PART, a_source("parts-list", "catalogue"), *LAMP_OF_6)

    verdict = judge(*records)

    (acetylene,) = verdict.candidates
    assert (verdict.grade, verdict.lines) == (Grade.UNCORROBORATED, 1)
    assert verdict.rests_on == ("lamp", "parts-list")
    assert (acetylene.items[0].applies, acetylene.weight_for) == (Category.COVERED, near(13.4195))
    assert verdict.posterior == near(0.95648)
    assert flags_on(*records) == ("single-source",)


def test_a_lamp_off_a_sister_is_brought_near_by_the_list_as_well() -> None:
    """Off No. 10 without the list: 7.36102 / 8.36102 = .8804; with it, covered: 21.9762 / 22.9762 = .9565."""
    records: tuple[Record, ...] = (
        a_source("parts-list", "catalogue"),
        a_source("lamp", "artefact"),
        a_claim("acetylene", view("lamp", "10")),
    )

    assert judge(*records).posterior == near(0.88040)
    assert judge(COMMON_PART, *records).posterior == near(0.95648)


def test_the_parts_list_is_no_second_witness_beside_the_lamp_that_it_brings_near() -> None:
    """The list also names the type (11 points, of 5..11: covered). Lamp and list share the list: one line.

    The lamp alone is worth 13.4195, the list alone 10.0139: the lamp counts.
    """
    verdict = judge(
        COMMON_PART,
        a_source("parts-list", "catalogue"),
        a_source("lamp", "artefact"),
        a_claim("acetylene", view("lamp", "6", "1932"), "parts-list", to="5..11"),
    )

    (acetylene,) = verdict.candidates
    assert (verdict.grade, verdict.lines, verdict.rests_on) == (Grade.UNCORROBORATED, 1, ("parts-list",))
    assert (acetylene.weight_for, counted(acetylene)) == (near(13.4195), ["lamp"])


def test_withdrawing_the_parts_list_takes_the_lamp_with_it() -> None:
    verdict = judge(COMMON_PART, a_source("parts-list", "catalogue", withdrawn=a_withdrawal()), *LAMP_OF_6)

    assert (verdict.grade, verdict.lines, verdict.posterior) == (Grade.UNSUPPORTED, 0, 0)


def test_a_parts_list_for_machines_without_the_target_changes_nothing() -> None:
    """Common to Nos 5 to 8, without No. 9: 4.4919 points, .7377 as without any list."""
    common = a_component(common_to=(common_over("5..8", "parts-list"),))

    verdict = judge(common, a_source("parts-list", "catalogue"), *LAMP_OF_6)

    assert (verdict.grade, verdict.rests_on, verdict.posterior) == (Grade.INFERRED, ("lamp",), near(0.73775))


def test_what_is_said_of_machines_that_all_share_the_part_is_brought_near_too() -> None:
    """A catalogue of Nos 5 to 8 (11 points): common to 5 to 11: covered, 10.0322 / 11.0322 = .9094. Of Nos 4 to 8 it is
    not, for No. 4 has another part: another batch, 2.48683 / 3.48683 = .7132."""
    lists = (COMMON_PART, a_source("parts-list", "catalogue"), a_source("catalogue", "catalogue"))

    inside = judge(*lists, a_claim("acetylene", "catalogue", to="5..8"))
    across = judge(*lists, a_claim("acetylene", "catalogue", to="4..8"))

    assert (inside.grade, inside.posterior, inside.rests_on) == (
        Grade.UNCORROBORATED,
        near(0.90936),
        ("catalogue", "parts-list"),
    )
    assert (across.grade, across.posterior, across.rests_on) == (Grade.INFERRED, near(0.71321), ("catalogue",))


def test_a_doubtful_sighting_of_the_machine_itself_is_not_raised_by_a_common_part() -> None:
    """Thought to be No. 9 by likeness: as a sister, 7.36102 / 8.36102 = .8804, with the parts list or without."""
    claim = a_claim("acetylene", view("lamp", known_by="likeness"))

    verdict = judge(COMMON_PART, a_source("parts-list", "catalogue"), a_source("lamp", "artefact"), claim)

    assert verdict.candidates[0].items[0].applies is Category.SAME_BATCH
    assert (verdict.rests_on, verdict.posterior) == (("lamp",), near(0.88040))


def test_the_surviving_lamp_of_the_machine_itself_needs_no_second_witness() -> None:
    """Known by its number: q = 1, 39.8107 / 40.8107 = .9755, the part itself: established on one line."""
    records: tuple[Record, ...] = (a_source("lamp", "artefact"), a_claim("acetylene", view("lamp")))

    verdict = judge(*records)

    assert (verdict.grade, verdict.lines, verdict.rests_on) == (Grade.ESTABLISHED, 1, ("lamp",))
    assert (verdict.candidates[0].weight_for, verdict.posterior) == (16, near(0.97550))
    assert flag_on("single-source", *records).severity is Level.NOTE


def test_a_lamp_that_only_a_label_gives_to_the_machine_needs_a_second_witness() -> None:
    """By caption: covered, 21.9762 / 22.9762 = .9565, and not the part itself."""
    records: tuple[Record, ...] = (a_source("lamp", "artefact"), a_claim("acetylene", view("lamp", known_by="caption")))

    verdict = judge(*records)

    assert (verdict.grade, verdict.lines, verdict.posterior) == (Grade.UNCORROBORATED, 1, near(0.95648))
    assert flag_on("single-source", *records).severity is Level.WARN


def test_a_lamp_that_was_last_on_the_machine_decades_later_speaks_as_a_sister_would() -> None:
    """Seen in 1970, certainly more than five years after June 1934: q = .9.

    (.9 x 39.8107 + .1) / (.1 x 39.8107 + .9) = 35.9296 / 4.88107 = 7.36102, 8.6694 points; 7.36102 / 8.36102 = .8804.
    """
    records: tuple[Record, ...] = (a_source("lamp", "artefact"), a_claim("acetylene", view("lamp", when="1970")))

    verdict = judge(*records)

    assert (verdict.grade, verdict.lines, verdict.posterior) == (Grade.UNCORROBORATED, 1, near(0.88040))
    assert verdict.candidates[0].weight_for == near(8.6694)
    assert set(flags_on(*records)) == {"single-source", "other-example-only"}


LAMP_AND_DRAWING: tuple[Record, ...] = (
    a_source("lamp", "artefact"),
    a_claim("acetylene", view("lamp")),
    a_claim("electric", "works-drawing"),
)


def test_the_part_itself_against_a_drawing_of_the_machine_is_contested() -> None:
    """16 against 12 points: 39.8107 and 15.8489 of 1 + 55.6597 = 56.6597: .7026 and .2797, which is .15 or more."""
    verdict = judge(*LAMP_AND_DRAWING)

    assert (verdict.grade, verdict.value, verdict.lines) == (Grade.CONTESTED, "acetylene", 1)
    assert chances(verdict) == near(0.70263, 0.27972)
    assert values(verdict)["electric"].grade is Grade.CONTESTED
    assert flag_on("contested", *LAMP_AND_DRAWING).severity is Level.STOP


def test_a_contest_that_a_decision_settles_with_a_reason_stays_one_and_stops_nobody() -> None:
    """The same .7026 and .2797; the decision sets the drawing's claim aside with a why: the flag is a note."""
    decision = a_decision(
        basis=("headlamp-type-acetylene",), set_aside=[("headlamp-type-electric", "drawn, but the lamp itself is here")]
    )
    records: tuple[Record, ...] = (*LAMP_AND_DRAWING, decision)

    assert judge(*records).grade is Grade.CONTESTED
    assert flag_on("contested", *records).severity is Level.NOTE


@pytest.mark.parametrize(
    ("letter", "points", "chance", "grade"),
    [
        ("A", 16, 0.97550, Grade.ESTABLISHED),
        ("B", 12.8, 0.95014, Grade.ESTABLISHED),
        ("C", 9.6, 0.90119, Grade.PROBABLE),
        ("F", 8, 0.86319, Grade.PROBABLE),
        ("D", 6.4, 0.81362, Grade.PROBABLE),
        ("E", 1.6, 0.59108, Grade.POSSIBLE),
    ],
)
def test_how_far_the_part_itself_is_believed_moves_it_down_the_ladder(
    letter: str, points: float, chance: float, grade: Grade
) -> None:
    """16 x 1, .8, .6, .5, .4, .1 = 16, 12.8, 9.6, 8, 6.4, 1.6 points.

    L = 39.8107, 19.0546, 9.12011, 6.30957, 4.36516, 1.44544; L / (1 + L) as listed; .95 and .80 are the steps.
    """
    verdict = judge(a_source("lamp", "artefact", reliability=letter), a_claim("acetylene", view("lamp")))

    assert (weights(verdict.candidates[0]), verdict.grade) == ({"lamp": near(points)}, grade)
    assert verdict.posterior == near(chance)
