"""Subtitle files: texts whose words have times. What they are is told by how they begin, not by their name."""

import codecs
import re
from pathlib import Path

from provenance.pages.plain_text import DecodedText, read_text
from provenance.records.recordings import SUBRIP, WEBVTT
from provenance.records.timed_text import TimedText
from provenance.records.timed_text_parsing import has_signature, lines_of, parse_subrip, parse_webvtt

# The number of a cue, then its times: how SubRip files begin. Common practice, no source.
_FIRST_CUE = re.compile(
    r"(?:[0-9]{1,6}[ \t]*\n)?[ \t]*[0-9]{1,3}:[0-9]{1,2}:[0-9]{1,2}[,.][0-9]{1,3}[ \t]*-->[ \t]*[0-9]"
)


def timed_type(head: bytes) -> str | None:
    """Tell the kind of a text with times by its first bytes; None for any other file."""
    is_wide = head.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE))
    lines = lines_of(head.decode("utf-16" if is_wide else "utf-8", errors="ignore"))
    if lines and has_signature(lines[0]):
        return WEBVTT
    return SUBRIP if _FIRST_CUE.match("\n".join(lines).lstrip()) else None


def read_timed_text(path: Path, media_type: str) -> tuple[TimedText, DecodedText]:
    """Read a file of one of the `TIMED_TYPES`: what is said in it, and the characters that it was read from.

    Raises:
        UnreadableOriginalError: longer than a text may be, or no text.
    """
    decoded = read_text(path)
    return parse_timed_text(decoded.text, media_type), decoded


def parse_timed_text(text: str, media_type: str) -> TimedText:
    """Read the characters of a file of one of the `TIMED_TYPES`."""
    return parse_webvtt(text) if media_type == WEBVTT else parse_subrip(text)


def note_on_faults(timed: TimedText) -> str:
    """Say in a few words what of a text is not as its form has it; empty where nothing is."""
    if not timed.faults:
        return ""
    first = timed.faults[0]
    more = f", and {len(timed.faults) - 1} more" if len(timed.faults) > 1 else ""
    return f"line {first.line}: {first.what}{more}"
