"""Register one file: the bytes are copied in and checked, and only then is the record written."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from provenance.pages.identifying import OriginalFacts
from provenance.store.editing import Append, edit_file
from provenance.store.fixity import sha256_of
from provenance.store.locking import archive_lock
from provenance.store.naming import received_name, source_id
from provenance.store.originals import CopiedIn, copy_in, registered_in_place
from provenance.store.record_kinds import RecordKind
from provenance.store.safe_writing import write_new
from provenance.store.yaml_writing import record_text
from provenance.tasks.batches import Batch
from provenance.workers.outcomes import Outcome

UNKNOWN_MEDIA_TYPE = "application/octet-stream"


@dataclass(frozen=True, slots=True, kw_only=True)
class Holding:
    """The source that holds certain bytes; the names under which they came, from whom, and with which lots.

    Attributes:
        places: the lots again, each with the place that the source has in it; only of what was held before this call.
    """

    source: str
    names: tuple[str, ...]
    givers: frozenset[str | None] = frozenset()
    lots: frozenset[str | None] = frozenset()
    places: tuple[tuple[str, int], ...] = ()
    unreadable: str = ""
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Receiver:
    """Who receives files, into which archive, on which day, and what is said of all of them.

    Attributes:
        items: the place of each new file in the lot, counted from 1.
        givers: from whom all of them come, as their holdings have it.
        lots: with which lot.
        joined: the id and the title of the source that all files make; None where each is its own.
    """

    folder: Path
    by: str
    today: str
    batch: Batch
    items: Mapping[Path, int]
    givers: frozenset[str | None]
    lots: frozenset[str | None]
    joined: tuple[str, str] | None


def register(receiver: Receiver, outcome: Outcome[Path, OriginalFacts], digest: str) -> Holding:
    """Copy one file in and write its record; one that cannot be opened is kept and registered all the same."""
    path, facts = outcome.job, outcome.value
    came = receiver.batch.came_as(path)
    name = received_name(came.name)
    with archive_lock(receiver.folder):
        in_place = registered_in_place(path, receiver.folder)
        alone = in_place[0] if in_place else source_id(came.name, digest)
        new_id, title = receiver.joined or (alone, Path(name).stem)
        copied = copy_in(path, receiver.folder, new_id, came.name, expected_sha256=digest)
        more = receiver.batch.fields(receiver.today, receiver.items[path])
        _write_record(receiver, new_id, _file_fields(copied, name, facts), {"title": title, **more})
    return Holding(
        source=new_id,
        names=(name,),
        givers=receiver.givers,
        lots=receiver.lots,
        unreadable=_said_of(name, outcome) if outcome.fault else "",
        why=facts.note if facts else "",
    )


def _said_of(name: str, outcome: Outcome[Path, OriginalFacts]) -> str:
    """What is wrong with a file, under the name that it came under."""
    what = outcome.fault.what if outcome.fault else ""
    lying = outcome.job.name
    return f"{name}{what.removeprefix(lying)}" if what.startswith(lying) else what


def _file_fields(copied: CopiedIn, name: str, facts: OriginalFacts | None) -> dict[str, object]:
    fields: dict[str, object] = {"path": copied.path}
    if Path(copied.path).name != name:
        fields["received_as"] = name
    fields |= {"sha256": copied.sha256, "bytes": copied.size}
    fields["media_type"] = facts.media_type if facts else UNKNOWN_MEDIA_TYPE
    if facts and facts.pages is not None:
        fields["pages"] = facts.pages
    return fields


def _write_record(receiver: Receiver, new_id: str, file: dict[str, object], more: dict[str, object]) -> None:
    """Write the record of a new source; a file of a source that is there already is appended to its files."""
    record = receiver.folder / RecordKind.SOURCE.file_of(new_id)
    if record.exists():
        edit_file(record, (Append(("files",), file),), expected_sha256=sha256_of(record), within=receiver.folder)
        return
    fields = {**more, "files": [file], "state": "untagged", "by": receiver.by, "date": receiver.today}
    write_new(record, record_text("source", fields).encode(), within=receiver.folder)


def note_arrival(receiver: Receiver, record: str, path: Path, name: str) -> None:
    """Note in the record of a source that the same bytes came again, under which name, from whom, with which lot."""
    file = receiver.folder / record
    entry = receiver.batch.acquired(receiver.today, receiver.items[path], received_as=name)
    with archive_lock(receiver.folder):
        change = Append(("acquired",), entry)
        edit_file(file, (change,), expected_sha256=sha256_of(file), within=receiver.folder)
