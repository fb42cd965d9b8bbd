"""Taking originals in: walking what is offered, and copying each file as it is.

Files are copied, never moved, and the copy is read back from the disk and compared before anything refers to it.
Links, pipes, sockets and devices are never opened: they are named as refused.
"""

import hashlib
import os
import shutil
import stat
from collections.abc import Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from enum import StrEnum
from io import FileIO
from pathlib import Path, PurePosixPath
from typing import NamedTuple

from provenance.errors import UnreadableOriginalError, UsageRefusedError, WriteRefusedError
from provenance.store.fixity import open_regular, sha256_of
from provenance.store.naming import stored_name
from provenance.store.record_kinds import ARCHIVE_FILE, RECORD_FOLDERS, is_record_id
from provenance.store.safe_writing import clean_leftovers
from provenance.store.staging import Staging, is_leftover, staging

ORIGINALS = "originals"
ARRIVING = (".derived", "arriving")
"""Where files lie that are on their way in from elsewhere, relative to the archive; gone once they are taken in."""

_PIECE = 1 << 20
_BLOCK = 512  # bytes; what st_blocks counts in (POSIX leaves it open; so on Linux and macOS)
# The archive's own folders and files: no finds.
_RECORDS = frozenset({ARCHIVE_FILE, *RECORD_FOLDERS, "transcripts"})
# What systems strew into every folder, and version control keeps beside it; no finds, and not worth a line.
_CLUTTER = frozenset(
    {".DS_Store", ".Spotlight-V100", ".Trashes", ".fseventsd", ".git", ".derived", "Thumbs.db", "desktop.ini"}
    | {"$RECYCLE.BIN", "System Volume Information", "__MACOSX"}
)
_CLUTTER_PREFIX = "._"  # the resource half that macOS writes beside a file on foreign disks
_OTHER_KINDS = (
    (stat.S_ISLNK, "it is a link, and links are not followed; name the file that it leads to"),
    (stat.S_ISFIFO, "it is a pipe, not a file"),
    (stat.S_ISSOCK, "it is a socket, not a file"),
    (stat.S_ISBLK, "it is a device, not a file"),
    (stat.S_ISCHR, "it is a device, not a file"),
)


class WalkedKind(StrEnum):
    """What came of one thing that was offered."""

    FILE = "file"
    REFUSED = "refused"


@dataclass(frozen=True, slots=True, kw_only=True)
class Walked:
    """One thing that was offered.

    Attributes:
        why: why it is refused, one sentence; empty for a file.
    """

    path: Path
    kind: WalkedKind
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CopiedIn:
    """An original as it now lies in the archive.

    Attributes:
        path: relative to the archive, with `/`.
        size: in bytes.
    """

    path: str
    sha256: str
    size: int


def walk(paths: Iterable[Path], *, archive: Path) -> Iterator[Walked]:
    """Go through everything that is offered in code-point order, each file once, and never follow a link.

    Inside a folder, what systems strew about (`.DS_Store`, `Thumbs.db`, `.git` and the like) is passed over; any other
    hidden file is named as refused, and is taken when it is itself named. Of the archive itself only `originals` is
    walked; a folder of finds that lies in the archive is walked when it is itself named.

    Args:
        paths: files and folders; what is found in a folder is named as that folder was.
        archive: the archive's folder.

    Raises:
        UsageRefusedError: nothing of such a name is there; raised before the first is walked.
    """
    named = [_Offered(path, _real(path), is_named=True) for path in paths]
    for offered in named:
        if not os.path.lexists(offered.path):
            raise UsageRefusedError(f"{offered.path} is not there", "name a file or a folder that is")
    return _walk_down(sorted(named, key=lambda offered: offered.real.parts), archive.resolve())


def registered_in_place(path: Path, folder: Path) -> tuple[str, str] | None:
    """Where a file already lies in `originals/<id>/`: the source's id, and the path relative to the archive.

    None when it lies anywhere else, deeper than that, or in a folder whose name is no id.
    """
    real, archive = _real(path), folder.resolve()
    parts = real.relative_to(archive).parts if real.is_relative_to(archive) else ()
    match parts:
        case (first, identity, _) if first == ORIGINALS and is_record_id(identity):
            return identity, "/".join(parts)
        case _:
            return None


def copy_in(path: Path, folder: Path, source_id: str, name: str, *, expected_sha256: str) -> CopiedIn:
    """Copy one file into `originals/<source_id>/`, flush it, read it back and compare.

    The same bytes already there (a copy that was finished but never registered) are taken as they are. The time of
    change goes with the copy.

    Args:
        path: the file as offered.
        folder: the archive's folder.
        source_id: of the source that it belongs to.
        name: as received; it is stored under `naming.stored_name`.
        expected_sha256: the digest that the id was made from.

    Raises:
        UnreadableOriginalError: the file cannot be read, or is not any more the one that was digested.
        WriteRefusedError: the disk refuses, or does not give back what was written.
    """
    place = folder / ORIGINALS / source_id
    clean_leftovers(place)
    stored = size = None
    while stored is None or size is None:
        with _opened(path) as original:
            size = os.fstat(original.fileno()).st_size
            stored = _present(place, expected_sha256, size)
            if stored is None:
                stored = stored_name(name, taken=_names(place))
                size = _copy(original, path, place / stored, folder, expected_sha256)
    return CopiedIn(path=str(PurePosixPath(ORIGINALS, source_id, stored)), sha256=expected_sha256, size=size)


class _Offered(NamedTuple):
    """Something to walk: as it is named, where it really lies, and whether it was itself named."""

    path: Path
    real: Path
    is_named: bool = False


def _real(path: Path) -> Path:
    """Follow the links on the way to a path, but not one that stands at its end."""
    return path.resolve() if path.name in {"", ".."} else path.parent.resolve() / path.name


def _walk_down(named: list[_Offered], archive: Path) -> Iterator[Walked]:
    waiting, walked = named[::-1], set[Path]()
    while waiting:
        offered = waiting.pop()
        try:
            status = offered.path.lstat()
            why = _why_refused(offered, status, archive)
            if why is None and stat.S_ISDIR(status.st_mode):
                waiting += reversed(_inside(offered, archive))
                continue
        except OSError as error:
            why = f"it cannot be looked at: {error.strerror}"
        if why is not None:
            yield Walked(path=offered.path, kind=WalkedKind.REFUSED, why=why)
        elif offered.real not in walked:
            walked.add(offered.real)
            yield Walked(path=offered.path, kind=WalkedKind.FILE)


def _inside(folder: _Offered, archive: Path) -> list[_Offered]:
    names = [name for name in sorted(entry.name for entry in folder.path.iterdir()) if not _is_clutter(name)]
    if folder.real == archive:
        names = [name for name in names if not (name in _RECORDS or name.startswith("."))]
    return [_Offered(folder.path / name, folder.real / name) for name in names]


def _is_clutter(name: str) -> bool:
    return name in _CLUTTER or name.startswith(_CLUTTER_PREFIX) or is_leftover(name)


def _why_refused(offered: _Offered, status: os.stat_result, archive: Path) -> str | None:
    """Why something is not taken in; None for a file that is, and for a folder that is walked."""
    for is_of_kind, why in _OTHER_KINDS:
        if is_of_kind(status.st_mode):
            return why
    if offered.path.name.startswith(".") and not offered.is_named:
        return "it is hidden (its name begins with a dot); name it to have it taken in"
    if offered.real.is_relative_to(archive) and offered.real != archive:
        first, *further = offered.real.relative_to(archive).parts
        is_arriving = (first, *further[:1]) == ARRIVING and offered.is_named
        if not is_arriving and (first in _RECORDS or first.startswith(".")):
            return "it is the archive's own, not a find"
        if offered.real.parent == archive and first != ORIGINALS and not offered.is_named:
            return f"it lies in the archive outside of {ORIGINALS}; name it to have it taken in"
    if _is_hollow(status, archive):
        return f"it claims {status.st_size:,} bytes, more than there is room for, and holds next to nothing"
    return None


def _is_hollow(status: os.stat_result, archive: Path) -> bool:
    """Whether a file is mostly holes and would not fit when written out: a trap, not an original."""
    filled = status.st_blocks * _BLOCK
    return status.st_size > 2 * filled + _PIECE and status.st_size > shutil.disk_usage(archive).free


def _opened(path: Path) -> FileIO:
    try:
        return FileIO(open_regular(path))
    except OSError as error:
        raise _unreadable(path, error) from error


def _unreadable(path: Path, error: OSError) -> UnreadableOriginalError:
    return UnreadableOriginalError(
        f"{path} cannot be read: {error.strerror}", "copy it from where it came once more, then ingest it again"
    )


def _names(place: Path) -> tuple[str, ...]:
    try:
        return tuple(sorted(entry.name for entry in place.iterdir()))
    except FileNotFoundError:
        return ()


def _present(place: Path, sha256: str, size: int) -> str | None:
    for name in _names(place):
        there = place / name
        with suppress(OSError):
            if not is_leftover(name) and there.lstat().st_size == size and sha256_of(there) == sha256:
                return name
    return None


def _copy(original: FileIO, path: Path, target: Path, folder: Path, expected_sha256: str) -> int | None:
    """Copy into place and return the size; None when somebody took the name meanwhile."""
    with staging(target, within=folder) as staged:
        size = _pour(original, path, staged, expected_sha256)
        times = os.fstat(original.fileno())
        os.utime(staged.descriptor, ns=(times.st_atime_ns, times.st_mtime_ns))
        staged.flush()
        if staged.digest_on_disk() != expected_sha256:
            raise WriteRefusedError(
                f"the disk does not give back what was written to {target}", "replace the disk before anything else"
            )
        try:
            staged.settle_as_new(target.name)
        except FileExistsError:
            return None
    return size


def _pour(original: FileIO, path: Path, staged: Staging, expected_sha256: str) -> int:
    digest, size = hashlib.sha256(), 0
    while piece := _read_piece(original, path):
        digest.update(piece)
        staged.write(piece)
        size += len(piece)
    if digest.hexdigest() != expected_sha256:
        raise UnreadableOriginalError(
            f"{path} was changed while it was being taken in", "wait until it is finished, then ingest it again"
        )
    return size


def _read_piece(original: FileIO, path: Path) -> bytes:
    try:
        return original.read(_PIECE)
    except OSError as error:
        raise _unreadable(path, error) from error
