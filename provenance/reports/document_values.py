"""A document as the values that its pages are set from: texts, lengths, names of pictures; nothing to be obeyed."""

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import singledispatchmethod
from typing import Any

from provenance.reports.document import (
    Block,
    Boxed,
    Document,
    Figure,
    Heading,
    Listing,
    Paragraph,
    Picture,
    Quotation,
    Run,
    Table,
    Terms,
    Together,
    Words,
    flat,
)
from provenance.reports.document_settled import NOTHING_SAID, name_of_box
from provenance.reports.pdf_pictures import drawable
from provenance.reports.pdf_text import Shown, printable, shown, shown_lines
from provenance.reports.svg_lettering import broken

SHORT_SIDE, LONG_SIDE = 210.0, 297.0  # of A4 in millimetres, ISO 216
MARGINS = (22.0, 26.0, 22.0)  # at the sides, above, below
SIZE, SMALL, CELL = 11.0, 9.0, 9.0
HEIGHTS = (18.0, 14.0, 12.0, 11.0)
INSET = 1.2  # of a cell at each side, in millimetres
INDENT = 14.0  # what lists, quotations and frames take of the width at most
RUNNING_LINES = 2
FAR = "anchor:"
"""Before the anchor of a link that leads to another part, until the parts are joined."""

DRAFT_WORD = "DRAFT"
DRAFT_WIDTH = 24.0

_USUAL_WIDTH, _LINE = 0.6, 1.45  # of a letter, and of a line down to the next, in heights of letters
_HIGH = 80.0  # in millimetres; half of what a lying page holds, for a line may be half empty

_TAG = re.compile(r"([A-Za-z]{2,3})(?:-[A-Za-z]{4})?(?:-([A-Za-z]{2}))?(?:-[A-Za-z0-9]{1,8})*\Z")


def tongue(tag: str) -> list[str | None] | None:
    """The language and the region of a BCP 47 tag; None where it names no language by two or three letters."""
    found = _TAG.fullmatch(tag)
    return [found[1].lower(), found[2].upper() if found[2] else None] if found else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Values:
    """What a page is set from.

    Attributes:
        document: JSON in UTF-8.
        pictures: the bytes of each picture under the name that the document calls it by.
    """

    document: bytes
    pictures: Mapping[str, bytes]


def values_of(
    document: Document,
    faces: list[str],
    *,
    far: Mapping[str, str] = {},
    is_part: bool = False,
    blank_pages: int = 0,
) -> Values:
    """The values of a document.

    Args:
        document: what is printed.
        faces: names of the families of typefaces, the first for most of it.
        far: where anchors are led to that stand in another part of a longer document: the anchor of a heading each.
        is_part: whether headers and footers are left out, since they are set apart.
        blank_pages: how many pages with nothing but headers and footers; 0 for a document with blocks.
    """
    width = (LONG_SIDE if document.lying else SHORT_SIDE) - 2 * MARGINS[0]
    laid = _Laying(width, anchors_of(document), far)
    given = {
        "title": printable(document.title).strip() or _first_heading(document) or NOTHING_SAID,
        "running": None if is_part else _running(document, width),
        "draft": document.draft,
        "draft-word": DRAFT_WORD,
        "language": tongue(document.language) or ["en", None],
        "lying": document.lying,
        "faces": faces,
        "margin": MARGINS,
        "size": SIZE,
        "small": SMALL,
        "cell": CELL,
        "heights": HEIGHTS,
        "inset": INSET,
        "blank-pages": blank_pages,
        "blocks": [laid.block(block) for block in document.blocks],
    }
    return Values(document=json.dumps(given, ensure_ascii=False).encode(), pictures=laid.pictures)


def _first_heading(document: Document) -> str:
    """What stands for a title where none is given: no page may be without one (ISO 14289-1, 7.1)."""
    return next((printable(block.text).strip() for block in flat(document.blocks) if isinstance(block, Heading)), "")


def _running(document: Document, width: float) -> list[Shown]:
    left = width - DRAFT_WIDTH * document.draft
    lines = broken(printable(document.running), left, SMALL * 25.4 / 72, most=RUNNING_LINES)
    return [shown(line, left, SMALL) for line in lines]


def anchors_of(document: Document) -> frozenset[str]:
    """All anchors in a document."""
    return frozenset(anchor for block in flat(document.blocks) for anchor in anchors_in(block) if anchor)


def anchors_in(block: Block) -> tuple[str, ...]:
    """The anchors of a block that is not `Together`; some may be empty."""
    if isinstance(block, Heading | Paragraph):
        return (block.anchor,)
    return tuple(entry.anchor for entry in block.entries) if isinstance(block, Listing) else ()


def _said(words: Words) -> str:
    return printable("".join(run.text for run in words)).strip()


def _is_high(row: Sequence[str], widths: Sequence[float]) -> bool:
    """Whether a row of a table may be too high to be kept on one page; by the usual width of letters."""
    letter = CELL * 25.4 / 72
    lines = max(len(cell) * letter * _USUAL_WIDTH / width + 1 for cell, width in zip(row, widths, strict=True))
    return lines * letter * _LINE > _HIGH


class _Laying:
    """One document being turned into values."""

    def __init__(self, width: float, near: frozenset[str], far: Mapping[str, str]) -> None:
        self._width = width
        self._near = near
        self._far = far
        self.pictures: dict[str, bytes] = {}

    @singledispatchmethod
    def block(self, block: Block) -> dict[str, Any]:
        """The values of a block."""
        raise TypeError(type(block).__name__)

    @block.register
    def _(self, block: Heading) -> dict[str, Any]:
        text = shown(block.text, self._width, HEIGHTS[block.level - 1])
        return {"kind": "heading", "level": block.level, "text": text, "anchor": block.anchor or None}

    @block.register
    def _(self, block: Paragraph) -> dict[str, Any]:
        words = self._words(block.words, self._width)
        leads = _said(block.words).endswith(":")
        return {
            "kind": "paragraph",
            "words": words,
            "small": block.small,
            "leads": leads,
            "anchor": block.anchor or None,
        }

    @block.register
    def _(self, block: Boxed) -> dict[str, Any]:
        width = self._width - INDENT
        return {
            "kind": "boxed",
            "name": shown(name_of_box(block.name), width, SIZE),
            "text": shown(block.text, width, SIZE),
        }

    @block.register
    def _(self, block: Quotation) -> dict[str, Any]:
        text = shown_lines(block.text, self._width - INDENT, SIZE)
        return {"kind": "quotation", "text": text, "language": tongue(block.language)}

    @block.register
    def _(self, block: Listing) -> dict[str, Any]:
        entries = [
            {"words": self._words(entry.words, self._width - INDENT), "anchor": entry.anchor or None}
            for entry in block.entries
        ]
        return {"kind": "listing", "entries": entries, "numbered": block.numbered}

    @block.register
    def _(self, block: Terms) -> dict[str, Any]:
        width = self._width - INDENT
        return {
            "kind": "terms",
            "pairs": [[shown(term, width, SIZE), self._words(said, width)] for term, said in block.pairs],
        }

    @block.register
    def _(self, block: Table) -> dict[str, Any]:
        whole = sum(column.share for column in block.columns)
        widths = [self._width * column.share / whole - 2 * INSET for column in block.columns]
        return {
            "kind": "table",
            "caption": shown(block.caption, self._width, SMALL) if block.caption else None,
            "headings": [shown(each.heading, width, CELL) for each, width in zip(block.columns, widths, strict=True)],
            "shares": [column.share for column in block.columns],
            "figures": [column.figures for column in block.columns],
            "breakable": any(_is_high(row, widths) for row in block.rows),
            "cells": [shown(cell, width, CELL) for row in block.rows for cell, width in zip(row, widths, strict=True)],
        }

    @block.register
    def _(self, block: Figure) -> dict[str, Any]:
        picture = block.picture
        return {
            "kind": "figure",
            "file": self._kept(picture),
            "says": printable(picture.says).strip() or _said(block.caption) or NOTHING_SAID,
            "width": picture.width,
            "height": picture.height,
            "caption": self._words(block.caption, self._width),
        }

    @block.register
    def _(self, block: Together) -> dict[str, Any]:
        return {"kind": "together", "blocks": [self.block(each) for each in block.blocks]}

    def _kept(self, picture: Picture) -> str:
        name = f"picture-{len(self.pictures) + 1}.svg"
        self.pictures[name] = drawable(picture)
        return name

    def _words(self, words: Words, width: float) -> list[dict[str, Any]]:
        return [self._run(run, width) for run in words]

    def _run(self, run: Run, width: float) -> dict[str, Any]:
        is_near = run.to in self._near
        return {
            "text": shown(run.text, width, SIZE),
            "strong": run.strong,
            "slanted": run.slanted,
            "to": run.to if is_near else None,
            "far": f"{FAR}{self._far[run.to]}" if run.to in self._far and not is_near else None,
            "language": tongue(run.language),
        }
