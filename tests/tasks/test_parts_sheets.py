"""A parts tree from a sheet: every row is accounted for, and nothing is half done."""

from pathlib import Path

import pytest
from cli.command_line import ask as ask_shell
from cli.command_line import run
from tasks.team import TODAY, a_team_archive, a_text

from provenance.reports.added import Added, AddedRow, RowState
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.parts_sheets import MOST_LOOKED_FOR, add_sheet

HEADINGS = "number,name,part of,quantity,examples\n"


def take(opened: Opened, rows: str, headings: str = HEADINGS) -> Added:
    sheet = a_text(opened.folder.parent / "parts.csv", headings + rows)
    return add_sheet(opened.folder, sheet, by="mh", today=TODAY)


def states(added: Added) -> list[tuple[int, str, str | None]]:
    return [(row.row, row.state.value, row.component) for row in added.rows]


def components(opened: Opened) -> set[str]:
    return set(open_folder(opened.folder).archive.components)


def test_a_tree_is_added_whatever_the_order_of_its_rows(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    added = take(opened, "H-1/2,Lens,H-1,1,\nH-1,Lamp case,headlamp,2,5..8\n,Wick,Lens,,9\n")

    archive = open_folder(opened.folder).archive
    assert states(added) == [(2, "added", "lens"), (3, "added", "lamp-case"), (4, "added", "wick")]
    assert added.written.written == ("components/lamp-case.yaml", "components/lens.yaml", "components/wick.yaml")
    assert [archive.components[each].part_of for each in ("lens", "lamp-case", "wick")] == [
        "lamp-case",
        "headlamp",
        "lens",
    ]
    assert archive.components["lamp-case"].references == ("H-1",)
    assert archive.components["lamp-case"].note == "quantity 2, examples 5..8, says row 3 of parts.csv"


def test_the_same_sheet_again_adds_nothing(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    take(opened, "H-1,Lens,,,\n,Wick,Lens,,\n")

    added = take(opened, "h 1,Lens,,,\n,Wick,Lens,,\n")

    assert states(added) == [(2, "known", "lens"), (3, "known", "wick")]
    assert added.written.written == ()


def test_a_part_known_under_another_name_says_which(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    take(opened, "H-1,Lens,,,\n")

    (row,) = take(opened, "H.1,Front glass,,,\n").rows

    assert (row.state, row.component, row.why) == (RowState.KNOWN, "lens", "it is called Lens there")


def test_parts_of_one_name_and_different_numbers_are_two(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    added = take(opened, "H-1,Bolt,,,\nH-2,Bolt,,,\nH-3,Headlamp,,,\n")

    assert [row.component for row in added.rows] == ["bolt", "bolt-h-2", "headlamp-h-3"]


def test_a_name_and_a_number_that_are_both_taken_are_counted_on(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    for taken in ("lens", "lens-h-1"):
        a_text(opened.folder / "components" / f"{taken}.yaml", f"name: {taken} of old\nby: mh\ndate: 2026-01-10\n")

    assert [row.component for row in take(opened, "H-1,Lens,,,\n").rows] == ["lens-2"]


def test_a_number_that_reads_as_another_is_added_and_said(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    added = take(opened, "H-204,Lens,,,\nH-2O4,Rim,,,\n")

    assert added.rows[1].state is RowState.ADDED
    assert "reads as that of lens" in added.rows[1].why


@pytest.mark.parametrize(
    ("rows", "row", "why"),
    [
        ("H-1,,,,\n", 2, "it has no name"),
        ("H-1,Lens,,,\nH-1,Rim,,,\n", 3, "row 2 has the same number and another name"),
        ("H-1,Lens,,two,\n", 2, "no whole number above 0"),
        ("H-1,Lens,,0,\n", 2, "no whole number above 0"),
        ("H-1,Lens,,,12\n", 2, "there is no example `12`"),
        ("H-1,Lens,,,8-5\n", 2, "runs backwards"),
        ("H-1,Lens,headlmap,,\n", 2, "did you mean `headlamp`"),
        ("H-1,Lens,Lens,,\n", 2, "there is no part `Lens`"),
        ("H-1,Bolt,,,\nH-2,Bolt,,,\nH-3,Nut,Bolt,,\n", 4, "may be bolt or bolt-h-2: write its number"),
        ("H-1,Lens,H-2,,\nH-2,Rim,H-1,,\n", 2, "part of itself"),
    ],
)
def test_a_row_that_cannot_be_is_refused_and_no_row_is_added(tmp_path: Path, rows: str, row: int, why: str) -> None:
    opened = a_team_archive(tmp_path)

    added = take(opened, f"{rows}H-9,Handle,headlamp,1,all\n")

    refused = {each.row: each for each in added.rows if each.state is RowState.REFUSED}
    assert row in refused
    assert why in refused[row].why
    assert added.rows[-1].state is RowState.SOUND
    assert components(opened) == {"headlamp"}


def test_the_nearest_is_looked_for_of_the_first_assemblies_that_are_not_there_alone(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    lost = range(MOST_LOOKED_FOR + 1)

    added = take(
        opened,
        "".join(f"A-{each},Part {each},headlmap {each},,\nB-{each},Part b{each},headlmap {each},,\n" for each in lost),
    )

    assert [row.state for row in added.rows] == [RowState.REFUSED] * 2 * len(lost)
    *first, last, again = (row.why for row in added.rows)
    assert all("did you mean `headlamp`" in why for why in first)
    assert last == again == "there is no part `headlmap 20`: add it first, or give it a row"


def test_examples_are_taken_as_works_write_them(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    added = take(opened, 'H-1,Lens,,,"2, 5-8"\nH-2,Rim,,,all\n')

    assert [row.state for row in added.rows] == [RowState.ADDED, RowState.ADDED]


def test_cells_beyond_the_headings_are_refused(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    sheet = a_text(tmp_path / "parts.csv", "number,name\nH-1,Lens,spare\n")

    result = run(opened.folder, "add", "--sheet", str(sheet), "--by", "mh")

    assert result.exit_code == 2
    assert "row 2 has more cells" in result.stderr


def test_a_faulty_component_keeps_its_id(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    a_text(opened.folder / "components" / "lens.yaml", "name: Lens\nsize: 3\n")

    assert [row.component for row in take(opened, "H-1,Lens,,,\n").rows] == ["lens-h-1"]


def test_the_command_answers_in_both_ways_and_says_when_a_row_was_refused(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    sheet = a_text(tmp_path / "parts.csv", "No.;Description;Assembly\nH-1;Lens;headlamp\nH-2;;\n")
    words = ("add", "--sheet", str(sheet), "--by", "mh", "--date", TODAY)

    refused = ask_shell(opened.folder, *words, code=1)
    page = run(opened.folder, *words)

    assert [row["state"] for row in refused["rows"]] == ["sound", "refused"]
    assert page.exit_code == 1
    assert page.stdout.splitlines() == [
        "row 3, H-2: refused (it has no name)",
        "2 rows: 1 refused, 1 sound, not added.",
        "Nothing was written: put the refused rows right, then give the same command again.",
    ]
    a_text(sheet, "No.;Description;Assembly\nH-1;Lens;headlamp\n")
    added = ask_shell(opened.folder, *words)
    assert (added["record"], added["written"]) == ("parts.csv", ["components/lens.yaml"])
    assert added["rows"] == [
        {"row": 2, "number": "H-1", "name": "Lens", "component": "lens", "state": "added", "why": ""}
    ]


def test_options_before_the_word_are_not_silently_dropped(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    result = run(opened.folder, "add", "--by", "mh", "component", "lens", "--name", "Lens")

    assert result.exit_code == 2
    assert "after its word" in result.stderr


def test_a_row_is_a_value() -> None:
    row = AddedRow(row=2, number="", name="Lens", component=None, state=RowState.REFUSED)

    assert row.why == ""
