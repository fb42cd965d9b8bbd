"""The frames of a TIFF: found one behind the other without decoding any, each then opened as if it were alone.

Source of the layout: TIFF revision 6.0 (Adobe, 1992), sections 2, 8 and 15; Adobe Photoshop TIFF technical notes for
the reduced pictures; BigTIFF (offsets of 8 bytes, version 43) as the library libtiff documents it.
"""

import io
import struct
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from io import BufferedReader
from math import ceil

from provenance.pages.plain_files import size_of

MOST_FRAMES = 65_535
"""A longer chain is refused: a page number in a TIFF (tag 297) is a number of 16 bits."""

_SUBFILE, _OLD_SUBFILE, _WIDTH, _HEIGHT, _BITS, _PHOTOMETRIC = 254, 255, 256, 257, 258, 262
_STRIPS, _ORIENTATION, _SAMPLES, _ROWS, _STRIP_BYTES, _PLANAR = 273, 274, 277, 278, 279, 284
_TILE_WIDTH, _TILE_HEIGHT, _TILES, _TILE_BYTES, _INNER = 322, 323, 324, 325, 330
_WANTED = frozenset(
    {_SUBFILE, _OLD_SUBFILE, _WIDTH, _HEIGHT, _BITS, _PHOTOMETRIC, _STRIPS, _ORIENTATION, _SAMPLES, _ROWS}
    | {_STRIP_BYTES, _PLANAR, _TILE_WIDTH, _TILE_HEIGHT, _TILES, _TILE_BYTES, _INNER}
)
_REDUCED, _MASK, _OLD_REDUCED = 1, 4, 2
_SHORT = 3
_NUMBERS = {1: "B", _SHORT: "H", 4: "I", 13: "I", 16: "Q", 18: "Q"}  # by the field's type; the others hold no numbers
_YCBCR = 6
_READ_TWICE = 8  # the first pointer, in the header


MARK_OF_BIG = b"+\0"
"""What a BigTIFF has behind its byte order when that is the little one; the library looks for nothing else."""


class BrokenChainError(Exception):
    """The frames of a TIFF cannot be followed; the message says why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """One picture of a TIFF.

    Attributes:
        alone: what would have to stand where, for it to be the only frame and stored upright.
        size: width and height in pixels as stored, before it is turned.
        orientation: 1 to 8 (tag 274), what stands there otherwise counts as 1.
        is_orientation_stated: the tag is there.
        piece_bytes: how many bytes the largest strip or tile unfolds to.
        is_white_zero: its smallest level stands for white (photometric interpretation 0).
        is_reduced: it is a smaller copy of another frame, or a mask for one, and no page.
        has_inner: it points to further pictures that do not stand in the chain.
        lacks_pieces: fewer strips or tiles are listed than its size asks for, or one begins beyond the end of the
            file; the library fills their place with black and says nothing.
        is_whole: no piece is lacking, and each ends within the file, as far as their lengths are true.
    """

    alone: Mapping[int, bytes]
    size: tuple[int, int]
    orientation: int
    is_orientation_stated: bool
    piece_bytes: int
    is_white_zero: bool
    is_reduced: bool
    has_inner: bool
    lacks_pieces: bool
    is_whole: bool


def read_frames(file: BufferedReader) -> tuple[Frame, ...]:
    """Follow the chain of directories of a TIFF or a BigTIFF.

    What is read is at most the size of the file, since directories do not overlap in an honest one.

    Raises:
        BrokenChainError: it points beyond the file, runs in a circle, overlaps, is over `MOST_FRAMES` long, has no
            frame, or a frame has no size.
    """
    return tuple(_follow(_Chain(file)))


class FrameFile(io.FileIO):
    """A TIFF as if one of its frames were the only one, and stored upright; nothing is copied.

    The library walks through all frames before the one that is asked for, and turns a whole picture in memory: with
    the first pointer, the next pointer and the orientation read as others, it does neither.
    """

    def __init__(self, file: BufferedReader, frame: Frame) -> None:
        """Look at a frame of an open file, which stays the caller's to close."""
        super().__init__(file.fileno(), closefd=False)
        self._written = frame.alone
        self.seek(0)

    def read(self, size: int | None = -1, /) -> bytes:
        """Read on, with what stands elsewhere in the place of what is written."""
        start = self.tell()
        content = bytearray(super().read(-1 if size is None else size) or b"")
        for place, written in self._written.items():
            first, last = max(place, start), min(place + len(written), start + len(content))
            if first < last:
                content[first - start : last - start] = written[first - place : last - place]
        return bytes(content)


class _Chain:
    """Reading of numbers at places of a TIFF, within a budget."""

    def __init__(self, file: BufferedReader) -> None:
        self._file = file
        self.size = size_of(file)
        self._left = self.size + _READ_TWICE
        header = self.take(0, 8)
        self._order = "<" if header.startswith(b"II") else ">"
        self.is_big = self.numbers("H", header[2:4]) == (43,)
        self.count, self.offset = ("Q", "Q") if self.is_big else ("H", "I")
        self.first_field = 8 if self.is_big else 4
        self.entry_bytes, self.value_bytes = (20, 8) if self.is_big else (12, 4)

    def take(self, place: int, size: int) -> bytes:
        if place + size > self.size:
            raise BrokenChainError("points beyond its end")
        self._left -= size
        if self._left < 0:
            raise BrokenChainError("lists the same bytes again and again")
        self._file.seek(place)
        return self._file.read(size)

    def numbers(self, form: str, content: bytes) -> tuple[int, ...]:
        return struct.unpack(self._order + form, content)

    def packed(self, form: str, *numbers: int) -> bytes:
        return struct.pack(self._order + form, *numbers)

    def entry(self, tag: int, number: int) -> bytes:
        return self.packed(f"HH{self.offset}H", tag, _SHORT, 1, number)

    def number_at(self, form: str, place: int) -> int:
        return self.numbers(form, self.take(place, struct.calcsize("=" + form)))[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Directory:
    """The fields of a frame that are wanted here: their numbers, and where their entries begin."""

    place: int
    next_field: int
    values: Mapping[int, tuple[int, ...]]
    entries: Mapping[int, int]

    def first(self, tag: int, default: int) -> int:
        return next(iter(self.values.get(tag, ())), default)


def _follow(chain: _Chain) -> Iterator[Frame]:
    place, seen = chain.number_at(chain.offset, chain.first_field), set[int]()
    if not place:
        raise BrokenChainError("holds no picture")
    while place:
        if place in seen:
            raise BrokenChainError("runs in a circle")
        if len(seen) == MOST_FRAMES:
            raise BrokenChainError(f"is longer than {MOST_FRAMES} pictures")
        seen.add(place)
        directory = _read_directory(chain, place)
        yield _frame_of(chain, directory)
        place = chain.number_at(chain.offset, directory.next_field)


def _read_directory(chain: _Chain, place: int) -> _Directory:
    entries_at = place + struct.calcsize("=" + chain.count)
    many = chain.number_at(chain.count, place)
    content = chain.take(entries_at, many * chain.entry_bytes)
    values, entries = {}, {}
    for at in range(0, len(content), chain.entry_bytes):
        entry = content[at : at + chain.entry_bytes]
        tag, kind, count = chain.numbers(f"HH{chain.offset}", entry[: -chain.value_bytes])
        if tag in _WANTED and kind in _NUMBERS:
            values[tag] = _values(chain, _NUMBERS[kind], count, entry[-chain.value_bytes :])
            entries[tag] = entries_at + at
    return _Directory(place=place, next_field=entries_at + len(content), values=values, entries=entries)


def _values(chain: _Chain, form: str, count: int, field: bytes) -> tuple[int, ...]:
    """Give the numbers of a field: those that fit stand in it, others where it points to."""
    size = count * struct.calcsize("=" + form)
    if size > len(field):
        field = chain.take(chain.numbers(chain.offset, field)[0], size)
    return chain.numbers(f"{count}{form}", field[:size])


def _frame_of(chain: _Chain, directory: _Directory) -> Frame:
    width, height = directory.first(_WIDTH, 0), directory.first(_HEIGHT, 0)
    if not width or not height:
        raise BrokenChainError("holds a picture without a size")
    old = directory.first(_OLD_SUBFILE, 0)
    piece, pieces = _pieces(directory, (width, height))
    places = _places(directory)
    lacks_pieces = len(places) < pieces or max(places) >= chain.size
    orientation = directory.first(_ORIENTATION, 1)
    return Frame(
        alone=_alone(chain, directory),
        size=(width, height),
        orientation=orientation if 1 <= orientation <= 8 else 1,
        is_orientation_stated=_ORIENTATION in directory.entries,
        piece_bytes=_unfolded(directory, piece),
        is_white_zero=_has_white_zero(directory),
        is_reduced=bool(directory.first(_SUBFILE, 0) & (_REDUCED | _MASK)) or old == _OLD_REDUCED,
        has_inner=_INNER in directory.values,
        lacks_pieces=lacks_pieces,
        is_whole=not lacks_pieces and _last_byte(directory) <= chain.size,
    )


def _alone(chain: _Chain, directory: _Directory) -> dict[int, bytes]:
    alone = {
        chain.first_field: chain.packed(chain.offset, directory.place),
        directory.next_field: chain.packed(chain.offset, 0),
    }
    if chain.is_big:
        alone[2] = MARK_OF_BIG
    if _ORIENTATION in directory.entries:
        alone[directory.entries[_ORIENTATION]] = chain.entry(_ORIENTATION, 1)
    if (
        _has_white_zero(directory) and directory.first(_BITS, 1) > 8
    ):  # the library would not invert those, nor open some
        alone[directory.entries[_PHOTOMETRIC]] = chain.entry(_PHOTOMETRIC, 1)
    return alone


def _has_white_zero(directory: _Directory) -> bool:
    return directory.first(_PHOTOMETRIC, 1) == 0


def _pieces(directory: _Directory, size: tuple[int, int]) -> tuple[tuple[int, int], int]:
    """Give the size of the strips or tiles, and how many the picture needs."""
    if _TILES in directory.values:
        piece = max(1, directory.first(_TILE_WIDTH, size[0])), max(1, directory.first(_TILE_HEIGHT, size[1]))
    else:
        piece = size[0], max(1, min(directory.first(_ROWS, size[1]), size[1]))
    planes = directory.first(_SAMPLES, 1) if directory.first(_PLANAR, 1) == 2 else 1
    return piece, ceil(size[0] / piece[0]) * ceil(size[1] / piece[1]) * planes


def _unfolded(directory: _Directory, piece: tuple[int, int]) -> int:
    samples = directory.first(_SAMPLES, 1)
    bits = directory.first(_BITS, 1) * samples
    if directory.first(_PHOTOMETRIC, 0) == _YCBCR:
        bits = max(bits, 32)  # such a piece is unfolded to four bytes for each pixel
    return ceil(piece[0] * bits / 8) * piece[1]


def _places(directory: _Directory) -> tuple[int, ...]:
    return directory.values.get(_TILES) or directory.values.get(_STRIPS, ())


def _last_byte(directory: _Directory) -> int:
    lengths = directory.values.get(_TILE_BYTES) or directory.values.get(_STRIP_BYTES, ())
    return max((place + length for place, length in zip(_places(directory), lengths, strict=False)), default=0)
