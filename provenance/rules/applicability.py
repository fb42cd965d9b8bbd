"""What an item says about the machine that is represented: the category, and why."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from provenance.records.claims import AppliesTo, EvidenceItem, Seen
from provenance.records.dates import (
    EdtfDate,
    certainly_after,
    certainly_before,
    certainly_more_than_years_apart,
)
from provenance.records.kinds import KnownBy, SourceKind
from provenance.records.sources import Source
from provenance.rules.grades import Category
from provenance.rules.replaced_issues import Replacement
from provenance.rules.standpoint import Standpoint, examples_of

SIGHTS = frozenset(
    {
        SourceKind.PHOTOGRAPH,
        SourceKind.FILM,
        SourceKind.ARTEFACT,
        SourceKind.SURVEY,
        SourceKind.ANALYSIS,
        SourceKind.LOGBOOK,
        SourceKind.REPORT,
    }
)
"""The kinds of source in which a single machine may have been seen; what others say is a statement."""

_KNOWN_BY = {
    KnownBy.NUMBER: (Category.ITSELF, "this machine, known by its number"),
    KnownBy.CAPTION: (Category.COVERED, "this machine by its caption; its number cannot be seen"),
    KnownBy.LIKENESS: (Category.SAME_BATCH, "what is thought to be this machine, by likeness only"),
}


@dataclass(frozen=True, slots=True)
class Reach:
    """How near an item comes to the machine that is represented.

    Attributes:
        category: the category.
        reason: why, in words.
        notes: what is only possible of the dates, in words.
        joins: the source whose word that parts are interchangeable brought it nearer; None for none.
        circular: the machine was told by a sign that an option of the feature lists, so it proves nothing.
    """

    category: Category
    reason: str
    notes: tuple[str, ...] = ()
    joins: str | None = None
    circular: bool = False


def seen_in(item: EvidenceItem, source: Source | None, component: str) -> Seen | None:
    """Name the machine that was seen: the item's own, else the single one that its source shows.

    The source's counts for photographs, film, artefacts, surveys, analyses, logbooks and reports, where exactly one of
    its entries names an example, and not for another component. None: a statement.
    """
    if item.seen is not None or source is None or source.kind not in SIGHTS:
        return item.seen
    named = [shown for shown in source.shows if shown.example is not None]
    if len(named) != 1 or named[0].example is None or named[0].component not in (None, component):
        return None
    only = named[0]
    return Seen(example=named[0].example, when=only.when, known_by=only.known_by or KnownBy.CAPTION)


def reach_of_sighting(
    seen: Seen, standpoint: Standpoint, same_time: int, out: frozenset[str], *, in_words: bool = False
) -> Reach:
    """Say how near a sighting of a single machine comes to the one represented.

    Args:
        seen: the machine, when it was seen and how it is known.
        standpoint: what it is held against.
        same_time: for how many calendar years a machine is taken to have stayed the same.
        out: ids of sources that are out of judgement.
        in_words: whether the source tells of the machine in words, as a logbook does; any other shows it.
    """
    if standpoint.target is None or standpoint.as_at is None:
        return _NO_TARGET
    if seen.example == standpoint.target:
        reach = _sighting_of_the_target(seen, standpoint, standpoint.as_at, same_time)
    else:
        reach = _sighting_of_another(seen.example, standpoint, out)
    reason = f"{'speaks of' if in_words else 'shows'} {reach.reason}"
    circular = [sign for sign in seen.signs if sign in standpoint.told_apart_by]
    if not circular:
        return replace(reach, reason=reason)
    reason = f"{reason}, but told by a sign of this very feature ({', '.join(circular)}), which proves nothing"
    return Reach(reach.category, reason, reach.notes, reach.joins, circular=True)


def reach_of_statement(
    applies_to: AppliesTo, standpoint: Standpoint, replaced: Replacement | None, out: frozenset[str]
) -> Reach:
    """Say how near a statement comes to the machine that is represented.

    Args:
        applies_to: what it covers by its own word.
        standpoint: what it is held against.
        replaced: the later issue that ended the one it stands in; None for none.
        out: ids of sources that are out of judgement.
    """
    if standpoint.target is None or standpoint.counts is None:
        return _NO_TARGET
    excluded = _other_time(applies_to, replaced, standpoint.counts, standpoint.counts_words)
    if excluded is not None:
        return Reach(Category.OTHER_TIME, excluded)
    notes = tuple(_doubts_of_period(applies_to, replaced, standpoint.counts, standpoint.counts_words))
    if applies_to.related is not None:
        return Reach(Category.RELATED_TYPE, f"speaks of a related type, {applies_to.related}", notes)
    examples = examples_of(applies_to, standpoint.production)
    if not examples:
        return Reach(Category.UNKNOWN, "speaks of machines that are not in the order of production", notes)
    category, reason = _nearness(examples, standpoint)
    reach = Reach(category, reason, notes)
    return reach if standpoint.target in examples else _over_common_parts(reach, examples, standpoint, out)


_NO_TARGET = Reach(Category.UNKNOWN, "the archive does not say yet which machine is represented, and when")


def _nearness(examples: frozenset[str], standpoint: Standpoint) -> tuple[Category, str]:
    if examples == {standpoint.target}:
        return Category.ITSELF, "speaks of this machine alone"
    if standpoint.target in examples:
        return Category.COVERED, "speaks of a group with this machine in it"
    if examples & standpoint.batch:
        return Category.SAME_BATCH, "speaks of a sister of the same batch"
    return Category.SAME_TYPE, "speaks of machines of other batches"


def _over_common_parts(reach: Reach, examples: frozenset[str], standpoint: Standpoint, out: frozenset[str]) -> Reach:
    """Raise what is said of other machines where the part is interchangeable with theirs, on the word of a source.

    A source that stands comes before one that is out of judgement. With the latter alone the item stays raised, goes
    back to it, and so is out of judgement with it.
    """
    says_so = [source for common, source in standpoint.common if examples <= common]
    if not says_so:
        return reach
    source = next((source for source in says_so if source not in out), says_so[0])
    reason = f"{reach.reason}, over which this part is interchangeable by the word of another source"
    return Reach(Category.COVERED, reason, reach.notes, joins=source)


def _sighting_of_another(example: str, standpoint: Standpoint, out: frozenset[str]) -> Reach:
    if example in standpoint.batch:
        sister = Reach(Category.SAME_BATCH, f"No. {example}, of the same batch")
        return _over_common_parts(sister, frozenset({example}), standpoint, out)
    if example in standpoint.production:
        other = Reach(Category.SAME_TYPE, f"No. {example}, of another batch")
        return _over_common_parts(other, frozenset({example}), standpoint, out)
    if example in standpoint.related:
        return Reach(Category.RELATED_TYPE, f"a related type, {example}")
    return Reach(Category.UNKNOWN, f"{example}, which is no machine of the archive's")


def _sighting_of_the_target(seen: Seen, standpoint: Standpoint, as_at: EdtfDate, same_time: int) -> Reach:
    category, reason = _KNOWN_BY[seen.known_by]
    if seen.when is None:
        return Reach(category, reason, ("when it was seen is not known",))
    if certainly_more_than_years_apart(seen.when, as_at, same_time):
        years = f"{reason}, but more than {same_time} years from the day represented ({seen.when})"
        return Reach(Category.SAME_BATCH, years)
    for event in standpoint.events:
        if _lies_between(event.date, seen.when, as_at, certainly_before):
            side = "before" if certainly_before(seen.when, event.date) else "after"
            return Reach(Category.SAME_BATCH, f"{reason}, but {side} what happened to it: {event.what} ({event.date})")
    return Reach(category, reason, tuple(_doubts_of_sighting(seen.when, standpoint, as_at, same_time)))


def _doubts_of_sighting(when: EdtfDate, standpoint: Standpoint, as_at: EdtfDate, same_time: int) -> Iterator[str]:
    if _possibly_more_than_years(when, as_at, same_time) or _possibly_more_than_years(as_at, when, same_time):
        yield f"it may have been seen more than {same_time} years from the day represented ({when})"
    for event in standpoint.events:
        if _lies_between(event.date, when, as_at, _possibly_before):
            yield f"what happened to it may lie between that day and the one represented: {event.what} ({event.date})"


def _other_time(applies_to: AppliesTo, replaced: Replacement | None, counts: EdtfDate, words: str) -> str | None:
    if applies_to.since is not None and certainly_after(applies_to.since, counts):
        return f"came later: from {applies_to.since}, after {words} ({counts})"
    if applies_to.until is not None and certainly_before(applies_to.until, counts):
        return f"had ended: until {applies_to.until}, before {words} ({counts})"
    if replaced and replaced.created is not None and certainly_before(replaced.created, counts):
        return f"had ended: a later issue of {replaced.created} replaced it, before {words} ({counts})"
    return None


def _doubts_of_period(
    applies_to: AppliesTo, replaced: Replacement | None, counts: EdtfDate, words: str
) -> Iterator[str]:
    if applies_to.since is not None and _possibly_before(counts, applies_to.since):
        yield f"it may have come later (from {applies_to.since}) than {words} ({counts})"
    if applies_to.until is not None and _possibly_before(applies_to.until, counts):
        yield f"it may have ended (until {applies_to.until}) before {words} ({counts})"
    if replaced and replaced.created is None:
        yield "a later issue replaced it, at a date not known"
    elif replaced and replaced.created is not None and _possibly_before(replaced.created, counts):
        yield f"a later issue may have replaced it ({replaced.created}) before {words} ({counts})"


def _lies_between(date: EdtfDate, one: EdtfDate, other: EdtfDate, before: Callable[[EdtfDate, EdtfDate], bool]) -> bool:
    return (before(one, date) and before(date, other)) or (before(other, date) and before(date, one))


def _possibly_before(a: EdtfDate, b: EdtfDate) -> bool:
    return a.earliest is None or b.latest is None or a.earliest < b.latest


def _possibly_more_than_years(earlier: EdtfDate, later: EdtfDate, years: int) -> bool:
    return earlier.earliest is None or later.latest is None or earlier.earliest.plus_years(years) < later.latest
