"""Days of the proleptic Gregorian calendar, and dates of which some digits are not known.

The calendar is that of ISO 8601-1:2019: Gregorian backwards and forwards without end, with a year 0 (which is 1 BC).
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from typing import NamedTuple

_DAYS_IN_MONTH = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


def is_leap_year(year: int) -> bool:
    """Say whether a year has a 29 February, for years before 1 too."""
    return year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)


def days_in_month(year: int, month: int) -> int:
    """Count the days of a month; months count from 1."""
    return 29 if month == 2 and is_leap_year(year) else _DAYS_IN_MONTH[month - 1]


class Day(NamedTuple):
    """One day; days compare in the order of time.

    Attributes:
        year: any whole number; 0 is 1 BC, -1 is 2 BC.
        month: counted from 1.
        day: counted from 1.
    """

    year: int
    month: int
    day: int

    def __str__(self) -> str:
        """Write the day as year, month and day, the year with at least four digits."""
        sign = "-" if self.year < 0 else ""
        return f"{sign}{abs(self.year):04}-{self.month:02}-{self.day:02}"

    @property
    def ordinal(self) -> int:
        """The number of the day, 1 January of the year 1 being day 1: the difference of two is the days between them.

        The same count as `datetime.date.toordinal`, without its limit to the years 1 to 9999.
        """
        past = self.year - 1
        before_year = past * 365 + past // 4 - past // 100 + past // 400
        before_month = sum(days_in_month(self.year, month) for month in range(1, self.month))
        return before_year + before_month + self.day

    def plus_years(self, years: int) -> "Day":
        """Give the same day of the calendar some years later.

        The 29 February goes to 1 March where the year has none: the later of the two possible days, so that "certainly
        more than n years" is never said a day too early.
        """
        year = self.year + years
        if (self.month, self.day) == (2, 29) and not is_leap_year(year):
            return Day(year, 3, 1)
        return Day(year, self.month, self.day)


@dataclass(frozen=True, slots=True)
class DayPattern:
    """A date of which some digits are not known, `X` standing for each (EDTF 2019, unspecified digit).

    Attributes:
        sign: `-` for a year below 0, else empty.
        year: four characters, digits or `X`.
        month: two characters; `XX` also where no month is written.
        day: two characters; `XX` also where no day is written.
    """

    sign: str
    year: str
    month: str = "XX"
    day: str = "XX"

    @property
    def letters(self) -> str:
        """Year, month and day as eight characters, digits or `X`."""
        return self.year + self.month + self.day

    @property
    def has_gaps(self) -> bool:
        """Whether some day between the first and the last is none of those it may be, as in `156X-12-25`."""
        return "X" in self.letters.rstrip("X")

    def fits(self, day: Day) -> bool:
        """Say whether the date may be that day."""
        return self._fits_year(day.year) and _fits(self.month, day.month) and _fits(self.day, day.day)

    def first_from(self, start: Day) -> Day | None:
        """Find the first day, not before `start`, that the date may be; None where there is none."""
        years = self._years()
        later = range(max(start.year, years.start), years.stop)
        return next((day for day in self._walk(later) if day >= start), None)

    def first(self) -> Day | None:
        """Find the first day that the date may be; None where no real day fits, as for `19X1-02-29`."""
        return next(self._walk(self._years()), None)

    def last(self) -> Day | None:
        """Find the last day that the date may be; None where no real day fits."""
        return next(self._walk(self._years()[::-1], backwards=True), None)

    def meet(self, other: "DayPattern") -> "DayPattern | None":
        """Give the pattern of the days that fit both; None where a known digit differs."""
        pairs = list(zip(self.letters, other.letters, strict=True))
        if self.sign != other.sign or any(one != two and "X" not in (one, two) for one, two in pairs):
            return None
        merged = "".join(two if one == "X" else one for one, two in pairs)
        return DayPattern(self.sign, merged[:4], merged[4:6], merged[6:])

    def _years(self) -> range:
        least, most = int(self.year.replace("X", "0")), int(self.year.replace("X", "9"))
        return range(-most, 1 - least) if self.sign else range(least, most + 1)

    def _walk(self, years: range, *, backwards: bool = False) -> Iterator[Day]:
        step = -1 if backwards else 1
        months = [month for month in range(1, 13) if _fits(self.month, month)][::step]
        days = [day for day in range(1, 32) if _fits(self.day, day)][::step]
        for year in years:
            if self._fits_year(year):
                for month, day in product(months, days):
                    if day <= days_in_month(year, month):
                        yield Day(year, month, day)

    def _fits_year(self, year: int) -> bool:
        return (year < 0) == bool(self.sign) and _fits(self.year, abs(year))


def _fits(pattern: str, number: int) -> bool:
    digits = str(number).zfill(len(pattern))
    return len(digits) == len(pattern) and all(
        wanted in ("X", digit) for wanted, digit in zip(pattern, digits, strict=True)
    )
