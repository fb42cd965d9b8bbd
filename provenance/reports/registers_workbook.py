"""A register as a workbook of two sheets: the list, and what it is and what its words mean; every cell is text."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO

from xlsxwriter import Workbook
from xlsxwriter.format import Format
from xlsxwriter.worksheet import Worksheet

from provenance.records.dates import Day
from provenance.reports.appendix_words import DRAFT, RE_CREATION
from provenance.reports.registers import FeatureRow, Register, SourceRegister, SourceRow, cells_of, headings_of
from provenance.reports.registers_sheets import sheet_sentences, sheet_text

LONGEST_CELL = 32_767
"""How many UTF-16 code units a cell may hold: what the makers of spreadsheet programs publish as their limit."""

CUT = " [cut here: a cell of a workbook holds no more]"

_A4 = 9  # the number of the paper in ECMA-376, part 1, 18.3.1.63
_HEADING_ROW, _FIRST_ROW = 0, 1
_LONGEST_PROPERTY = 255  # characters
_LONGEST_TITLE = 80  # of the 255 that the head of a page may have with its marks; each `&` takes two
_ABOUT_WIDTH = 120
# In characters: no word of a heading is broken, and all columns together are still read on the width of a lying A4.
_WIDTHS = {
    "number": 5,
    "record": 16,
    "title": 24,
    "kind": 11,
    "created": 10,
    "reference": 11,
    "language": 10,
    "issue": 6,
}
_WIDTHS |= {"made_from": 18, "reliability": 15, "cleared": 9, "cited_by": 9, "entered": 10, "part": 14, "feature": 18}
_WIDTHS |= {"part_of": 10, "aspect": 11, "made_as": 14, "value": 17, "grade": 15, "evidence": 14, "declared": 24}
_WIDTHS |= {"built": 14, "made": 10, "confidence": 16, "hazards": 10, "within": 10}
_USUAL_WIDTH = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class RegisterWorkbook:
    """A workbook.

    Attributes:
        data: the file.
        cut: how many cells were longer than a cell can be, and end with a mark that says so.
    """

    data: bytes
    cut: int


def register_workbook(register: Register) -> RegisterWorkbook:
    """Write a register as a workbook; its properties name its own day alone, so the same gives the same bytes."""
    file = BytesIO()
    workbook = Workbook(file, {"in_memory": True})
    head = register.head
    name = "Sources" if isinstance(register, SourceRegister) else "Features"
    workbook.set_properties(
        {
            "title": sheet_text(head.title)[:_LONGEST_PROPERTY],
            "comments": f"{DRAFT}. The object is {RE_CREATION}." if head.draft else f"The object is {RE_CREATION}.",
            "created": _created(head.day),
        }
    )
    heading = workbook.add_format({"bold": True, "text_wrap": True, "valign": "top", "bottom": 1})
    text = workbook.add_format({"text_wrap": True, "valign": "top"})
    listing, about = (_Sheet(workbook.add_worksheet(each), text, heading) for each in (name, "About this list"))
    _write_list(listing, register)
    _write_about(about, register)
    workbook.close()
    return RegisterWorkbook(data=file.getvalue(), cut=listing.cut + about.cut)


def _created(day: Day) -> dt.datetime:
    """The day as such a property can hold it; the earliest that it can hold for those that it cannot."""
    earliest = dt.datetime(1900, 1, 1)  # noqa: DTZ001  a day has no zone
    return earliest.replace(year=day.year, month=day.month, day=day.day) if 1900 <= day.year <= 9999 else earliest


class _Sheet:
    """A sheet on which every cell is written as text.

    Attributes:
        cut: how many cells had to be cut.
    """

    def __init__(self, sheet: Worksheet, text: Format, heading: Format) -> None:
        self.sheet = sheet
        self.cut = 0
        self._text = text
        self._heading = heading

    def write(self, row: int, column: int, text: str, *, is_heading: bool = False) -> None:
        """Write a cell; rows and columns count from 0; an empty text leaves the cell empty.

        Raises:
            ValueError: the sheet has no such cell.
        """
        if not text:
            return
        said = self._fitting(_unmarked(sheet_text(text)))
        if self.sheet.write_string(row, column, said, self._heading if is_heading else self._text):
            raise ValueError(f"the cell {row}, {column} cannot be written")

    def _fitting(self, text: str) -> str:
        if len(text) <= LONGEST_CELL // 2 or _units(text) <= LONGEST_CELL:
            return text
        self.cut += 1
        room = (LONGEST_CELL - len(CUT)) * 2
        return text.encode("utf-16-le")[:room].decode("utf-16-le", errors="ignore") + CUT


def _units(text: str) -> int:
    """How many UTF-16 code units a text has."""
    return len(text.encode("utf-16-le")) // 2


def _unmarked(text: str) -> str:
    """A text that the library does not take for one with marks of its own: such a one it writes as it is, unescaped."""
    return f" {text}" if text.startswith("<r>") and text.endswith("</r>") else text


def _write_list(sheet: _Sheet, register: Register) -> None:
    fields = headings_of(register)
    marks = (DRAFT,) if register.head.draft else ()
    headings = (*(("Draft",) if marks else ()), *fields.values())
    widths = (*(9 for _ in marks), *(_WIDTHS.get(field, _USUAL_WIDTH) for field in fields))
    for column, (heading, width) in enumerate(zip(headings, widths, strict=True)):
        sheet.sheet.set_column(column, column, width)
        sheet.write(_HEADING_ROW, column, heading, is_heading=True)
    rows: Sequence[SourceRow | FeatureRow] = register.rows
    for number, row in enumerate(rows, _FIRST_ROW):
        for column, cell in enumerate((*marks, *cells_of(row))):
            sheet.write(number, column, cell)
    sheet.sheet.freeze_panes(_FIRST_ROW, len(marks) + 2)
    sheet.sheet.autofilter(_HEADING_ROW, 0, max(len(register.rows), 1), len(headings) - 1)
    sheet.sheet.repeat_rows(_HEADING_ROW)
    _lay_out(sheet.sheet, register, is_lying=True)


def _write_about(sheet: _Sheet, register: Register) -> None:
    sheet.sheet.set_column(0, 0, _ABOUT_WIDTH)
    sheet.write(_HEADING_ROW, 0, register.head.title, is_heading=True)
    for number, sentence in enumerate(sheet_sentences(register), _FIRST_ROW):
        sheet.write(number, 0, sentence)
    _lay_out(sheet.sheet, register, is_lying=False)


def _lay_out(sheet: Worksheet, register: Register, *, is_lying: bool) -> None:
    sheet.set_paper(_A4)
    if is_lying:
        sheet.set_landscape()
    sheet.fit_to_pages(1, 0)
    sheet.set_margins(left=0.4, right=0.4, top=0.8, bottom=0.7)
    mark = f"{DRAFT}. " if register.head.draft else ""
    sheet.set_header(f"&L{mark}The object is {RE_CREATION}.&R{_title(register)}")
    sheet.set_footer("&RPage &P of &N")


def _title(register: Register) -> str:
    """The title for the head of a page, where `&` begins a code, and there is little room."""
    title = sheet_text(register.head.title)
    short = title if len(title) <= _LONGEST_TITLE else f"{title[:_LONGEST_TITLE]}…"
    return short.replace("&", "&&")
