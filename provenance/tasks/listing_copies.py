"""List the pairs of sources that look alike, and what each ruling on them would change.

Of each pair only the features are judged that it can reach, and of each of these only the part of the archive that its
verdict depends on: a thousand pairs are quickly tried.
"""

import threading
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from provenance.errors import UsageRefusedError
from provenance.records.archive import Archive
from provenance.records.dates import certainly_before
from provenance.records.decisions import CopyPair
from provenance.records.kinds import Derivation, Ruling, SourceKind
from provenance.records.sources import DerivesFrom, Source
from provenance.records.wording import quote
from provenance.reports.copied import Copies, ListedPair, Making, TriedRuling
from provenance.rules.cautions import cautions_for
from provenance.rules.judging import judge_all, judge_feature
from provenance.rules.verdicts import Verdict
from provenance.tasks.given_values import require_record
from provenance.tasks.opening import Opened
from provenance.tasks.pair_effects import PairEffects
from provenance.tasks.pair_reach import PairReach
from provenance.tasks.trying import change_between, is_changed
from provenance.tasks.two_sources import links_between

ALL = "all"
RULINGS = (*(ruling.value for ruling in Ruling), ALL)
_PICTURES = frozenset({SourceKind.PHOTOGRAPH, SourceKind.FILM, SourceKind.ARTWORK, SourceKind.DRAWING})


def list_copies(
    opened: Opened, *, ruling: str = Ruling.OPEN.value, component: str | None = None, source: str | None = None
) -> Copies:
    """List pairs, open ones first, then those that would change most.

    Args:
        opened: the archive.
        ruling: only pairs that are ruled so: `open`, `copy` or `distinct`; `all` for every one.
        component: only pairs of which a source speaks of this component, by its tags or by the evidence that goes back
            to it.
        source: only pairs that this source is in.

    Raises:
        UnknownRecordError: there is no such component or source.
        UsageRefusedError: there is no such ruling.
    """
    pairs = Pairs(opened)
    asked = pairs.asked(ruling, component=component, source=source)
    return pairs.answer(asked, sorted(map(pairs.listed, asked.pairs), key=by_change))


def by_change(listed: ListedPair) -> tuple[bool, int, str]:
    """The order of pairs: open ones first, then by how many verdicts they would change, then by id."""
    return listed.pair.ruling is not Ruling.OPEN, -len(listed.would_change), listed.pair.id


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedPairs:
    """The pairs that were asked for, before it is looked at what would change.

    Attributes:
        ruling: that was asked for, or `all`.
        component: that was asked for; None for all.
        source: that was asked for; None for all.
        narrowed: the pairs of the component and the source, whatever was ruled.
        pairs: those of them of the ruling.
    """

    ruling: str
    component: str | None
    source: str | None
    narrowed: tuple[CopyPair, ...]
    pairs: tuple[CopyPair, ...]


class Pairs:
    """The pairs of an archive as it stands, and what rulings on them would change.

    What all of them need is worked out once, and what was looked at of one is kept; several may ask at once.
    """

    def __init__(self, opened: Opened, verdicts: Mapping[str, Verdict] | None = None) -> None:
        """Work out nothing yet.

        Args:
            opened: the archive.
            verdicts: on all its features, by `component/feature`, where somebody has judged them; else None.
        """
        self._opened = opened
        self._trying = _Trying(opened.archive, verdicts)
        self._listed: dict[str, ListedPair] = {}
        self._lock = threading.Lock()

    def asked(self, ruling: str, *, component: str | None = None, source: str | None = None) -> AskedPairs:
        """Find pairs, as of `list_copies`, in the order of their ids.

        Raises:
            UnknownRecordError: there is no such component or source.
            UsageRefusedError: there is no such ruling.
        """
        archive = self._opened.archive
        if ruling not in RULINGS:
            what = f"--ruling: there is no ruling {quote(ruling)}"
            raise UsageRefusedError(what, f"write one of {', '.join(RULINGS)}")
        if component is not None:
            require_record(archive.components, component, "component", "components")
        if source is not None:
            require_record(archive.sources, source, "source", "sources")
        narrowed = [pair for _, pair in sorted(archive.copies.items()) if source is None or source in pair.between]
        if component is not None:
            narrowed = [pair for pair in narrowed if self._trying.speaks_of(pair, component)]
        pairs = tuple(pair for pair in narrowed if ruling in {ALL, pair.ruling})
        return AskedPairs(ruling=ruling, component=component, source=source, narrowed=tuple(narrowed), pairs=pairs)

    def listed(self, pair: CopyPair) -> ListedPair:
        """A pair, with what each ruling but the one that it has would change."""
        with self._lock:
            if pair.id not in self._listed:
                self._listed[pair.id] = ListedPair(pair=pair, tried=self._trying.tried(pair))
            return self._listed[pair.id]

    def answer(self, asked: AskedPairs, pairs: Iterable[ListedPair]) -> Copies:
        """The answer to what was asked, with some of its pairs, or all."""
        archive = self._opened.archive
        hazards = {hazard for pair in asked.pairs for each in pair.between for hazard in archive.sources[each].hazards}
        counts = Counter(pair.ruling for pair in asked.narrowed)
        return Copies(
            standing=self._opened.standing,
            archive=archive,
            asked=asked.ruling,
            pairs=tuple(pairs),
            counts={each: counts[each] for each in Ruling},
            component=asked.component,
            source=asked.source,
            cautions=cautions_for(archive, hazards),
        )


class _Trying:
    """Tries rulings on the pairs of one archive; what all of them need is worked out once."""

    def __init__(self, archive: Archive, verdicts: Mapping[str, Verdict] | None) -> None:
        self._archive = archive
        self._reach = PairReach(archive)
        self._given = verdicts

    @cached_property
    def _verdicts(self) -> Mapping[str, Verdict]:
        return judge_all(self._archive) if self._given is None else self._given

    @cached_property
    def _effects(self) -> PairEffects:
        return PairEffects(self._archive, self._verdicts.values(), self._reach)

    def speaks_of(self, pair: CopyPair, component: str) -> bool:
        """Whether one of the two speaks of a component."""
        return any(
            component in self._archive.sources[each].topics
            or any(feature.partition("/")[0] == component for feature in self._reach.of_source(each))
            for each in pair.between
        )

    def tried(self, pair: CopyPair) -> tuple[TriedRuling, ...] | None:
        """What each ruling but the one that it has would change; None where nothing can be judged yet."""
        if self._archive.target is None:
            return None
        return tuple(self._try(pair, ruling) for ruling in (Ruling.DISTINCT, Ruling.COPY) if ruling is not pair.ruling)

    def _try(self, pair: CopyPair, ruling: Ruling) -> TriedRuling:
        making = self._making(pair)
        if ruling is Ruling.DISTINCT and (making is None or not making.is_on_record):
            making = None
        changed = self._remade(making, ruling)
        ruled = replace(pair, ruling=ruling)
        found = []
        for feature in sorted(self._effects.of_ruling(ruled, changed)):
            before, after = self._verdicts[feature], judge_feature(self._part(feature, ruled, changed), feature)
            if is_changed(before, after):
                found.append(change_between(self._archive, before, after))
        return TriedRuling(ruling=ruling, making=making, changes=tuple(found))

    def _making(self, pair: CopyPair) -> Making | None:
        """Which was made from which: by what is on record, else by their dates; None where neither says it."""
        one, other = (self._archive.sources[each] for each in pair.between)
        links = links_between(self._archive, one, other)
        if links:
            how = links[0].how if len(links) == 1 else None
            return Making(later=links[0].source, earlier=links[-1].parent, how=how, is_on_record=True)
        for earlier, later in ((one, other), (other, one)):
            if earlier.created and later.created and certainly_before(earlier.created, later.created):
                return Making(later=later.id, earlier=earlier.id, how=pair.how or _usual(earlier, later))
        return None

    def _remade(self, making: Making | None, ruling: Ruling) -> Source | None:
        """The later source as its record would be; None where that does not change."""
        if making is None or making.how is None or (making.is_on_record and ruling is Ruling.COPY):
            return None
        later = self._archive.sources[making.later]
        if ruling is Ruling.COPY:
            return replace(
                later, derives_from=(*later.derives_from, DerivesFrom(source=making.earlier, how=making.how))
            )
        return replace(later, derives_from=tuple(each for each in later.derives_from if each.source != making.earlier))

    def _part(self, feature: str, ruled: CopyPair, changed: Source | None) -> Archive:
        """What the verdict on a feature depends on, once a pair is ruled and one of the two says otherwise."""
        part = self._reach.part_of(feature, ruled)
        sources = {**part.sources, changed.id: changed} if changed else part.sources
        return replace(part, copies={**part.copies, ruled.id: ruled}, sources=sources)


def _usual(earlier: Source, later: Source) -> Derivation:
    """How such things are made from one another most often; only for trying."""
    return Derivation.PRINT if {earlier.kind, later.kind} & _PICTURES else Derivation.TRANSCRIPTION
