"""Sheets: CSV by the grammar of RFC 4180, XLSX as openpyxl and zip files made by hand write it, and what is refused."""

import csv
import io
import zipfile
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import Workbook

from provenance.errors import UsageRefusedError
from provenance.store.sheets import MOST_BYTES, MOST_ROWS, read_sheet

HEADINGS = "number,name\n"


def a_csv(folder: Path, content: str | bytes) -> Path:
    path = folder / "parts.csv"
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return path


def cells(path: Path) -> list[tuple[str, ...]]:
    return [row.cells for row in read_sheet(path).rows]


def an_xlsx(folder: Path, *rows: tuple[object, ...], merged: str = "") -> Path:
    book = Workbook()
    for row in rows:
        book.worksheets[0].append(list(row))
    if merged:
        book.worksheets[0].merge_cells(merged)
    path = folder / "parts.xlsx"
    book.save(path)
    return path


@pytest.mark.parametrize(
    ("content", "rows"),
    [
        # RFC 4180 (October 2005), section 2, rule by rule; the cases are our own, the rules from memory.
        # Rule 1: each record on a line of its own, ended by CRLF.
        ("a,b\r\nc,d\r\n", [("a", "b"), ("c", "d")]),
        # Rule 2: the last line may lack its line break.
        ("a,b\r\nc,d", [("a", "b"), ("c", "d")]),
        # Rule 3: a heading may come first, with as many fields as the rest; here one always does, quoted or not.
        ('"part no","name"\r\n1,lamp\r\n', [("part no", "name"), ("1", "lamp")]),
        # Rule 4: spaces are part of a field. We keep those within it, and drop those round it: see the module.
        ("a,b\r\nhead  lamp, d \r\n", [("a", "b"), ("head  lamp", "d")]),
        ('a,b\r\n1, "Lens, left"\r\n', [("a", "b"), ("1", "Lens, left")]),
        # Rule 4 too: no comma after the last field; where there is one, an empty field follows it.
        ("a,b\r\nc,d,\r\n", [("a", "b"), ("c", "d", "")]),
        # Rule 5: fields may be quoted, each for itself, and be empty. A mark inside an unquoted one, which it rules
        # out, is kept: works write inches so.
        ('"a","b"\r\nc,d', [("a", "b"), ("c", "d")]),
        ('a,"b"\r\n"c",d', [("a", "b"), ("c", "d")]),
        ('a,b\r\n"",d', [("a", "b"), ("", "d")]),
        ('a,b\r\n3 1/2",d', [("a", "b"), ('3 1/2"', "d")]),
        # Rule 6: line breaks, quotation marks and commas in quoted fields.
        ('a,b\r\n"x\r\ny","p,q"\r\n', [("a", "b"), ("x\r\ny", "p,q")]),
        ('"a\r\nb",c\r\n1,2\r\n', [("a\r\nb", "c"), ("1", "2")]),
        ('a,b\r\n",",";"\r\n', [("a", "b"), (",", ";")]),
        # Rule 7: a quotation mark within a quoted field is written twice.
        ('a,b\r\n"3 ft 4 1/2""",d', [("a", "b"), ('3 ft 4 1/2"', "d")]),
        ('a,b\r\n"""Pony"" lamp",""""\r\n', [("a", "b"), ('"Pony" lamp', '"')]),
        # Section 3 leaves the line break and the character set open.
        ("a,b\nc,d\n", [("a", "b"), ("c", "d")]),
        ("a,b\nc,d\r\ne,f", [("a", "b"), ("c", "d"), ("e", "f")]),
        ('\ufeff"a",b\r\nc,d\r\n', [("a", "b"), ("c", "d")]),
        ("a;b\nc;d\n", [("a", "b"), ("c", "d")]),
        ("a\tb\nc\td\n", [("a", "b"), ("c", "d")]),
        ("\ufeffa,b\nc,d\n", [("a", "b"), ("c", "d")]),
        ("a,b\rc,d\r", [("a", "b"), ("c", "d")]),
        ("a,b\n\n ,\nc,Tr\u00e4ger\n", [("a", "b"), ("c", "Tr\u00e4ger")]),
    ],
)
def test_csv_is_read_as_its_standard_describes_it(tmp_path: Path, content: str, rows: list[tuple[str, ...]]) -> None:
    assert cells(a_csv(tmp_path, content)) == rows


@given(st.lists(st.lists(st.text("abc,;\"'\n 1", min_size=1).filter(str.strip), min_size=2, max_size=4), min_size=2))
def test_what_another_writer_quotes_is_read_back(
    tmp_path_factory: pytest.TempPathFactory, rows: list[list[str]]
) -> None:
    rows = [["head", "line"], *rows]
    written = io.StringIO(newline="")
    csv.writer(written).writerows(rows)

    read = cells(a_csv(tmp_path_factory.mktemp("csv"), written.getvalue()))

    assert read == [tuple(cell.strip() for cell in row) for row in rows]


def test_the_rows_keep_the_numbers_that_they_have_in_the_file(tmp_path: Path) -> None:
    assert [row.number for row in read_sheet(a_csv(tmp_path, "a,b\n\n\nc,d\n")).rows] == [1, 4]


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"number,name\n1,caf\xe9\n", "not UTF-8 (line 2)"),
        (f"{HEADINGS}1,=SUM(A1:A9)\n".encode(), "row 2, column 2 holds a formula"),
        (f'{HEADINGS}1,"lamp\n'.encode(), "line 2"),
        (f'{HEADINGS}1,"lamp" x\n'.encode(), "line 2"),
        (f'{HEADINGS}1,"a\nb"\n2,"lamp"" x\n'.encode(), "line 4"),
        (f'{HEADINGS}1,"3 ft 4 1/2" x"\n'.encode(), "line 2"),
        (HEADINGS.encode(), "no rows below its headings"),
        (b"", "no rows"),
        ((HEADINGS + "1,lamp\n" * (MOST_ROWS + 1)).encode(), "more than 20,000 rows"),
        ((HEADINGS + "," * 200).encode(), "more than 100 columns"),
        (b"x" * (MOST_BYTES + 1), "more than 16,000,000 bytes"),
    ],
)
def test_a_csv_that_cannot_be_taken_is_refused_with_the_place(tmp_path: Path, content: bytes, said: str) -> None:
    with pytest.raises(UsageRefusedError) as refused:
        read_sheet(a_csv(tmp_path, content))

    assert said in refused.value.what
    assert refused.value.mend


def test_twenty_thousand_rows_are_taken(tmp_path: Path) -> None:
    assert len(read_sheet(a_csv(tmp_path, HEADINGS + "1,lamp\n" * MOST_ROWS)).rows) == MOST_ROWS + 1


def test_an_xlsx_gives_its_cells_as_text(tmp_path: Path) -> None:
    path = an_xlsx(tmp_path, ("number", "name", "quantity"), (30921, " Head lamp ", 2.0), (), ("H-204", None, 2.5))

    assert cells(path) == [("number", "name", "quantity"), ("30921", "Head lamp", "2"), ("H-204", "", "2.5")]


def test_other_sheets_of_the_file_are_named(tmp_path: Path) -> None:
    book = Workbook()
    book.worksheets[0].append(("name",))
    book.worksheets[0].append(("lamp",))
    book.create_sheet("prices")
    book.save(tmp_path / "parts.xlsx")

    assert read_sheet(tmp_path / "parts.xlsx").passed_over == ("prices",)


@pytest.mark.parametrize(
    ("rows", "merged", "said"),
    [
        ([("name",), ("=A1",)], "", "cell A2 holds a formula"),
        ([("name",), (date(1934, 6, 3),)], "", "cell A2 holds a date"),
        ([("name",), (True,)], "", "cell A2"),
        ([("part", None), ("a", "b")], "A1:B1", "the headings A1:B1 are merged"),
        ([], "", "no rows"),
    ],
)
def test_an_xlsx_that_cannot_be_taken_is_refused_with_the_place(
    tmp_path: Path, rows: list[tuple[object, ...]], merged: str, said: str
) -> None:
    with pytest.raises(UsageRefusedError) as refused:
        read_sheet(an_xlsx(tmp_path, *rows, merged=merged))

    assert said in refused.value.what


def test_a_cell_far_below_is_refused_before_the_rows_between_are_made(tmp_path: Path) -> None:
    book = Workbook()
    book.worksheets[0]["A1048576"] = "far"
    book.save(tmp_path / "far.xlsx")

    with pytest.raises(UsageRefusedError, match="more than 20,000 rows"):
        read_sheet(tmp_path / "far.xlsx")


def test_a_zip_that_swells_is_never_inflated(tmp_path: Path) -> None:
    path = an_xlsx(tmp_path, ("name",), ("lamp",))
    with zipfile.ZipFile(path, "a", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/worksheets/sheet2.xml", b" " * (MOST_BYTES + 1))

    assert path.stat().st_size < 100_000
    with pytest.raises(UsageRefusedError, match="unpacks to more"):
        read_sheet(path)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16"])
def test_xml_that_defines_entities_is_refused(tmp_path: Path, encoding: str) -> None:
    bomb = '<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><x>&b;</x>'
    path = an_xlsx(tmp_path, ("name",), ("lamp",))
    with zipfile.ZipFile(path, "a") as packed:
        packed.writestr("xl/worksheets/sheet2.xml", f"{' ' * (1 << 20)}{bomb}".encode(encoding))

    with pytest.raises(UsageRefusedError, match="document type"):
        read_sheet(path)


@pytest.mark.parametrize("content", [b"", b"no zip", b"PK\x05\x06" + bytes(18)])
def test_what_is_no_workbook_is_refused(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "parts.xlsx"
    path.write_bytes(content)

    with pytest.raises(UsageRefusedError, match=r"cannot be opened as \.xlsx"):
        read_sheet(path)


@pytest.mark.parametrize(("name", "said"), [("parts.ods", "no sheet"), ("gone.csv", "cannot be read")])
def test_another_sort_of_file_and_one_that_is_not_there_are_refused(tmp_path: Path, name: str, said: str) -> None:
    with pytest.raises(UsageRefusedError, match=said):
        read_sheet(tmp_path / name)
