"""What people wrote down: the text of a page, `p0003.txt`; what is said on a recording, `t01.vtt`.

Both stand in `transcripts/<source-id>/`.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from provenance.errors import Place, Problem, Severity
from provenance.records.recordings import is_recording
from provenance.records.sources import Source

FOLDER = "transcripts"
_PAGE = re.compile(r"p([0-9]{4,})\.txt")
_NAMING = "name it transcripts/<source-id>/p0003.txt (t01.vtt for a recording)"
_RECORDING = re.compile(r"t([0-9]{2,4})\.vtt")

_LINK = ("it is a link, which is not followed", "put the file itself there")


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


def recording_file(source: str, recording: int) -> str:
    """Where the transcript of a recording, counted from 1 among its source's, stands: relative to the archive."""
    return f"{FOLDER}/{source}/t{recording:02}.vtt"


def transcribed_sources(folder: Path) -> frozenset[str]:
    """The ids of the sources of which something was written down, by the names of their folders."""
    try:
        return frozenset(entry.name for entry in (folder / FOLDER).iterdir())
    except OSError:
        return frozenset()


def recording_transcripts(folder: Path, source: str) -> tuple[tuple[int, Path], ...]:
    """The transcripts of a source's recordings that there are, each with its number; links are not followed."""
    try:
        entries = sorted((folder / FOLDER / source).iterdir())
    except OSError:
        return ()
    named = [(_RECORDING.fullmatch(entry.name), entry) for entry in entries]
    found = [(int(name[1]), entry) for name, entry in named if name and entry.is_file() and not entry.is_symlink()]
    return tuple(sorted((number, path) for number, path in found if number))


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
    recording = _RECORDING.fullmatch(parts[1])
    if recording is not None:
        return _fault_of_recording(path, int(recording[1]), sources[parts[0]])
    page = _PAGE.fullmatch(parts[1])
    if page is None:
        return "its name says no page", _NAMING
    pages = sources[parts[0]].pages
    if pages is not None and not 1 <= int(page[1]) <= pages:
        return f"page {int(page[1])} is beyond the end of {parts[0]}, which has {pages}", "pages count from 1"
    return _fault_inside(path)


def _fault_of_recording(path: Path, number: int, source: Source) -> tuple[str, str]:
    """What is wrong with the name of a transcript with times; what stands in it is looked at elsewhere."""
    held = sum(is_recording(file.media_type) for file in source.files)
    if not number or number > held > 0:
        has = f", which has {held}" if held else ""
        return f"there is no recording {number} of {source.id}{has}", "recordings count from 1"
    return _LINK if path.is_symlink() else ("", "")


def _fault_inside(path: Path) -> tuple[str, str]:
    if path.is_symlink():
        return _LINK
    try:
        transcript = read_transcript(path.read_text(encoding="utf-8"))
    except UnicodeDecodeError:
        return "it is not UTF-8 text", "save it as UTF-8"
    if transcript.by is None or transcript.date is None:
        return "it does not say who made it and when", "begin it with `by: ID` and `date: …`, then a blank line"
    return "", ""
