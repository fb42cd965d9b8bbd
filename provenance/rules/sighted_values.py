"""What single machines were seen to have: the sightings that change-overs are computed from."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from provenance.records.archive import Archive
from provenance.records.claims import Seen
from provenance.records.components import Feature
from provenance.records.dates import certainly_before, certainly_more_than_years
from provenance.records.kinds import FeatureKind
from provenance.records.wording import fold_wording
from provenance.rules.assessing import Assessed
from provenance.rules.candidates import UNREADABLE, Group


@dataclass(frozen=True, slots=True)
class Sighting:
    """A direct sighting of weight of one machine.

    Attributes:
        assessed: the item.
        seen: the machine, and when it was seen.
        values: as the answer gives them; one, or several where a broken reading fits several and may be any of them.
    """

    assessed: Assessed
    seen: Seen
    values: frozenset[str]

    @property
    def source(self) -> str:
        """The id of the source."""
        return self.assessed.item.source


def sightings_of(feature: Feature, groups: Sequence[Group]) -> tuple[Sighting, ...]:
    """Gather the sightings that support some value, each once, in order of claim, source and place.

    A reading with letters missing stands under every value that it fits, and two such readings may be of one text: it
    then shows one of several values, and never two of them.
    """
    alike = _alike(feature, groups)
    items: dict[int, tuple[Assessed, Seen]] = {}
    values: dict[int, set[str]] = {}
    for group in groups:
        for each, seen in _direct(group.supporting):
            items[id(each)] = (each, seen)
            values.setdefault(id(each), set()).update(alike[group.value])
    sightings = [Sighting(each, seen, frozenset(values[number])) for number, (each, seen) in items.items()]
    return tuple(sorted(sightings, key=lambda sighting: (sighting.assessed.key, sorted(sighting.values))))


def sightings_against(groups: Sequence[Group]) -> tuple[Sighting, ...]:
    """Gather the sightings that a machine did not have a value, one for each value, in any order."""
    return tuple(
        Sighting(each, seen, frozenset({group.value}))
        for group in groups
        for each, seen in _direct(group.contradicting)
    )


def values_shown(sightings: Sequence[Sighting]) -> frozenset[str]:
    """Say what sightings of one machine show it to have: one value, several that cannot be one, or none for certain.

    Broken readings add nothing where they fit what is seen for certain, and by themselves tell a value only where all
    of them fit one alone; where nothing fits all, the machine was seen with more than one value.
    """
    certain = frozenset(value for sighting in sightings for value in sighting.values if len(sighting.values) == 1)
    broken = [sighting.values for sighting in sightings if len(sighting.values) > 1]
    if certain:
        return certain.union(*(values for values in broken if certain.isdisjoint(values)))
    if not broken:
        return certain
    fitting = frozenset.intersection(*broken)
    if fitting:
        return fitting if len(fitting) == 1 else frozenset()
    return frozenset.union(*broken)


def why_not_as_built(seen: Seen, archive: Archive, same_time: int) -> str:
    """Say why a sighting of a machine does not tell how it was built; empty where it is taken to tell.

    One that is not dated is taken, and so is one of which it is only possible that it is too late.

    Args:
        seen: a machine of the production sequence.
        archive: says when it was built, and what happened to it.
        same_time: for how many calendar years a machine is taken to have stayed the same.
    """
    if seen.when is None:
        return ""
    if certainly_more_than_years(archive.production.batch_of(seen.example).built, seen.when, same_time):
        return f"seen more than {same_time} years after it was built"
    for event in archive.events:
        if event.example == seen.example and certainly_before(event.date, seen.when):
            return f"seen after what happened to it: {event.what} ({event.date})"
    return ""


def _direct(items: Iterable[Assessed]) -> Iterator[tuple[Assessed, Seen]]:
    for each in items:
        if each.seen is not None and each.weight > 0 and each.weighed.direct:
            yield each, each.seen


def _alike(feature: Feature, groups: Sequence[Group]) -> dict[str, set[str]]:
    """Give for each value those that may be the same text: itself, and of two broken readings the other."""
    alike = {group.value: {group.value} for group in groups}
    if feature.kind is FeatureKind.TEXT:
        broken = [group.value for group in groups if UNREADABLE in fold_wording(group.value)]
        for value in broken:
            alike[value].update(other for other in broken if _may_be_one(value, other))
    return alike


def _may_be_one(one: str, other: str) -> bool:
    """Say whether some text fits two broken readings: their beginnings agree, and their ends.

    Between its first and its last gap each may take in whatever the other has there.
    """
    parts, others = fold_wording(one).split(UNREADABLE), fold_wording(other).split(UNREADABLE)
    begins = parts[0].startswith(others[0]) or others[0].startswith(parts[0])
    ends = parts[-1].endswith(others[-1]) or others[-1].endswith(parts[-1])
    return begins and ends
