"""One writer at a time: the operating system's own lock on the archive.

A writer that is killed lets go at once, since the system holds the lock and not a file's presence. Reading needs none.
"""

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from filelock import FileLock, Timeout

from provenance.errors import WriteRefusedError
from provenance.store.record_kinds import RECORD_FOLDERS
from provenance.store.safe_writing import clean_leftovers
from provenance.store.staging import refused_cleanly

_POLL_SECONDS = 0.02


@contextmanager
def archive_lock(folder: Path, *, patience: float = 10.0) -> Iterator[None]:
    """Hold the archive for writing; what killed writers left among the records is removed first.

    Not to be asked for again by one who holds it.

    Args:
        folder: the archive's folder.
        patience: how many seconds to wait for another writer; 0 for not at all.

    Raises:
        WriteRefusedError: another writer still holds it then, or the lock cannot be made.
    """
    derived = folder / ".derived"
    lock = FileLock(derived / "lock", timeout=patience, poll_interval=_POLL_SECONDS)
    with refused_cleanly(derived / "lock"):
        derived.mkdir(exist_ok=True)
        try:
            lock.acquire()
        except Timeout as error:
            raise WriteRefusedError(
                f"another command is writing to {folder}, and did not end within {patience:g} seconds",
                "wait until it has ended, then run this again; one that was killed holds nothing",
            ) from error
    try:
        with refused_cleanly(derived / "writing"):
            _begin_writing(folder, derived / "writing")
        yield
    finally:
        with suppress(OSError):  # a mark that stays costs the next writer a look, no more
            (derived / "writing").unlink()
        lock.release()


def _begin_writing(folder: Path, mark: Path) -> None:
    """Leave a mark that a writer is at work; one that is there already was left by a killed one, with its files."""
    if mark.exists():
        for name in ("", *RECORD_FOLDERS):
            clean_leftovers(folder / name)
    mark.touch()
