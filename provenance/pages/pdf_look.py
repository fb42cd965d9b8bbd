"""A first look at a page of a PDF, at a small part of the cost of reading it."""

from dataclasses import dataclass
from math import sqrt
from pathlib import Path

import pypdfium2
from pypdfium2 import raw

from provenance.pages.layer_documents import unit_of_page
from provenance.pages.pdf_documents import open_page

_POINTS_PER_INCH = 72
_LEAST_SHARE = 0.02
_MAX_NESTING = 8

Rectangle = tuple[float, float, float, float]
"""Left, bottom, right, top, in points of the page as it is stored."""


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
    area = _area(visible)
    found = []
    for drawn in page.get_objects(filter=[raw.FPDF_PAGEOBJ_IMAGE], max_depth=_MAX_NESTING):
        bounds = _bounds_on_page(drawn)
        across, down = drawn.get_px_size()
        if area <= 0 or _area(bounds) <= 0:
            continue
        dpi = _POINTS_PER_INCH * sqrt(across * down / _area(bounds))
        found.append((_area(_overlap(bounds, visible)) / area, dpi))
    return found


def _bounds_on_page(drawn: pypdfium2.PdfObject) -> Rectangle:
    """Give the place of an object on the page, through the forms that it is nested in."""
    left, bottom, right, top = drawn.get_bounds()
    corners = [(left, bottom), (left, top), (right, bottom), (right, top)]
    form = drawn.container
    while form is not None:
        matrix = form.get_matrix()
        corners = [matrix.on_point(*corner) for corner in corners]
        form = form.container
    across, down = [x for x, _ in corners], [y for _, y in corners]
    return min(across), min(down), max(across), max(down)


def _overlap(one: Rectangle, other: Rectangle) -> Rectangle:
    return max(one[0], other[0]), max(one[1], other[1]), min(one[2], other[2]), min(one[3], other[3])


def _area(rectangle: Rectangle) -> float:
    left, bottom, right, top = rectangle
    return max(0.0, right - left) * max(0.0, top - bottom)
