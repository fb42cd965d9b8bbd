"""A person's corrected readings: `transcripts/<source-id>/p0003.txt`."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from provenance.errors import Place, Problem, Severity
from provenance.records.sources import Source

FOLDER = "transcripts"
_PAGE = re.compile(r"p([0-9]{4,})\.txt")
_NAMING = "name it transcripts/<source-id>/p0003.txt (t01.vtt for a recording)"
_RECORDING = re.compile(r"t[0-9]{2,}\.vtt")


@dataclass(frozen=True, slots=True, kw_only=True)
class Transcript:
    """A person's reading of one page.

    Attributes:
        by: who corrected it; None where the header does not say.
        date: when, as written; None where the header does not say.
        text: what stands on the page.
    """

    by: str | None
    date: str | None
    text: str


def page_file(source: str, page: int) -> str:
    """Where a person's reading of a page, counted from 1, stands: relative to the archive, with `/`."""
    return f"{FOLDER}/{source}/p{page:04}.txt"


def page_transcript(folder: Path, source: str, page: int) -> Path | None:
    """The file with a person's reading of a page, counted from 1; None where there is none. A link is not followed."""
    path = folder / page_file(source, page)
    return path if path.is_file() and not path.is_symlink() else None


def read_transcript(written: str) -> Transcript:
    """Read a transcript: a header of `by:` and `date:` lines, a blank line, then the text; without one all is text."""
    header, blank, body = written.replace("\r\n", "\n").partition("\n\n")
    fields = dict(line.split(":", 1) for line in header.splitlines() if ":" in line)
    if not blank or not fields or not set(fields) <= {"by", "date"} or len(fields) != len(header.splitlines()):
        return Transcript(by=None, date=None, text=written)
    return Transcript(by=fields.get("by", "").strip() or None, date=fields.get("date", "").strip() or None, text=body)


def check_transcripts(folder: Path, sources: Mapping[str, Source]) -> Iterator[Problem]:
    """Transcripts that belong to no source or page, or that do not say who made them (rule `transcript`)."""
    top = folder / FOLDER
    if not top.is_dir():
        return
    for path in sorted(top.rglob("*")):
        if path.is_dir() or path.name.startswith("."):
            continue
        place = Place(file=path.relative_to(folder).as_posix())
        what, mend = _fault(path, place.file.split("/")[1:], sources)
        if what:
            yield Problem(place=place, rule="transcript", what=what, mend=mend, severity=Severity.WARN)


def _fault(path: Path, parts: list[str], sources: Mapping[str, Source]) -> tuple[str, str]:
    """What is wrong with a transcript, and the mend; both empty where nothing is."""
    if len(parts) != 2 or parts[0] not in sources:
        return "it belongs to no source", _NAMING
    if _RECORDING.fullmatch(parts[1]):
        return "", ""
    page = _PAGE.fullmatch(parts[1])
    if page is None:
        return "its name says no page", _NAMING
    pages = sources[parts[0]].pages
    if pages is not None and not 1 <= int(page[1]) <= pages:
        return f"page {int(page[1])} is beyond the end of {parts[0]}, which has {pages}", "pages count from 1"
    return _fault_inside(path)


def _fault_inside(path: Path) -> tuple[str, str]:
    if path.is_symlink():
        return "it is a link, which is not followed", "put the file itself there"
    try:
        transcript = read_transcript(path.read_text(encoding="utf-8"))
    except UnicodeDecodeError:
        return "it is not UTF-8 text", "save it as UTF-8"
    if transcript.by is None or transcript.date is None:
        return "it does not say who made it and when", "begin it with `by: ID` and `date: …`, then a blank line"
    return "", ""
