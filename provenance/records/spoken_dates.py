"""Dates as people say them, turned into EDTF: "about June 1934", "1931 or 1933", "before 3 June 1934".

Seasons, halves of a decade and dates all in figures are refused: which days they mean is for the person to say. EDTF
itself passes through as typed.
"""

import re
from typing import NamedTuple, NoReturn

from provenance.records.dates import Day, EdtfError, parse_edtf
from provenance.records.days import days_in_month
from provenance.records.wording import WordingError, quote

_MONTHS = (
    *("january", "february", "march", "april", "may", "june", "july", "august"),
    *("september", "october", "november", "december"),
)
_MONTH = "|".join(f"{name}|{name[:3]}\\.?" for name in _MONTHS) + r"|sept\.?"
_ORDINAL = r"(?P<{0}>[0-3]?[0-9])(?:st|nd|rd|th)?"
_UNITS = tuple(
    re.compile(pattern)
    for pattern in (
        r"(?:the year )?(?P<year>[0-9]{4})",
        rf"(?P<month>{_MONTH})(?: of)?,? (?P<year>[0-9]{{4}})",
        rf"(?:the )?{_ORDINAL.format('day')}(?: of)? (?P<month>{_MONTH}),?(?: of)? (?P<year>[0-9]{{4}})",
        rf"(?P<month>{_MONTH}) {_ORDINAL.format('day')},? (?P<year>[0-9]{{4}})",
    )
)
_MONTH_ALONE = re.compile(rf"(?P<month>{_MONTH})")
_DAY_OF_MONTH = re.compile(rf"(?:the )?{_ORDINAL.format('day')}(?: of)? (?P<month>{_MONTH})")
_DAY_ALONE = re.compile(rf"(?:the )?{_ORDINAL.format('day')}")
_DECADE = re.compile(r"(?:the )?([0-9]{3})0'?s")
_ABOUT = re.compile(r"(?:about|around|approximately|roughly|circa|ca\.?|c\.?)(?: |(?<=\.)|(?<=c)(?=[0-9]))(?:the )?")
_PERHAPS = re.compile(r"(?:probably|perhaps|possibly|maybe) ")
_LEADING = re.compile(r"(?:in|on|during) ")
_DASH = re.compile(" ?[\u2013\u2014] ?")
_BETWEEN = re.compile(r"between (?P<first>.+) and (?P<last>.+)")
_FROM_TO = re.compile(r"(?:from )?(?P<first>.+?) (?:to|until|till) (?P<last>.+)")
_OR = re.compile(r",? or |, ")
_NEXT_TO = re.compile(r"(?P<word>before|after|until|till|up to|by|not later than|since|from|not before) (?P<when>.+)")
_SEASON = re.compile(r"\b(spring|summer|autumn|fall|winter)\b(?:.*?([0-9]{4}))?")
_SEASONS = {"spring": ("03", "05"), "summer": ("06", "08"), "autumn": ("09", "11"), "fall": ("09", "11")}
_PART = re.compile(r"\b(early|mid|late|beginning|middle|end)\b")
_FIGURES = re.compile(r"[0-9]{1,2}[./-][0-9]{1,2}[./-](?:[0-9]{2}|[0-9]{4})")
_NONE = frozenset({"unknown", "undated", "no date", "n.d.", "none", "?"})
_EXAMPLES = (
    "write it such as `3 June 1934`, `about 1934`, `1931 or 1933`, `between 1931 and 1933` or `before 1934`; "
    "what else there is to say of it goes into a note"
)


class _Unit(NamedTuple):
    """A year, with a month and a day where they are said; 0 for what is not."""

    year: int
    month: int = 0
    day: int = 0

    def __str__(self) -> str:
        parts = [f"{self.year:04}", *(f"{part:02}" for part in (self.month, self.day) if part)]
        return "-".join(parts)


def spoken_to_edtf(text: str) -> str:
    """Turn a date as people say it into EDTF; what is EDTF already comes back as typed.

    ==========================  ================
    about June 1934, c. 1934    1934-06~, 1934~
    probably 1934               1934?
    1931 or 1933                [1931,1933]
    between 1931 and 1933       1931/1933
    before 1934                 ../1933
    before 3 June 1934          ../1934-06-02
    until 1934, by 1934         ../1934
    after 1934                  1935/..
    since 1934                  1934/..
    the 1930s                   193X
    ==========================  ================

    Raises:
        WordingError: it is no date, cannot be, or leaves open which days are meant; its mend says what to write.
    """
    trimmed = " ".join(text.split())
    try:
        return parse_edtf(trimmed).text
    except EdtfError as error:
        fault = error
    said = _LEADING.sub("", trimmed.casefold(), count=1) if _LEADING.match(trimmed.casefold()) else trimmed.casefold()
    edtf = _read(_DASH.sub(" to ", said))
    if edtf is None:
        _refuse(trimmed, said, fault)
    return parse_edtf(edtf).text


def _read(said: str) -> str | None:
    """The date in EDTF; None where it is not understood."""
    for form in (_read_interval, _read_open, _read_choice, _read_qualified):
        edtf = form(said)
        if edtf is not None:
            return edtf
    return None


def _read_interval(said: str) -> str | None:
    found = _BETWEEN.fullmatch(said) or _FROM_TO.fullmatch(said)
    if found is None:
        return None
    last = _read_qualified(found["last"])
    first = _read_qualified(found["first"], follower=found["last"])
    return f"{first}/{last}" if first and last else None


def _read_open(said: str) -> str | None:
    found = _NEXT_TO.fullmatch(said)
    if found is None:
        return None
    mark, rest = _qualifier(found["when"])
    unit = _unit(rest)
    if unit is None:
        return None
    match found["word"]:
        case "before":
            return f"../{_neighbour(unit, -1)}{mark}"
        case "after":
            return f"{_neighbour(unit, 1)}{mark}/.."
        case "since" | "from" | "not before":
            return f"{unit}{mark}/.."
        case _:
            return f"../{unit}{mark}"


def _read_choice(said: str) -> str | None:
    if " or " not in said:
        return None
    *before, last = _OR.split(said.removeprefix("either "))
    units = [*(_unit(each, follower=last) for each in before), _unit(last)]
    return f"[{','.join(map(str, units))}]" if all(units) else None


def _read_qualified(said: str, *, follower: str = "") -> str | None:
    mark, rest = _qualifier(said)
    decade = _DECADE.fullmatch(rest)
    if decade and not decade[1].endswith("0"):
        return f"{decade[1]}X{mark}"
    unit = _unit(rest, follower=_qualifier(follower)[1])
    return f"{unit}{mark}" if unit else None


def _qualifier(said: str) -> tuple[str, str]:
    """Split off what makes a date uncertain or approximate: the sign of EDTF for it, and the rest."""
    rest, perhaps = _PERHAPS.subn("", said, count=1) if _PERHAPS.match(said) else (said, 0)
    rest, about = _ABOUT.subn("", rest, count=1) if _ABOUT.match(rest) else (rest, 0)
    stripped = rest.removesuffix("?").rstrip()
    perhaps = perhaps or stripped != rest
    return ("%" if perhaps and about else "?" if perhaps else "~" if about else ""), stripped


def _unit(said: str, *, follower: str = "") -> _Unit | None:
    """Read a year, month or day; what it leaves out is that of the date that follows it (`3 to 7 June 1934`)."""
    for pattern in _UNITS:
        found = pattern.fullmatch(said)
        if found:
            parts = found.groupdict()
            return _settled(int(parts["year"]), _month(parts.get("month")), int(parts.get("day") or 0))
    whole = _unit(follower) if follower else None
    if whole is None or not whole.month:
        return None
    day_of_month = _DAY_OF_MONTH.fullmatch(said)
    if day_of_month:
        return _settled(whole.year, _month(day_of_month["month"]), int(day_of_month["day"]))
    month = _MONTH_ALONE.fullmatch(said)
    if month:
        return _Unit(whole.year, _month(month["month"]))
    day = _DAY_ALONE.fullmatch(said) if whole.day else None
    return _settled(whole.year, whole.month, int(day["day"])) if day else None


def _settled(year: int, month: int, day: int) -> _Unit:
    unit = _Unit(year, month, day)
    parse_edtf(str(unit))
    return unit


def _month(name: str | None) -> int:
    return 0 if name is None else next(n for n, month in enumerate(_MONTHS, 1) if month[:3] == name[:3])


def _neighbour(unit: _Unit, step: int) -> _Unit:
    """The year, month or day before or after."""
    year, month, day = unit
    if not month:
        return _Unit(year + step)
    if not day:
        carried, index = divmod(month - 1 + step, 12)
        return _Unit(year + carried, index + 1)
    if 1 <= day + step <= days_in_month(year, month):
        return _Unit(year, month, day + step)
    near = _neighbour(_Unit(year, month), step)
    return _Unit(near.year, near.month, 1 if step > 0 else days_in_month(near.year, near.month))


def _refuse(text: str, said: str, fault: EdtfError) -> NoReturn:
    """Refuse what is not understood, as closely as its form tells.

    Raises:
        WordingError: always.
    """
    season = _SEASON.search(said)
    if said in _NONE:
        raise WordingError(f"{quote(text)} is no date", "leave the date out where nobody knows it")
    if season:
        raise WordingError(f"{quote(text)} is a season, which is not taken", _months_of(season[1], season[2] or "1934"))
    if _PART.search(said):
        mend = "write the years, months or days that it may be, such as `between 1930 and 1933`"
        raise WordingError(f"{quote(text)} leaves open where that part begins and ends", mend)
    if _DECADE.search(said):
        mend = "write `190X` for ten years and `19XX` for a hundred, with the digits that are known"
        raise WordingError(f"{quote(text)} may be ten years or a hundred", mend)
    if _FIGURES.fullmatch(said):
        mend = "write the month as a word, such as `3 June 1934`, or the year first: `1934-06-03`"
        raise WordingError(f"{quote(text)} does not say which figure is the month", mend)
    raise fault if not re.search("[a-z]{2}", said) else WordingError(f"{quote(text)} is not read as a date", _EXAMPLES)


def _months_of(season: str, year: str) -> str:
    if season == "winter":
        late = Day(int(year), 12, 1)
        return (
            f"write the months that it may be, such as `{late.year - 1}-12/{year}-02` or `{year}-12/{late.year + 1}-02`"
        )
    first, last = _SEASONS[season]
    return f"write the months that it may be, such as `{year}-{first}/{year}-{last}`"
