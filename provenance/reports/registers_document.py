"""A register as a document: pages that lie on their side, a table whose cells hold what belongs together."""

from collections.abc import Sequence

from provenance.reports.appendix_words import DRAFT, RE_CREATION
from provenance.reports.cautioned import caution_sentences
from provenance.reports.document import Block, Boxed, Column, Document, Heading, Paragraph, Table, Terms, words
from provenance.reports.registers import FeatureRow, Register, SourceRegister, SourceRow
from provenance.rules.cautions import FITNESS


def register_document(register: Register) -> Document:
    """Lay a register out; the same register gives the same document."""
    head = register.head
    mark = f"{DRAFT}. " if head.draft else ""
    return Document(
        title=head.title,
        running=f"{mark}{head.title}. The object is {RE_CREATION}.",
        draft=head.draft,
        lying=True,
        blocks=(
            Heading(text=head.title, level=1),
            *(Paragraph(words=words(sentence)) for sentence in head.about),
            *_cautions(register),
            Heading(text="The words", level=2, anchor="words"),
            Terms(pairs=tuple((word, words(meaning)) for word, meaning in head.meanings)),
            *_list(register),
        ),
    )


def _cautions(register: Register) -> tuple[Block, ...]:
    cautions = register.head.cautions
    boxes = tuple(Boxed(name=f"Caution, {each.hazard}", text=caution_sentences(each)) for each in cautions)
    return (*boxes, Paragraph(words=words(FITNESS))) if boxes else ()


def _list(register: Register) -> tuple[Block, ...]:
    if isinstance(register, SourceRegister):
        table = Table(
            caption="All sources that may be shown, in the order of their records' names",
            columns=_SOURCE_COLUMNS,
            rows=tuple(_source_cells(row) for row in register.rows),
        )
    else:
        table = Table(
            caption="All features, each part before those that belong to it",
            columns=_FEATURE_COLUMNS,
            rows=tuple(_feature_cells(row) for row in register.rows),
        )
    name = "The sources" if isinstance(register, SourceRegister) else "The features"
    listed = table if table.rows else Paragraph(words=words("There is nothing to list."))
    return (Heading(text=name, level=2, anchor="list"), listed)


_SOURCE_COLUMNS = (
    Column(heading="No.", share=0.6, figures=True),
    Column(heading="Source, and its record", share=2.7),
    Column(heading="What it is, and when made", share=1.5),
    Column(heading="Held by", share=1.7),
    Column(heading="Where it comes from", share=2.2),
    Column(heading="Machines shown", share=1.4),
    Column(heading="Reliability, and remarks", share=1.7),
    Column(heading="Rights", share=2.0),
    Column(heading="Cited by", share=0.7, figures=True),
)


def _source_cells(row: SourceRow) -> tuple[str, ...]:
    issue = f"issue {row.issue}" if row.issue else ""
    language = f"language {row.language}" if row.language else ""
    return (
        str(row.number),
        _sentences([row.title, row.creator and f"By {row.creator}", f"Record {row.record}, of {row.entered}"]),
        ", ".join(each for each in (row.kind, issue, row.created, language) if each),
        ", ".join(each for each in (row.holder, row.reference) if each),
        _sentences(
            [
                row.made_from and f"It {row.made_from}",
                row.replaces and f"Replaces {row.replaces}",
                row.within and f"Kept within {row.within}",
            ]
        ),
        row.shows,
        _sentences([row.reliability, _capital(row.remarks), row.hazards and f"Hazard: {row.hazards}"]),
        _sentences([row.statement, row.credit and f"Credit: {row.credit}", f"Cleared for print: {row.cleared}"]),
        row.cited_by,
    )


_FEATURE_COLUMNS = (
    Column(heading="No.", share=0.6, figures=True),
    Column(heading="Part", share=2.0),
    Column(heading="Feature, and its record", share=2.0),
    Column(heading="What the evidence speaks for", share=1.8),
    Column(heading="Grade", share=1.6),
    Column(heading="Evidence behind it", share=1.8),
    Column(heading="Declared", share=2.0),
    Column(heading="Decided and built", share=1.6),
    Column(heading="Not shown here", share=1.4),
)


def _feature_cells(row: FeatureRow) -> tuple[str, ...]:
    owner = f"Belongs to: {row.part_of}" if row.part_of else ""
    witnesses = f"independent witnesses: {row.witnesses}"
    return (
        str(row.number),
        _sentences(
            [row.part, owner, row.made_as and f"It is: {row.made_as}", row.hazards and f"Hazard: {row.hazards}"]
        ),
        _sentences([f"{row.feature} ({row.aspect})", f"Record {row.record}"]),
        row.value,
        "; ".join(each for each in (row.grade, witnesses, row.chance) if each),
        row.evidence,
        row.declared,
        "; ".join(each for each in (row.built, row.made and f"made on {row.made}") if each),
        row.confidence,
    )


def _capital(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}"


def _sentences(parts: Sequence[str]) -> str:
    """Parts one after the other, each ended by a full stop unless it ends a sentence already."""
    return " ".join(part if part[-1] in ".?!" else f"{part}." for part in parts if part)
