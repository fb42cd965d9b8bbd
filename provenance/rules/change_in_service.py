"""A change during the life of the machine represented: it was seen with one value, and later with another."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from provenance.records.archive import Archive, Target
from provenance.records.components import Feature
from provenance.records.dates import Day, EdtfDate
from provenance.records.kinds import Changes
from provenance.rules.assessing import Assessed
from provenance.rules.candidates import Group
from provenance.rules.change_values import ChangeAnswer, ChangeOver, Over, Sighted
from provenance.rules.grades import Category
from provenance.rules.posterior import same_chance
from provenance.rules.sentences import chance_in_words
from provenance.rules.sighted_values import Sighting, sightings_against, sightings_of

_NOTHING = ChangeAnswer()


@dataclass(frozen=True, slots=True)
class _Dated:
    sighting: Sighting
    when: EdtfDate


@dataclass(frozen=True, slots=True)
class _Change:
    """A change that the dates prove: the last day that the old value may have been seen, the first of the new one."""

    old: str
    new: str
    last_old: Day
    first_new: Day

    def is_earlier(self, when: EdtfDate) -> bool:
        """Whether the whole of a date lies at or before the last day of the old value."""
        return when.latest is not None and when.latest <= self.last_old

    def is_later(self, when: EdtfDate) -> bool:
        """Whether the whole of a date lies at or after the first day of the new value."""
        return when.earliest is not None and when.earliest >= self.first_new


def over_time(feature: Feature, groups: Sequence[Group], archive: Archive) -> tuple[Sequence[Group], ChangeAnswer]:
    """Say whether the machine represented changed during its life, and what that does to what was seen of it.

    Asked of a feature that changes in service, where dated direct sightings of weight show the machine with two values
    in all and go for certain from the one to the other. As at a day at or before the last sighting of the old value,
    what was seen of the machine after the change weighs as what is seen of a sister; as at a day at or after the first
    of the new value, what was seen before it. In between nothing is placed anew: the chance of the new value grows
    evenly from the one sighting to the other. Where the order of the dates is only possible, nothing is changed, and
    that is said.

    Args:
        feature: the feature.
        groups: its values with the items that speak of each; left as they are.
        archive: says what is represented, and as at which date.

    Returns:
        The groups to judge by, those that came where nothing is placed anew; and what is said, with the change-over
        where the day represented lies between the two values.
    """
    if feature.changes is not Changes.IN_SERVICE or archive.target is None:
        return groups, _NOTHING
    target = archive.target
    dated = _dated(sightings_of(feature, groups), target)
    pair = _two_values(dated)
    if pair is None:
        return groups, _NOTHING
    words = {group.value: group.shown for group in groups}
    change = _find_change(pair, dated, _dated(sightings_against(groups), target))
    if change is None:
        seen = f"No. {target.example} was seen with “{words[pair[0]]}” and with “{words[pair[1]]}”"
        return groups, ChangeAnswer(
            said=f"{seen}, but not for certain with the one first and the other later, so no change is assumed."
        )
    return _as_at(target, change, groups, dated)


def _dated(sightings: Sequence[Sighting], target: Target) -> list[_Dated]:
    of_it = [each for each in sightings if each.seen.example == target.example]
    return [_Dated(each, each.seen.when) for each in of_it if each.seen.when is not None]


def _two_values(dated: Sequence[_Dated]) -> tuple[str, str] | None:
    """Give the two values that the machine was seen with, in order of text; None where they are not two in all.

    A broken reading may be of either; one that fits neither is of a third.
    """
    shown = [each.sighting.values for each in dated]
    certain = sorted({value for values in shown for value in values if len(values) == 1})
    if len(certain) != 2 or any(values.isdisjoint(certain) for values in shown):
        return None
    return certain[0], certain[1]


def _find_change(pair: tuple[str, str], dated: Sequence[_Dated], denied: Sequence[_Dated]) -> _Change | None:
    """Find the change from one value to the other that the dates prove; None where they prove none."""
    for old, new in (pair, pair[::-1]):
        lasts = [each.when.latest for each in dated if _is_of(each, old, new)]
        firsts = [each.when.earliest for each in dated if _is_of(each, new, old)]
        known_lasts, known_firsts = [day for day in lasts if day], [day for day in firsts if day]
        if len(known_lasts) < len(lasts) or len(known_firsts) < len(firsts):
            continue
        change = _Change(old, new, max(known_lasts), min(known_firsts))
        if change.last_old < change.first_new and all(_agrees(each, change) for each in denied):
            return change
    return None


def _is_of(dated: _Dated, value: str, other: str) -> bool:
    """Say whether of the two values a sighting can only be of that one."""
    return value in dated.sighting.values and other not in dated.sighting.values


def _agrees(denied: _Dated, change: _Change) -> bool:
    """Say whether a sighting without a value fits a change: the old one is missed after it, the new one before."""
    if change.old in denied.sighting.values:
        return change.is_later(denied.when)
    return change.new not in denied.sighting.values or change.is_earlier(denied.when)


def _as_at(
    target: Target, change: _Change, groups: Sequence[Group], dated: Sequence[_Dated]
) -> tuple[Sequence[Group], ChangeAnswer]:
    as_at = target.as_at
    before, after = _ends(target, change, groups, dated)
    seen = f"No. {target.example} was seen with “{before.shown}” ({before.when}) and later with “{after.shown}”"
    seen = f"{seen} ({after.when})"
    if any(_is_of(each, change.old, change.new) and _at_or_before(as_at, each.when) for each in dated):
        why = f"as it was after the change from “{before.shown}” to “{after.shown}”"
        moved = _placed_anew(groups, target, (change.new, change.old), change.is_later, why)
        said = f"{seen}; what was seen after the change counts as a sister of its batch would."
        return moved, ChangeAnswer(said=said)
    if any(_is_of(each, change.new, change.old) and _at_or_before(each.when, as_at) for each in dated):
        why = f"as it was before the change from “{before.shown}” to “{after.shown}”"
        moved = _placed_anew(groups, target, (change.old, change.new), change.is_earlier, why)
        said = f"{seen}; what was seen before the change counts as a sister of its batch would."
        return moved, ChangeAnswer(said=said)
    if as_at.earliest and as_at.latest and change.last_old < as_at.earliest and as_at.latest < change.first_new:
        return groups, _between(target, change, (before, after), (as_at.earliest, as_at.latest))
    unsure = f"whether the day represented ({as_at}) lies before or after the change is not certain"
    return groups, ChangeAnswer(said=f"{seen}; {unsure}, so no change is assumed.")


def _at_or_before(one: EdtfDate, other: EdtfDate) -> bool:
    """Say whether one date lies for certain at or before another; the same days as written count as one time."""
    if one.latest is None or other.earliest is None:
        return False
    return one.latest <= other.earliest or (one.earliest, one.latest) == (other.earliest, other.latest)


def _ends(target: Target, change: _Change, groups: Sequence[Group], dated: Sequence[_Dated]) -> tuple[Sighted, Sighted]:
    """Give the last sighting with the old value and the first with the new one."""
    words = {group.value: group.shown for group in groups}

    def sighted(value: str, ends: Sequence[_Dated]) -> Sighted:
        when = min((each.when for each in ends), key=_shortest)
        sources = tuple(sorted({each.sighting.source for each in ends}))
        return Sighted(example=target.example, value=value, shown=words[value], when=when, sources=sources)

    lasts = [each for each in dated if _is_of(each, change.old, change.new) and each.when.latest == change.last_old]
    firsts = [each for each in dated if _is_of(each, change.new, change.old) and each.when.earliest == change.first_new]
    return sighted(change.old, lasts), sighted(change.new, firsts)


def _shortest(when: EdtfDate) -> tuple[float, str]:
    """Order dates that share one end: the one that is known most closely first."""
    if when.earliest is None or when.latest is None:
        return float("inf"), when.text
    return when.latest.ordinal - when.earliest.ordinal, when.text


def _placed_anew(
    groups: Sequence[Group],
    target: Target,
    values: tuple[str, str],
    is_on_the_other_side: Callable[[EdtfDate], bool],
    why: str,
) -> Sequence[Group]:
    """Give the groups with the sightings from beyond the change placed as those of a sister.

    Args:
        groups: left as they are.
        target: what is represented.
        values: the value beyond the change, then the one that the day represented has.
        is_on_the_other_side: says of a date whether all of it lies beyond the change.
        why: what such a sighting shows, in words.
    """
    beyond, held = values
    speaking = [each for group in groups if group.value == beyond for each in group.supporting]
    speaking += [each for group in groups if group.value == held for each in group.contradicting]
    moved = {
        id(each): _as_of_a_sister(each, why)
        for each in speaking
        if each.seen is not None
        and each.seen.example == target.example
        and each.seen.when is not None
        and each.reach.category in (Category.ITSELF, Category.COVERED)
        and is_on_the_other_side(each.seen.when)
    }
    return [
        replace(
            group,
            supporting=[moved.get(id(each), each) for each in group.supporting],
            contradicting=[moved.get(id(each), each) for each in group.contradicting],
        )
        for group in groups
    ]


def _as_of_a_sister(assessed: Assessed, why: str) -> Assessed:
    reach = replace(assessed.reach, category=Category.SAME_BATCH, reason=f"{assessed.reach.reason}, but {why}")
    return replace(assessed, reach=reach)


def _between(target: Target, change: _Change, ends: tuple[Sighted, Sighted], bounds: tuple[Day, Day]) -> ChangeAnswer:
    """Let the chance of the new value grow evenly from the last day of the old value to the first of the new one."""
    old, new = ends
    start, end = change.last_old.ordinal, change.first_new.ordinal
    middle = (bounds[0].ordinal + bounds[1].ordinal) / 2
    had_new, had_old = (middle - start) / (end - start), (end - middle) / (end - start)
    is_new = (-same_chance(had_new), new.value) < (-same_chance(had_old), old.value)
    likely, probability = (new, had_new) if is_new else (old, had_old)
    change_over = ChangeOver(over=Over.TIME, before=old, after=new, value=likely.value, probability=probability)
    seen = (
        f"No. {target.example} was last seen with “{old.shown}” ({old.when}) and first with “{new.shown}” ({new.when})"
    )
    day = f"if it may have changed on any day between, it has “{likely.shown}” as at {target.as_at}"
    return ChangeAnswer(change_over=change_over, said=f"{seen}: {day} with {chance_in_words(probability)}.")
