"""The words of a dossier that are the same in every format."""

from provenance.records.claims import At
from provenance.records.decisions import Decision
from provenance.records.sources import Source
from provenance.reports.appendix_words import DRAFT, RE_CREATION
from provenance.reports.date_words import date_words
from provenance.reports.evidence import Evidence
from provenance.reports.evidence_text import chance
from provenance.rules.grades import Grade
from provenance.rules.source_words import kind_in_words
from provenance.rules.verdicts import Candidate

OUTSIDE = frozenset({"contractor", "public"})
"""Whom nothing is shown that is withheld."""

MAKING = "What to make"
SAYS = "What the evidence says"
RESTS = "What that rests on"
RIVALS = "Other answers, and why they were not taken"
FIGURES = "Figures"
DECIDED = "What was decided and made"
OPEN = "What is open"
WORDS = "The words used"

SEQUENCE = "The machines in order of production, with what was seen on each."
MEASURES = "Every figure with its give or take, and what they come to together."
DESCENT = "What the evidence goes back to: an arrow leads from each source to what was made from it."

NOTHING = "Nothing that we hold speaks for any answer."
NO_FEATURES = "It has no features of its own to decide yet."
QUERIED = "Something about this is in doubt and has not been answered: ask the team before it is made."

_FOR = {
    "team": "for the team",
    "workshop": "for the workshop",
    "contractor": "for a contractor",
    "public": "for the public",
}


def name_of(evidence: Evidence) -> str:
    """The component with its numbers."""
    numbers = ", ".join(evidence.component.references)
    return f"{evidence.component.name} ({numbers})" if numbers else evidence.component.name


def title(evidence: Evidence) -> str:
    """What the document is called."""
    what = "Brief" if evidence.audience == "contractor" else "Dossier"
    return f"{what}: {evidence.component.name}"


def running_line(evidence: Evidence, *, draft: bool) -> str:
    """What stands on every page."""
    marks = [DRAFT] if draft else []
    marks += [f"{RE_CREATION[:1].upper()}{RE_CREATION[1:]}"] if evidence.audience in OUTSIDE else []
    return " · ".join([*marks, title(evidence), f"No. {evidence.target.example}", _FOR[evidence.audience]])


def represented(evidence: Evidence) -> str:
    """Which machine is represented, and why."""
    target = evidence.target
    why = f" Why: {target.why.rstrip('.')}." if target.why else ""
    return f"For No. {target.example} as it was in {date_words(target.as_at)}.{why}"


def about_source(source: Source, maker: str) -> str:
    """What a source is: its kind and issue, when and by whom it was made, who holds it and under which reference."""
    kind = kind_in_words(source.kind).capitalize() if source.kind else "Not looked at yet"
    issue = f"issue {source.issue}" if source.issue else ""
    made = date_words(source.created) if source.created else "undated"
    said = ", ".join(part for part in (kind, issue, made, f"by {maker}" if maker else "") if part)
    held = ", ".join(part for part in (source.holder, source.place, source.reference) if part)
    told = [said, f"Held by {held}" if source.holder else held]
    return " ".join(f"{part.rstrip('.')}." for part in told if part)


def place_in_words(at: At) -> str:
    """A place in a source as it is looked up; empty where none is named."""
    said = [f"page {at.page}" + (f" (printed {at.page_label})" if at.page_label else "")] if at.page else []
    said += [f"at {at.time}"] if at.time is not None else []
    said += [f"{at.who} speaking"] if at.who else []
    return ", ".join(said)


def candidate_words(candidate: Candidate, *, with_points: bool) -> str:
    """A value with its grade and how sure it is."""
    if not candidate.weight_for and not candidate.weight_against:
        return f"{candidate.grade.value}; nothing counts for it"
    against = f", {candidate.weight_against:.1f} against" if candidate.weight_against else ""
    points = f"; {candidate.weight_for:.1f} points for it{against}" if with_points else ""
    witnesses = "one independent witness" if candidate.lines == 1 else f"{candidate.lines} independent witnesses"
    on = "" if candidate.grade in {Grade.INFERRED, Grade.OUTWEIGHED} or not candidate.lines else f", on {witnesses}"
    return f"{candidate.grade.value}{on}, chance {chance(candidate.posterior)}{points}"


def status_words(decision: Decision, *, in_force: bool) -> str:
    """How a decision stands."""
    if in_force:
        return "In force"
    if decision.withdrawn is not None:
        return f"Withdrawn, {decision.withdrawn.why.rstrip('.')}"
    return "Only proposed" if decision.status == "proposed" else "Replaced"
