"""The machines in order of production with what was seen on each of them: what a change-over is read from."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from provenance.records.archive import Archive
from provenance.records.claims import Seen
from provenance.records.components import Feature
from provenance.records.dates import EdtfDate
from provenance.records.kinds import Changes, FeatureKind, KnownBy, Stance
from provenance.records.production import Production
from provenance.reports.date_words import date_words
from provenance.rules.change_values import ChangeOver
from provenance.rules.explaining_counts import why_weightless
from provenance.rules.sighted_values import why_not_as_built
from provenance.rules.verdicts import Candidate, JudgedItem, Verdict
from provenance.rules.weights import weights_of

LONGEST_BLANK = 5
"""So many machines in a row on which nothing was seen are drawn one by one; more are drawn as one row."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Observation:
    """What was seen on one machine, by all sources that saw the same at the same time.

    Attributes:
        values: as the answer gives them; several where a broken reading fits several and may be any of them.
        shown: the same as people read it, `“Ellison” or “Emerson”`; of a measure the figure as written.
        against: whether it was seen not to have the value.
        when: None when that is not known.
        known_by: how the machine was known.
        sources: their ids, in order.
        direct: whether it is measured, shown or stated.
        counts: whether it tells, with weight, what the machine had; for a feature that changes from one machine to the
            next, as it was built.
        why_not: why it does not count, in words; empty where it does.
    """

    values: tuple[str, ...]
    shown: str
    against: bool
    when: EdtfDate | None
    known_by: KnownBy
    sources: tuple[str, ...]
    direct: bool
    counts: bool
    why_not: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ExampleRow:
    """One machine.

    Attributes:
        example: its number.
        is_target: whether it is the one represented.
        near_target: whether it is that one, or the one before or after it.
        observations: by date, those without one last; empty where nothing was seen.
        chance: where a change-over was computed, how likely it has the later value, from 0 to 1; None for the machines
            before and after those that it runs over, and where none was computed.
    """

    example: str
    is_target: bool
    near_target: bool
    observations: tuple[Observation, ...]
    chance: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class BatchRows:
    """The machines of one batch, in order of building."""

    batch: str
    built: EdtfDate
    rows: tuple[ExampleRow, ...]

    @property
    def runs(self) -> tuple[tuple[ExampleRow, ...], ...]:
        """The rows as they are drawn: each by itself, but a long run on which nothing was seen together."""
        return tuple(_runs(self.rows))


@dataclass(frozen=True, slots=True, kw_only=True)
class SequenceFigure:
    """What was seen of one feature along the order of production.

    Attributes:
        feature: `component/feature`.
        name: of the feature.
        target: the machine represented; None while the archive does not say.
        batches: in order of building.
        earlier: the value before the change as people read it; empty where no change-over was computed.
        later: the one after it; empty likewise.
        said: what is said of a change in one sentence; empty where there is nothing to say.
    """

    feature: str
    name: str
    target: str | None
    batches: tuple[BatchRows, ...]
    earlier: str
    later: str
    said: str


def sequence_of(archive: Archive, verdict: Verdict) -> SequenceFigure | None:
    """Draw the machines in order of production with what was seen on each; None where none of them was seen.

    Statements that cover a machine are no observations of it. The order is that of archive.yaml.

    Args:
        archive: the archive that was judged.
        verdict: the verdict on the feature.
    """
    seen = _observations(archive, verdict)
    if not seen:
        return None
    change = verdict.change_over if verdict.change_over and verdict.change_over.chances else None
    target = archive.target.example if archive.target else None
    return SequenceFigure(
        feature=verdict.feature,
        name=verdict.name,
        target=target,
        batches=_batches(archive.production, target, seen, change),
        earlier=change.before.shown if change else "",
        later=change.after.shown if change else "",
        said=verdict.change_said,
    )


def sequence_json(figure: SequenceFigure) -> dict[str, object]:
    """The figure in the JSON answer `evidence`; every machine stands there, none are drawn together."""
    return {
        "target": figure.target,
        "earlier": figure.earlier or None,
        "later": figure.later or None,
        "batches": [
            {
                "batch": batch.batch,
                "built": batch.built.text,
                "examples": [
                    {
                        "example": row.example,
                        "chance": row.chance,
                        "seen": [_observation_json(each) for each in row.observations],
                    }
                    for row in batch.rows
                ],
            }
            for batch in figure.batches
        ],
    }


def _observation_json(observation: Observation) -> dict[str, object]:
    return {
        "values": list(observation.values),
        "against": observation.against,
        "when": None if observation.when is None else observation.when.text,
        "known_by": observation.known_by.value,
        "sources": list(observation.sources),
        "direct": observation.direct,
        "counts": observation.counts,
        "why_not": observation.why_not or None,
    }


def when_words(observation: Observation) -> str:
    """When it was seen, in words."""
    return "at a date not known" if observation.when is None else date_words(observation.when)


def _batches(
    production: Production, target: str | None, seen: Mapping[str, tuple[Observation, ...]], change: ChangeOver | None
) -> tuple[BatchRows, ...]:
    chances = dict(change.chances) if change else {}
    here = production.position(target) if target is not None and target in production else None

    def row(example: str) -> ExampleRow:
        return ExampleRow(
            example=example,
            is_target=example == target,
            near_target=here is not None and abs(production.position(example) - here) <= 1,
            observations=seen.get(example, ()),
            chance=chances.get(example),
        )

    return tuple(
        BatchRows(batch=batch.batch, built=batch.built, rows=tuple(map(row, batch.examples)))
        for batch in production.batches
    )


def _runs(rows: Sequence[ExampleRow]) -> Iterator[tuple[ExampleRow, ...]]:
    blank: list[ExampleRow] = []
    for row in rows:
        if not row.observations and not row.near_target:
            blank.append(row)
            continue
        yield from _together(blank)
        blank = []
        yield (row,)
    yield from _together(blank)


def _together(blank: Sequence[ExampleRow]) -> Iterator[tuple[ExampleRow, ...]]:
    if len(blank) > LONGEST_BLANK:
        yield tuple(blank)
    else:
        yield from ((row,) for row in blank)


def _observations(archive: Archive, verdict: Verdict) -> dict[str, tuple[Observation, ...]]:
    """Gather by machine what was seen on it; the same seen by several sources at one time together."""
    together: dict[str, dict[Observation, set[str]]] = defaultdict(lambda: defaultdict(set))
    same_time = weights_of(archive).same_time
    for seen, item, candidates in _sightings(verdict):
        if seen.example in archive.production:
            why_not = _why_not(item, seen, verdict.asked, archive, same_time)
            observation = _observation(seen, item, candidates, why_not)
            if verdict.asked.kind is FeatureKind.QUANTITY:
                observation = replace(observation, shown=f"“{archive.claims[item.claim].value}”")
            together[seen.example][observation].add(item.source)
    return {
        example: tuple(
            sorted((replace(each, sources=tuple(sorted(named))) for each, named in found.items()), key=_by_date)
        )
        for example, found in together.items()
    }


def _sightings(verdict: Verdict) -> Iterator[tuple[Seen, JudgedItem, list[Candidate]]]:
    """Give each sighting once, with the values that it speaks of: several for a broken reading that fits several."""
    found: dict[tuple[object, ...], tuple[Seen, JudgedItem, list[Candidate]]] = {}
    for candidate in verdict.candidates:
        for item in candidate.items:
            if item.seen is not None:
                same = (item.claim, item.item, item.told_by, item.stance)
                found.setdefault(same, (item.seen, item, []))[2].append(candidate)
    told = {key[:2] for key, (_, item, _) in found.items() if item.told_by and item.weight > 0}
    for key, sighting in found.items():
        item = sighting[1]
        if item.direct or item.told_by or key[:2] not in told:  # a picture that its signs speak for is drawn once
            yield sighting


def _observation(seen: Seen, item: JudgedItem, candidates: Sequence[Candidate], why_not: str) -> Observation:
    ordered = sorted(candidates, key=lambda candidate: candidate.value)
    shown = [f"“{candidate.shown}”" for candidate in ordered]
    return Observation(
        values=tuple(candidate.value for candidate in ordered),
        shown=" or ".join(filter(None, [", ".join(shown[:-1]), shown[-1]])),
        against=item.stance is Stance.CONTRADICTS,
        when=seen.when,
        known_by=seen.known_by,
        sources=(),
        direct=item.direct,
        counts=not why_not,
        why_not=why_not,
    )


def _why_not(item: JudgedItem, seen: Seen, feature: Feature, archive: Archive, same_time: int) -> str:
    if item.weight == 0:
        return why_weightless(item)
    if not item.direct:
        return "only implied"
    is_another = archive.target is not None and seen.example != archive.target.example
    may_change = feature.changes is Changes.AT_BUILD and feature.kind is not FeatureKind.QUANTITY
    return why_not_as_built(seen, archive, same_time) if is_another and may_change else ""


def _by_date(observation: Observation) -> tuple[object, ...]:
    when = observation.when
    dated = (True, (), "") if when is None else (False, when.earliest or (), when.text)
    told = (observation.values, observation.against, observation.known_by, observation.sources, observation.why_not)
    return *dated, told
