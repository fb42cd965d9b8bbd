"""A source as it is looked at: its record, its pages with what was read on them, its recordings, what hangs on it."""

from dataclasses import dataclass
from decimal import Decimal

from provenance.records.decisions import CopyPair
from provenance.records.readings import Box
from provenance.records.regions import Region
from provenance.records.sources import OriginalFile, Source
from provenance.reports.claimed_here import ClaimedHere
from provenance.reports.descended import Descended
from provenance.reports.source_facts import Fact
from provenance.reports.used import Used


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownWord:
    """A word of a page.

    Attributes:
        box: where it stands, in percent of the page; None where that is not known.
        is_doubtful: whether the recogniser was not sure of it.
        is_found: whether it is among the words that were looked for.
    """

    text: str
    box: Box | None = None
    is_doubtful: bool = False
    is_found: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PageShown:
    """One page of a source.

    Attributes:
        page: counted from 1.
        pages: the numbers of all pages of the source, in order.
        digest: SHA-256 of its file.
        origin: who read it, in words; empty for a page that was not read.
        lines: what stands on it, line by line; a person's reading before the machine's.
        over: the words that have places, to be laid over the picture: those of the machine's reading.
        doubtful: how many of the words are doubtful.
        is_by_a_person: whether the lines are a person's reading.
        within: the part of the page that the source is, in percent; None for all of it, and where nobody can say.
        marked: the part of the page that was asked for, in percent; None for none.
        cited: what is claimed from it, with the part that each item of evidence names; of a source of one page also
            what names no page.
        no_picture: why there is no picture, in words that end a sentence; empty where there is one.
        unread: why nothing was read; empty where it was.
    """

    source: Source
    page: int
    pages: tuple[int, ...]
    digest: str
    origin: str
    lines: tuple[tuple[ShownWord, ...], ...]
    over: tuple[ShownWord, ...]
    doubtful: int
    is_by_a_person: bool
    within: Region | None
    marked: Region | None
    cited: tuple[ClaimedHere, ...]
    no_picture: str
    unread: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownCue:
    """What is said at one time of a recording.

    Attributes:
        start: seconds from the beginning; None for what has no time, such as a note.
        end: likewise.
        time: the same as it is cited; empty for none.
        lines: what is said, with each speaker's name first.
        is_marked: whether it is said at the time that was asked for.
    """

    start: Decimal | None
    end: Decimal | None
    time: str
    lines: tuple[str, ...]
    is_marked: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Heard:
    """A recording with what is said on it, or a text with times whose recording is not among the files.

    Attributes:
        name: `t01` for a person's transcript, `p0001` for a subtitle file; empty where nothing was written down.
        file: the place of the recording among the files of the source, counted from 1; None where there is none.
        original: the recording; None where there is none.
        not_here: why it cannot be played; empty where it can.
        is_by_a_person: whether what is said was written down by somebody of the team.
        cues: in order.
    """

    name: str
    file: int | None
    original: OriginalFile | None
    not_here: str
    is_by_a_person: bool
    cues: tuple[ShownCue, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FileShown:
    """An original: its place among the files of its source, and why it is not here; empty where it is."""

    number: int
    file: OriginalFile
    why_not: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SourceShown:
    """A source.

    Attributes:
        facts: what its record says.
        pages: the numbers of its pages, in order.
        files: its own originals.
        heard: its recordings, and texts with times.
        descended: the answer of `descent`; it holds the cautions.
        used: the answer of `used`.
        pairs: the records of likely copies that it is in, in order of id.
    """

    source: Source
    facts: tuple[Fact, ...]
    pages: tuple[int, ...]
    files: tuple[FileShown, ...]
    heard: tuple[Heard, ...]
    descended: Descended
    used: Used
    pairs: tuple[CopyPair, ...]


def captions_of(heard: Heard) -> str:
    """What is said on a recording as WebVTT, for a player to show; tags and signs of that form are plain text in it."""
    blocks = ["WEBVTT"]
    for cue in heard.cues:
        if cue.start is not None and cue.end is not None and cue.end > cue.start and cue.lines:
            said = "\n".join(cue.lines).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
            blocks.append(f"{_clock(cue.start)} --> {_clock(cue.end)}\n{said}")
    return "\n\n".join(blocks) + "\n"


def _clock(seconds: Decimal) -> str:
    thousandths = int(seconds * 1000)
    minutes, rest = divmod(thousandths, 60_000)
    return f"{minutes // 60:02}:{minutes % 60:02}:{rest // 1000:02}.{rest % 1000:03}"
