"""The line of a cue that says when it is said: from, to, and where a player shows it."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from provenance.records.cue_text import SUBRIP_TAGS, WEBVTT_TAGS
from provenance.records.regions import TimeSpan
from provenance.records.wording import quote

ARROW = "-->"

_LOOSE_TIME = r"(?:([0-9]{1,9}):)?([0-9]{1,2}):([0-9]{1,2})[.,]([0-9]{3})"
_LOOSE = re.compile(rf"\s*{_LOOSE_TIME}\s*{ARROW}\s*{_LOOSE_TIME}(?![0-9.,:])(.*)")
_MOST_HOURS = 999  # what a record can cite; both forms set no limit
_PLAUSIBLE_HOURS = 99

Fault = tuple[str, str]
"""What is wrong, and the mend."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Form:
    """A way of writing times and text.

    Attributes:
        name: as people call it.
        timing: the times of a cue as the form has them.
        example: how to write them.
        settings: names of what may follow them, such as `align` in `align:start`.
        tags: known in the text of a cue.
        is_standard: WebVTT, with its header, notes, styles and regions, and any text as the identifier of a cue.
    """

    name: str
    timing: re.Pattern[str]
    example: str
    settings: frozenset[str]
    tags: frozenset[str]
    is_standard: bool


def _strict(time: str) -> re.Pattern[str]:
    return re.compile(rf"{time}[ \t]+{ARROW}[ \t]+{time}(?:[ \t].*)?")


FORM_WEBVTT = Form(
    name="WebVTT",
    timing=_strict(r"(?:[0-9]{2,}:)?[0-5][0-9]:[0-5][0-9]\.[0-9]{3}"),
    example="00:00:08.000 --> 00:00:14.500",
    settings=frozenset({"vertical", "line", "position", "size", "align", "region"}),
    tags=WEBVTT_TAGS,
    is_standard=True,
)
"""W3C, WebVTT: The Web Video Text Tracks Format, section "WebVTT cue timings" (from memory)."""

FORM_SUBRIP = Form(
    name="SubRip",
    timing=_strict(r"[0-9]{2,}:[0-5][0-9]:[0-5][0-9],[0-9]{3}"),
    example="00:00:08,000 --> 00:00:14,500",
    settings=frozenset({"X1", "X2", "Y1", "Y2"}),
    tags=SUBRIP_TAGS,
    is_standard=False,
)
"""Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Timing:
    """What a line of times says.

    Attributes:
        span: from when to when; None where that cannot be used.
        settings: as written; empty for none.
        beyond: what follows the times and is no setting: it may have been said, and is kept.
        faults: with their mends.
    """

    span: TimeSpan | None
    settings: str = ""
    beyond: str = ""
    faults: tuple[Fault, ...] = ()


def read_timing(line: str, form: Form) -> Timing:
    """Read a line that has an arrow in it.

    Times that are not quite as the form has them (a comma for a point, a figure for two) are named and used: what is
    meant is plain. Those that could be read in two ways, run backwards, or are none, are named and not used.
    """
    found = _LOOSE.fullmatch(line)
    start, end = (_seconds(found.groups()[:4]), _seconds(found.groups()[4:8])) if found else (None, None)
    if found is None or start is None or end is None:
        what = f"{quote(line.strip())} does not say from when to when"
        return Timing(span=None, beyond=line.strip(), faults=((what, f"write it such as `{form.example}`"),))
    rest = found[9].strip()
    is_settings = all(word.partition(":")[0] in form.settings and ":" in word for word in rest.split())
    span = None if end < start else TimeSpan(start, end)
    return Timing(
        span=span,
        settings=rest if is_settings else "",
        beyond="" if is_settings else rest,
        faults=tuple(_faults(line, form, TimeSpan(start, end), "" if is_settings else rest)),
    )


def _seconds(parts: tuple[str | None, ...]) -> Decimal | None:
    """Seconds from the beginning; None where minutes or seconds pass 59, or the hours what can be cited."""
    hours, minutes, seconds = (int(part or 0) for part in parts[:3])
    if hours > _MOST_HOURS or max(minutes, seconds) >= 60:
        return None
    return (hours * 60 + minutes) * 60 + Decimal(f"{seconds}.{parts[3]}")


def _faults(line: str, form: Form, span: TimeSpan, beyond: str) -> Iterator[Fault]:
    if form.timing.fullmatch(line) is None:
        yield f"the times are not as {form.name} has them", f"write them such as `{form.example}`"
    if span.end < span.start:
        yield "the cue ends before it begins, so its times are not used", "compare them with the recording"
    elif span.end == span.start:
        yield "the cue ends where it begins", "compare its times with the recording"
    if span.end >= (_PLAUSIBLE_HOURS + 1) * 3600:
        yield "the cue lies a hundred hours or more into the recording", "compare its times with the recording"
    if beyond:
        yield (
            f"{quote(beyond)} follows the times and is no setting of {form.name}",
            "write what is said on the line below",
        )
