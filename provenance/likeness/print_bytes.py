"""The fingerprints of a page as bytes, and back.

A heading of 8 bytes that names the form, the SHA-256 of all that follows, then each print with its lengths.
"""

import hashlib
import io
import struct
from collections.abc import Sequence

import numpy as np
from PIL import Image

from provenance.likeness.values import PicturePrint
from provenance.records.readings import Box

_HEADING = b"prints 1"
_FIXED = struct.Struct("<4dQIII")


def to_bytes(prints: Sequence[PicturePrint]) -> bytes:
    """The prints of a page as bytes: the same prints always give the same bytes."""
    body = b"".join(_written(one) for one in prints)
    return _HEADING + hashlib.sha256(body).digest() + body


def _written(one: PicturePrint) -> bytes:
    with io.BytesIO() as file:
        Image.fromarray(one.small).save(file, "PNG")
        small = file.getvalue()
    part = one.part
    fixed = _FIXED.pack(part.x, part.y, part.w, part.h, one.hash, len(small), *one.marks.shape)
    return fixed + small + one.points.astype("<f4").tobytes() + one.marks.tobytes()


def from_bytes(data: bytes) -> tuple[PicturePrint, ...]:
    """The prints that `to_bytes` wrote.

    Raises:
        ValueError: the bytes are not such a file, were cut short, or differ from what was written.
    """
    body = data[len(_HEADING) + 32 :]
    if data[: len(_HEADING)] != _HEADING or hashlib.sha256(body).digest() != data[len(_HEADING) : len(_HEADING) + 32]:
        raise ValueError("these are not the fingerprints that were written")
    prints = []
    at = 0
    while at < len(body):
        one, at = _read(body, at)
        prints.append(one)
    return tuple(prints)


def _read(body: bytes, at: int) -> tuple[PicturePrint, int]:
    *sides, hash_, length, count, width = _FIXED.unpack_from(body, at)
    at += _FIXED.size
    with Image.open(io.BytesIO(body[at : at + length]), formats=["PNG"]) as image:
        small = np.array(image, dtype=np.uint8)
    at += length
    points = np.frombuffer(body, "<f4", count * 4, at).reshape(count, 4).astype(np.float32)
    at += points.nbytes
    marks = np.frombuffer(body, np.uint8, count * width, at).reshape(count, width).copy()
    one = PicturePrint(part=Box(*sides), small=small, hash=hash_, points=points, marks=marks)
    return one, at + marks.nbytes
