"""Register files as sources: the bytes are copied in and checked, and only then is the record written."""

from collections.abc import Callable, Mapping, Sequence
from contextlib import closing
from dataclasses import dataclass, replace
from enum import StrEnum
from pathlib import Path

from provenance.errors import UnreadableOriginalError, UsageRefusedError
from provenance.pages.identifying import OriginalFacts, identify
from provenance.records.dates import EdtfError, parse_edtf
from provenance.store.editing import Append, edit_file
from provenance.store.fixity import SeenFiles, sha256_of
from provenance.store.locking import archive_lock
from provenance.store.naming import received_name, slug, source_id
from provenance.store.originals import CopiedIn, Walked, WalkedKind, copy_in, registered_in_place, walk
from provenance.store.record_kinds import RecordKind
from provenance.store.safe_writing import write_new
from provenance.store.yaml_writing import record_text
from provenance.tasks.batches import Batch, lots_in, next_item, title_of
from provenance.tasks.opening import Opened
from provenance.workers.outcomes import Outcome
from provenance.workers.running import run_in_workers

IDENTIFY_SECONDS = 60.0
IDENTIFY_BYTES = 2 * 1024**3
UNKNOWN_MEDIA_TYPE = "application/octet-stream"
NOT_OPENED = "it could not be opened when it came in"


class ReceivedState(StrEnum):
    """Whether a file is new to the archive."""

    NEW = "new"
    KNOWN = "known"
    REFUSED = "refused"


@dataclass(frozen=True, slots=True, kw_only=True)
class Received:
    """One file that was handed in.

    Attributes:
        source: the source that holds its bytes; None where the file was refused.
        sha256: of its bytes; empty where it was refused.
        unreadable: why it cannot be opened; empty where it can.
        why: what else the reader should know; empty where nothing was out of the ordinary.
        written: the record file that was written for it; None where none was.
    """

    path: str
    state: ReceivedState
    source: str | None = None
    sha256: str = ""
    unreadable: str = ""
    why: str = ""
    written: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Holding:
    """The source that holds certain bytes; the names under which they came, from whom, and with which lots."""

    source: str
    names: frozenset[str]
    givers: frozenset[str | None] = frozenset()
    lots: frozenset[str | None] = frozenset()
    unreadable: str = ""
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Receiver:
    """Who receives files, into which archive, on which day, and what is said of all of them.

    Attributes:
        items: the place of each new file in the lot, counted from 1.
        joined: the id and the title of the source that all files make; None where each is its own.
    """

    folder: Path
    by: str
    today: str
    batch: Batch
    items: Mapping[Path, int]
    joined: tuple[str, str] | None


def receive(
    opened: Opened,
    paths: Sequence[Path],
    batch: Batch,
    *,
    by: str,
    today: str,
    on_progress: Callable[[str, int, int], None],
) -> tuple[Received, ...]:
    """Register every file under the paths, in code-point order; one file is one source, unless they are together.

    Raises:
        UsageRefusedError: nobody of that id is among `people`, `today` is no date, a path does not exist, what is said
            of the batch cannot be, or files that are to be one source are held by several.
        WriteRefusedError: an original or a record cannot be written.
    """
    _require_person(opened, by)
    _require_date(today)
    batch.require_sound(today)
    walked = tuple(walk(paths, archive=opened.folder))
    digests, refused = _digests(opened.folder, walked)
    digests = {path: digests[path] for path in batch.in_order(digests)}
    held = _holdings(opened)
    new: dict[str, Path] = {}
    for path, digest in digests.items():
        if digest not in held:
            new.setdefault(digest, path)
    arrived = {path: digest for digest, path in new.items()}
    receiver = _Receiver(
        folder=opened.folder,
        by=by,
        today=today,
        batch=batch,
        items={path: item for item, path in enumerate(digests, start=next_item(opened.archive, batch.lot))},
        joined=_joined(opened, paths, digests, held) if batch.together and arrived else None,
    )
    registered, failed = _register_all(receiver, arrived, on_progress)
    refused |= failed
    received = []
    for entry in walked:
        digest = digests.get(entry.path, "")
        holding = held.get(digest) or registered.get(digest)
        if holding is None:
            why = refused.get(entry.path) or refused[new[digest]]
            received.append(Received(path=received_name(str(entry.path)), state=ReceivedState.REFUSED, why=why))
        elif new.get(digest) == entry.path:
            received.append(_as_new(entry.path, digest, holding))
        else:
            received.append(_received_again(receiver, entry.path, digest, holding))
            held[digest] = replace(
                holding,
                names=holding.names | {received_name(entry.path.name)},
                givers=holding.givers | {batch.giver},
                lots=holding.lots | {batch.lot},
            )
    return tuple(received)


def _require_person(opened: Opened, by: str) -> None:
    if by not in opened.archive.person_ids:
        known = ", ".join(sorted(opened.archive.person_ids)) or "nobody yet"
        raise UsageRefusedError(
            f"`{by}` is not among the people of this archive ({known})",
            "add them under `people` in archive.yaml, or give another id with --by",
        )


def _require_date(day: str) -> None:
    try:
        parse_edtf(day)
    except EdtfError as error:
        raise UsageRefusedError(error.what, error.mend) from error


def _digests(folder: Path, walked: Sequence[Walked]) -> tuple[dict[Path, str], dict[Path, str]]:
    """The digest of every file that can be read; and of what is left alone, why."""
    seen = SeenFiles(folder)
    digests, refused = {}, {}
    for entry in walked:
        if entry.kind is WalkedKind.REFUSED:
            refused[entry.path] = entry.why
            continue
        try:
            digests[entry.path] = seen.digest_of(entry.path)
        except OSError as error:
            refused[entry.path] = f"it cannot be read here: {(error.strerror or 'unknown reason').lower()}"
    seen.save()
    return digests, refused


def _holdings(opened: Opened) -> dict[str, _Holding]:
    held = {}
    for source in opened.archive.sources.values():
        again = {entry.received_as for entry in source.acquired if entry.received_as}
        for file in source.files:
            name = file.received_as or Path(file.path).name
            unreadable = NOT_OPENED if file.media_type == UNKNOWN_MEDIA_TYPE else ""
            held[file.sha256] = _Holding(
                source=source.id,
                names=frozenset({name, *again}),
                givers=frozenset(entry.giver for entry in source.acquired),
                lots=frozenset(lots_in(entry.note for entry in source.acquired)),
                unreadable=unreadable,
            )
    return held


def _joined(
    opened: Opened, paths: Sequence[Path], digests: Mapping[Path, str], held: Mapping[str, _Holding]
) -> tuple[str, str]:
    """The source that all files make: the one that holds some of them already, else a new one."""
    first = next(iter(digests))
    title = title_of(paths, list(digests))
    holders = sorted({held[digest].source for digest in digests.values() if digest in held})
    if len(holders) > 1:
        raise UsageRefusedError(
            f"some of these files are held already, by {' and '.join(holders)}, so they cannot become one source",
            "leave those files out, or take the files in one by one without --together",
        )
    in_place = registered_in_place(first, opened.folder)
    made = in_place[0] if in_place else source_id(f"{slug(title)}.x", digests[first])
    return (holders or [made])[0], received_name(title)


def _register_all(
    receiver: _Receiver, digests: Mapping[Path, str], on_progress: Callable[[str, int, int], None]
) -> tuple[dict[str, _Holding], dict[Path, str]]:
    """Register every file; what cannot be copied in is left alone, with the reason, and stops nobody else."""
    registered: dict[str, _Holding] = {}
    refused: dict[Path, str] = {}
    waiting: dict[Path, Outcome[Path, OriginalFacts]] = {}
    outcomes = run_in_workers(identify, list(digests), seconds_each=IDENTIFY_SECONDS, memory_bytes=IDENTIFY_BYTES)
    with closing(outcomes):
        for done, outcome in enumerate(outcomes, start=1):
            waiting[outcome.job] = outcome
            for path in _ready(receiver, list(digests), waiting):
                digest = digests[path]
                try:
                    registered[digest] = _register(receiver, waiting.pop(path), digest)
                except UnreadableOriginalError as error:
                    refused[path] = error.what
            on_progress("registering", done, len(digests))
    return registered, refused


def _ready(receiver: _Receiver, order: list[Path], waiting: Mapping[Path, object]) -> list[Path]:
    """The files that can be registered now; those of one source wait for all: their order is that of its pages."""
    if receiver.joined is None:
        return list(waiting)
    return order if len(waiting) == len(order) else []


def _register(receiver: _Receiver, outcome: Outcome[Path, OriginalFacts], digest: str) -> _Holding:
    """Copy one file in and write its record; one that cannot be opened is kept and registered all the same."""
    path, facts = outcome.job, outcome.value
    name = received_name(path.name)
    with archive_lock(receiver.folder):
        in_place = registered_in_place(path, receiver.folder)
        alone = in_place[0] if in_place else source_id(path.name, digest)
        new_id, title = receiver.joined or (alone, Path(name).stem)
        copied = copy_in(path, receiver.folder, new_id, path.name, expected_sha256=digest)
        more = receiver.batch.fields(receiver.today, receiver.items[path])
        _write_record(receiver, new_id, _file_fields(copied, name, facts), {"title": title, **more})
    return _Holding(
        source=new_id,
        names=frozenset({name}),
        givers=frozenset({receiver.batch.giver}),
        lots=frozenset({receiver.batch.lot}),
        unreadable=outcome.fault.what if outcome.fault else "",
        why=facts.note if facts else "",
    )


def _file_fields(copied: CopiedIn, name: str, facts: OriginalFacts | None) -> dict[str, object]:
    fields: dict[str, object] = {"path": copied.path}
    if Path(copied.path).name != name:
        fields["received_as"] = name
    fields |= {"sha256": copied.sha256, "bytes": copied.size}
    fields["media_type"] = facts.media_type if facts else UNKNOWN_MEDIA_TYPE
    if facts and facts.pages is not None:
        fields["pages"] = facts.pages
    return fields


def _write_record(receiver: _Receiver, new_id: str, file: dict[str, object], more: dict[str, object]) -> None:
    """Write the record of a new source; a file of a source that is there already is appended to its files."""
    record = receiver.folder / RecordKind.SOURCE.file_of(new_id)
    if record.exists():
        edit_file(record, (Append(("files",), file),), expected_sha256=sha256_of(record), within=receiver.folder)
        return
    fields = {**more, "files": [file], "state": "untagged", "by": receiver.by, "date": receiver.today}
    write_new(record, record_text("source", fields).encode(), within=receiver.folder)


def _as_new(path: Path, digest: str, holding: _Holding) -> Received:
    return Received(
        path=received_name(str(path)),
        state=ReceivedState.NEW,
        source=holding.source,
        sha256=digest,
        unreadable=holding.unreadable,
        why=holding.why,
        written=RecordKind.SOURCE.file_of(holding.source),
    )


def _received_again(receiver: _Receiver, path: Path, digest: str, holding: _Holding) -> Received:
    """Note that the same bytes came again, where their name, their giver or their lot is new."""
    written = None
    why = ""
    name = received_name(path.name)
    batch = receiver.batch
    is_from_elsewhere = {batch.giver} - holding.givers - {None} or {batch.lot} - holding.lots - {None}
    if name not in holding.names or is_from_elsewhere:
        written = RecordKind.SOURCE.file_of(holding.source)
        _note_arrival(receiver, written, path, name)
        new = "where it comes from" if is_from_elsewhere else "the new name"
        why = f"the same bytes as {holding.source}, where {new} is noted"
    return Received(
        path=received_name(str(path)),
        state=ReceivedState.KNOWN,
        source=holding.source,
        sha256=digest,
        unreadable=holding.unreadable,
        why=why,
        written=written,
    )


def _note_arrival(receiver: _Receiver, record: str, path: Path, name: str) -> None:
    file = receiver.folder / record
    entry = receiver.batch.acquired(receiver.today, receiver.items[path], received_as=name)
    with archive_lock(receiver.folder):
        change = Append(("acquired",), entry)
        edit_file(file, (change,), expected_sha256=sha256_of(file), within=receiver.folder)
