"""Places inside a source: a region of a page, a time in a recording, a run of pages."""

import re
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from provenance.records.wording import WordingError, quote

_REGION = re.compile(r"(percent|pixel):" + ",".join([r"([0-9]{1,9}(?:\.[0-9]{1,9})?)"] * 4))
_TIME = re.compile(r"([0-9]{2,3}):([0-5][0-9]):([0-5][0-9](?:\.[0-9]{1,6})?)")
_PAGES = re.compile(r"([0-9]{1,7})(?:\.\.([0-9]{1,7}))?")

# Two rounded figures may pass the edge of the page by a hair that nobody meant.
_WHOLE_PAGE = Decimal(100)
_ROUNDING = Decimal("0.01")


class RegionError(WordingError):
    """Text that is no region of a page."""


class TimeSpanError(WordingError):
    """Text that is no time in a recording."""


class PageRangeError(WordingError):
    """Text that is no run of pages."""


class RegionUnit(StrEnum):
    """What a region is measured in: hundredths of the page's width and height, or pixels of a raster page."""

    PERCENT = "percent"
    PIXEL = "pixel"


@dataclass(frozen=True, slots=True, kw_only=True)
class Region:
    """A rectangle on a page upright as delivered (W3C Media Fragments URI 1.0, 4.2.2, with decimals allowed).

    Attributes:
        unit: percent of the page, or pixels.
        x: left edge from the left of the page.
        y: upper edge from the top of the page.
        w: width, more than 0.
        h: height, more than 0.
    """

    unit: RegionUnit
    x: Decimal
    y: Decimal
    w: Decimal
    h: Decimal

    def __str__(self) -> str:
        """Write the region as it is written in a record; decimals stay as typed."""
        return f"{self.unit}:" + ",".join(format(side, "f") for side in (self.x, self.y, self.w, self.h))


@dataclass(frozen=True, slots=True)
class TimeSpan:
    """A stretch of a recording, or one instant of it.

    Attributes:
        start: seconds from the beginning of the recording.
        end: seconds from the beginning; equal to `start` for an instant, else later.
    """

    start: Decimal
    end: Decimal

    def __str__(self) -> str:
        """Write the time as it is written in a record; decimals of a second stay as typed."""
        start = _write_time(self.start)
        return start if self.end == self.start else f"{start}/{_write_time(self.end)}"


@dataclass(frozen=True, slots=True)
class PageRange:
    """A run of pages; they count from 1 and run on over the files of a source.

    Attributes:
        first: the first page.
        last: the last page; equal to `first` for a single page.
    """

    first: int
    last: int

    def __str__(self) -> str:
        """Write the run as it is written in a record."""
        return str(self.first) if self.last == self.first else f"{self.first}..{self.last}"

    def __contains__(self, page: int) -> bool:
        """Say whether the run takes in that page."""
        return self.first <= page <= self.last

    def __len__(self) -> int:
        """Count the pages."""
        return self.last - self.first + 1


def common_part(one: Region, other: Region) -> Region | None:
    """What lies in both of two regions; None where nothing does, or they are not measured alike."""
    if one.unit is not other.unit:
        return None
    left, top = max(one.x, other.x), max(one.y, other.y)
    right, bottom = min(one.x + one.w, other.x + other.w), min(one.y + one.h, other.y + other.h)
    if left >= right or top >= bottom:
        return None
    return Region(unit=one.unit, x=left, y=top, w=right - left, h=bottom - top)


def parse_region(text: str) -> Region:
    """Read a region such as `percent:12.5,40,30,8` or `pixel:160,120,320,240`: left, top, width, height.

    A region in percent may not pass the page by more than .01; whether one in pixels does, only the page can tell.

    Raises:
        RegionError: the text is no region, the region has no width or no height, or it passes the edge of the page.
    """
    match = _REGION.fullmatch(text)
    if match is None:
        raise RegionError(
            f"{quote(text)} is no region of a page",
            "write left, top, width and height, such as `percent:12.5,40,30,8` or `pixel:160,120,320,240`",
        )
    x, y, w, h = (Decimal(side) for side in match.groups()[1:])
    if not w or not h:
        raise RegionError(f"{quote(text)} has no size", "write a width and a height above 0, the last two figures")
    unit = RegionUnit(match[1])
    if unit is RegionUnit.PERCENT and _passes_the_page(x, y, w, h):
        raise RegionError(
            f"{quote(text)} goes beyond the page",
            "write percent so that left and width, and top and height, come to 100 at most, or measure in `pixel:`",
        )
    return Region(unit=unit, x=x, y=y, w=w, h=h)


def parse_time_span(text: str) -> TimeSpan:
    """Read a time in a recording: `00:12:31.000/00:12:44.000`, or one instant, `00:12:31.000`.

    Raises:
        TimeSpanError: the text is no time, or its end is not after its start.
    """
    written_start, slash, written_end = text.partition("/")
    start = _read_time(text, written_start)
    if not slash:
        return TimeSpan(start, start)
    end = _read_time(text, written_end)
    if end <= start:
        raise TimeSpanError(
            f"{quote(text)} does not end after it starts",
            "write the earlier time first, or a single time for one instant",
        )
    return TimeSpan(start, end)


def parse_page_range(text: str) -> PageRange:
    """Read a run of pages, `3..7`, or a single page, `3`.

    Raises:
        PageRangeError: the text is no run of pages, begins with page 0, or runs backwards.
    """
    match = _PAGES.fullmatch(text)
    if match is None:
        raise PageRangeError(
            f"{quote(text)} is no run of pages",
            "write the scan's pages such as `3..7`, or a single one such as `3`",
        )
    first, last = int(match[1]), int(match[2] or match[1])
    if first < 1:
        raise PageRangeError(f"{quote(text)} begins with page 0", "count the pages of the scan from 1")
    if last < first:
        raise PageRangeError(f"{quote(text)} runs backwards", f"write `{last}..{first}`")
    return PageRange(first, last)


def _passes_the_page(x: Decimal, y: Decimal, w: Decimal, h: Decimal) -> bool:
    most = _WHOLE_PAGE + _ROUNDING
    return max(x, y, w, h) > _WHOLE_PAGE or x + w > most or y + h > most


def _read_time(text: str, written: str) -> Decimal:
    match = _TIME.fullmatch(written)
    if match is None:
        raise TimeSpanError(
            f"{quote(text)} is no time in a recording",
            "write hours, minutes and seconds, such as `00:12:31` or `00:12:31.000/00:12:44.000`",
        )
    return (int(match[1]) * 60 + int(match[2])) * 60 + Decimal(match[3])


def _write_time(seconds: Decimal) -> str:
    minutes, second = divmod(int(seconds), 60)
    hours, minute = divmod(minutes, 60)
    return f"{hours:02}:{minute:02}:{second:02}" + format(seconds % 1, "f")[1:]
