"""Features seen to be there or not there, and texts that mean the same or can only be read in part."""

import pytest
from builders import Record, a_claim, a_component, a_feature, a_source, against, an_item, seen_on

from cases.case_building import chances, counted, flags_on, judge, near, values, view
from provenance.records.kinds import Stance
from provenance.rules.grades import Grade

STEP = a_component("headlamp", a_feature(kind="presence", aspect="presence"))
MARKING = a_component("headlamp", a_feature(kind="text", aspect="marking"))
MATERIAL = a_component("headlamp", a_feature(kind="text", aspect="form", same=(("M.S.", "mild steel"),)))


def test_a_feature_seen_to_be_absent_against_a_manual_that_has_it() -> None:
    """The photograph speaks against `present`: counted once, for `absent`, 14 points, L = 25.1189.

    The manual of all: 11 points, carried over 10.0322. Of 1 + 35.1510 = 36.1510: .6948 and .2775: contested.
    """
    records: tuple[Record, ...] = (
        STEP,
        a_source("manual", "manual"),
        a_source("view"),
        a_claim("present", "manual", view("view", stance="contradicts"), to="all"),
    )

    verdict = judge(*records)

    assert (verdict.grade, verdict.value, verdict.lines) == (Grade.CONTESTED, "absent", 1)
    assert chances(verdict) == near(0.69483, 0.27751)
    absent, present = values(verdict)["absent"], values(verdict)["present"]
    assert (absent.weight_for, absent.weight_against, absent.items[0].stance) == (14, 0, Stance.SUPPORTS)
    assert (present.weight_for, present.weight_against) == (near(10.0139), 0)
    assert [item.source for item in present.items] == ["manual"]
    assert flags_on(*records) == ("contested", "single-source")


def test_a_second_picture_settles_that_it_was_absent() -> None:
    """Photograph 14 + film 12 = 26 points: L = 398.107; of 1 + 408.139 = 409.139: .9730 and .0245."""
    verdict = judge(
        STEP,
        a_source("manual", "manual"),
        a_source("view"),
        a_source("film", "film"),
        a_claim("present", "manual", view("view", stance="contradicts"), to="all"),
        a_claim("absent", view("film"), to="9"),
    )

    assert (verdict.grade, verdict.value, verdict.lines) == (Grade.ESTABLISHED, "absent", 2)
    assert chances(verdict) == near(0.97304, 0.02452)
    assert counted(values(verdict)["absent"]) == ["film", "view"]


def test_an_item_against_one_of_several_choices_only_lowers_that_one() -> None:
    """Drawing for electric 12, letter of 1934 against it 8: s = 4, L = 2.51189; 2.51189 / 3.51189 = .7153.

    One line, itself, direct: uncorroborated.
    """
    verdict = judge(
        a_source("letter", "letter", created="1934"), a_claim("electric", "works-drawing", against("letter"))
    )

    (electric,) = verdict.candidates
    assert (electric.weight_for, electric.weight_against, verdict.lines) == (12, 8, 1)
    assert (verdict.grade, verdict.posterior) == (Grade.UNCORROBORATED, near(0.71525))
    assert counted(electric) == ["letter", "works-drawing"]


def test_two_letters_against_it_that_go_back_to_one_man_count_once() -> None:
    """Against: 8 and 8 by one man: 8. s = 12 - 8 = 4: .7153, not 10^-.4 of a second 8."""
    letters = [a_source(f"letter-{n}", "letter", created="1934", creator="A. Fitter") for n in (1, 2)]

    verdict = judge(*letters, a_claim("electric", "works-drawing", against("letter-1"), against("letter-2")))

    assert (verdict.candidates[0].weight_against, verdict.posterior) == (8, near(0.71525))


def test_what_is_only_spoken_against_has_a_chance_and_no_support() -> None:
    """Against 12: 10^-1.2 = .0630957; .0630957 / 1.0630957 = .0594. Nothing supports any value."""
    verdict = judge(a_claim("electric", against("works-drawing")))

    assert (verdict.grade, verdict.value, verdict.lines) == (Grade.UNSUPPORTED, None, 0)
    assert verdict.candidates[0].posterior == near(0.05935)


def test_two_wordings_that_the_team_holds_to_be_the_same_are_one_value() -> None:
    """A drawing (12) has "M.S.", a specification (11) "Mild  Steel": 23 points, .9950, two lines.

    The spelling is that of the first claim by its id.
    """
    verdict = judge(
        MATERIAL,
        a_source("specification", "specification"),
        a_claim("Mild  Steel", "specification", claim_id="a"),
        a_claim("M.S.", "works-drawing", claim_id="b"),
    )

    (steel,) = verdict.candidates
    assert (verdict.grade, steel.value, steel.claims) == (Grade.PROBABLE, "Mild  Steel", ("a", "b"))
    assert (verdict.lines, verdict.posterior) == (2, near(0.99501))


def test_a_broken_reading_supports_every_value_that_it_fits() -> None:
    """A photograph (14) has "PETR[...]", which fits "PETROL" (drawing, 12), not "DIESEL" (letter, 8).

    PETROL 26 points, L = 398.107; DIESEL 8, L = 6.30957; of 1 + 404.417 = 405.417: .9820 and .0156. No third value.
    """
    verdict = judge(
        MARKING,
        a_source("view"),
        a_source("letter", "letter", created="1934"),
        a_claim("PETROL", "works-drawing"),
        a_claim("DIESEL", "letter"),
        a_claim("PETR[...]", view("view")),
    )

    assert list(values(verdict)) == ["PETROL", "DIESEL"]
    assert (verdict.grade, verdict.lines, chances(verdict)) == (Grade.ESTABLISHED, 2, near(0.98197, 0.01556))
    assert counted(values(verdict)["PETROL"]) == ["view", "works-drawing"]


def test_a_broken_reading_that_fits_two_values_does_not_decide_between_them() -> None:
    """It (14) fits PETROL and PETROLEUM (12 each): 26 points: 398.107 / (1 + 796.214) = .4994 each: contested."""
    verdict = judge(
        MARKING,
        a_source("view"),
        a_claim("PETROL", "works-drawing"),
        a_claim("PETROLEUM", "second-drawing"),
        a_claim("PETR[...]", view("view")),
    )

    assert (verdict.grade, verdict.value) == (Grade.CONTESTED, "PETROL")
    assert chances(verdict) == near(0.49937, 0.49937)


def test_a_gap_stands_for_one_letter_at_least() -> None:
    """A broken "PETROL[...]" (14) does not fit "PETROL" (12): 25.1189 and 15.8489 of 1 + 40.9678: .5985 and .3776."""
    verdict = judge(
        MARKING,
        a_source("view"),
        a_claim("PETROL", "works-drawing"),
        a_claim("PETROL[...]", view("view"), claim_id="broken"),
    )

    assert (verdict.grade, chances(verdict)) == (Grade.CONTESTED, near(0.59853, 0.37764))


def test_a_broken_reading_that_fits_nothing_is_a_value_of_its_own() -> None:
    """Broken "OI[...]" (14, L = 25.1189) beside PETROL (12, L = 15.8489): of 1 + 40.9678 = 41.9678: .5985 and .3776."""
    verdict = judge(MARKING, a_source("view"), a_claim("PETROL", "works-drawing"), a_claim("OI[...]", view("view")))

    assert (verdict.grade, verdict.value) == (Grade.CONTESTED, "OI[...]")
    assert chances(verdict) == near(0.59853, 0.37764)


@pytest.mark.parametrize("written", ["acetylene", "Acetylene", "ACETYLENE", "gas lamp"])
def test_a_choice_is_one_value_by_its_id_its_name_and_other_words_for_it(written: str) -> None:
    """Drawing 12 + specification 11 = 23 points: .9950, one candidate."""
    verdict = judge(
        a_source("specification", "specification"),
        a_claim("acetylene", "works-drawing", claim_id="a"),
        a_claim(written, "specification", claim_id="b"),
    )

    assert (list(values(verdict)), verdict.posterior) == (["acetylene"], near(0.99501))


def test_chances_that_are_equal_go_to_the_first_in_order_of_text() -> None:
    """12 against 12: 15.8489 / 32.6979 = .4847 each."""
    verdict = judge(a_claim("oil", "one-drawing"), a_claim("electric", an_item("another-drawing", seen=seen_on("9"))))

    assert (verdict.grade, verdict.value, chances(verdict)) == (Grade.CONTESTED, "electric", near(0.48471, 0.48471))
