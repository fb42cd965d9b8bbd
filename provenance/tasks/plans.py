"""The steps that a plan of changes is made of, and what becomes of the archive when they are taken."""

import hashlib
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path, PurePosixPath
from typing import Any

from provenance.errors import Problem, UsageRefusedError, WriteRefusedError
from provenance.records.archive import Archive
from provenance.store.building import build_archive, build_record
from provenance.store.document import Document
from provenance.store.editing import Change, edit
from provenance.store.record_kinds import RecordKind, kind_of_file
from provenance.store.record_reading import read_record
from provenance.store.yaml_writing import record_text


@dataclass(frozen=True, slots=True, kw_only=True)
class NewRecord:
    """A record to be written as a new file; `fields` as in its schema, empty ones left out."""

    kind: RecordKind
    id: str
    fields: Mapping[str, object]

    @property
    def file(self) -> str:
        """Its file, relative to the archive."""
        return self.kind.file_of(self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordEdit:
    """Changes to a record that is there; `id` is not looked at for the archive's own record."""

    kind: RecordKind
    id: str
    changes: tuple[Change, ...]

    @property
    def file(self) -> str:
        """Its file, relative to the archive."""
        return self.kind.file_of(self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class NewText:
    """A text that is no record, such as a transcript, to be written as a new file, relative to the archive."""

    file: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ReplacedText:
    """A text that is no record, such as a transcript, written anew in place of what stands there."""

    file: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """A file that gets another name; it is written under the new one, and the old one goes when all else is written.

    Where a killed writer left the new file behind already, with just that in it, the rest is done.

    Attributes:
        file: where it stands, relative to the archive.
        new_file: where it is to stand; of a record in the same folder.
        changes: to the record on the way.
    """

    file: str
    new_file: str
    changes: tuple[Change, ...] = ()


Step = NewRecord | RecordEdit | NewText | ReplacedText | Move


@dataclass(frozen=True, slots=True, kw_only=True)
class Write:
    """One file to be written: its bytes (None: it goes), and the digest of what stood there (None: nothing)."""

    file: str
    data: bytes | None
    expected_sha256: str | None


class ChangedMeanwhileError(WriteRefusedError):
    """Somebody else wrote a record after the archive was read, so that the plan must be made anew."""


class Plan:
    """What becomes of the archive and its files, step by step.

    Attributes:
        after: the archive as it would be.
        writes: by file, in the order in which they are first written.
        gone: the files that go at the end, in the order in which their content was written elsewhere.
    """

    def __init__(self, folder: Path, archive: Archive, left_out: Collection[str] = ()) -> None:
        """Begin with the archive as it was read from its folder; `left_out` are files of records that it lacks."""
        self._folder = folder
        self._before = archive
        self._left_out = left_out
        self.after = archive
        self.writes: dict[str, Write] = {}
        self.gone: list[Write] = []

    @property
    def touched(self) -> set[str]:
        """The files that would be written."""
        return set(self.writes)

    def take(self, step: Step) -> None:
        """Take one more step.

        Raises:
            UsageRefusedError: a record would be unsound, or stand where one is already.
            WriteRefusedError: a file cannot be edited without touching the rest.
            ChangedMeanwhileError: the archive was read before somebody wrote the record.
        """
        match step:
            case NewRecord():
                self._write_new(step.file, record_text(step.kind, step.fields).encode())
            case NewText():
                self._write_new(step.file, step.text.encode())
            case ReplacedText():
                _, expected = self._standing(step.file)
                self._put(Write(file=step.file, data=step.text.encode(), expected_sha256=expected))
            case RecordEdit():
                self._edit(step)
            case Move():
                self._move(step)

    def _write_new(self, file: str, data: bytes) -> None:
        if file in self.writes or (self._folder / file).exists():
            if file not in self.writes:
                self._require_current(file, (self._folder / file).read_bytes())
            what = "a record" if kind_of_file(file) else "a file"
            raise UsageRefusedError(f"there is {what} {file} already", "give another id, or change what is there")
        self._put(Write(file=file, data=data, expected_sha256=None))

    def _edit(self, step: RecordEdit) -> None:
        data, expected = self._standing(step.file)
        self._put(Write(file=step.file, data=_edited(data, step.file, step.changes), expected_sha256=expected))

    def _move(self, step: Move) -> None:
        data, expected = self._standing(step.file)
        moved = _edited(data, step.file, step.changes) if step.changes else data
        new = self._folder / step.new_file
        if new.is_file() and new.read_bytes() == moved:
            self._settle(step.new_file, moved)
        else:
            self._write_new(step.new_file, moved)
        self.writes.pop(step.file, None)
        self.gone.append(Write(file=step.file, data=None, expected_sha256=expected))
        self.after = _with_record(self.after, step.file, None)

    def _standing(self, file: str) -> tuple[bytes, str | None]:
        """What the file says by now, and the digest of what it says on the disk."""
        earlier = self.writes.get(file)
        if earlier is not None and earlier.data is not None:
            return earlier.data, earlier.expected_sha256
        data = (self._folder / file).read_bytes()
        self._require_current(file, data)
        return data, hashlib.sha256(data).hexdigest()

    def _require_current(self, file: str, data: bytes) -> None:
        """Make sure that a record still says what it said when the archive was read."""
        kind = kind_of_file(file)
        if kind is None or kind is RecordKind.ARCHIVE or file in self._left_out:
            return
        record_id = PurePosixPath(file).stem
        document = read_record(data, file)
        now = build_record(kind, record_id, document.content) if isinstance(document, Document) else None
        if now != getattr(self._before, kind.folder).get(record_id):
            raise ChangedMeanwhileError(f"{file} was written by somebody else meanwhile", "run the command again")

    def _put(self, write: Write) -> None:
        self.writes[write.file] = write
        if write.data is not None:
            self._settle(write.file, write.data)

    def _settle(self, file: str, data: bytes) -> None:
        if kind_of_file(file) is not None:
            self.after = _with_record(self.after, file, _sound(file, data))


def _edited(data: bytes, file: str, changes: Sequence[Change]) -> bytes:
    text = data.decode("utf-8-sig")
    for each in changes:
        text = edit(text, file, each)
    return text.encode()


def _sound(file: str, data: bytes) -> Document:
    document = read_record(data, file)
    if isinstance(document, Document):
        return document
    raise refusal(document)


def _with_record(archive: Archive, file: str, document: Document | None) -> Archive:
    """The archive with what a file now says; None: without its record. A file of no record changes nothing."""
    kind = kind_of_file(file)
    if kind is None:
        return archive
    if kind is RecordKind.ARCHIVE and document is not None:
        return build_archive(
            document.content, {each: getattr(archive, each.folder) for each in RecordKind if each.folder}
        )
    record_id = PurePosixPath(file).stem
    records = dict(getattr(archive, kind.folder))
    if document is None:
        del records[record_id]
    else:
        records[record_id] = build_record(kind, record_id, document.content)
    changes: dict[str, Any] = {kind.folder: records}
    return replace(archive, **changes)


def refusal(problems: Sequence[Problem]) -> UsageRefusedError:
    """The refusal of what would bring faults into the records."""
    what = "; ".join(f"{problem.place.field or problem.place.file}: {problem.what}" for problem in problems)
    return UsageRefusedError(what, "; ".join(dict.fromkeys(problem.mend for problem in problems)))
