"""A change from one machine to the next: one value seen before the machine represented, another after it.

Changes come in with batches: each machine after the last seen with the old value, up to the first seen with the new
one, is equally likely to be the first that had the new one, but the first of a batch so many times as likely. How many
is common practice, without a source.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate

from provenance.records.archive import Archive
from provenance.records.claims import Seen
from provenance.records.components import Feature
from provenance.records.dates import EdtfDate
from provenance.records.kinds import Changes, FeatureKind, KnownBy
from provenance.records.production import Production
from provenance.rules.assessing import is_direct_of
from provenance.rules.candidates import Group
from provenance.rules.change_values import ChangeAnswer, ChangeOver, Over, Sighted
from provenance.rules.grades import Category
from provenance.rules.posterior import same_chance
from provenance.rules.sentences import chance_in_words, listed
from provenance.rules.sighted_values import Sighting, sightings_against, sightings_of, values_shown, why_not_as_built
from provenance.rules.weights import Weights

_NOTHING = ChangeAnswer()


def change_over(feature: Feature, groups: Sequence[Group], archive: Archive, weights: Weights) -> ChangeAnswer:
    """Say whether a feature changed between the nearest machines seen before and after the one represented.

    Asked of a choice, a text or a presence that changes from one machine to the next, where nothing direct speaks of
    the machine represented itself, for a value or against one. Counted are direct sightings of weight of other machines
    of the production sequence, as far as they tell how those were built; the order is that of archive.yaml, never that
    of the numbers' text. Nothing is said where machines were seen on one side only.

    Args:
        feature: the feature.
        groups: its values with the items that speak of each.
        archive: says what is represented, and the order of production.
        weights: the weights in use.
    """
    if not _is_asked(feature, groups, archive):
        return _NOTHING
    line = _line(feature, groups, archive, weights)
    before, after = line.nearest()
    if before is None or after is None:
        return _NOTHING
    said = next(_why_none(line, before, after), "")
    if said:
        return ChangeAnswer(said=said)
    return _computed(line, before, after, weights.batch_step)


def _is_asked(feature: Feature, groups: Sequence[Group], archive: Archive) -> bool:
    if feature.changes is not Changes.AT_BUILD or feature.kind is FeatureKind.QUANTITY:
        return False
    if archive.target is None or archive.target.example not in archive.production:
        return False
    items = [each for group in groups for each in (*group.supporting, *group.contradicting)]
    return not any(is_direct_of(each, Category.ITSELF, Category.COVERED) for each in items)


@dataclass(frozen=True, slots=True)
class _Line:
    """The order of production with what was seen along it.

    Attributes:
        target: the machine represented.
        sightings: by machine; those that tell how it was built.
        shows: for each machine that was seen with some value for certain, the values.
        denied: for each machine the values that it was seen not to have.
        words: values as people read them.
    """

    production: Production
    target: str
    sightings: Mapping[str, Sequence[Sighting]]
    shows: Mapping[str, frozenset[str]]
    denied: Mapping[str, frozenset[str]]
    words: Mapping[str, str]

    def nearest(self) -> tuple[str | None, str | None]:
        """The nearest machines seen before and after the one represented; None where there is none on that side."""
        place = self.production.position
        here = place(self.target)
        before = max((each for each in self.shows if place(each) < here), key=place, default=None)
        return before, min((each for each in self.shows if place(each) > here), key=place, default=None)

    def sighted(self, example: str) -> Sighted:
        """The machine with the one value that was seen on it, first dated as early as any sighting of it."""
        (value,) = self.shows[example]
        seen = self.sightings[example]
        return Sighted(
            example=example,
            value=value,
            shown=self.words[value],
            when=_first([each.seen.when for each in seen if each.seen.when is not None]),
            sources=tuple(sorted({each.source for each in seen})),
        )

    def named(self, values: frozenset[str]) -> str:
        """Values in words, in order."""
        return listed([f"“{self.words[value]}”" for value in sorted(values)])


def _line(feature: Feature, groups: Sequence[Group], archive: Archive, weights: Weights) -> _Line:
    target = archive.target.example if archive.target else ""

    def tells(seen: Seen) -> bool:
        is_another = seen.example != target and seen.example in archive.production
        return is_another and not why_not_as_built(seen, archive, weights.same_time)

    sightings: dict[str, list[Sighting]] = defaultdict(list)
    for each in sightings_of(feature, groups):
        if tells(each.seen):
            sightings[each.seen.example].append(each)
    denied: dict[str, frozenset[str]] = {}
    for each in sightings_against(groups):
        if tells(each.seen):
            denied[each.seen.example] = denied.get(each.seen.example, frozenset()) | each.values
    shows = {example: values_shown(seen) for example, seen in sightings.items()}
    return _Line(
        production=archive.production,
        target=target,
        sightings=sightings,
        shows={example: values for example, values in shows.items() if values},
        denied=denied,
        words={group.value: group.shown for group in groups},
    )


def _why_none(line: _Line, before: str, after: str) -> Iterator[str]:
    """Say why no change-over is computed, each reason in one sentence; the first one is printed."""
    none = "so no change from one machine to the next is computed"
    for example, side in ((before, "before"), (after, "after")):
        values = line.shows[example]
        nearest = f"No. {example}, the nearest machine seen {side} No. {line.target}"
        if len(values) > 1:
            yield f"{nearest}, was seen with {line.named(values)}, {none}."
        elif values & line.denied.get(example, frozenset()):
            yield f"{nearest}, was seen with {line.named(values)} and without it, {none}."
    (old,), (new,) = sorted(line.shows[before])[:1], sorted(line.shows[after])[:1]
    if old == new:
        alike = (
            f"No. {before} before No. {line.target} and No. {after} after it were both seen with “{line.words[old]}”"
        )
        yield f"{alike}, so no change between them is assumed."
    yield from (f"{reason}, {none}." for reason in _why_not_clean(line, (before, old), (after, new)))


def _why_not_clean(line: _Line, before: tuple[str, str], after: tuple[str, str]) -> Iterator[str]:
    """Say of each machine, in order of production, what makes it more than one change from the old to the new."""
    place = line.production.position
    (last_old, old), (first_new, new) = before, after
    for example in sorted(line.shows, key=place):
        values = line.shows[example]
        if {old, new} <= values:
            yield f"No. {example} was seen with both {line.named(frozenset({old, new}))}"
        elif new in values and place(example) <= place(last_old):
            yield f"“{line.words[new]}” was seen on No. {example} already, before “{line.words[old]}” on No. {last_old}"
        elif old in values and place(example) >= place(first_new):
            yield f"“{line.words[old]}” was seen on No. {example} still, after “{line.words[new]}” on No. {first_new}"


def _computed(line: _Line, before: str, after: str, batch_step: float) -> ChangeAnswer:
    old, new = line.sighted(before), line.sighted(after)
    first, last = line.production.position(before), line.production.position(after)
    run = line.production.order[first + 1 : last + 1]
    begins = {batch.examples[0] for batch in line.production.batches if batch.examples}
    shares = [batch_step if example in begins else 1.0 for example in run]
    reached = run.index(line.target) + 1
    had_new, had_old = sum(shares[:reached]), sum(shares[reached:])
    total = had_new + had_old
    is_new = (-same_chance(had_new / total), new.value) < (-same_chance(had_old / total), old.value)
    change = ChangeOver(
        over=Over.SEQUENCE,
        before=old,
        after=new,
        value=new.value if is_new else old.value,
        probability=(had_new if is_new else had_old) / total,
        chances=((before, 0.0), *zip(run, (share / total for share in accumulate(shares)), strict=True)),
    )
    step = batch_step if begins & set(run) else 1.0
    return ChangeAnswer(change_over=change, said=f"{_said(line.target, change, step)}{_mind(line, before, after)}.")


def _said(target: str, change: ChangeOver, step: float) -> str:
    old, new = change.before, change.after
    value = new.shown if change.value == new.value else old.shown
    seen = f"“{old.shown}” was seen on No. {old.example} and “{new.shown}” on No. {new.example}"
    where = f"it changed somewhere after No. {old.example} and up to No. {new.example}"
    likely = f"and No. {target} has “{value}” with {chance_in_words(change.probability)}"
    taken = "" if step == 1 else f", a change being taken as {step:g} times as likely with the first machine of a batch"
    return f"{seen}: {where}, {likely}{taken}"


def _mind(line: _Line, *examples: str) -> str:
    """Say which of the nearest machines nobody could tell by its number or a caption; empty where none is such."""
    doubtful = [
        f"No. {example}"
        for example in examples
        if all(each.seen.known_by is KnownBy.LIKENESS for each in line.sightings[example])
    ]
    known = "is known" if len(doubtful) == 1 else "are known"
    return f"; mind that {listed(doubtful)} {known} by likeness only" if doubtful else ""


def _first(dates: Sequence[EdtfDate]) -> EdtfDate | None:
    """Give the date that begins earliest; of several the one that ends earliest; open beginnings last."""
    return min(dates, key=_begins, default=None)


def _begins(date: EdtfDate) -> tuple[bool, object, bool, object, str]:
    earliest, latest = date.earliest, date.latest
    return earliest is None, earliest or (), latest is None, latest or (), date.text
