"""A page cut into tiles at every size that a reader may look at it in, the whole way, to be run in a worker.

The small sizes are made first and by themselves: a photograph of 70 million pixels is decoded for them at a quarter of
its size, and whoever opens it sees it at once. Then the large sizes are made band by band, in the order in which they
are asked for; between two bands the worker holds the page decoded, so that it is decoded once.
"""

import io
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import lru_cache
from math import ceil, sqrt

from PIL import Image

from provenance.errors import UnreadableOriginalError
from provenance.pages.cut_outs import CutJob, has_pieces
from provenance.pages.cut_pdfs import drawn_part, finest_dpi
from provenance.pages.cut_pictures import MOST_HALVINGS, coloured, decoded
from provenance.pages.cutting import require_unchanged
from provenance.pages.layer_documents import unit_of_page
from provenance.pages.pdf_documents import open_page
from provenance.pages.picture_kinds import OpenPicture, opened_picture, orientation_of
from provenance.pages.pictures import TURNS, is_oblong, stated_dpi
from provenance.pages.signatures import J2C, JP2, JPEG, PDF
from provenance.pages.tile_files import TILE, Band, CutTile, PageTiles, coarse_from, size_at, written

MOST_PIXELS = 100_000_000
"""A picture with more is kept at a half of its size, or a quarter: the memory of a worker holds two of these."""

_MOST_PDF_PIXELS = 60_000_000
_DRAWN_DPI = 300
_POINTS_PER_INCH = 72
_QUALITY = 85
_FEW_COLOURS = 64
"""A drawing in line has fewer colours than this, and every edge of it is kept; a scan in tones has many more."""

_WITH_LOSS = frozenset({JPEG, JP2, J2C, PDF})
_SMALLER_AT_ONCE = frozenset({*MOST_HALVINGS, PDF})
_SWAPPED = frozenset({5, 6, 7, 8})


@dataclass(frozen=True, slots=True, kw_only=True)
class TileJob:
    """A page of which tiles are wanted.

    Attributes:
        page: the page, as for cutting pieces out of it; its `parts` are not looked at.
        wanted: bands of its large sizes; None for its small sizes, all of them; empty for nothing but to have it
            decoded for the bands that will be asked for.
    """

    page: CutJob
    wanted: tuple[Band, ...] | None


@dataclass(slots=True)
class _Opened:
    """A page upright, grey or in colour, 8 bits: at a level of its full size, and what is made of that."""

    tiles: PageTiles
    level: int
    image: Image.Image
    _smaller: dict[int, Image.Image] = field(default_factory=dict)

    def at(self, level: int) -> Image.Image:
        """The page at a level; each is made of the one before it, and held."""
        if level == self.level:
            return self.image
        if level not in self._smaller:
            self._smaller[level] = self.at(level - 1).reduce(2)
        return self._smaller[level]


def make_tiles(job: TileJob) -> bytes:
    """Make the file of the small sizes of a page, or that of some bands; empty where none is wanted.

    Raises:
        UnreadableOriginalError: the file is not the one that was received, or not a plain file; the page cannot be
            opened or drawn; or its kind of file has no page pictures.
    """
    if job.wanted is None:
        opened = _opened_small(job.page)
        levels = range(coarse_from(opened.tiles.width, opened.tiles.height), opened.tiles.levels)
        return written(opened.tiles, (tile for level in levels for tile in _cut(opened, level)))
    opened = _opened_large(job.page)
    if not job.wanted:
        return b""
    return written(opened.tiles, (tile for band in job.wanted for tile in _cut(opened, band.level, band)))


def _cut(opened: _Opened, level: int, band: Band | None = None) -> Iterator[CutTile]:
    """The tiles of a level, or of a band of it."""
    encode = _as_png if opened.tiles.is_lossless else _as_jpeg
    image = opened.at(level)
    for row, top in enumerate(range(0, image.height, TILE)):
        for column, left in enumerate(range(0, image.width, TILE) if not band or band.has(level, row) else ()):
            piece = image.crop((left, top, min(image.width, left + TILE), min(image.height, top + TILE)))
            yield CutTile(level, column, row, encode(piece))


def _opened_small(page: CutJob) -> _Opened:
    """A page at the largest of its small sizes; or in full, where that takes no longer and will be wanted next."""
    _require_pictures(page)
    if page.media_type in _SMALLER_AT_ONCE:
        return _opened(page, is_coarse=True)
    with opened_picture(page.path, page.media_type, page.page, pixels=1) as picture:
        pixels = picture.size[0] * picture.size[1]
    return _opened_large(page) if pixels <= MOST_PIXELS else _opened(page, is_coarse=True)


def _opened_large(page: CutJob) -> _Opened:
    """A page at its full size; the last one is held, where it is known which bytes it was made of."""
    return _held_large(page) if page.sha256 else _opened(page, is_coarse=False)


@lru_cache(maxsize=1)
def _held_large(page: CutJob) -> _Opened:
    return _opened(page, is_coarse=False)


def _opened(page: CutJob, *, is_coarse: bool) -> _Opened:
    _require_pictures(page)
    require_unchanged(page)
    return _pdf(page, is_coarse=is_coarse) if page.media_type == PDF else _picture(page, is_coarse=is_coarse)


def _require_pictures(page: CutJob) -> None:
    if not has_pieces(page.media_type):
        raise UnreadableOriginalError(
            f"{page.path.name} is {page.media_type}, a kind whose pages have no picture",
            "look at the file itself",
        )


def _as_jpeg(piece: Image.Image) -> bytes:
    file = io.BytesIO()
    piece.save(file, "JPEG", quality=_QUALITY, subsampling=0)
    return file.getvalue()


def _as_png(piece: Image.Image) -> bytes:
    file = io.BytesIO()
    piece.save(file, "PNG", compress_level=2)  # a third larger than at 6, in less than half the time; measured
    return file.getvalue()


# --- Pictures --------------------------------------------------------------------------------------------------------


def _picture(page: CutJob, *, is_coarse: bool) -> _Opened:
    with opened_picture(page.path, page.media_type, page.page, pixels=1) as picture:
        stored = picture.size
    smaller = _halvings_to(stored[0] * stored[1], MOST_PIXELS)
    full = size_at(stored, smaller)
    wanted = smaller + (coarse_from(*full) if is_coarse else 0)
    often = min(wanted, MOST_HALVINGS.get(page.media_type, 0))
    with decoded(page, ceil(stored[0] * stored[1] / 4**often)) as picture:
        is_line_work = page.media_type not in _WITH_LOSS and _has_few_colours(picture.image)
        turn = orientation_of(picture)
        across, down = stated_dpi(picture.image)
        image = _at_level(picture, stored, wanted)
    image = _squared(image, across, down)
    upright = image if turn not in TURNS else image.transpose(TURNS[turn])
    full = _squared_size(full, across, down)
    if turn in _SWAPPED:
        full, stored = full[::-1], stored[::-1]
    level = wanted - smaller
    if upright.size != size_at(full, level):
        upright = upright.resize(size_at(full, level), Image.Resampling.LANCZOS)
    notes = [f"{stored[0]:,} by {stored[1]:,} pixels"]
    notes += [f"shown at {100 / 2**smaller:g} % of its size"] if smaller else []
    notes += ["its EXIF is damaged: it is shown as it is stored, and may lie on its side"] if turn is None else []
    tiles = PageTiles(width=full[0], height=full[1], of_page=stored, is_lossless=is_line_work, note="; ".join(notes))
    return _Opened(tiles, level, upright)


def _halvings_to(pixels: int, most: int) -> int:
    often = 0
    while pixels > most * 4**often:
        often += 1
    return often


def _has_few_colours(image: Image.Image) -> bool:
    return image.mode[0] not in "IF" and image.getcolors(_FEW_COLOURS) is not None


def _at_level(picture: OpenPicture, stored: tuple[int, int], level: int) -> Image.Image:
    """A decoded picture in grey or colour, at a level of the size that it is stored in; it is not turned yet."""
    width, height = picture.image.size
    there = next((each for each in range(level + 1) if size_at(stored, each) == (width, height)), None)
    if there is None:  # no kind is known that comes out otherwise
        image = coloured(picture, (0, 0, width, height), 1)
        return image.resize(size_at(stored, level), Image.Resampling.LANCZOS)
    return coloured(picture, (0, 0, width, height), 2 ** (level - there))


def _squared(image: Image.Image, across: float, down: float) -> Image.Image:
    size = _squared_size(image.size, across, down)
    return image if size == image.size else image.resize(size, Image.Resampling.LANCZOS)


def _squared_size(size: tuple[int, int], across: float, down: float) -> tuple[int, int]:
    """The size at which the pixels of a facsimile, which are not square, are made so."""
    if not is_oblong(across, down):
        return size
    return round(size[0] * max(1.0, down / across)), round(size[1] * max(1.0, across / down))


# --- PDFs ------------------------------------------------------------------------------------------------------------


def _pdf(job: CutJob, *, is_coarse: bool) -> _Opened:
    drawn_dpi = _DRAWN_DPI * unit_of_page(job.path, job.page)
    scale = finest_dpi(job, drawn_dpi) / _POINTS_PER_INCH
    with open_page(job.path, job.page) as page:
        width, height = (max(1.0, side) for side in page.get_size())
        scale = min(scale, sqrt(_MOST_PDF_PIXELS / (width * height)))
        full = ceil(width * scale), ceil(height * scale)
        level = coarse_from(*full) if is_coarse else 0
        drawn = drawn_part(page, scale / 2**level, size_at(full, level), (0, 0, *size_at(full, level)))
    if drawn is None:
        raise UnreadableOriginalError(
            f"page {job.page} of {job.path.name} cannot be drawn whole: damaged, or too large",
            "get the file again, or take the picture out of it and ingest that",
        )
    if drawn.size != size_at(full, level):
        drawn = drawn.resize(size_at(full, level), Image.Resampling.LANCZOS)
    tiles = PageTiles(width=full[0], height=full[1], of_page=None, is_lossless=False)
    return _Opened(replace(tiles, note=f"drawn at {full[0]:,} by {full[1]:,} pixels"), level, drawn)
