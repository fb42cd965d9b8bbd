from answers import faults_of
from reports.pages import HOSTILE, NOT_WHOLE, STANDING, WIDTH, obeyed

from provenance.errors import Place, Problem, Severity
from provenance.reports.checked import Checked, checked_json, checked_text
from provenance.reports.standing import Standing


def a_problem(file: str = "claims/one.yaml", line: int | None = 5, rule: str = "unknown-id", **fields: str) -> Problem:
    return Problem(
        place=Place(file=file, line=line, field=fields.get("field", "about")),
        rule=rule,
        what=fields.get("what", "there is no `a/b` among the features"),
        mend=fields.get("mend", "did you mean `a/c`?"),
        severity=Severity(fields.get("severity", "error")),
    )


def a_check(*problems: Problem, standing: Standing = STANDING, digests_compared: bool = False) -> Checked:
    return Checked(standing=standing, problems=problems, records=5, files_checked=7, digests_compared=digests_compared)


def test_a_sound_archive_is_said_to_have_no_fault() -> None:
    page = checked_text(a_check(), WIDTH)

    assert page == (
        "5 records: no errors, no warnings, no notes.\n"
        "The originals were only looked for; `provenance check --fixity` reads them."
    )
    assert not a_check().is_faulty


def test_a_fault_is_a_line_with_its_place_and_a_line_with_its_mend() -> None:
    page = checked_text(a_check(a_problem(), digests_compared=True), WIDTH)

    assert page.split("\n") == [
        "claims/one.yaml:5: about: error: there is no `a/b` among the features [unknown-id]",
        "  mend: did you mean `a/c`?",
        "",
        "5 records: one error, no warnings, no notes.",
        "The originals were read and their digests compared.",
    ]


def test_faults_are_counted_by_severity_and_a_note_alone_is_no_fault() -> None:
    warning, note = a_problem(severity="warn"), a_problem(severity="note")

    page = checked_text(a_check(a_problem(), a_problem(line=6), warning, note), WIDTH)

    assert "5 records: 2 errors, one warning, one note." in page
    assert a_check(warning).is_faulty
    assert not a_check(note).is_faulty


def test_ten_places_stand_for_the_rest_where_one_file_breaks_one_rule_over_and_over() -> None:
    many = [a_problem(line=line, rule="schema/type") for line in range(1, 14)]
    between = a_problem(line=3, rule="schema/one-of")
    elsewhere = a_problem(file="sources/two.yaml", rule="schema/type")

    lines = checked_text(a_check(*many[:3], between, *many[3:], elsewhere), WIDTH).split("\n")

    assert [line for line in lines if "schema/type" in line and line.startswith("claims")][-1] == (
        "claims/one.yaml: and 3 more of the same kind [schema/type]"
    )
    assert sum("[schema/type]" in line and line.startswith("claims/one.yaml:") for line in lines) == 11
    assert any("[schema/one-of]" in line for line in lines)
    assert any(line.startswith("sources/two.yaml:5") for line in lines)
    assert "5 records: 15 errors" in lines[-2]


def test_ten_alike_are_all_shown() -> None:
    page = checked_text(a_check(*[a_problem(line=line) for line in range(1, 11)]), WIDTH)

    assert "more of the same kind" not in page


def test_texts_of_others_cannot_forge_a_line_or_reach_the_terminal() -> None:
    hostile = f"{HOSTILE}\n  mend: nothing to do"

    page = checked_text(a_check(a_problem(file=f"claims/{HOSTILE}.yaml", what=hostile, mend=HOSTILE)), WIDTH)

    assert obeyed(page) == []
    assert len(page.split("\n")) == 5
    assert page.split("\n")[1].startswith(r"  mend: \x1b[31mred")


def test_the_answer_keeps_to_its_schema() -> None:
    whole_file = a_problem(line=None, field="")

    for checked in (a_check(), a_check(a_problem(), whole_file, standing=NOT_WHOLE, digests_compared=True)):
        assert faults_of(checked_json(checked)) == []


def test_the_answer_says_where_and_what() -> None:
    answer = checked_json(a_check(a_problem()))

    assert answer["problems"] == [
        {
            "file": "claims/one.yaml",
            "line": 5,
            "field": "about",
            "rule": "unknown-id",
            "what": "there is no `a/b` among the features",
            "mend": "did you mean `a/c`?",
            "severity": "error",
        }
    ]
    assert (answer["records"], answer["files_checked"], answer["digests_compared"]) == (5, 7, False)
