"""One page of an original to the prints of its pictures: the whole way, to be run in a worker."""

from dataclasses import dataclass
from pathlib import Path

import cv2
from PIL import Image

from provenance.errors import UnreadableOriginalError
from provenance.likeness.picture_parts import picture_parts
from provenance.likeness.prints import print_of
from provenance.likeness.values import PicturePrint
from provenance.pages.pictures import upright
from provenance.pages.placed_pictures import placed_pictures
from provenance.pages.plain_files import require_plain
from provenance.pages.rendering import render
from provenance.pages.signatures import PDF, PICTURES
from provenance.records.readings import Box

DPI = 150
"""At which a page of a PDF is drawn to be looked at."""

PIXELS_TO_PRINT = 9_000_000
"""A larger page is looked at smaller: its smallest part then still has 600 pixels a side, more than a print keeps."""

SCAN_SHARE = 0.9
"""A picture that covers as much of a page of a PDF is the scan of the page; what else is placed there belongs to it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintJob:
    """A page whose pictures are to be printed.

    Attributes:
        path: the file that holds it.
        media_type: as `identify` says.
        page: counted from 1 within the file.
        words: the places of the words that were read on the page with confidence, in percent of the page upright as
            delivered; empty where none was read.
    """

    path: Path
    media_type: str
    page: int
    words: tuple[Box, ...] = ()


def print_page(job: PrintJob) -> tuple[PicturePrint, ...]:
    """Make the prints of the pictures of a page.

    Returns:
        The prints, that of the whole page first where it is a picture itself; empty for a page of text, a blank page,
        and a kind of file that has no page pictures.

    Raises:
        UnreadableOriginalError: the page cannot be opened or drawn.
    """
    if not has_pages(job.media_type):
        return ()
    cv2.setNumThreads(1)  # as many workers run as there are processors
    page = page_picture(job)
    prints = (print_of(page, part) for part in picture_parts(page, job.words, _placed(job)))
    return tuple(each for each in prints if each is not None)


def has_pages(media_type: str) -> bool:
    """Whether files of a kind have pages that can be looked at: a text has none."""
    return media_type == PDF or media_type in PICTURES


def page_picture(job: PrintJob) -> Image.Image:
    """Open a page as it is looked at: upright as delivered, in grey.

    Raises:
        UnreadableOriginalError: the page cannot be opened or drawn, or its kind of file has no page pictures.
    """
    require_plain(job.path)
    if job.media_type == PDF:
        return render(job.path, job.page, DPI, pixels=PIXELS_TO_PRINT).image
    if job.media_type in PICTURES:
        return upright(job.path, job.media_type, job.page, pixels=PIXELS_TO_PRINT).image
    raise UnreadableOriginalError(
        f"{job.path.name} is {job.media_type}, a kind whose pages have no picture", "look at the file itself"
    )


def _placed(job: PrintJob) -> tuple[Box, ...]:
    """Give the places of the pictures that a page of a PDF is made of; none where it is a scan."""
    if job.media_type != PDF:
        return ()
    boxes = placed_pictures(job.path, job.page)
    return () if any(box.w * box.h >= SCAN_SHARE * 100 * 100 for box in boxes) else boxes
