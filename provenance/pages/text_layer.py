"""The text layer of a page of a PDF: its words, with their places on the page upright as delivered."""

from importlib.metadata import version
from pathlib import Path

from pdfplumber.page import Page

from provenance.errors import UnreadableOriginalError
from provenance.pages.layer_characters import FoundWord, words_by_direction
from provenance.pages.layer_documents import open_for_layer
from provenance.pages.line_order import Direction, PlacedWord, in_reading_order
from provenance.pages.pdf_documents import count_drawable
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
        UnreadableOriginalError: the layer cannot be read, or two engines count different numbers of pages and the one
            that draws has this one.
    """
    opened = _open(path, page)
    try:
        found = words_by_direction(opened)
    except Exception as error:  # it raises whatever it meets on its way: struct.error, KeyError, RecursionError
        raise _unreadable(path, page, type(error).__name__) from error
    finally:
        opened.close()
    visible = _visible(opened)
    placed = (_place(word, visible, direction) for direction, words in found for word in words)
    return in_reading_order([word for word in placed if word is not None])


def _open(path: Path, page: int) -> Page:
    """Open one page of the layer.

    Where two engines count differently, their numbers do not mean the same page: the layer then serves those pages
    alone that the engine that draws does not have.
    """
    document = open_for_layer(path, page)
    if document.pdf is None:
        raise UnreadableOriginalError(f"{path.name} cannot be opened for its text layer", "have it recognised")
    drawn, found = count_drawable(path, page), len(document.pages)
    if drawn != found and page <= drawn:
        raise UnreadableOriginalError(
            f"{path.name} has {drawn} pages for one engine and {found} for another: damaged",
            "open it with the program that made it, and save it afresh beside the original",
        )
    if not 1 <= page <= found:
        raise UnreadableOriginalError(f"there is no page {page} in {path.name}", "correct the page")
    try:
        opened = Page(document.pdf, document.pages[page - 1], page_number=page)
    except Exception as error:  # as above
        raise _unreadable(path, page, type(error).__name__) from error
    if opened.width <= 0 or opened.height <= 0:
        raise _unreadable(path, page, "it states a size of nothing")
    return opened


def _unreadable(path: Path, page: int, why: str) -> UnreadableOriginalError:
    return UnreadableOriginalError(
        f"the text layer of page {page} of {path.name} cannot be read ({why})", "have it recognised"
    )


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
