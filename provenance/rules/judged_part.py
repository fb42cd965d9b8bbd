"""The part of an archive on which the verdict on one feature depends: judged alone, it gives the same verdict."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from provenance.records.archive import Archive
from provenance.records.decisions import CopyPair, Decision
from provenance.records.kinds import Ruling
from provenance.rules.copy_families import CopyFamilies, is_of_pictures


def judged_part(archive: Archive, about: str) -> Archive:
    """Keep what the verdict on one feature depends on: so small a part is judged quickly over and over again.

    Kept are its component and claims, the sources that these name, all that those go back to, the issues that replaced
    any of them, the pairs of likely copies that they are in, of pictures with all that hang together by such pairs, the
    other sources of those pairs without what they go back to, and the decisions on the feature.

    Args:
        archive: the archive.
        about: `component/feature`; one that the archive has.
    """
    return JudgedParts(archive).of(about)


class JudgedParts:
    """Cuts such parts out of one archive; what belongs to which is looked up, however many parts are asked for.

    Args:
        archive: the archive.
    """

    def __init__(self, archive: Archive) -> None:
        """Note which issues replaced each source, what it may be a copy of, and which decisions are on each feature."""
        self._archive = archive
        self._later: dict[str, list[str]] = defaultdict(list)
        for source_id, source in archive.sources.items():
            if source.replaces is not None:
                self._later[source.replaces].append(source_id)
        self._pairs: dict[str, list[tuple[int, str]]] = defaultdict(list)
        for place, (pair_id, pair) in enumerate(archive.copies.items()):
            for source_id in pair.between:
                self._pairs[source_id].append((place, pair_id))
        self._families = CopyFamilies(archive.sources, archive.copies.values())
        self._reached_by: dict[str, set[str]] = defaultdict(set)
        for family in self._families.open.families():
            for ancestor in self._families.of_family(family):
                self._reached_by[ancestor].add(family[0])
        self._decisions: dict[str, dict[str, Decision]] = defaultdict(dict)
        for decision in archive.decisions.values():
            self._decisions[decision.about][decision.id] = decision

    def of(self, about: str) -> Archive:
        """Keep what the verdict on one feature depends on, as `judged_part` does."""
        archive = self._archive
        component = archive.components[about.partition("/")[0]]
        claims = {claim.id: claim for claim in archive.claims_by_feature.get(about, ())}
        named = {item.source for claim in claims.values() for item in claim.evidence}
        named |= {item.via for claim in claims.values() for item in claim.evidence if item.via is not None}
        named |= {common.source for common in component.common_to}
        feature = archive.features[about]
        named |= {sign.source for option in feature.options for sign in option.signs if sign.source is not None}
        closed = self._closed(named)
        pairs = self._pairs_of(closed)
        beside = {other for pair in pairs.values() for other in pair.between if other in archive.sources} - closed
        # What one of them is merely like is named in the reasons and takes no other part, so nothing goes back by it.
        likes = {each: replace(archive.sources[each], derives_from=(), replaces=None) for each in beside}
        kept = {source: archive.sources[source] for source in closed} | likes
        return replace(
            archive,
            components={component.id: component},
            claims=claims,
            sources=dict(sorted(kept.items())),
            copies=pairs,
            decisions=dict(self._decisions.get(about, {})),
        )

    def _closed(self, named: Iterable[str]) -> frozenset[str]:
        """The sources named, with all that they go back to, the later issues of any of them, and their families."""
        sources = self._archive.sources
        found: set[str] = set()
        waiting = [source for source in named if source in sources]
        while waiting:
            source_id = waiting.pop()
            if source_id in found:
                continue
            found.add(source_id)
            waiting += (each for each in self._next(source_id) if each in sources)
        return frozenset(found)

    def _next(self, source_id: str) -> Iterator[str]:
        yield from (parent.source for parent in self._archive.sources[source_id].derives_from)
        yield from self._later.get(source_id, ())
        for _, pair_id in self._pairs.get(source_id, ()):
            pair = self._archive.copies[pair_id]
            if is_of_pictures(pair) and pair.ruling is not Ruling.DISTINCT:
                yield from pair.between
        for ancestor in (source_id, *self._families.shared_in_pairs(source_id)):
            yield from self._reached_by.get(ancestor, ())

    def _pairs_of(self, sources: Iterable[str]) -> Mapping[str, CopyPair]:
        """The pairs that some sources are in, in the order of the archive."""
        pairs = {pair for source in sources for pair in self._pairs.get(source, ())}
        return {pair_id: self._archive.copies[pair_id] for _, pair_id in sorted(pairs)}
