"""Reading a date from text: EDTF, the Library of Congress specification of 4 February 2019 (ISO 8601-2:2019).

Level 0 is supported, and in addition the following features of levels 1 and 2: all of level 1 but seasons; sets; and
unspecified digits anywhere. The rest (seasons, exponents, significant digits, qualifiers on single components) is
refused, with what to write instead.
"""

import re
from functools import lru_cache
from typing import NamedTuple, NoReturn

from provenance.records.days import Day, DayPattern, days_in_month
from provenance.records.edtf_refusals import refuse
from provenance.records.edtf_values import Bound, EdtfDate, EdtfError, Kind, Span
from provenance.records.wording import quote

_LONGEST_TEXT = 1000

_DATE = re.compile(r"(-?)([0-9X]{4})(?:-([0-9X]{2})(?:-([0-9X]{2}))?)?([?~%]?)")
_LONG_YEAR = re.compile(r"Y(-?[1-9][0-9]{4,11})([?~%]?)")
_MOMENT = re.compile(r"(-?[0-9]{4}-[0-9]{2}-[0-9]{2})T(.*)")
# Offsets go up to 14 hours, the farthest that clocks keep anywhere, and `-00:00` is none (ISO 8601-1; from memory).
_CLOCK = re.compile(
    r"(?:(?:[01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9]|24:00:00)"
    r"(?:Z|(?!-00(?::00)?$)[+-](?:(?:0[0-9]|1[0-3])(?::[0-5][0-9])?|14(?::00)?))?"
)


class _Piece(NamedTuple):
    """One date as it stands alone, at the end of an interval, or in a set."""

    span: Span
    parts: int  # 1 for a year, 2 with a month, 3 with a day
    qualifier: str


def parse_edtf(text: str) -> EdtfDate:
    """Read a date.

    White space is not trimmed. A time of day is read, checked and left out of account: the bounds are its day as
    typed, whatever the zone.

    Raises:
        EdtfError: the text is no date in EDTF, uses a feature that is not supported, or names a date that cannot be.
    """
    return _parse(text)


@lru_cache(maxsize=8192)
def _parse(text: str) -> EdtfDate:
    if len(text) > _LONGEST_TEXT:
        raise EdtfError(
            f"a date of {len(text)} characters is too long",
            f"write at most {_LONGEST_TEXT} characters; put the rest in `note`",
        )
    if text.startswith(("[", "{")):
        return _read_set(text)
    if "/" in text:
        return _read_interval(text)
    piece = _read_moment(text) if "T" in text else _read_date(text)
    return EdtfDate(
        text=text,
        kind=Kind.DATE,
        members=(piece.span,),
        earliest=piece.span.earliest,
        latest=piece.span.latest,
        uncertain=piece.qualifier in ("?", "%"),
        approximate=piece.qualifier in ("~", "%"),
    )


def _read_date(text: str) -> _Piece:
    match = _DATE.fullmatch(text)
    if match is None:
        return _read_long_year(text)
    sign, year, month, day, qualifier = match.groups(default="")
    parts = 1 + bool(month) + bool(day)
    if "X" in match[0]:
        return _Piece(_pattern_span(text, DayPattern(sign, year, month or "XX", day or "XX")), parts, qualifier)
    return _Piece(_exact_span(text, int(sign + year), month, day), parts, qualifier)


def _read_long_year(text: str) -> _Piece:
    match = _LONG_YEAR.fullmatch(text)
    if match is None:
        refuse(text)
    year = int(match[1])
    return _Piece(_exact_span(text, year, "", ""), 1, match[2])


def _exact_span(text: str, year: int, month: str, day: str) -> Span:
    if year == 0 and text.startswith("-"):
        raise EdtfError(f"{quote(text)} is no date: there is no year -0000", "write the year 0, which is 1 BC, `0000`")
    if not month:
        return Span(Day(year, 1, 1), Day(year, 12, 31))
    month_number = int(month)
    if not 1 <= month_number <= 12:
        refuse(text)
    last_day = days_in_month(year, month_number)
    if not day:
        return Span(Day(year, month_number, 1), Day(year, month_number, last_day))
    if not 1 <= int(day) <= last_day:
        raise EdtfError(
            f"{quote(text)} is no date: month {month} of that year has {last_day} days",
            "write a day that the month has, or leave the day out",
        )
    only = Day(year, month_number, int(day))
    return Span(only, only)


def _pattern_span(text: str, pattern: DayPattern) -> Span:
    first, last = pattern.first(), pattern.last()
    if first is None or last is None:
        raise EdtfError(f"no date fits {quote(text)}", "write `X` only for digits that can make up a real date")
    return Span(first, last, pattern if pattern.has_gaps else None)


def _read_moment(text: str) -> _Piece:
    match = _MOMENT.fullmatch(text)
    if match is None:
        refuse(text)
    if not _CLOCK.fullmatch(match[2]):
        raise EdtfError(
            f"{quote(text)} has no proper time of day",
            "write it as `T23:20:30`, with `Z` or an offset such as `+01:00` after it, or leave it out",
        )
    return _read_date(match[1])


def _read_interval(text: str) -> EdtfDate:
    written_start, _, written_end = text.partition("/")
    if "/" in written_end:
        refuse(text)
    start, start_bound = _read_end(written_start)
    end, end_bound = _read_end(written_end)
    if start is None and end is None:
        raise EdtfError(f"{quote(text)} names no date at all", "write at least one end, or leave the date out")
    earliest = start.span.earliest if start else None
    latest = end.span.latest if end else None
    if earliest is not None and latest is not None and latest < earliest:
        raise EdtfError(f"{quote(text)} runs backwards", "write the earlier date first")
    qualifiers = "".join(piece.qualifier for piece in (start, end) if piece)
    return EdtfDate(
        text=text,
        kind=Kind.INTERVAL,
        members=(Span(earliest, latest),),
        earliest=earliest,
        latest=latest,
        start=start_bound,
        end=end_bound,
        uncertain="?" in qualifiers or "%" in qualifiers,
        approximate="~" in qualifiers or "%" in qualifiers,
    )


def _read_end(text: str) -> tuple[_Piece | None, Bound]:
    if not text:
        return None, Bound.UNKNOWN
    if text == "..":
        return None, Bound.OPEN
    return _read_date(text), Bound.KNOWN


def _read_set(text: str) -> EdtfDate:
    if text[-1] != {"[": "]", "{": "}"}[text[0]]:
        raise EdtfError(
            f"{quote(text)} is a set without its closing bracket at the end",
            "write `[1931,1933]` for one of several, `{1931,1933}` for all; a qualifier goes inside, behind its date",
        )
    written = text[1:-1].split(",")
    pieces = [_read_member(text, item, index, len(written) - 1) for index, item in enumerate(written)]
    if len(pieces) == 1 and ".." not in written[0]:
        raise EdtfError(f"{quote(text)} is a set of one date", "write the date without brackets")
    members = tuple(piece.span for piece in pieces)
    earliest = [span.earliest for span in members if span.earliest]
    latest = [span.latest for span in members if span.latest]
    qualifiers = "".join(piece.qualifier for piece in pieces)
    opens, closes = len(earliest) < len(members), len(latest) < len(members)
    return EdtfDate(
        text=text,
        kind=Kind.ONE_OF if text[0] == "[" else Kind.ALL_OF,
        members=members,
        earliest=None if opens else min(earliest),
        latest=None if closes else max(latest),
        start=Bound.OPEN if opens else Bound.KNOWN,
        end=Bound.OPEN if closes else Bound.KNOWN,
        uncertain="?" in qualifiers or "%" in qualifiers,
        approximate="~" in qualifiers or "%" in qualifiers,
    )


def _read_member(text: str, item: str, index: int, last: int) -> _Piece:
    before, dots, after = item.partition("..")
    if not dots:
        return _read_date(item)
    if not before and not after:
        _refuse_member(text, "`..` stands beside no date")
    if (not before and index != 0) or (not after and index != last):
        _refuse_member(text, "an open range stands between other dates")
    start, end = (_read_exact(text, side) if side else None for side in (before, after))
    if start and end and start.parts != end.parts:
        _refuse_member(text, f"the two ends of {quote(item)} are not equally precise")
    span = Span(start.span.earliest if start else None, end.span.latest if end else None)
    if span.earliest and span.latest and span.latest < span.earliest:
        _refuse_member(text, f"{quote(item)} runs backwards")
    return _Piece(span, 0, "")


def _read_exact(text: str, side: str) -> _Piece:
    piece = _read_date(side)
    if piece.qualifier or "X" in side:
        _refuse_member(text, f"{quote(side)} beside `..` is not a plain date")
    return piece


def _refuse_member(text: str, why: str) -> NoReturn:
    raise EdtfError(
        f"in {quote(text)} {why}",
        "write a range as `1670..1672`; an open one is the first, `[..1760,1763]`, or the last, `[1760,1763..]`",
    )
