"""Pages set from the values of a document."""

from functools import cache
from importlib.resources import files

from provenance.reports.document_values import Values
from provenance.reports.typefaces import Faces
from provenance.reports.typesetting import typeset


@cache
def _template() -> bytes:
    """The page into which the values of a document are set."""
    return (files("provenance.reports") / "templates" / "document.typ").read_bytes()


def set_pages(values: Values, faces: Faces, *, is_universal: bool = True, is_tagged: bool = True) -> bytes:
    """Set pages as a PDF.

    Args:
        values: what stands on them.
        faces: the typefaces.
        is_universal: whether the typesetter checks that it is PDF/UA-1; pages that do not begin with the heading of a
            whole document cannot be.
        is_tagged: whether it is tagged; pages that hold headers and footers alone are not.
    """
    given = {"main.typ": _template(), "document.json": values.document, **values.pictures}
    return typeset(given, faces.fonts, is_universal=is_universal, is_tagged=is_tagged)
