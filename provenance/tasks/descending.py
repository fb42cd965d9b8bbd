"""What was a source made from, and what was made from it? What does everything behind a feature go back to?"""

from collections.abc import Mapping
from dataclasses import dataclass

from provenance.errors import ArchiveError, UnknownRecordError, UsageRefusedError
from provenance.records.archive import Archive
from provenance.reports.descended import Descended
from provenance.reports.standing import Standing
from provenance.rules.cautions import cautions_for
from provenance.rules.descent import Lineage
from provenance.rules.family_tree import FamilyTree, family_behind, family_of, nearest_first
from provenance.rules.judging import judge_all, judge_feature
from provenance.rules.verdicts import Verdict
from provenance.tasks.evidence import features_at
from provenance.tasks.nearest import nearest_mend
from provenance.tasks.opening import Opened
from provenance.tasks.trying import features_reached

_FOLDER = "sources/"


@dataclass(frozen=True, slots=True)
class AtHand:
    """What was worked out of a whole archive before, for whoever asks of one source after another.

    Attributes:
        verdicts: on every feature; empty where nothing can be judged.
        lineage: of its sources.
    """

    verdicts: Mapping[str, Verdict]
    lineage: Lineage


def descent_of(opened: Opened, name: str, at_hand: AtHand | None = None) -> Descended:
    """Draw the descent of a source, or of the best value of a feature.

    Args:
        opened: the archive.
        name: the id of a source, also as `sources/ID`; or `component/feature`.
        at_hand: of the same archive; None to have worked out what is needed.

    Raises:
        UnknownRecordError: there is no such source or feature; with the nearest.
        UsageRefusedError: a component was named alone.
        ArchiveError: a feature was named, and the archive does not say yet what it represents.
    """
    source_id = name.removesuffix(".yaml").removeprefix(_FOLDER)
    if source_id in opened.archive.sources:
        return _of_source(opened, source_id, at_hand)
    component, stroke, _ = name.partition("/")
    if stroke and f"{component}/" != _FOLDER:
        return _of_feature(opened, name)
    if name in opened.archive.components:
        own = features_at(opened.archive, name)
        mend = f"name one of its features: {', '.join(own)}" if own else "it has no feature yet; name a source"
        raise UsageRefusedError(f"`{name}` is a component, and descent is told of one feature or of a source", mend)
    known = [*opened.archive.sources, *opened.archive.features]
    mend = nearest_mend(source_id, known, "the sources are the files in the folder sources")
    raise UnknownRecordError(f"there is no source `{source_id}`", mend)


def _of_source(opened: Opened, source_id: str, at_hand: AtHand | None) -> Descended:
    archive = opened.archive
    try:
        _ = opened.target
    except ArchiveError as error:
        resting, not_judged = None, error.what
    else:
        verdicts = at_hand.verdicts if at_hand else _verdicts_reached(archive, source_id)
        resting, not_judged = tuple(each for each in verdicts.values() if source_id in each.rests_on), ""
    tree = family_of(archive, source_id, at_hand.lineage if at_hand else None)
    return _composed(archive, opened.standing, source_id, tree, resting=resting, not_judged=not_judged)


def _verdicts_reached(archive: Archive, source_id: str) -> Mapping[str, Verdict]:
    return judge_all(archive, only=features_reached(archive, [f"{_FOLDER}{source_id}.yaml"]))


def _of_feature(opened: Opened, feature: str) -> Descended:
    (name,) = features_at(opened.archive, feature)
    _ = opened.target
    return feature_descended(opened.archive, opened.standing, judge_feature(opened.archive, name))


def feature_descended(archive: Archive, standing: Standing, verdict: Verdict) -> Descended:
    """Draw the descent of the best value of a feature.

    Args:
        archive: on which it was judged.
        standing: what the answer begins with.
        verdict: on the feature.
    """
    supporting = verdict.best.supporting if verdict.best else ()
    tree = family_behind(archive, supporting)
    bottleneck = nearest_first(archive, verdict.rests_on, supporting)
    return _composed(archive, standing, verdict.feature, tree, verdict=verdict, bottleneck=bottleneck)


def _composed(
    archive: Archive,
    standing: Standing,
    about: str,
    tree: FamilyTree,
    *,
    verdict: Verdict | None = None,
    bottleneck: tuple[str, ...] = (),
    resting: tuple[Verdict, ...] | None = (),
    not_judged: str = "",
) -> Descended:
    holding = [each.id for each in archive.sources.values() if each.within and each.within.source == about]
    components = {each.component for each in (*(resting or ()), *([verdict] if verdict else []))}
    hazards = [hazard for each in sorted(components) for hazard in archive.components[each].hazards]
    hazards += [hazard for each in tree.members for hazard in archive.sources[each].hazards]
    return Descended(
        standing=standing,
        about=about,
        tree=tree,
        sources={each: archive.sources[each] for each in sorted(_named(archive, tree, verdict).union(holding))},
        people={person.id: person.name for person in archive.people},
        verdict=verdict,
        bottleneck=bottleneck,
        resting=resting,
        not_judged=not_judged,
        holding=tuple(sorted(holding)),
        cautions=cautions_for(archive, hazards),
    )


def _named(archive: Archive, tree: FamilyTree, verdict: Verdict | None) -> set[str]:
    """Every source that the answer names."""
    named = {*tree.members, *(other for tie in tree.ties for other in tie.others)}
    named.update(*(pair.between for pair in tree.ruled_out))
    if verdict is not None:
        named.update(*(each.sources for each in verdict.overlaps))
    kept_in = (within.source for each in named if (within := archive.sources[each].within))
    return named.union(kept_in) & archive.sources.keys()
