"""Dates as people say them. What each means is plain English; the outcome is EDTF by the Library of Congress
specification of 4 February 2019 (`~` approximate, `?` uncertain, `%` both, `[..]` one of a set, `/` interval with `..`
for an open end, `X` unspecified digit)."""

import calendar
import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from provenance.records.dates import Day, EdtfError, parse_edtf
from provenance.records.spoken_dates import spoken_to_edtf
from provenance.records.wording import WordingError

DAYS = st.dates(dt.date(1000, 1, 1), dt.date(9998, 12, 31))


@pytest.mark.parametrize(
    ("said", "edtf"),
    [
        ("June 1934", "1934-06"),
        ("3 June 1934", "1934-06-03"),
        ("3rd of June, 1934", "1934-06-03"),
        ("the 3rd of June 1934", "1934-06-03"),
        ("June 3rd, 1934", "1934-06-03"),
        ("Sept. 1934", "1934-09"),
        ("may 1934", "1934-05"),
        ("in May 1934", "1934-05"),
        ("the year 1934", "1934"),
        ("about June 1934", "1934-06~"),
        ("c. 1934", "1934~"),
        ("c1934", "1934~"),
        ("ca. 1934", "1934~"),
        ("circa 1934", "1934~"),
        ("probably 1934", "1934?"),
        ("perhaps June 1934", "1934-06?"),
        ("June 1934?", "1934-06?"),
        ("probably about 1934", "1934%"),
        ("the 1930s", "193X"),
        ("1930's", "193X"),
        ("about the 1930s", "193X~"),
        ("1931 or 1933", "[1931,1933]"),
        ("either 1931, 1932 or 1933", "[1931,1932,1933]"),
        ("June or July 1934", "[1934-06,1934-07]"),
        ("3 May or 4 June 1934", "[1934-05-03,1934-06-04]"),
        ("between 1931 and 1933", "1931/1933"),
        ("from 1931 to 1933", "1931/1933"),
        ("1931 to 1933", "1931/1933"),
        ("1931\N{EN DASH}1933", "1931/1933"),
        ("from about 1931 to 1933", "1931~/1933"),
        ("3 to 7 June 1934", "1934-06-03/1934-06-07"),
        ("between June and August 1934", "1934-06/1934-08"),
        ("before 1934", "../1933"),
        ("before June 1934", "../1934-05"),
        ("before January 1934", "../1933-12"),
        ("before 3 June 1934", "../1934-06-02"),
        ("before 1 March 1932", "../1932-02-29"),
        ("before about 1934", "../1933~"),
        ("after 1934", "1935/.."),
        ("after December 1934", "1935-01/.."),
        ("after 31 December 1934", "1935-01-01/.."),
        ("until 1934", "../1934"),
        ("by 1934", "../1934"),
        ("not later than June 1934", "../1934-06"),
        ("since 1934", "1934/.."),
        ("from 1934", "1934/.."),
        ("not before 1934", "1934/.."),
        ("  June   1934 ", "1934-06"),
    ],
)
def test_a_date_as_people_say_it_becomes_one_in_edtf(said: str, edtf: str) -> None:
    assert spoken_to_edtf(said) == edtf


@pytest.mark.parametrize("edtf", ["1934-06-03", "1934~", "193X", "[1931,1933]", "../1933", "1934-06/..", "1934-06-03?"])
def test_a_date_in_edtf_is_left_as_typed(edtf: str) -> None:
    assert spoken_to_edtf(edtf) == edtf


@pytest.mark.parametrize(
    ("said", "mend"),
    [
        ("spring 1934", "1934-03/1934-05"),
        ("the summer of 1934", "1934-06/1934-08"),
        ("winter 1934", "1933-12/1934-02"),
        ("in the autumn", "1934-09/1934-11"),
        ("early 1930s", "between"),
        ("the 1900s", "190X"),
        ("12/6/1934", "the year first"),
        ("undated", "leave the date out"),
        ("some time ago", "3 June 1934"),
        ("about 1931 or 1932", "between 1931 and 1933"),
        ("3 Junk 1934", "3 June 1934"),
        ("before the war", "before 1934"),
        ("3 or 4", "1934"),
        ("3 to 1934", "1934"),
        ("July or 1934", "before 1934"),
        ("1934-13", "`01` to `12`"),
        ("31 June 1934", "a day that the month has"),
        ("1933 to 1931", "earlier date first"),
        ("", "leave it out"),
    ],
)
def test_what_leaves_open_which_days_are_meant_is_refused_with_what_to_write(said: str, mend: str) -> None:
    with pytest.raises(WordingError) as refused:
        spoken_to_edtf(said)

    assert mend in refused.value.mend
    assert refused.value.what


@given(DAYS, st.sampled_from(["{d} {m} {y}", "{m} {d}, {y}", "the {d} of {m} {y}", "{d} {a}. {y}"]))
def test_a_day_is_that_day_however_it_is_said(day: dt.date, form: str) -> None:
    month = calendar.month_name[day.month]

    said = form.format(d=day.day, m=month, a=month[:3], y=f"{day.year:04}")

    assert parse_edtf(spoken_to_edtf(said)).earliest == Day(day.year, day.month, day.day)
    assert spoken_to_edtf(said) == day.isoformat()


@given(DAYS)
def test_before_a_day_ends_on_the_day_before_and_after_it_begins_on_the_next(day: dt.date) -> None:
    said = f"{day.day} {calendar.month_name[day.month]} {day.year:04}"

    before, after = parse_edtf(spoken_to_edtf(f"before {said}")), parse_edtf(spoken_to_edtf(f"after {said}"))

    eve, morrow = day - dt.timedelta(days=1), day + dt.timedelta(days=1)
    assert before.latest == Day(eve.year, eve.month, eve.day)
    assert after.earliest == Day(morrow.year, morrow.month, morrow.day)
    assert before.earliest is None
    assert after.latest is None


@given(DAYS, DAYS)
def test_between_two_months_runs_from_the_first_day_of_the_one_to_the_last_of_the_other(a: dt.date, b: dt.date) -> None:
    first, last = sorted((a, b))

    said = " and ".join(f"{calendar.month_name[day.month]} {day.year:04}" for day in (first, last))
    span = parse_edtf(spoken_to_edtf(f"between {said}"))

    assert span.earliest == Day(first.year, first.month, 1)
    assert span.latest == Day(last.year, last.month, calendar.monthrange(last.year, last.month)[1])


@given(st.text(max_size=30))
def test_any_text_is_a_date_or_refused_with_a_mend(text: str) -> None:
    refusal = None
    try:
        parse_edtf(spoken_to_edtf(text))
    except WordingError as error:
        refusal = error

    assert refusal is None or (refusal.what and refusal.mend)


def test_a_fault_in_edtf_is_told_as_such() -> None:
    with pytest.raises(EdtfError):
        spoken_to_edtf("1934-2-30")
