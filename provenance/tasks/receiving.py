"""Register files as sources, one after the other as they are walked; what is held already is noted where it is new."""

from collections.abc import Callable, Mapping, Sequence
from contextlib import closing
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import partial
from pathlib import Path

from provenance.errors import UnreadableOriginalError, UsageRefusedError
from provenance.pages.identifying import OriginalFacts
from provenance.records.dates import EdtfError, parse_edtf
from provenance.store.naming import received_name, slug, source_id
from provenance.store.originals import Walked, WalkedKind, registered_in_place, walk
from provenance.store.record_kinds import RecordKind
from provenance.tasks.batches import Batch, lots_in, next_item
from provenance.tasks.identifying_files import identified
from provenance.tasks.incoming import Incoming
from provenance.tasks.looking_again import KnownNow, look_again
from provenance.tasks.opening import Opened
from provenance.tasks.registering import UNKNOWN_MEDIA_TYPE, Holding, Receiver, note_arrival, register
from provenance.workers.outcomes import Outcome

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
    require_sayable(opened, batch, by=by, today=today)
    walked = tuple(walk(paths, archive=opened.folder))
    files = batch.in_order(entry.path for entry in walked if entry.kind is WalkedKind.FILE)
    incoming = Incoming(opened.folder, files, passing=batch.names)
    held = _holdings(opened)
    if batch.together or batch.lot:
        incoming.digest_all(on_progress)  # what is held already decides on the one source, and on places in the lot
    title = partial(batch.title_of, paths)
    receiver = Receiver(
        folder=opened.folder,
        by=by,
        today=today,
        batch=batch,
        items=_items(opened, batch, incoming, held),
        givers=frozenset({batch.giver}),
        lots=frozenset({batch.lot}),
        joined=_joined(opened, title, incoming, held) if batch.together else None,
    )
    with closing(incoming):
        registered = _register_all(receiver, incoming, held, on_progress)
    known_now = look_again(opened, frozenset(incoming.digests.values()))
    received = tuple(_received(receiver, entry, incoming, held, registered) for entry in walked)
    return tuple(_with_what_is_known(item, known_now.get(item.sha256)) for item in received)


def _received(
    receiver: Receiver,
    entry: Walked,
    incoming: Incoming,
    held: dict[str, Holding],
    registered: Mapping[str, Holding],
) -> Received:
    """What became of one thing that was offered; the same bytes under a further name are noted now."""
    came = receiver.batch.came_as(entry.path)
    name, digest = received_name(str(came)), incoming.digests.get(entry.path, "")
    holding = held.get(digest) or registered.get(digest)
    if holding is None:
        why = entry.why or incoming.refused.get(entry.path) or incoming.refused[incoming.new[digest]]
        return Received(path=name, state=ReceivedState.REFUSED, why=why)
    if incoming.new.get(digest) == entry.path:
        return _as_new(name, digest, holding)
    received = _received_again(receiver, entry.path, digest, holding)
    held[digest] = replace(
        holding,
        names=(*holding.names, received_name(came.name)),
        givers=holding.givers | {receiver.batch.giver},
        lots=holding.lots | {receiver.batch.lot},
    )
    return received


def _with_what_is_known(item: Received, known: KnownNow | None) -> Received:
    """What became of a file that was held already, and that could be opened this time."""
    if known is None:
        return item
    why = "; ".join(part for part in (item.why, known.why) if part)
    return replace(item, unreadable="", why=why, written=known.written)


def require_sayable(opened: Opened, batch: Batch, *, by: str, today: str) -> None:
    """See that records can say what is said of all the files, before anything is taken in.

    Raises:
        UsageRefusedError: nobody of that id is among `people`, `today` is no date, or the batch cannot be.
    """
    _require_person(opened, by)
    _require_date(today)
    batch.require_sound(today)


def held_digests(opened: Opened) -> Mapping[str, str]:
    """By the SHA-256 of every file that the archive holds, the id of the source that holds it."""
    return {file.sha256: source.id for source in opened.archive.sources.values() for file in source.files}


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


def _holdings(opened: Opened) -> dict[str, Holding]:
    held = {}
    for source in opened.archive.sources.values():
        again = {entry.received_as for entry in source.acquired if entry.received_as}
        lots = lots_in(entry.note for entry in source.acquired)
        for file in source.files:
            name = file.received_as or Path(file.path).name
            unreadable = NOT_OPENED if file.media_type == UNKNOWN_MEDIA_TYPE else ""
            held[file.sha256] = Holding(
                source=source.id,
                names=tuple({name, *again}),
                givers=frozenset(entry.giver for entry in source.acquired),
                lots=frozenset(lots),
                places=tuple(lots.items()),
                unreadable=unreadable,
            )
    return held


def _items(opened: Opened, batch: Batch, incoming: Incoming, held: Mapping[str, Holding]) -> Mapping[Path, int]:
    """The place of each file in the lot: as in the call that was cut off, where this one goes on with it."""
    places = {path: place for place, path in enumerate(incoming.files)}
    if batch.lot is None:
        return places
    began = {digest: path for path, digest in reversed(incoming.digests.items())}
    begun = {
        place - places[began[digest]]
        for digest, holding in held.items()
        for lot, place in holding.places
        if lot == batch.lot and digest in began
    }
    is_cut_off = len(begun) == 1 and min(begun) > 0
    start = begun.pop() if is_cut_off else next_item(opened.archive, batch.lot)
    return {path: start + place for path, place in places.items()}


def _joined(
    opened: Opened, title_of_all: Callable[[Sequence[Path]], str], incoming: Incoming, held: Mapping[str, Holding]
) -> tuple[str, str] | None:
    """The source that all files make: the one that holds some of them already, else a new one; None for no new file."""
    digests = incoming.digests
    if not digests.values() - held.keys():
        return None
    first = next(iter(digests))
    title = title_of_all(list(digests))
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
    receiver: Receiver,
    incoming: Incoming,
    held: Mapping[str, Holding],
    on_progress: Callable[[str, int, int], None],
) -> dict[str, Holding]:
    """Register every file; what cannot be copied in is left alone, with the reason, and stops nobody else.

    Each is looked at, copied in and recorded before the next but a few is opened: one that was read a moment ago need
    not come from the disk again, and what is done when somebody stops the call is done for good.
    """
    registered: dict[str, Holding] = {}
    waiting: dict[Path, Outcome[Path, OriginalFacts]] = {}
    done = 0

    def tell(more: int = 1) -> None:
        nonlocal done
        done += more
        on_progress("registering", done, len(incoming.files))

    with closing(identified(incoming.take(held, tell), on_wait=lambda: tell(0))) as outcomes:
        for outcome in outcomes:
            waiting[outcome.job] = outcome
            if receiver.joined is None:
                _register_one(receiver, waiting.pop(outcome.job), incoming, registered)
            tell()
    for path in [path for path in incoming.files if path in waiting]:  # of one source: their order is that of its pages
        _register_one(receiver, waiting.pop(path), incoming, registered)
    return registered


def _register_one(
    receiver: Receiver, outcome: Outcome[Path, OriginalFacts], incoming: Incoming, registered: dict[str, Holding]
) -> None:
    digest = incoming.digests[outcome.job]
    try:
        registered[digest] = register(receiver, outcome, digest)
    except UnreadableOriginalError as error:
        incoming.refused[outcome.job] = error.what


def _as_new(name: str, digest: str, holding: Holding) -> Received:
    return Received(
        path=name,
        state=ReceivedState.NEW,
        source=holding.source,
        sha256=digest,
        unreadable=holding.unreadable,
        why=holding.why,
        written=RecordKind.SOURCE.file_of(holding.source),
    )


def _received_again(receiver: Receiver, path: Path, digest: str, holding: Holding) -> Received:
    """Note that the same bytes came again, where their name, their giver or their lot is new."""
    written = None
    why = ""
    batch = receiver.batch
    came = batch.came_as(path)
    name = received_name(came.name)
    is_from_elsewhere = {batch.giver} - holding.givers - {None} or {batch.lot} - holding.lots - {None}
    if name not in holding.names or is_from_elsewhere:
        written = RecordKind.SOURCE.file_of(holding.source)
        note_arrival(receiver, written, path, name)
        new = "where it comes from" if is_from_elsewhere else "the new name"
        why = f"the same bytes as {holding.source}: {new} is noted in its record"
    return Received(
        path=received_name(str(came)),
        state=ReceivedState.KNOWN,
        source=holding.source,
        sha256=digest,
        unreadable=holding.unreadable,
        why=why,
        written=written,
    )
