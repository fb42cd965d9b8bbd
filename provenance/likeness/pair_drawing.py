"""Two pages opened and drawn side by side: the whole way, to be run in a worker."""

from dataclasses import dataclass
from io import BytesIO

from provenance.likeness.page_prints import PrintJob, page_picture
from provenance.likeness.side_by_side import draw_pair
from provenance.likeness.values import PictureMatch


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawJob:
    """Two pages to be drawn.

    Attributes:
        one: the first page.
        other: the second page.
        match: what they have in common.
        names: what is written above each.
    """

    one: PrintJob
    other: PrintJob
    match: PictureMatch
    names: tuple[str, str]


def draw_pages(job: DrawJob) -> bytes:
    """Draw both pages, the matched area marked on each, as a PNG.

    Raises:
        UnreadableOriginalError: a page cannot be opened or drawn, or its file has no page pictures.
    """
    sheet = draw_pair(page_picture(job.one), page_picture(job.other), job.match, job.names)
    written = BytesIO()
    sheet.save(written, format="PNG")
    return written.getvalue()
