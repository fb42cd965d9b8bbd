"""Comma-separated values are read back by Python's own reader; the rules are those of RFC 4180, section 2.

Which characters begin a formula: OWASP Application Security Verification Standard 5.0, 1.2.10 (`=`, `+`, `-`, `@`, tab,
NUL), and CWE-1236, which also gives the apostrophe. Full-width forms, marks without a width, and semicolons that some
programs cut lines at: common practice, no source.
"""

import csv
import re
from dataclasses import replace
from io import StringIO

import pytest
from builders import an_archive
from hypothesis import given
from hypothesis import strategies as st
from public_archives import an_open_source
from reports.registers import an_archive_with_everything, the_features, the_sources

from provenance.records.archive import Archive
from provenance.reports.registers import Register, cells_of, headings_of
from provenance.reports.registers_sheets import as_text, register_csv, sheet_sentences, sheet_text

TITLE = 2
HOSTILE = (
    "=1+1",
    "+1",
    "-1",
    "@SUM(A1)",
    "\t=1",
    "\r=1",
    "\n=1",
    "  =cmd|' /C calc'!A0",
    "\u3000=1",
    "\u00a0+1",
    "\ufeff=1",
    "\u200b-1",
    "＝1+1",  # noqa: RUF001  a full-width sign is what is tested
    "＋1",  # noqa: RUF001  the very sign that a spreadsheet takes
    "－1",  # noqa: RUF001  the very sign that a spreadsheet takes
    "＠A1",  # noqa: RUF001  the very sign that a spreadsheet takes
    "−1",  # noqa: RUF001  the very sign that a spreadsheet takes
    "'=1",
    '"=1',
    'a;=1+1;"@B',
    'a; "" =1',
    "x'y",
    "a;'b",
)


def written(register: Register) -> list[list[str]]:
    """The lines of the file, by a reader that keeps to the standard's own rules."""
    text = register_csv(register)
    assert text.startswith("\ufeff")
    return list(csv.reader(StringIO(text[1:], newline=""), strict=True))


def got_back(cell: str) -> str:
    """What was written, by the rule that the answer's schema gives."""
    return re.sub("(^|;)'", r"\1", cell)


def rows_in(lines: list[list[str]], *, marks: int = 0) -> list[tuple[str, ...]]:
    return [tuple(line[marks:]) for line in lines[1:] if line[marks]]


def titled(*titles: str) -> Archive:
    return an_archive(*(an_open_source(f"s-{number:02}", title=title) for number, title in enumerate(titles)))


def begins_a_formula(cell: str) -> bool:
    """Whether a program may take a cell, or what stands behind a semicolon in it, for a formula; by hand, slowly."""
    for part in cell.split(";"):
        seen = next((each for each in part if not (each.isspace() or each in '"\ufeff\u200b\u00ad')), "")
        if seen and seen in "=+-@＝＋－＠﹢﹣﹦﹫−":  # noqa: RUF001  the very sign that a spreadsheet takes
            return True
    return False


def test_each_record_is_on_a_line_of_its_own_that_ends_in_cr_and_lf() -> None:
    """RFC 4180, 2.1 and 2.2: this file ends its last line too."""
    text = register_csv(the_sources(titled("one", "two\r\nlines", "three")))

    assert text.endswith("\r\n")
    assert "\n" not in text.replace("\r\n", "")
    assert "two lines" in text


def test_the_first_line_holds_the_headings() -> None:
    """RFC 4180, 2.3."""
    register = the_sources(an_archive_with_everything())

    assert written(register)[0] == list(headings_of(register).values())


@pytest.mark.parametrize("draft", [False, True])
def test_every_line_has_as_many_fields_as_the_first(*, draft: bool) -> None:
    """RFC 4180, 2.4."""
    for register in (
        the_sources(an_archive_with_everything('a,b"c'), draft=draft),
        the_features(an_archive_with_everything('a,b"c'), draft=draft),
    ):
        assert len({len(line) for line in written(register)}) == 1


@pytest.mark.parametrize("title", [" two spaces  ", "a,b", 'a "quoted" word', "a\r\nb", "é, ß, 漢字, שלום"])
def test_spaces_commas_quotes_and_breaks_stay_in_their_field(title: str) -> None:
    """RFC 4180, 2.4 to 2.7."""
    (row,) = rows_in(written(the_sources(titled(title))))

    assert row[TITLE] == title.replace("\r\n", " ")


@pytest.mark.parametrize("title", HOSTILE)
def test_a_cell_that_could_be_a_formula_is_text_and_can_be_got_back(title: str) -> None:
    (row,) = rows_in(written(the_sources(titled(title))))

    assert not begins_a_formula(row[TITLE])
    assert got_back(row[TITLE]) == sheet_text(title)


def test_the_characters_that_begin_a_formula_are_known_to_the_test() -> None:
    assert begins_a_formula("=1")
    assert begins_a_formula(" ＋1")  # noqa: RUF001  the very sign that a spreadsheet takes
    assert begins_a_formula("a; @b")
    assert not begins_a_formula("'=1")


@given(st.text(alphabet="=+-@'\";, ax\u3000\ufeff＝", max_size=12))  # noqa: RUF001  the very sign that a spreadsheet takes
def test_whatever_is_written_can_be_got_back_and_is_no_formula(text: str) -> None:
    assert got_back(as_text(text)) == text
    assert not begins_a_formula(as_text(text))


def test_the_fields_of_every_row_stand_in_the_file_as_in_the_value() -> None:
    for register in (the_sources(an_archive_with_everything()), the_features(an_archive_with_everything())):
        lines = [tuple(map(got_back, line)) for line in rows_in(written(register))]

        assert lines == [cells_of(row) for row in register.rows]


def test_what_the_list_is_stands_before_its_rows_in_lines_without_a_number() -> None:
    register = the_sources(an_archive_with_everything(), held_privately=3)
    lines = written(register)

    told = [line[1] for line in lines[1:] if not line[0]]

    assert told == list(sheet_sentences(register))
    assert [line[0] for line in lines[1 : len(told) + 1]] == [""] * len(told)
    assert any("modern re-creation" in sentence for sentence in told)
    assert "3 further sources are held privately." in told
    assert any(sentence.startswith("CAUTION, nitrate-film") for sentence in told)


def test_every_line_of_a_draft_says_that_it_is_one() -> None:
    heading, *lines = written(the_sources(an_archive_with_everything(), draft=True))

    assert heading[0] == "Draft"
    assert {line[0] for line in lines} == {"DRAFT, not for display"}
    assert "DRAFT" not in register_csv(the_sources(an_archive_with_everything()))


def test_what_would_be_obeyed_and_not_shown_is_written_out() -> None:
    assert sheet_text("a\x1b[1m\u202eb\ufffe\uffff") == "a\\x1b[1m\\u202eb\\ufffe\\uffff"


def test_an_empty_register_is_its_headings_and_what_it_is() -> None:
    register = the_features(replace(an_archive(), components={}), draft=True)

    assert rows_in(written(register), marks=1) == []
    assert len(written(register)) == 1 + len(list(sheet_sentences(register)))


def test_the_same_register_gives_the_same_text() -> None:
    one, other = (register_csv(the_sources(an_archive_with_everything())) for _ in range(2))

    assert one == other
