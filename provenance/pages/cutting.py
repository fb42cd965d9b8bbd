"""Pieces cut out of one page, the whole way, to be run in a worker."""

import hashlib

from provenance.errors import UnreadableOriginalError
from provenance.pages.cut_outs import CutJob, CutOut, has_pieces
from provenance.pages.cut_pdfs import cut_pdf
from provenance.pages.cut_pictures import cut_picture
from provenance.pages.plain_files import open_plain
from provenance.pages.signatures import PDF


def cut(job: CutJob) -> tuple[CutOut | str, ...]:
    """Cut pieces out of a page, in the order of the job's parts; a text says why there is none.

    Regions are measured on the page upright as delivered.

    Raises:
        UnreadableOriginalError: the file is not the one that was received, or not a plain file; the page cannot be
            opened or drawn; or its kind of file has no page pictures.
    """
    require_unchanged(job)
    if not has_pieces(job.media_type):
        raise UnreadableOriginalError(
            f"{job.path.name} is {job.media_type}, a kind whose pages have no picture", "look at the file itself"
        )
    return cut_pdf(job) if job.media_type == PDF else cut_picture(job)


def require_unchanged(job: CutJob) -> None:
    """Make sure that the file of a job is the one that was received.

    Raises:
        UnreadableOriginalError: it is another, or not a plain file.
    """
    with open_plain(job.path) as file:
        if job.sha256 and hashlib.file_digest(file, "sha256").hexdigest() != job.sha256:
            raise UnreadableOriginalError(
                f"{job.path.name} is not as it was received: its bytes have changed",
                "put the file as it was received back from a copy",
            )
