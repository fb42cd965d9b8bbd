"""What was read from one page: words with their places, and how sure the reader was."""

from dataclasses import dataclass
from enum import StrEnum

DOUBTFUL_BELOW = 60.0
"""Confidence below which a recognised word is doubtful. Common practice, no source."""


IN_PART_FROM = 0.25
"""From which share of its text that no word covers a page counts as read only in part. Common practice, no source."""


class Origin(StrEnum):
    """Where the words of a page come from."""

    TEXT_LAYER = "text-layer"
    RECOGNISED = "recognised"
    PLAIN_TEXT = "plain-text"
    TIMED_TEXT = "timed-text"
    TRANSCRIPT = "transcript"


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on a page upright as delivered, in percent of its width and height.

    Attributes:
        x: left edge, 0 at the page's left.
        y: upper edge, 0 at the page's top.
        w: width.
        h: height.
    """

    x: float
    y: float
    w: float
    h: float

    def as_fragment(self) -> str:
        """Write the box as a W3C Media Fragment (Media Fragments URI 1.0, 4.2.2), to two decimals."""
        return "percent:" + ",".join(f"{side:.2f}".rstrip("0").rstrip(".") for side in (self.x, self.y, self.w, self.h))


@dataclass(frozen=True, slots=True)
class Word:
    """One word as read.

    Attributes:
        text: the word without white space.
        line: the line of the page that it stands on, counted from 1 in reading order.
        box: where it stands; None for plain text, which has no page picture.
        confidence: 0 to 100 from the recogniser; None where nothing was recognised.
    """

    text: str
    line: int
    box: Box | None = None
    confidence: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PageReading:
    """The reading of one page.

    Attributes:
        page: counted from 1 within its file.
        words: in reading order; empty for a page on which nothing was found.
        origin: where the words come from.
        engine: name and version of what read them, such as `tesseract 5.3.0`.
        languages: BCP 47 tags that the recogniser was told; empty where nothing was recognised.
        note: what a person should know of this reading ("rendered at 150 dpi"); empty for nothing.
        uncovered: the share of the page's text, by its ink, that no word covers, 0 to 1; None where nothing was
            recognised.
    """

    page: int
    words: tuple[Word, ...]
    origin: Origin
    engine: str
    languages: tuple[str, ...] = ()
    note: str = ""
    uncovered: float | None = None

    @property
    def text(self) -> str:
        """The words as lines of text: a space between words, a line feed between lines."""
        lines: dict[int, list[str]] = {}
        for word in self.words:
            lines.setdefault(word.line, []).append(word.text)
        return "\n".join(" ".join(words) for words in lines.values())

    @property
    def confidence(self) -> float | None:
        """The mean confidence of the recognised words; None where none was recognised."""
        known = [word.confidence for word in self.words if word.confidence is not None]
        return sum(known) / len(known) if known else None


def doubtful_words(reading: PageReading) -> tuple[Word, ...]:
    """Give the words of which the recogniser was not sure, in reading order.

    Specks and rules that it took for marks hold no letter and no figure, and are not doubtful words. Words that were
    not recognised (of a text layer, a text, a transcript) are never doubtful.
    """
    return tuple(
        word
        for word in reading.words
        if word.confidence is not None and word.confidence < DOUBTFUL_BELOW and any(map(str.isalnum, word.text))
    )
