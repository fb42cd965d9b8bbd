from dataclasses import replace

from answers import faults_of
from hypothesis import given
from reports.pages import NOT_WHOLE, STANDING, WIDTH, any_text, obeyed, overlong, widths

from provenance.reports.added import Added, AddedRow, RowState, added_json, added_text
from provenance.reports.written import Written

ONE = Written(standing=STANDING, answer="add", record="lens", written=("components/lens.yaml",))
LENS = AddedRow(row=2, number="H-1", name="Lens", component="lens", state=RowState.ADDED)
KNOWN = replace(LENS, row=3, state=RowState.KNOWN, why="it is called Front glass there")
REFUSED = AddedRow(row=4, number="", name="", component=None, state=RowState.REFUSED, why="it has no name")


def test_of_a_sheet_only_what_is_out_of_the_ordinary_is_named() -> None:
    assert added_text(Added(written=ONE, rows=(LENS, KNOWN)), WIDTH).split("\n") == [
        "row 3, H-1 Lens: known already -> lens (it is called Front glass there)",
        "2 rows: 1 added, 1 known already.",
    ]


def test_a_refused_row_is_named_and_it_is_said_that_nothing_was_written() -> None:
    added = Added(written=replace(ONE, written=(), said=("not read: one other sheet, prices",)), rows=(REFUSED,))

    assert added.has_refused
    assert added_text(added, WIDTH).split("\n") == [
        "not read: one other sheet, prices",
        "row 4: refused (it has no name)",
        "One row: 1 refused.",
        "Nothing was written: put the refused rows right, then give the same command again.",
    ]


def test_without_a_sheet_the_files_are_named() -> None:
    assert added_text(Added(written=ONE), WIDTH) == "written: components/lens.yaml"


def test_the_answer_keeps_to_its_schema() -> None:
    whole = Added(written=replace(ONE, standing=NOT_WHOLE), rows=(LENS, KNOWN, REFUSED))

    assert faults_of(added_json(whole)) == []
    assert faults_of(added_json(Added(written=ONE))) == []


@given(any_text, widths)
def test_what_a_sheet_says_cannot_reach_the_terminal(text: str, width: int) -> None:
    row = replace(REFUSED, number=text, name=text, why=text or "why")

    page = added_text(Added(written=ONE, rows=(row,)), width)

    assert obeyed(page) == []
    assert overlong(page, width) == []
