"""Register files as sources: the bytes are copied in and checked, and only then is the record written."""

from collections.abc import Callable, Mapping, Sequence
from contextlib import closing
from dataclasses import dataclass, replace
from enum import StrEnum
from pathlib import Path

from provenance.errors import UsageRefusedError
from provenance.pages.identifying import OriginalFacts, identify
from provenance.store.editing import AddKey, Append, edit_file
from provenance.store.fixity import SeenFiles, sha256_of
from provenance.store.locking import archive_lock
from provenance.store.naming import source_id
from provenance.store.originals import Walked, WalkedKind, copy_in, registered_in_place, walk
from provenance.store.record_kinds import RecordKind
from provenance.store.safe_writing import write_new
from provenance.store.yaml_writing import record_text
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
    """The source that holds certain bytes, and the names under which they came."""

    source: str
    names: frozenset[str]
    unreadable: str = ""
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Receiver:
    """Who receives files, into which archive, on which day."""

    folder: Path
    by: str
    today: str


def receive(
    opened: Opened, paths: Sequence[Path], *, by: str, today: str, on_progress: Callable[[str, int, int], None]
) -> tuple[Received, ...]:
    """Register every file under the paths, in code-point order; one file is one source.

    Raises:
        UsageRefusedError: nobody of that id is among `people`, or a path does not exist.
        WriteRefusedError: an original or a record cannot be written.
    """
    _require_person(opened, by)
    _require_paths(paths)
    receiver = _Receiver(folder=opened.folder, by=by, today=today)
    walked = tuple(walk(paths, archive=opened.folder))
    digests = _digests(opened.folder, walked)
    held = _holdings(opened)
    new = {digest: path for path, digest in reversed(digests.items()) if digest not in held}
    registered = _register_all(receiver, {path: digest for digest, path in new.items()}, on_progress)
    received = []
    for entry in walked:
        if entry.kind is WalkedKind.REFUSED:
            received.append(Received(path=str(entry.path), state=ReceivedState.REFUSED, why=entry.why))
            continue
        digest = digests[entry.path]
        holding = held.get(digest) or registered[digest]
        if new.get(digest) == entry.path:
            received.append(_as_new(entry.path, digest, holding))
        else:
            received.append(_received_again(receiver, entry.path, digest, holding))
            names = holding.names | {entry.path.name}
            held[digest] = replace(holding, names=names)
    return tuple(received)


def _require_person(opened: Opened, by: str) -> None:
    if by not in opened.archive.person_ids:
        known = ", ".join(sorted(opened.archive.person_ids)) or "nobody yet"
        raise UsageRefusedError(
            f"`{by}` is not among the people of this archive ({known})",
            "add them under `people` in archive.yaml, or give another id with --by",
        )


def _require_paths(paths: Sequence[Path]) -> None:
    missing = [path for path in paths if not path.exists() and not path.is_symlink()]
    if missing:
        raise UsageRefusedError(f"there is no file or folder {missing[0]}", "look at the spelling of the path")


def _digests(folder: Path, walked: Sequence[Walked]) -> dict[Path, str]:
    seen = SeenFiles(folder)
    digests = {entry.path: seen.digest_of(entry.path) for entry in walked if entry.kind is WalkedKind.FILE}
    seen.save()
    return digests


def _holdings(opened: Opened) -> dict[str, _Holding]:
    held = {}
    for source in opened.archive.sources.values():
        again = {entry.received_as for entry in source.acquired if entry.received_as}
        for file in source.files:
            name = file.received_as or Path(file.path).name
            unreadable = NOT_OPENED if file.media_type == UNKNOWN_MEDIA_TYPE else ""
            held[file.sha256] = _Holding(source=source.id, names=frozenset({name, *again}), unreadable=unreadable)
    return held


def _register_all(
    receiver: _Receiver, digests: Mapping[Path, str], on_progress: Callable[[str, int, int], None]
) -> dict[str, _Holding]:
    registered: dict[str, _Holding] = {}
    outcomes = run_in_workers(identify, list(digests), seconds_each=IDENTIFY_SECONDS, memory_bytes=IDENTIFY_BYTES)
    with closing(outcomes):
        for outcome in outcomes:
            digest = digests[outcome.job]
            registered[digest] = _register(receiver, outcome, digest)
            on_progress("registering", len(registered), len(digests))
    return registered


def _register(receiver: _Receiver, outcome: Outcome[Path, OriginalFacts], digest: str) -> _Holding:
    """Copy one file in and write its record; one that cannot be opened is kept and registered all the same."""
    path, facts = outcome.job, outcome.value
    with archive_lock(receiver.folder):
        in_place = registered_in_place(path, receiver.folder)
        new_id = in_place[0] if in_place else source_id(path.name, digest)
        copied = copy_in(path, receiver.folder, new_id, path.name, expected_sha256=digest)
        file: dict[str, object] = {"path": copied.path}
        if Path(copied.path).name != path.name:
            file["received_as"] = path.name
        file |= {"sha256": copied.sha256, "bytes": copied.size}
        file["media_type"] = facts.media_type if facts else UNKNOWN_MEDIA_TYPE
        if facts and facts.pages is not None:
            file["pages"] = facts.pages
        fields = {"title": path.stem, "files": [file], "state": "untagged", "by": receiver.by, "date": receiver.today}
        record = receiver.folder / RecordKind.SOURCE.file_of(new_id)
        write_new(record, record_text("source", fields).encode(), within=receiver.folder)
    unreadable = outcome.fault.what if outcome.fault else ""
    why = facts.note if facts else ""
    return _Holding(source=new_id, names=frozenset({path.name}), unreadable=unreadable, why=why)


def _as_new(path: Path, digest: str, holding: _Holding) -> Received:
    return Received(
        path=str(path),
        state=ReceivedState.NEW,
        source=holding.source,
        sha256=digest,
        unreadable=holding.unreadable,
        why=holding.why,
        written=RecordKind.SOURCE.file_of(holding.source),
    )


def _received_again(receiver: _Receiver, path: Path, digest: str, holding: _Holding) -> Received:
    """Note that the same bytes came again, where the name that they came under is new."""
    written = None
    why = ""
    if path.name not in holding.names:
        written = RecordKind.SOURCE.file_of(holding.source)
        _note_name(receiver, written, path.name)
        why = f"the same bytes as {holding.source}, where the new name is noted"
    return Received(
        path=str(path),
        state=ReceivedState.KNOWN,
        source=holding.source,
        sha256=digest,
        unreadable=holding.unreadable,
        why=why,
        written=written,
    )


def _note_name(receiver: _Receiver, record: str, name: str) -> None:
    path = receiver.folder / record
    entry = {"date": receiver.today, "received_as": name}
    with archive_lock(receiver.folder):
        digest = sha256_of(path)
        has_entries = any(line.startswith("acquired:") for line in path.read_text(encoding="utf-8").splitlines())
        change = Append(("acquired",), entry) if has_entries else AddKey((), "acquired", [entry])
        edit_file(path, (change,), expected_sha256=digest, within=receiver.folder)
