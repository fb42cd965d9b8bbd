"""What does this fitting rest on, and how sure is that?"""

from collections.abc import Mapping, Sequence

from provenance.errors import UnknownRecordError
from provenance.records.archive import Archive
from provenance.reports.evidence import Evidence, FeatureEvidence, compose_evidence
from provenance.rules.findings import Findings
from provenance.rules.flags import Flag, flags, flags_of
from provenance.rules.judging import judge_feature
from provenance.rules.lifting import Lifter
from provenance.rules.source_flags import source_flags
from provenance.rules.verdicts import Verdict
from provenance.tasks.findings import look_at_quotes
from provenance.tasks.nearest import nearest_mend
from provenance.tasks.opening import Opened
from provenance.tasks.page_readings import Readings


def evidence_for(opened: Opened, place: str, *, without: Sequence[str] = ()) -> Evidence:
    """Judge a component, or one feature of it, and say what each verdict rests on.

    Args:
        opened: the archive.
        place: `component` or `component/feature`.
        without: sources to judge without, as if they were withdrawn.

    Raises:
        UnknownRecordError: no such component, feature or source.
        ArchiveError: the archive does not say yet what it represents.
    """
    archive = opened.archive
    target = opened.target
    names = features_at(archive, place)
    require_sources(archive, without)
    verdicts = {name: judge_feature(archive, name, without=frozenset(without)) for name in names}
    findings = Findings(doubtful=look_at_quotes(Readings(opened.folder, archive), names))
    raised = flags(archive, findings, today=None, verdicts=verdicts)
    features = tuple(_with_flags(archive, verdicts[name], raised) for name in names)
    return compose_evidence(archive, opened.standing, target, place, features, without=tuple(without))


def evidence_at_hand(
    opened: Opened,
    place: str,
    *,
    verdicts: Mapping[str, Verdict],
    raised: Sequence[Flag],
    readings: Readings,
    lifter: Lifter | None = None,
) -> Evidence:
    """Say the same from what was judged and flagged already.

    Flags hang on the day where they do, such as what is needed soon; `evidence_for` knows no day.

    Args:
        opened: the archive.
        place: `component` or `component/feature`.
        verdicts: on every feature.
        raised: all flags.
        readings: of the archive's pages.
        lifter: finds what would lift a grade, where one is at hand.

    Raises:
        UnknownRecordError: no such component or feature.
        ArchiveError: the archive does not say yet what it represents.
    """
    archive = opened.archive
    names = features_at(archive, place)
    target = opened.target
    doubtful = look_at_quotes(readings, names)
    found = source_flags(archive, Findings(doubtful=doubtful), None) if doubtful else ()
    flagged = (
        *(flag for flag in raised if flag.flag not in _OF_THE_SOURCE),
        *(flag for flag in found if flag.flag in _OF_THE_SOURCE),
    )
    features = tuple(_with_flags(archive, verdicts[name], flagged) for name in names)
    return compose_evidence(archive, opened.standing, target, place, features, lifter=lifter)


_OF_THE_SOURCE = frozenset({"doubtful-reading", "fixity-broken", "unread-page"})


def _with_flags(archive: Archive, verdict: Verdict, raised: Sequence[Flag]) -> FeatureEvidence:
    """Add the flags about a feature, then those about its sources that put in doubt what its claims rest on."""
    name = verdict.feature
    claims = {claim.id for claim in archive.claims_by_feature.get(name, ())}
    own = tuple(flag for flag in raised if flag.about == name)
    of_sources = tuple(flag for flag in raised if flag.flag in _OF_THE_SOURCE and claims & set(flag.claims))
    ids = dict.fromkeys((*flags_of(name, raised), *(flag.flag for flag in of_sources)))
    return FeatureEvidence(verdict=verdict, flags=tuple(ids), raised=(*own, *of_sources))


def features_at(archive: Archive, place: str) -> tuple[str, ...]:
    """The features of a component, or the one that is named.

    Raises:
        UnknownRecordError: no such component or feature; with the nearest.
    """
    component, slash, _ = place.partition("/")
    if component not in archive.components:
        mend = nearest_mend(component, archive.components, "the components are the files in the folder components")
        raise UnknownRecordError(f"there is no component `{component}`", mend)
    own = tuple(f"{component}/{feature.id}" for feature in archive.components[component].features)
    if not slash:
        return own
    if place not in own:
        mend = nearest_mend(place, own, f"its features are: {', '.join(own) or 'none yet'}")
        raise UnknownRecordError(f"there is no feature `{place}`", mend)
    return (place,)


def require_sources(archive: Archive, sources: Sequence[str]) -> None:
    """See that there are such sources.

    Raises:
        UnknownRecordError: there is none of that id; with the nearest.
    """
    for source in sources:
        if source not in archive.sources:
            mend = nearest_mend(source, archive.sources, "the sources are the files in the folder sources")
            raise UnknownRecordError(f"there is no source `{source}`", mend)
