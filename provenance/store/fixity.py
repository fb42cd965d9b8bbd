"""Whether the originals are still the bytes that were received: SHA-256 (FIPS 180-4) against the records.

Beside it `SeenFiles`: what `ingest` remembers of files that it has digested, so as not to read an unchanged one again.
"""

import errno
import hashlib
import json
import os
import re
import stat
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from provenance.records.sources import OriginalFile, Source
from provenance.store.safe_writing import put_derived

# "Pointer files must be less than 1024 bytes": Git LFS Specification, docs/spec.md of git-lfs, "The Pointer".
_POINTER_BYTES = 1024
_POINTER = re.compile(
    rb"\Aversion https://git-lfs\.github\.com/spec/v1\r?\n"
    rb"(?:ext-[^\n]*\n)*oid sha256:([0-9a-f]{64})\r?\nsize [0-9]+\r?\n"
)
_SETTLED_AFTER_NS = 2_000_000_000


class FixityState(StrEnum):
    """How an original stands to its record."""

    PRESENT = "present"
    CHANGED = "changed"
    WRONG_SIZE = "wrong-size"
    UNREADABLE = "unreadable"
    NOT_HERE = "not-here"


@dataclass(frozen=True, slots=True, kw_only=True)
class FixityFinding:
    """How one original stands to its record.

    Attributes:
        source: the id of the source.
        path: of the original as the record has it, relative to the archive.
        why: one sentence; empty when it is present.
    """

    source: str
    path: str
    state: FixityState
    why: str = ""

    @property
    def is_broken(self) -> bool:
        """Whether the bytes here are not those received; an original that is not here is not broken."""
        return self.state not in {FixityState.PRESENT, FixityState.NOT_HERE}


def sha256_of(path: Path) -> str:
    """Digest a regular file, a piece at a time; 64 hexadecimal digits.

    Raises:
        OSError: it cannot be read, is a link, or is no regular file (which is never waited for).
    """
    with os.fdopen(open_regular(path), "rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def open_regular(path: Path) -> int:
    """Open a regular file for reading and return its descriptor, following no link and waiting for no pipe.

    Raises:
        OSError: it cannot be opened, is a link, or is no regular file.
    """
    try:
        descriptor = os.open(path, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK | os.O_CLOEXEC)
    except OSError as error:
        if error.errno == errno.ELOOP:
            raise OSError(errno.ELOOP, "it is a link") from error
        raise
    if stat.S_ISREG(os.fstat(descriptor).st_mode):
        return descriptor
    os.close(descriptor)
    raise OSError(None, "it is not a regular file")


def pointed_digest(head: bytes) -> str | None:
    """The SHA-256 named by a large-file pointer, the short text that git keeps in the place of a large file.

    None when these bytes are no such pointer.
    """
    pointer = _POINTER.match(head) if len(head) < _POINTER_BYTES else None
    return pointer[1].decode("ascii") if pointer else None


def check_fixity(
    folder: Path,
    sources: Iterable[Source],
    *,
    read: bool = True,
    on_progress: Callable[[int, int], None] | None = None,
) -> tuple[FixityFinding, ...]:
    """Compare every original with its record; one finding a file, in order of source id and then as listed.

    Args:
        folder: the archive's folder.
        sources: whose originals to look at.
        read: whether the bytes are read; False looks only whether a file (and no pointer) is there.
        on_progress: called after each file with how many are done, and of how many.
    """
    originals = [(source.id, file) for source in sorted(sources, key=lambda each: each.id) for file in source.files]
    findings = []
    for done, (source, file) in enumerate(originals, start=1):
        state, why = _compare(folder, file, read=read)
        findings.append(FixityFinding(source=source, path=file.path, state=state, why=why))
        if on_progress is not None:
            on_progress(done, len(originals))
    return tuple(findings)


def _compare(folder: Path, file: OriginalFile, *, read: bool) -> tuple[FixityState, str]:
    path = folder / file.path
    if not path.parent.resolve().is_relative_to(folder.resolve()):
        return FixityState.NOT_HERE, "its path leads out of the archive, so it was not looked at"
    try:
        descriptor = open_regular(path)
    except (FileNotFoundError, NotADirectoryError):
        return FixityState.NOT_HERE, "there is no file of that name here"
    except OSError as error:
        return FixityState.UNREADABLE, f"it cannot be opened: {error.strerror}"
    with os.fdopen(descriptor, "rb") as opened:
        try:
            return _compare_opened(opened.fileno(), file, read=read)
        except OSError as error:
            return FixityState.UNREADABLE, f"it cannot be read: {error.strerror}"


def _compare_opened(descriptor: int, file: OriginalFile, *, read: bool) -> tuple[FixityState, str]:
    size = os.fstat(descriptor).st_size
    if size != file.size and size < _POINTER_BYTES:
        pointed = pointed_digest(os.pread(descriptor, _POINTER_BYTES, 0))
        if pointed == file.sha256:
            return FixityState.NOT_HERE, "only the large-file pointer is here; the file itself was not fetched"
        if pointed is not None:
            return FixityState.CHANGED, "the large-file pointer that is here stands for other bytes"
    if not read:
        return FixityState.PRESENT, ""
    if size != file.size:
        return FixityState.WRONG_SIZE, f"it has {size:,} bytes; {file.size:,} were received"
    with os.fdopen(os.dup(descriptor), "rb") as opened:
        if hashlib.file_digest(opened, "sha256").hexdigest() != file.sha256:
            return FixityState.CHANGED, "its bytes are not those that were received (SHA-256 differs)"
    return FixityState.PRESENT, ""


class SeenFiles:
    """The digests of files seen before; derived data, so a damaged or missing memory is an empty one.

    Equal size, time of change and inode let `ingest` skip the digesting; nothing else may use them, since a file can be
    changed without any of the three. One that was changed within the last two seconds is not remembered: some file
    systems tell times no finer than that (FAT), so a second change right after would not show.
    """

    __slots__ = ("_changed", "_file", "_seen")

    def __init__(self, folder: Path) -> None:
        """Read the memory of the archive in `folder`."""
        self._file = folder / ".derived" / "seen-files.json"
        self._seen = _read(self._file)
        self._changed = False

    def digest_of(self, path: Path) -> str:
        """The SHA-256 of a regular file, from memory where it is unchanged; 64 hexadecimal digits.

        Raises:
            OSError: it cannot be read, is a link, or is no regular file.
        """
        place = str(path.absolute())
        known = self._seen.get(place)
        if known is not None and known[:3] == _stamp(os.lstat(path)):
            return known[3]
        with os.fdopen(open_regular(path), "rb") as file:
            before = _stamp(os.fstat(file.fileno()))
            digest = hashlib.file_digest(file, "sha256").hexdigest()
            after = _stamp(os.fstat(file.fileno()))
        if before == after and time.time_ns() - after[1] > _SETTLED_AFTER_NS:
            self._seen[place] = (*after, digest)
            self._changed = True
        return digest

    def save(self) -> None:
        """Write the memory down, if anything was added.

        Raises:
            WriteRefusedError: the disk refuses.
        """
        if self._changed:
            # One by one: twenty thousand written at once would take twice as much memory.
            entries = (
                f"{json.dumps(place)}:{json.dumps(stamp)}".encode("ascii") for place, stamp in self._seen.items()
            )
            put_derived(self._file, b"{%s}" % b",\n".join(entries))
            self._changed = False


def _stamp(status: os.stat_result) -> tuple[int, int, int]:
    return status.st_size, status.st_mtime_ns, status.st_ino


def _read(file: Path) -> dict[str, tuple[int, int, int, str]]:
    try:
        kept = json.loads(file.read_bytes())
        return {str(place): (int(s), int(m), int(i), str(digest)) for place, (s, m, i, digest) in kept.items()}
    except (OSError, ValueError, TypeError, AttributeError):
        return {}
