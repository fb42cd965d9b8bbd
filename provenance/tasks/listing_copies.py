"""List the pairs of sources that look alike, and what each ruling on them would change.

Of each pair only the features are judged that it can reach, and of each of these only the part of the archive that its
verdict depends on: a thousand pairs are quickly tried.
"""

from collections import Counter
from collections.abc import Mapping
from dataclasses import replace
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
    archive = opened.archive
    if ruling not in RULINGS:
        raise UsageRefusedError(f"--ruling: there is no ruling {quote(ruling)}", f"write one of {', '.join(RULINGS)}")
    if component is not None:
        require_record(archive.components, component, "component", "components")
    if source is not None:
        require_record(archive.sources, source, "source", "sources")
    trying = _Trying(archive)
    narrowed = [pair for pair in archive.copies.values() if source is None or source in pair.between]
    if component is not None:
        narrowed = [pair for pair in narrowed if trying.speaks_of(pair, component)]
    asked = [pair for pair in narrowed if ruling in {ALL, pair.ruling}]
    listed = [ListedPair(pair=pair, tried=trying.tried(pair)) for pair in asked]
    hazards = {hazard for pair in asked for each in pair.between for hazard in archive.sources[each].hazards}
    counts = Counter(pair.ruling for pair in narrowed)
    return Copies(
        standing=opened.standing,
        archive=archive,
        asked=ruling,
        pairs=tuple(sorted(listed, key=_order)),
        counts={each: counts[each] for each in Ruling},
        component=component,
        source=source,
        cautions=cautions_for(archive, hazards),
    )


def _order(listed: ListedPair) -> tuple[bool, int, str]:
    return listed.pair.ruling is not Ruling.OPEN, -len(listed.would_change), listed.pair.id


class _Trying:
    """Tries rulings on the pairs of one archive; what all of them need is worked out once."""

    def __init__(self, archive: Archive) -> None:
        self._archive = archive
        self._reach = PairReach(archive)

    @cached_property
    def _verdicts(self) -> Mapping[str, Verdict]:
        return judge_all(self._archive)

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
