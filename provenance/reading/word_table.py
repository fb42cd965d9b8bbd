"""The table of words that the recogniser writes, made words of ours."""

from provenance.errors import UnreadableOriginalError
from provenance.records.readings import Box, Word

_PAGE, _WORD = "1", "5"
_COLUMNS = 12


def words_of_table(table: str) -> tuple[Word, ...]:
    """Read the words out of a recogniser's table (Tesseract's TSV).

    Its columns: level, page, block, paragraph, line, word, left, top, width, height, confidence, text; a row of level
    1 is the page, whose size turns pixels into percent, a row of level 5 a word. Lines are numbered in its order.

    Returns:
        In reading order; words of white space, which stand for pictures and rules, are left out.

    Raises:
        UnreadableOriginalError: the table does not begin with a page or breaks off: on a full disk the recogniser
            writes a part of it, or nothing, and reports no fault. Measured (Tesseract 5.3).
    """
    _require_whole(table)
    words: list[Word] = []
    page_size = (1, 1)
    line, last = 0, ("", "", "")
    for row in table.split("\n")[1:]:
        cells = row.split("\t")
        if len(cells) == _COLUMNS and cells[0] == _PAGE:
            page_size = (int(cells[8]), int(cells[9]))
        if len(cells) != _COLUMNS or cells[0] != _WORD or not cells[11].strip():
            continue
        place = (cells[2], cells[3], cells[4])
        line, last = (line, last) if place == last else (line + 1, place)
        words.append(Word(cells[11].strip(), line, _box(cells[6:10], page_size), round(float(cells[10]), 3)))
    return tuple(words)


def _require_whole(table: str) -> None:
    rows = table.split("\n")
    has_page = len(rows) > 1 and rows[1].startswith(f"{_PAGE}\t")
    if not has_page or rows[-1] or any(row.count("\t") != _COLUMNS - 1 for row in rows[:-1]):
        raise UnreadableOriginalError(
            "what the recogniser wrote was cut short; the disk of the temporary files may be full",
            "make room on it, then ingest the file again",
        )


def _box(cells: list[str], page_size: tuple[int, int]) -> Box:
    """Place a word in percent of the page: whatever the scale, the share is the same."""
    left, top, width, height = map(int, cells)
    across, down = page_size
    return Box(
        round(100 * left / across, 3),
        round(100 * top / down, 3),
        round(100 * width / across, 3),
        round(100 * height / down, 3),
    )
