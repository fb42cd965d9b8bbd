"""Write down what was made to a decision; where it does not fit, both parts are queried."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from provenance.errors import ProvenanceError, UsageRefusedError
from provenance.records.archive import Archive
from provenance.records.decisions import Decision
from provenance.reports.ingested import IngestState
from provenance.reports.tried import Tried
from provenance.reports.written import Written
from provenance.rules.chosen_builds import PROPOSED, chosen_build, value_key
from provenance.rules.decision_flags import decision_flags
from provenance.rules.judging import judge_feature
from provenance.rules.mate_flags import mates_of
from provenance.store.editing import Append
from provenance.store.record_kinds import RecordKind
from provenance.tasks.batches import Batch
from provenance.tasks.changing import NewRecord, RecordEdit, Step, change, preview
from provenance.tasks.deciding import in_force, require_as_seen, require_feature, untaken_id
from provenance.tasks.ingest import ingest
from provenance.tasks.opening import Opened, Where, opened_at
from provenance.tasks.trying import try_out

ANSWER = "made"
MISFIT = "badly"
Progress = Callable[[str, int, int], None]


def _silent(_step: str, _done: int, _total: int) -> None:
    """Say nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A piece that was made.

    Attributes:
        value: what it was made to, as measured.
        fits: `well`, `badly` or None for not tried.
        photo: the id of a source, or a picture's path, which is then taken in as a source; None for none.
        photo_name: the name that the picture came under, where its path does not tell it; None where it does.
        seen_in_force: the decision that it was made to, as whoever writes saw it; None for the one in force.
    """

    value: str
    fits: str | None = None
    inspected_by: str | None = None
    photo: str | None = None
    photo_name: str | None = None
    note: str | None = None
    seen_in_force: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Entry:
    """What is written of a piece, and who writes it when."""

    feature: str
    piece: Piece
    photo: str | None
    by: str
    today: str


def write_made(
    where: Where, feature: str, piece: Piece, *, by: str, today: str, on_progress: Progress = _silent
) -> Written:
    """Add a made piece to the decision in force on a feature; a misfit opens a query on it and on what it has to fit.

    The queries are written first, then the piece: whatever is there after a stop is sound.

    Args:
        where: the archive's folder, or the archive as it was opened before.
        feature: `component/feature`.
        piece: what was made.
        by: an id of `people`.
        today: the date that the records carry.
        on_progress: told how far the taking in of a photograph is.

    Raises:
        UnknownRecordError: there is no such feature.
        UsageRefusedError: nothing is released for it, there is no such picture, or a field is unsound.
        WriteRefusedError: a record cannot be written.
    """
    opened = opened_at(where)
    entry = _Entry(feature=feature, piece=piece, photo=None, by=by, today=today)
    preview(opened, _plan(opened, entry))  # refused before the picture is taken in
    photo, taken_in, said = _taken_in(opened, entry, on_progress)
    entry = replace(entry, photo=photo)
    looked_at: list[Archive] = []

    def plan(current: Opened) -> Sequence[Step]:
        steps = _plan(current, entry)
        looked_at.append(preview(current, steps).after)
        return steps

    try:
        written = change(opened, plan)
    except ProvenanceError as error:
        error.written = (*taken_in, *error.written)
        raise
    decision = _decision(replace(opened, archive=looked_at[-1]), feature)
    return Written(
        standing=opened.standing,
        answer=ANSWER,
        record=decision.id,
        written=(*taken_in, *written),
        said=(*said, *_said_of(looked_at[-1], decision, piece)),
    )


def try_made(opened: Opened, feature: str, piece: Piece, *, by: str, today: str) -> Tried:
    """Tell what would be said of a made piece, and which records it would write; nothing is written or taken in.

    Args:
        opened: the archive.
        feature: `component/feature`.
        piece: what was made; a picture by its path is not looked at.
        by: an id of `people`.
        today: the date that the records would carry.

    Raises:
        UnknownRecordError: there is no such feature.
        UsageRefusedError: nothing is released for it, or a field is unsound.
        WriteRefusedError: a record was written by somebody else since the archive was opened.
        ArchiveError: the archive does not say yet what it represents.
    """
    photo = piece.photo if piece.photo in opened.archive.sources else None
    steps = _plan(opened, _Entry(feature=feature, piece=piece, photo=photo, by=by, today=today))
    after = preview(opened, steps).after
    decision = _decision(replace(opened, archive=after), feature)
    said = _said_of(after, decision, piece)
    return try_out(opened, steps, answer=ANSWER, record=decision.id, said=said)


def queried_by_a_misfit(archive: Archive, feature: str) -> tuple[str, ...]:
    """On which features a piece of this one that does not fit opens a query: itself, and those that it has to fit."""
    return (feature, *_others(archive, feature))


def _decision(opened: Opened, feature: str) -> Decision:
    require_feature(opened, feature)
    decision = in_force(opened.archive, feature)
    if decision is not None:
        return decision
    proposals = [
        each.id
        for each in opened.archive.decisions.values()
        if each.about == feature and each.status == PROPOSED and each.withdrawn is None
    ]
    mend = (
        f"provenance decide {proposals[-1]} --release"
        if proposals
        else f"provenance decide {feature} --build … --release"
    )
    raise UsageRefusedError(f"nothing is released for building for {feature}", f"release a decision first: {mend}")


def _taken_in(
    opened: Opened, entry: _Entry, on_progress: Progress
) -> tuple[str | None, tuple[str, ...], tuple[str, ...]]:
    """The source that holds the picture, the records that were written for it, and what to say."""
    photo = entry.piece.photo
    if photo is None or photo in opened.archive.sources:
        return photo, (), ()
    path = Path(photo)
    if not path.is_file():
        raise UsageRefusedError(f"there is no picture `{photo}`", "give the path of a file, or the id of a source")
    batch = Batch(names={path: entry.piece.photo_name} if entry.piece.photo_name else {})
    done = ingest(opened, [path], by=entry.by, today=entry.today, batch=batch, on_progress=on_progress)
    file = done.files[0]
    if file.source is None or file.state is IngestState.REFUSED:
        raise UsageRefusedError(f"the picture {file.path} was not taken in: {file.why}", "give another copy of it")
    said = f"The picture is the source {file.source}, which nobody has tagged yet." if done.written else ""
    return file.source, done.written, (said,) if said else ()


def _plan(opened: Opened, entry: _Entry) -> Sequence[Step]:
    decision = _decision(opened, entry.feature)
    piece = entry.piece
    require_as_seen(opened.archive, entry.feature, piece.seen_in_force)
    made = {
        "date": entry.today,
        "by": entry.by,
        "value": piece.value,
        "fits": piece.fits,
        "inspected_by": piece.inspected_by,
        "photo": entry.photo,
        "note": piece.note,
    }
    appended = Append(("made",), {key: value for key, value in made.items() if value})
    edit = RecordEdit(kind=RecordKind.DECISION, id=decision.id, changes=(appended,))
    return (*(_queries(opened.archive, entry, decision) if piece.fits == MISFIT else ()), edit)


def _queries(archive: Archive, entry: _Entry, decision: Decision) -> list[Step]:
    """The queries to be opened; one that says just that is open where the command was killed after writing it."""
    others = _others(archive, entry.feature)
    taken = set(archive.queries)
    doubted = {(each.about, each.grounds, each.by, each.date.text) for each in archive.queries.values() if each.open}
    steps: list[Step] = []
    for about in (entry.feature, *others):
        grounds = _grounds(entry, decision, about, others)
        if (about, grounds, entry.by, entry.today) in doubted:
            continue
        query = untaken_id(taken, about, "misfit", entry.today)
        taken.add(query)
        fields = {"about": about, "grounds": grounds, "state": "open"}
        signed = {"by": entry.by, "date": entry.today}
        steps.append(NewRecord(kind=RecordKind.QUERY, id=query, fields={**fields, **signed}))
    return steps


def _others(archive: Archive, feature: str) -> tuple[str, ...]:
    mates = mates_of(archive).get(feature, ())
    return tuple(dict.fromkeys(mate.mate for mate in mates if mate.mate in archive.features))


def _grounds(entry: _Entry, decision: Decision, about: str, others: Sequence[str]) -> str:
    made = f"made to {entry.piece.value} on {entry.today} ({decision.id})"
    note = f": {entry.piece.note}" if entry.piece.note else ""
    if about != entry.feature:
        return f"{entry.feature} was {made} and does not fit it{note}"
    against = f" {' and '.join(others)}" if others else ""
    return f"It was {made} and does not fit{against}{note}"


def _said_of(archive: Archive, decision: Decision, piece: Piece) -> list[str]:
    verdict = judge_feature(archive, decision.about)
    said = []
    if value_key(verdict.asked, piece.value) != value_key(verdict.asked, decision.build):
        said.append(f"Decided was “{decision.build}”, made was “{piece.value}”.")
    if piece.fits == MISFIT:
        said.append(_queried(decision.about, _others(archive, decision.about)))
    chosen = chosen_build(verdict, decision)
    return [*said, *(flag.sentence for flag in decision_flags(archive, verdict, chosen.decision, None))]


def _queried(feature: str, others: Sequence[str]) -> str:
    if not others:
        return f"No feature is written down that {feature} has to fit, so only itself is queried."
    return f"It does not fit, so {', '.join((feature, *others[:-1]))} and {others[-1]} are queried."
