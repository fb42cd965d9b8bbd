"""What to make and to what limits, from where, to which drawing: the same words in every brief and dossier."""

from collections.abc import Iterator

from provenance.records.components import Feature
from provenance.records.decisions import Decision, Made, MadeDrawing, ModernChange
from provenance.records.kinds import FeatureKind
from provenance.reports.appendix_words import REASONS
from provenance.reports.date_words import date_words
from provenance.reports.evidence import Evidence, FeatureEvidence
from provenance.reports.layout import listed
from provenance.rules.chosen_builds import chosen_build
from provenance.rules.quantity_words import in_both_units

RULES_OF_FIT = {"equal": "the same as", "clears": "clear of", "bolts-to": "bolted to"}


def making_terms(evidence: Evidence, feature: FeatureEvidence) -> Iterator[tuple[str, str]]:
    """Say it as words with what is said of each, such as `Measured from` and `top of rail`; no full stop ends it."""
    asked, decision = feature.verdict.asked, feature.verdict.decision
    if decision is None:
        yield "Make", "nothing yet: nothing has been decided"
    else:
        yield from _decided(evidence, feature, decision)
    if asked.datum:
        yield "Measured from", asked.datum.rstrip(".")
    if asked.unit:
        yield "Built in", asked.unit
    if asked.needed:
        yield "To be known within", in_both_units(asked.needed, asked.unit)
    if asked.mates:
        yield "Fits against", listed(fits_against(evidence, asked))


def _decided(evidence: Evidence, feature: FeatureEvidence, decision: Decision) -> Iterator[tuple[str, str]]:
    yield "Make", build_words(feature, decision)
    if decision.tolerance:
        yield "To limits", in_both_units(decision.tolerance, feature.verdict.asked.unit)
    if decision.drawings:
        yield "To drawing", listed(map(drawing_words, decision.drawings))
    last = decision.made[-1] if decision.made else None
    if last is not None and last.fits == "badly":
        yield "The last one does not fit", f"{misfit_words(last)}; settle that before another is made"
    if decision.modern_change:
        yield "Changed from the evidence", change_words(decision.modern_change)
    if decision.stamp:
        yield "Mark the new part", decision.stamp.rstrip(".")
    if decision.why:
        yield "Why", decision.why.rstrip(".")
    if decision.released:
        by = evidence.people.get(decision.released.by, decision.released.by)
        yield "Released by", f"{by}, {date_words(decision.released.date)}"


def build_words(feature: FeatureEvidence, decision: Decision) -> str:
    """What is built, a figure in both systems of units."""
    shown = chosen_build(feature.verdict, decision).shown
    asked = feature.verdict.asked
    return in_both_units(shown, asked.unit) if asked.kind is FeatureKind.QUANTITY else shown


def drawing_words(drawing: MadeDrawing) -> str:
    """A drawing with its issue, such as `R9-104 issue A`."""
    return f"{drawing.number} issue {drawing.issue}" if drawing.issue else drawing.number


def change_words(change: ModernChange) -> str:
    """For what reason what is built departs from the evidence, and how."""
    note = f"; {change.note.rstrip('.')}" if change.note else ""
    return f"{REASONS[change.reason]}{note}"


def misfit_words(made: Made) -> str:
    """When the piece was made that does not fit, and to what."""
    value = f" to {made.value}" if made.value else ""
    note = f": {made.note.rstrip('.')}" if made.note else ""
    return f"made{value} on {date_words(made.date)}{note}"


def fits_against(evidence: Evidence, asked: Feature) -> Iterator[str]:
    """What it has to fit, each with the rule: `bolted to the bracket: width, within 1 mm`."""
    for mate in asked.mates:
        within = f", within {in_both_units(mate.within, asked.unit)}" if mate.within else ""
        yield f"{RULES_OF_FIT.get(mate.rule, mate.rule)} {evidence.mates.get(mate.mate, mate.mate)}{within}"
