"""Files that nobody could open when they came in, looked at once more when they are handed in again.

A later version may open what an earlier one could not, and a file may have been given up because the machine was busy.
"""

from collections.abc import Container, Iterator, Mapping, Sequence
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from provenance.pages.identifying import OriginalFacts
from provenance.pages.signatures import PAGED_TYPES
from provenance.records.archive import Archive
from provenance.records.sources import Source
from provenance.store.editing import AddKey, Change, SetScalar, edit_file
from provenance.store.fixity import sha256_of
from provenance.store.locking import archive_lock
from provenance.store.record_kinds import RecordKind
from provenance.tasks.identifying_files import identified
from provenance.tasks.opening import Opened
from provenance.tasks.registering import UNKNOWN_MEDIA_TYPE


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownNow:
    """What a file turned out to be.

    Attributes:
        written: the record file that says so now.
        why: for people: what it is, and how many pages it has.
    """

    written: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _Unopened:
    """A file of a source of which the pages are not known: its place among the files, counted from 0."""

    source: str
    place: int
    sha256: str
    media_type: str


def look_again(opened: Opened, digests: Container[str]) -> Mapping[str, KnownNow]:
    """Look once more at each file of these digests whose pages are not known, and enter what it is in its record.

    Pages run on over the files of a source, so a file before others that have pages is left as it is: what is cited of
    those would then be on another page.

    Returns:
        By digest; only what is known now and was not before.

    Raises:
        WriteRefusedError: a record cannot be written.
    """
    unopened = {opened.folder / path: found for path, found in _unopened(opened.archive, digests)}
    known = {}
    with closing(identified([path for path in unopened if path.is_file()])) as outcomes:
        for outcome in outcomes:
            found, facts = unopened[outcome.job], outcome.value
            if facts is not None and (changes := _changes(found, facts)):
                known[found.sha256] = _enter(opened.folder, found, facts, changes)
    return known


def _unopened(archive: Archive, digests: Container[str]) -> Iterator[tuple[Path, _Unopened]]:
    for source in archive.sources.values():
        for place, file in enumerate(source.files):
            is_unknown = file.media_type == UNKNOWN_MEDIA_TYPE or file.media_type in PAGED_TYPES
            if file.sha256 in digests and file.pages is None and is_unknown and _is_before_no_pages(source, place):
                yield (
                    Path(file.path),
                    _Unopened(source=source.id, place=place, sha256=file.sha256, media_type=file.media_type),
                )


def _is_before_no_pages(source: Source, place: int) -> bool:
    return not any(file.pages for file in source.files[place + 1 :])


def _changes(found: _Unopened, facts: OriginalFacts) -> Sequence[Change]:
    of_file = ("files", found.place)
    changes: list[Change] = []
    if facts.media_type != found.media_type:
        changes.append(SetScalar((*of_file, "media_type"), facts.media_type))
    if facts.pages is not None:
        changes.append(AddKey(of_file, "pages", facts.pages))
    return changes


def _enter(folder: Path, found: _Unopened, facts: OriginalFacts, changes: Sequence[Change]) -> KnownNow:
    written = RecordKind.SOURCE.file_of(found.source)
    record = folder / written
    with archive_lock(folder):
        edit_file(record, changes, expected_sha256=sha256_of(record), within=folder)
    pages = {None: "", 1: " of one page"}.get(facts.pages, f" of {facts.pages} pages")
    note = f"; {facts.note}" if facts.note else ""
    return KnownNow(written=written, why=f"it can be opened now: {facts.media_type}{pages}{note}")
