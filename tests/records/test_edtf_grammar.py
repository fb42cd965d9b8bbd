"""Reading dates: the example strings of the published specification, and what is refused."""

import pytest

from provenance.records.dates import Bound, Day, EdtfDate, EdtfError, Kind, parse_edtf

# Library of Congress, "Extended Date/Time Format (EDTF) Specification", 4 February 2019 (ISO 8601-2:2019): its example
# strings for what is supported, as the test suites of independent implementations carry them. Bounds by hand; the
# strict ones, without regard to ?, ~ and %.
SPECIFICATION = {
    # level 0
    "1985-04-12": ("1985-04-12", "1985-04-12"),
    "1985-04": ("1985-04-01", "1985-04-30"),
    "1985": ("1985-01-01", "1985-12-31"),
    "1985-04-12T23:20:30": ("1985-04-12", "1985-04-12"),
    "1985-04-12T23:20:30Z": ("1985-04-12", "1985-04-12"),
    "1985-04-12T23:20:30-04": ("1985-04-12", "1985-04-12"),
    "1985-04-12T23:20:30+04:30": ("1985-04-12", "1985-04-12"),
    "1964/2008": ("1964-01-01", "2008-12-31"),
    "2004-06/2006-08": ("2004-06-01", "2006-08-31"),
    "2004-02-01/2005-02-08": ("2004-02-01", "2005-02-08"),
    "2004-02-01/2005-02": ("2004-02-01", "2005-02-28"),
    "2004-02-01/2005": ("2004-02-01", "2005-12-31"),
    "2005/2006-02": ("2005-01-01", "2006-02-28"),
    # level 1, without seasons
    "Y170000002": ("170000002-01-01", "170000002-12-31"),
    "Y-170000002": ("-170000002-01-01", "-170000002-12-31"),
    "1984?": ("1984-01-01", "1984-12-31"),
    "2004-06~": ("2004-06-01", "2004-06-30"),
    "2004-06-11%": ("2004-06-11", "2004-06-11"),
    "201X": ("2010-01-01", "2019-12-31"),
    "20XX": ("2000-01-01", "2099-12-31"),
    "2004-XX": ("2004-01-01", "2004-12-31"),
    "1985-04-XX": ("1985-04-01", "1985-04-30"),
    "1985-XX-XX": ("1985-01-01", "1985-12-31"),
    "1985-04-12/..": ("1985-04-12", None),
    "1985-04/..": ("1985-04-01", None),
    "1985/..": ("1985-01-01", None),
    "../1985-04-12": (None, "1985-04-12"),
    "../1985-04": (None, "1985-04-30"),
    "../1985": (None, "1985-12-31"),
    "1985-04-12/": ("1985-04-12", None),
    "1985-04/": ("1985-04-01", None),
    "1985/": ("1985-01-01", None),
    "/1985-04-12": (None, "1985-04-12"),
    "/1985-04": (None, "1985-04-30"),
    "/1985": (None, "1985-12-31"),
    "-1985": ("-1985-01-01", "-1985-12-31"),
    "1984~/2004-06": ("1984-01-01", "2004-06-30"),
    # level 2, sets
    "[1667,1668,1670..1672]": ("1667-01-01", "1672-12-31"),
    "[..1760-12-03]": (None, "1760-12-03"),
    "[1760-12..]": ("1760-12-01", None),
    "[1760-01,1760-02,1760-12..]": ("1760-01-01", None),
    "[1667,1760-12]": ("1667-01-01", "1760-12-31"),
    "[..1984]": (None, "1984-12-31"),
    "{1667,1668,1670..1672}": ("1667-01-01", "1672-12-31"),
    "{1960,1961-12}": ("1960-01-01", "1961-12-31"),
    "{..1984}": (None, "1984-12-31"),
    # level 2, unspecified digits
    "156X-12-25": ("1560-12-25", "1569-12-25"),
    "15XX-12-25": ("1500-12-25", "1599-12-25"),
    "XXXX-12-XX": ("0000-12-01", "9999-12-31"),
    "1XXX-XX": ("1000-01-01", "1999-12-31"),
    "1XXX-12": ("1000-12-01", "1999-12-31"),
    "1984-1X": ("1984-10-01", "1984-12-31"),
    "2004-06-XX/2004-07-03": ("2004-06-01", "2004-07-03"),
}
# Bounds on which two independent libraries agree, PyPI edtf 5.0.2 and npm edtf 4.11.1; 2016-02-2X by the latter alone.
AGREED = {
    "1984-06-02?/2004-08-08~": ("1984-06-02", "2004-08-08"),
    "1941~": ("1941-01-01", "1941-12-31"),
    "1941?": ("1941-01-01", "1941-12-31"),
    "1941%": ("1941-01-01", "1941-12-31"),
    "194X": ("1940-01-01", "1949-12-31"),
    "[1941,1943]": ("1941-01-01", "1943-12-31"),
    "1941-03/1942-07": ("1941-03-01", "1942-07-31"),
    "../1943": (None, "1943-12-31"),
    "2016-02-2X": ("2016-02-20", "2016-02-29"),
}
# What the specification leaves open, by its rules and by hand.
OURS = {
    "0000": ("0000-01-01", "0000-12-31"),
    "-1985-04-12": ("-1985-04-12", "-1985-04-12"),
    "-000X": ("-0009-01-01", "-0001-12-31"),
    "190X-02-29": ("1904-02-29", "1908-02-29"),
    "1984-X5": ("1984-05-01", "1984-05-31"),
    "194X~": ("1940-01-01", "1949-12-31"),
    "Y17000~/Y18000": ("17000-01-01", "18000-12-31"),
    "[..1760,1770..]": (None, None),
    "[194X~,1960]": ("1940-01-01", "1960-12-31"),
    "[1670..1670]": ("1670-01-01", "1670-12-31"),
    "2004-06-15/2004-06": ("2004-06-15", "2004-06-30"),
    "1985-04-12T24:00:00": ("1985-04-12", "1985-04-12"),
    "1985-04-12T23:20:30+00:00": ("1985-04-12", "1985-04-12"),
    "1985-04-12T23:20:30+14:00": ("1985-04-12", "1985-04-12"),
}


def written(day: Day | None) -> str | None:
    return None if day is None else str(day)


@pytest.mark.parametrize(("text", "bounds"), (SPECIFICATION | AGREED | OURS).items())
def test_a_date_is_kept_as_typed_with_the_first_and_the_last_day_it_may_be(
    text: str, bounds: tuple[str | None, str | None]
) -> None:
    date = parse_edtf(text)

    assert str(date) == text
    assert (written(date.earliest), written(date.latest)) == bounds


@pytest.mark.parametrize(
    "text",
    [
        # A published validator's own list of strings that are no EDTF; the last line was run through PyPI edtf 5.0.2.
        *("1863- 03-29", " 1863-03-29", "1863-03-29 ", "1960-06-31", "20067890%", "Y2006", "-0000", "+2006%", "NONE/"),
        *("2000/12-12", "2012/2013/1234/55BULBASAUR", "2012///4444", "2012\\2013", "2012/2010", "2012-24/2012-21"),
        *("0800/-0999", "1000/-2000", "0001/0000", "1985-04-12T23:20:30z", "1985-04-12t23:20:30"),
        *("2012-10-10T10:10:1", "1941-02-30", "1941-13", "1941-06-31", "1943/1941"),
    ],
)
def test_what_others_refuse_is_refused_here(text: str) -> None:
    with pytest.raises(EdtfError):
        parse_edtf(text)


@pytest.mark.parametrize(
    ("text", "what", "mend"),
    [
        # level 2 that is not supported: the specification's own examples
        *((season, "season", "1934-03/1934-05") for season in ("2001-21", "2001-34")),
        *((text, "exponent", "in full") for text in ("Y-17E7", "Y3388E2S3")),
        *((text, "significant digits", "19XX") for text in ("1950S2", "Y171010000S3")),
        *(
            (text, "qualifies a part", "2004-06-11~")
            for text in ("2004-06~-11", "2004?-06-11", "?2004-06-~11", "2004-%06-11", "2004-06-~01/2004-06-~20")
        ),
        # dates that cannot be
        ("1941-02-30", "month 02 of that year has 28 days", "a day that the month has"),
        ("1900-02-29", "month 02 of that year has 28 days", "a day that the month has"),
        ("1941-06-00", "month 06 of that year has 30 days", "a day that the month has"),
        ("1941-13", "month that does not exist", "`01` to `12`"),
        ("1941-00-05", "month that does not exist", "`01` to `12`"),
        ("-0000", "no year -0000", "`0000`"),
        ("1943/1941", "`1943/1941` runs backwards", "earlier date first"),
        ("157X/156X", "runs backwards", "earlier date first"),
        ("19X1-02-29", "no date fits `19X1-02-29`", "real date"),
        ("1984-2X", "no date fits", "real date"),
        ("XXXX-02-30", "no date fits", "real date"),
        # intervals
        ("../..", "names no date at all", "leave the date out"),
        ("/", "names no date at all", "leave the date out"),
        ("12/06/1934", "more than one `/`", "`1934-06-12`"),
        ("1934/open", "no longer the word for an open end", "`1934/..`"),
        ("unknown/1934", "no longer the word for an unknown end", "nothing"),
        ("1934-06-11T10:00:00/1935", "a time of day where none belongs", "the day alone"),
        # times of day
        ("1985-04-12T25:00:00", "no proper time of day", "T23:20:30"),
        ("1985-04-12T23:20", "no proper time of day", "T23:20:30"),
        ("1985-04-12T23:20:30-00:00", "no proper time of day", "T23:20:30"),
        ("1985-04-12T23:20:30-00", "no proper time of day", "T23:20:30"),
        ("1985-04-12T23:20:30+14:30", "no proper time of day", "T23:20:30"),
        ("1985-04T23:20:30", "a time of day where none belongs", "the day alone"),
        ("1985-04-1XT23:20:30", "no date in EDTF", "`1934-06`"),
        # sets
        ("[1941", "without its closing bracket", "[1931,1933]"),
        ("[", "without its closing bracket", "[1931,1933]"),
        ("[1941,1943}", "without its closing bracket", "[1931,1933]"),
        ("[1941,1943]?", "without its closing bracket", "behind its date"),
        ("[1941,1943]/1950", "without its closing bracket", "[1931,1933]"),
        ("1950/[1941,1943]", "brackets where none belong", "by itself"),
        ("[1941]", "a set of one date", "without brackets"),
        ("[]", "no date where one is due", "leave it out"),
        ("{1941,}", "no date where one is due", "leave it out"),
        ("[1941, 1943]", "white space", "[1931,1933]"),
        ("[..]", "`..` stands beside no date", "[1760,1763..]"),
        ("[1941..,1943]", "an open range stands between", "[1760,1763..]"),
        ("[1941,..1943]", "an open range stands between", "[1760,1763..]"),
        ("[1941..1942-03]", "not equally precise", "1670..1672"),
        ("[1672..1670]", "`1672..1670` runs backwards", "1670..1672"),
        ("[194X..]", "`194X` beside `..` is not a plain date", "1670..1672"),
        ("[1941~..1943]", "`1941~` beside `..` is not a plain date", "1670..1672"),
        # how people write
        ("", "no date where one is due", "1934-06"),
        ("1934 ", "white space", "1934-06-12"),
        ("1934\n", "`1934\\n` has white space", "1934-06-12"),
        ("about June 1934", "no date in EDTF", "about `1934~`"),
        ("1934?~", "more than one qualifier", "`%` for both"),
        ("193x", "small letter", "`X`"),
        ("193u-uu", "small letter", "`X`"),
        ("1930s", "not how EDTF writes ten years", "`193X`"),
        ("1931-1933", "hyphen between two years", "`1931/1933`"),
        ("12.6.1934", "does not begin with the year", "1934-06-12"),
        ("1934-6", "of one digit", "`1934-06-02`"),
        ("19340612", "no hyphens", "1934-06-12"),
        ("934", "fewer than four digits", "0934"),
        ("Y1934", "a `Y` before a year that needs none", "four digits"),
        ("17000", "more than four digits", "`Y17000`"),
        ("Y1234567890123", "more than 12 digits", "at most 12"),
        ("Y" + "9" * 990, "more than 12 digits", "at most 12"),
        ("[" + "1941," * 200 + "1943]", "1006 characters is too long", "at most 1000"),
        ("\u0661\u0669\u0663\u0664", "no date in EDTF", "1934"),  # digits, but not the ASCII ones
    ],
)
def test_a_refused_date_is_told_what_is_wrong_and_what_to_write(text: str, what: str, mend: str) -> None:
    with pytest.raises(EdtfError) as refused:
        parse_edtf(text)

    assert what in str(refused.value)
    assert mend in refused.value.mend
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize(
    ("text", "start", "end"),
    [
        ("1985", Bound.KNOWN, Bound.KNOWN),
        ("1985/..", Bound.KNOWN, Bound.OPEN),
        ("1985/", Bound.KNOWN, Bound.UNKNOWN),
        ("../1985", Bound.OPEN, Bound.KNOWN),
        ("/1985", Bound.UNKNOWN, Bound.KNOWN),
        ("[..1984]", Bound.OPEN, Bound.KNOWN),
        ("{1760-12..}", Bound.KNOWN, Bound.OPEN),
        ("[..1760,1770..]", Bound.OPEN, Bound.OPEN),
    ],
)
def test_an_open_end_is_told_from_an_unknown_one(text: str, start: Bound, end: Bound) -> None:
    date = parse_edtf(text)

    assert (date.start, date.end) == (start, end)


@pytest.mark.parametrize(
    ("text", "uncertain", "approximate"),
    [
        ("1984", False, False),
        ("1984?", True, False),
        ("2004-06~", False, True),
        ("2004-06-11%", True, True),
        ("1984~/2004-06", False, True),
        ("1984/2004?", True, False),
        ("1984~/2004?", True, True),
        ("../2004%", True, True),
        ("[1667?,1668]", True, False),
        ("{1667,1668~}", False, True),
        ("{1667,1668%}", True, True),
        ("[1667,1668]", False, False),
    ],
)
def test_a_date_says_whether_any_of_it_is_uncertain_or_about(*, text: str, uncertain: bool, approximate: bool) -> None:
    date = parse_edtf(text)

    assert (date.uncertain, date.approximate) == (uncertain, approximate)


@pytest.mark.parametrize(
    ("text", "kind"),
    [("1934", Kind.DATE), ("1934/1935", Kind.INTERVAL), ("[1934,1935]", Kind.ONE_OF), ("{1934,1935}", Kind.ALL_OF)],
)
def test_a_date_says_what_kind_it_is(text: str, kind: Kind) -> None:
    assert parse_edtf(text).kind is kind


def days(date: EdtfDate, *candidates: Day) -> list[bool]:
    return [date.may_be(day) for day in candidates]


def test_the_members_of_a_set_are_kept_not_only_the_years_between_which_they_lie() -> None:
    one_of_two = parse_edtf("[1941,1943]")

    may_be = days(one_of_two, Day(1941, 6, 1), Day(1942, 6, 1), Day(1943, 6, 1))

    assert may_be == [True, False, True]
    assert len(one_of_two.members) == 2


def test_an_open_set_reaches_as_far_back_as_one_likes_but_not_over_the_gap() -> None:
    date = parse_edtf("[..1760,1770..1772,1780..]")

    may_be = days(date, Day(-9000, 1, 1), Day(1765, 1, 1), Day(1771, 1, 1), Day(1775, 1, 1), Day(20000, 1, 1))

    assert may_be == [True, False, True, False, True]


def test_digits_left_open_in_the_middle_leave_the_days_between_out() -> None:
    christmas = parse_edtf("156X-12-25")

    assert days(christmas, Day(1565, 12, 25), Day(1565, 12, 24), Day(1570, 12, 25)) == [True, False, False]


def test_a_time_of_day_counts_for_its_day_as_typed_whatever_the_zone() -> None:
    late_in_the_west = parse_edtf("1985-04-12T23:20:30-04")

    assert late_in_the_west.earliest == late_in_the_west.latest == Day(1985, 4, 12)


def test_an_unknown_end_is_never_made_up() -> None:
    date = parse_edtf("1985/")

    assert date.latest is None
    assert date.may_be(Day(5000, 1, 1))
