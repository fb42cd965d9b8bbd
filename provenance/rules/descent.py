"""What an item goes back to: its source, what that was made from, and the people and unnamed origins behind them.

Copies do not corroborate: three chroniclers who draw on one source are one attestation (C.-V. Langlois and
C. Seignobos, *Introduction to the Study of History*, 1898, book II, chapter III). `within` is no descent.
"""

from provenance.records.archive import Archive
from provenance.records.claims import EvidenceItem
from provenance.records.kinds import Derivation, SourceKind
from provenance.records.sources import Source
from provenance.rules.copy_families import COPY, CopyFamilies, Place, open_ancestors

UNSTATED = "*unstated*"
WITNESS = "witness:"

_SECONDARY = frozenset({SourceKind.BOOK, SourceKind.WEBSITE, SourceKind.NEWSPAPER, SourceKind.NOTES})
_TOLD = frozenset(
    {
        SourceKind.LETTER,
        SourceKind.NOTES,
        SourceKind.ORAL_HISTORY,
        SourceKind.OPINION,
        SourceKind.BOOK,
        SourceKind.WEBSITE,
    }
)
_PICTURES = frozenset({SourceKind.PHOTOGRAPH, SourceKind.FILM, SourceKind.ARTWORK})
_COPIED = frozenset(
    {
        Derivation.FACSIMILE,
        Derivation.PRINT,
        Derivation.CROP,
        Derivation.SCAN,
        Derivation.RECORDING,
        Derivation.TRANSCRIPTION,
        Derivation.TRANSLATION,
        Derivation.ENHANCED,
    }
)


class Lineage:
    """The descent of every source of an archive, worked out once and remembered.

    Attributes:
        families: which sources are likely copies of one another, and what they may go back to.
        open_pairs: the shared ancestors that stand for pairs of likely copies on which nobody has ruled.
    """

    def __init__(self, archive: Archive) -> None:
        """Take in the sources, people and pairs of likely copies of an archive."""
        self._sources = archive.sources
        self._names = {person.id: person.name for person in archive.people}
        self.families = CopyFamilies(archive.sources, archive.copies.values())
        reach = {family: self.families.of_family(family) for family in self.families.open.families()}
        self._reached = frozenset[str]().union(*reach.values())
        self._family_names = frozenset(map(self.families.open.name_of, reach))
        self._of_family = {family: self._stand_ins(reached) for family, reached in reach.items()}
        self.open_pairs = open_ancestors(archive.copies.values()).union(*self._of_family.values())
        self._ancestors: dict[str, frozenset[str]] = {}
        self._added: dict[str, frozenset[str]] = {}
        self._whole: dict[str, frozenset[str]] = {}

    def of_source(self, source_id: str) -> frozenset[str]:
        """Give all that a source goes back to, with itself, unnamed origins, witnesses and shared ancestors."""
        if source_id not in self._whole:
            self._whole[source_id] = self._with_added(self._ancestry(source_id))
        return self._whole[source_id]

    def of_item(self, item: EvidenceItem, *joins: str) -> frozenset[str]:
        """Give all that an item goes back to.

        Args:
            item: the record; with `via` it goes back through that parent alone; `at.who` is its own source's witness.
            joins: further sources whose word the item stands on.
        """
        if item.via is None and item.at.who is None:
            descent = self.of_source(item.source)
        else:
            behind = self._ancestry(item.source) if item.via is None else self._ancestry(item.via)
            own = self._own_origins(item.source, item.at.who) | self._likely(item.source, item.via)
            descent = self._with_added(behind - {item.source}) | {item.source} | own
        return descent.union(*(self.of_source(source) for source in joins)) if joins else descent

    def _ancestry(self, source_id: str) -> frozenset[str]:
        if source_id not in self._ancestors:
            found, waiting = {source_id}, [source_id]
            while waiting:
                source = self._sources.get(waiting.pop())
                fresh = {parent.source for parent in source.derives_from} - found if source else set()
                found |= fresh
                waiting.extend(fresh)
            self._ancestors[source_id] = frozenset(found)
        return self._ancestors[source_id]

    def _with_added(self, sources: frozenset[str]) -> frozenset[str]:
        return sources.union(*(self.added_by(source) for source in sources))

    def added_by(self, source_id: str) -> frozenset[str]:
        """Give what a source brings in by itself: unnamed origin, witnesses, shared ancestors of its pairs."""
        if source_id not in self._added:
            self._added[source_id] = self._own_origins(source_id, None) | self._likely(source_id, None)
        return self._added[source_id]

    def shared_in_family(self, family: Place) -> frozenset[str]:
        """Give all that the pictures of a family share: what stands for it, and for what they may go back to."""
        return self._of_family[family]

    def _likely(self, source_id: str, via: str | None) -> frozenset[str]:
        """What a source shares as a likely copy, and as what likely copies may go back to.

        With `via`, what else it was made from stays away, also where a family may go back to it.
        """
        shared = self.families.shared_in_pairs(source_id)
        if not self._reached:
            return shared
        of_families = [self._shared_in(each, source_id, via) for each in self.families.open.families_of(source_id)]
        return shared.union(self._stand_ins(self._reached & {source_id, *shared}), *of_families)

    def _shared_in(self, family: Place, source_id: str, via: str | None) -> frozenset[str]:
        if via is None:
            return self._of_family[family]
        return self._stand_ins(self.families.of_family(family, source=source_id, via=via))

    def _stand_ins(self, ancestors: frozenset[str]) -> frozenset[str]:
        """Name what stands for ancestors in the descent of all that may, or may not, go back to them."""
        return frozenset(each if each in self._family_names else f"{COPY}{each}" for each in ancestors)

    def _own_origins(self, source_id: str, who: str | None) -> frozenset[str]:
        source = self._sources.get(source_id)
        origins: set[str] = set()
        if source is not None:
            origins |= self._witnesses(source, who)
            if source.kind in _SECONDARY and not source.derives_from and not source.origin_stated:
                origins.add(UNSTATED)
        return frozenset(origins)

    def _witnesses(self, source: Source, who: str | None) -> set[str]:
        if source.kind in _PICTURES:
            name = self._name(source.creator)
            return {f"{WITNESS}{name}, {source.occasion}"} if name and source.occasion else set()
        if source.kind not in _TOLD:
            return set()
        # Who made a copy is no witness, but who speaks in it is: else a copy of the place would raise the lines.
        creator = None if any(parent.how in _COPIED for parent in source.derives_from) else source.creator
        name = self._name(creator if who is None else who)
        return {f"{WITNESS}{name}"} if name else set()

    def _name(self, creator: str | None) -> str | None:
        if creator is None or creator == "unknown":
            return None
        return self._names.get(creator, creator)


def rests_on(descents: "list[frozenset[str]]") -> tuple[str, ...]:
    """Name what all these descents have in common: source ids, `*unstated*`, then witnesses; empty for no descents.

    A shared ancestor that only stands for a likely copy is not named: nobody knows what it is.
    """
    common = frozenset.intersection(*descents) if descents else frozenset()
    return tuple(sorted((name for name in common if not name.startswith(COPY)), key=in_order))


def in_order(name: str) -> tuple[int, str]:
    """Sort what stands in a descent: source ids, the unnamed origin, witnesses, pairs of likely copies."""
    rank = 1 if name == UNSTATED else 2 if name.startswith(WITNESS) else 3 if name.startswith(COPY) else 0
    return rank, name
