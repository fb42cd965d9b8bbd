"""A page of a PDF drawn as a grey picture."""

from math import sqrt
from pathlib import Path

import pypdfium2

from provenance.errors import UnreadableOriginalError
from provenance.pages.pdf_documents import open_page
from provenance.pages.pictures import PIXELS_TO_READ, PagePicture

_POINTS_PER_INCH = 72


def render(path: Path, page: int, dpi: float) -> PagePicture:
    """Draw a page upright as delivered: its CropBox, turned by its /Rotate, with its annotations and forms.

    Args:
        path: a PDF.
        page: counted from 1.
        dpi: wanted; a page that would then have more than `PIXELS_TO_READ` is drawn at less, which its note says.

    Raises:
        UnreadableOriginalError: the page cannot be opened or drawn.
    """
    with open_page(path, page) as opened:
        width, height = (max(1.0, side) for side in opened.get_size())
        most = _POINTS_PER_INCH * sqrt(PIXELS_TO_READ / (width * height))
        used = min(dpi, most)
        try:
            bitmap = opened.render(scale=used / _POINTS_PER_INCH, grayscale=True, limit_image_cache=True)
        except (pypdfium2.PdfiumError, ValueError) as error:
            raise UnreadableOriginalError(
                f"page {page} of {path.name} cannot be drawn", "get the file again"
            ) from error
        image = bitmap.to_pil()
    note = f"a very large page, drawn at {used:.0f} dpi" if used < dpi else ""
    return PagePicture(image=image, dpi=used, note=note)
