"""One writer at a time: the operating system's own lock on the archive.

A writer that is killed lets go at once, since the system holds the lock and not a file's presence. Reading needs none.
"""

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from filelock import FileLock, Timeout

from provenance.errors import WriteRefusedError
from provenance.store.originals import ORIGINALS
from provenance.store.record_kinds import RECORD_FOLDERS
from provenance.store.safe_writing import clean_leftovers
from provenance.store.staging import refused_cleanly
from provenance.store.transcripts import FOLDER as TRANSCRIPTS

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
        # Not after a failure: what could not be removed then is looked for by the next writer.
        with suppress(OSError):  # a mark that stays costs the next writer a look, no more
            (derived / "writing").unlink()
    finally:
        lock.release()


def is_unfinished(folder: Path) -> bool:
    """Whether a writer is at work, or was killed at it; taking the lock then removes what it left among the records."""
    return (folder / ".derived" / "writing").exists()


def _begin_writing(folder: Path, mark: Path) -> None:
    """Leave a mark that a writer is at work; one that is there already was left by a stopped one, with its files.

    Whoever begins an archive leaves no mark; so the archive's own folder, which holds little, is always looked at.
    """
    stopped = mark.exists()
    for each in (folder, *(_written_folders(folder) if stopped else ())):
        clean_leftovers(each)
    mark.touch()


def _written_folders(folder: Path) -> Iterator[Path]:
    """The folders of an archive in which something is written; one a source for originals and transcripts."""
    for name in (*RECORD_FOLDERS, ORIGINALS, TRANSCRIPTS):
        yield folder / name
    for name in (ORIGINALS, TRANSCRIPTS):
        with suppress(OSError), os.scandir(folder / name) as entries:
            yield from sorted(Path(entry) for entry in entries if entry.is_dir(follow_symlinks=False))
