"""A document as a PDF on A4, tagged for those who have it read to them (PDF/UA-1, ISO 14289-1)."""

from collections.abc import Sequence

from provenance.reports.document import Document
from provenance.reports.pdf_joining import joined
from provenance.reports.pdf_parts import pdf_parts, set_part
from provenance.reports.typefaces import require_characters


def document_pdf(document: Document, typefaces: Sequence[str] = ()) -> bytes:
    """Write a document as a PDF.

    Args:
        document: what is printed.
        typefaces: folders of further typefaces, looked in after our own.

    Raises:
        MissingCharacterError: no typeface has one of its characters.
    """
    require_characters(document, typefaces)
    parts = pdf_parts(document, typefaces)
    return joined(parts, [set_part(part) for part in parts])
