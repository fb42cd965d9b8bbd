"""What was decided, held against the evidence of the day: conjecture, thin evidence, and what has overtaken it."""

from builders import Record, a_claim, a_decision, a_source

from cases.case_building import flag_on, flags_on, judge, near, view
from provenance.rules.flag_values import Level
from provenance.rules.grades import Grade

DRAWN = a_claim("acetylene", "works-drawing")
CHOSEN = ("headlamp-type-acetylene",)


def test_a_build_that_no_evidence_names_is_undeclared_conjecture() -> None:
    """The drawing has 12 points for acetylene; oil is no candidate, and no modern change is named."""
    records: tuple[Record, ...] = (DRAWN, a_decision(build="oil", why="it looks right"))

    assert judge(*records).value == "acetylene"
    assert flag_on("conjecture-undeclared", *records).severity is Level.STOP


def test_a_build_that_says_that_it_is_conjecture_raises_nothing_of_the_sort() -> None:
    records: tuple[Record, ...] = (DRAWN, a_decision(build="oil", why="Conjecture, after the trade of the time."))

    assert "conjecture-undeclared" not in flags_on(*records)


def test_what_is_built_on_one_witness_is_thin() -> None:
    """One drawing of No. 9: 15.8489 / 16.8489 = .9406, uncorroborated."""
    records: tuple[Record, ...] = (DRAWN, a_decision(basis=CHOSEN))

    assert (judge(*records).grade, judge(*records).posterior) == (Grade.UNCORROBORATED, near(0.94065))
    assert set(flags_on(*records)) == {"single-source", "built-on-thin-evidence"}


def test_a_part_found_after_the_decision_overtakes_it() -> None:
    """Decided on the drawing (12); then the lamp of No. 9 (16) comes to light with electric: 39.8107 against 15.8489.

    .7026 and .2797: contested, and another value than the one decided is the best.
    """
    decision = a_decision(basis=CHOSEN, grade_then="uncorroborated")
    records: tuple[Record, ...] = (DRAWN, decision, a_source("lamp", "artefact"), a_claim("electric", view("lamp")))

    verdict = judge(*records)

    assert (verdict.grade, verdict.value, verdict.posterior) == (Grade.CONTESTED, "electric", near(0.70263))
    assert flag_on("decision-overtaken", *records).severity is Level.STOP


def test_a_photograph_found_after_the_decision_that_agrees_is_a_note() -> None:
    """12 + 14 = 26 points: .9975, established: better than uncorroborated, as it was when decided."""
    decision = a_decision(basis=CHOSEN, grade_then="uncorroborated")
    records: tuple[Record, ...] = (a_source("view"), a_claim("acetylene", "works-drawing", view("view")), decision)

    assert (judge(*records).grade, judge(*records).posterior) == (Grade.ESTABLISHED, near(0.99749))
    assert flag_on("decision-overtaken", *records).severity is Level.NOTE
    assert flags_on(*records) == ("decision-overtaken",)
