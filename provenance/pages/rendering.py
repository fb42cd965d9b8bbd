"""A page of a PDF drawn as a grey picture."""

from math import sqrt
from pathlib import Path

import pypdfium2
from PIL import Image
from pypdfium2 import raw

from provenance.errors import UnreadableOriginalError
from provenance.pages.layer_documents import unit_of_page
from provenance.pages.pdf_documents import open_page
from provenance.pages.pictures import PIXELS_TO_READ, PagePicture

_POINTS_PER_INCH = 72


def render(path: Path, page: int, dpi: float, *, pixels: int = PIXELS_TO_READ) -> PagePicture:
    """Draw a page upright as delivered: its CropBox, turned by its /Rotate, with its annotations and forms.

    Args:
        path: a PDF.
        page: counted from 1.
        dpi: wanted.
        pixels: that a page may have; one that would have more at `dpi` is drawn at less, which its note says.

    Raises:
        UnreadableOriginalError: the page cannot be opened or drawn.
    """
    with open_page(path, page) as opened:
        width, height = (max(1.0, side) for side in opened.get_size())
        units_per_inch = _POINTS_PER_INCH / unit_of_page(path, page)
        most = units_per_inch * sqrt(pixels / (width * height))
        used = min(dpi, most)
        image = _draw(opened, used / units_per_inch)
        if image is None:
            raise UnreadableOriginalError(
                f"page {page} of {path.name} cannot be drawn whole: damaged, or too large",
                "get the file again, or take the picture out of it and ingest that",
            )
    note = f"a very large page, drawn at {used:.0f} dpi" if used < dpi else ""
    return PagePicture(image=image, dpi=used, note=note)


def _draw(page: pypdfium2.PdfPage, scale: float) -> Image.Image | None:
    """Draw a page; None where the engine fails, with or without a word.

    A picture that it cannot decode it leaves out without a word: a page that comes out even is looked at again.
    """
    try:
        image: Image.Image = page.render(scale=scale, grayscale=True, limit_image_cache=True).to_pil()
    except (pypdfium2.PdfiumError, ValueError):
        return None
    darkest, lightest = image.getextrema()
    if darkest != lightest or all(map(can_be_decoded, page.get_objects(filter=[raw.FPDF_PAGEOBJ_IMAGE]))):
        return image
    return None


def can_be_decoded(picture: pypdfium2.PdfImage) -> bool:
    """Tell whether the engine can decode a picture on a page: one that it cannot it leaves out without a word."""
    try:
        picture.get_bitmap()
    except pypdfium2.PdfiumError:
        return False
    return True
