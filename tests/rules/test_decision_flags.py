from collections.abc import Iterable
from typing import Any

import pytest
from builders import (
    FEATURE,
    TODAY,
    Record,
    a_claim,
    a_component,
    a_date,
    a_decision,
    a_pair,
    a_source,
    an_archive,
    an_item,
    seen_on,
)
from rules.signed import SEEN, told_by_conduit

from provenance.records.dates import Day
from provenance.records.decisions import Made, ModernChange
from provenance.rules.decision_flags import decision_flags
from provenance.rules.flag_values import Flag, Level
from provenance.rules.judging import judge_feature

DAY = Day(2026, 11, 25)
MADE = (Made(date=TODAY, value="acetylene"),)
# Two independent witnesses of No. 9 itself, one of them a sight of it as built: established.
ESTABLISHED = (
    a_source("photo"),
    a_claim("acetylene", an_item("photo", "shows", seen=seen_on("9")), "manual"),
)
UNCORROBORATED = (a_claim("acetylene", "manual"),)


def raised(*records: Record, today: Day | None = DAY) -> dict[str, Flag]:
    archive = an_archive(*records)
    (decision,) = archive.decisions.values()
    return {flag.flag: flag for flag in decision_flags(archive, judge_feature(archive, FEATURE), decision, today)}


def of(rule: str, records: Iterable[Record]) -> Flag | None:
    return raised(*records).get(rule)


def test_a_sound_decision_raises_nothing() -> None:
    assert raised(*ESTABLISHED, a_decision(grade_then="established", made=MADE)) == {}
    assert raised(*ESTABLISHED, a_decision(status="proposed")) == {}


# decision-overtaken


def test_a_decision_whose_value_has_lost_is_overtaken_and_stops_the_making() -> None:
    decision = a_decision(build="electric", grade_then="probable", basis=("headlamp-type-electric",), why="then best")

    flag = raised(*ESTABLISHED, a_claim("electric", "letter", to="5..8"), decision)["decision-overtaken"]

    assert (flag.severity, flag.about) == (Level.STOP, FEATURE)
    assert flag.sentence == (
        "“Headlamp type”: decision build-the-lamp chose to build “Electric” when it was probable, "
        "but the evidence now speaks for “Acetylene” (established)."
    )
    assert flag.claims == ("headlamp-type-acetylene", "headlamp-type-electric")
    assert "photo" in flag.sources


def test_what_is_made_already_can_no_longer_be_stopped() -> None:
    decision = a_decision(build="electric", grade_then="probable", made=MADE)

    flag = of("decision-overtaken", [*ESTABLISHED, a_claim("electric", "letter"), decision])

    assert flag is not None
    assert flag.severity is Level.WARN


@pytest.mark.parametrize(
    ("then", "evidence", "level", "now"),
    [
        ("established", UNCORROBORATED, Level.WARN, "but that is now uncorroborated."),
        ("uncorroborated", ESTABLISHED, Level.NOTE, "but that is now established."),
        ("probable", (), Level.STOP, "but nothing supports any value now."),
    ],
)
def test_a_grade_that_fell_warns_and_one_that_rose_is_a_note(
    then: str, evidence: tuple[Record, ...], level: Level, now: str
) -> None:
    flag = of("decision-overtaken", [*evidence, a_decision(grade_then=then)])

    assert flag is not None
    assert flag.severity is level
    assert flag.sentence.endswith(now)


def test_a_value_that_had_lost_already_is_not_overtaken_by_the_same_rival() -> None:
    decision = a_decision(build="electric", grade_then="outweighed", why="the only lamp that can be had")

    assert of("decision-overtaken", [*ESTABLISHED, a_claim("electric", "letter", to="5..8"), decision]) is None


@pytest.mark.parametrize(
    ("aside", "overtaken"), [((), True), ([("headlamp-type-acetylene", "a caption of later years")], False)]
)
def test_without_the_grade_of_then_the_build_is_taken_to_have_been_the_best(
    aside: tuple[tuple[str, str], ...],
    overtaken: bool,  # noqa: FBT001  a case
) -> None:
    decision = a_decision(build="electric", why="as the letter says", set_aside=aside)

    flag = of("decision-overtaken", [*ESTABLISHED, a_claim("electric", "letter", to="5..8"), decision])

    assert (flag is not None) is overtaken
    if flag is not None:
        assert "when it was decided, but the evidence now speaks for" in flag.sentence


# A photograph cited for acetylene by analogy, on which the conduit is seen: signs alone tell of electric, the likelier.
TOLD_BY_SIGNS = (
    a_component("headlamp", told_by_conduit()),
    a_source("photo"),
    a_source("handbook", "manual"),
    a_claim(
        "acetylene", an_item("photo", "analogy", seen=seen_on("9"), signs=(("conduit", SEEN),)), claim_id="bearing"
    ),
)


@pytest.mark.parametrize("rule", ["decision-overtaken", "modern-change-unexplained"])
def test_a_value_of_which_signs_alone_tell_is_set_aside_with_the_claim_that_bears_them(rule: str) -> None:
    verdict = judge_feature(an_archive(*TOLD_BY_SIGNS), FEATURE)
    aside = a_decision(set_aside=[("bearing", "the tube is that of the brake")])

    assert verdict.best is not None
    assert (verdict.value, verdict.best.claims) == ("electric", ())
    flag = of(rule, [*TOLD_BY_SIGNS, a_decision()])
    assert flag is not None
    assert flag.claims == ("bearing",)
    assert of(rule, [*TOLD_BY_SIGNS, aside]) is None


def test_a_modern_change_is_overtaken_where_the_value_that_it_departs_from_is_another_now() -> None:
    change = ModernChange(reason="safety", note="no flame")
    known: dict[str, Any] = {"build": "diodes", "modern_change": change, "grade_then": "established"}
    records: list[Record] = [*ESTABLISHED, a_claim("electric", "letter", to="5..8")]

    still = of("decision-overtaken", [*records, a_decision(basis=("headlamp-type-acetylene",), **known)])
    other = of("decision-overtaken", [*records, a_decision(basis=("headlamp-type-electric",), **known)])

    assert still is None
    assert other is not None
    assert "now speaks for “Acetylene”" in other.sentence


def test_a_modern_change_is_told_of_the_grade_that_it_departs_from() -> None:
    change = ModernChange(reason="safety", note="no flame")

    flag = of(
        "decision-overtaken", [*ESTABLISHED, a_decision(build="diodes", modern_change=change, grade_then="probable")]
    )

    assert flag is not None
    assert flag.sentence.endswith("but “Acetylene”, which it departs from, is now established.")


def test_a_proposal_is_not_overtaken() -> None:
    assert of("decision-overtaken", [*UNCORROBORATED, a_decision(status="proposed", grade_then="established")]) is None


# built-on-thin-evidence


def test_a_part_made_on_one_witness_is_built_on_thin_evidence() -> None:
    flag = of("built-on-thin-evidence", [*UNCORROBORATED, a_decision(made=MADE)])

    assert flag is not None
    assert (flag.severity, flag.claims, flag.sources) == (Level.WARN, ("headlamp-type-acetylene",), ("manual",))
    assert flag.sentence == (
        "“Headlamp type”: “Acetylene” has been made, but it is uncorroborated, with one independent witness."
    )


@pytest.mark.parametrize(
    ("needed_by", "today", "level"),
    [
        ("2027-03", DAY, Level.WARN),
        ("2025", DAY, Level.WARN),
        ("2029", DAY, Level.NOTE),
        (None, DAY, Level.NOTE),
        ("2027-03", None, Level.NOTE),
    ],
)
def test_what_is_released_on_thin_evidence_presses_the_sooner_it_is_needed(
    needed_by: str | None, today: Day | None, level: Level
) -> None:
    flag = raised(a_component(needed_by=needed_by), *UNCORROBORATED, a_decision(), today=today)[
        "built-on-thin-evidence"
    ]

    assert flag.severity is level


def test_a_disputed_value_that_is_needed_soon_stops_the_making() -> None:
    rivals: list[Record] = [a_claim("acetylene", "manual", "drawing"), a_claim("electric", "catalogue", "letter")]

    flag = of("built-on-thin-evidence", [a_component(needed_by="2027-01"), *rivals, a_decision()])

    assert flag is not None
    assert flag.severity is Level.STOP
    assert "needed by 2027-01, but it is contested" in flag.sentence


def test_a_dispute_that_is_settled_with_a_reason_on_two_witnesses_is_not_thin() -> None:
    rivals: list[Record] = [a_claim("acetylene", "manual", "drawing"), a_claim("electric", "catalogue", "letter")]
    settled = a_decision(set_aside=[("headlamp-type-electric", "speaks of the trailer")])

    assert of("built-on-thin-evidence", [*rivals, settled]) is None


def test_a_settled_dispute_of_single_witnesses_is_still_thin() -> None:
    rivals: list[Record] = [a_claim("acetylene", "manual"), a_claim("electric", "catalogue")]
    settled = a_decision(set_aside=[("headlamp-type-electric", "speaks of the trailer")])

    assert of("built-on-thin-evidence", [*rivals, settled]) is not None


def test_neither_a_proposal_nor_a_declared_modern_change_is_built_on_thin_evidence() -> None:
    change = ModernChange(reason="availability", note="no such lamp is made")

    assert of("built-on-thin-evidence", [*UNCORROBORATED, a_decision(status="proposed")]) is None
    assert of("built-on-thin-evidence", [*UNCORROBORATED, a_decision(modern_change=change)]) is None


def test_an_open_pair_of_copies_makes_two_prints_thin() -> None:
    prints = [a_source("print-1"), a_source("print-2")]
    seen = [an_item(source.id, "shows", seen=seen_on("9")) for source in prints]

    flag = of(
        "built-on-thin-evidence", [*prints, a_pair("print-1", "print-2"), a_claim("acetylene", *seen), a_decision()]
    )

    assert flag is not None


# modern-change-unexplained


@pytest.mark.parametrize(
    ("note", "why", "unexplained"),
    [(None, None, True), (" ", None, True), ("no flame in a museum", None, False), (None, "no flame", False)],
)
def test_a_modern_change_says_what_it_is_for(
    note: str | None,
    why: str | None,
    unexplained: bool,  # noqa: FBT001  a case
) -> None:
    decision = a_decision(build="diodes", modern_change=ModernChange(reason="safety", note=note), why=why)

    flag = of("modern-change-unexplained", [*ESTABLISHED, decision])

    assert (flag is not None) is unexplained
    if flag is not None:
        assert flag.severity is Level.WARN
        assert "departs from the evidence for safety, and does not say how." in flag.sentence


def test_building_what_the_evidence_does_not_speak_for_wants_a_why() -> None:
    records: list[Record] = [*ESTABLISHED, a_claim("electric", "letter", to="5..8")]

    flag = of("modern-change-unexplained", [*records, a_decision(build="electric")])

    assert flag is not None
    assert flag.sentence.endswith(
        "builds “Electric” where the evidence speaks for “Acetylene” (established), and says no why."
    )
    assert flag.claims == ("headlamp-type-acetylene", "headlamp-type-electric")


@pytest.mark.parametrize(
    "fields",
    [
        {"why": "the only lamp that can be had"},
        {"set_aside": [("headlamp-type-acetylene", "a caption of later years")]},
        {"modern_change": ModernChange(reason="cost", note="lent to us")},
    ],
)
def test_a_departure_with_a_reason_is_explained(fields: dict[str, Any]) -> None:
    records: list[Record] = [*ESTABLISHED, a_claim("electric", "letter", to="5..8")]

    assert of("modern-change-unexplained", [*records, a_decision(build="electric", **fields)]) is None


def test_an_unexplained_proposal_is_a_note() -> None:
    records: list[Record] = [*ESTABLISHED, a_claim("electric", "letter", to="5..8")]

    flag = of("modern-change-unexplained", [*records, a_decision(build="electric", status="proposed")])

    assert flag is not None
    assert flag.severity is Level.NOTE


# conjecture-undeclared


@pytest.mark.parametrize(
    ("fields", "level"),
    [({}, Level.STOP), ({"made": MADE}, Level.WARN), ({"status": "proposed"}, Level.NOTE)],
)
def test_conjecture_that_nothing_declares_stops_the_making(fields: dict[str, Any], level: Level) -> None:
    flag = of("conjecture-undeclared", [a_decision(build="oil", why="It looks right.", **fields)])

    assert flag is not None
    assert flag.severity is level
    assert "builds “oil”, which nothing that we hold supports" in flag.sentence


def test_declared_conjecture_and_modern_changes_raise_nothing_of_the_sort() -> None:
    change = ModernChange(reason="safety", note="no flame")

    assert of("conjecture-undeclared", [a_decision(build="oil", why="Conjecture, from the trade of the time.")]) is None
    assert of("conjecture-undeclared", [*ESTABLISHED, a_decision(build="diodes", modern_change=change)]) is None


def test_the_day_is_counted_from_either_end_of_when_it_is_needed() -> None:
    assert a_date("../2027").latest is not None

    flag = raised(a_component(needed_by="../2026"), *UNCORROBORATED, a_decision())["built-on-thin-evidence"]

    assert flag.severity is Level.WARN
