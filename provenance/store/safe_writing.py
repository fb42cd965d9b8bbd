"""Writing a file in one step: at any moment the old file or the new one stands there, never half of one.

The new bytes go to a file of their own beside the place, are flushed to the disk, and then take the name in one step
of the file system; last the folder is flushed, so that the name survives a power cut too. Nothing is written through
a symbolic link below the archive's folder, or outside it.

A writer that is killed can leave its unfinished file behind. The name of such a leftover begins with a dot and a fixed
word, so nothing takes it for a record, and the next writer removes it. A writer that is still at work holds a lock of
the operating system on its unfinished file: that is how the two are told apart.
"""

import fcntl
import hashlib
import os
from pathlib import Path

from provenance.errors import WriteRefusedError
from provenance.store.staging import gone, is_leftover, leftover_name, refused_cleanly, staging, take_away


def write_new(path: Path, data: bytes, *, within: Path) -> None:
    """Write a file that is not there yet; the folders that it needs are made.

    Args:
        path: where, inside `within`.
        data: the whole file.
        within: the archive's folder.

    Raises:
        WriteRefusedError: something stands there already, the place is outside or behind a link, or the disk refuses.
    """
    with staging(path, within=within) as staged:
        staged.write(data)
        staged.flush()
        try:
            staged.settle_as_new(path.name)
        except FileExistsError as error:
            raise WriteRefusedError(
                f"{path} is there already; nothing was written", "choose another id, or change the file that is there"
            ) from error


def replace(path: Path, data: bytes, *, expected_sha256: str, within: Path) -> None:
    """Put new bytes in the place of a file, provided that it is still the one that was read.

    Between the comparison and the replacing somebody else may write, unless all writers hold the archive's lock.

    Args:
        path: which file, inside `within`.
        data: the whole new file.
        expected_sha256: of the bytes that were read; 64 hexadecimal digits.
        within: the archive's folder.

    Raises:
        WriteRefusedError: the file has changed or gone since, is outside or behind a link, or the disk refuses.
    """
    with staging(path, within=within, make_folders=False) as staged:
        staged.write(data)
        staged.flush()
        try:
            present = staged.read_present(path.name)
        except FileNotFoundError as error:
            raise gone(path) from error
        if _digest(present) != expected_sha256:
            raise WriteRefusedError(
                f"{path} has changed since it was read; nothing was written",
                "run the command again on what is there now",
            )
        staged.settle_over(path.name)


def remove_moved(path: Path, *, expected_sha256: str, within: Path) -> None:
    """Take away the old file of something that was written whole under another name.

    Args:
        path: which file, inside `within`.
        expected_sha256: of the bytes that were written elsewhere.
        within: the archive's folder.

    Raises:
        WriteRefusedError: the file has changed or gone since, is outside or behind a link, or the disk refuses.
    """
    if not take_away(path, within=within, is_meant=lambda present: _digest(present) == expected_sha256):
        raise WriteRefusedError(
            f"{path} has changed since it was read; it stays as it is",
            "see which of the two files is right, and take the other one away",
        )


def _digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def put_derived(path: Path, data: bytes) -> None:
    """Write or replace a file of derived data in one step, without waiting for the disk.

    After a power cut it may be damaged: whoever reads derived data must be able to tell, and make it again.

    Raises:
        WriteRefusedError: the disk refuses.
    """
    unfinished = path.with_name(leftover_name())
    with refused_cleanly(path):
        try:
            try:
                unfinished.write_bytes(data)
            except FileNotFoundError:
                path.parent.mkdir(parents=True, exist_ok=True)
                unfinished.write_bytes(data)
            unfinished.replace(path)
        except BaseException:
            unfinished.unlink(missing_ok=True)
            raise


def clean_leftovers(folder: Path) -> tuple[str, ...]:
    """Remove what killed writers left in one folder, and name it; what a writer still works on stays.

    A folder that is not there, or may not be changed, has nothing removed.
    """
    try:
        with os.scandir(folder) as entries:
            leftovers = sorted(entry.name for entry in entries if is_leftover(entry.name))
    except OSError:
        return ()
    return tuple(name for name in leftovers if _remove_unless_held(folder / name))


def _remove_unless_held(leftover: Path) -> bool:
    try:
        descriptor = os.open(leftover, os.O_RDWR | os.O_NOFOLLOW | os.O_NONBLOCK | os.O_CLOEXEC)
    except OSError:
        return False
    try:
        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
        leftover.unlink()
    except OSError:
        return False
    else:
        return True
    finally:
        os.close(descriptor)
