"""What somebody wrote down of a recording, taken in as its transcript."""

import re
from pathlib import Path

from provenance.errors import UnreadableOriginalError, UsageRefusedError
from provenance.pages.plain_text import read_text
from provenance.pages.timed_texts import timed_type
from provenance.records.recordings import TIMED_TYPES, WEBVTT
from provenance.records.sources import Source
from provenance.store.transcripts import recording_file
from provenance.tasks.recordings import recordings_in

_HEAD = 4096
_AUTHOR = re.compile(r"NOTE\nby: [^\n]*\ndate: [^\n]*\n\n")


def timed_transcript(source: Source, file: Path, page: int | None, *, by: str, date: str) -> tuple[str, str] | None:
    """Where a file in WebVTT is to be stored, relative to the archive, and its text; None for any other file.

    Who made it, and when, stands in a note under the header, for the form has no other place for it.

    Raises:
        UsageRefusedError: the source has no recording, or several; a page was named; or the file is no text.
    """
    try:
        with file.open("rb") as opened:
            if timed_type(opened.read(_HEAD)) != WEBVTT:
                return None
        text = read_text(file).text
    except OSError:
        return None  # said by whoever reads it as the text of a page
    except UnreadableOriginalError as error:
        raise UsageRefusedError(error.what, error.mend) from error
    recordings = len(recordings_in(source))
    if page is not None:
        raise UsageRefusedError(f"{file} has times, and a page has none", "leave out --page")
    if recordings > 1:
        raise UsageRefusedError(
            f"{source.id} has {recordings} recordings, and it is not said which of them this is",
            f"put the file there by hand: {recording_file(source.id, 1)} for the first, and so on",
        )
    if source.files and not recordings and not any(each.media_type in TIMED_TYPES for each in source.files):
        raise UsageRefusedError(
            f"{file} has the times of a recording, and {source.id} has none", "give the text of a page, and its --page"
        )
    header, _, rest = text.partition("\n\n")
    return recording_file(source.id, 1), f"{header.rstrip()}\n\nNOTE\nby: {by}\ndate: {date}\n\n{rest.rstrip()}\n"


def without_author(text: str) -> str:
    """The text of a transcript without the note that says who made it and when."""
    return _AUTHOR.sub("", text, count=1)
