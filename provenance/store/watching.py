"""What tells whether any file of an archive may have changed since it was last looked at."""

import hashlib
import os
from pathlib import Path

from provenance.store.record_kinds import RECORD_FOLDERS

_WATCHED = (*RECORD_FOLDERS, "transcripts")
_ALONE = ("archive.yaml", ".provenance.local.yaml")


def state_of(folder: Path) -> str:
    """Sum up names, sizes, times and inodes of the files that answers are made from; equal while nothing changed.

    The system sets the time of a file's last change of whatever kind (`ctime`) by itself, so that a file which is
    written again in the same size, with its old date put back, is noticed too. Originals and readings are not looked
    at: an original never changes, and what was read is looked up page by page.
    """
    sums = hashlib.sha256()
    for name in _ALONE:
        _add(sums, folder / name)
    for name in _WATCHED:
        for path in sorted(_files_below(folder / name)):
            _add(sums, path)
    return sums.hexdigest()


def _files_below(folder: Path) -> list[Path]:
    found: list[Path] = []
    waiting = [folder]
    while waiting:
        try:
            with os.scandir(waiting.pop()) as entries:
                for entry in entries:
                    (waiting if entry.is_dir(follow_symlinks=False) else found).append(Path(entry.path))
        except OSError:
            continue  # a folder that is not there, or has just gone, holds nothing
    return found


def _add(sums: "hashlib._Hash", path: Path) -> None:
    try:
        told = path.lstat()
    except OSError:
        return
    facts = (str(path), told.st_size, told.st_mtime_ns, told.st_ctime_ns, told.st_ino)
    sums.update(repr(facts).encode("utf-8", "surrogatepass"))
