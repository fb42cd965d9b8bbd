"""What an appendix declares: conjecture, departures that the present day asks for, and the words that it uses."""

from collections.abc import Iterable, Iterator

from provenance.records.decisions import Decision, ModernChange
from provenance.reports.appendix_words import CLAIMS, CONFIDENCE, PRIVATELY, REASONS, WITNESS, grade_words
from provenance.rules.chosen_builds import chosen_build
from provenance.rules.coexistence_flags import coexistence_flags
from provenance.rules.grades import Grade
from provenance.rules.public_values import IN_CONFIDENCE, PublicArchive
from provenance.rules.verdicts import Verdict
from provenance.rules.weights import weights_of


def feature_name(view: PublicArchive, verdict: Verdict) -> str:
    """A feature as visitors know it: by its part and its own name."""
    return f"{view.archive.components[verdict.component].name}: {verdict.name[:1].lower()}{verdict.name[1:]}"


def conjecture_in(view: PublicArchive, verdicts: Iterable[Verdict]) -> Iterator[str]:
    """Say of each feature that is conjecture, known by comparison alone, or in doubt, that it is so."""
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
    if decision is not None and decision.modern_change is None and verdict.best is not None:
        build = chosen_build(verdict, decision)
        if not build.is_best:
            return f", built as “{build.shown}”, is in doubt: the evidence speaks more for “{verdict.shown}”."
    if verdict.grade is Grade.CONTESTED:
        return f", “{verdict.shown}”, is contested: another answer is supported too, and directly."
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


def marks_in(view: PublicArchive, verdicts: Iterable[Verdict]) -> Iterator[str]:
    """Say of each new part that carries a mark what it is, so that nobody takes it for an old one."""
    for verdict in verdicts:
        if verdict.decision is not None and verdict.decision.stamp:
            yield f"{feature_name(view, verdict)}: {verdict.decision.stamp.rstrip('.')}."


def never_together_in(view: PublicArchive, verdicts: Iterable[Verdict]) -> Iterator[str]:
    """Say of what is shown, where it is stated for no machine and day for which something else shown here is stated."""
    concerned = {verdict.feature: verdict for verdict in verdicts}
    raised = coexistence_flags(view.archive, concerned.values(), view.verdicts.values)
    for feature in dict.fromkeys(flag.about for flag in raised):
        name = feature_name(view, concerned[feature])
        yield f"{name}: no source says that this and all else that is chosen were ever together on one machine."


def definitions_of(view: PublicArchive, verdicts: Iterable[Verdict]) -> Iterator[tuple[str, str]]:
    """The defined words that are used, with their meaning: what the object claims to be, then how sure values are.

    Args:
        view: the archive as the public sees it.
        verdicts: all that the words are used of.
    """
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
    if any(view.held_privately[verdict.feature] for verdict in judged):
        yield PRIVATELY
    if any(verdict.feature in view.in_confidence for verdict in judged):
        yield CONFIDENCE
