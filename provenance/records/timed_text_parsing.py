"""Reading WebVTT and SubRip, every line accounted for.

WebVTT: W3C, "WebVTT: The Web Video Text Tracks Format", section "WebVTT file parsing" (from memory): blocks end at an
empty line, or before a line with an arrow that cannot be theirs. On purpose otherwise: a line of white space where a
block would begin counts as empty, so that it takes the identifier of no cue. SubRip has no standard; it is read in
the same way, with a number above the times, and a line of white space counts as empty (common practice).

A player drops what it does not understand. Nothing is dropped here: it is named with its line, and where it may be
something that was said its words are kept.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal

from provenance.records.cue_text import read_cue_line
from provenance.records.cue_timing import ARROW, FORM_SUBRIP, FORM_WEBVTT, Form, Timing, read_timing
from provenance.records.timed_text import Block, BlockKind, LineKind, SaidLine, TextFault, TimedText
from provenance.records.wording import quote

SIGNATURE = "WEBVTT"
_ASIDE = {"STYLE": LineKind.STYLE, "REGION": LineKind.REGION}


def parse_webvtt(text: str) -> TimedText:
    """Read a WebVTT file; any text can be read, and what is wrong with it is said."""
    return _Reader(FORM_WEBVTT).read(lines_of(text))


def parse_subrip(text: str) -> TimedText:
    """Read a SubRip file; any text can be read, and what is wrong with it is said."""
    return _Reader(FORM_SUBRIP).read(lines_of(text))


def lines_of(text: str) -> list[str]:
    """The lines of a file, without a byte order mark; they end with a line feed, a carriage return, or both."""
    lines = text.removeprefix("\ufeff").replace("\0", "\ufffd").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    return lines if lines[-1] else lines[:-1]


def has_signature(line: str) -> bool:
    """Whether a first line is that of a WebVTT file."""
    return line == SIGNATURE or line.startswith((f"{SIGNATURE} ", f"{SIGNATURE}\t"))


@dataclass(frozen=True, slots=True)
class _Lines:
    """Lines that stand together: the number of the first, and whether an empty line stands before it."""

    first: int
    lines: list[str]
    is_apart: bool


@dataclass(slots=True)
class _Reader:
    """Reads one file; what it found so far."""

    form: Form
    kinds: list[LineKind] = field(default_factory=list)
    blocks: list[Block] = field(default_factory=list)
    faults: list[TextFault] = field(default_factory=list)
    latest: Decimal | None = None

    def read(self, lines: Sequence[str]) -> TimedText:
        self.kinds = [LineKind.BLANK] * len(lines)
        is_headed = self.form.is_standard and bool(lines) and has_signature(lines[0])
        if self.form.is_standard and not is_headed:
            self._fault(
                1, f"the file does not begin with {SIGNATURE}", f"write {SIGNATURE} above it, and an empty line"
            )
        for found in _together(lines, self.form, is_headed=is_headed):
            if found.first == 1 and is_headed:
                self._header(found)
            else:
                self._block(found)
        faults = tuple(sorted(self.faults, key=lambda fault: fault.line))
        return TimedText(kinds=tuple(self.kinds), blocks=tuple(self.blocks), faults=faults)

    def _header(self, found: _Lines) -> None:
        """The first line and what stands under it; the title after the signature is kept as a note."""
        self.kinds[0] = LineKind.HEADER
        title = found.lines[0].removeprefix(SIGNATURE).strip(" \t-")
        if title:
            self._add_note([(1, title)])
        for number, line in enumerate(found.lines[1:], start=2):
            name, colon, _ = line.partition(":")
            if colon and name and not any(map(str.isspace, name)):
                self.kinds[number - 1] = LineKind.HEADER
            else:
                self._stray(number, [line])

    def _block(self, found: _Lines) -> None:
        lines, first = found.lines, found.first
        arrow = next((place for place, line in enumerate(lines[:2]) if ARROW in line), None)
        if arrow is not None:
            self._cue(found, arrow)
        elif self.form.is_standard and (lines[0] == "NOTE" or lines[0].startswith(("NOTE ", "NOTE\t"))):
            self._mark(LineKind.NOTE, first, lines)
            told = [(first, lines[0][4:]), *enumerate(lines[1:], start=first + 1)]
            self._add_note(told)
        elif self.form.is_standard and lines[0].rstrip() in _ASIDE and LineKind.TIMING not in self.kinds:
            self._mark(_ASIDE[lines[0].rstrip()], first, lines)
        else:
            self._stray(first, lines)

    def _cue(self, found: _Lines, arrow: int) -> None:
        at = found.first + arrow
        timing = read_timing(found.lines[arrow], self.form)
        is_sound = not timing.beyond or timing.span is not None
        self.kinds[at - 1] = LineKind.TIMING if is_sound else LineKind.STRAY
        self._faults_of_cue(found, at, timing)
        identifier = found.lines[0] if arrow else ""
        kept: list[tuple[int, str]] = []
        if arrow and (self.form.is_standard or identifier.strip().isdecimal()):
            self.kinds[at - 2] = LineKind.IDENTIFIER
            if not is_sound and _says_something(timing.beyond) and _says_something(identifier):
                kept.append((at - 1, identifier))
        elif arrow:
            self._stray(at - 1, [identifier])
        kept += [(at, timing.beyond)] if _says_something(timing.beyond) else []
        spoken = [*enumerate(found.lines[arrow + 1 :], start=at + 1)]
        self._mark(LineKind.TEXT, at + 1, found.lines[arrow + 1 :])
        if not any(line.strip() for _, line in spoken) and not kept:
            self._fault(at, "a cue without text", "write what is said under its times, or take them out")
        cue = Block(
            kind=BlockKind.CUE, line=at, lines=(), span=timing.span, identifier=identifier, settings=timing.settings
        )
        self._add_said(cue, [*kept, *spoken])

    def _faults_of_cue(self, found: _Lines, at: int, timing: Timing) -> None:
        if not found.is_apart:
            self._fault(at, "no empty line stands before this cue", "leave a line empty between cues")
        for what, mend in timing.faults:
            self._fault(at, what, mend)
        if timing.span is not None:
            if self.latest is not None and timing.span.start < self.latest:
                self._fault(at, "it begins before a cue above it", "put the cues in the order of their times")
            self.latest = timing.span.start if self.latest is None else max(self.latest, timing.span.start)

    def _stray(self, first: int, lines: Sequence[str]) -> None:
        self._mark(LineKind.STRAY, first, lines)
        above = "times" if self.form.is_standard else "a number and times"
        note = "; begin it with NOTE where nobody says it" if self.form.is_standard else ""
        many = "a line that belongs" if len(lines) == 1 else f"{len(lines)} lines that belong"
        self._fault(first, f"{many} to no cue: {quote(lines[0])}", f"write {above} above it{note}")
        self._add_said(Block(kind=BlockKind.STRAY, line=first, lines=()), list(enumerate(lines, start=first)))

    def _add_note(self, lines: Sequence[tuple[int, str]]) -> None:
        told = tuple(SaidLine(number=number, text=line.strip(), shown=line.strip()) for number, line in lines)
        lines_with_words = tuple(line for line in told if line.text)
        self.blocks.append(Block(kind=BlockKind.NOTE, line=lines[0][0], lines=lines_with_words))

    def _add_said(self, block: Block, lines: Sequence[tuple[int, str]]) -> None:
        read = [(number, read_cue_line(line, self.form.tags)) for number, line in lines]
        for number, line in read:
            self.faults += [TextFault(line=number, what=what, mend=mend) for what, mend in line.faults]
        said = tuple(SaidLine(number=number, text=line.text, shown=line.shown) for number, line in read if line.text)
        speakers = tuple(dict.fromkeys(name for _, line in read for name in line.speakers))
        self.blocks.append(replace(block, lines=said, speakers=speakers))

    def _mark(self, kind: LineKind, first: int, lines: Sequence[str]) -> None:
        self.kinds[first - 1 : first - 1 + len(lines)] = [kind] * len(lines)

    def _fault(self, line: int, what: str, mend: str) -> None:
        self.faults.append(TextFault(line=line, what=what, mend=mend))


def _says_something(text: str) -> bool:
    return any(map(str.isalpha, text))


def _together(lines: Sequence[str], form: Form, *, is_headed: bool) -> Iterator[_Lines]:
    """Lines that stand together; a line with an arrow begins anew where it cannot be that of the times."""
    block: list[str] = []
    is_apart = True
    for number, line in enumerate(lines, start=1):
        is_blank = not line if form.is_standard and block else not line.strip()
        is_in_header = is_headed and len(block) == number - 1
        is_cut = ARROW in line and bool(block) and (is_in_header or len(block) > 1 or ARROW in block[0])
        if block and (is_blank or is_cut):
            yield _Lines(number - len(block), block, is_apart)
            block, is_apart = [], is_blank
        if is_blank:
            is_apart = True
        else:
            block.append(line)
    if block:
        yield _Lines(len(lines) - len(block) + 1, block, is_apart)
