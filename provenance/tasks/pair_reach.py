"""Which features two sources that look like copies of one another have a part in together."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace

from provenance.records.archive import Archive
from provenance.records.decisions import CopyPair
from provenance.records.kinds import Ruling
from provenance.records.sources import Source


class PairReach:
    """Tells it of pair after pair; what belongs together in an archive is worked out once.

    Args:
        archive: the archive.
    """

    def __init__(self, archive: Archive) -> None:
        """Note for each feature what its evidence goes back to, and for each source what looks like its copy."""
        self._archive = archive
        self._sources = archive.sources
        self._alike: dict[str, list[tuple[str, str]]] = defaultdict(list)
        for pair_id, pair in archive.copies.items():
            if pair.ruling is not Ruling.DISTINCT:
                for source, partner in zip(pair.between, reversed(pair.between), strict=True):
                    self._alike[source].append((partner, pair_id))
        self._made: dict[str, list[str]] = defaultdict(list)
        self._later: dict[str, list[str]] = defaultdict(list)
        for child in archive.sources.values():
            for parent in child.derives_from:
                self._made[parent.source].append(child.id)
            if child.replaces is not None:
                self._later[child.replaces].append(child.id)
        self._features_on = _features_on(archive)

    def of_source(self, source: str) -> frozenset[str]:
        """The features with some evidence that goes back to a source."""
        return frozenset(self._features_on.get(source, ()))

    def of_pair(self, pair: CopyPair) -> frozenset[str]:
        """The features of which a ruling on a pair may change the verdict."""
        return self.of_any(self.near(pair))

    def of_any(self, sources: Iterable[str]) -> frozenset[str]:
        """The features with some evidence that goes back to one of some sources."""
        return frozenset(feature for source in sources for feature in self._features_on.get(source, ()))

    def behind(self, source: str) -> frozenset[str]:
        """All that a source goes back to, or may go back to by way of what looks like a copy; with itself."""
        return _gathered([source], self._behind_one)

    def _behind_one(self, source: str) -> Iterator[str]:
        yield from _parents(self._sources, source)
        yield from self._partners(source)

    def near(self, pair: CopyPair) -> frozenset[str]:
        """All whose descent a ruling on a pair may change: what may go back to what one of the two may go back to."""
        back = frozenset[str]().union(*map(self.behind, pair.between))
        return _gathered(back, lambda each: (*self._made.get(each, ()), *self._partners(each)))

    def part_around(self, near: Iterable[str]) -> Archive:
        """Keep the sources of which some are descended, and the pairs that they are in; nothing else."""
        kept = _gathered(near, self._behind_one)
        return replace(
            self._archive,
            components={},
            claims={},
            decisions={},
            sources={each: self._sources[each] for each in kept if each in self._sources},
            copies=self._pairs_of(kept),
        )

    def part_of(self, feature: str, pair: CopyPair) -> Archive:
        """Keep what the verdict on a feature depends on whatever is ruled on a pair: it is judged quickly.

        The grade, the witnesses, the chance and the value are those of the whole archive. What is said of them may be
        less: of likely copies only those are kept that the evidence may go back to.
        """
        archive = self._archive
        found: set[str] = set()
        waiting = [*_named(archive, feature), *pair.between]
        while waiting:
            source = waiting.pop()
            if source not in found:
                found.add(source)
                waiting += (
                    *_parents(self._sources, source),
                    *self._partners(source),
                    *self._later.get(source, ()),
                )
        component = archive.components[feature.partition("/")[0]]
        return replace(
            archive,
            components={component.id: component},
            claims={claim.id: claim for claim in archive.claims_by_feature.get(feature, ())},
            sources={source: self._sources[source] for source in sorted(found) if source in self._sources},
            copies=self._pairs_of(found),
            decisions={},
        )

    def _pairs_of(self, sources: Iterable[str]) -> dict[str, CopyPair]:
        pairs = {pair_id for source in sources for _, pair_id in self._alike.get(source, ())}
        return {pair_id: self._archive.copies[pair_id] for pair_id in sorted(pairs)}

    def _partners(self, source_id: str) -> Iterator[str]:
        yield from (partner for partner, _ in self._alike.get(source_id, ()))


def _features_on(archive: Archive) -> Mapping[str, set[str]]:
    """By source, the features with evidence that goes back to it."""
    ancestry: dict[str, frozenset[str]] = {}
    found: dict[str, set[str]] = defaultdict(set)
    for feature in archive.features:
        for name in _named(archive, feature):
            if name not in ancestry:
                ancestry[name] = _gathered([name], lambda each: _parents(archive.sources, each))
            for source in ancestry[name]:
                found[source].add(feature)
    return found


def _named(archive: Archive, about: str) -> Iterator[str]:
    """The sources that the evidence on a feature names."""
    for claim in archive.claims_by_feature.get(about, ()):
        for item in claim.evidence:
            yield from (source for source in (item.source, item.via) if source is not None)
    yield from (common.source for common in archive.components[about.partition("/")[0]].common_to)
    for option in archive.features[about].options:
        yield from (sign.source for sign in option.signs if sign.source is not None)


def _parents(sources: Mapping[str, Source], source_id: str) -> tuple[str, ...]:
    source = sources.get(source_id)
    return tuple(parent.source for parent in source.derives_from) if source else ()


def _gathered(start: Iterable[str], following: Callable[[str], Iterable[str]]) -> frozenset[str]:
    """Some with all that follows from them, step by step."""
    found = set(start)
    waiting = list(found)
    while waiting:
        fresh = set(following(waiting.pop())) - found
        found |= fresh
        waiting.extend(fresh)
    return frozenset(found)
