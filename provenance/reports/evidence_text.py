"""The page of `evidence` that people read at a terminal."""

from dataclasses import replace

from provenance.records.claims import At
from provenance.records.decisions import ModernChange
from provenance.records.kinds import Stance
from provenance.reports.cautioned import caution_lines
from provenance.reports.evidence import Evidence, FeatureEvidence, release_words
from provenance.reports.layout import listed, paragraph
from provenance.reports.measure_text import measure_lines
from provenance.reports.sequence_text import sequence_lines
from provenance.rules.chosen_builds import chosen_build
from provenance.rules.verdicts import Candidate, JudgedItem, Verdict

_MARGIN = "  "


def evidence_text(evidence: Evidence, width: int) -> str:
    """Lay out the whole answer: cautions first, then one part a feature, then the weights that were used."""
    lines = evidence.standing.as_lines(width)
    lines += caution_lines(evidence.cautions, width)
    for notice in evidence.notices:
        lines += paragraph(notice, width)
    lines += paragraph(_heading(evidence), width)
    if not evidence.features:
        lines.append("It has no features of its own to decide yet.")
    if evidence.without:
        lines += paragraph(f"Judged as if {listed(evidence.without)} were withdrawn.", width)
    for feature in evidence.features:
        lines += ["", *_feature_lines(evidence, feature, width)]
    return "\n".join([*lines, "", *paragraph(weights_words(evidence), width)])


def _heading(evidence: Evidence) -> str:
    name = f"{evidence.component.name} ({evidence.component.id})"
    return f"{name}: what is known for No. {evidence.target.example} as at {evidence.target.as_at}"


def _feature_lines(evidence: Evidence, feature: FeatureEvidence, width: int) -> list[str]:
    verdict = feature.verdict
    title = paragraph(f"{verdict.name} ({verdict.feature})", width)
    lines = [*title, "-" * min(max(map(len, title)), width)]
    lines += paragraph(standing_words(verdict), width, indent=_MARGIN)
    lines += paragraph(feature.explanation, width, indent=_MARGIN)
    lines += _decision_lines(evidence, verdict, width)
    if verdict.quantity is not None:
        lines += measure_lines(verdict.quantity, evidence.titles, width, _MARGIN)
    if feature.sequence is not None:
        drawn = sequence_lines(replace(feature.sequence, said=""), width - len(_MARGIN))
        lines += [f"{_MARGIN}{line}".rstrip() for line in drawn]
    if feature.flags:
        lines += paragraph(f"Flags: {', '.join(feature.flags)}.", width, indent=_MARGIN)
    for candidate in verdict.candidates:
        lines += ["", *_candidate_lines(evidence, candidate, width)]
    return lines


def standing_words(verdict: Verdict) -> str:
    """The value with its grade; the explanation that follows says how sure that is."""
    if verdict.value is None:
        return f"{verdict.grade.value.capitalize()}: no value can be given."
    return f"{verdict.shown}: {verdict.grade.value}."


def chance(posterior: float) -> str:
    """Write a chance in whole percent, never as certain and never as nothing at all."""
    percent = round(100 * posterior)
    if percent >= 100:
        return "over 99 %"
    if percent < 1:
        return "under 1 %"
    return f"{percent} %"


def _decision_lines(evidence: Evidence, verdict: Verdict, width: int) -> list[str]:
    decision = verdict.decision
    if decision is None:
        return paragraph("Nothing has been decided yet.", width, indent=_MARGIN)
    why = f". Why: {decision.why}" if decision.why else ""
    build = chosen_build(verdict, decision).shown
    lines = paragraph(f"Decided ({decision.id}): build {build}{why}", width, indent=_MARGIN)
    if decision.modern_change:
        lines += paragraph(modern_change_words(decision.modern_change), width, indent=_MARGIN)
    released = release_words(evidence, decision)
    return [*lines, *(paragraph(released, width, indent=_MARGIN) if released else [])]


def modern_change_words(change: ModernChange) -> str:
    """That what is built departs from the evidence, for what reason, and how."""
    note = f": {change.note.rstrip('.')}" if change.note else ""
    return f"Changed from the evidence for {change.reason}{note}."


def _candidate_lines(evidence: Evidence, candidate: Candidate, width: int) -> list[str]:
    against = f", {candidate.weight_against:.1f} against" if candidate.weight_against else ""
    points = f"{candidate.weight_for:.1f} points for it{against}"
    sure = f", chance {chance(candidate.posterior)}; {points}"
    if not candidate.weight_for and not candidate.weight_against:
        sure = "; nothing counts for it"
    text = f"“{candidate.shown}”: {candidate.grade.value}{sure}."
    lines = paragraph(text, width, indent=_MARGIN)
    for item in candidate.items:
        lines += _item_lines(evidence, item, width)
    return lines


def _item_lines(evidence: Evidence, item: JudgedItem, width: int) -> list[str]:
    side = "for" if item.stance is Stance.SUPPORTS else "against"
    mark = f"{_MARGIN}{_MARGIN}{side:<8}"
    margin = " " * len(mark)
    place = place_words(item.at)
    where = f"{evidence.titles[item.source]} ({item.source}){', ' + place if place else ''}"
    quote = f": “{item.quote}”" if item.quote else ""
    counting = "counted" if item.counted else "not counted"
    lines = paragraph(f"{where}{quote}", width, indent=mark, hang=margin)
    return [*lines, *paragraph(f"{item.weight:.1f} points, {counting}. {item.why}", width, indent=margin)]


def place_words(at: At) -> str:
    """A place in a source as people say it; empty where none is named."""
    said = []
    if at.page is not None:
        said.append(f"page {at.page}" + (f" (printed {at.page_label})" if at.page_label else ""))
    if at.file is not None:
        said.append(f"file {at.file}")
    if at.time is not None:
        said.append(f"at {at.time}")
    if at.region is not None:
        said.append(str(at.region))
    if at.who:
        said.append(f"{at.who} speaking")
    return ", ".join(said)


def weights_words(evidence: Evidence) -> str:
    """With which weights it was weighed, in a sentence."""
    if not evidence.our_weights:
        return "Weighed with the standard weights (common practice, no published source)."
    changed = ", ".join(f"{name} {ours:g} instead of {standard:g}" for name, ours, standard in evidence.our_weights)
    return f"Our weights: {changed}; else the standard ones (common practice, no published source)."
