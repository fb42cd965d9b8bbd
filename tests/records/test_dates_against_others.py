"""Dates held against two independent libraries, both written by others from the same specification.

PyPI `edtf` 5.0.2 (MIT) reads and gives bounds; PyPI `edtf-validate` 2.0.0 (BSD) accepts or refuses. Where one of them
differs, what it says is frozen here with the reason, so that a change on either side is noticed.
"""

import contextlib
import io
import re
import warnings
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from provenance.records.dates import Day, EdtfError, parse_edtf

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # both use names that pyparsing has since replaced
    import edtf
    from edtf.parser.edtf_exceptions import EDTFParseException
    from edtf_validate.valid_edtf import is_valid

# The example strings of the Library of Congress specification of 4 February 2019, levels 0, 1 and 2, as the test suites
# of independent implementations carry them. `1984/2004-06~`, `1984~/2004~`, `1984-06?/2004-08?` and
# `1984-06-02?/2004-08-08~` stand in one of these only.
SUPPORTED = (
    *("1985-04-12", "1985-04", "1985", "1985-04-12T23:20:30", "1985-04-12T23:20:30Z", "1985-04-12T23:20:30-04"),
    *("1985-04-12T23:20:30+04:30", "1964/2008", "2004-06/2006-08", "2004-02-01/2005-02-08"),
    *("2004-02-01/2005-02", "2004-02-01/2005", "2005/2006-02", "Y170000002", "Y-170000002", "1984?"),
    *("2004-06~", "2004-06-11%", "201X", "20XX", "2004-XX", "1985-04-XX", "1985-XX-XX", "1985-04-12/.."),
    *("1985-04/..", "1985/..", "../1985-04-12", "../1985-04", "../1985", "1985-04-12/", "1985-04/", "1985/"),
    *("/1985-04-12", "/1985-04", "/1985", "-1985", "1984~/2004-06", "1984/2004-06~", "1984~/2004~"),
    *("1984?/2004%", "1984-06?/2004-08?", "1984-06-02?/2004-08-08~", "[1667,1668,1670..1672]"),
    *("[..1760-12-03]", "[1760-12..]", "[1760-01,1760-02,1760-12..]", "[1667,1760-12]", "[..1984]"),
    *("{1667,1668,1670..1672}", "{1960,1961-12}", "{..1984}", "156X-12-25", "15XX-12-25", "XXXX-12-XX"),
    *("1XXX-XX", "1XXX-12", "1984-1X", "2004-06-XX/2004-07-03"),
)
NOT_SUPPORTED = (
    *("2001-21", "2001-34", "Y-17E7", "1950S2", "Y171010000S3", "Y3388E2S3", "2004-06~-11", "2004?-06-11"),
    *("?2004-06-~11", "2004-%06-11", "2004-06-~01/2004-06-~20"),
)
# What nobody disputes, besides.
OTHERS = (
    *("0000", "-0001", "-0000", "-1985-04-12", "-19XX", "1941-02-30", "1941-13", "1941-06-31", "1985/1985"),
    *("-0100/0100", "156X/157X", "1569/156X", "1984-2X", "/", "[1941]", "{1960}", "[1667~,1668]"),
    *("[194X,196X]", "[1670..1670]", "[1941..1942-03]", "[1760-12-30..1761-01-02]", "[1941,1943]?", "Y2006"),
    *("1985-04-12T23:20:60", "1985-04-12T24:00:00", "1985-04-12T23:20:30+14:00", "1985-04-12T23:20:30+14:30"),
    *("1985-04-12T23:20:30-00:00", "20067890%", "+2006%", "NONE/", "2000/12-12", "2012///4444", "0001/0000"),
)

MADE_UP = "makes up ten years for an end that nobody knows"
CRASHES = "fails on digits left open in a month or a day"
NO_SUCH_DAY = "takes a 29 February of years that have none"
BACKWARDS = "takes what runs backwards"
# text: (what PyPI edtf 5.0.2 says, why that is not followed)
BOUNDS_OF_THEIRS = {
    "1985-04-12/": ("1985-04-12 to 1995-04-12", MADE_UP),
    "1985-04/": ("1985-04-01 to 1995-04-01", MADE_UP),
    "1985/": ("1985-01-01 to 1995-01-01", MADE_UP),
    "/1985-04-12": ("1975-04-12 to 1985-04-12", MADE_UP),
    "/1985-04": ("1975-04-30 to 1985-04-30", MADE_UP),
    "/1985": ("1975-12-31 to 1985-12-31", MADE_UP),
    "1984-1X": ("AttributeError", CRASHES),
    "1984-X5": ("AttributeError", CRASHES),
    "2016-02-2X": ("ValueError", CRASHES),
    "2001-02-3X": ("ValueError", CRASHES),
    "1900-02-29": ("1900-02-29 to 1900-02-29", NO_SUCH_DAY),
    "190X-02-29": ("1900-02-29 to 1909-02-29", NO_SUCH_DAY),
    "19X1-02-29": ("1901-02-29 to 1991-02-29", NO_SUCH_DAY),
    "1943/1941": ("1943-01-01 to 1941-12-31", BACKWARDS),
    "0001/0000": ("0001-01-01 to 0000-12-31", BACKWARDS),
    "[1672..1670]": ("1672-01-01 to 1670-12-31", BACKWARDS),
    "-000X": ("-0009-01-01 to 0000-12-31", "takes the year -0000, which there is not"),
    "../..": ("- to -", "takes an interval that names no date"),
    "1985-04-12T23:20:30+00:00": ("refused", "knows no offset of 0 but Z"),
    "Y17000/Y18000": ("refused", "knows years beyond 9999 only by themselves"),
    "2001-21": ("2001-03-01 to 2001-05-31", "takes spring as that of the north"),
    "2001-34": ("2001-04-01 to 2001-06-30", "reads quarters"),
    "Y-17E7": ("-170000000-01-01 to -170000000-12-31", "reads exponents"),
    "1950S2": ("1950-01-01 to 1950-12-31", "gives the estimate for the span"),
    "Y171010000S3": ("171010000-01-01 to 171010000-12-31", "gives the estimate for the span"),
    "Y3388E2S3": ("338800-01-01 to 338800-12-31", "gives the estimate for the span"),
    "2004-06~-11": ("2004-06-11 to 2004-06-11", "reads qualifiers on a part"),
    "2004?-06-11": ("2004-06-11 to 2004-06-11", "reads qualifiers on a part"),
    "?2004-06-~11": ("2004-06-11 to 2004-06-11", "reads qualifiers on a part"),
    "2004-%06-11": ("2004-06-11 to 2004-06-11", "reads qualifiers on a part"),
    "2004-06-~01/2004-06-~20": ("2004-06-01 to 2004-06-20", "reads qualifiers on a part"),
}


def starts_within_its_end(text: str) -> bool:
    start, slash, end = text.partition("/")
    if not (slash and start.strip(".") and end.strip(".")):
        return False
    return _earliest(end) < _earliest(start)


def _earliest(text: str) -> Day:
    day = parse_edtf(text).earliest
    assert day is not None
    return day


Holds = Callable[[str], object]
# Why edtf-validate 2.0.0 may take a text that is refused here: (an example, the reason, whether it holds of a text).
ONLY_THEY_TAKE: tuple[tuple[str, str, Holds], ...] = (
    ("2001-21", "seasons are not supported", re.compile(r"(^|/)-?\d{4}-(2[1-9]|3\d|4[01])[?~%]?(/|$)").search),
    ("Y-17E7", "exponents are not supported", re.compile("[0-9]E[0-9]").search),
    ("1950S2", "significant digits are not supported", re.compile("[0-9]S[0-9]").search),
    ("2004-06~-11", "qualifiers on a part are not supported", re.compile(r"[?~%](?![/,\]}]|$)").search),
    ("../..", "an interval must name a date", re.compile(r"^(\.\.)?/(\.\.)?$").search),
    ("1900-02-29", "they count 29 days, and a 3X, in every February", re.compile("-(02|X2)-(29|X9|3.)").search),
    ("1941-06-31?", "beside a qualifier or X they count 31 days", re.compile("-(0[469]|11|X[469])-31").search),
    ("[1672..1670]", "a range in a set must not run backwards", re.compile(r"^[\[{].*\d\.\.-?\d").search),
)
# Why a text that is taken here may be refused by edtf-validate 2.0.0.
ONLY_WE_TAKE: tuple[tuple[str, str, Holds], ...] = (
    ("1985-04-12T23:20:30+00:00", "UTC may be written +00:00", re.compile(r"\+00(:00)?$").search),
    ("Y17000/Y18000", "years beyond 9999 go wherever years go", re.compile(r"Y.*[?~%/,]|[/,\[{]Y").search),
    ("194X~", "digits left open go with a qualifier and in any interval", re.compile("X.*[?~%/]|/.*X").search),
    ("/-1985", "years of 0 and below go behind an unknown start", re.compile("^/(-|0000)").search),
    ("2004-06-15/2004-06", "an interval may end in the month it starts in", starts_within_its_end),
)


def bounds_of_ours(text: str) -> str:
    try:
        date = parse_edtf(text)
    except EdtfError:
        return "refused"
    return f"{date.earliest or '-'} to {date.latest or '-'}"


def bounds_of_theirs(text: str) -> str:
    try:
        with contextlib.redirect_stdout(io.StringIO()):  # it prints as it fails
            date = edtf.parse_edtf(text)
            return f"{_day(date.lower_strict())} to {_day(date.upper_strict())}"
    except EDTFParseException:
        return "refused"
    except (AttributeError, ValueError) as crash:
        return type(crash).__name__


def _day(given_day: object) -> str:
    return str(Day(*given_day[:3])) if isinstance(given_day, tuple) else "-"


@pytest.mark.parametrize("text", [text for text in SUPPORTED + OTHERS if text not in BOUNDS_OF_THEIRS])
def test_bounds_are_those_of_an_independent_library(text: str) -> None:
    assert bounds_of_ours(text) == bounds_of_theirs(text)


@pytest.mark.parametrize(("text", "said"), [(text, said) for text, (said, _) in BOUNDS_OF_THEIRS.items()])
def test_where_that_library_differs_it_still_says_what_it_said(text: str, said: str) -> None:
    assert bounds_of_theirs(text) == said
    assert bounds_of_ours(text) != said


def test_no_example_of_what_is_not_supported_is_read_by_us_and_each_by_them() -> None:
    assert [text for text in NOT_SUPPORTED if bounds_of_ours(text) != "refused"] == []
    assert [text for text in NOT_SUPPORTED if not is_valid(text)] == []


@pytest.mark.parametrize("text", SUPPORTED + OTHERS)
def test_what_an_independent_validator_takes_is_taken_and_nothing_else(text: str) -> None:
    taken = bounds_of_ours(text) != "refused"

    assert taken is bool(is_valid(text))


@pytest.mark.parametrize(("text", "reason", "holds"), ONLY_THEY_TAKE + ONLY_WE_TAKE)
def test_where_that_validator_differs_it_still_does(text: str, reason: str, holds: Holds) -> None:
    taken = bounds_of_ours(text) != "refused"

    assert holds(text), reason
    assert taken is not bool(is_valid(text)), reason


# --- made-up strings ------------------------------------------------------------------------------------------


def two(least: int, most: int) -> st.SearchStrategy[str]:
    return st.integers(least, most).map("{:02}".format)


years = st.integers(1, 9999).map("{:04}".format)
exact = years | st.tuples(years, two(1, 12)).map("-".join) | st.tuples(years, two(1, 12), two(1, 28)).map("-".join)
vague_years = st.tuples(years, st.sets(st.integers(0, 3))).map(
    lambda made: "".join("X" if place in made[1] else digit for place, digit in enumerate(made[0]))
)
vague = (
    vague_years
    | st.tuples(vague_years, two(1, 12) | st.just("XX")).map("-".join)
    | st.tuples(vague_years, two(1, 12), two(1, 28) | st.just("XX")).map("-".join)
)
qualified = st.tuples(exact, st.sampled_from(["", "?", "~", "%"])).map("".join)
in_order = st.tuples(exact, exact).map(lambda ends: sorted(ends, key=_earliest))
closed = in_order.map("/".join)
decades_or_so = years.map(lambda year: f"{year[:3]}X~")
half_open = qualified.map("{}/..".format) | qualified.map("../{}".format)
ranges = st.tuples(years, years).map(lambda ends: "..".join(sorted(ends)))
members = st.lists(qualified | vague_years | ranges, min_size=2, max_size=4).map(",".join)
sets = members.map("[{}]".format) | members.map("{{{}}}".format)


dates = qualified | vague | decades_or_so | closed | half_open | sets | qualified.map("-{}".format)


@settings(derandomize=True, max_examples=60)
@given(dates)
def test_bounds_of_any_date_are_those_of_an_independent_library(text: str) -> None:
    assert bounds_of_ours(text) == bounds_of_theirs(text)


@pytest.mark.long
@settings(derandomize=True, max_examples=600)
@given(dates)
def test_bounds_of_many_dates_are_those_of_an_independent_library(text: str) -> None:
    assert bounds_of_ours(text) == bounds_of_theirs(text)


def change_a_letter(text: str, place: int, letter: str) -> str:
    at = place % (len(text) + 1)
    return {0: text[:at] + letter + text[at:], 1: text[:at] + letter + text[at + 1 :], 2: text[:at] + text[at + 1 :]}[
        place % 3
    ]


nearly_dates = st.builds(
    change_a_letter,
    st.sampled_from(SUPPORTED + NOT_SUPPORTED + OTHERS),
    st.integers(0, 1000),
    st.sampled_from("0123456789-X/.?~%[]{},YTZ:+ES"),
)


def is_judged_as_by_the_other(text: str) -> bool:
    """Whether both take a text for a date or neither does, or it is known why one of them does."""
    ours, theirs = bounds_of_ours(text) != "refused", bool(is_valid(text))

    known = [reason for _, reason, holds in (ONLY_WE_TAKE if ours else ONLY_THEY_TAKE) if holds(text)]

    return ours == theirs or bool(known)


@settings(derandomize=True, max_examples=150)
@given(nearly_dates)
def test_what_nearly_is_a_date_is_taken_and_refused_as_by_an_independent_validator(text: str) -> None:
    assert is_judged_as_by_the_other(text)


@pytest.mark.long
@settings(derandomize=True, max_examples=1500)
@given(nearly_dates)
def test_much_that_nearly_is_a_date_is_taken_and_refused_as_by_an_independent_validator(text: str) -> None:
    assert is_judged_as_by_the_other(text)
