"""The fingerprints of a page as bytes, and back.

First 8 bytes that name the form, then the SHA-256 of all that follows. Each print is its numbers (the four sides of its
part, its hash, then the lengths of what comes), the small picture as a JPEG, the points (32-bit floats, least byte
first, packed with zlib), and the marks.
"""

import hashlib
import io
import struct
import zlib
from collections.abc import Sequence
from typing import Final

import numpy as np
import numpy.typing as npt
from PIL import Image

from provenance.likeness.values import PicturePrint
from provenance.records.readings import Box

_HEADING: Final = b"prints 2"
_DIGEST = 32
_NUMBERS = struct.Struct("<4dQIIII")
_QUALITY = 75
_ROUNDS = 3


def as_kept(small: npt.NDArray[np.uint8]) -> npt.NDArray[np.uint8]:
    """A small picture as it will be after it was kept, so that a fresh print and a kept one give the same answers.

    A JPEG opened and written again changes less each time; after three times hardly a pixel does.
    """
    for _ in range(_ROUNDS):
        before, small = small, _opened(_jpeg(small))
        if np.array_equal(before, small):
            break
    return small


def to_bytes(prints: Sequence[PicturePrint]) -> bytes:
    """The prints of a page as bytes: the same prints always give the same bytes.

    A small picture that did not go through `as_kept` comes back as a JPEG makes it.
    """
    body = b"".join(_written(one) for one in prints)
    return _HEADING + hashlib.sha256(body).digest() + body


def from_bytes(data: bytes) -> tuple[PicturePrint, ...]:
    """The prints that `to_bytes` wrote.

    Raises:
        ValueError: the bytes are no prints, of another form, cut short, or not what was written.
    """
    start = len(_HEADING) + _DIGEST
    body = data[start:]
    if data[:start] != _HEADING + hashlib.sha256(body).digest():
        raise ValueError("these are not the fingerprints that were written")
    prints = []
    at = 0
    while at < len(body):
        one, at = _read(body, at)
        prints.append(one)
    return tuple(prints)


def _written(one: PicturePrint) -> bytes:
    small, points = _jpeg(one.small), zlib.compress(one.points.astype("<f4").tobytes())
    part = one.part
    numbers = _NUMBERS.pack(part.x, part.y, part.w, part.h, one.hash, len(small), len(points), *one.marks.shape)
    return numbers + small + points + one.marks.tobytes()


def _read(body: bytes, at: int) -> tuple[PicturePrint, int]:
    *sides, hash_, small, points, count, width = _NUMBERS.unpack_from(body, at)
    ends = np.cumsum([at + _NUMBERS.size, small, points, count * width]).tolist()
    return PicturePrint(
        part=Box(*sides),
        small=_opened(body[ends[0] : ends[1]]),
        hash=hash_,
        points=np.frombuffer(zlib.decompress(body[ends[1] : ends[2]]), "<f4").reshape(count, 4).astype(np.float32),
        marks=np.frombuffer(body[ends[2] : ends[3]], np.uint8).reshape(count, width).copy(),
    ), ends[3]


def _jpeg(small: npt.NDArray[np.uint8]) -> bytes:
    with io.BytesIO() as file:
        Image.fromarray(small).save(file, "JPEG", quality=_QUALITY)
        return file.getvalue()


def _opened(jpeg: bytes) -> npt.NDArray[np.uint8]:
    with Image.open(io.BytesIO(jpeg), formats=["JPEG"]) as picture:
        return np.array(picture, dtype=np.uint8)
