"""Sheets of rows and columns as people keep them: CSV and XLSX, checked before they are unpacked.

CSV is read as RFC 4180 describes it (section 2), with these of the freedoms that its section 3 names: UTF-8 with or
without a byte order mark, line breaks of any sort, and `;` or a tab where a comma is due. Against its rule 4 the spaces
round a cell are dropped, those before a quotation mark too, for nobody means them in a parts list.

An XLSX file is a zip file; the size of what it holds is read from its directory, and what is larger than a parts tree
can be is never inflated. Formulas are refused: what they come to depends on the program that opened the file last.
"""

import csv
import datetime as dt
import io
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from openpyxl import load_workbook

from provenance.errors import UsageRefusedError

MOST_ROWS = 20_000
MOST_COLUMNS = 100
MOST_BYTES = 16_000_000
"""Bytes of a CSV file, and of an XLSX file unpacked; twenty thousand rows of a parts tree take a quarter of that."""

_DELIMITERS = ",;\t"
_PIECE = 1 << 20
_SPLIT_IT = f"leave away what is not needed, or take it in by parts of at most {MOST_ROWS:,} rows"


@dataclass(frozen=True, slots=True)
class SheetRow:
    """One row; `number` counts from 1 in the file, and every cell is text without white space round it."""

    number: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """The rows of a sheet that hold something, the headings first.

    Attributes:
        passed_over: the names of other sheets of the same file, which were not read.
    """

    rows: tuple[SheetRow, ...]
    passed_over: tuple[str, ...] = ()


def read_sheet(path: Path) -> Sheet:
    """Read a sheet; the ending of its name says which sort it is.

    Raises:
        UsageRefusedError: it is not there, is of another sort, damaged, too large, empty, or holds a formula, a date or
            merged headings; with the place and the mend.
    """
    readers = {".csv": _read_csv, ".xlsx": _read_xlsx}
    reader = readers.get(path.suffix.lower())
    if reader is None:
        raise UsageRefusedError(f"{path.name} is no sheet that can be read", "save it as .csv (UTF-8) or .xlsx")
    try:
        if path.stat().st_size > MOST_BYTES:
            raise UsageRefusedError(f"{path.name} has more than {MOST_BYTES:,} bytes", _SPLIT_IT)
        sheet = reader(path)
    except OSError as error:
        raise UsageRefusedError(f"{path} cannot be read: {error.strerror or error}", "name a file that can") from error
    if len(sheet.rows) < 2:
        raise UsageRefusedError(f"{path.name} has no rows below its headings", "write the headings into its first row")
    return sheet


def _read_csv(path: Path) -> Sheet:
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = error.object.count(b"\n", 0, error.start) + 1
        raise UsageRefusedError(f"{path.name} is not UTF-8 (line {line})", "save it as CSV UTF-8") from error
    first = text.split("\n", 1)[0]
    delimiter = max(_DELIMITERS, key=first.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, skipinitialspace=True, strict=True)
    rows: list[SheetRow] = []
    try:
        for number, cells in enumerate(reader, start=1):
            _require_size(path, number, len(cells))
            stripped = tuple(cell.strip() for cell in cells)
            for column, cell in enumerate(stripped, start=1):
                if cell.startswith("="):
                    raise _formula(path, f"row {number}, column {column}")
            rows += [SheetRow(number, stripped)] if any(stripped) else []
    except csv.Error as error:
        raise UsageRefusedError(
            f"{path.name}, line {reader.line_num}: {error}",
            "write a quotation mark within a quoted cell twice, and close every quotation (RFC 4180, 2)",
        ) from error
    return Sheet(rows=tuple(rows))


def _read_xlsx(path: Path) -> Sheet:
    _require_harmless(path)
    try:
        book = load_workbook(path, data_only=False, keep_links=False)
    except Exception as error:  # what a damaged file makes the library raise is of many kinds
        raise _damaged(path) from error
    if not book.worksheets:
        raise _damaged(path)
    page, *others = book.worksheets
    _require_size(path, page.max_row, page.max_column)
    rows = tuple(row for row in _rows_of(path, page) if any(row.cells))
    if rows:
        _require_unmerged(path, page, rows[0].number)
    return Sheet(rows=rows, passed_over=tuple(other.title for other in others))


def _require_harmless(path: Path) -> None:
    """See that the zip holds no more than it should, and no XML that defines entities."""
    try:
        with zipfile.ZipFile(path) as packed:
            if sum(member.file_size for member in packed.infolist()) > MOST_BYTES:
                raise UsageRefusedError(f"{path.name} unpacks to more than {MOST_BYTES:,} bytes", _SPLIT_IT)
            for member in packed.infolist():
                if member.filename.endswith((".xml", ".rels")) and _defines_entities(packed, member):
                    raise UsageRefusedError(
                        f"{path.name} holds a document type ({member.filename}), which no sheet needs",
                        "open it in a spreadsheet program and save it anew",
                    )
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, EOFError) as error:
        # Besides its own error, zipfile raises these for a compression it lacks, a password, and an end too soon.
        raise _damaged(path) from error


def _defines_entities(packed: zipfile.ZipFile, member: zipfile.ZipInfo) -> bool:
    """Whether a part has a document type; found in any encoding of its letters, across pieces too."""
    last = b""
    with packed.open(member) as part:
        while piece := part.read(_PIECE):
            letters = piece.replace(b"\0", b"")
            if b"<!DOCTYPE" in last + letters:
                return True
            last = letters[-10:]
    return False


def _rows_of(path: Path, page: Any) -> Iterator[SheetRow]:
    for number, cells in enumerate(page.iter_rows(), start=1):
        yield SheetRow(number, tuple(_text_of(path, cell) for cell in cells))


def _text_of(path: Path, cell: Any) -> str:
    value = cell.value
    if value is None:
        return ""
    if cell.data_type == "f":
        raise _formula(path, f"cell {cell.coordinate}")
    if isinstance(value, str) and cell.data_type != "e":
        return value.strip()
    if isinstance(value, bool | dt.date | dt.time | dt.timedelta | str):
        raise UsageRefusedError(
            f"{path.name}, cell {cell.coordinate} holds a date, a truth value or an error, not text",
            "format the cell as text and type what should stand there",
        )
    return str(int(value)) if float(value).is_integer() else str(value)


def _require_unmerged(path: Path, page: Any, row: int) -> None:
    for merged in page.merged_cells.ranges:
        if merged.min_row <= row <= merged.max_row:
            raise UsageRefusedError(
                f"{path.name}: the headings {merged.coord} are merged", "unmerge them: one heading for each column"
            )


def _require_size(path: Path, rows: int, columns: int) -> None:
    if rows > MOST_ROWS + 1:
        raise UsageRefusedError(f"{path.name} has more than {MOST_ROWS:,} rows", _SPLIT_IT)
    if columns > MOST_COLUMNS:
        raise UsageRefusedError(f"{path.name} has more than {MOST_COLUMNS} columns", "leave away what is not needed")


def _formula(path: Path, place: str) -> UsageRefusedError:
    return UsageRefusedError(
        f"{path.name}, {place} holds a formula", "put in what it comes to: copy the cells, then paste the values alone"
    )


def _damaged(path: Path) -> UsageRefusedError:
    return UsageRefusedError(
        f"{path.name} cannot be opened as .xlsx", "open it in a spreadsheet program and save it anew"
    )
