"""The appendix of a panel as a document, from which every format is written."""

from collections.abc import Iterable, Iterator

from provenance.reports import appendix_wording as wording
from provenance.reports.appendix_values import Account, Appendix, Part, Reading, StatementAccount
from provenance.reports.cautioned import caution_sentences
from provenance.reports.citations import Citation, CitedSource
from provenance.reports.document import (
    Block,
    Boxed,
    Column,
    Document,
    Entry,
    Heading,
    Listing,
    Paragraph,
    Quotation,
    Run,
    Table,
    Terms,
    Words,
    words,
)
from provenance.rules.cautions import FITNESS

_COLUMNS = (
    Column(heading="Part"),
    Column(heading="Feature", share=1.2),
    Column(heading="As shown here", share=1.4),
    Column(heading="How it is known", share=2),
)


def appendix_document(appendix: Appendix) -> Document:
    """Compose the document; the same appendix gives the same one."""
    return Document(
        title=wording.file_title(appendix),
        running=wording.running_line(appendix),
        draft=appendix.draft,
        blocks=tuple(_blocks(appendix)),
    )


def _blocks(appendix: Appendix) -> Iterator[Block]:
    yield Heading(text=appendix.title, level=1)
    if appendix.cautions:
        yield _heading(wording.CAUTIONS)
        for caution in appendix.cautions:
            yield Boxed(name=caution.hazard.replace("-", " ").capitalize(), text=caution_sentences(caution))
    yield _said(wording.purpose(appendix))
    yield _said(wording.opening(appendix))
    yield _said(FITNESS)
    yield _heading(wording.REPRESENTED)
    yield _said(wording.represented(appendix))
    yield from _listed(appendix.never_together)
    yield _heading(wording.PARTS_SHOWN)
    yield from _parts(appendix.parts)
    yield _heading(wording.STATEMENTS)
    yield from _statements(appendix.statements)
    yield _heading(wording.CONJECTURE)
    yield from _listed(appendix.conjecture, wording.NO_CONJECTURE)
    yield _heading(wording.CHANGES)
    yield from _listed(appendix.changes, wording.NO_CHANGES)
    yield _heading(wording.MARKED)
    yield from _listed(appendix.marked, wording.NO_MARKS)
    yield from _sources(appendix)
    yield _heading(wording.WORDS)
    yield _terms(appendix.definitions) if appendix.definitions else _said(wording.NO_WORDS)
    yield Paragraph(words=words(wording.closing(appendix)), small=True)


def _heading(text: str, level: int = 2) -> Heading:
    return Heading(text=text, level=level)


def _said(text: str) -> Paragraph:
    return Paragraph(words=words(text))


def _listed(sentences: Iterable[str], none: str = "") -> Iterator[Block]:
    entries = tuple(Entry(words=words(sentence)) for sentence in sentences)
    if entries:
        yield Listing(entries=entries)
    elif none:
        yield _said(none)


def _terms(pairs: Iterable[tuple[str, str]]) -> Terms:
    return Terms(pairs=tuple((word, words(meaning)) for word, meaning in pairs))


def _parts(parts: tuple[Part, ...]) -> Iterator[Block]:
    if not parts:
        yield _said(wording.NO_PARTS)
        return
    yield _terms((part.name, f"{part.words[:1].upper()}{part.words[1:]}.") for part in parts)
    rows = tuple((part.name, each.name, each.shown, each.known) for part in parts for each in part.standings)
    if rows:
        yield Table(caption=wording.FEATURES, columns=_COLUMNS, rows=rows)


def _statements(statements: tuple[StatementAccount, ...]) -> Iterator[Block]:
    if not statements:
        yield _said(wording.NO_STATEMENTS)
    for number, statement in enumerate(statements, 1):
        yield _heading(f"Statement {number}", 3)
        yield Quotation(text=statement.text)
        for account in statement.accounts:
            yield from _account(account)
        if not statement.accounts:
            yield _said(wording.NO_FEATURE)


def _account(account: Account) -> Iterator[Block]:
    name = Run(text=f"{account.name}: ", strong=True)
    if account.best is None:
        yield Paragraph(words=(name, Run(text=f"{wording.NO_VALUE}.")))
    else:
        yield from _reading(account.best, name)
    for sentence in account.withheld:
        yield _said(sentence)
    for other in account.others:
        yield from _reading(other, Run(text="Another answer: "))
    for sentence in account.remarks:
        yield _said(sentence)


def _reading(reading: Reading, name: Run) -> Iterator[Block]:
    sure = f", {reading.sure}" if reading.sure else ""
    yield Paragraph(words=(name, Run(text=f"“{reading.value}”{sure}.")))
    entries = [Entry(words=_cited(each.said, each.citations)) for each in reading.supported]
    if reading.counted:
        entries.append(Entry(words=words(reading.counted)))
    others = ((wording.AGAINST, reading.opposed), (wording.UNBUILT, reading.unbuilt))
    entries += [Entry(words=_cited(said, citations)) for said, citations in others if citations]
    if entries:
        yield Listing(entries=tuple(entries))


def _cited(said: str, citations: tuple[Citation, ...]) -> Words:
    runs = [Run(text=f"{said}: ")]
    for number, citation in enumerate(citations):
        runs += [Run(text="; ")] if number else []
        if citation.quote:
            runs += [Run(text="“"), Run(text=citation.quote, language=citation.language), Run(text="” ")]
        runs += citation.mark
    return (*runs, Run(text="."))


def _sources(appendix: Appendix) -> Iterator[Block]:
    yield _heading(wording.SOURCES)
    if not appendix.sources:
        yield _said(wording.NO_SOURCES)
        return
    entries = tuple(Entry(words=_referred(each), anchor=each.anchor) for each in appendix.sources)
    yield Listing(entries=entries, numbered=appendix.numbered)
    if appendix.names_pages:
        yield Paragraph(words=words(wording.PAGES), small=True)
    yield _heading(wording.CREDITS)
    credited = tuple(Entry(words=words(_credit(each, appendix))) for each in appendix.sources)
    yield Listing(entries=credited, numbered=appendix.numbered)


def _referred(source: CitedSource) -> Words:
    return (*source.reference, *(Run(text=f" {sentence}") for sentence in source.lineage))


def _credit(source: CitedSource, appendix: Appendix) -> str:
    return source.credit if appendix.numbered else f"“{source.title}”: {source.credit}"
