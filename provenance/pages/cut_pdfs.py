"""Pieces cut out of pages of a PDF: drawn as large as they are shown, and nothing else of the page."""

from math import ceil, floor

import pypdfium2
from PIL import Image
from pypdfium2 import raw

from provenance.errors import UnreadableOriginalError
from provenance.pages.cut_finishing import finished
from provenance.pages.cut_outs import BEYOND, CutJob, CutOut, NotShownError, Part, Piece, piece_of
from provenance.pages.layer_documents import unit_of_page
from provenance.pages.pdf_documents import open_page
from provenance.pages.pdf_look import look_at
from provenance.pages.rendering import can_be_decoded
from provenance.records.regions import RegionUnit

_POINTS_PER_INCH, _INCH = 72, 25.4
_DRAWN_DPI = 200
"""At which letters and lines are drawn, that have no pixels of their own."""

_FINEST_DPI = 1200
_SCAN_SHARE = 0.9
_JUST_BELOW = 0.5  # of a pixel: the library rounds what is to be left out up to whole ones


def cut_pdf(job: CutJob) -> tuple[CutOut | str, ...]:
    """Cut pieces out of a page of a PDF, in the order of the job's parts; a text says why there is none.

    Raises:
        UnreadableOriginalError: the page cannot be opened or drawn.
    """
    finest = finest_dpi(job) / _POINTS_PER_INCH
    with open_page(job.path, job.page) as page:
        return tuple(_cut(page, job, part, finest) for part in job.parts)


def finest_dpi(job: CutJob, drawn_dpi: float = _DRAWN_DPI) -> float:
    """The pixels that a page has to 72 of its units: those of its scan, where it is one.

    Args:
        job: which page.
        drawn_dpi: at which letters and lines are drawn, that have no pixels of their own.

    Raises:
        UnreadableOriginalError: the page cannot be opened.
    """
    look, unit = look_at(job.path, job.page), unit_of_page(job.path, job.page)
    scan = min((look.scan_dpi or 0) * unit, _FINEST_DPI)
    return scan if scan and look.picture_share >= _SCAN_SHARE else max(scan, drawn_dpi)


def _cut(page: pypdfium2.PdfPage, job: CutJob, part: Part, finest: float) -> CutOut | str:
    in_pixels = [region for region in part.regions if region.unit is RegionUnit.PIXEL]
    if in_pixels:
        return f"the region {in_pixels[0]} is measured in pixels, and a page of a PDF has none: measure it in percent"
    width, height = (max(1.0, side) for side in page.get_size())
    try:
        piece = piece_of(part, (width, height), finest)
    except NotShownError as error:
        return str(error)
    whole = ceil(width * piece.scale), ceil(height * piece.scale)
    box = _whole_pixels(piece, whole)
    image = drawn_part(page, piece.scale, whole, box)
    if image is None:
        raise UnreadableOriginalError(
            f"page {job.page} of {job.path.name} cannot be drawn whole: damaged, or too large",
            "get the file again, or take the picture out of it and ingest that",
        )
    within = None
    if piece.region is not None:
        left, top, right, bottom = (edge * piece.scale - box[at % 2] for at, edge in enumerate(piece.region))
        within = left, top, right, bottom
    to_mm = unit_of_page(job.path, job.page) / _POINTS_PER_INCH * _INCH
    true_width = (box[2] - box[0]) / piece.scale * to_mm
    of = "from a page" if part.region or part.within else "the whole of a page"
    note = f"{of} of {width * to_mm:,.0f} by {height * to_mm:,.0f} mm"
    return finished(image, within, true_width, f"{note}; {BEYOND}" if piece.is_clipped else note)


def _whole_pixels(piece: Piece, whole: tuple[int, int]) -> tuple[int, int, int, int]:
    """The pixels that are drawn: those of the region and whole ones of its margin; at least one each way."""
    edges = [edge * piece.scale for edge in piece.shown]
    inner = edges if piece.region is None else [edge * piece.scale for edge in piece.region]
    left, top = (max(0, min(round(edges[at]), floor(inner[at]), whole[at] - 1)) for at in (0, 1))
    right, bottom = (min(whole[at], max(round(edges[at + 2]), ceil(inner[at + 2]))) for at in (0, 1))
    return left, top, max(left + 1, right), max(top + 1, bottom)


def drawn_part(
    page: pypdfium2.PdfPage, scale: float, whole: tuple[int, int], box: tuple[int, int, int, int]
) -> Image.Image | None:
    """Draw a part of a page in colour; None where the engine fails, with or without a word.

    Args:
        page: open.
        scale: pixels to a unit of it.
        whole: width and height of the page at that scale, in pixels.
        box: left, top, right and bottom edge of the part, likewise.
    """
    beside = box[0], whole[1] - box[3], whole[0] - box[2], box[1]
    left_out = tuple(max(0.0, (side - _JUST_BELOW) / scale) for side in beside)
    try:
        image: Image.Image = page.render(scale=scale, crop=left_out, limit_image_cache=True).to_pil()
    except (pypdfium2.PdfiumError, ValueError):
        return None
    image = image.convert("RGB")
    is_even = all(len(band.getcolors() or ()) == 1 for band in image.split())
    if is_even and not all(map(can_be_decoded, page.get_objects(filter=[raw.FPDF_PAGEOBJ_IMAGE]))):
        return None
    return image
