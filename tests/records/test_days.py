"""The calendar is held against the standard library's, and patterns against a search through twenty years of days."""

import datetime as dt
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from provenance.records.days import Day, DayPattern, days_in_month, is_leap_year

# datetime.date is proleptic Gregorian too (Python documentation, `datetime`: "assuming the current Gregorian calendar
# always was, and always will be, in effect"), for the years 1 to 9999.
CALENDAR_DAYS = st.dates()
TWENTY_YEARS = tuple(dt.date(1920, 1, 1) + dt.timedelta(days=n) for n in range(7305))


def day_of(date: dt.date) -> Day:
    return Day(date.year, date.month, date.day)


def digits(text: str) -> st.SearchStrategy[str]:
    return st.tuples(*(st.sampled_from((digit, "X")) for digit in text)).map("".join)


@given(CALENDAR_DAYS)
def test_days_are_counted_as_the_standard_library_counts_them(date: dt.date) -> None:
    day = day_of(date)

    ordinal = day.ordinal

    assert ordinal == date.toordinal()


@given(st.integers(-(10**12), 10**12))
def test_four_hundred_years_have_the_same_number_of_days_in_any_age(year: int) -> None:
    start, end = Day(year, 1, 1), Day(year + 400, 1, 1)

    days = end.ordinal - start.ordinal

    assert days == 146097  # 400 x 365 + 97 leap days


@given(st.integers(-5000, 5000), st.integers(1, 12))
def test_the_day_after_the_last_of_a_month_is_the_first_of_the_next(year: int, month: int) -> None:
    last = Day(year, month, days_in_month(year, month))
    following = Day(year + 1, 1, 1) if month == 12 else Day(year, month + 1, 1)

    gap = following.ordinal - last.ordinal

    assert gap == 1


@pytest.mark.parametrize(
    ("year", "leap"),
    [(1900, False), (2000, True), (1932, True), (1934, False), (0, True), (-4, True), (-100, False), (-400, True)],
)
def test_a_leap_year_is_every_fourth_but_three_of_four_centuries(*, year: int, leap: bool) -> None:
    assert is_leap_year(year) is leap


@given(CALENDAR_DAYS.filter(lambda date: (date.month, date.day) != (2, 29)), st.integers(0, 50))
def test_the_same_day_years_later_is_the_same_day_of_the_calendar(date: dt.date, years: int) -> None:
    day = day_of(date)

    later = day.plus_years(years)

    assert later == (date.year + years, date.month, date.day)


def test_the_anniversary_of_29_february_is_1_march_where_the_year_has_none() -> None:
    leap_day = Day(1928, 2, 29)

    assert leap_day.plus_years(1) == Day(1929, 3, 1)
    assert leap_day.plus_years(4) == Day(1932, 2, 29)
    assert Day(1928, 2, 28).plus_years(1) == Day(1929, 2, 28)


@pytest.mark.parametrize(
    ("day", "text"),
    [(Day(1934, 6, 2), "1934-06-02"), (Day(-5, 1, 1), "-0005-01-01"), (Day(170000002, 12, 31), "170000002-12-31")],
)
def test_a_day_is_written_year_first(day: Day, text: str) -> None:
    assert str(day) == text


@given(digits("27"), digits("12"), digits("29"), st.sampled_from(TWENTY_YEARS))
def test_a_pattern_fits_the_days_that_a_search_through_twenty_years_finds(
    decade: str, month: str, day: str, start: dt.date
) -> None:
    pattern = DayPattern("", "19" + decade, month, day)
    shape = re.compile(f"19{decade}-{month}-{day}".replace("X", "."))
    found = [date for date in TWENTY_YEARS if shape.fullmatch(date.isoformat())]

    fitting = [date for date in TWENTY_YEARS if pattern.fits(day_of(date))]
    following = pattern.first_from(day_of(start))

    assert fitting == found
    within = following if following is not None and following < Day(1940, 1, 1) else None
    assert within == next((day_of(date) for date in found if date >= start), None)


@given(st.tuples(digits("27"), digits("12"), digits("29")), st.tuples(digits("37"), digits("10"), digits("19")))
def test_the_days_of_two_patterns_together_are_those_that_fit_both(
    parts: tuple[str, str, str], other_parts: tuple[str, str, str]
) -> None:
    one, other = (DayPattern("", f"19{decade}", month, day) for decade, month, day in (parts, other_parts))
    in_both = [date for date in TWENTY_YEARS if one.fits(day_of(date)) and other.fits(day_of(date))]

    both = one.meet(other)

    assert [date for date in TWENTY_YEARS if both is not None and both.fits(day_of(date))] == in_both


def test_a_year_before_christ_has_no_day_in_common_with_one_after() -> None:
    assert DayPattern("-", "198X").meet(DayPattern("", "198X")) is None


@pytest.mark.parametrize(
    ("pattern", "first", "last"),
    [
        (DayPattern("", "156X", "12", "25"), Day(1560, 12, 25), Day(1569, 12, 25)),
        (DayPattern("", "190X", "02", "29"), Day(1904, 2, 29), Day(1908, 2, 29)),
        (DayPattern("", "XXXX", "02", "29"), Day(0, 2, 29), Day(9996, 2, 29)),
        (DayPattern("-", "198X"), Day(-1989, 1, 1), Day(-1980, 12, 31)),
        (DayPattern("-", "000X"), Day(-9, 1, 1), Day(-1, 12, 31)),
        (DayPattern("", "2004", "X4", "3X"), Day(2004, 4, 30), Day(2004, 4, 30)),
    ],
)
def test_the_first_and_last_day_of_a_pattern_are_real_days(pattern: DayPattern, first: Day, last: Day) -> None:
    assert (pattern.first(), pattern.last()) == (first, last)


def test_a_pattern_that_no_day_fits_has_no_first_and_no_last() -> None:
    only_odd_years = DayPattern("", "19X1", "02", "29")

    assert only_odd_years.first() is None
    assert only_odd_years.last() is None
    assert only_odd_years.first_from(Day(1950, 1, 1)) is None


def test_a_pattern_is_searched_from_its_own_first_year_however_early_the_search_begins() -> None:
    christmas = DayPattern("", "156X", "12", "25")

    assert christmas.first_from(Day(-(10**11), 1, 1)) == Day(1560, 12, 25)


def test_a_year_below_zero_and_the_same_above_are_told_apart() -> None:
    before_christ = DayPattern("-", "198X")

    assert before_christ.fits(Day(-1985, 6, 1))
    assert not before_christ.fits(Day(1985, 6, 1))


@pytest.mark.parametrize(
    ("pattern", "has_gaps"),
    [
        (DayPattern("", "156X"), False),
        (DayPattern("", "1984", "1X"), False),
        (DayPattern("", "2016", "02", "2X"), False),
        (DayPattern("", "156X", "12", "25"), True),
        (DayPattern("", "1984", "X5"), True),
        (DayPattern("", "XXXX", "12"), True),
        (DayPattern("", "X934"), True),
        (DayPattern("", "1984", "XX", "12"), True),
    ],
)
def test_digits_left_open_only_at_the_end_leave_no_gaps(*, pattern: DayPattern, has_gaps: bool) -> None:
    assert pattern.has_gaps is has_gaps
