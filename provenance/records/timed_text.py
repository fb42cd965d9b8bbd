"""What is said on a recording, written down with its times: cues, notes, and every line of the file accounted for."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from provenance.records.readings import Word
from provenance.records.regions import TimeSpan


class LineKind(StrEnum):
    """What a line of the file is; `STRAY` for one that belongs to nothing, or should say a time and does not."""

    HEADER = "header"
    NOTE = "note"
    STYLE = "style"
    REGION = "region"
    IDENTIFIER = "identifier"
    TIMING = "timing"
    TEXT = "text"
    BLANK = "blank"
    STRAY = "stray"


class BlockKind(StrEnum):
    """What lines that stand together are: a cue, a note of whoever wrote it down, or lines that belong to nothing."""

    CUE = "cue"
    NOTE = "note"
    STRAY = "stray"


@dataclass(frozen=True, slots=True, kw_only=True)
class SaidLine:
    """The words of one line of the file.

    Attributes:
        number: of the line in the file, counted from 1.
        text: without tags and escapes; empty for a line of tags alone.
        shown: the same with each speaker's name before what they say.
    """

    number: int
    text: str
    shown: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Lines that stand together.

    Attributes:
        line: number in the file, counted from 1, of the line with the times; of what is no cue, of its first line.
        lines: those with words, in order.
        span: when it is said; None for what is no cue, and for a cue whose times cannot be used.
        identifier: of the cue; empty for none.
        settings: of the cue, as written: where a player shows it; empty for none.
        speakers: as the voice tags name them, each once, in order; empty where nobody is named.
    """

    kind: BlockKind
    line: int
    lines: tuple[SaidLine, ...]
    span: TimeSpan | None = None
    identifier: str = ""
    settings: str = ""
    speakers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TextFault:
    """Something that is not as its form asks for.

    Attributes:
        line: number of the line, counted from 1.
        what: what is wrong, one sentence without a full stop.
        mend: what to do about it.
    """

    line: int
    what: str
    mend: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TimedText:
    """A file of WebVTT or SubRip.

    Attributes:
        kinds: what each line of the file is, in order; as many as there are lines.
        blocks: what has words, in order; `said` leaves out the notes.
        faults: in order of line.
    """

    kinds: tuple[LineKind, ...]
    blocks: tuple[Block, ...]
    faults: tuple[TextFault, ...]

    @property
    def words(self) -> tuple[Word, ...]:
        """Every word that is said, with the number of its line in the file: of cues, and of lines that belong to none.

        What a note says is not said on the recording, and is not among them.
        """
        return words_of(block for block in self.blocks if block.kind is not BlockKind.NOTE)

    def said_on(self, lines: Iterable[int]) -> tuple[Block, ...]:
        """The blocks that hold these lines of the file, in order."""
        wanted = set(lines)
        return tuple(block for block in self.blocks if any(line.number in wanted for line in block.lines))


def words_of(blocks: Iterable[Block]) -> tuple[Word, ...]:
    """The words of some blocks in order, each with the number of its line in the file."""
    return tuple(Word(word, line.number) for block in blocks for line in block.lines for word in line.text.split())


def spoken_between(blocks: Iterable[Block]) -> TimeSpan | None:
    """From the earliest beginning of these blocks to the latest end; None where none of them has a time."""
    spans = [block.span for block in blocks if block.span is not None]
    return TimeSpan(min(span.start for span in spans), max(span.end for span in spans)) if spans else None
