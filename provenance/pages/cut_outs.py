"""A piece cut out of a page, to be printed beside what is said of it: what is asked for, what comes of it, and where.

Nothing here opens a file, so that whoever only looks up what was cut before need not wait for what opens pages.
"""

import hashlib
from dataclasses import dataclass
from functools import cache
from importlib.metadata import version
from pathlib import Path

from provenance.pages.signatures import PDF, PICTURES
from provenance.records.regions import Region, RegionUnit

MOST_PIXELS = 1200
"""The longer side of a piece at most, but for the frame of its angles: 185 to the inch where it is printed widest."""

MARGIN = 0.08
"""How much of its surroundings is shown beside a region: this share of its longer side."""

FRAME = 6
"""Pixels of the piece beside the region that its angles take; where the page ends, so much white is set beside it."""

BEYOND = "the region runs beyond what can be shown of the page: the rest of it is left out"
"""What is said where a region is shown in part only."""

_FORMAT = 1  # to be raised when the same page and region give another picture than before
_ENGINES = ("pillow", "pypdfium2")
_KEY_LENGTH = 16
_FEW_PIXELS, _MOST_ENLARGED = 300, 2.0
_PRINTED_DPI, _LEAST_DPI = 150, 100
_WIDEST, _HIGHEST, _EASILY_SEEN = 165.0, 160.0, 40.0
_MOST_OF_TRUE_SIZE = 2.0
_INCH = 25.4
_HAIR_OF_A_PAGE = 0.0002

Box = tuple[float, float, float, float]
"""Left, top, right and bottom edge, from the left and the top of a page."""


class NotShownError(Exception):
    """A part that is not on its page, or not to be shown; the message says so in words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """Which part of a page is asked for.

    Attributes:
        region: None for all that may be shown of the page.
        within: the part of the page beyond which nothing is shown, such as one photograph on a page of an album; None
            for the whole page.
        hidden: parts of the page of which nothing may be shown.
        most: the longer side of the piece at most, in pixels, but for the frame of its angles.
    """

    region: Region | None = None
    within: Region | None = None
    hidden: tuple[Region, ...] = ()
    most: int = MOST_PIXELS

    @property
    def regions(self) -> tuple[Region, ...]:
        """All that it names."""
        return tuple(each for each in (self.region, self.within, *self.hidden) if each is not None)


@dataclass(frozen=True, slots=True, kw_only=True)
class CutJob:
    """A page that pieces are cut out of.

    Attributes:
        path: the file that holds it.
        media_type: as `identify` says.
        page: counted from 1 within the file.
        parts: which.
        sha256: of the file as it was received: another file is not shown in its place; empty where nobody knows.
    """

    path: Path
    media_type: str
    page: int
    parts: tuple[Part, ...]
    sha256: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutOut:
    """A piece of a page as a picture, with nothing in it of what lies beside it.

    Attributes:
        data: the whole file; it carries no date, no name, no colour profile and no smaller picture.
        media_type: `image/png` or `image/jpeg`.
        width: in pixels.
        height: in pixels.
        width_mm: how wide it is best printed, in millimetres; at most 165.
        note: for people, what they look at, such as `from a page of 10,000 by 7,000 pixels, shown at 12 %`.
    """

    data: bytes
    media_type: str
    width: int
    height: int
    width_mm: float
    note: str = ""

    @property
    def height_mm(self) -> float:
        """How high it then is, in millimetres."""
        return self.width_mm * self.height / self.width


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """Where a piece lies on its page, and how large it becomes.

    Attributes:
        region: what was asked for, as far as it lies on the page, in the page's own measure; None for all of it.
        shown: the region with its margin, likewise.
        scale: pixels of the piece to one unit of the page's measure.
        is_clipped: the region runs beyond the page, and what lies on it is shown.
    """

    region: Box | None
    shown: Box
    scale: float
    is_clipped: bool = False


def has_pieces(media_type: str) -> bool:
    """Whether files of a kind have pages with something to be seen: a text and a recording have none."""
    return media_type == PDF or media_type in PICTURES


@cache
def cut_key(part: Part) -> str:
    """The key under which a piece is kept: another way of cutting, or another engine, gives another."""
    engines = (f"{name} {version(name)}" for name in _ENGINES)
    hidden = map(str, part.hidden)
    most = [] if part.most == MOST_PIXELS else [f"most {part.most}"]
    told = "\n".join([str(_FORMAT), *engines, str(part.region or ""), str(part.within or ""), *hidden, *most])
    return hashlib.sha256(told.encode("ascii")).hexdigest()[:_KEY_LENGTH]


def piece_of(part: Part, size: tuple[float, float], finest: float) -> Piece:
    """Say which part of a page is shown, and how large.

    Args:
        part: what is asked for.
        size: width and height of the page upright, in its own measure: pixels, or units of a PDF.
        finest: pixels that the page itself has to one unit; 1 of a picture.

    Raises:
        NotShownError: nothing of it lies on the page, or something of it is hidden.
    """
    whole = (0.0, 0.0, *size)
    room = whole if part.within is None else _overlap(_measured(part.within, size), whole)
    hidden = [_measured(each, size) for each in part.hidden]
    wanted = room if part.region is None else _overlap(_measured(part.region, size), room)
    if not _has_size(wanted):
        where = "off the page" if part.within is None else "off the part of the page that the source is"
        raise NotShownError(f"the region {part.region or part.within} lies {where}")
    if any(_has_size(_overlap(wanted, each)) for each in hidden):
        raise NotShownError("something else that lies there is not to be shown")
    if part.region is None:
        return Piece(region=None, shown=wanted, scale=_scale(wanted, finest, part.most))
    margin = MARGIN * _longer(wanted)
    margin = max(margin, FRAME / _scale(wanted, finest, part.most, margin))
    scale = _scale(wanted, finest, part.most, margin)
    shown = _overlap(_grown(wanted, margin), room)
    if any(_has_size(_overlap(shown, _grown(each, 1 / scale))) for each in hidden):
        shown = wanted
    return Piece(region=wanted, shown=shown, scale=scale, is_clipped=_is_clipped(part.region, wanted, size))


def width_in_print(pixels: tuple[int, int], true_width: float | None) -> float:
    """Give how wide a piece is best printed, in millimetres.

    At 150 pixels to the inch, but no wider and no higher than a sheet has room for, and at most twice as large as it
    is on the page itself, unless it would then be too small to be seen easily.

    Args:
        pixels: width and height of the piece.
        true_width: of the piece on the page itself, in millimetres; None where that is not known.
    """
    width, height = pixels
    longer = max(pixels)
    wanted = longer * _INCH / _PRINTED_DPI
    if true_width is not None:
        true_size = true_width * longer / width
        seen = min(_EASILY_SEEN, longer * _INCH / _LEAST_DPI)
        wanted = min(wanted, max(seen, true_size * _MOST_OF_TRUE_SIZE))
    return round(min(wanted * width / longer, _WIDEST, _HIGHEST * width / height), 3)


def _measured(region: Region, size: tuple[float, float]) -> Box:
    """Where a region lies, in the page's measure."""
    unit = (size[0] / 100, size[1] / 100) if region.unit is RegionUnit.PERCENT else (1.0, 1.0)
    left, top = float(region.x) * unit[0], float(region.y) * unit[1]
    return left, top, left + float(region.w) * unit[0], top + float(region.h) * unit[1]


def _is_clipped(region: Region, wanted: Box, size: tuple[float, float]) -> bool:
    """Whether a region is shown in part only; percent may pass the edge by a hair, of which nobody has to be told."""
    hair = _HAIR_OF_A_PAGE * max(size)
    return any(abs(one - other) > hair for one, other in zip(_measured(region, size), wanted, strict=True))


def _overlap(one: Box, other: Box) -> Box:
    return max(one[0], other[0]), max(one[1], other[1]), min(one[2], other[2]), min(one[3], other[3])


def _has_size(box: Box) -> bool:
    return box[0] < box[2] and box[1] < box[3]


def _grown(box: Box, by: float) -> Box:
    return box[0] - by, box[1] - by, box[2] + by, box[3] + by


def _scale(wanted: Box, finest: float, pixels: int, margin: float = 0.0) -> float:
    """Pixels to a unit: as fine as the page is, a few enlarged up to twice, and no more than a piece may have."""
    most = pixels / (_longer(wanted) + 2 * margin)
    enlarged = min(_MOST_ENLARGED, max(1.0, _FEW_PIXELS / (_longer(wanted) * finest)))
    return min(most, finest * enlarged)


def _longer(box: Box) -> float:
    return max(box[2] - box[0], box[3] - box[1])
