"""The pages of two sources as they are looked at together: each with the area outlined, and the second on the first."""

from dataclasses import dataclass
from io import BytesIO

import cv2
import numpy as np
import numpy.typing as npt
from PIL import Image

from provenance.errors import UnreadableOriginalError
from provenance.likeness.page_prints import PrintJob, page_picture
from provenance.likeness.side_by_side import fitted, outlined
from provenance.likeness.values import Corners

Spots = npt.NDArray[np.float32]

SIDE = 1200
"""The most pixels that the longer side of a page takes."""

_LETTERS = "ABCD"  # the same corner bears the same letter on both pages

_LEAST_AREA = 1e-4
"""Of a page: what four corners enclose at least, for a geometry to be told from them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ViewJob:
    """Two pages to be looked at together.

    Attributes:
        pages: the page of the first and of the second; None where there is none to be seen.
        areas: the same four corners on each, in order; empty where none is outlined.
        is_laid: whether the areas tell how the second lies on the first.
        is_negative: whether the one is the negative of the other.
    """

    pages: tuple[PrintJob | None, PrintJob | None]
    areas: tuple[Corners, Corners] = ((), ())
    is_laid: bool = False
    is_negative: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PairViews:
    """Two pages drawn, each as the file of a PNG.

    Attributes:
        first: the page of the first in grey, the area outlined; None where it cannot be seen.
        second: that of the second.
        under: the page of the first as it is; None where the second cannot be laid on it.
        laid: as large: the second as it lies on the first, clear where nothing of it lies; a negative is turned
            positive or the other way round, as the first is.
        faults: why a page could not be opened or drawn; empty for none.
    """

    first: bytes | None = None
    second: bytes | None = None
    under: bytes | None = None
    laid: bytes | None = None
    faults: tuple[str, ...] = ()


def view_pages(job: ViewJob) -> PairViews:
    """Draw two pages; what is wrong with the one costs the other nothing."""
    faults: list[str] = []
    one, other = (_opened(page, faults) for page in job.pages)
    first, second = (
        _png(outlined(fitted(page, SIDE, SIDE), area, _LETTERS if job.is_laid else "")) if page else None
        for page, area in zip((one, other), job.areas, strict=True)
    )
    laid = under = None
    if job.is_laid and one and other:
        below = fitted(one, SIDE, SIDE)
        above = lay_page(other, below.size, job.areas, is_negative=job.is_negative)
        laid, under = (_png(above), _png(below)) if above else (None, None)
    return PairViews(first=first, second=second, under=under, laid=laid, faults=tuple(faults))


def lay_page(
    page: Image.Image, size: tuple[int, int], areas: tuple[Corners, Corners], *, is_negative: bool = False
) -> Image.Image | None:
    """Lay a page on another by four corners that both have in common.

    Args:
        page: the second page.
        size: width and height of the picture of the first page, in pixels.
        areas: the corners on the first page and on the second.
        is_negative: whether light and dark change places.

    Returns:
        Grey with what is clear, as large as the first; None where the corners tell no geometry.
    """
    if min(map(_area, areas)) < _LEAST_AREA:
        return None
    shrunk = min(1.0, float(np.sqrt(_area(areas[0]) * np.prod(size) / (_area(areas[1]) * np.prod(page.size)))))
    shown = fitted(page, max(1, round(page.width * shrunk)), max(1, round(page.height * shrunk)))
    start = _spots(areas[1], shown.size)
    below = _spots(areas[0], size)
    way = np.asarray(cv2.getPerspectiveTransform(start, below), np.float64)
    grey = np.asarray(shown, np.uint8)
    tones = cv2.warpPerspective(255 - grey if is_negative else grey, way, size, borderMode=cv2.BORDER_REPLICATE)
    is_whole = _lies_flat(way, shown.size)
    clear = cv2.warpPerspective(np.full_like(grey, 255), way, size) if is_whole else _within(below, size)
    return Image.merge("LA", (Image.fromarray(tones), Image.fromarray(clear)))


def _opened(job: PrintJob | None, faults: list[str]) -> Image.Image | None:
    if job is None:
        return None
    try:
        return page_picture(job)
    except UnreadableOriginalError as error:
        faults.append(error.what)
        return None


def _area(corners: Corners) -> float:
    """What four corners enclose, as a share of the page; 0 for none."""
    if not corners:
        return 0.0
    x, y = np.array(corners).T / 100
    return abs(float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))) / 2


def _spots(corners: Corners, size: tuple[int, int]) -> Spots:
    """Corners in pixels of a picture of that width and height, counted from the middle of its first pixel."""
    return np.asarray(np.array(corners) / 100 * np.array(size) - 0.5, np.float32)


def _lies_flat(way: npt.NDArray[np.float64], size: tuple[int, int]) -> bool:
    """Whether the whole page can be carried: no corner of it lies behind the eye."""
    width, height = size
    depth = np.array([(0, 0, 1), (width, 0, 1), (width, height, 1), (0, height, 1)]) @ way[2]
    return bool((depth > 0.1 * depth.max()).all())


def _within(corners: Spots, size: tuple[int, int]) -> npt.NDArray[np.uint8]:
    """255 within four corners, 0 elsewhere."""
    drawn = np.zeros(size[::-1], np.uint8)
    cv2.fillConvexPoly(drawn, np.rint(corners).astype(np.int32), 255)
    return drawn


def _png(picture: Image.Image) -> bytes:
    written = BytesIO()
    picture.save(written, format="PNG", compress_level=3)
    return written.getvalue()
