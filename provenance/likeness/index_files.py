"""The files of the picture index: its segments, and the list of those that make it up.

A segment is written under a name that nothing reads, and named after its content when it is whole; then the list is put
in the place of the one before, in one step. So whoever reads the list sees a whole state, and a writer that is killed
at any moment leaves the state before it, with files that belong to nothing; the next writer removes them. Nothing is
flushed: what a power cut spoils does not agree with its digest, and is made again.
"""

import hashlib
import json
import os
import re
import secrets
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from provenance.errors import WriteRefusedError
from provenance.likeness.index_segments import Segment, write

LISTING = "segments.json"
_SEGMENT = re.compile(r"[0-9a-f]{64}\.segment")
_UNFINISHED = re.compile(r"\.unfinished-[0-9a-f]{16}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """One segment of an index.

    Attributes:
        known_by: the digest of its description; its file is called after it.
        dropped: the numbers, from 0, of the pictures in it that are not to be found any more, in order.
    """

    known_by: str
    dropped: tuple[int, ...] = ()

    @property
    def file(self) -> str:
        """The name of its file."""
        return f"{self.known_by}.segment"


def read_listing(folder: Path) -> tuple[Listed, ...]:
    """Read which segments an index has; empty where there is no list, or it is damaged."""
    with suppress(OSError, ValueError, KeyError, TypeError, RecursionError):
        told = json.loads(_read_plain(folder / LISTING))
        listing = tuple(Listed(known_by=known_by, dropped=tuple(dropped)) for known_by, dropped in told["segments"])
        is_sound = told["digest"] == _digest(listing) and all(_SEGMENT.fullmatch(each.file) for each in listing)
        return listing if is_sound else ()
    return ()


def _read_plain(path: Path) -> bytes:
    """Read a file, but wait for no pipe and follow no link."""
    descriptor = os.open(path, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK | os.O_CLOEXEC)
    with os.fdopen(descriptor, "rb") as file:
        return file.read()


def _digest(listing: tuple[Listed, ...]) -> str:
    told = json.dumps([[each.known_by, each.dropped] for each in listing])
    return hashlib.sha256(told.encode("ascii")).hexdigest()


def write_listing(folder: Path, listing: tuple[Listed, ...]) -> None:
    """Put a list in the place of the one before, then remove the files that it does not name.

    Only one writer may be at work.

    Raises:
        WriteRefusedError: the disk refuses; the list is as it was.
    """
    told = {"digest": _digest(listing), "segments": [[each.known_by, each.dropped] for each in listing]}
    with _begun(folder) as (file, unfinished):
        file.write(json.dumps(told).encode("ascii"))
        file.close()
        unfinished.replace(folder / LISTING)
    _remove_all_but(folder, {each.file for each in listing})


def write_segment(folder: Path, segment: Segment) -> Listed:
    """Write a segment; it belongs to the index when it is on the list.

    Raises:
        WriteRefusedError: the disk refuses.
    """
    with _begun(folder) as (file, unfinished):
        listed = Listed(known_by=write(segment, file))
        file.close()
        unfinished.replace(folder / listed.file)
    return listed


@contextmanager
def _begun(folder: Path) -> Iterator[tuple[BinaryIO, Path]]:
    """An unfinished file; it goes when what was begun cannot be ended.

    Raises:
        WriteRefusedError: the disk refuses.
    """
    unfinished = folder / f".unfinished-{secrets.token_hex(8)}"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with unfinished.open("xb") as file:
            yield file, unfinished
    except OSError as fault:
        with suppress(OSError):
            unfinished.unlink()
        raise WriteRefusedError(
            f"the picture index in {folder} cannot be written: {fault.strerror or fault}",
            "make room on the disk, or see that you may write to this folder, then run the command again",
        ) from fault


def _remove_all_but(folder: Path, wanted: set[str]) -> None:
    """Remove segments and unfinished files that belong to nothing; what cannot be removed stays."""
    with suppress(OSError), os.scandir(folder) as entries:
        for entry in entries:
            is_ours = _SEGMENT.fullmatch(entry.name) or _UNFINISHED.fullmatch(entry.name)
            if is_ours and entry.name not in wanted:
                with suppress(OSError):
                    Path(entry.path).unlink()
