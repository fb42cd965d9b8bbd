"""The answer of `ingest`: what became of each file."""

from dataclasses import dataclass
from enum import StrEnum

from provenance.reports.compared import Compared, not_compared_json, suspected_json, suspected_lines
from provenance.reports.layout import counted, paragraph
from provenance.reports.standing import Standing


class IngestState(StrEnum):
    """What became of a file that was handed in."""

    REGISTERED = "registered"
    KNOWN = "known"
    UNREAD = "unread"
    REFUSED = "refused"


_WORDS = {
    IngestState.REGISTERED: "new",
    IngestState.KNOWN: "held already",
    IngestState.UNREAD: "kept but not read",
    IngestState.REFUSED: "left alone",
}


_NAMED_IN_SHORT = (IngestState.REGISTERED, IngestState.KNOWN)
MOST_NAMED = 20
"""So many files that were taken in, and so many held already of which something is noted, are named on the page."""


@dataclass(frozen=True, slots=True, kw_only=True)
class IngestedFile:
    """What became of one file.

    Attributes:
        path: as handed in.
        source: the source that holds it; None for one that was refused.
        pages: how many; None where they cannot be counted.
        read: how many of them have been read, now or before.
        why: what the reader should know; empty where nothing was out of the ordinary.
    """

    path: str
    source: str | None
    state: IngestState
    pages: int | None
    read: int
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Ingested:
    """What became of the files.

    Attributes:
        pages_read: pages that were read by this call.
        compared: the pairs that look like copies of one another, found by this call.
        written: record files that were written.
    """

    standing: Standing
    files: tuple[IngestedFile, ...]
    pages_read: int
    compared: Compared
    written: tuple[str, ...]

    @property
    def has_unread(self) -> bool:
        """Whether a file, or a page of one, could not be read."""
        return any(file.state is IngestState.UNREAD for file in self.files)


def ingested_json(ingested: Ingested) -> dict[str, object]:
    """The JSON answer `ingest`."""
    return {
        **ingested.standing.as_json("ingest"),
        "files": [
            {
                "path": file.path,
                "source": file.source,
                "state": file.state.value,
                "pages": file.pages,
                "read": file.read,
                "why": file.why,
            }
            for file in ingested.files
        ],
        "pages_read": ingested.pages_read,
        "suspected_copies": suspected_json(ingested.compared),
        "not_compared": not_compared_json(ingested.compared),
        "written": list(ingested.written),
    }


def ingested_text(ingested: Ingested, width: int) -> str:
    """The page that people read: what is out of the ordinary by name, the rest by number.

    What was not taken in or not read is named in full; of the rest, no more than a screen can show.
    """
    lines = ingested.standing.as_lines(width)
    to_name = {file.path for state in _NAMED_IN_SHORT for file in _worth_naming(ingested, state)[:MOST_NAMED]}
    for file in ingested.files:
        if file.state not in _NAMED_IN_SHORT or file.path in to_name:
            lines += _file_lines(file, width)
    for state in _NAMED_IN_SHORT:
        more = len(_worth_naming(ingested, state)) - MOST_NAMED
        if more > 0:
            lines += paragraph(f"… and {more} more {_WORDS[state]}; --json names them all.", width)
    counts = [
        f"{sum(file.state is state for file in ingested.files)} {_WORDS[state]}"
        for state in IngestState
        if any(file.state is state for file in ingested.files)
    ]
    summary = (
        f"{counted(len(ingested.files), 'file').capitalize()}: {', '.join(counts) or 'nothing to do'}; "
        f"{counted(ingested.pages_read, 'page')} read now."
    )
    return "\n".join([*lines, *suspected_lines(ingested.compared, width), *paragraph(summary, width)])


def _worth_naming(ingested: Ingested, state: IngestState) -> list[IngestedFile]:
    """The files of a state of which there is something to say: of those held already, only what is noted of them."""
    return [file for file in ingested.files if file.state is state and (state is not IngestState.KNOWN or file.why)]


def _file_lines(file: IngestedFile, width: int) -> list[str]:
    pages = f", {_read(file.read, file.pages)}" if file.pages else ""
    source = f" -> {file.source}" if file.source else ""
    why = f" ({file.why})" if file.why else ""
    return paragraph(f"{file.path}: {_WORDS[file.state]}{source}{pages}{why}", width, hang="    ")


def _read(read: int, pages: int) -> str:
    if read == pages:
        return f"{counted(pages, 'page')} read"
    return f"{read} of {pages} pages read" if pages > 1 else "its page not read"
