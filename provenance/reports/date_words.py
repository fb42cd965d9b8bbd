"""A date as visitors read it: `1934-06~` is about June 1934."""

import re

from provenance.records.dates import EdtfDate

_MONTHS = (
    "January February March April May June July August September October November December".split()  # noqa: SIM905  twelve quoted words are harder to read
)
_PLAIN = re.compile(r"(\d{4})(?:-(\d\d)(?:-(\d\d))?)?([?~%]?)")
_DECADE = re.compile(r"(\d{3})X")
_DOUBT = {"": "", "~": "about ", "?": "perhaps ", "%": "perhaps about "}


def date_words(date: EdtfDate) -> str:
    """Write a date in words; what has no plain words, such as a set, stays in EDTF as it was typed."""
    begin, stroke, end = date.text.partition("/")
    if not stroke:
        return _single(begin)
    if begin in {"", ".."}:
        return f"until {_single(end)}"
    if end in {"", ".."}:
        return f"from {_single(begin)}"
    return f"{_single(begin)} to {_single(end)}"


def _single(text: str) -> str:
    plain = _PLAIN.fullmatch(text)
    if plain:
        year, month, day, doubt = plain.groups()
        named = [str(int(day))] if day else []
        named += [_MONTHS[int(month) - 1]] if month else []
        return _DOUBT[doubt] + " ".join([*named, year])
    decade = _DECADE.fullmatch(text)
    return f"the {decade[1]}0s" if decade else text
