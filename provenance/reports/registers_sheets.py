"""A register as a sheet: comma-separated values after RFC 4180, and a workbook; each field has its own column.

Spreadsheet programs take a cell that begins with `=`, `+`, `-` or `@` for a formula, whoever wrote it. In a workbook
every cell is marked as text. Comma-separated values cannot be marked; so an apostrophe goes before a cell that a
program may take for a formula (as CWE-1236 and the OWASP Application Security Verification Standard 5.0, 1.2.10, ask
for), and, since programs of some countries cut lines at semicolons, behind a semicolon that such words follow. It goes
also before what has an apostrophe at such a place already. So whoever takes one apostrophe away at the beginning of
each cell, and one behind each semicolon, has again what was written.

The first line holds the headings. Lines without a number follow, which say what the list is; then one line a row. A
draft has a first column that says so in every line.
"""

import csv
import re
from collections.abc import Iterator
from io import StringIO

from provenance.reports.appendix_words import DRAFT
from provenance.reports.cautioned import caution_sentences
from provenance.reports.layout import plain
from provenance.reports.registers import Register, cells_of, headings_of
from provenance.rules.cautions import FITNESS

BYTE_ORDER_MARK = "\ufeff"
"""Without it spreadsheet programs take UTF-8 for the letters of an old code page."""

_NO_CHARACTERS = re.compile("[\ufdd0-\ufdef\ufffe\uffff]")
# Spaces, marks without a width, and quotation marks may stand before a formula; full-width and small forms of the four
# signs begin one in programs for East Asia; U+2212 is the minus sign.
_SKIPPED = r"[\s\"\u00ad\u180e\u200b-\u200f\u2060-\u2064\ufeff]*"
_SIGNS = "'=+@\\-\u2212\ufe62\ufe63\ufe66\ufe6b\uff0b\uff0d\uff1d\uff20\uff07"
_FORMULA = re.compile(rf"(^|;)(?={_SKIPPED}[{_SIGNS}])")


def register_csv(register: Register) -> str:
    """Write a register as comma-separated values; the text begins with a byte order mark, lines end in CR and LF."""
    lines = StringIO(newline="")
    lines.write(BYTE_ORDER_MARK)
    writer = csv.writer(lines, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    marks = (DRAFT,) if register.head.draft else ()
    headings = tuple(headings_of(register).values())
    blank = ("",) * (len(headings) - 2)
    writer.writerow((*(("Draft",) if marks else ()), *headings))
    writer.writerows((*marks, "", as_text(sheet_text(sentence)), *blank) for sentence in sheet_sentences(register))
    writer.writerows((*marks, *(as_text(sheet_text(cell)) for cell in cells_of(row))) for row in register.rows)
    return lines.getvalue()


def sheet_sentences(register: Register) -> Iterator[str]:
    """What a sheet says of itself: what it is, the cautions, and what its words mean."""
    yield from register.head.about
    for caution in register.head.cautions:
        yield f"CAUTION, {caution.hazard}: {caution_sentences(caution)}"
    if register.head.cautions:
        yield FITNESS
    for word, meaning in register.head.meanings:
        yield f"{word}: {meaning}"


def sheet_text(text: str) -> str:
    r"""A text as a cell holds it: on one line; what would be obeyed and not shown is written out, such as `\x1b`."""
    if text.isascii() and text.isprintable():
        return text  # most are, and none of them has anything to write out
    return _NO_CHARACTERS.sub(lambda found: ascii(found[0])[1:-1], plain(text))


def as_text(cell: str) -> str:
    """A cell of comma-separated values that no spreadsheet program takes for a formula."""
    if cell[:1].isalnum() and ";" not in cell:
        return cell  # most cells; neither a sign nor what may stand before one is a letter or a figure
    return _FORMULA.sub(r"\1'", cell)
