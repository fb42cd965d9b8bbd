"""The folder of a child's temporary files: locked while anybody may still use it, and removed when nobody does.

The lock is the operating system's own, held by parent and child through one open folder, so that it ends with the last
of the two however they end. A folder whose lock is free was left by a run that was killed together with its children
(the power failed, the system ran out of memory); the next run removes it.
"""

import errno
import fcntl
import os
import shutil
import tempfile
import time
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

FULL_OR_SHUT = frozenset({errno.ENOSPC, errno.EDQUOT, errno.EROFS, errno.EACCES, errno.EPERM, errno.ENOENT})
"""What a system answers where no temporary files can be written."""

_PREFIX = "provenance-worker-"
_OPEN_FOLDER = os.O_RDONLY | os.O_DIRECTORY | os.O_NOFOLLOW | os.O_CLOEXEC
_SURELY_LOCKED_SECONDS = 60.0
"""A younger folder may have been made by somebody who is about to lock it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scratch:
    """A folder for temporary files.

    Attributes:
        lock: the open folder; whoever has it open keeps the folder from being removed as a leftover.
    """

    path: Path
    lock: int

    def remove(self) -> None:
        """Remove the folder with all that is in it, and let go of the lock."""
        shutil.rmtree(self.path, ignore_errors=True)
        os.close(self.lock)


def make_scratch() -> Scratch:
    """Make a folder and lock it.

    Raises:
        OSError: the disk of the temporary files is full, or may not be written.
    """
    path = Path(tempfile.mkdtemp(prefix=_PREFIX))
    lock = os.open(path, _OPEN_FOLDER)
    with suppress(OSError):  # a disk without locks: then nobody removes leftovers there either
        fcntl.flock(lock, fcntl.LOCK_EX)
    return Scratch(path=path, lock=lock)


def remove_leftovers() -> None:
    """Remove the folders of runs that were killed together with their children."""
    with suppress(OSError), os.scandir(tempfile.gettempdir()) as entries:
        for entry in entries:
            if entry.name.startswith(_PREFIX):
                _remove_unless_held(Path(entry.path))


def _remove_unless_held(folder: Path) -> None:
    try:
        lock = os.open(folder, _OPEN_FOLDER)
    except OSError:  # somebody else's
        return
    try:
        if time.time() - os.fstat(lock).st_mtime > _SURELY_LOCKED_SECONDS:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
            shutil.rmtree(folder, ignore_errors=True)
    except OSError:  # at work
        return
    finally:
        os.close(lock)


def bytes_under(folder: Path) -> int:
    """How much lies in a folder and the folders below it; what goes meanwhile is not counted."""
    total, waiting = 0, [str(folder)]
    while waiting:
        with suppress(OSError), os.scandir(waiting.pop()) as entries:
            for entry in entries:
                with suppress(OSError):
                    if entry.is_dir(follow_symlinks=False):
                        waiting.append(entry.path)
                    else:
                        total += entry.stat(follow_symlinks=False).st_size
    return total
