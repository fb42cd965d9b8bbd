"""Give a record another id: its file is moved, and every record that names it is changed with it.

The new file is written first, then every reference, and the old file goes last, so that at any moment each reference
leads to a record that is there. Somebody who was stopped in between gives the same command again. Originals are never
moved: a source's `files` go on to name the folder in which its bytes lie. A person's transcripts are found by the
source's id, so they move with it.
"""

import re
from collections.abc import Iterator, Sequence
from pathlib import Path

from provenance.errors import UsageRefusedError
from provenance.records.archive import Archive
from provenance.records.wording import quote
from provenance.reports.written import Written
from provenance.rules.references import DECISIONS, FEATURES, SOURCES, Reference, references_of
from provenance.store.editing import Change, FieldPath, SetScalar
from provenance.store.record_kinds import RecordKind, is_record_id
from provenance.store.transcripts import FOLDER as TRANSCRIPTS
from provenance.tasks.changing import Move, RecordEdit, Step, change
from provenance.tasks.naming_records import Named, find_record
from provenance.tasks.opening import Opened, Where

ANSWER = "rename"
_KINDS = tuple(kind for kind in RecordKind if kind not in (RecordKind.ARCHIVE, RecordKind.COPY))
_KIND_OF = {kind.folder: kind for kind in RecordKind}
_STEP = re.compile(r"([^.\[\]]+)|\[([0-9]+)\]")


def rename(where: Where, name: str, new_id: str) -> Written:
    """Rename a record, and change every record that names it.

    Args:
        where: the archive's folder, or the archive as it was opened before.
        name: `kind/id`, or the id alone where only one record is called so.
        new_id: the id that it is to have.

    Raises:
        UnknownRecordError: no such record.
        UsageRefusedError: no id, one that is taken, or a record that cannot be read may name it.
        WriteRefusedError: a record cannot be changed without touching the rest.
    """
    made: list[tuple[Opened, Named]] = []

    def plan(opened: Opened) -> Sequence[Step]:
        named = find_record(opened.archive, name, _KINDS)
        made.append((opened, named))
        return _plan(opened, named, new_id)

    written = change(where, plan)
    opened, named = made[-1]
    return Written(
        standing=opened.standing, answer=ANSWER, record=new_id, written=written, said=tuple(_sayings(named, new_id))
    )


def _plan(opened: Opened, named: Named, new_id: str) -> list[Step]:
    if not is_record_id(new_id):
        raise UsageRefusedError(
            f"{quote(new_id)} is no id", "write small letters, digits and single hyphens, 64 at most"
        )
    if new_id == named.id:
        raise UsageRefusedError(f"{named.file} has that name already", "give the new one")
    _refuse_unread(opened, named)
    edits: dict[str, list[Reference]] = {}
    for reference in _naming(opened.archive, named):
        edits.setdefault(reference.file, []).append(reference)
    own = _changes(edits.pop(named.file, ()), named, new_id)
    steps: list[Step] = [Move(file=named.file, new_file=named.kind.file_of(new_id), changes=own)]
    steps += _moved_transcripts(opened.folder, named, new_id)
    for references in edits.values():
        steps.append(_following(opened.archive, references, named, new_id))
    return steps


def _naming(archive: Archive, named: Named) -> Iterator[Reference]:
    """Every reference to a record, or to a feature of it."""
    for reference in references_of(archive):
        if reference.to == FEATURES and named.kind is RecordKind.COMPONENT:
            is_meant = reference.name.startswith(f"{named.id}/")
        else:
            is_meant = named.file in reference.leads_to
        if is_meant:
            yield reference
    if named.kind is RecordKind.SOURCE:
        yield from _papers(archive, named.id)


def _papers(archive: Archive, source_id: str) -> Iterator[Reference]:
    """Where a source is named that a file may be named instead: a letter of permission, a photograph of what was made.

    No check demands that such a name leads to a source.
    """
    for source in archive.sources.values():
        if source.rights and source.rights.permission and source.rights.permission.file == source_id:
            yield Reference(SOURCES, source.id, "rights.permission.file", SOURCES, source_id, needed=False)
    for decision in archive.decisions.values():
        for number, made in enumerate(decision.made):
            if made.photo == source_id:
                yield Reference(DECISIONS, decision.id, f"made[{number}].photo", SOURCES, source_id, needed=False)


def _following(archive: Archive, references: Sequence[Reference], named: Named, new_id: str) -> Step:
    """The step that changes one record that names it; a pair of copies is called after its sources and moves too."""
    first = references[0]
    kind = _KIND_OF[first.folder]
    if kind is RecordKind.COPY:
        before = archive.copies[first.id].between
        between = sorted(new_id if each == named.id else each for each in before)
        changes = tuple(
            SetScalar(("between", place), each) for place, each in enumerate(between) if before[place] != each
        )
        return Move(file=first.file, new_file=kind.file_of("--".join(between)), changes=changes)
    return RecordEdit(kind=kind, id=first.id, changes=_changes(references, named, new_id))


def _changes(references: Sequence[Reference], named: Named, new_id: str) -> tuple[Change, ...]:
    return tuple(
        SetScalar(_path(reference.field), new_id + reference.name.removeprefix(named.id)) for reference in references
    )


def _path(field: str) -> FieldPath:
    """`evidence[0].source` as the steps on the way down."""
    return tuple(key or int(number) for key, number in _STEP.findall(field))


def _moved_transcripts(folder: Path, named: Named, new_id: str) -> Iterator[Move]:
    if named.kind is not RecordKind.SOURCE:
        return
    for path in sorted((folder / TRANSCRIPTS / named.id).glob("*")):
        if path.is_file() and not path.is_symlink():
            yield Move(file=f"{TRANSCRIPTS}/{named.id}/{path.name}", new_file=f"{TRANSCRIPTS}/{new_id}/{path.name}")


def _refuse_unread(opened: Opened, named: Named) -> None:
    """Refuse where a record that could not be read has the id in it: it may name the record, and would be left."""
    word = re.compile(rf"(?<![a-z0-9-]){re.escape(named.id)}(?![a-z0-9-])")
    for record in opened.left_out:
        path = opened.folder / record.file
        if path.is_file() and word.search(path.read_text(encoding="utf-8", errors="replace")):
            raise UsageRefusedError(
                f"{record.file} may name {named.id}, and cannot be read: {record.why}",
                "mend that record first (`provenance check`)",
            )


def _sayings(named: Named, new_id: str) -> Iterator[str]:
    yield f"{named.file} is {named.kind.file_of(new_id)} now; every record that named it names the new one."
    if named.kind is RecordKind.SOURCE and named.record.files:
        yield "Its originals stay where they are: they are never moved."
