"""The reading of a page, laid out to be corrected: line by line, each word with its place on the picture."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

from provenance.records.readings import Box, PageReading, Word, doubtful_words
from provenance.records.wording import fold_wording
from provenance.reports.source_shown import PageShown, ShownWord


@dataclass(frozen=True, slots=True, kw_only=True)
class LineToCorrect:
    """A line of a page; empty for the blank line between two paragraphs."""

    words: tuple[ShownWord, ...] = ()

    @property
    def text(self) -> str:
        """What it says."""
        return " ".join(word.text for word in self.words)

    @property
    def doubtful(self) -> tuple[str, ...]:
        """Its words of which the recogniser was not sure."""
        return tuple(word.text for word in self.words if word.is_doubtful)


@dataclass(frozen=True, slots=True, kw_only=True)
class PageToCorrect:
    """A page with what is held of its words.

    Attributes:
        shown: the page.
        lines: what counts as standing there: a person's reading before the machine's; empty for a page that was not
            read.
        file: where a person's reading of it is kept, relative to the archive.
    """

    shown: PageShown
    lines: tuple[LineToCorrect, ...]
    file: str


def lines_of_reading(reading: PageReading) -> tuple[LineToCorrect, ...]:
    """The lines of a machine's reading, in order, with the words of which it was not sure."""
    doubtful = {id(word) for word in doubtful_words(reading)}
    lines: dict[int, list[ShownWord]] = {}
    for word in reading.words:
        shown = ShownWord(text=word.text, box=word.box, is_doubtful=id(word) in doubtful)
        lines.setdefault(word.line, []).append(shown)
    return tuple(LineToCorrect(words=tuple(words)) for words in lines.values())


def lines_of_text(text: str, machine: Sequence[Word]) -> tuple[LineToCorrect, ...]:
    """The lines of what a person read, each word with the place of the machine's word that it corrects.

    A word has the place of the one that is the same, or of the one that stands in its place where as many words differ;
    else none.

    Args:
        text: what the person read.
        machine: the words of the machine's reading; empty for none.
    """
    lines = [line.split() for line in text.strip("\n").splitlines()]
    places = iter(_places([word for line in lines for word in line], machine))
    return tuple(
        LineToCorrect(words=tuple(ShownWord(text=word, box=next(places)) for word in line))
        for line in _without_runs(lines)
    )


def _without_runs(lines: Iterable[list[str]]) -> Iterator[list[str]]:
    """The lines with one blank line where several stand."""
    before: list[str] | None = []
    for line in lines:
        if line or before:
            yield line
        before = line


def _places(words: Sequence[str], machine: Sequence[Word]) -> list[Box | None]:
    places: list[Box | None] = [None] * len(words)
    own, theirs = [fold_wording(word) for word in words], [fold_wording(word.text) for word in machine]
    for what, a, a_end, b, b_end in SequenceMatcher(None, own, theirs, autojunk=False).get_opcodes():
        if what == "equal" or (what == "replace" and a_end - a == b_end - b):
            places[a:a_end] = [word.box for word in machine[b:b_end]]
    return places
