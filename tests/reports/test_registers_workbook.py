"""Workbooks are read back by openpyxl, and their parts by the standard's own names (ECMA-376, part 1)."""

import re
from dataclasses import replace
from io import BytesIO
from typing import Any
from zipfile import ZipFile

import pytest
from builders import an_archive
from openpyxl import load_workbook
from public_archives import an_open_source
from reports.registers import an_archive_with_everything, the_features, the_sources
from reports.test_registers_sheets import HOSTILE

from provenance.records.archive import Archive
from provenance.records.days import Day
from provenance.reports.registers import Register, cells_of, headings_of
from provenance.reports.registers_sheets import sheet_sentences, sheet_text
from provenance.reports.registers_workbook import CUT, LONGEST_CELL, register_workbook

TITLE = 3
"""The column of the title, counted from 1."""

MARKS = ("<r>a</r>", "<r><t>a</t></r>", "<b>&amp;</b>", "]]>", "_x000D_", "_x0041_", "\ufffe", "\x00", "\ud800")
ADDRESSES = ("http://example.org/a", "mailto:a@example.org", "internal:Sheet2!A1", "{=1+1}", "1e3", "007", "TRUE")
RIGHT_TO_LEFT = "אורין, מאת מ' הולין 1934"


def titled(*titles: str) -> Archive:
    return an_archive(*(an_open_source(f"s-{number:02}", title=title) for number, title in enumerate(titles)))


def sheets_of(register: Register) -> list[Any]:
    return list(load_workbook(BytesIO(register_workbook(register).data)).worksheets)


def texts_of(sheet: Any) -> list[tuple[str, ...]]:
    """Its cells; the reader has read what the standard escapes in texts (22.9.2.19), such as `_x000D_`."""
    return [tuple(str(cell or "") for cell in row) for row in sheet.iter_rows(values_only=True)]


@pytest.mark.parametrize("draft", [False, True])
@pytest.mark.parametrize("words", ["as it was", "=1+1", "http://example.org", "12", "@A1"])
def test_every_cell_is_text_and_nothing_is_a_formula_or_a_link(words: str, *, draft: bool) -> None:
    archive = an_archive_with_everything(words)

    for register in (the_sources(archive, draft=draft), the_features(archive, draft=draft)):
        for sheet in sheets_of(register):
            cells = [cell for row in sheet.iter_rows() for cell in row if cell.value is not None]
            assert {cell.data_type for cell in cells} == {"s"}
            assert not any(cell.hyperlink for cell in cells)
        parts = ZipFile(BytesIO(register_workbook(register).data))
        for name in parts.namelist():
            if name.startswith("xl/worksheets/sheet"):
                assert b"<f>" not in parts.read(name)
                assert b"<hyperlink" not in parts.read(name)


def test_the_fields_of_every_row_stand_in_the_list_as_in_the_value() -> None:
    for register in (the_sources(an_archive_with_everything()), the_features(an_archive_with_everything())):
        heading, *rows = texts_of(sheets_of(register)[0])

        assert heading == tuple(headings_of(register).values())
        assert rows == [cells_of(row) for row in register.rows]


@pytest.mark.parametrize("title", [*HOSTILE, *MARKS, *ADDRESSES, RIGHT_TO_LEFT, "𝄞 clef", "a" * 500])
def test_a_title_stands_in_its_cell_letter_for_letter(title: str) -> None:
    (sheet, _) = sheets_of(the_sources(titled(title)))

    (_, row) = texts_of(sheet)

    assert row[TITLE - 1].removeprefix(" " if title.startswith("<r>") else "") == sheet_text(title)


@pytest.mark.parametrize("letter", ["a", "𝄞"])
def test_a_text_that_no_cell_can_hold_is_cut_with_a_mark_and_counted(letter: str) -> None:
    """A letter outside the basic plane takes two UTF-16 code units."""
    units = len(letter.encode("utf-16-le")) // 2
    fits = letter * (LONGEST_CELL // units)
    written = register_workbook(the_sources(titled(fits, fits + letter, "short")))

    (sheet, _) = load_workbook(BytesIO(written.data)).worksheets
    (_, whole, cut, short) = (row[TITLE - 1] for row in texts_of(sheet))

    assert (written.cut, whole, short) == (1, fits, "short")
    assert cut.endswith(CUT)
    assert fits.startswith(cut.removesuffix(CUT))
    assert LONGEST_CELL - 2 < len(cut.encode("utf-16-le")) // 2 <= LONGEST_CELL


def test_a_title_of_twenty_thousand_characters_is_whole() -> None:
    title = "a word " * 3000
    written = register_workbook(the_sources(titled(title)))

    assert written.cut == 0
    assert texts_of(load_workbook(BytesIO(written.data)).worksheets[0])[1][TITLE - 1] == title


def test_what_the_list_is_stands_on_a_sheet_of_its_own() -> None:
    register = the_features(an_archive_with_everything())

    listing, about = sheets_of(register)

    assert (listing.title, about.title) == ("Features", "About this list")
    assert [row[0] for row in texts_of(about)] == [register.head.title, *sheet_sentences(register)]


def test_a_draft_says_so_in_every_row_and_at_the_head_of_every_printed_page() -> None:
    draft, final = (sheets_of(the_sources(an_archive_with_everything(), draft=each)) for each in (True, False))

    assert {row[0] for row in texts_of(draft[0])} == {"Draft", "DRAFT, not for display"}
    for sheet in draft:
        assert sheet.oddHeader.left.text == "DRAFT, not for display. The object is a modern re-creation."
    for sheet in final:
        assert sheet.oddHeader.left.text == "The object is a modern re-creation."


def test_the_list_is_made_to_be_worked_in_and_to_be_printed() -> None:
    listing, about = sheets_of(the_sources(an_archive_with_everything()))

    assert listing.freeze_panes == "C2"
    assert listing.auto_filter.ref == "A1:V5"
    assert listing.print_title_rows == "$1:$1"
    assert (listing.page_setup.orientation, listing.page_setup.paperSize) == ("landscape", 9)
    assert (listing.page_setup.fitToWidth or 1, listing.page_setup.fitToHeight) == (1, 0)  # 18.3.1.63: 1 unless said
    assert listing.sheet_properties.pageSetUpPr.fitToPage
    assert all(cell.alignment.wrap_text for row in listing.iter_rows() for cell in row if cell.value)
    assert about.page_setup.paperSize == 9


@pytest.mark.parametrize("title", ["A & B", "&" * 300, "&Z&F " * 50, "long " * 5000])
def test_a_title_at_the_head_of_a_page_is_no_code(title: str) -> None:
    archive = replace(titled("one"), title=title)

    (listing, _) = sheets_of(the_sources(archive))

    assert listing.oddHeader.right.text.replace("&&", "").count("&") == 0


def test_the_only_day_in_its_properties_is_its_own() -> None:
    register = the_sources(an_archive_with_everything())

    workbook = load_workbook(BytesIO(register_workbook(register).data))

    assert str(workbook.properties.created) == str(workbook.properties.modified) == "2026-11-25 00:00:00"
    dates = {info.date_time for info in ZipFile(BytesIO(register_workbook(register).data)).infolist()}
    assert dates == {(1980, 1, 1, 0, 0, 0)}


@pytest.mark.parametrize("year", [-44, 0, 1899, 12000])
def test_a_day_that_the_properties_cannot_hold_stops_nothing(year: int) -> None:
    register = the_sources(an_archive_with_everything())

    assert register_workbook(replace(register, head=replace(register.head, day=Day(year, 3, 15)))).data


def test_the_same_register_gives_the_same_bytes() -> None:
    one, other = (register_workbook(the_sources(an_archive_with_everything())).data for _ in range(2))

    assert one == other


def test_an_empty_register_is_a_sheet_with_its_headings() -> None:
    register = the_features(replace(an_archive(), components={}))

    assert texts_of(sheets_of(register)[0]) == [tuple(headings_of(register).values())]


@pytest.mark.parametrize("which", ["sources", "features"])
def test_no_word_of_a_heading_is_wider_than_its_column(which: str) -> None:
    """Widths are in characters (ECMA-376, part 1, 18.3.1.13)."""
    archive = an_archive_with_everything()
    register = the_sources(archive) if which == "sources" else the_features(archive)

    xml = ZipFile(BytesIO(register_workbook(register).data)).read("xl/worksheets/sheet1.xml").decode()

    widths = {
        column: float(width)
        for first, last, width in re.findall(r'<col min="(\d+)" max="(\d+)" width="([\d.]+)"', xml)
        for column in range(int(first), int(last) + 1)
    }
    for column, heading in enumerate(headings_of(register).values(), 1):
        assert max(map(len, heading.split())) < widths[column], heading
