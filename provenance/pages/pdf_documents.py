"""PDF files opened, a page at a time, through the engine that also draws them."""

from collections.abc import Iterator
from contextlib import closing, contextmanager
from functools import lru_cache
from pathlib import Path

import pypdfium2
from pypdfium2 import raw

from provenance.errors import UnreadableOriginalError

PAGES_TO_AN_OPENING = 64
"""After so many pages a document is opened afresh: an open one keeps what it has decoded. Measured on scans."""

PAGES_ON_TRUST = 1000
"""A document may claim so many pages without having to show the last."""


def count_pages(path: Path) -> int:
    """Count the pages of a PDF.

    The number is what the document says of itself. A large one is believed only if the last page can be opened: a few
    bytes can claim millions. Pages that are missing from a believed number fail one by one when they are read.

    Raises:
        UnreadableOriginalError: locked, damaged, or without pages.
    """
    with closing(_open(path)) as document:
        pages = len(document)
        if pages > PAGES_ON_TRUST and not _can_be_opened(document, pages):
            raise UnreadableOriginalError(
                f"{path.name} says that it has {pages} pages, and the last cannot be opened: damaged",
                "get the file again from where it came",
            )
    if pages < 1:
        raise UnreadableOriginalError(
            f"{path.name} is a PDF in which no page can be found: damaged or cut short", "get the file again"
        )
    return pages


def _can_be_opened(document: pypdfium2.PdfDocument, page: int) -> bool:
    try:
        document[page - 1].close()
    except pypdfium2.PdfiumError:
        return False
    return True


@contextmanager
def open_page(path: Path, page: int) -> Iterator[pypdfium2.PdfPage]:
    """Open one page; it is closed again at the end.

    Args:
        path: a PDF.
        page: counted from 1.

    Raises:
        UnreadableOriginalError: the document or the page cannot be opened, or there is no such page.
    """
    facts = path.stat()
    document = _keep_open(path, facts.st_size, facts.st_mtime_ns, page // PAGES_TO_AN_OPENING)
    if not 1 <= page <= len(document):
        raise UnreadableOriginalError(f"{path.name} has {len(document)} pages, and no page {page}", "correct the page")
    try:
        opened = document[page - 1]
    except pypdfium2.PdfiumError as error:
        raise UnreadableOriginalError(
            f"page {page} of {path.name} cannot be opened: damaged", "get it again"
        ) from error
    try:
        yield opened
    finally:
        opened.close()


@lru_cache(maxsize=1)
def _keep_open(path: Path, _size: int, _modified: int, _opening: int) -> pypdfium2.PdfDocument:
    """Keep the last document open: pages are mostly asked for in turn."""
    document = _open(path)
    document.init_forms()
    return document


def _open(path: Path) -> pypdfium2.PdfDocument:
    try:
        return pypdfium2.PdfDocument(path)
    except pypdfium2.PdfiumError as error:
        raise _explain(path, error) from error


def _explain(path: Path, error: pypdfium2.PdfiumError) -> UnreadableOriginalError:
    if error.err_code == raw.FPDF_ERR_PASSWORD:
        return UnreadableOriginalError(
            f"{path.name} is locked by a password", "ask its giver for an unlocked copy, and ingest that"
        )
    if error.err_code == raw.FPDF_ERR_SECURITY:
        return UnreadableOriginalError(
            f"{path.name} is locked in a way that cannot be opened here", "ask its giver for an unlocked copy"
        )
    return UnreadableOriginalError(
        f"{path.name} is a damaged or cut-short PDF", "get the file again from where it came"
    )
