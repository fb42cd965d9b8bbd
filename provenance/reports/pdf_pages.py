"""Pages set from the values of a document."""

from functools import cache
from importlib.resources import files

from typst import TypstError

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
        is_universal: whether it says of itself that it is PDF/UA-1, for which the typesetter checks what a program can
            check. Pages that do not begin with the heading of a whole document cannot be; and where it finds something
            all the same, such as a drawing with Arabic words, the pages are tagged like others and do not say it.
        is_tagged: whether it is tagged; pages that hold headers and footers alone are not.
    """
    given = {"main.typ": _template(), "document.json": values.document, **values.pictures}
    if is_universal:
        try:
            return typeset(given, faces.fonts)
        except TypstError:
            pass  # a fault that is none of the standard's comes up again
    return typeset(given, faces.fonts, is_universal=False, is_tagged=is_tagged)
