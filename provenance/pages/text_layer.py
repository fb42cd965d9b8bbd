"""The text layer of a page of a PDF: its words, with their places on the page upright as delivered."""

import weakref
from functools import lru_cache
from importlib.metadata import version
from pathlib import Path

import pdfplumber
from pdfplumber.page import Page
from pdfplumber.pdf import PDF

from provenance.errors import UnreadableOriginalError
from provenance.pages.layer_characters import FoundWord, words_by_direction
from provenance.pages.line_order import Direction, PlacedWord, in_reading_order
from provenance.pages.pdf_documents import PAGES_TO_AN_OPENING, count_pages
from provenance.records.readings import Word

Rectangle = tuple[float, float, float, float]
"""Left, top, right, bottom, in points from the upper left corner of the upright MediaBox."""


def layer_engine() -> str:
    """Name what reads text layers, with its version."""
    return f"pdfplumber {version('pdfplumber')}"


def text_layer(path: Path, page: int) -> tuple[Word, ...]:
    """Read the words of a page's text layer, in reading order.

    Words that lie outside the visible page (its CropBox) are left out.

    Args:
        path: a PDF.
        page: counted from 1.

    Returns:
        Empty for a page without text.

    Raises:
        UnreadableOriginalError: the layer cannot be read, or two engines count different numbers of pages.
    """
    facts = path.stat()
    opened = _keep_open(path, facts.st_size, facts.st_mtime_ns, page // PAGES_TO_AN_OPENING).pages[page - 1]
    try:
        found = words_by_direction(opened)
    except Exception as error:  # it raises whatever it meets on its way: struct.error, KeyError, RecursionError
        raise UnreadableOriginalError(
            f"the text layer of page {page} of {path.name} cannot be read ({type(error).__name__})",
            "have it recognised",
        ) from error
    finally:
        opened.close()
    visible = _visible(opened)
    placed = (_place(word, visible, direction) for direction, words in found for word in words)
    return in_reading_order([word for word in placed if word is not None])


@lru_cache(maxsize=1)
def _keep_open(path: Path, _size: int, _modified: int, _opening: int) -> PDF:
    """Keep the last document open, and its file as long as that."""
    file = path.open("rb")
    try:
        document = pdfplumber.open(file)
        pages = len(document.pages)
    except Exception as error:  # as above
        file.close()
        raise UnreadableOriginalError(
            f"{path.name} cannot be opened for its text layer ({type(error).__name__})", "have it recognised"
        ) from error
    weakref.finalize(document, file.close)
    expected = count_pages(path)
    if pages != expected:
        raise UnreadableOriginalError(
            f"{path.name} has {expected} pages for one engine and {pages} for another: damaged",
            "open it with the program that made it, and save it afresh beside the original",
        )
    return document


def _visible(page: Page) -> Rectangle:
    """Give the visible part of a page.

    ISO 32000-1, 14.11.2: what is shown is the CropBox, within the MediaBox; then the page is turned by /Rotate.
    """
    media, crop = page.page_obj.mediabox, page.page_obj.cropbox
    left, bottom = max(media[0], crop[0]), max(media[1], crop[1])
    right, top = min(media[2], crop[2]), min(media[3], crop[3])
    if left >= right or bottom >= top:
        left, bottom, right, top = media
    cut = [left - media[0], media[3] - top, media[2] - right, bottom - media[1]]  # left, top, right, bottom
    turns = page.rotation // 90  # clockwise: what was at the left comes to the top
    cut = cut[-turns % 4 :] + cut[: -turns % 4] if turns else cut
    return cut[0], cut[1], page.width - cut[2], page.height - cut[3]


def _place(word: FoundWord, visible: Rectangle, direction: Direction) -> PlacedWord | None:
    """Place a word in percent of the visible page; None when its middle lies outside."""
    left, top, right, bottom = visible
    width, height = right - left, bottom - top
    x0, x1 = (100 * (word[side] - left) / width for side in ("x0", "x1"))
    y0, y1 = (100 * (word[side] - top) / height for side in ("top", "bottom"))
    if not (0 <= (x0 + x1) / 2 <= 100 and 0 <= (y0 + y1) / 2 <= 100):
        return None
    return PlacedWord(word["text"], max(0.0, x0), max(0.0, y0), min(100.0, x1), min(100.0, y1), direction)
