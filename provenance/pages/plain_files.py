"""Opening a file that is there and is nothing but a file: a pipe would be waited for, a device never ends."""

import os
import stat
from io import BufferedReader
from pathlib import Path

from provenance.errors import UnreadableOriginalError


def open_plain(path: Path) -> BufferedReader:
    """Open a plain file for reading, without following a link and without waiting.

    Raises:
        UnreadableOriginalError: nothing is there, it is a link, a folder, a pipe, a socket or a device, or it may not
            be read.
    """
    try:
        _require_plain(path, path.lstat().st_mode)  # before opening, which alone can set a device to work
        descriptor = os.open(path, os.O_RDONLY | os.O_NONBLOCK | os.O_NOFOLLOW | os.O_CLOEXEC)
        file = open(descriptor, "rb")  # noqa: SIM115, PTH123  # closed by whoever asked for it
        _require_plain(path, os.fstat(descriptor).st_mode)  # it may have been put in its place meanwhile
    except FileNotFoundError as error:
        raise UnreadableOriginalError(f"{path.name} is not here", "fetch it, or correct its path") from error
    except OSError as error:
        raise UnreadableOriginalError(
            f"{path.name} cannot be opened: {error.strerror}", "see to its permissions"
        ) from error
    return file


def require_plain(path: Path) -> None:
    """Make sure that a path can be opened by its name: that it is there, and is a plain file.

    Raises:
        UnreadableOriginalError: as `open_plain`.
    """
    open_plain(path).close()


def size_of(file: BufferedReader) -> int:
    """Give the size of an open file in bytes."""
    return os.fstat(file.fileno()).st_size


def _require_plain(path: Path, mode: int) -> None:
    if stat.S_ISLNK(mode):
        raise UnreadableOriginalError(f"{path.name} is a link, not the file itself", "hand in the file itself")
    if not stat.S_ISREG(mode):
        raise UnreadableOriginalError(f"{path.name} is not a plain file", "hand in the file itself")
