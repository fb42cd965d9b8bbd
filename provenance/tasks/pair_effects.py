"""Which verdicts a ruling on two likely copies could change at all: a quick look, so that only these are judged anew.

A ruling changes a verdict by way of two items of evidence that are one witness before and two after, or the other way
round; or because a source then ends with an issue that was replaced, or no longer does. So the descents of what is near
the pair are worked out as they are and as they would be, and a feature is judged anew only where two of its items share
something in the one case and nothing in the other.
"""

from collections import defaultdict
from collections.abc import Collection, Container, Iterable, Iterator, Mapping
from dataclasses import replace

from provenance.records.archive import Archive
from provenance.records.claims import EvidenceItem
from provenance.records.decisions import CopyPair
from provenance.records.sources import Source
from provenance.rules.descent import Lineage
from provenance.rules.verdicts import Verdict
from provenance.tasks.pair_reach import PairReach

_Items = tuple[tuple[EvidenceItem, frozenset[str]], ...]


class PairEffects:
    """Tells it of pair after pair; what all of them need is worked out once.

    Args:
        archive: the archive.
        verdicts: on all its features, by `component/feature`.
        reach: of the pairs of that archive.
    """

    def __init__(self, archive: Archive, verdicts: Collection[Verdict], reach: PairReach) -> None:
        """Note the items of weight with their descents, and which source they come from."""
        self._sources = archive.sources
        self._reach = reach
        self._before = Lineage(archive)
        self._items: Mapping[str, _Items] = {verdict.feature: tuple(_items(verdict)) for verdict in verdicts}
        self._from: dict[str, set[str]] = defaultdict(set)
        self._through: dict[str, set[str]] = defaultdict(set)
        for feature, items in self._items.items():
            for item, _ in items:
                self._from[item.source].add(feature)
                if item.via is not None or item.at.who is not None:
                    self._through[item.source].add(feature)
                if item.via is not None:
                    self._through[item.via].add(feature)
        # Who is made from a replaced issue ends with it, and who is made from the later issue as well does not.
        later = {source.id for source in archive.sources.values() if source.replaces is not None}
        replaced = {source.replaces for source in archive.sources.values() if source.replaces is not None}
        withdrawn = {source.id for source in archive.sources.values() if source.withdrawn is not None}
        self._ending = replaced | later | withdrawn

    def of_ruling(self, ruled: CopyPair, changed: Source | None) -> frozenset[str]:
        """Give the features whose verdict may change.

        Args:
            ruled: the pair as it would be ruled.
            changed: the one of the two of which the record would say otherwise what it was made from; None for neither.
        """
        part = self._reach.part_around(self._reach.near(ruled))
        sources = {**part.sources, changed.id: changed} if changed else part.sources
        after = Lineage(replace(part, sources=sources, copies={**part.copies, ruled.id: ruled}))
        reached = self._reach.of_source(changed.id) if changed else frozenset()
        ended = reached if changed and self._may_end(changed) else frozenset()
        return ended | {
            each for each in self._moved(after, sources) if self._is_parted(self._items[each], after, sources)
        }

    def _moved(self, after: Lineage, sources: Iterable[str]) -> frozenset[str]:
        """The features with an item from a source that would go back to something else; or that may, by another way."""
        moved = [each for each in sources if self._before.of_source(each) != after.of_source(each)]
        by_another = (self._through.get(each, ()) for each in sources)
        return frozenset[str]().union(*(self._from.get(each, ()) for each in moved), *by_another)

    def _may_end(self, changed: Source) -> bool:
        """Whether what it is made from, then or now, is an issue that was replaced or the like."""
        parents = {parent.source for parent in changed.derives_from}
        before = {parent.source for parent in self._sources[changed.id].derives_from}
        return any(not self._reach.behind(each).isdisjoint(self._ending) for each in parents ^ before)

    def _is_parted(self, items: _Items, after: Lineage, near: Container[str]) -> bool:
        """Whether any two items that share nothing would share something, or the other way round."""
        then = [descent for _, descent in items]
        moved = []
        for number, (item, descent) in enumerate(items):
            if item.source in near or item.via in near:
                old, new = self._before.of_item(item), after.of_item(item)
                if old != new:
                    # What is not its own descent comes from others on whose word it stands, such as about signs.
                    then[number] = new | (descent - old)
                    moved.append(number)
        return any(
            then[one].isdisjoint(then[other]) != items[one][1].isdisjoint(items[other][1])
            for one in moved
            for other in range(len(items))
            if other != one
        )


def _items(verdict: Verdict) -> Iterator[tuple[EvidenceItem, frozenset[str]]]:
    for candidate in verdict.candidates:
        yield from ((item.item, item.descent) for item in candidate.items if item.weight > 0)
