"""A segment of the picture index: some pictures, their points and marks, and the tables in which marks are looked up.

A segment is written once and never changed. It lies in one file of plain arrays that are mapped into memory, not read:
a heading with the SHA-256 of the description that follows it, the description (JSON: method, keys, and for each array
its type, shape, place and digest), then the arrays. Pictures stand in the order of their keys, so that the same
pictures always make the same file. Nothing in it is ever run, and everything is checked before it is used.
"""

import hashlib
import json
import mmap
import os
import stat
import struct
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Any, BinaryIO

import numpy as np
import numpy.typing as npt

from provenance.likeness.bit_sampling import BITS, TABLES, VERSION, keys_of
from provenance.likeness.prints import METHOD
from provenance.likeness.values import PicturePrint

MADE_BY = f"{METHOD}; {VERSION}, {TABLES} tables of {BITS} bits; segments 1"
"""All that a segment depends on besides its pictures; one that was made by anything else is not used."""

MOST_PICTURES = 4096
"""In one segment: a larger one would take long and much memory to write."""

SIZE_STEPS = 8.0
"""Sizes of points are kept in steps of an eighth of a doubling."""

_HEADING = struct.Struct("<8s32sQ")
_MAGIC = b"picture\n"
_ALIGNED = 64
_BLOCK = 1 << 13
_PICTURE, _POSE = np.uint32(16), np.uint32(0xFFFF)
_ARRAYS: Mapping[str, str] = {"hashes": "<u8", "counts": "<u4", "keys": "<u4", "entries": "<u4"}


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Segment:
    """Some pictures, with their points in tables.

    Attributes:
        names: the keys of the pictures, in order.
        hashes: the perceptual hash of each picture.
        counts: how many points each picture has.
        keys: for each table the keys of all points, in order; shape (tables, points).
        entries: beside each key its point: the number of the picture in `names`, from 0, times 65,536, and what
            `as_pose` says of direction and size.
    """

    names: tuple[str, ...]
    hashes: npt.NDArray[np.uint64]
    counts: npt.NDArray[np.uint32]
    keys: npt.NDArray[np.uint32]
    entries: npt.NDArray[np.uint32]


def as_pose(points: npt.NDArray[np.float32]) -> npt.NDArray[np.uint32]:
    """The direction and size of points in 16 bits each.

    The upper 8 bits are the direction in steps of which 256 make a full turn, so that differences wrap round by
    themselves. The lower are the size, in steps of which `SIZE_STEPS` are a doubling, 64 for one pixel; what is beyond
    either end counts as the end.
    """
    turns = np.round(points[:, 3] * (256 / 360)).astype(np.int64) % 256
    sizes = np.clip(np.round(SIZE_STEPS * np.log2(np.maximum(points[:, 2], 1e-3))) + 64, 0, 255).astype(np.int64)
    return (turns << 8 | sizes).astype(np.uint32)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Sample:
    """What the index keeps of one picture.

    Attributes:
        hash: the perceptual hash.
        keys: of each point in each table; shape (tables, points).
        poses: direction and size of each point (see `as_pose`).
    """

    hash: int
    keys: npt.NDArray[np.uint32]
    poses: npt.NDArray[np.uint32]


def sample(picture: PicturePrint) -> Sample:
    """Take from the fingerprint of a picture what the index keeps.

    Raises:
        ValueError: its marks have too few bits.
    """
    return Sample(hash=picture.hash, keys=keys_of(picture.marks), poses=as_pose(picture.points))


def build(samples: Mapping[str, Sample]) -> Segment:
    """Make a segment of some pictures.

    Args:
        samples: by key; at least one, at most `MOST_PICTURES`.
    """
    names = tuple(sorted(samples))
    ordered = [samples[name] for name in names]
    counts = np.array([len(each.poses) for each in ordered], np.uint32)
    poses = np.concatenate([each.poses for each in ordered])
    entries = np.repeat(np.arange(len(names), dtype=np.uint32), counts) << _PICTURE | poses
    hashes = np.array([each.hash for each in ordered], np.uint64)
    tables = (_joined(np.concatenate([each.keys[n] for each in ordered]), entries) for n in range(TABLES))
    return _in_order(names, hashes, counts, tables)


def merge(parts: Sequence[tuple[Segment, npt.NDArray[np.bool_]]]) -> Segment:
    """Make one segment of several, the same one that `build` would make of the pictures that stay.

    Args:
        parts: each segment with the pictures of it that are to stay; no key stays in two of them.
    """
    kept = sorted((segment.names[i], n, i) for n, (segment, stays) in enumerate(parts) for i in np.flatnonzero(stays))
    numbers = [np.zeros(len(segment.names), np.uint32) for segment, _ in parts]
    for number, (_, n, i) in enumerate(kept):
        numbers[n][i] = number
    hashes = np.array([parts[n][0].hashes[i] for _, n, i in kept], np.uint64)
    counts = np.array([parts[n][0].counts[i] for _, n, i in kept], np.uint32)
    tables = (
        np.concatenate([_renumbered(part, n, new) for part, new in zip(parts, numbers, strict=True)])
        for n in range(TABLES)
    )
    return _in_order(tuple(name for name, _, _ in kept), hashes, counts, tables)


def _renumbered(
    part: tuple[Segment, npt.NDArray[np.bool_]], table: int, numbers: npt.NDArray[np.uint32]
) -> npt.NDArray[np.uint64]:
    segment, stays = part
    pictures = segment.entries[table] >> _PICTURE
    here = stays[pictures]
    entries = numbers[pictures[here]] << _PICTURE | segment.entries[table][here] & _POSE
    return _joined(segment.keys[table][here], entries)


def _joined(keys: npt.NDArray[np.uint32], entries: npt.NDArray[np.uint32]) -> npt.NDArray[np.uint64]:
    """Keys and entries as single numbers that sort by key, then by entry."""
    return keys.astype(np.uint64) << np.uint64(32) | entries


def _in_order(
    names: tuple[str, ...],
    hashes: npt.NDArray[np.uint64],
    counts: npt.NDArray[np.uint32],
    tables: Iterable[npt.NDArray[np.uint64]],
) -> Segment:
    """Make a segment of tables that are not in order yet; one is worked on at a time, for they are large."""
    points = int(counts.sum(dtype=np.uint64))
    keys, entries = np.empty((TABLES, points), np.uint32), np.empty((TABLES, points), np.uint32)
    for n, joined in enumerate(tables):
        joined.sort()
        keys[n], entries[n] = joined >> np.uint64(32), joined & np.uint64(0xFFFFFFFF)
    return Segment(names=names, hashes=hashes, counts=counts, keys=keys, entries=entries)


def write(segment: Segment, file: BinaryIO) -> str:
    """Write a segment.

    Returns:
        The digest of its description, by which it is known.
    """
    arrays = {name: np.ascontiguousarray(getattr(segment, name), dtype=kind) for name, kind in _ARRAYS.items()}
    described, at = {}, 0
    for name, array in arrays.items():
        described[name] = {"shape": array.shape, "at": at, "digest": digest(array.reshape(-1).view(np.uint8))}
        at += -(-array.nbytes // _ALIGNED) * _ALIGNED
    told = {"made by": MADE_BY, "names": segment.names, "arrays": described, "bytes": at}
    description = json.dumps(told, ensure_ascii=True, sort_keys=True).encode("ascii")
    description += b" " * (-(_HEADING.size + len(description)) % _ALIGNED)
    known_by = hashlib.sha256(description)
    file.write(_HEADING.pack(_MAGIC, known_by.digest(), len(description)) + description)
    for array in arrays.values():
        file.write(array.data)
        file.write(bytes(-array.nbytes % _ALIGNED))
    return known_by.hexdigest()


def digest(octets: npt.NDArray[np.uint8]) -> str:
    """A digest of bytes against damage, at the speed of memory: the SHA-256 of the sums of blocks of 64-bit words.

    It finds what disks and broken copying do (zeros, strange blocks, exchanged blocks, flipped bits); it is no proof
    against somebody who means to deceive, who could make a whole index.
    """
    whole = len(octets) // (8 * _BLOCK) * (8 * _BLOCK)
    sums = octets[:whole].view("<u8").reshape(-1, _BLOCK).sum(axis=1, dtype=np.uint64)
    return hashlib.sha256(sums.astype("<u8").tobytes() + octets[whole:].tobytes()).hexdigest()


def open_segment(path: Path, known_by: str) -> Segment:
    """Map a segment into memory, all of it compared with its digests first.

    Args:
        path: of the file.
        known_by: what `write` gave back.

    Raises:
        FileNotFoundError: there is none.
        ValueError: it is damaged, another one, or made by another method.
        OSError: it cannot be read.
    """
    held = _map(path)
    if len(held) < _HEADING.size:
        raise ValueError("it is cut short")
    magic, described_by, length = _HEADING.unpack_from(held)
    description = bytes(held[_HEADING.size : _HEADING.size + min(length, len(held))])
    found = hashlib.sha256(description).digest()
    if magic != _MAGIC or found != described_by or found.hex() != known_by:
        raise ValueError("it is not the segment that was written")
    try:
        told = json.loads(description)
        if told["made by"] != MADE_BY:
            raise ValueError("it was made by another method")
        segment = _mapped(held, _HEADING.size + len(description), told)
    except (KeyError, TypeError, RecursionError) as fault:
        raise ValueError("its description lacks what it should hold") from fault
    _check(segment)
    return segment


def _map(path: Path) -> "mmap.mmap | bytes":
    descriptor = os.open(path, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK | os.O_CLOEXEC)
    try:
        about = os.fstat(descriptor)
        if not stat.S_ISREG(about.st_mode):
            raise ValueError("it is no ordinary file")
        return mmap.mmap(descriptor, 0, access=mmap.ACCESS_READ) if about.st_size else b""
    finally:
        os.close(descriptor)


def _mapped(held: "mmap.mmap | bytes", begins: int, told: Mapping[str, Any]) -> Segment:
    if len(held) != begins + told["bytes"]:
        raise ValueError("it has another length than was written")
    arrays = {}
    for name, kind in _ARRAYS.items():
        about = told["arrays"][name]
        count = int(np.prod(about["shape"], dtype=np.int64))
        array = np.frombuffer(held, kind, count, begins + about["at"])
        if digest(array.view(np.uint8)) != about["digest"]:
            raise ValueError(f"its {name} are not as they were written")
        arrays[name] = array.reshape(about["shape"])
    return Segment(names=tuple(map(str, told["names"])), **arrays)


def _check(segment: Segment) -> None:
    """Whether the parts of a segment agree, so that looking something up in it can never leave it."""
    pictures, points = len(segment.names), segment.keys.shape[-1]
    agrees = (
        0 < pictures <= MOST_PICTURES
        and all(one < other for one, other in pairwise(segment.names))
        and segment.hashes.shape == segment.counts.shape == (pictures,)
        and int(segment.counts.sum(dtype=np.uint64)) == points
        and segment.keys.shape == segment.entries.shape == (TABLES, points)
        and (points == 0 or int(segment.entries.max()) >> 16 < pictures)
    )
    if not agrees:
        raise ValueError("its parts do not agree")
