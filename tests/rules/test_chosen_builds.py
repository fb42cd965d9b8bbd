from typing import Any

import pytest
from builders import (
    FEATURE,
    a_claim,
    a_component,
    a_decision,
    a_feature,
    a_source,
    a_withdrawal,
    against,
    an_archive,
    an_item,
    seen_on,
)

from provenance.records.claims import Claim
from provenance.records.decisions import Decision, ModernChange
from provenance.records.kinds import Condition
from provenance.rules.chosen_builds import ChosenBuild, candidate_of, chosen_build, standing_decisions, value_key
from provenance.rules.grades import Grade
from provenance.rules.judging import judge_feature
from provenance.rules.verdicts import Verdict

TEXT = a_feature(kind="text", same=(("M.S.", "mild steel"),))


def chosen(decision: Decision, **component: Any) -> ChosenBuild:
    archive = an_archive(
        a_component(**component) if component else a_component(),
        a_claim("acetylene", "drawing", "manual"),
        a_claim("electric", "letter", to="5..8"),
        a_claim("oil", against("report")),
        decision,
    )
    return chosen_build(judge_feature(archive, FEATURE), decision)


@pytest.mark.parametrize("wording", ["acetylene", "Acetylene", "GAS  lamp"])
def test_a_build_names_an_option_by_any_of_its_words(wording: str) -> None:
    build = chosen(a_decision(build=wording))

    assert (build.shown, build.is_best, build.is_conjecture) == ("Acetylene", True, False)
    assert build.grade is build.verdict.grade


def test_a_text_is_known_by_what_means_the_same() -> None:
    archive = an_archive(a_component("headlamp", TEXT), a_claim("M.S.", "drawing"))

    verdict = judge_feature(archive, FEATURE)

    assert value_key(TEXT, "Mild  Steel") == value_key(TEXT, "m.s.")
    assert candidate_of(verdict, "Mild Steel") is verdict.best
    assert candidate_of(verdict, "brass") is None


def test_a_value_that_lost_is_supported_and_not_the_best() -> None:
    build = chosen(a_decision(build="electric"))

    assert (build.is_best, build.is_supported, build.is_conjecture) == (False, True, False)
    assert build.grade is Grade.OUTWEIGHED


@pytest.mark.parametrize("value", ["oil", "carbide generator in the cab"])
def test_what_nothing_speaks_for_is_conjecture(value: str) -> None:
    build = chosen(a_decision(build=value))

    assert (build.is_conjecture, build.grade) == (True, Grade.UNSUPPORTED)


def test_a_modern_change_to_something_new_is_no_conjecture_and_has_the_grade_of_what_it_departs_from() -> None:
    build = chosen(a_decision(build="lamp of light-emitting diodes", modern_change=ModernChange(reason="safety")))

    assert not build.is_conjecture
    assert build.grade is build.verdict.grade


@pytest.mark.parametrize(
    ("said", "declared"),
    [
        ({"why": "Conjecture: nobody drew it."}, True),
        ({"note": "wholly conjectural"}, True),
        ({"why": "Nobody drew it."}, False),
        ({}, False),
    ],
)
def test_conjecture_is_declared_by_its_word(said: dict[str, str], declared: bool) -> None:  # noqa: FBT001  a case
    assert chosen(a_decision(build="oil", **said)).declares_conjecture is declared


def test_claims_are_set_aside_only_with_a_reason() -> None:
    build = chosen(a_decision(set_aside=[("headlamp-type-electric", "of another batch"), ("headlamp-type-oil", " ")]))

    assert build.sets_aside(["headlamp-type-electric"])
    assert not build.sets_aside([])
    assert not build.sets_aside(["headlamp-type-electric", "headlamp-type-oil"])


def test_the_decision_in_force_stands_first_then_what_is_proposed_and_not_replaced() -> None:
    archive = an_archive(
        a_decision("first", date="2024"),
        a_decision("second", date="2025", replaces="first"),
        a_decision("idea", status="proposed"),
        a_decision("older-idea", status="proposed"),
        a_decision("newer-idea", status="proposed", replaces="older-idea"),
        a_decision("dropped", status="withdrawn"),
        a_decision("gone", withdrawn=a_withdrawal()),
        a_decision("hood", about="headlamp/hood", status="proposed"),
    )

    standing = standing_decisions(archive)

    assert {about: [each.id for each in decisions] for about, decisions in standing.items()} == {
        FEATURE: ["second", "idea", "newer-idea"],
        "headlamp/hood": ["hood"],
    }


def heights(*claims: Claim) -> Verdict:
    """A drawing of all machines says 3 ft 4 1/2 in, 1028.7 mm, laid down to 1/64 in, .397 mm; and what is given."""
    height = a_component("headlamp", a_feature(kind="quantity", aspect="dimension", unit="mm"))
    archive = an_archive(height, a_claim("3 ft 4 1/2 in", "drawing", to="all"), *claims)
    return judge_feature(archive, FEATURE)


@pytest.mark.parametrize(
    ("build", "is_best"),
    [
        ("3 ft 4 1/2 in", True),
        ("1028.7 mm", True),
        ("40 1/2 in", True),
        ("1029 mm", True),  # .3 mm off, and written to half a millimetre
        ("1029.2 mm", True),  # just half a millimetre off
        ("1029.3 mm", False),
        ("41 in", False),
        ("about as high as a man", False),
    ],
)
def test_a_build_names_the_figure_that_it_is_as_near_to_as_that_is_known_or_written(
    build: str,
    *,
    is_best: bool,
) -> None:
    verdict = heights()

    assert (candidate_of(verdict, build) is verdict.best) is is_best


def test_of_two_values_a_build_names_the_nearer() -> None:
    """A letter gives 1034 mm, to half a millimetre: another value. 1030 is nearer to 1028.7 and too far off."""
    verdict = heights(a_claim("1034 mm", "letter"))

    named = [candidate_of(verdict, build) for build in ("1029 mm", "1034 mm", "1030 mm")]

    assert [each.claims if each else () for each in named] == [
        ("headlamp-type-3-ft-4-1-2-in",),
        ("headlamp-type-1034-mm",),
        (),
    ]


def test_a_figure_that_only_a_worn_piece_gives_is_named_as_it_is_written() -> None:
    worn = an_item("stub", "measured", seen=seen_on("9"), condition=Condition.WORN)
    height = a_component("headlamp", a_feature(kind="quantity", aspect="dimension", unit="mm"))
    verdict = judge_feature(an_archive(height, a_source("stub", "artefact"), a_claim("1030 mm", worn)), FEATURE)

    assert candidate_of(verdict, "1030 mm") is verdict.best
    assert candidate_of(verdict, "1031 mm") is None


def test_figures_are_the_same_value_whatever_they_are_written_in() -> None:
    height = a_feature(kind="quantity", aspect="dimension", unit="mm")

    assert value_key(height, "3 ft 4 1/2 in") == value_key(height, "1028.7 mm") != value_key(height, "1028.8 mm")
    assert value_key(height, "As  High") == "as high"


def test_a_value_that_is_no_figure_is_passed_over() -> None:
    verdict = heights(a_claim("as high as a man", "letter"))

    named = [candidate_of(verdict, build) for build in ("1029 mm", "As high as a man")]

    assert [each.claims if each else () for each in named] == [
        ("headlamp-type-3-ft-4-1-2-in",),
        ("headlamp-type-as-high-as-a-man",),
    ]


def test_a_figure_that_is_decided_is_shown_as_it_was_decided_and_not_as_the_evidence_has_it() -> None:
    """1029 mm are as good as 3 ft 4 1/2 in, and the workshop is told 1029 mm."""
    build = chosen_build(heights(), a_decision(build="1029 mm"))

    assert (build.is_best, build.shown) == (True, "1029 mm")
