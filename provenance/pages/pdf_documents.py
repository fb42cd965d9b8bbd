"""PDF files opened, a page at a time, through the engine that also draws them."""

from collections.abc import Iterator
from contextlib import contextmanager
from functools import lru_cache
from pathlib import Path

import pypdfium2
from pypdfium2 import raw

from provenance.errors import UnreadableOriginalError

PAGES_TO_AN_OPENING = 64
"""After so many pages a document is opened afresh: an open one keeps what it has decoded. Measured on scans."""


def count_drawable(path: Path, page: int = 1) -> int:
    """Count the pages as the document states their number; 0 where it cannot be opened, or states none.

    Args:
        path: a PDF.
        page: which one is wanted, counted from 1: for that one it stays open.
    """
    try:
        return len(_open_at(path, page))
    except UnreadableOriginalError:
        return 0


def require_open(path: Path) -> None:
    """Make sure that a document can be opened.

    Raises:
        UnreadableOriginalError: locked or damaged.
    """
    _open_at(path, 1)


def is_drawable(path: Path, page: int) -> bool:
    """Tell whether a page can be opened, without looking at what is on it."""
    try:
        with open_page(path, page):
            return True
    except UnreadableOriginalError:
        return False


@contextmanager
def open_page(path: Path, page: int) -> Iterator[pypdfium2.PdfPage]:
    """Open one page; it is closed again at the end.

    Args:
        path: a PDF.
        page: counted from 1.

    Raises:
        UnreadableOriginalError: the document or the page cannot be opened, or there is no such page.
    """
    document = _open_at(path, page)
    if not 1 <= page <= len(document):
        found = f"{len(document)} page{'' if len(document) == 1 else 's'}"
        raise UnreadableOriginalError(
            f"{path.name} has {found} for the engine that draws, and no page {page}",
            "if the page is there, open the file with the program that made it, and save it afresh",
        )
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


def _open_at(path: Path, page: int) -> pypdfium2.PdfDocument:
    facts = path.stat()
    return _keep_open(path, facts.st_size, facts.st_mtime_ns, page // PAGES_TO_AN_OPENING)


@lru_cache(maxsize=1)
def _keep_open(path: Path, _size: int, _modified: int, _opening: int) -> pypdfium2.PdfDocument:
    """Keep the last document open: pages are mostly asked for in turn."""
    document = _open(path)
    document.init_forms()
    return document


def _open(path: Path) -> pypdfium2.PdfDocument:
    _forget_last_error()
    try:
        return pypdfium2.PdfDocument(path)
    except pypdfium2.PdfiumError as error:
        raise _explain(path, error) from error


def _forget_last_error() -> None:
    """Have the engine fail on nothing: it fails on some documents without a reason, and would give that of the last."""
    raw.FPDF_LoadMemDocument(b"", 0, None)


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
