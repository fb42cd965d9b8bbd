"""Change records: a plan is made, looked at as if it were done, and only then written, step by step.

Every writing command goes this way. A plan that would leave a record unsound, or one that names something that is not
there, is refused before anything is written. Steps are ordered so that every prefix of them is a sound archive. Where
somebody else changed one of the files meanwhile, the plan is made anew from what stands there now.
"""

import hashlib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from provenance.errors import Problem, UsageRefusedError, WriteRefusedError
from provenance.records.archive import Archive
from provenance.rules.checks import check_records
from provenance.store.building import build_archive, build_record
from provenance.store.document import Document
from provenance.store.editing import Change, edit
from provenance.store.fixity import sha256_of
from provenance.store.locking import archive_lock
from provenance.store.record_kinds import RecordKind
from provenance.store.record_reading import read_record
from provenance.store.safe_writing import replace as replace_file
from provenance.store.safe_writing import write_new
from provenance.store.yaml_writing import record_text
from provenance.tasks.opening import Opened, open_folder

ATTEMPTS = 20


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


Step = NewRecord | RecordEdit
Planner = Callable[[Opened], Sequence[Step]]
"""Makes the plan from the archive as it stands; no steps when there is nothing to do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Write:
    """One file to be written: its text, and the digest of what it takes the place of (None: nothing)."""

    file: str
    text: str
    expected_sha256: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Preview:
    """A plan as if it were done.

    Attributes:
        after: the archive as it would be.
        writes: the files in the order in which they would be written.
    """

    after: Archive
    writes: tuple[_Write, ...]


def preview(opened: Opened, steps: Sequence[Step]) -> Preview:
    """Look at a plan as if it were done; nothing is written.

    Raises:
        UsageRefusedError: a record would be unsound, or would name what is not there; nothing is changed.
        WriteRefusedError: a file cannot be edited without touching the rest.
    """
    after = opened.archive
    texts: dict[str, _Write] = {}
    for step in steps:
        write = _write_of(opened.folder, step, texts.get(step.file))
        texts[step.file] = write
        after = _with_record(after, step, _sound(write))
    _refuse_new_faults(opened.archive, after, set(texts))
    return Preview(after=after, writes=tuple(texts.values()))


def change(folder: Path, planner: Planner) -> tuple[str, ...]:
    """Make a plan, look at it, and write it; made anew when a file changed meanwhile.

    Args:
        folder: the archive's folder.
        planner: makes the plan from the archive as it stands.

    Returns:
        The files that were written, relative to the archive, in that order.

    Raises:
        UsageRefusedError: the plan would leave the archive unsound; nothing is changed.
        WriteRefusedError: a file cannot be written, or keeps changing.
    """
    for _ in range(ATTEMPTS):
        opened = open_folder(folder)
        looked_at = preview(opened, planner(opened))
        with archive_lock(opened.folder):
            if all(_is_current(opened.folder, write) for write in looked_at.writes):
                for write in looked_at.writes:
                    _write(opened.folder, write)
                return tuple(write.file for write in looked_at.writes)
    raise WriteRefusedError("the records kept changing while they were to be written", "try again")


def _write_of(folder: Path, step: Step, earlier: _Write | None) -> _Write:
    path = folder / step.file
    if isinstance(step, NewRecord):
        if earlier or path.exists():
            raise UsageRefusedError(f"there is a record {step.file} already", "give another id")
        return _Write(file=step.file, text=record_text(step.kind, step.fields), expected_sha256=None)
    if earlier:
        text, expected = earlier.text, earlier.expected_sha256
    else:
        content = path.read_bytes()
        text, expected = content.decode("utf-8-sig"), hashlib.sha256(content).hexdigest()
    for each in step.changes:
        text = edit(text, step.file, each)
    return _Write(file=step.file, text=text, expected_sha256=expected)


def _sound(write: _Write) -> Document:
    document = read_record(write.text, write.file)
    if isinstance(document, Document):
        return document
    raise _refusal(document)


def _with_record(archive: Archive, step: Step, document: Document) -> Archive:
    if step.kind is RecordKind.ARCHIVE:
        return build_archive(
            document.content, {kind: getattr(archive, kind.folder) for kind in RecordKind if kind.folder}
        )
    records = {**getattr(archive, step.kind.folder), step.id: build_record(step.kind, step.id, document.content)}
    changes: dict[str, Any] = {step.kind.folder: records}
    return replace(archive, **changes)


def _refuse_new_faults(before: Archive, after: Archive, files: set[str]) -> None:
    """Refuse a plan that brings faults into the files that it writes; old faults of others stop nobody."""
    faults = [problem for problem in check_records(after) if problem.place.file in files]
    known = set(check_records(before)) if faults else set()
    new = [problem for problem in faults if problem not in known]
    if new:
        raise _refusal(new)


def _refusal(problems: Sequence[Problem]) -> UsageRefusedError:
    what = "; ".join(f"{problem.place.field or problem.place.file}: {problem.what}" for problem in problems)
    return UsageRefusedError(what, "; ".join(dict.fromkeys(problem.mend for problem in problems)))


def _is_current(folder: Path, write: _Write) -> bool:
    path = folder / write.file
    if write.expected_sha256 is None:
        return not path.exists()
    return path.exists() and sha256_of(path) == write.expected_sha256


def _write(folder: Path, write: _Write) -> None:
    path = folder / write.file
    if write.expected_sha256 is None:
        write_new(path, write.text.encode(), within=folder)
    else:
        replace_file(path, write.text.encode(), expected_sha256=write.expected_sha256, within=folder)
