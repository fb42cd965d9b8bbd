"""An archive's folder made one frozen value; a record that cannot be used is left out by name, never in silence."""

import hashlib
import os
from dataclasses import dataclass
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

__all__ = ["Loaded", "find_archive", "load", "locate", "locate_all", "read_record"]


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
    """

    archive: Archive
    problems: tuple[Problem, ...]
    left_out: tuple[str, ...]
    records: int
    files_checked: int
    archive_is_sound: bool


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


def load(folder: Path, *, keep: bool = True, unsound: bool = False) -> Loaded:
    """Read an archive.

    Args:
        folder: the one with archive.yaml in it.
        keep: whether what was read may be kept in `.derived`, to be quicker the next time.
        unsound: whether to go on where archive.yaml cannot be used, and name that among the problems.

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
        kept = KeptRecords(folder) if keep else None
        reading = _Reading(folder, kept)
        for record_file in listing.files:
            reading.take(record_file)
        if kept is not None:
            kept.save()
    return _loaded(folder, head or {}, faults, listing, reading)


class _Reading:
    """One reading of all records: what could be built, and what was wrong with the rest."""

    def __init__(self, folder: Path, kept: KeptRecords | None) -> None:
        self._prefix = f"{folder}{os.sep}"
        self._kept = kept
        self.records: dict[RecordKind, dict[str, Record]] = {kind: {} for kind in RecordKind}
        self.problems: list[Problem] = []
        self.left_out: list[str] = []

    def take(self, record_file: RecordFile) -> None:
        """Read one file, and build its record or name what is wrong."""
        try:
            written = read_bytes(self._prefix + record_file.file)
        except OSError as error:
            self._leave_out(record_file, (unreadable(record_file.file, error),))
            return
        content = self._content(record_file, written)
        if content is None:
            return
        misnamed = fault_of_pair_name(record_file, content)
        if misnamed is not None:
            self._leave_out(record_file, (misnamed,))
        else:
            record = build_record(record_file.kind, record_file.id, content)
            self.records[record_file.kind][record_file.id] = record

    def _content(self, record_file: RecordFile, written: bytes) -> dict[str, Value] | None:
        digest = hashlib.sha256(written).hexdigest() if self._kept else ""
        kept = self._kept.find(record_file.kind, digest) if self._kept else None
        if kept is not None:
            return kept
        document, faults = read_record_with_faults(written, record_file.file, record_file.kind)
        if document is None or faults:
            self._leave_out(record_file, faults)
            return None
        if self._kept is not None:
            self._kept.add(record_file.kind, digest, document.content)
        return document.content

    def _leave_out(self, record_file: RecordFile, faults: tuple[Problem, ...]) -> None:
        self.left_out.append(record_file.file)
        self.problems.extend(faults)


def _loaded(
    folder: Path, head: dict[str, Value], faults: tuple[Problem, ...], listing: Listing, reading: _Reading
) -> Loaded:
    left_out = [*listing.left_out, *reading.left_out]
    return Loaded(
        archive=build_archive({"title": folder.resolve().name} | head, reading.records),
        problems=sort_problems([*faults, *listing.problems, *reading.problems]),
        left_out=tuple(sorted(left_out if head else [ARCHIVE_FILE, *left_out])),
        records=sum(map(len, reading.records.values())) + bool(head),
        files_checked=len(listing.files) + 1,
        archive_is_sound=bool(head),
    )
