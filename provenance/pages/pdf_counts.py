"""How many pages a PDF has, as two engines count them, so that none is lost without a word."""

from dataclasses import dataclass
from pathlib import Path

from provenance.errors import UnreadableOriginalError
from provenance.pages.layer_documents import MOST_PAGES, LayerDocument, open_for_layer
from provenance.pages.pdf_documents import count_drawable, is_drawable, require_open

PAGES_ON_TRUST = 1000
"""A document may state so many pages without having to show them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PageCount:
    """The pages of a PDF.

    Attributes:
        pages: at least 1.
        note: what a person should know of how they were counted; empty where both engines agree.
    """

    pages: int
    note: str = ""


def count_pages(path: Path) -> PageCount:
    """Count the pages of a PDF by two engines, one that goes by what the document states and one that looks for each.

    Where they differ the larger number counts, if it can be believed: a page that an engine does not have then fails
    by itself when it is read, and is not lost without a word.

    Raises:
        UnreadableOriginalError: locked; damaged, or without a page, for both engines; or of more than `MOST_PAGES`.
    """
    stated, walked = count_drawable(path), open_for_layer(path)
    found = len(walked.pages)
    if not stated and not found:
        require_open(path)
        raise UnreadableOriginalError(
            f"{path.name} is a PDF in which no page can be found: damaged or cut short", "get the file again"
        )
    is_believed = found >= stated or _is_believable(path, stated, walked)
    if not is_believed and not found:
        raise UnreadableOriginalError(
            f"{path.name} says that it has {stated} pages, and the last cannot be opened: damaged",
            "get the file again from where it came",
        )
    pages = max(stated, found) if is_believed else found
    if pages > MOST_PAGES:
        raise UnreadableOriginalError(
            f"{path.name} has more than {MOST_PAGES} pages, too many for one file", "split it, and ingest its parts"
        )
    return PageCount(pages=pages, note=_note(stated, walked, is_believed=is_believed))


def _is_believable(path: Path, stated: int, walked: LayerDocument) -> bool:
    """Tell whether a document has the pages that it states, of which fewer were found: a few bytes can claim millions.

    Half of them found is a document of which a part is damaged. Where the search itself failed, the last page counts.
    """
    found = len(walked.pages)
    if stated <= PAGES_ON_TRUST or 2 * found >= stated:
        return True
    return (not found or not walked.is_whole) and is_drawable(path, stated)


def _note(stated: int, walked: LayerDocument, *, is_believed: bool) -> str:
    found = len(walked.pages)
    if found == stated:
        return ""
    if not walked.is_whole and found < stated:
        differing = f"one of two readers counts {stated} of its pages, the other broke off after {found}"
    else:
        differing = f"two readers count its pages differently: {stated} and {found}"
    return differing if is_believed else f"{differing}; the larger number is not believed"
