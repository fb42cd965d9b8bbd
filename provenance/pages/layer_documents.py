"""PDF files opened by the engine that reads text layers: a second opinion on which pages there are."""

import weakref
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import islice
from pathlib import Path

import pdfplumber
from pdfminer.pdfdocument import PDFDocument
from pdfminer.pdfpage import PDFPage
from pdfplumber.pdf import PDF

from provenance.pages.pdf_documents import PAGES_TO_AN_OPENING
from provenance.pages.time_limit import OutOfTimeError, at_most

SECONDS_TO_WALK = 5.0
"""Processor time for opening a document and finding its pages; 500 pages take about .1 s. Measured."""

MOST_PAGES = 20_000
"""No more pages than these are looked for: a few thousand bytes can unfold to millions."""

_LARGEST_UNIT = 1_000_000

Rectangle = tuple[float, float, float, float]


@dataclass(slots=True, kw_only=True)
class LayerDocument:
    """A document opened for its text layer, and the pages that were found by walking through it.

    Attributes:
        pdf: None where it cannot be opened, or where that takes too long.
        pages: each page once, in order, however often the document names it; what is on them was not read.
        is_whole: whether the walk came to its end; where it did not, there may be more pages.
    """

    pdf: PDF | None = None
    pages: list[PDFPage] = field(default_factory=list)
    is_whole: bool = False


def open_for_layer(path: Path, page: int = 1) -> LayerDocument:
    """Open a document for its text layer; one that cannot be opened has no pages.

    The last one stays open: pages are mostly asked for in turn.

    Args:
        path: a PDF.
        page: which one is wanted, counted from 1.
    """
    facts = path.stat()
    return _keep_open(path, facts.st_size, facts.st_mtime_ns, page // PAGES_TO_AN_OPENING)


def unit_of_page(path: Path, page: int) -> float:
    """Give how many points (1/72 inch) a unit of a page is (ISO 32000-1, 14.11, `UserUnit`); 1 on nearly every page.

    The engine that draws takes every unit for a point. A unit below a point is taken for one too: drawing such a page
    larger than it is harms nothing.

    Args:
        path: a PDF.
        page: counted from 1.
    """
    pages = open_for_layer(path, page).pages
    stated = pages[page - 1].attrs.get("UserUnit") if page <= len(pages) else None
    return float(min(max(stated, 1), _LARGEST_UNIT)) if isinstance(stated, int | float) else 1.0


@lru_cache(maxsize=1)
def _keep_open(path: Path, _size: int, _modified: int, _opening: int) -> LayerDocument:
    """Open the document, and keep its file open as long as that; also keep that it cannot be opened."""
    opened = LayerDocument()
    file = path.open("rb")
    try:
        with at_most(SECONDS_TO_WALK):
            opened.pdf = pdfplumber.open(file)
            _walk(opened.pdf.doc, opened)
    except (Exception, OutOfTimeError):  # noqa: BLE001  # the engine raises whatever it meets: KeyError, RecursionError
        opened.is_whole = False
    if opened.pdf is None:
        file.close()
    else:
        weakref.finalize(opened.pdf, file.close)
    return opened


def _walk(document: PDFDocument, into: LayerDocument) -> None:
    """Find the pages one by one, so that those found before the engine breaks off are kept."""
    seen = set()
    for page in islice(PDFPage.create_pages(document), MOST_PAGES + 1):
        if page.pageid not in seen:
            seen.add(page.pageid)
            page.mediabox, page.cropbox = _corners(page.mediabox), _corners(page.cropbox)
            into.pages.append(page)
    into.is_whole = True


def _corners(box: Rectangle) -> Rectangle:
    """Give a box by its lower left and upper right corner: a file may name any two opposite ones (ISO 32000-1, 7.9.5).

    The engine takes the first two numbers for the lower left corner, and would place all words outside the page.
    """
    return min(box[0], box[2]), min(box[1], box[3]), max(box[0], box[2]), max(box[1], box[3])
