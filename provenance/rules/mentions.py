"""Dates and examples of the machine that a text names in passing."""

import re
from collections.abc import Iterator

from provenance.records.dates import EdtfError, parse_edtf
from provenance.records.production import Production

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_MONTH = (
    r"(?P<month>jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?"
    r"|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)\b\.?"
)
_YEAR = r"(?P<year>(?:18|19|20)[0-9]{2})(?![\w/-]|\.[0-9])"
_DAY = r"(?<![\w.-])(?P<day>[0-3]?[0-9])"
_DATES = (
    re.compile(rf"{_DAY}(?:st|nd|rd|th)?(?: of)? {_MONTH},? {_YEAR}", re.IGNORECASE),
    re.compile(rf"(?<!\w){_MONTH} (?P<day>[0-3]?[0-9])(?:st|nd|rd|th)?,? {_YEAR}", re.IGNORECASE),
    re.compile(rf"(?<!\w){_MONTH},? {_YEAR}", re.IGNORECASE),
    re.compile(r"(?<![\w./-])(?P<iso>(?:18|19|20)[0-9]{2}-[01][0-9]-[0-3][0-9])(?![\w-])"),
    re.compile(rf"(?<![\w./-])(?<!no )(?<!no\. ){_YEAR}", re.IGNORECASE),
)
_LEADING = r"(?<!\w)(?:(?:rail)?cars?|{kind}s?|machines?)(?:[ ]+nos?[.,]?)?|(?<!\w)nos?[.,]?|(?<!\w)numbers?"
_NUMBER = r"[a-z]{0,3}[0-9]{1,4}[a-z]?"


def dates_in(text: str) -> tuple[str, ...]:
    """The dates that a text names, in EDTF, in order of the calendar, each once.

    A year alone (1800 to 2099), a month with its year, and a day written out; dates all in figures are left out, since
    they leave open which is the month. What cannot be (31 June) is left out too.
    """
    found: set[str] = set()
    rest = " ".join(text.split())
    for form in _DATES:
        found.update(date for match in form.finditer(rest) if (date := _as_edtf(match)))
        rest = form.sub(" | ", rest)
    return tuple(sorted(found))


def _as_edtf(match: re.Match[str]) -> str:
    parts = match.groupdict()
    written = parts.get("iso") or parts["year"]
    if parts.get("month"):
        written += f"-{_MONTHS.index(parts['month'][:3].lower()) + 1:02}"
    if parts.get("day"):
        written += f"-{int(parts['day']):02}"
    try:
        return parse_edtf(written).text
    except EdtfError:
        return ""


def examples_in(text: str, production: Production, kind: str = "") -> tuple[str, ...]:
    """The examples that a text names, in the order of production: `No. 9`, `cars 5 to 8`, `Nos. 5, 6 and 7`.

    Args:
        text: of a find.
        production: only what was built is an example.
        kind: what the machine is called besides car, such as `locomotive`; empty for nothing else.
    """
    named: set[str] = set()
    by_name = {example.lower(): example for example in production.order}
    for numbers in _numbers_after_their_name(text, kind):
        known = [by_name.get(number, "") for number in re.findall(_NUMBER, numbers)]
        if "" in known and re.search(r"[-\u2013]", numbers):
            continue  # a part number such as `9-204`
        ends = [example for example in known if example]
        if len(ends) == 2 and re.search(r" to |[-\u2013]", numbers):
            first, last = sorted(map(production.position, ends))
            ends = list(production.order[first : last + 1])
        named.update(ends)
    return tuple(example for example in production.order if example in named)


def _numbers_after_their_name(text: str, kind: str) -> Iterator[str]:
    leading = _LEADING.format(kind=re.escape(kind.lower()) or "machine")
    joint = r"(?:\s*,\s*|\s+and\s+|\s*&\s*|\s+to\s+|\s*[-\u2013]\s*)"
    form = re.compile(rf"(?:{leading})\s*(?P<numbers>{_NUMBER}(?:{joint}{_NUMBER})*)(?![\w/]|-[0-9])")
    for match in form.finditer(" ".join(text.lower().split())):
        yield match["numbers"]
