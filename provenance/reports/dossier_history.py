"""What was decided, made and doubted, in a dossier."""

from collections.abc import Iterator

from provenance.records.decisions import Decision, Made, Query
from provenance.reports import dossier_words as say
from provenance.reports.date_words import date_words
from provenance.reports.document import Block, Entry, Figure, Heading, Listing, Paragraph, Run, words
from provenance.reports.dossier import Dossier, FeatureDossier
from provenance.reports.layout import listed
from provenance.reports.making_words import build_words, change_words, drawing_words


def decided_blocks(dossier: Dossier, feature: FeatureDossier) -> Iterator[Block]:
    """The decisions, the one in force first, and each piece that was made; nothing where nothing was decided."""
    in_force = feature.feature.verdict.decision
    decisions = [*([in_force] if in_force else []), *feature.past]
    if not decisions:
        return
    yield Heading(text=say.DECIDED, level=3)
    for decision in decisions:
        yield Paragraph(
            words=(
                Run(text=f"{say.status_words(decision, in_force=decision is in_force)}: ", strong=True),
                Run(text=" ".join(_decision(dossier, feature, decision))),
            )
        )
        if decision.made:
            yield Listing(entries=tuple(Entry(words=words(_made(each, dossier))) for each in decision.made))
    yield from _photographs(feature, in_force)


def _decision(dossier: Dossier, feature: FeatureDossier, decision: Decision) -> Iterator[str]:
    limits = f", {decision.tolerance}" if decision.tolerance else ""
    by = f", by {dossier.person(decision.by)}" if decision.by else ""
    yield f"{build_words(feature.feature, decision)}{limits} ({date_words(decision.date)}{by})."
    if decision.grade_then:
        yield f"The evidence was {decision.grade_then} then."
    if decision.why:
        yield f"Why: {decision.why.rstrip('.')}."
    if decision.modern_change:
        yield f"Changed from the evidence {change_words(decision.modern_change)}."
    if decision.drawings:
        yield f"To drawing {listed(map(drawing_words, decision.drawings))}."


def _made(made: Made, dossier: Dossier) -> str:
    value = f" to {made.value}" if made.value else ""
    by = f" by {dossier.person(made.by)}" if made.by else ""
    fits = f" It fits {made.fits}." if made.fits else ""
    inspected = f" Inspected by {dossier.person(made.inspected_by)}." if made.inspected_by else ""
    note = f" {made.note.rstrip('.')}." if made.note else ""
    return f"Made{value}{by}, {date_words(made.date)}.{fits}{inspected}{note}"


def _photographs(feature: FeatureDossier, in_force: Decision | None) -> Iterator[Block]:
    for number, picture in sorted(feature.photographs.items()):
        made = in_force.made[number] if in_force else None
        if picture.picture is not None and made is not None:
            yield Figure(picture=picture.picture, caption=words(f"What was made, {date_words(made.date)}."))


def open_blocks(feature: FeatureDossier) -> Iterator[Block]:
    """What is doubted, what the verdict hangs on, and what would settle it; nothing where nothing is open."""
    hangs_on = feature.feature.hangs_on
    if not feature.queries and not hangs_on:
        return
    yield Heading(text=say.OPEN, level=3)
    for query in feature.queries:
        yield Paragraph(words=(Run(text=_asked(query), strong=query.open), *_rest(query)))
    if hangs_on:
        yield Paragraph(words=words(hangs_on))


def _asked(query: Query) -> str:
    state = "Open query" if query.open else "Answered query"
    by = f", raised by {query.raised_by}" if query.raised_by else ""
    return f"{state} of {date_words(query.date)}{by}: "


def _rest(query: Query) -> tuple[Run, ...]:
    settle = f" What would settle it: {query.would_settle.rstrip('.')}." if query.open and query.would_settle else ""
    answer = f" Answer: {query.answer.rstrip('.')}." if query.answer else ""
    return (Run(text=f"{query.grounds.rstrip('.')}.{settle}{answer}"),)
