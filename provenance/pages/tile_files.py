"""The tiles of one page in one file: how it is written, and how one tile is read out of it.

A page is kept at its full size and halved again and again, each time cut into squares: level 0 is the full size, level
n is smaller by 2^n both ways, rounded up. A file holds some of that: the small levels together, or a band of a large
one, so that what is looked at first need not wait until all is cut. It begins with the digest of its table in
64 letters, then the table as one line of JSON, then the tiles one behind the other, each a whole JPEG or PNG. A damaged
table or tile is noticed when it is read.
"""

import hashlib
import io
import json
import zlib
from collections.abc import Callable, Iterable, Mapping
from contextlib import AbstractContextManager
from dataclasses import dataclass
from functools import cache
from importlib.metadata import version
from pathlib import Path
from typing import IO

TILE = 512
"""Width and height of a tile, in pixels; those at the right and the lower edge may have fewer."""

COARSE_SIDE = 2048
"""The longer side of the largest of the small sizes at most, in pixels: what a window shows of a whole page."""

ROWS = 2
"""Of so many rows of tiles is a band, in which a large size is cut and kept: a window shows two or three of them."""

_FORMAT = 2  # to be raised when the same page gives other tiles than before
_ENGINES = ("pillow", "pypdfium2")
_KEY_LENGTH = 16
_HEAD = 65
_LONGEST_TABLE = 8_000_000


class DamagedTilesError(Exception):
    """What is kept of a page cannot be used; it has to be made anew."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PageTiles:
    """What is known of a page that is kept in tiles.

    Attributes:
        width: of the page upright, at the full size that is kept, in pixels.
        height: likewise.
        of_page: width and height that the page itself has, upright, in its own pixels; larger than what is kept where
            that is too large to be kept whole. None for a page that has no pixels.
        is_lossless: its tiles are PNG; else JPEG.
        note: for people, what they look at, such as `shown at 50 % of its size`; empty for nothing.
    """

    width: int
    height: int
    of_page: tuple[int, int] | None
    is_lossless: bool
    note: str = ""

    @property
    def levels(self) -> int:
        """How many there are, the full size included; the last is a single tile."""
        return levels_of(self.width, self.height)


@dataclass(frozen=True, slots=True, order=True)
class Band:
    """Some rows of the tiles of a large size: its level, and its place counted from 0 at the top."""

    level: int
    number: int

    def has(self, level: int, row: int) -> bool:
        """Whether a row of tiles of a level is one of it; rows are counted from 0."""
        return level == self.level and row // ROWS == self.number


@dataclass(frozen=True, slots=True)
class CutTile:
    """One tile: its level, its column and row counted from 0, and its file."""

    level: int
    column: int
    row: int
    data: bytes


def levels_of(width: int, height: int) -> int:
    """Count the levels of a page of this size; the last of them fits into one tile."""
    levels = 1
    while max(size_at((width, height), levels - 1)) > TILE:
        levels += 1
    return levels


def size_at(size: tuple[int, int], level: int) -> tuple[int, int]:
    """Give width and height of a page at a level."""
    return -(-size[0] >> level), -(-size[1] >> level)


def coarse_from(width: int, height: int) -> int:
    """Give the first level that is among the small sizes of a page; they are kept in a file of their own."""
    level = 0
    while max(size_at((width, height), level)) > COARSE_SIDE:
        level += 1
    return level


def bands_of(width: int, height: int) -> tuple[Band, ...]:
    """All bands of the large sizes of a page, the smaller sizes first; none where it has no large sizes."""
    found = []
    for level in reversed(range(coarse_from(width, height))):
        rows = -(-size_at((width, height), level)[1] // TILE)
        found += [Band(level, number) for number in range(-(-rows // ROWS))]
    return tuple(found)


@cache
def tiles_key() -> str:
    """The key under which tiles are kept: another way of cutting, or another engine, gives another."""
    told = "\n".join([str(_FORMAT), *(f"{name} {version(name)}" for name in _ENGINES)])
    return hashlib.sha256(told.encode("ascii")).hexdigest()[:_KEY_LENGTH]


def written(page: PageTiles, tiles: Iterable[CutTile]) -> bytes:
    """Write the file of some levels of a page."""
    table: dict[str, tuple[int, int, int]] = {}
    data = io.BytesIO()
    for tile in tiles:
        table[_name(tile.level, tile.column, tile.row)] = data.tell(), len(tile.data), zlib.crc32(tile.data)
        data.write(tile.data)
    said = {
        "width": page.width,
        "height": page.height,
        "of_page": page.of_page,
        "lossless": page.is_lossless,
        "note": page.note,
        "tiles": table,
    }
    line = json.dumps(said, ensure_ascii=True, sort_keys=True).encode("ascii") + b"\n"
    return hashlib.sha256(line).hexdigest().encode("ascii") + b"\n" + line + data.getvalue()


class TileFile:
    """A file of tiles, of which the table was read."""

    __slots__ = ("_open", "_start", "_table", "page")

    def __init__(self, source: Path | bytes) -> None:
        """Read the table.

        Args:
            source: where the file is; or all that would be in it, where it could not be kept.

        Raises:
            DamagedTilesError: it is not there, or damaged.
        """
        self._open: Callable[[], AbstractContextManager[IO[bytes]]] = (
            (lambda: io.BytesIO(source)) if isinstance(source, bytes) else (lambda: source.open("rb"))
        )
        try:
            with self._open() as file:
                digest, line = file.read(_HEAD).strip(), file.readline(_LONGEST_TABLE)
                self._start = file.tell()
            if hashlib.sha256(line).hexdigest().encode("ascii") != digest:
                raise DamagedTilesError
            said = json.loads(line)
            self.page = _page(said)
            self._table: Mapping[str, tuple[int, int, int]] = said["tiles"]
        except (OSError, ValueError, KeyError, TypeError) as error:
            raise DamagedTilesError from error

    def has(self, level: int) -> bool:
        """Whether the file holds a level."""
        return _name(level, 0, 0) in self._table

    def read(self, level: int, column: int, row: int) -> bytes:
        """Read the file of one tile.

        Raises:
            DamagedTilesError: there is none, or it is damaged.
        """
        try:
            begin, length, check = self._table[_name(level, column, row)]
            with self._open() as file:
                file.seek(self._start + begin)
                data = file.read(length)
        except (OSError, KeyError) as error:
            raise DamagedTilesError from error
        if len(data) != length or zlib.crc32(data) != check:
            raise DamagedTilesError
        return data


def _name(level: int, column: int, row: int) -> str:
    return f"{level}/{column}/{row}"


def _page(said: Mapping[str, object]) -> PageTiles:
    of_page = said["of_page"]
    return PageTiles(
        width=_whole(said["width"]),
        height=_whole(said["height"]),
        of_page=(_whole(of_page[0]), _whole(of_page[1])) if isinstance(of_page, list) else None,
        is_lossless=said["lossless"] is True,
        note=str(said["note"]),
    )


def _whole(number: object) -> int:
    if not isinstance(number, int) or number < 1:
        raise ValueError(number)
    return number
