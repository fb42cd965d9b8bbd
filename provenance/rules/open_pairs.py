"""The pairs of likely copies on which a count of witnesses hangs until somebody rules on them."""

from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace

from provenance.records.archive import Archive
from provenance.records.decisions import CopyPair
from provenance.records.kinds import Ruling, Stance
from provenance.rules.copy_families import COPY, Place, is_of_a_family, places_of, shared_by
from provenance.rules.descent import Lineage
from provenance.rules.verdicts import JudgedItem, Verdict


class OpenPairs:
    """The open pairs of an archive, by what their sources share.

    Attributes:
        has_any: whether there are any.

    Args:
        archive: the archive.
        lineage: the descent of its sources.
    """

    def __init__(self, archive: Archive, lineage: Lineage) -> None:
        """Sort the open pairs into families, and those that stand for themselves."""
        self._lineage = lineage
        self._alone: dict[str, CopyPair] = {}
        self._families: dict[str, Place] = {}
        self._family_of: dict[str, str] = {}
        pairs: dict[str, list[CopyPair]] = defaultdict(list)
        for _, pair in sorted(archive.copies.items()):
            if is_of_a_family(pair):
                family = lineage.families.open.family_at(places_of(pair)[0])
                name = lineage.families.open.name_of(family)
                self._families[name], self._family_of[pair.id] = family, name
                pairs[name].append(pair)
            elif pair.ruling is Ruling.OPEN:
                self._alone[shared_by(*pair.between)] = pair
        self.has_any = bool(self._alone or pairs)
        self._ends = {name: _Ends(of_family) for name, of_family in pairs.items()}

    def between(self, descents: Sequence[frozenset[str]]) -> tuple[CopyPair, ...]:
        """Give the open pairs for which some items share what they would not share if all were ruled no copies.

        Of a family only those are given that lie between sources that the items go back to: what else hangs on to it
        bears on nothing here. Pairs of which the items go back to both sources come first; else they are in order.

        Args:
            descents: what each item goes back to.
        """
        counts = Counter(name for descent in descents for name in descent if name in self._lineage.open_pairs)
        shared = frozenset(name for name, count in counts.items() if count > 1)
        if not shared:
            return ()
        found = [self._alone[name] for name in shared & self._alone.keys()]
        for name in self._families.keys() & counts.keys():
            if not shared.isdisjoint(self._lineage.shared_in_family(self._families[name])):
                found += self._within(name, descents)
        cited = frozenset[str]().union(*descents)
        return tuple(sorted(found, key=lambda pair: (not cited.issuperset(pair.between), pair.id)))

    def plainly_parts(self, pair: CopyPair, descents: Sequence[frozenset[str]]) -> bool:
        """Say whether it is plain that two of some items would have nothing in common if one pair were no copies.

        It is told of families alone that go back to nothing else; where it is not plain, that has to be tried.

        Args:
            pair: an open one.
            descents: what each item goes back to.
        """
        name = self._family_of.get(pair.id)
        if name is None or len(self._lineage.shared_in_family(self._families[name])) > 1:
            return False
        sides = self._ends[name].torn(pair)
        first, second = (
            [each for each in descents if not each.isdisjoint(own) and each.isdisjoint(others)]
            for own, others in (sides, sides[::-1])
        )
        return bool(first) and any(first[0] & each <= {name} for each in second)

    def _within(self, name: str, descents: Sequence[frozenset[str]]) -> list[CopyPair]:
        """Leave off, again and again, the pairs at the ends of a family that lead to nothing behind the items."""
        ends = self._ends[name]
        outside = frozenset[str]().union(*(descent for descent in descents if name not in descent))
        inside = frozenset[str]().union(*descents) - self._lineage.open_pairs
        held = {source: self._leads_to(source, name, inside, outside) for source in ends.sources}
        return ends.between(held)

    def _leads_to(self, source: str, family: str, inside: Collection[str], outside: Collection[str]) -> bool:
        """Whether a source of a family is behind some item, or goes back to what is."""
        families = self._lineage.families
        for ancestor in families.of_ancestors(families.made_from(source)) - {family} | {source}:
            if ancestor in inside or ancestor in outside or f"{COPY}{ancestor}" in outside:
                return True
        return False


class _Ends:
    """The pairs of one family as a graph of pictures."""

    def __init__(self, pairs: Sequence[CopyPair]) -> None:
        self._pairs = pairs
        whole = {source for pair in pairs for source, page in places_of(pair) if page is None}
        self._ends = [
            [(source, None if source in whole else page) for source, page in places_of(pair)] for pair in pairs
        ]
        self._at: dict[Place, set[int]] = defaultdict(set)
        for number, ends in enumerate(self._ends):
            for place in ends:
                self._at[place].add(number)

    @property
    def sources(self) -> frozenset[str]:
        """The sources that the pairs are of."""
        return frozenset(source for source, _ in self._at)

    def between(self, held: Mapping[str, bool]) -> list[CopyPair]:
        """The pairs that lie between sources that are held to matter; all where fewer than two are."""
        at = {place: set(numbers) for place, numbers in self._at.items()}
        waiting = list(at)
        while waiting:
            place = waiting.pop()
            if len(at[place]) != 1 or held[place[0]]:
                continue
            (number,) = at[place]
            for end in self._ends[number]:
                at[end].discard(number)
                waiting.append(end)
        left = sorted(frozenset[int]().union(*at.values())) or range(len(self._pairs))
        return [self._pairs[number] for number in left]

    def torn(self, pair: CopyPair) -> tuple[frozenset[str], frozenset[str]]:
        """The sources on either side of a pair if it were none; the same on both where others hold them together."""
        without = next(number for number, each in enumerate(self._pairs) if each.id == pair.id)
        one, other = self._ends[without]
        return self._hanging_on(one, without), self._hanging_on(other, without)

    def _hanging_on(self, place: Place, without: int) -> frozenset[str]:
        found, waiting = {place}, [place]
        while waiting:
            for number in self._at[waiting.pop()] - {without}:
                fresh = set(self._ends[number]) - found
                found |= fresh
                waiting += fresh
        return frozenset(source for source, _ in found)


def sides_of(verdict: Verdict) -> list[tuple[JudgedItem, ...]]:
    """The items of weight that are counted beside one another: for each value what speaks for it, and against it."""
    sides = [
        tuple(item for item in each.items if item.weight > 0 and item.stance is stance)
        for each in verdict.candidates
        for stance in Stance
    ]
    return [side for side in sides if len(side) > 1]


def pairs_behind(verdict: Verdict, open_pairs: OpenPairs) -> list[CopyPair]:
    """Give the open pairs that bear on any value of a verdict, in order of their ids."""
    if not open_pairs.has_any:
        return []
    found = {
        pair.id: pair for side in sides_of(verdict) for pair in open_pairs.between([item.descent for item in side])
    }
    return [found[pair] for pair in sorted(found)]


def ruled_distinct(archive: Archive, pairs: Iterable[CopyPair]) -> Archive:
    """The archive as it would be if some pairs were ruled no copies."""
    ruled = {pair.id: replace(pair, ruling=Ruling.DISTINCT) for pair in pairs}
    return replace(archive, copies={**archive.copies, **ruled})
