"""A first look at a page of a PDF, at a small part of the cost of reading it."""

from dataclasses import dataclass
from math import sqrt
from pathlib import Path

import pypdfium2
from pypdfium2 import raw

from provenance.pages.layer_documents import unit_of_page
from provenance.pages.pdf_documents import open_page
from provenance.pages.placed_pictures import Rectangle, area, bounds_on_page, images_of, overlap

_POINTS_PER_INCH = 72
_LEAST_SHARE = 0.02


@dataclass(frozen=True, slots=True, kw_only=True)
class PageLook:
    """What a page of a PDF holds.

    Attributes:
        characters: how many characters its text layer has.
        objects: how many things are drawn on it, annotations counted; 0 is a blank page.
        picture_share: how much of the visible page its pictures cover, 0 to 1 (where they overlap, counted twice).
        scan_dpi: the finest resolution of a picture that covers something of the page; None where there is none.
    """

    characters: int
    objects: int
    picture_share: float
    scan_dpi: float | None


def look_at(path: Path, page: int) -> PageLook:
    """Look at what a page holds, without drawing it.

    Args:
        path: a PDF.
        page: counted from 1.

    Raises:
        UnreadableOriginalError: the document or the page cannot be opened.
    """
    with open_page(path, page) as opened:
        visible: Rectangle = opened.get_bbox()
        pictures = [seen for seen in _pictures(opened, visible) if seen[0] > 0]
        finest = max((dpi for share, dpi in pictures if share >= _LEAST_SHARE), default=None)
        return PageLook(
            characters=_count_characters(opened),
            objects=raw.FPDFPage_CountObjects(opened) + raw.FPDFPage_GetAnnotCount(opened),
            picture_share=min(1.0, sum(share for share, _ in pictures)),
            scan_dpi=finest / unit_of_page(path, page) if finest else None,
        )


def _count_characters(page: pypdfium2.PdfPage) -> int:
    """Count the characters of the text layer; a layer that cannot be opened has none."""
    try:
        layer = page.get_textpage()
    except pypdfium2.PdfiumError:
        return 0
    try:
        return int(layer.count_chars())
    finally:
        layer.close()


def _pictures(page: pypdfium2.PdfPage, visible: Rectangle) -> list[tuple[float, float]]:
    """Give for each picture its share of the visible page, and how many pixels it has to 72 units of it."""
    page_area = area(visible)
    found = []
    for drawn in images_of(page):
        bounds = bounds_on_page(drawn)
        across, down = drawn.get_px_size()
        if page_area <= 0 or area(bounds) <= 0:
            continue
        dpi = _POINTS_PER_INCH * sqrt(across * down / area(bounds))
        found.append((area(overlap(bounds, visible)) / page_area, dpi))
    return found
