"""What an appendix declares: conjecture, departures that the present day asks for, and the words that it uses."""

from collections.abc import Iterable, Iterator

from provenance.records.decisions import Decision, ModernChange
from provenance.reports.appendix_words import CLAIMS, REASONS, WITNESS, grade_words
from provenance.rules.chosen_builds import chosen_build
from provenance.rules.grades import Grade
from provenance.rules.public_values import IN_CONFIDENCE, PublicArchive
from provenance.rules.verdicts import Verdict
from provenance.rules.weights import weights_of


def feature_name(view: PublicArchive, verdict: Verdict) -> str:
    """A feature as visitors know it: by its part and its own name."""
    return f"{view.archive.components[verdict.component].name}: {verdict.name[:1].lower()}{verdict.name[1:]}"


def conjecture_in(view: PublicArchive, verdicts: Iterable[Verdict]) -> Iterator[str]:
    """Say of each feature that is conjecture, or known by comparison alone, that it is so."""
    for verdict in verdicts:
        said = _conjecture(verdict)
        if said:
            confidence = f" {IN_CONFIDENCE[:1].upper()}{IN_CONFIDENCE[1:]}."
            yield f"{feature_name(view, verdict)}{said}{confidence if verdict.feature in view.in_confidence else ''}"


def _conjecture(verdict: Verdict) -> str:
    decision = verdict.decision
    if decision is not None and chosen_build(verdict, decision).is_conjecture:
        return f", built as “{decision.build}”, is conjecture: nothing that can be shown here supports it."
    if verdict.best is None and (decision is None or decision.modern_change is None):
        return ": nothing that can be shown here supports any answer; whatever is shown is conjecture."
    if verdict.grade is Grade.INFERRED:
        return f", “{verdict.shown}”, is inferred by comparison with other machines."
    return ""


def modern_changes_in(view: PublicArchive, verdicts: Iterable[Verdict]) -> Iterator[str]:
    """Say of each departure that the present day asks for what was changed, why, and how it can be told."""
    for verdict in verdicts:
        decision = verdict.decision
        if decision is not None and decision.modern_change is not None:
            yield " ".join(_change(feature_name(view, verdict), verdict, decision, decision.modern_change))


def _change(name: str, verdict: Verdict, decision: Decision, change: ModernChange) -> Iterator[str]:
    note = f": {change.note.rstrip('.')}" if change.note else ""
    yield f"{name}, built as “{decision.build}” {REASONS[change.reason]}{note}."
    if verdict.shown is not None and not chosen_build(verdict, decision).is_best:
        yield f"The evidence speaks for “{verdict.shown}”."
    if decision.stamp:
        yield f"The new part is marked: {decision.stamp.rstrip('.')}."


def definitions_of(view: PublicArchive, verdicts: Iterable[Verdict]) -> Iterator[tuple[str, str]]:
    """The defined words that are used, with their meaning: what the object claims to be, then how sure values are."""
    subject = view.archive.subject
    if subject is not None and subject.claims_to_be in CLAIMS:
        yield subject.claims_to_be, CLAIMS[subject.claims_to_be]
    judged = list(verdicts)
    used = {candidate.grade for verdict in judged for candidate in verdict.candidates if candidate.supporting}
    used |= {verdict.grade for verdict in judged}
    words = grade_words(weights_of(view.archive))
    yield from ((grade.value, words[grade]) for grade in Grade if grade in used)
    if used:
        yield WITNESS
