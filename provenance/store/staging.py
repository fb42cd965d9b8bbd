"""An unfinished file beside the place where it will stand: written, flushed, then named in one step.

Nothing is written through a symbolic link below the archive's folder, or outside it: the way down is opened folder by
folder, and each step is taken relative to the folder that is open.
"""

import errno
import fcntl
import hashlib
import os
import secrets
import stat
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from provenance.errors import WriteRefusedError

_LEFTOVER_PREFIX = ".provenance-writing-"
_OPEN_FOLDER = os.O_RDONLY | os.O_DIRECTORY | os.O_NOFOLLOW | os.O_CLOEXEC
# What file systems answer that have no second names for a file (FAT, exFAT and many network shares).
_NO_SECOND_NAMES = frozenset({errno.EPERM, errno.ENOTSUP, errno.EOPNOTSUPP, errno.ENOSYS, errno.EMLINK})
# What file systems answer that cannot flush a folder: there is nothing more to be done there.
_NO_FOLDER_FLUSH = frozenset({errno.EINVAL, errno.ENOTSUP, errno.EOPNOTSUPP})
_MENDS = {
    errno.ENOSPC: "the disk is full: make room on it, then run the command again",
    errno.EDQUOT: "your share of the disk is used up: make room, then run the command again",
    errno.EFBIG: "the file is larger than this disk or the limits set here allow; use another disk, then run it again",
    errno.EROFS: "the disk is mounted read-only: mount it for writing, then run the command again",
    errno.EACCES: "you may not write there: ask the owner of the folder, or work on a copy that is your own",
    errno.EPERM: "you may not write there: ask the owner of the folder, or work on a copy that is your own",
    errno.EIO: "the disk reports a fault: save what is on it to another disk before anything else",
    errno.ELOOP: "put the file itself in the place of the link",
    errno.ENAMETOOLONG: "choose a shorter name",
}


class Staging:
    """A file that is being written beside the place where it will stand.

    Attributes:
        descriptor: the open unfinished file, for writing and reading.
        name: its name in the folder while it is unfinished.
    """

    __slots__ = ("_folder", "_path", "_settled", "descriptor", "name")

    def __init__(self, folder: int, path: Path) -> None:
        """Begin an unfinished file in the folder that is open as `folder`; it is to stand at `path`."""
        self._folder = folder
        self._path = path
        self._settled = False
        self.name, self.descriptor = _begin(folder)

    def write(self, data: bytes) -> None:
        """Add bytes to the unfinished file."""
        rest = memoryview(data)
        while rest:
            rest = rest[os.write(self.descriptor, rest) :]

    def flush(self) -> None:
        """Bring what was written to the disk itself."""
        os.fsync(self.descriptor)
        whole_way = getattr(fcntl, "F_FULLFSYNC", None)
        if whole_way is not None:  # macOS: fsync alone stops at the drive's own memory
            fcntl.fcntl(self.descriptor, whole_way)

    def digest_on_disk(self) -> str:
        """Read the flushed file back, from the disk and not from memory where the system allows; its SHA-256."""
        if hasattr(os, "posix_fadvise"):
            os.posix_fadvise(self.descriptor, 0, 0, os.POSIX_FADV_DONTNEED)
        os.lseek(self.descriptor, 0, os.SEEK_SET)
        with os.fdopen(os.dup(self.descriptor), "rb") as written:
            return hashlib.file_digest(written, "sha256").hexdigest()

    def settle_as_new(self, name: str) -> None:
        """Give the finished file its name.

        Raises:
            FileExistsError: the name is taken; what stands there is untouched.
        """
        try:
            os.link(self.name, name, src_dir_fd=self._folder, dst_dir_fd=self._folder, follow_symlinks=False)
        except OSError as error:
            if error.errno not in _NO_SECOND_NAMES:
                raise
            self._rename_as_new(name)
            self._confirm()
        else:
            self._settled = True
            self._confirm(spare=self.name)

    def settle_over(self, name: str) -> None:
        """Put the finished file in the place of the one of that name, with that one's permissions."""
        permissions = stat.S_IMODE(os.stat(name, dir_fd=self._folder, follow_symlinks=False).st_mode)
        os.fchmod(self.descriptor, permissions)
        os.replace(self.name, name, src_dir_fd=self._folder, dst_dir_fd=self._folder)
        self._settled = True
        self._confirm()

    def read_present(self, name: str) -> bytes:
        """Read what stands in the folder under that name, following no link.

        Raises:
            OSError: nothing does, or it is a link.
        """
        return _read_present(self._folder, name)

    def close(self) -> None:
        """Let go of the file; when it got no name of its own, remove it."""
        if not self._settled:
            with suppress(OSError):
                os.unlink(self.name, dir_fd=self._folder)
        os.close(self.descriptor)

    def _rename_as_new(self, name: str) -> None:
        with suppress(FileNotFoundError):
            os.stat(name, dir_fd=self._folder, follow_symlinks=False)
            raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), name)
        os.rename(self.name, name, src_dir_fd=self._folder, dst_dir_fd=self._folder)
        self._settled = True

    def _confirm(self, *, spare: str | None = None) -> None:
        """Bring the new name to the disk itself; a spare second name that the file still has goes first."""
        with _confirmed(self._path, "written whole"):
            if spare is not None:
                os.unlink(spare, dir_fd=self._folder)
            _flush_folder(self._folder)


@contextmanager
def _confirmed(path: Path, done: str) -> Iterator[None]:
    """Say what was done to a file where the disk does not confirm it."""
    try:
        yield
    except OSError as error:
        raise WriteRefusedError(
            f"{path} was {done}, but the disk did not confirm it: {error.strerror}",
            "look after the disk; then see whether the file is as you want it, and if not, run the command again",
        ) from error


def _read_present(folder: int, name: str) -> bytes:
    descriptor = os.open(name, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK | os.O_CLOEXEC, dir_fd=folder)
    with os.fdopen(descriptor, "rb") as present:
        return present.read()


def take_away(path: Path, *, within: Path, is_meant: Callable[[bytes], bool]) -> bool:
    """Take a file away, provided that its bytes are those that are meant; whether they were.

    Args:
        path: which file, inside `within`; a link is not followed.
        within: the archive's folder.
        is_meant: told the bytes that stand there.

    Raises:
        WriteRefusedError: it has gone, is outside or behind a link, or the disk refuses.
    """
    with refused_cleanly(path), _opened_folder(path, within=within, make_folders=False) as folder:
        try:
            present = _read_present(folder, path.name)
        except FileNotFoundError as error:
            raise gone(path) from error
        if not is_meant(present):
            return False
        os.unlink(path.name, dir_fd=folder)
        with _confirmed(path, "taken away"):
            _flush_folder(folder)
    return True


def _flush_folder(folder: int) -> None:
    """Bring the names in an open folder to the disk itself, where the file system can do that."""
    try:
        os.fsync(folder)
    except OSError as error:
        if error.errno not in _NO_FOLDER_FLUSH:
            raise


def make_folders(path: Path) -> None:
    """Make a folder, and those above it that are missing; each is brought to the disk in the one above it.

    Raises:
        OSError: one cannot be made or flushed.
    """
    missing = [each for each in (path, *path.parents) if not each.is_dir()]
    for each in reversed(missing):
        each.mkdir(exist_ok=True)
        above = os.open(each.parent, os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC)
        try:
            _flush_folder(above)
        finally:
            os.close(above)


@contextmanager
def staging(path: Path, *, within: Path, make_folders: bool = True) -> Iterator[Staging]:
    """Write a file beside the place where it will stand; it is removed unless it is settled.

    Args:
        path: where it will stand, inside `within`.
        within: the archive's folder.
        make_folders: whether missing folders on the way are made.

    Raises:
        WriteRefusedError: the place is outside or behind a link, or the disk refuses.
    """
    with refused_cleanly(path), _opened_folder(path, within=within, make_folders=make_folders) as folder:
        staged = Staging(folder, path)
        try:
            yield staged
        finally:
            staged.close()


@contextmanager
def refused_cleanly(path: Path) -> Iterator[None]:
    """Turn what the operating system says into a refusal that names the file and the mend.

    Raises:
        WriteRefusedError: in the place of an OSError.
    """
    try:
        yield
    except OSError as error:
        mend = _MENDS.get(error.errno or 0, "put right what the system says, then run the command again")
        raise WriteRefusedError(f"{path} cannot be written: {error.strerror or error}", mend) from error


@contextmanager
def _opened_folder(path: Path, *, within: Path, make_folders: bool) -> Iterator[int]:
    """Open the folder of `path`, going down from `within` step by step, so that no link on the way is followed."""
    descriptor = os.open(within, os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC)
    try:
        for part in _steps_down(path, within):
            below = _open_below(descriptor, part, path, make=make_folders)
            os.close(descriptor)
            descriptor = below
        yield descriptor
    finally:
        os.close(descriptor)


def _steps_down(path: Path, within: Path) -> tuple[str, ...]:
    try:
        steps = path.absolute().relative_to(within.absolute()).parts
    except ValueError:
        steps = ("..",)
    if not steps or ".." in steps:
        raise WriteRefusedError(
            f"{path} is outside of the archive {within}; nothing was written", "name a place inside of the archive"
        )
    return steps[:-1]


def _open_below(folder: int, part: str, path: Path, *, make: bool) -> int:
    try:
        return os.open(part, _OPEN_FOLDER, dir_fd=folder)
    except FileNotFoundError as error:
        if not make:
            raise gone(path) from error
    except NotADirectoryError as error:
        raise WriteRefusedError(
            f"{path} cannot be written: {part} is a link or a file, not a folder of the archive",
            "put the folder itself in the place of the link",
        ) from error
    with suppress(FileExistsError):
        os.mkdir(part, dir_fd=folder)
        _flush_folder(folder)
    return os.open(part, _OPEN_FOLDER, dir_fd=folder)


def gone(path: Path) -> WriteRefusedError:
    """The refusal for a file, or its folder, that was there and is not any more."""
    return WriteRefusedError(
        f"{path} is no longer there; nothing was written",
        "bring the file back if it should be there, or run again without it",
    )


def leftover_name() -> str:
    """Make a name for an unfinished file: one that nothing takes for a record."""
    return _LEFTOVER_PREFIX + secrets.token_hex(8)


def is_leftover(name: str) -> bool:
    """Whether a file of that name is the unfinished file of a writer, at work or killed."""
    return name.startswith(_LEFTOVER_PREFIX)


def _begin(folder: int) -> tuple[str, int]:
    flags = os.O_RDWR | os.O_CREAT | os.O_EXCL | os.O_NOFOLLOW | os.O_CLOEXEC
    while True:
        name = leftover_name()
        descriptor = os.open(name, flags, 0o666, dir_fd=folder)
        with suppress(OSError):  # a disk without locks: then nobody removes leftovers there
            fcntl.flock(descriptor, fcntl.LOCK_EX)
        if os.fstat(descriptor).st_nlink:
            return name, descriptor
        os.close(descriptor)  # taken for a leftover and removed before the lock was held
