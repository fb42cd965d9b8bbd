"""The evidence in a dossier: each place with its picture and words, and the answers that were not taken."""

from collections.abc import Iterable, Iterator

from provenance.records.kinds import Stance
from provenance.reports import dossier_words as say
from provenance.reports.document import (
    Block,
    Entry,
    Figure,
    Heading,
    Listing,
    Paragraph,
    Quotation,
    Run,
    Together,
    Words,
    words,
)
from provenance.reports.dossier import Dossier, Exhibit, FeatureDossier, Rival
from provenance.rules.grades import Grade
from provenance.rules.verdicts import JudgedItem


def evidence_blocks(dossier: Dossier, feature: FeatureDossier) -> Iterator[Block]:
    """What the best value rests on, place by place; what has no weight comes last, in short."""
    yield Heading(text=say.RESTS, level=3)
    if not any(each.has_weight for each in feature.exhibits):
        yield Paragraph(words=words(say.NOTHING))
    with_points = dossier.evidence.audience == "team"
    weighty = [each for each in feature.exhibits if each.has_weight]
    yield from _exhibited(weighty, with_points=with_points)
    weightless = [each for each in feature.exhibits if not each.has_weight]
    if weightless:
        yield Paragraph(words=(Run(text="Looked at, and without weight:", strong=True),))
        yield _listed(weightless, with_points=with_points)


def rival_blocks(dossier: Dossier, feature: FeatureDossier) -> Iterator[Block]:
    """The answers that were not taken, each with why; nothing where there was no other."""
    if feature.rivals:
        yield Heading(text=say.RIVALS, level=3)
        for rival in feature.rivals:
            yield from _rival(rival, with_points=dossier.evidence.audience == "team")


def _rival(rival: Rival, *, with_points: bool) -> Iterator[Block]:
    candidate = rival.candidate
    lost = "".join(f" Set aside by the decision: {why.rstrip('.')}." for why in rival.set_aside)
    sure = say.candidate_words(candidate, with_points=with_points)
    yield Paragraph(words=(Run(text=f"“{candidate.shown}”", strong=True), Run(text=f": {sure}.{lost}")))
    if candidate.grade is Grade.CONTESTED:
        yield from _exhibited(rival.exhibits, with_points=with_points)
    else:
        yield _listed(rival.exhibits, with_points=with_points)


def _exhibited(exhibits: Iterable[Exhibit], *, with_points: bool) -> Iterator[Block]:
    for number, exhibit in enumerate(exhibits, 1):
        yield Together(blocks=tuple(_exhibit(number, exhibit, with_points=with_points)))


def _exhibit(number: int, exhibit: Exhibit, *, with_points: bool) -> Iterator[Block]:
    first = exhibit.items[0]
    yield Paragraph(words=(Run(text=f"{number}. ", strong=True), *_named(exhibit)))
    if exhibit.shown.picture is not None:
        yield Figure(picture=exhibit.shown.picture, caption=words(_caption(exhibit)))
    elif exhibit.shown.said:
        yield Paragraph(words=words(f"No picture: {exhibit.shown.said.rstrip('.')}."), small=True)
    if first.quote:
        yield Quotation(text=first.quote, language=language_of(exhibit))
    weighed = " ".join(weighed_words(each, with_points=with_points) for each in exhibit.items)
    yield Paragraph(words=words(weighed), small=True)


def _named(exhibit: Exhibit) -> Words:
    place = say.place_in_words(exhibit.items[0].at)
    after = f", {place}. " if place else ". "
    return (
        Run(text=exhibit.source.title.rstrip("."), slanted=True, language=language_of(exhibit)),
        Run(text=f"{after}{say.about_source(exhibit.source, exhibit.maker)}"),
    )


def language_of(exhibit: Exhibit) -> str:
    """The language of a source, where it is in one alone."""
    return exhibit.source.language[0] if len(exhibit.source.language) == 1 else ""


def _caption(exhibit: Exhibit) -> str:
    place = say.place_in_words(exhibit.items[0].at)
    shown = f"{place[:1].upper()}{place[1:]}" if place else "What is cited"
    return f"{shown}: {exhibit.shown.said.rstrip('.')}." if exhibit.shown.said else f"{shown}."


def _listed(exhibits: Iterable[Exhibit], *, with_points: bool) -> Listing:
    return Listing(entries=tuple(_entry(each, with_points=with_points) for each in exhibits))


def _entry(exhibit: Exhibit, *, with_points: bool) -> Entry:
    quote = exhibit.items[0].quote
    quoted = (Run(text=f" “{quote}”", language=language_of(exhibit)),) if quote else ()
    weighed = " ".join(weighed_words(each, with_points=with_points) for each in exhibit.items)
    return Entry(words=(*_named(exhibit), *quoted, Run(text=f" {weighed}")))


def weighed_words(item: JudgedItem, *, with_points: bool) -> str:
    """How an item was weighed: whether it counts, its points, and why."""
    against = "Against it. " if item.stance is Stance.CONTRADICTS else ""
    if item.weight <= 0:
        return f"{against}{item.why}"
    counted = "Counted" if item.counted else "Not counted beside the others"
    points = f", {item.weight:.1f} points" if with_points else ""
    return f"{against}{counted}{points}. {item.why}"
