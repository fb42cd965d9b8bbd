"""What the first bytes of a picture say of the memory that it will take, before a library sets any aside."""

import struct
from dataclasses import dataclass
from io import BufferedReader

from provenance.pages.plain_files import size_of

_MOST_STEPS = 10_000
_RIFF_HEADER = 8
_TAIL_BYTES = 65536
_END_OF_CODESTREAM = b"\xff\xd9"


class BrokenHeaderError(Exception):
    """The file does not begin, or go on, as its kind has to."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WebpHeader:
    """The beginning of a WebP.

    Attributes:
        size: width and height in pixels.
        file_bytes: how long the file says that it is.
    """

    size: tuple[int, int]
    file_bytes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Jpeg2000Header:
    """The beginning of a JPEG 2000 codestream.

    Attributes:
        size: width and height in pixels.
        tile: width and height of a tile; a picture that is not tiled is one.
        components: how many.
        levels: how many times it can be halved without decoding the rest.
        is_whole: it ends as every codestream has to; the library fills what is missing with black and says nothing.
    """

    size: tuple[int, int]
    tile: tuple[int, int]
    components: int
    levels: int
    is_whole: bool


def webp_header(file: BufferedReader) -> WebpHeader:
    """Read the size of a WebP: of its canvas, or of its only picture.

    Source: RFC 9649, sections 2.5 to 2.7 and 3.4; for the lossy kind RFC 6386, section 9.1.

    Raises:
        BrokenHeaderError: it does not begin like one.
    """
    file.seek(0)
    head = file.read(30)
    if len(head) < 30:
        raise BrokenHeaderError
    size = _webp_size(head[12:16], head[20:])
    if 0 in size:
        raise BrokenHeaderError
    return WebpHeader(size=size, file_bytes=_RIFF_HEADER + int.from_bytes(head[4:8], "little"))


def _webp_size(kind: bytes, content: bytes) -> tuple[int, int]:
    if kind == b"VP8X":
        return 1 + int.from_bytes(content[4:7], "little"), 1 + int.from_bytes(content[7:10], "little")
    if kind == b"VP8L" and content[0] == 0x2F:
        bits = int.from_bytes(content[1:5], "little")
        return 1 + (bits & 0x3FFF), 1 + (bits >> 14 & 0x3FFF)
    if kind == b"VP8 " and content[3:6] == b"\x9d\x01\x2a":
        return struct.unpack("<H", content[6:8])[0] & 0x3FFF, struct.unpack("<H", content[8:10])[0] & 0x3FFF
    raise BrokenHeaderError


def jpeg2000_header(file: BufferedReader) -> Jpeg2000Header:
    """Read how a JPEG 2000 is laid out, in a JP2 or as a codestream alone.

    Source: ISO/IEC 15444-1 (also ITU-T T.800), annex A.4.4 (the end mark, which cannot stand within the data), A.5.1
    (SIZ), A.6.1 (COD) and I.4 (boxes).

    Raises:
        BrokenHeaderError: no codestream, or one without its two first segments.
    """
    try:
        first, last = _codestream_place(file)
        file.seek(max(first, last - _TAIL_BYTES))
        is_whole = last <= size_of(file) and _END_OF_CODESTREAM in file.read(min(_TAIL_BYTES, last - first))
        file.seek(first + 2)
        return _codestream_header(file, is_whole=is_whole)
    except (struct.error, OSError, OverflowError, ValueError, IndexError) as error:
        raise BrokenHeaderError from error


def _codestream_place(file: BufferedReader) -> tuple[int, int]:
    """Find where the codestream begins and ends: in a JP2 from one box to the next."""
    file.seek(0)
    if file.read(2) == b"\xff\x4f":
        return 0, size_of(file)
    place = 0
    for _ in range(_MOST_STEPS):
        file.seek(place)
        size, kind = struct.unpack(">I4s", file.read(8))
        header = 8
        if size == 1:
            size, header = struct.unpack(">Q", file.read(8))[0], 16
        if kind == b"jp2c":
            return place + header, place + size if size else size_of(file)
        if size < header:
            raise BrokenHeaderError
        place += size
    raise BrokenHeaderError


def _codestream_header(file: BufferedReader, *, is_whole: bool) -> Jpeg2000Header:
    marker, _, _, width, height, left, top, tile_width, tile_height, _, _, components = struct.unpack(
        ">HHH8IH", file.read(40)
    )
    if marker != 0xFF51 or width <= left or height <= top or not tile_width or not tile_height:
        raise BrokenHeaderError
    size = width - left, height - top
    file.seek(3 * components, 1)
    for _ in range(_MOST_STEPS):
        marker, length = struct.unpack(">HH", file.read(4))
        if marker == 0xFF52:
            levels = file.read(length - 2)[5]
            tile = min(tile_width, size[0]), min(tile_height, size[1])
            return Jpeg2000Header(size=size, tile=tile, components=components, levels=levels, is_whole=is_whole)
        if marker < 0xFF00 or length < 2:
            raise BrokenHeaderError
        file.seek(length - 2, 1)
    raise BrokenHeaderError
