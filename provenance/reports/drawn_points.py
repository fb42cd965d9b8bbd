"""A drawing as points, for programs that take no SVG."""

from collections.abc import Sequence
from functools import cache

import typst

from provenance.reports.typefaces import Faces

POINTS_PER_INCH = 200  # of a print that is read at arm's length; 300 doubles the file and shows no more of our drawings
_PAGE = b"""#set page(width: auto, height: auto, margin: 0pt, fill: white)
#image("drawing.svg", width: float(sys.inputs.width) * 1mm)
"""


@cache
def _faces(typefaces: tuple[str, ...]) -> Faces:
    return Faces(typefaces)


def png_of(svg: bytes, width: float, typefaces: Sequence[str] = ()) -> bytes:
    """Draw an SVG on white, the same points each time.

    Args:
        svg: its text in UTF-8.
        width: in millimetres.
        typefaces: folders of further typefaces, looked in after our own.

    Raises:
        RuntimeError: it is no SVG.
    """
    drawn = typst.compile(  # type: ignore[call-overload]  # its stubs know nothing of files that lie in memory
        {"main.typ": _PAGE, "drawing.svg": svg},
        format="png",
        ppi=POINTS_PER_INCH,
        ignore_system_fonts=True,
        font_paths=_faces(tuple(typefaces)).fonts,
        sys_inputs={"width": f"{width:.3f}"},
    )
    return bytes(drawn)
