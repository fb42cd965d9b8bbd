"""Pages of blocks, each of a colour that tells where it lies: what a piece shows can be compared with them by hand."""

import io
import struct
import zlib
from collections.abc import Iterator
from pathlib import Path

import numpy as np
from PIL import Image

from provenance.pages.cut_outs import CutJob, CutOut, Part
from provenance.pages.cutting import cut
from provenance.records.regions import parse_region

BLOCK = 20
ACROSS, DOWN = 20, 10
SIZE = ACROSS * BLOCK, DOWN * BLOCK

Colour = tuple[int, int, int]


def colour_of(across: int, down: int) -> Colour:
    """The colour of a block, counted from 0 from the left and the top."""
    return 12 * across + 10, 20 * down + 10, 128


def coded_page() -> Image.Image:
    """400 by 200 pixels: 20 by 10 blocks of 20 pixels."""
    levels = np.empty((SIZE[1], SIZE[0], 3), dtype=np.uint8)
    for down in range(DOWN):
        for across in range(ACROSS):
            rows, columns = slice(down * BLOCK, (down + 1) * BLOCK), slice(across * BLOCK, (across + 1) * BLOCK)
            levels[rows, columns] = colour_of(across, down)
    return Image.fromarray(levels)


def lying_png(mode: str, size: tuple[int, int]) -> bytes:
    """A picture of a few bytes that says that it is as large as this."""
    whole = io.BytesIO()
    Image.new(mode, (8, 8)).save(whole, "PNG")
    # The size stands in bytes 16 to 23 (ISO/IEC 15948, 11.2.2); the check sum of kind and content behind the header.
    lying = bytearray(whole.getvalue())
    lying[16:24] = struct.pack(">II", *size)
    lying[29:33] = struct.pack(">I", zlib.crc32(bytes(lying[12:29])))
    return bytes(lying)


def one_piece(path: Path, media_type: str, region: str | None = None, page: int = 1) -> CutOut:
    """The piece of one region."""
    (piece,) = cut(job_of(path, media_type, region, page=page))
    assert isinstance(piece, CutOut), piece
    return piece


def job_of(path: Path, media_type: str, *regions: str | None, page: int = 1) -> CutJob:
    """A job of these regions."""
    return CutJob(path=path, media_type=media_type, page=page, parts=tuple(map(part_of, regions)))


def part_of(region: str | None, *hidden: str, within: str | None = None) -> Part:
    """A part of a page, as it is written."""
    shown, room = (parse_region(each) if each else None for each in (region, within))
    return Part(region=shown, within=room, hidden=tuple(map(parse_region, hidden)))


def pixels_of(piece: CutOut) -> Image.Image:
    """The picture that stands in the file of a piece."""
    picture = Image.open(io.BytesIO(piece.data))
    assert picture.size == (piece.width, piece.height)
    return picture


def blocks_in(columns: range, rows: range) -> Iterator[tuple[int, int]]:
    """The blocks of these columns and rows."""
    return ((across, down) for down in rows for across in columns)


def is_near(found: object, wanted: Colour, by: int = 6) -> bool:
    """Whether a pixel has a colour, but for what JPEG changes."""
    assert isinstance(found, tuple)
    return all(abs(one - other) <= by for one, other in zip(found, wanted, strict=True))
