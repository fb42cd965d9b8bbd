"""The brief for whoever makes a fitting: what to make, from where, to what limits, how sure that is, on what."""

from collections.abc import Iterator

from provenance.reports.cautioned import caution_lines
from provenance.reports.evidence import Evidence, FeatureEvidence
from provenance.reports.evidence_text import place_words, standing_words
from provenance.reports.layout import listed, paragraph
from provenance.reports.making_words import making_terms

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
    yield from (f"{word}: {text}." for word, text in making_terms(evidence, feature))
    if feature.flags:
        told = f"`provenance flags --component {evidence.component.id}`"
        yield f"Before it is made, mind {listed(feature.flags)}; {told} explains."
