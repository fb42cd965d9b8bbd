"""Where pictures are placed on a page of a PDF.

Every threshold here is common practice, no source.
"""

import ctypes
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import islice
from pathlib import Path

import pypdfium2
from pypdfium2 import raw

from provenance.pages.pdf_documents import open_page
from provenance.records.readings import Box

LEAST_SHARE = 0.02
"""A picture that covers less of its page than this is a logo, a rule or an ornament."""

LEAST_PIXELS = 48
"""A picture with fewer pixels than this across or down shows nothing that could be told again."""

MOST_PIECES = 5000
"""More pieces of pictures on a page than these are not looked at."""

_MAX_NESTING = 8
_SAME_EDGE = 1.5  # points
_GAP, _LAPPED = 1.0, 3.0  # points between two bands of one picture, and that two may have in common

Rectangle = tuple[float, float, float, float]
"""Left, bottom, right, top, in points of the page as it is stored."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Piece:
    """A picture, or a band of one: its place, and its pixels across and down as they lie on the page."""

    place: Rectangle
    across: float
    down: float

    def turned(self) -> "_Piece":
        """The same with across and down changed over, so that what is done to rows can be done to columns."""
        left, bottom, right, top = self.place
        return _Piece(place=(bottom, left, top, right), across=self.down, down=self.across)


def placed_pictures(path: Path, page: int) -> tuple[Box, ...]:
    """Find the places of the pictures of a page, those within forms too.

    The bands into which a program has cut a picture are one; what is clipped off, or lies outside the page, is left
    out, and so is what is tiny.

    Args:
        path: a PDF.
        page: counted from 1.

    Returns:
        Places on the page upright as delivered, the largest first.

    Raises:
        UnreadableOriginalError: the document or the page cannot be opened.
    """
    with open_page(path, page) as opened:
        visible: Rectangle = opened.get_bbox()
        turn = int(opened.get_rotation())
        pieces = [piece for piece in _pieces(opened, visible) if area(piece.place) > 0]
    whole = _join_bands(_without_doubles(pieces))
    large = [each for each in whole if _is_large(each, visible)]
    boxes = {_as_box(each.place, visible, turn) for each in large}
    return tuple(sorted(boxes, key=lambda box: (-box.w * box.h, box.y, box.x)))


def images_of(page: pypdfium2.PdfPage) -> Iterator[pypdfium2.PdfImage]:
    """Give the pictures that a page is drawn with, those within forms too."""
    yield from page.get_objects(filter=[raw.FPDF_PAGEOBJ_IMAGE], max_depth=_MAX_NESTING)


def bounds_on_page(drawn: pypdfium2.PdfObject, *, is_clipped: bool = False) -> Rectangle:
    """Give the place of an object on the page, through the forms that it is nested in.

    Args:
        drawn: the object.
        is_clipped: whether to leave off what clipping paths hide, by the rectangle round each of them.
    """
    bounds: Rectangle = drawn.get_bounds()
    each: pypdfium2.PdfObject | None = drawn
    while each is not None:
        if is_clipped:
            bounds = _clipped(each, bounds)
        each = each.container
        if each is not None:
            bounds = _moved(bounds, each.get_matrix())
    return bounds


def overlap(one: Rectangle, other: Rectangle) -> Rectangle:
    """Give what two rectangles have in common; where that is nothing, its area is 0."""
    return max(one[0], other[0]), max(one[1], other[1]), min(one[2], other[2]), min(one[3], other[3])


def area(rectangle: Rectangle) -> float:
    """Give the area of a rectangle; 0 where an edge lies on the wrong side of the opposite one."""
    left, bottom, right, top = rectangle
    return max(0.0, right - left) * max(0.0, top - bottom)


def _moved(bounds: Rectangle, matrix: pypdfium2.PdfMatrix) -> Rectangle:
    left, bottom, right, top = bounds
    corners = [matrix.on_point(x, y) for x in (left, right) for y in (bottom, top)]
    across, down = [x for x, _ in corners], [y for _, y in corners]
    return min(across), min(down), max(across), max(down)


def _clipped(drawn: pypdfium2.PdfObject, bounds: Rectangle) -> Rectangle:
    """Cut a rectangle down to what the clipping paths of an object leave of it."""
    clip = raw.FPDFPageObj_GetClipPath(drawn)
    for number in range(max(0, raw.FPDFClipPath_CountPaths(clip))):
        points = list(_points(clip, number))
        if points:
            across, down = [x for x, _ in points], [y for _, y in points]
            bounds = overlap(bounds, (min(across), min(down), max(across), max(down)))
    return bounds


def _points(clip: raw.FPDF_CLIPPATH, number: int) -> Iterator[tuple[float, float]]:
    x, y = ctypes.c_float(), ctypes.c_float()
    for index in range(max(0, raw.FPDFClipPath_CountPathSegments(clip, number))):
        segment = raw.FPDFClipPath_GetPathSegment(clip, number, index)
        if raw.FPDFPathSegment_GetPoint(segment, x, y):
            yield x.value, y.value


def _pieces(page: pypdfium2.PdfPage, visible: Rectangle) -> Iterator[_Piece]:
    for drawn in islice(images_of(page), MOST_PIECES):
        full, shown = bounds_on_page(drawn), overlap(bounds_on_page(drawn, is_clipped=True), visible)
        if area(full) <= 0:
            continue
        across, down = drawn.get_px_size()
        # Of a picture that lies on its side the pixels are changed over.
        if (across > down) != (full[2] - full[0] > full[3] - full[1]) and across != down:
            across, down = down, across
        share = (shown[2] - shown[0]) / (full[2] - full[0]), (shown[3] - shown[1]) / (full[3] - full[1])
        yield _Piece(place=shown, across=across * share[0], down=down * share[1])


def _without_doubles(pieces: Iterable[_Piece]) -> list[_Piece]:
    """Leave out what lies just where another does: a picture is often drawn twice, the second time as its mask."""
    found: dict[tuple[int, ...], _Piece] = {}
    for piece in pieces:
        key = tuple(round(edge / _SAME_EDGE) for edge in piece.place)
        other = found.get(key)
        if other is None or other.across * other.down < piece.across * piece.down:
            found[key] = piece
    return list(found.values())


def _join_bands(pieces: list[_Piece]) -> list[_Piece]:
    """Join the bands of a picture that lie upon one another, then those that stand side by side."""
    stacked = _stacked(pieces)
    return [each.turned() for each in _stacked([each.turned() for each in stacked])]


def _stacked(pieces: list[_Piece]) -> list[_Piece]:
    """Join pieces that lie upon one another and are equally wide."""
    joined: list[_Piece] = []
    for column in _alike(pieces, 0):
        for equal in _alike(column, 2):
            joined += _upon_one_another(equal)
    return joined


def _alike(pieces: Iterable[_Piece], edge: int) -> Iterator[list[_Piece]]:
    """Part pieces into those of which an edge (0 left, 2 right) lies at about the same place."""
    together: list[_Piece] = []
    for piece in sorted(pieces, key=lambda piece: (piece.place[edge], piece.place)):
        if together and piece.place[edge] - together[-1].place[edge] > _SAME_EDGE:
            yield together
            together = []
        together.append(piece)
    if together:
        yield together


def _upon_one_another(pieces: Iterable[_Piece]) -> list[_Piece]:
    joined: list[_Piece] = []
    for piece in sorted(pieces, key=lambda piece: (piece.place[1], piece.place)):
        if joined and -_LAPPED <= piece.place[1] - joined[-1].place[3] <= _GAP:
            below = joined.pop()
            left, bottom = min(below.place[0], piece.place[0]), below.place[1]
            right, top = max(below.place[2], piece.place[2]), max(below.place[3], piece.place[3])
            more = replace(below, across=max(below.across, piece.across), down=below.down + piece.down)
            joined.append(replace(more, place=(left, bottom, right, top)))
        else:
            joined.append(piece)
    return joined


def _is_large(piece: _Piece, visible: Rectangle) -> bool:
    return area(piece.place) >= LEAST_SHARE * area(visible) and min(piece.across, piece.down) >= LEAST_PIXELS


def _as_box(place: Rectangle, visible: Rectangle, turn: int) -> Box:
    """Tell a place in percent of the page as shown: turned clockwise by so many degrees (ISO 32000-1, table 30)."""
    wide, high = visible[2] - visible[0], visible[3] - visible[1]
    left, right = (place[0] - visible[0]) / wide, (place[2] - visible[0]) / wide
    above, below = (visible[3] - place[3]) / high, (visible[3] - place[1]) / high
    for _ in range(turn // 90 % 4):
        left, above, right, below = 1 - below, left, 1 - above, right
    return Box(100 * left, 100 * above, 100 * (right - left), 100 * (below - above))
