"""Dates: what was typed, the days it may be, and how two of them compare.

Comparison goes by the earliest and the latest day that each date may be. "Certainly" needs known days on both sides: an
end that is open or unknown never makes anything certain. "Possibly" (`overlaps`) is shut out only by what is known.
"""

from provenance.records.days import Day, DayPattern
from provenance.records.edtf_grammar import parse_edtf
from provenance.records.edtf_values import Bound, EdtfDate, EdtfError, Kind, Span

__all__ = [
    "Bound",
    "Day",
    "EdtfDate",
    "EdtfError",
    "Kind",
    "Span",
    "certainly_after",
    "certainly_before",
    "certainly_more_than_years",
    "certainly_more_than_years_apart",
    "certainly_within",
    "overlaps",
    "parse_edtf",
]


def certainly_before(a: EdtfDate, b: EdtfDate) -> bool:
    """Say whether the whole of one date lies before the whole of the other.

    ========== ============= =====
    a          b
    ========== ============= =====
    1933       1934          True
    1933-06    1933          False, it may be later than b
    1934       1934          False
    194X       1949-12-31    False, it may be that very day
    1933/..    1950          False, no end is known
    ../1933    1950/..       True
    1942       [1941,1943]   False, b may be 1941
    ========== ============= =====
    """
    return a.latest is not None and b.earliest is not None and a.latest < b.earliest


def certainly_after(a: EdtfDate, b: EdtfDate) -> bool:
    """Say whether the whole of one date lies after the whole of the other: `certainly_before` with the sides changed.

    ========== ============= =====
    a          b
    ========== ============= =====
    1934       1933          True
    1933       1933-06       False, it may be earlier than b
    1950       1933/         False, nobody knows the end of b
    1950       ../1933       True
    ========== ============= =====
    """
    return certainly_before(b, a)


def overlaps(a: EdtfDate, b: EdtfDate) -> bool:
    """Say whether some day may belong to both dates.

    Members of a set and unspecified digits are taken one by one, not as the span from the first to the last.

    ========== ============= =====
    a          b
    ========== ============= =====
    1933       1933-06       True
    1933       1934          False
    1942       [1941,1943]   False, 1942 is no member
    1565-07    156X-12-25    False, no day of July is a 25 December
    1985/      2020          True, nobody knows the end of a
    1985/..    1984          False
    ../1900    /1800         True, both reach back without a known beginning
    ========== ============= =====
    """
    return any(_share_a_day(one, other) for one in a.members for other in b.members)


def certainly_within(a: EdtfDate, b: EdtfDate) -> bool:
    """Say whether every day that one date may be lies in the other, which is taken as a period.

    Of a set each member of `a` must lie in a single member of `b`; in a `b` with unspecified digits that leave gaps,
    only the same pattern or a single day that it may be is taken as certain.

    ============= ================= =====
    a             b
    ============= ================= =====
    1933-06       1933              True
    1933          1933              True
    1933          1933-06           False
    [1931,1933]   1931/1933         True
    1942          [1941,1943]       False, 1942 is no member
    1565-12-25    156X-12-25        True
    1990          1985/..           False, no end is known
    ============= ================= =====
    """
    return all(any(_takes_in(outer, inner) for outer in b.members) for inner in a.members)


def certainly_more_than_years(earlier: EdtfDate, later: EdtfDate, years: int) -> bool:
    """Say whether one date lies more than so many calendar years after the other.

    The latest day of the earlier date, that many calendar years on, is before the first day of the later one.

    ============ ============ ===== =====
    earlier      later        years
    ============ ============ ===== =====
    1929-06-01   1934-06-01   5     False, five years to the day
    1929-06-01   1934-06-02   5     True
    1929         1934         5     False
    1929         1935         5     True, from 31 December 1929 to 1 January 1935
    1928-02-29   1929-03-01   1     False, the anniversary of 29 February is 1 March
    1929/..      1950         5     False, no end is known
    1950         1929         5     False, the wrong way round
    ============ ============ ===== =====
    """
    return (
        earlier.latest is not None and later.earliest is not None and earlier.latest.plus_years(years) < later.earliest
    )


def certainly_more_than_years_apart(a: EdtfDate, b: EdtfDate, years: int) -> bool:
    """Say whether two dates, whichever is the earlier, lie more than so many calendar years apart.

    ========== ========== ===== =====
    a          b          years
    ========== ========== ===== =====
    1929       1935       5     True
    1935       1929       5     True
    1930       1935       5     False
    1935       ../1929    5     True
    1929/..    1935       5     False
    ========== ========== ===== =====
    """
    return certainly_more_than_years(a, b, years) or certainly_more_than_years(b, a, years)


def _share_a_day(one: Span, other: Span) -> bool:
    if (one.latest is not None and other.earliest is not None and one.latest < other.earliest) or (
        other.latest is not None and one.earliest is not None and other.latest < one.earliest
    ):
        return False
    if one.pattern is None:
        return other.pattern is None or _has_a_day_in(other.pattern, one)
    if other.pattern is None:
        return _has_a_day_in(one.pattern, other)
    both = one.pattern.meet(other.pattern)
    return both is not None and both.first() is not None


def _has_a_day_in(pattern: DayPattern, span: Span) -> bool:
    day = pattern.first() if span.earliest is None else pattern.first_from(span.earliest)
    return day is not None and span.may_be(day)


def _takes_in(outer: Span, inner: Span) -> bool:
    if outer.earliest is None or outer.latest is None or inner.earliest is None or inner.latest is None:
        return False
    if outer.pattern is None or outer.pattern == inner.pattern:
        return outer.earliest <= inner.earliest and inner.latest <= outer.latest
    return inner.earliest == inner.latest and outer.may_be(inner.earliest)
