"""What people write where a date in EDTF is due: what is wrong with it, and what to write."""

import re
from functools import lru_cache
from typing import NoReturn

from provenance.records.edtf_values import EdtfError
from provenance.records.wording import quote

# (form of the whole text, what is wrong with it, what to write); the first form that fits decides; {0} is the text.
_FORMS = (
    ("", "there is no date where one is due", "write a date such as `1934-06`, or leave it out"),
    (
        r"(?=.*\s)[0-9XYTZ\[\]{}.,?~%/:+\s-]*",
        "{0} has white space in it",
        "write it without, such as `1934-06-12`, `1934~` or `[1931,1933]`",
    ),
    (
        ".*/.*/.*",
        "{0} has more than one `/`",
        "write a day as `1934-06-12`; `/` stands between the two ends of an interval",
    ),
    (
        r"-?[0-9X]{4}-(2[1-9]|3[0-9]|4[01])[?~%]?",
        "{0} is a season or another part of a year, which is not taken",
        "write the months it may be, such as `1934-03/1934-05`",
    ),
    (
        "(Y-?|-)?[0-9]+E[0-9]+(S[0-9]+)?[?~%]?",
        "{0} has an exponent, which is not taken",
        "write the year in full, such as `Y-170000000`",
    ),
    (
        "Y?-?[0-9]+S[0-9]+[?~%]?",
        "{0} has significant digits, which are not taken",
        "write `X` for each digit that is not known, such as `19XX`",
    ),
    ("[^?~%]+[?~%]{2,}", "{0} has more than one qualifier", "write `?` for uncertain, `~` for about, `%` for both"),
    (
        ".*[?~%].+",
        "{0} qualifies a part of the date, which is not taken",
        "write one qualifier at the end for the whole date, such as `2004-06-11~`",
    ),
    ("-?[0-9]{4}-[0-9]{2}(-[0-9]{2})?[?~%]?", "{0} has a month that does not exist", "write `01` to `12`"),
    (
        "-?[0-9XxUu]{4}(-[0-9XxUu]{2}){0,2}[?~%]?",
        "{0} has a small letter for a digit that is not known",
        "write `X`, the capital, for each such digit",
    ),
    (".*[0-9]T.*", "{0} has a time of day where none belongs", "write the day alone, such as `1934-06-12`"),
    ("(?i)open", "{0} is no longer the word for an open end", "write `..`, such as `1934/..`"),
    ("(?i)unknown", "{0} is no longer the word for an unknown end", "write nothing behind the `/`, such as `1934/`"),
    ("[0-9]{4}s|[0-9]{3}0's", "{0} is not how EDTF writes ten years", "write the years of the 1930s as `193X`"),
    ("[0-9]{4}-[0-9]{4}", "{0} has a hyphen between two years", "write `1931/1933` from one to the other"),
    (
        "[0-9]{1,2}[.-][0-9]{1,2}[.-][0-9]{4}",
        "{0} does not begin with the year",
        "write the year first, then the month, then the day: `1934-06-12`",
    ),
    (
        "-?[0-9]{4}-[0-9]{1,2}(-[0-9]{1,2})?[?~%]?",
        "{0} has a month or a day of one digit",
        "write two digits, such as `1934-06-02`",
    ),
    ("-?[0-9]{8}", "{0} has no hyphens", "write a day as `1934-06-12`; a year beyond 9999 begins with `Y`"),
    (
        "-?[0-9X]{1,3}[?~%]?",
        "{0} has a year of fewer than four digits",
        "write four, such as `0934`; the year comes first",
    ),
    ("Y-?[0-9X]{1,4}[?~%]?", "{0} has a `Y` before a year that needs none", "write four digits without `Y`"),
    ("Y-?[1-9][0-9]{12,}[?~%]?", "{0} has a year of more than 12 digits", "write a year of at most 12 digits"),
    ("-?[0-9]{5,}[?~%]?", "{0} has a year of more than four digits", "write `Y` before it, such as `Y17000`"),
    (r"[\[{].*|.*[\]}]", "{0} has brackets where none belong", "write a set by itself, such as `[1931,1933]`"),
)
_OTHERWISE = (
    ".*",
    "{0} is no date in EDTF",
    "write `1934-06-12`, `1934-06`, `1934`, about `1934~`, one of `[1931,1933]`, from and to `1931/1933`",
)


def refuse(text: str) -> NoReturn:
    """Refuse a text that is no date, naming the fault as closely as its form tells.

    Raises:
        EdtfError: always.
    """
    _, what, mend = next((row for row in _FORMS if _compiled(row[0]).fullmatch(text)), _OTHERWISE)
    raise EdtfError(what.format(quote(text)), mend)


@lru_cache(maxsize=len(_FORMS))
def _compiled(form: str) -> re.Pattern[str]:
    return re.compile(form, re.DOTALL)
