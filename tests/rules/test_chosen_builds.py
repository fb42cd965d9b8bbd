from typing import Any

import pytest
from builders import FEATURE, a_claim, a_component, a_decision, a_feature, a_withdrawal, against, an_archive

from provenance.records.decisions import Decision, ModernChange
from provenance.rules.chosen_builds import ChosenBuild, candidate_of, chosen_build, standing_decisions, value_key
from provenance.rules.grades import Grade
from provenance.rules.judging import judge_feature

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
    assert build.sets_aside([])
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
