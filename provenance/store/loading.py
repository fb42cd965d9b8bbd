"""An archive's folder made one frozen value; a record that cannot be used is left out by name, never in silence."""

import hashlib
import os
import time
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from provenance.errors import ArchiveNotFoundError, Problem, sort_problems
from provenance.records.archive import Archive
from provenance.records.uninterrupted import uninterrupted
from provenance.store.archive_file import read_archive_file, refusal
from provenance.store.building import Record, build_archive, build_record
from provenance.store.document import Value
from provenance.store.kept_records import KeptRecords
from provenance.store.locating import locate, locate_all
from provenance.store.record_files import (
    Listing,
    RecordFile,
    fault_of_pair_name,
    list_record_files,
    read_bytes,
    unreadable,
)
from provenance.store.record_kinds import ARCHIVE_FILE, RecordKind
from provenance.store.record_reading import read_record, read_record_with_faults

__all__ = ["FileRead", "Loaded", "find_archive", "load", "locate", "locate_all", "read_record"]

TOO_YOUNG = 2_000_000_000
"""In nanoseconds: a file written so shortly before it was read may be written again without a later time of change.

File systems count in steps of up to two seconds (FAT; from memory); such a file is read the next time
too, whatever the system says of it.
"""


@dataclass(frozen=True, slots=True)
class FileRead:
    """What came of reading the file of one record.

    Attributes:
        facts: what the system said of the file just before it was read; None where a later state of it may be told by
            the same facts.
        digest: the SHA-256 of its bytes.
        record: None where it cannot be used.
        problems: what is wrong with it; empty where it can be used.
    """

    facts: tuple[int, ...] | None
    digest: str
    record: Record | None
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Loaded:
    """What was read of an archive.

    Attributes:
        archive: every record that can be used.
        problems: everything that is wrong with the files, in order of file and line.
        left_out: the files whose record cannot be used, in order.
        records: how many records can be used, archive.yaml among them.
        files_checked: how many files of records there are, archive.yaml among them.
        archive_is_sound: whether archive.yaml can be used; else `archive` has the records alone, and comparing them
            with people, production and the like makes no sense.
        files: what came of each file of a record that could be read, by its path relative to the archive; a later
            loading spares those that did not change.
        head: what archive.yaml says; empty where it cannot be used.
    """

    archive: Archive
    problems: tuple[Problem, ...]
    left_out: tuple[str, ...]
    records: int
    files_checked: int
    archive_is_sound: bool
    files: Mapping[str, FileRead] = field(default_factory=dict, repr=False, compare=False)
    head: Mapping[str, Value] = field(default_factory=dict, repr=False, compare=False)


def find_archive(start: Path) -> Path:
    """Find the archive that a place lies in: the nearest folder, from there upwards, with an archive.yaml.

    Raises:
        ArchiveNotFoundError: there is none.
    """
    place = start.resolve()
    for folder in (place, *place.parents):
        if os.path.lexists(folder / ARCHIVE_FILE):
            return folder
    raise ArchiveNotFoundError(
        f"there is no archive.yaml in {place} or in any folder above it",
        "go to the archive's folder, name it with --archive, or begin one with `provenance new`",
    )


def load(folder: Path, *, keep: bool = True, unsound: bool = False, earlier: Loaded | None = None) -> Loaded:
    """Read an archive.

    Args:
        folder: the one with archive.yaml in it.
        keep: whether what was read may be kept in `.derived`, to be quicker the next time.
        unsound: whether to go on where archive.yaml cannot be used, and name that among the problems.
        earlier: what was read of the same folder before; only what changed since is read, and what comes back is the
            same as without. Records, and the archive where no record changed, are the very same values.

    Raises:
        ArchiveNotFoundError: there is no archive.yaml.
        NewerFormatError: a later version of this tool wrote the archive, and not `unsound`.
        ArchiveError: archive.yaml cannot be used, and not `unsound`; its `problems` say why.
    """
    head, faults = read_archive_file(folder)
    if head is None and not unsound:
        raise refusal(faults)
    with uninterrupted():
        listing = list_record_files(folder)
        # Where most is known already, reading what is kept would take longer than reading what changed.
        kept = KeptRecords(folder) if keep and earlier is None else None
        reading = _Reading(folder, kept, earlier)
        for record_file in listing.files:
            reading.take(record_file)
        if kept is not None:
            kept.save()
        return _loaded(head or {}, faults, listing, reading)


class _Reading:
    """One reading of all records: what could be built, and what was wrong with the rest."""

    def __init__(self, folder: Path, kept: KeptRecords | None, earlier: Loaded | None = None) -> None:
        self._folder = folder
        self._prefix = f"{folder}{os.sep}"
        self._kept = kept
        self._earlier = earlier
        self._known = earlier.files if earlier is not None else {}
        self._began = time.time_ns()
        self.files: dict[str, FileRead] = {}
        self.records: dict[RecordKind, dict[str, Record]] = {kind: {} for kind in RecordKind}
        self.problems: list[Problem] = []
        self.left_out: list[str] = []

    def archive(self, head: Mapping[str, Value]) -> Archive:
        """The archive of what was read; the earlier one where archive.yaml and all records are the same."""
        earlier = self._earlier
        if earlier is not None and earlier.head == head and _are_same(earlier.files, self.files):
            return earlier.archive
        return build_archive({"title": self._folder.resolve().name, **head}, self.records)

    def take(self, record_file: RecordFile) -> None:
        """Read one file, and build its record or name what is wrong; what is known of it is not done again."""
        known = self._known.get(record_file.file)
        try:
            # Before the bytes: facts that are older than what is read only have it read once more.
            facts = _facts_of(self._prefix + record_file.file)
            read = known if known is not None and known.facts == facts else self._read(record_file, facts, known)
        except OSError as error:
            self._leave_out(record_file, (unreadable(record_file.file, error),))
            return
        self.files[record_file.file] = read
        if read.record is None:
            self._leave_out(record_file, read.problems)
        else:
            self.records[record_file.kind][record_file.id] = read.record

    def _read(self, record_file: RecordFile, facts: tuple[int, ...], known: FileRead | None) -> FileRead:
        written = read_bytes(self._prefix + record_file.file)
        digest = hashlib.sha256(written).hexdigest()
        told = facts if facts[0] < self._began - TOO_YOUNG else None
        if known is not None and known.digest == digest:
            return replace(known, facts=told)
        content, faults = self._content(record_file, written, digest)
        misnamed = fault_of_pair_name(record_file, content) if content is not None else None
        if content is None or misnamed is not None:
            return FileRead(told, digest, None, (misnamed,) if misnamed is not None else faults)
        record = build_record(record_file.kind, record_file.id, content)
        is_same = known is not None and known.record == record  # a comment changed, or the order of fields
        return FileRead(told, digest, known.record if known is not None and is_same else record)

    def _content(
        self, record_file: RecordFile, written: bytes, digest: str
    ) -> tuple[dict[str, Value] | None, tuple[Problem, ...]]:
        kept = self._kept.find(record_file.kind, digest) if self._kept else None
        if kept is not None:
            return kept, ()
        document, faults = read_record_with_faults(written, record_file.file, record_file.kind)
        if document is None or faults:
            return None, faults
        if self._kept is not None:
            self._kept.add(record_file.kind, digest, document.content)
        return document.content, ()

    def _leave_out(self, record_file: RecordFile, faults: tuple[Problem, ...]) -> None:
        self.left_out.append(record_file.file)
        self.problems.extend(faults)


def _facts_of(path: str) -> tuple[int, ...]:
    """What the system says of a file, the time of its last change of whatever kind first, which it sets by itself.

    Raises:
        OSError: it has gone, or may not be looked at.
    """
    told = os.lstat(path)
    return told.st_ctime_ns, told.st_mtime_ns, told.st_size, told.st_ino, told.st_dev, told.st_mode


def _loaded(head: dict[str, Value], faults: tuple[Problem, ...], listing: Listing, reading: _Reading) -> Loaded:
    left_out = [*listing.left_out, *reading.left_out]
    return Loaded(
        archive=reading.archive(head),
        problems=sort_problems([*faults, *listing.problems, *reading.problems]),
        left_out=tuple(sorted(left_out if head else [ARCHIVE_FILE, *left_out])),
        records=sum(map(len, reading.records.values())) + bool(head),
        files_checked=len(listing.files) + 1,
        archive_is_sound=bool(head),
        files=reading.files,
        head=head,
    )


def _are_same(before: Mapping[str, FileRead], now: Mapping[str, FileRead]) -> bool:
    """Whether the files hold the very same records, in the same order."""
    return len(before) == len(now) and all(
        one == other and before[one].record is now[other].record for one, other in zip(before, now, strict=True)
    )
