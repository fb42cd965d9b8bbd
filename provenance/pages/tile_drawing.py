"""Any part of a page, at any size, put together from its tiles."""

import io
from collections.abc import Callable
from math import ceil, floor

from PIL import Image

from provenance.pages.tile_files import TILE, DamagedTilesError, size_at

_QUALITY = 85
_WRITTEN = {"jpg": "JPEG", "png": "PNG"}
_HAIR = 1e-6

Box = tuple[float, float, float, float]
"""Left, top, right and bottom edge, from the left and the top of a page."""


def level_for(box: Box, size: tuple[int, int], levels: int) -> int:
    """Give the smallest level of a page that is still fine enough to show a part of it at a size.

    Args:
        box: the part, in pixels of level 0.
        size: width and height that it is shown at.
        levels: how many the page has.
    """
    coarseness = min((box[2] - box[0]) / size[0], (box[3] - box[1]) / size[1])
    level = 0
    while level + 1 < levels and 2 ** (level + 1) <= coarseness * (1 + _HAIR):
        level += 1
    return level


def drawn(
    read: Callable[[int, int], bytes],
    page: tuple[int, int],
    level: int,
    box: Box,
    *,
    size: tuple[int, int],
    kind: str,
) -> bytes:
    """Draw a part of a page.

    Args:
        read: gives the file of a tile of the level, by column and row.
        page: width and height of the page at level 0.
        level: whose tiles are taken.
        box: the part, in pixels of level 0.
        size: width and height of what is drawn.
        kind: `jpg` or `png`.

    Raises:
        DamagedTilesError: a tile is not there, or cannot be opened.
    """
    inner = _at_level(box, page, level)
    left, top, right, bottom = floor(inner[0]), floor(inner[1]), ceil(inner[2]), ceil(inner[3])
    image = _gathered(read, (left, top, right, bottom))
    within = inner[0] - left, inner[1] - top, inner[2] - left, inner[3] - top
    if image.size != size or within != (0, 0, *size):
        image = image.resize(size, Image.Resampling.LANCZOS, box=within)
    file = io.BytesIO()
    if kind == "jpg":
        image.save(file, _WRITTEN[kind], quality=_QUALITY, subsampling=0)
    else:
        image.save(file, _WRITTEN[kind])
    return file.getvalue()


def _at_level(box: Box, page: tuple[int, int], level: int) -> Box:
    """Where a part lies at a level; an edge of the page is the edge of its last pixel there."""
    whole, share = size_at(page, level), 2**level
    edges = [edge / share for edge in box]
    return (
        max(0.0, min(edges[0], whole[0] - 1)),
        max(0.0, min(edges[1], whole[1] - 1)),
        float(whole[0]) if box[2] >= page[0] else edges[2],
        float(whole[1]) if box[3] >= page[1] else edges[3],
    )


def _gathered(read: Callable[[int, int], bytes], box: tuple[int, int, int, int]) -> Image.Image:
    """The pixels of a box of a level, out of as many tiles as it touches."""
    left, top, right, bottom = box
    gathered: Image.Image | None = None
    for row in range(top // TILE, (bottom - 1) // TILE + 1):
        for column in range(left // TILE, (right - 1) // TILE + 1):
            tile = _opened(read(column, row))
            if gathered is None:
                gathered = Image.new(tile.mode, (right - left, bottom - top))
            gathered.paste(tile, (column * TILE - left, row * TILE - top))
    if gathered is None:
        raise DamagedTilesError
    return gathered


def _opened(data: bytes) -> Image.Image:
    try:
        image = Image.open(io.BytesIO(data), formats=("JPEG", "PNG"))
        image.load()
    except (OSError, SyntaxError, ValueError) as error:
        raise DamagedTilesError from error
    return image
