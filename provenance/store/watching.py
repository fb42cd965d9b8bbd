"""What tells whether any file of an archive may have changed since it was last looked at."""

import hashlib
import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from provenance.store.readings_store import READINGS
from provenance.store.record_kinds import RECORD_FOLDERS

_WATCHED = (*RECORD_FOLDERS, "transcripts")
_ALONE = ("archive.yaml", ".provenance.local.yaml")


@dataclass(frozen=True, slots=True)
class ArchiveState:
    """What the files of an archive sum up to; equal while nothing changed.

    Attributes:
        records: of all that people write: records, settings and transcripts.
        readings: of what machines have read on the pages.
    """

    records: str
    readings: str


def state_of(folder: Path) -> ArchiveState:
    """Sum up names, sizes, times and inodes of the files that answers are made from.

    The system sets the time of a file's last change of whatever kind (`ctime`) by itself, so that a file which is
    written again in the same size, with its old date put back, is noticed too. Of the readings only the folders are
    looked at, one for an original: a reading is put into its place whole, and whatever comes into a folder or goes
    out of it changes the folder's own times. Originals are not looked at, for they never change; the search index is
    not either, for it is made from what is looked at, and one that is open goes on answering as it was.
    """
    return ArchiveState(_summed(_of_records(folder)), _summed(_of_readings(folder)))


def _summed(told: Iterator[tuple[str, os.stat_result]]) -> str:
    lines = [f"{path}\0{at.st_size}\0{at.st_mtime_ns}\0{at.st_ctime_ns}\0{at.st_ino}" for path, at in told]
    return hashlib.sha256("\n".join(sorted(lines)).encode("utf-8", "surrogatepass")).hexdigest()


def _of_records(folder: Path) -> Iterator[tuple[str, os.stat_result]]:
    for name in _ALONE:
        path = folder / name
        try:
            yield str(path), path.lstat()
        except OSError:
            continue
    waiting = [str(folder / name) for name in _WATCHED]
    while waiting:
        for entry, told in _inside(waiting.pop()):
            if entry.is_dir(follow_symlinks=False):
                waiting.append(entry.path)
            else:
                yield entry.path, told


def _of_readings(folder: Path) -> Iterator[tuple[str, os.stat_result]]:
    for entry, told in _inside(str(folder / READINGS)):
        yield entry.name, told


def _inside(folder: str) -> Iterator[tuple["os.DirEntry[str]", os.stat_result]]:
    try:
        with os.scandir(folder) as entries:
            for entry in entries:
                try:
                    yield entry, entry.stat(follow_symlinks=False)
                except OSError:
                    continue  # it has just gone
    except OSError:
        return  # a folder that is not there holds nothing
