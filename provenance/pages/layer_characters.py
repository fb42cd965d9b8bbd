"""The characters of a text layer, joined to words."""

from collections.abc import Iterator
from typing import Any

from pdfminer.layout import LTChar, LTContainer
from pdfplumber.page import Page
from pdfplumber.utils.text import extract_words

from provenance.pages.line_order import Direction

SPACE = 0.15
"""A gap of this share of the size of the letters parts two words; what pdfplumber's own pages advise."""

SECOND_PRINT = 0.3
"""The same character again within this share of its width is the same one, printed twice to look bold."""

_WAYS_OF_READING: dict[Direction, dict[str, Any]] = {
    Direction.RIGHT: {"line_dir": "ttb", "char_dir": "ltr", "x_tolerance_ratio": SPACE},
    Direction.LEFT: {"line_dir": "btt", "char_dir": "rtl", "x_tolerance_ratio": SPACE},
    Direction.UP: {"line_dir_rotated": "ltr", "char_dir_rotated": "btt", "y_tolerance_ratio": SPACE},
    Direction.DOWN: {"line_dir_rotated": "rtl", "char_dir_rotated": "ttb", "y_tolerance_ratio": SPACE},
}

FoundWord = dict[str, Any]
"""A word as pdfplumber gives it: its text, and its edges x0, top, x1, bottom in points."""


def words_by_direction(page: Page) -> list[tuple[Direction, list[FoundWord]]]:
    """Join the characters of a page to words, those that run each way by themselves.

    A sideways note then does not break into the lines beside it. The characters are taken from the page's layout, not
    from its list of objects, which is the dearer half of the work and carries colours and fonts that nobody reads here.

    Returns:
        Edges in points from the upper left corner of the upright MediaBox.
    """
    running: dict[Direction, list[FoundWord]] = {}
    printed: dict[tuple[str, int], list[float]] = {}
    for character in _characters(page.layout):
        places = printed.setdefault((character.get_text(), round(character.y0)), [])
        if any(abs(character.x0 - place) < SECOND_PRINT * character.width for place in places):
            continue
        places.append(character.x0)
        direction = _direction(character.matrix)
        running.setdefault(direction, []).append(_as_found(character, direction, page.height))
    return [
        (direction, extract_words(running[direction], **_WAYS_OF_READING[direction]))
        for direction in Direction
        if direction in running
    ]


def _characters(container: LTContainer[Any]) -> Iterator[LTChar]:
    """Walk through the characters of a page and of the forms drawn on it."""
    for item in container:
        if isinstance(item, LTChar):
            yield item
        elif isinstance(item, LTContainer):
            yield from _characters(item)


def _as_found(character: LTChar, direction: Direction, page_height: float) -> FoundWord:
    top = page_height - character.y1
    return {
        "text": character.get_text(),
        "x0": character.x0,
        "x1": character.x1,
        "top": top,
        "doctop": top,
        "bottom": page_height - character.y0,
        "height": character.height,
        "upright": direction in {Direction.RIGHT, Direction.LEFT},
        "size": character.size,
    }


def _direction(matrix: tuple[float, ...]) -> Direction:
    """Tell which way a character runs, from its text matrix (ISO 32000-1, 9.4.4)."""
    across, up = matrix[0], matrix[1]
    if abs(across) >= abs(up):
        return Direction.RIGHT if across >= 0 else Direction.LEFT
    return Direction.UP if up > 0 else Direction.DOWN
