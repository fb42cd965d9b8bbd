"""A decision with all that is on record of it."""

from builders import a_claim, a_component, a_date, a_decision, a_feature, a_source, a_withdrawal, an_archive

from provenance.records.decisions import Decision, Made, MadeDrawing, ModernChange, Release
from provenance.reports.decision_shown import DecisionShown, compose_decision_shown

HEIGHT = a_feature("height", "quantity", "dimension", unit="mm", name="Height")


def shown(decision: Decision, *others: Decision) -> DecisionShown:
    claims = (a_claim("electric", "photo"), a_claim("acetylene", "letter"))
    component = a_component("headlamp", a_feature(), HEIGHT)
    return compose_decision_shown(an_archive(component, *claims, decision, *others), decision)


def test_a_decision_tells_all_that_its_record_has_in_words() -> None:
    told = shown(
        a_decision(
            build="electric",
            basis=("headlamp-type-electric",),
            set_aside=[("headlamp-type-acetylene", "another batch"), ("lost", "nobody has it")],
            modern_change=ModernChange(reason="safety", note="a fuse"),
            drawings=(MadeDrawing(number="R9-104", issue="B"), MadeDrawing(number="R9-105")),
            stamp="R9",
            why="as seen",
            grade_then="probable",
            released=Release(by="mh", date=a_date("2026-02-01")),
            note="see the minutes",
        )
    )

    assert (told.build, told.state, told.is_in_force) == ("Electric", "In force", True)
    assert told.terms == (
        ("Changed from the evidence", "for safety; a fuse"),
        ("To drawing", "R9-104 issue B and R9-105"),
        ("Mark the new part", "R9"),
        ("Why", "as seen"),
        ("Grade of that value then", "probable"),
        ("Decided", "by Mary Holt, 5 January 2026"),
        ("Released", "by Mary Holt, 1 February 2026"),
        ("Note", "see the minutes"),
    )
    assert told.basis == (("headlamp-type-electric", "Electric"),)
    assert told.set_aside == (
        ("headlamp-type-acetylene", "Acetylene", "another batch"),
        ("lost", "not there any more", "nobody has it"),
    )
    assert (told.may_be_released, told.may_be_withdrawn) == (False, True)


def test_limits_and_what_was_made_are_told_in_both_units() -> None:
    made = (
        Made(date=a_date("2026-03"), by="mh", value="2 in", fits="badly", inspected_by="J. Marl", note="tight."),
        Made(date=a_date("2026-04")),
    )

    told = shown(a_decision(about="headlamp/height", build="1 in", tolerance="plus 1/16 in, minus nothing", made=made))

    assert told.build == "1 in (25.40 mm)"
    assert told.terms[0] == ("To limits", "plus 1/16 in (1.59 mm), minus nothing")
    assert told.made == (
        "Made to 2 in (50.80 mm) by Mary Holt, March 2026. It fits badly. Inspected by J. Marl. tight.",
        "Made, April 2026.",
    )


def test_the_hazards_of_the_part_and_of_what_is_cited_are_cautioned_against() -> None:
    lead = a_source("photo", hazards=("lead-paint",))
    archive = an_archive(
        a_component("headlamp", a_feature(), hazards=("asbestos",)), a_claim("electric", "photo"), lead, a_decision()
    )

    told = compose_decision_shown(archive, archive.decisions["build-the-lamp"])

    assert [each.hazard for each in told.cautions] == ["asbestos", "lead-paint"]
    assert shown(a_decision()).cautions == ()


def test_a_proposal_may_be_released_and_what_is_withdrawn_may_not() -> None:
    proposal = shown(a_decision(status="proposed"))
    gone = shown(a_decision(status="proposed", withdrawn=a_withdrawal("a slip")))
    replaced = shown(a_decision("one"), a_decision("two", replaces="one"))

    assert (proposal.state, proposal.may_be_released) == ("Only proposed", True)
    assert (gone.may_be_released, gone.may_be_withdrawn, gone.is_in_force) == (False, False, False)
    assert gone.terms[-1][1].endswith(": a slip")
    assert (replaced.state, replaced.is_in_force) == ("Replaced", False)
