"""A page cut into tiles, put together again."""

import io
from pathlib import Path

from pages.coded_pages import coded_page
from PIL import Image

from provenance.pages.cut_outs import CutJob
from provenance.pages.tile_drawing import drawn
from provenance.pages.tile_files import TileFile, bands_of, size_at
from provenance.pages.tiles import TileJob, make_tiles

LARGER = 6
"""The coded page is shown so many times as large: 2,400 by 1,200 pixels, in blocks of 120, at four levels."""


def large_page() -> Image.Image:
    """The coded page, too large to be among the small sizes in full."""
    page = coded_page()
    return page.resize((page.width * LARGER, page.height * LARGER), Image.Resampling.NEAREST)


def tiles_of(path: Path, media_type: str, *, is_coarse: bool, page: int = 1) -> TileFile:
    """A file of the small sizes of a page, or of all the large ones."""
    job = CutJob(path=path, media_type=media_type, page=page, parts=())
    small = TileFile(make_tiles(TileJob(page=job, wanted=None)))
    if is_coarse:
        return small
    return TileFile(make_tiles(TileJob(page=job, wanted=bands_of(small.page.width, small.page.height))))


def shown_at(file: TileFile, level: int) -> Image.Image:
    """The whole page at one level."""
    page = file.page.width, file.page.height
    size = size_at(page, level)
    whole = drawn(lambda column, row: file.read(level, column, row), page, level, (0, 0, *page), size=size, kind="png")
    picture = Image.open(io.BytesIO(whole))
    assert picture.size == size
    return picture
