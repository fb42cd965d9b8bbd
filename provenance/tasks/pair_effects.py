"""Which verdicts a ruling on two likely copies could change at all: a quick look, so that only these are judged anew.

A ruling changes a verdict by way of two items of evidence that are one witness before and two after, or the other way
round. So a feature is judged anew only where two of its items near the pair are one witness for no better reason than
likely copies, or where two items would come to have something in common.
"""

from collections.abc import Collection, Iterator
from itertools import combinations, permutations

from provenance.records.archive import Archive
from provenance.records.decisions import CopyPair
from provenance.rules.copy_families import COPY
from provenance.rules.descent import UNSTATED, WITNESS
from provenance.rules.verdicts import Verdict
from provenance.tasks.pair_reach import PairReach


class PairEffects:
    """Tells it of pair after pair; what all of them need is worked out once.

    Args:
        archive: the archive.
        verdicts: on all its features, by `component/feature`.
        reach: of the pairs of that archive.
    """

    def __init__(self, archive: Archive, verdicts: Collection[Verdict], reach: PairReach) -> None:
        """Note the descents of all items of weight."""
        self._reach = reach
        self._descents = {verdict.feature: tuple(_descents(verdict)) for verdict in verdicts}
        # Who is made from a replaced issue ends with it, and who is made from the later issue as well does not.
        later = {source.id for source in archive.sources.values() if source.replaces is not None}
        replaced = {source.replaces for source in archive.sources.values() if source.replaces is not None}
        withdrawn = {source.id for source in archive.sources.values() if source.withdrawn is not None}
        self._ending = replaced | later | withdrawn

    def if_distinct(self, pair: CopyPair) -> frozenset[str]:
        """The features whose verdict may change where a pair stands no longer for one witness.

        Args:
            pair: open, or ruled a copy.
        """
        near = self._near(pair)
        return frozenset(feature for feature in self._reach.of_pair(pair) if self._may_part(feature, near))

    def if_copy(self, pair: CopyPair, later: str | None, earlier: str | None) -> frozenset[str]:
        """The features whose verdict may change where one of two is made from the other, or both from a third.

        Args:
            pair: open, or ruled distinct.
            later: the one that is then on record as made from the other; None for neither.
            earlier: that other; None for neither.
        """
        near = self._near(pair).union(*map(self._reach.ahead, pair.between))
        own = self._reach.of_source(later) if later is not None else frozenset()
        ends = earlier is not None and not self._reach.behind(earlier).isdisjoint(self._ending)
        return frozenset(
            feature
            for feature in own | self._reach.of_any(near)
            if (ends and feature in own)
            or self._may_part(feature, near)
            or (later is not None and feature in own and self._may_lose(feature, later))
            or self._may_meet(feature, near)
        )

    def _near(self, pair: CopyPair) -> frozenset[str]:
        return frozenset[str]().union(*(self._reach.side(source, without=pair.id) for source in pair.between))

    def _may_part(self, feature: str, near: frozenset[str]) -> bool:
        """Whether two items near the pair are one witness only as likely copies."""
        beside = [each for each in self._descents[feature] if not near.isdisjoint(each)]
        return any(_share_only(one, other, (COPY,)) for one, other in combinations(beside, 2))

    def _may_lose(self, feature: str, later: str) -> bool:
        """Whether an item from a source is one witness with another for who tells of it, and not for what it is."""
        return any(
            later in one and _share_only(one, other, (COPY, UNSTATED, WITNESS))
            for one, other in permutations(self._descents[feature], 2)
        )

    def _may_meet(self, feature: str, near: frozenset[str]) -> bool:
        """Whether an item near the pair shares nothing with another by now: both may come to go back to one thing."""
        every = self._descents[feature]
        beside = (each for each in every if not near.isdisjoint(each))
        return any(one.isdisjoint(other) for one in beside for other in every)


def _descents(verdict: Verdict) -> Iterator[frozenset[str]]:
    for candidate in verdict.candidates:
        yield from (item.descent for item in candidate.items if item.weight > 0)


def _share_only(one: frozenset[str], other: frozenset[str], light: tuple[str, ...]) -> bool:
    shared = one & other
    return bool(shared) and all(name.startswith(light) for name in shared)
