"""A dossier as a printed document: cautions first, then one chapter a feature, then the words used."""

from collections.abc import Iterable, Iterator

from provenance.reports import dossier_words as say
from provenance.reports.appendix_words import PARTS, WITNESS, grade_words
from provenance.reports.cautioned import caution_sentences
from provenance.reports.document import (
    Block,
    Boxed,
    Document,
    Entry,
    Figure,
    Heading,
    Listing,
    Paragraph,
    Run,
    Terms,
    words,
)
from provenance.reports.dossier import Dossier, FeatureDossier
from provenance.reports.dossier_evidence import evidence_blocks, rival_blocks
from provenance.reports.dossier_history import decided_blocks, open_blocks
from provenance.reports.evidence import Evidence
from provenance.reports.evidence_text import standing_words, weights_words
from provenance.reports.figures import descent_picture, measure_picture, sequence_picture
from provenance.reports.layout import counted, listed
from provenance.reports.making_words import making_terms
from provenance.rules.cautions import FITNESS
from provenance.rules.grades import Grade
from provenance.rules.weights import Weights


def dossier_document(dossier: Dossier, weights: Weights, *, draft: bool = False) -> Document:
    """Compose the pages.

    Args:
        dossier: the value.
        weights: those used, for the meaning of the grades.
        draft: whether it is marked as a draft.
    """
    evidence = dossier.evidence
    return Document(
        title=say.title(evidence),
        running=say.running_line(evidence, draft=draft),
        draft=draft,
        blocks=(
            *_opening(dossier),
            *(block for feature in dossier.features for block in _feature(dossier, feature)),
            *words_used_blocks(evidence, weights),
        ),
    )


def _opening(dossier: Dossier) -> Iterator[Block]:
    evidence = dossier.evidence
    yield Heading(text=say.name_of(evidence), level=1)
    yield from (
        Boxed(name=f"Caution, {caution.hazard.replace('-', ' ')}", text=caution_sentences(caution))
        for caution in evidence.cautions
    )
    if evidence.cautions or evidence.audience != "team":
        yield Paragraph(words=(Run(text=FITNESS, strong=True),))
    left_out = evidence.standing.left_out
    if left_out:
        many = counted(len(left_out), "record takes", "records take")
        yield Boxed(name="Not the whole archive", text=f"{many.capitalize()} no part in this.")
    yield from (Paragraph(words=words(notice)) for notice in evidence.notices)
    yield Paragraph(words=words(say.represented(evidence)))
    yield Paragraph(words=words(" ".join(_part_words(dossier))))
    if evidence.without:
        yield Paragraph(words=words(f"Judged as if {listed(evidence.without)} were withdrawn."))
    if not dossier.features:
        yield Paragraph(words=words(say.NO_FEATURES))


def _part_words(dossier: Dossier) -> Iterator[str]:
    component = dossier.evidence.component
    if dossier.assembly:
        yield f"Part of: {', '.join(dossier.assembly)}."
    made_as = PARTS.get(component.made_as or "")
    yield f"The part is {made_as}." if made_as else "What the part will be is not recorded yet."
    if component.also_called:
        yield f"Also called {listed(component.also_called)}."


def _feature(dossier: Dossier, feature: FeatureDossier) -> Iterator[Block]:
    verdict = feature.feature.verdict
    yield Heading(text=verdict.name, level=2, anchor=f"feature-{verdict.asked.id}")
    yield Heading(text=say.MAKING, level=3)
    terms = making_terms(dossier.evidence, feature.feature)
    yield Terms(pairs=tuple((word, words(text)) for word, text in terms))
    if feature.feature.raised:
        yield Paragraph(words=(Run(text="Before it is made, mind:", strong=True),))
        yield _sentences(
            f"{flag.sentence} {flag.mend[:1].upper()}{flag.mend[1:].rstrip('.')}." for flag in feature.feature.raised
        )
    elif feature.is_queried and dossier.evidence.audience in say.OUTSIDE:
        yield Paragraph(words=(Run(text=say.QUERIED, strong=True),))
    yield Heading(text=say.SAYS, level=3)
    yield Paragraph(words=(Run(text=standing_words(verdict), strong=True), Run(text=f" {verdict.explanation}")))
    yield from evidence_blocks(dossier, feature)
    yield from rival_blocks(dossier, feature)
    yield from _figures(dossier, feature)
    yield from decided_blocks(dossier, feature)
    yield from open_blocks(feature)


def _figures(dossier: Dossier, feature: FeatureDossier) -> Iterator[Block]:
    of = feature.feature
    figures = [(sequence_picture(of.sequence), say.SEQUENCE)] if of.sequence is not None else []
    if of.verdict.quantity:
        figures.append((measure_picture(of.verdict.quantity, dossier.evidence.titles), say.MEASURES))
    if feature.descended is not None:
        is_public = dossier.evidence.audience in say.OUTSIDE
        figures.append((descent_picture(feature.descended, is_public=is_public), say.DESCENT))
    if figures:
        yield Heading(text=say.FIGURES, level=3)
        yield from (Figure(picture=picture, caption=words(caption)) for picture, caption in figures)


def _sentences(texts: Iterable[str]) -> Listing:
    return Listing(entries=tuple(Entry(words=words(text)) for text in texts))


def words_used_blocks(evidence: Evidence, weights: Weights) -> Iterator[Block]:
    """What the grades mean that stand in it, and by which weights it was judged."""
    candidates = [each for feature in evidence.features for each in feature.verdict.candidates]
    used = {each.grade for each in candidates} | {feature.verdict.grade for feature in evidence.features}
    if used:
        meaning = grade_words(weights)
        pairs = [(grade.value, meaning[grade]) for grade in Grade if grade in used]
        yield Heading(text=say.WORDS, level=2)
        yield Terms(pairs=tuple((word, words(f"{text}.")) for word, text in (*pairs, WITNESS)))
    yield Paragraph(words=words(weights_words(evidence)), small=True)
