"""Pieces cut out of photographs and scans, in their own colours."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from math import ceil, floor, log2
from typing import TypeVar

from PIL import Image

from provenance.errors import UnreadableOriginalError
from provenance.pages.cut_finishing import finished
from provenance.pages.cut_outs import BEYOND, MOST_PIXELS, Box, CutJob, CutOut, NotShownError, Part, Piece, piece_of
from provenance.pages.grey_pictures import grey_at
from provenance.pages.picture_kinds import OpenPicture, opened_picture, orientation_of
from provenance.pages.pictures import BELIEVABLE_DPI, TURNS, is_oblong, stated_dpi
from provenance.pages.signatures import J2C, JP2, JPEG

_INCH = 25.4
_BAND_PIXELS = 4_000_000
MOST_HALVINGS = {JPEG: 3, JP2: 5, J2C: 5}
"""How often a kind can be halved while it is decoded: a JPEG to an eighth; the others decode in full."""

_GREY = frozenset({"1", "L", "LA", "La", "LAB"})
_SWAPPED = frozenset({5, 6, 7, 8})
_FLIPPED_ACROSS, _FLIPPED_DOWN = frozenset({2, 3, 7, 8}), frozenset({3, 4, 6, 7})
_WholeBox = tuple[int, int, int, int]
_Number = TypeVar("_Number", int, float)


def cut_picture(job: CutJob) -> tuple[CutOut | str, ...]:
    """Cut pieces out of a page of a picture file, in the order of the job's parts; a text says why there is none.

    What is shown of one part does not depend on which others are asked for.

    Raises:
        UnreadableOriginalError: no plain file, damaged, cut short, too large to be decoded, or without such a page.
    """
    with opened_picture(job.path, job.media_type, job.page, pixels=1) as picture:
        size = picture.size
    most = MOST_HALVINGS.get(job.media_type, 0)
    halvings = {part: min(most, _halvings(part, size)) for part in job.parts}
    found: dict[Part, CutOut | str] = {}
    for often in sorted(set(halvings.values())):
        with decoded(job, ceil(size[0] * size[1] / 4**often)) as picture:
            page = _Page(picture, orientation_of(picture))
            found |= {part: page.cut(part) for part, own in halvings.items() if own == often}
    return tuple(found[part] for part in job.parts)


@contextmanager
def decoded(job: CutJob, pixels: int) -> Iterator[OpenPicture]:
    """Decode a page in colour; a photograph that has room in grey alone, in grey."""
    with opened_picture(job.path, job.media_type, job.page, pixels=pixels, in_colour=True) as picture:
        has_room = job.media_type != JPEG or _has_room(picture)
        if has_room:
            picture.load()
            yield picture
    if not has_room:
        with opened_picture(job.path, job.media_type, job.page, pixels=pixels) as picture:
            picture.load()
            yield picture


def _has_room(picture: OpenPicture) -> bool:
    try:
        picture.require_room()
    except UnreadableOriginalError:
        return False
    return True


def _halvings(part: Part, size: tuple[int, int]) -> int:
    """How often a page may be halved before a piece has fewer pixels than are shown.

    Which way up it lies is known only once it is decoded: both are looked at.
    """
    scales = []
    for sides in (size, size[::-1]):
        try:
            scales.append(piece_of(part, sides, 1.0).scale)
        except NotShownError:
            continue
    return max(0, floor(log2(1 / max(scales)))) if scales else 0


@dataclass(frozen=True, slots=True)
class _Page:
    """A page that is decoded, perhaps smaller than it is, and perhaps on its side.

    Attributes:
        picture: decoded.
        turn: its orientation, 1 to 8; None where its EXIF is damaged.
    """

    picture: OpenPicture
    turn: int | None

    def cut(self, part: Part) -> CutOut | str:
        """Cut one piece out, or say why there is none."""
        size = self._upright(self.picture.size)
        try:
            piece = piece_of(part, size, 1.0)
        except NotShownError as error:
            return str(error)
        image = self.picture.image
        whole = self._upright(image.size)
        share = whole[0] / size[0], whole[1] / size[1]
        box = _whole_pixels(piece, share, whole)
        across, down = self._upright(stated_dpi(image))
        width, height = _shown_size(box, share, piece.scale, (across, down))
        shown = self._turned(coloured(self.picture, self._as_stored(box), max(1, (box[2] - box[0]) // width)))
        if shown.size != (width, height):
            shown = shown.resize((width, height), Image.Resampling.LANCZOS)
        zoom = width / (box[2] - box[0]), height / (box[3] - box[1])
        true_width = _true_width(box, share, across)
        return finished(shown, _within(piece.region, share, box, zoom), true_width, self._note(part, piece, size))

    def _upright(self, pair: tuple[_Number, _Number]) -> tuple[_Number, _Number]:
        return (pair[1], pair[0]) if self.turn in _SWAPPED else pair

    def _turned(self, image: Image.Image) -> Image.Image:
        turn = TURNS.get(self.turn or 1)
        return image if turn is None else image.transpose(turn)

    def _as_stored(self, box: _WholeBox) -> _WholeBox:
        """Where a part of the page upright lies on the page as it is stored."""
        left, top, right, bottom = box
        if self.turn in _SWAPPED:
            left, top, right, bottom = top, left, bottom, right
        width, height = self.picture.image.size
        if self.turn in _FLIPPED_ACROSS:
            left, right = width - right, width - left
        if self.turn in _FLIPPED_DOWN:
            top, bottom = height - bottom, height - top
        return left, top, right, bottom

    def _note(self, part: Part, piece: Piece, size: tuple[int, int]) -> str:
        of = "from a page" if part.region or part.within else "the whole of a page"
        notes = [f"{of} of {size[0]:,} by {size[1]:,} pixels, shown at {_percent(piece.scale)} of its size"]
        if piece.is_clipped:
            notes.append(BEYOND)
        if self.turn is None:
            notes.append("its EXIF is damaged: it is shown as it is stored, and may lie on its side")
        return "; ".join(notes)


def _whole_pixels(piece: Piece, share: tuple[float, float], size: tuple[int, int]) -> _WholeBox:
    """The pixels that are shown: those of the region and whole ones of its margin; at least one each way."""
    edges = [edge * share[place % 2] for place, edge in enumerate(piece.shown)]
    inner = edges if piece.region is None else [edge * share[place % 2] for place, edge in enumerate(piece.region)]
    left, top = (max(0, min(round(edges[place]), floor(inner[place]), size[place] - 1)) for place in (0, 1))
    right, bottom = (min(size[place], max(round(edges[place + 2]), ceil(inner[place + 2]))) for place in (0, 1))
    return left, top, max(left + 1, right), max(top + 1, bottom)


def _shown_size(box: _WholeBox, share: tuple[float, float], scale: float, dpi: tuple[float, float]) -> tuple[int, int]:
    """How large a piece becomes; the pixels of a facsimile, which are not square, are made so."""
    stretch = 1.0, 1.0
    if is_oblong(*dpi):
        stretch = max(1.0, dpi[1] / dpi[0]), max(1.0, dpi[0] / dpi[1])
    sides = [(box[place + 2] - box[place]) / share[place] * scale * stretch[place] for place in (0, 1)]
    too_long = max(1.0, max(sides) / MOST_PIXELS)
    return max(1, round(sides[0] / too_long)), max(1, round(sides[1] / too_long))


def _true_width(box: _WholeBox, share: tuple[float, float], dpi: float) -> float | None:
    if not BELIEVABLE_DPI[0] <= dpi <= BELIEVABLE_DPI[1]:
        return None
    return (box[2] - box[0]) / share[0] / dpi * _INCH


def _within(region: Box | None, share: tuple[float, float], box: _WholeBox, zoom: tuple[float, float]) -> Box | None:
    """Where a region of the page lies on the piece that is shown."""
    if region is None:
        return None
    left, top, right, bottom = ((edge * share[at % 2] - box[at % 2]) * zoom[at % 2] for at, edge in enumerate(region))
    return left, top, right, bottom


def _percent(share: float) -> str:
    return f"{share * 100:.0f} %" if share >= 0.01 else "less than 1 %"


def coloured(picture: OpenPicture, box: tuple[int, int, int, int], factor: int) -> Image.Image:
    """Take a part out of a decoded picture, in 8-bit grey or colour, made smaller by a whole factor.

    Args:
        picture: decoded; it is not turned.
        box: left, top, right and bottom edge, in its pixels as they were decoded.
        factor: 1 for as large as it is.
    """
    image = picture.image
    if image.mode[0] in "IF":  # its levels are those of the whole page
        grey = grey_at(image, image.size, is_white_zero=picture.is_white_zero)
        return grey.reduce(factor, box=box)
    piece = _reduced(image, box, factor, 255)
    if image.has_transparency_data and _is_even(piece):  # white ink, drawn on nothing
        on_black = _reduced(image, box, factor, 0)
        return piece if _is_even(on_black) else on_black
    return piece


def _reduced(image: Image.Image, box: _WholeBox, factor: int, paper: int) -> Image.Image:
    """A band of rows at a time: beside the decoded picture there is room for little."""
    left, top, right, bottom = box
    mode = "L" if image.mode in _GREY else "RGB"
    piece = Image.new(mode, (-(-(right - left) // factor), -(-(bottom - top) // factor)))
    rows = max(1, _BAND_PIXELS // (right - left) // factor) * factor
    for first in range(top, bottom, rows):
        band = _flat(image.crop((left, first, right, min(bottom, first + rows))), mode, paper)
        piece.paste(band if factor == 1 else band.reduce(factor), (0, (first - top) // factor))
    return piece


def _flat(band: Image.Image, mode: str, paper: int) -> Image.Image:
    """Make grey or colour of a band; what is transparent is paper."""
    if band.mode == "LAB":
        return band.getchannel("L")
    if not band.has_transparency_data:
        return band.convert(mode)
    with_alpha = band.convert("RGBA")
    flat = Image.new("RGB", band.size, (paper, paper, paper))
    flat.paste(with_alpha.convert("RGB"), mask=with_alpha.getchannel("A"))
    return flat.convert(mode)


def _is_even(image: Image.Image) -> bool:
    return all(len(band.getcolors() or ()) == 1 for band in image.split())
