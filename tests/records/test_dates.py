"""How two dates compare: the tables beside the rules, and a search through every day of ten years."""

import datetime as dt
import itertools
import re
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from provenance.records.dates import (
    EdtfDate,
    certainly_after,
    certainly_before,
    certainly_more_than_years,
    certainly_more_than_years_apart,
    certainly_within,
    overlaps,
    parse_edtf,
)

Comparison = Callable[[EdtfDate, EdtfDate], bool]
YearComparison = Callable[[EdtfDate, EdtfDate, int], bool]

TEN_YEARS = tuple(dt.date(1930, 1, 1) + dt.timedelta(days=n) for n in range(3652))


def rows(rule: Comparison | YearComparison) -> list[list[str]]:
    """Read the table in the rule's own description: between its second and its third line of equals signs."""
    table = re.split(r"\n *=+[ =]+\n", rule.__doc__ or "")[2]
    return [line.split(",  ")[0].split() for line in table.splitlines()]


def two_sided(*rules: Comparison) -> list[tuple[Comparison, str, str, bool]]:
    return [(rule, a, b, verdict.rstrip(",") == "True") for rule in rules for a, b, verdict, *_ in rows(rule)]


def with_years(*rules: YearComparison) -> list[tuple[YearComparison, str, str, int, bool]]:
    return [
        (rule, a, b, int(years), verdict.rstrip(",") == "True")
        for rule in rules
        for a, b, years, verdict, *_ in rows(rule)
    ]


@pytest.mark.parametrize(
    ("rule", "a", "b", "verdict"), two_sided(certainly_before, certainly_after, overlaps, certainly_within)
)
def test_two_dates_compare_as_the_table_beside_the_rule_says(
    *, rule: Comparison, a: str, b: str, verdict: bool
) -> None:
    assert rule(parse_edtf(a), parse_edtf(b)) is verdict


@pytest.mark.parametrize(
    ("rule", "a", "b", "years", "verdict"), with_years(certainly_more_than_years, certainly_more_than_years_apart)
)
def test_two_dates_lie_years_apart_as_the_table_beside_the_rule_says(
    *, rule: YearComparison, a: str, b: str, years: int, verdict: bool
) -> None:
    assert rule(parse_edtf(a), parse_edtf(b), years) is verdict


def test_the_tables_are_long_enough_to_mean_something() -> None:
    lengths = [len(rows(rule)) for rule in (certainly_before, certainly_after, overlaps, certainly_within)]

    assert lengths == [7, 4, 7, 7]
    assert len(rows(certainly_more_than_years)) == 7
    assert len(rows(certainly_more_than_years_apart)) == 5


@pytest.mark.parametrize(
    ("a", "b", "possible"),
    [
        ("156X-12-25", "../1560-12-25", True),
        ("156X-12-25", "../1560-12-24", False),
        ("156X-12-25", "1569-12-25/..", True),
        ("156X-12-25", "1569-12-26/", False),
        ("156X-12-25", "15X5-12-XX", True),
        ("156X-12-25", "15X5-11-XX", False),
        ("19X4-0X-29", "19X4-X2-XX", True),  # 29 February 1904, say
        ("19X3-0X-29", "19X3-X2-XX", False),  # February alone is in both, and no year that ends in 3 has a 29th
        ("-156X-12-25", "156X-12-25", False),
    ],
)
def test_digits_left_open_overlap_only_where_a_real_day_fits_both(*, a: str, b: str, possible: bool) -> None:
    one, other = (parse_edtf(text) for text in (a, b))

    assert overlaps(one, other) is possible
    assert overlaps(other, one) is possible


# --- any date of the thirties, against a search through its days -------------------------------------------------


def pattern(text: str) -> st.SearchStrategy[str]:
    return st.tuples(*(st.sampled_from((letter, letter, "X")) for letter in text)).map("".join)


exact_days = st.sampled_from(TEN_YEARS).map(dt.date.isoformat)
plain = exact_days.flatmap(lambda day: st.sampled_from((day, day[:7], day[:4])))
vague = exact_days.flatmap(
    lambda day: st.tuples(pattern(day[3]), pattern(day[5:7]), pattern(day[8:])).map(
        lambda parts: f"193{parts[0]}-{parts[1]}-{parts[2]}"
    )
)
single = plain | vague
interval = (
    st.tuples(plain, plain).map(lambda ends: "/".join(sorted(ends))).filter(lambda text: first_of(text) is not None)
)
one_of = st.lists(single, min_size=2, max_size=4).map(lambda members: "[" + ",".join(members) + "]")
dates = single | interval | one_of


def first_of(text: str) -> dt.date | None:
    return min(search(text), default=None)


def search(text: str) -> frozenset[dt.date]:
    """Find the days of a date without the grammar: by comparing letters, over every day of the thirties."""
    if text.startswith("["):
        return frozenset(itertools.chain.from_iterable(search(member) for member in text[1:-1].split(",")))
    if "/" in text:
        start, end = (search(part) for part in text.split("/"))
        return frozenset(day for day in TEN_YEARS if min(start) <= day <= max(end))
    shape = re.compile((text + "XXXX-XX-XX"[len(text) :]).replace("X", "."))
    return frozenset(day for day in TEN_YEARS if shape.fullmatch(day.isoformat()))


@given(dates)
def test_the_bounds_are_the_first_and_the_last_of_the_days_that_a_search_finds(text: str) -> None:
    found = search(text)

    date = parse_edtf(text)

    assert date.earliest is not None
    assert date.latest is not None
    assert date.earliest <= date.latest
    assert (dt.date(*date.earliest), dt.date(*date.latest)) == (min(found), max(found))
    assert parse_edtf(str(date)) == date


@given(dates, dates)
def test_certainly_before_means_every_day_before_every_other(a: str, b: str) -> None:
    days_of_a, days_of_b = search(a), search(b)

    before = certainly_before(parse_edtf(a), parse_edtf(b))

    assert before is (max(days_of_a) < min(days_of_b))
    assert before is certainly_after(parse_edtf(b), parse_edtf(a))


@given(dates, dates)
def test_two_dates_overlap_where_a_search_finds_a_day_in_both(a: str, b: str) -> None:
    shared = search(a) & search(b)

    possibly = overlaps(parse_edtf(a), parse_edtf(b))

    assert possibly is bool(shared)


@given(dates, dates)
def test_certainly_within_is_never_said_of_a_day_outside(a: str, b: str) -> None:
    inner, outer = search(a), search(b)

    within = certainly_within(parse_edtf(a), parse_edtf(b))

    assert not within or inner <= outer


@given(dates, plain | interval)
def test_certainly_within_a_time_without_gaps_means_every_day_in_it(a: str, b: str) -> None:
    inner, outer = search(a), search(b)

    within = certainly_within(parse_edtf(a), parse_edtf(b))

    assert within is (inner <= outer)


@given(dates)
def test_every_date_lies_within_itself_and_overlaps_itself(text: str) -> None:
    date = parse_edtf(text)

    assert certainly_within(date, date)
    assert overlaps(date, date)
    assert not certainly_before(date, date)


@given(exact_days, exact_days, st.integers(0, 12))
def test_more_than_years_apart_is_the_same_whichever_date_comes_first(a: str, b: str, years: int) -> None:
    one, other = parse_edtf(a), parse_edtf(b)

    apart = certainly_more_than_years_apart(one, other, years)

    assert apart is certainly_more_than_years_apart(other, one, years)
    assert not (certainly_more_than_years(one, other, years) and certainly_more_than_years(other, one, years))


@given(plain, st.sampled_from(("{}/..", "{}/", "../{}", "/{}")), plain)
def test_a_missing_end_never_makes_anything_certain(known: str, shape: str, other: str) -> None:
    unbounded, bounded = parse_edtf(shape.format(known)), parse_edtf(other)
    ends_unbounded = shape.startswith("{")

    ends_before = certainly_before(unbounded, bounded)
    begins_after = certainly_after(unbounded, bounded)

    assert not (ends_before if ends_unbounded else begins_after)
    assert not certainly_within(unbounded, bounded)
    assert not certainly_within(bounded, unbounded)
    assert overlaps(unbounded, bounded) is not (ends_before or begins_after)
