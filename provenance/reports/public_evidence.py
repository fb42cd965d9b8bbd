"""What a fitting rests on, as a contractor or the public may read it: made from the public view alone."""

from collections.abc import Iterable, Mapping
from dataclasses import replace

from provenance.records.archive import Target
from provenance.reports.appendix_readings import withheld_remarks
from provenance.reports.appendix_words import DRAFT, RE_CREATION
from provenance.reports.evidence import Evidence, FeatureEvidence, compose_evidence
from provenance.reports.standing import Standing
from provenance.rules.clearance import NotCleared
from provenance.rules.public_values import PublicArchive
from provenance.rules.verdicts import Verdict


def compose_public_evidence(
    view: PublicArchive,
    standing: Standing,
    target: Target,
    place: str,
    verdicts: Mapping[str, Verdict],
    *,
    without: tuple[str, ...] = (),
) -> Evidence:
    """Put public verdicts together; each says what the public is not shown. Flags are the team's own, and are not told.

    Args:
        view: the archive as the public sees it.
        standing: which archive; without the names of records that could not be used.
        target: what is represented, from the view.
        place: `component` or `component/feature`.
        verdicts: judged on the view.
        without: sources that were left out for the asking.
    """
    features = tuple(FeatureEvidence(verdict=_told(view, verdict), flags=()) for verdict in verdicts.values())
    return compose_evidence(view.archive, standing, target, place, features, without=without)


def addressed(evidence: Evidence, audience: str, *, draft: bool) -> Evidence:
    """Say whom a public answer is for, with the sentences that stand on each of its pages."""
    marks = (f"{DRAFT}.",) if draft else ()
    notices = (*marks, f"The object is {RE_CREATION}.")
    return replace(evidence, audience=audience, notices=notices)


def shown_not_cleared(view: PublicArchive, evidence: Evidence) -> tuple[NotCleared, ...]:
    """The sources shown whose publication is not cleared, in order of id."""
    return tuple(view.not_cleared[source] for source in sorted(_shown(evidence)) if source in view.not_cleared)


def _shown(evidence: Evidence) -> Iterable[str]:
    return evidence.titles.keys()


def _told(view: PublicArchive, verdict: Verdict) -> Verdict:
    return replace(verdict, explanation=" ".join([verdict.explanation, *withheld_remarks(view, verdict)]))
