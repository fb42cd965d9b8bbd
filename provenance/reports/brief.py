"""The brief for whoever makes a fitting: what to make, from where, to what limits, how sure that is, on what."""

from collections.abc import Iterator

from provenance.records.decisions import Decision
from provenance.reports.cautioned import caution_lines
from provenance.reports.date_words import date_words
from provenance.reports.evidence import Evidence, FeatureEvidence, release_words
from provenance.reports.evidence_text import modern_change_words, place_words, standing_words
from provenance.reports.layout import listed, paragraph
from provenance.rules.chosen_builds import chosen_build

_MARGIN = "  "


def brief_text(evidence: Evidence, width: int) -> str:
    """Lay out the brief: cautions first, then one part a feature; points and other values are left out."""
    lines = evidence.standing.as_lines(width)
    lines += caution_lines(evidence.cautions, width)
    for notice in evidence.notices:
        lines += paragraph(notice, width)
    component, target = evidence.component, evidence.target
    numbers = f", {listed(component.references)}" if component.references else ""
    lines += paragraph(f"{component.name}{numbers}: for No. {target.example} as at {target.as_at}", width)
    for feature in evidence.features:
        lines += ["", *_feature_lines(evidence, feature, width)]
    return "\n".join(lines)


def _feature_lines(evidence: Evidence, feature: FeatureEvidence, width: int) -> list[str]:
    verdict = feature.verdict
    title = paragraph(verdict.name, width)
    lines = [*title, "-" * min(max(map(len, title)), width)]
    for sentence in _making(evidence, feature):
        lines += paragraph(sentence, width, indent=_MARGIN)
    lines += paragraph(f"What the evidence says: {standing_words(verdict)}", width, indent=_MARGIN)
    lines += paragraph(feature.explanation, width, indent=_MARGIN)
    for item in verdict.best.supporting if verdict.best else ():
        place = place_words(item.at)
        quote = f": “{item.quote}”" if item.quote else ""
        text = f"{evidence.titles[item.source]}{', ' + place if place else ''}{quote}"
        lines += paragraph(text, width, indent=f"{_MARGIN}- ", hang=f"{_MARGIN}  ")
    return lines


def _making(evidence: Evidence, feature: FeatureEvidence) -> Iterator[str]:
    asked, decision = feature.verdict.asked, feature.verdict.decision
    if decision is None:
        yield "Make nothing yet: nothing has been decided."
    else:
        tolerance = f", to {decision.tolerance}" if decision.tolerance else ""
        yield f"Make: {chosen_build(feature.verdict, decision).shown}{tolerance}."
        yield from _misfit(decision)
        if decision.why:
            yield f"Why: {decision.why}"
        released = release_words(evidence, decision)
        if released:
            yield released
        if decision.modern_change:
            yield modern_change_words(decision.modern_change)
        if decision.drawings:
            drawings = [f"{each.number}{f' issue {each.issue}' if each.issue else ''}" for each in decision.drawings]
            yield f"To drawing {listed(drawings)}."
        if decision.stamp:
            yield f"Mark the new part: {decision.stamp.rstrip('.')}."
    if asked.datum:
        yield f"Measured from: {asked.datum}."
    if asked.unit:
        yield f"Built in: {asked.unit}."
    if feature.flags:
        told = f"`provenance flags --component {evidence.component.id}`"
        yield f"Before it is made, mind {listed(feature.flags)}; {told} explains."


def _misfit(decision: Decision) -> Iterator[str]:
    """That the last piece does not fit; a contractor's decision carries nothing of what was made."""
    last = decision.made[-1] if decision.made else None
    if last is not None and last.fits == "badly":
        value = f" to {last.value}" if last.value else ""
        yield f"The last one, made{value} on {date_words(last.date)}, fits badly: settle that before another is made."
