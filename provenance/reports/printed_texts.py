"""Every text that is printed of a document, in order, and how much there is of it."""

import re
from collections.abc import Iterator
from functools import singledispatch
from html import unescape

from provenance.reports.document import (
    Block,
    Boxed,
    Document,
    Figure,
    Heading,
    Listing,
    Paragraph,
    Quotation,
    Table,
    Terms,
    Together,
    Words,
)
from provenance.reports.pdf_pictures import DRAWING, drawable

_MARKS = re.compile(r"<(?:title|desc|style)\b.*?</(?:title|desc|style)>|<[^>]*>", re.DOTALL)


def texts_of(document: Document) -> Iterator[str]:
    """All texts that stand on the pages of a document; those in its drawings too."""
    yield document.running
    for block in document.blocks:
        yield from texts_in(block)


@singledispatch
def texts_in(block: Block) -> Iterator[str]:
    """The texts that a block prints."""
    raise TypeError(type(block).__name__)


@texts_in.register
def _(block: Heading) -> Iterator[str]:
    yield block.text


@texts_in.register
def _(block: Paragraph) -> Iterator[str]:
    yield _said(block.words)


@texts_in.register
def _(block: Boxed) -> Iterator[str]:
    yield from (block.name, block.text)


@texts_in.register
def _(block: Quotation) -> Iterator[str]:
    yield block.text


@texts_in.register
def _(block: Listing) -> Iterator[str]:
    yield from (_said(entry.words) for entry in block.entries)


@texts_in.register
def _(block: Terms) -> Iterator[str]:
    for term, said in block.pairs:
        yield from (term, _said(said))


@texts_in.register
def _(block: Table) -> Iterator[str]:
    yield block.caption
    yield from (column.heading for column in block.columns)
    for row in block.rows:
        yield from row


@texts_in.register
def _(block: Figure) -> Iterator[str]:
    if block.picture.media_type == DRAWING:
        yield unescape(_MARKS.sub(" ", drawable(block.picture).decode()))
    yield _said(block.caption)


@texts_in.register
def _(block: Together) -> Iterator[str]:
    for each in block.blocks:
        yield from texts_in(each)


def _said(words: Words) -> str:
    return "".join(run.text for run in words)
