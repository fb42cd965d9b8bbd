"""Places in a source. The syntax of a region is that of the W3C Media Fragments URI 1.0 (25 September 2012), 4.2.2."""

import re
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from provenance.records.readings import Box
from provenance.records.regions import (
    PageRange,
    PageRangeError,
    Region,
    RegionError,
    RegionUnit,
    TimeSpan,
    TimeSpanError,
    parse_page_range,
    parse_region,
    parse_time_span,
)
from provenance.records.wording import WordingError

tenths = st.integers(1, 500).map(lambda n: Decimal(n) / 10)


@pytest.mark.parametrize(
    ("text", "region"),
    [
        # the examples of the recommendation, 4.2.2, without `xywh=` (from memory)
        ("pixel:160,120,320,240", (RegionUnit.PIXEL, "160", "120", "320", "240")),
        ("percent:25,25,50,50", (RegionUnit.PERCENT, "25", "25", "50", "50")),
        ("percent:12.5,40,30,8", (RegionUnit.PERCENT, "12.5", "40", "30", "8")),
        ("percent:0,0,100,100", (RegionUnit.PERCENT, "0", "0", "100", "100")),
        ("percent:33.34,0,66.67,100", (RegionUnit.PERCENT, "33.34", "0", "66.67", "100")),  # 100.01, by rounding
        ("percent:0,33.34,100,66.67", (RegionUnit.PERCENT, "0", "33.34", "100", "66.67")),
        ("pixel:0,0,4000.5,0.5", (RegionUnit.PIXEL, "0", "0", "4000.5", "0.5")),
    ],
)
def test_a_region_is_read_as_left_top_width_and_height(
    text: str, region: tuple[RegionUnit, str, str, str, str]
) -> None:
    unit, *sides = region

    read = parse_region(text)

    assert (read.unit, read.x, read.y, read.w, read.h) == (unit, *map(Decimal, sides))
    assert str(read) == text


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("percent:33.34,0,66.68,100", "beyond the page"),
        ("percent:0,33.34,100,66.68", "beyond the page"),
        ("percent:0,0,100.005,50", "beyond the page"),
        ("percent:0,0,50,100.005", "beyond the page"),
        ("percent:100.005,0,0.001,50", "beyond the page"),
        ("percent:0,100.005,50,0.001", "beyond the page"),
        ("percent:10,10,0,20", "no size"),
        ("pixel:10,10,20,0.0", "no size"),
        ("percent:-5,10,20,20", "no region"),
        ("xywh=percent:5,10,20,20", "no region"),
        ("5,10,20,20", "no region"),
        ("percent:5,10,20", "no region"),
        ("percent:5,10,20,20,20", "no region"),
        ("percent:5, 10,20,20", "no region"),
        ("percent:.5,10,20,20", "no region"),
        ("percent:5,10,2e1,20", "no region"),
        ("inch:5,10,20,20", "no region"),
        ("percent:5,10,20,20\n", "no region"),
        ("percent:5,10,20,NaN", "no region"),
        ("pixel:5,10,20,12345678901", "no region"),
        ("", "no region"),
    ],
)
def test_a_region_that_no_page_has_is_refused(text: str, what: str) -> None:
    with pytest.raises(RegionError, match=what) as refused:
        parse_region(text)

    assert isinstance(refused.value, WordingError)
    assert refused.value.mend


@given(st.sampled_from(RegionUnit), st.tuples(tenths, tenths, tenths, tenths))
def test_a_region_written_and_read_again_is_the_same(
    unit: RegionUnit, sides: tuple[Decimal, Decimal, Decimal, Decimal]
) -> None:
    x, y, w, h = sides
    region = Region(unit=unit, x=x, y=y, w=w, h=h)

    again = parse_region(str(region))

    assert again == region


def test_a_very_small_figure_is_written_in_full() -> None:
    region = parse_region("percent:0.0000001,0,1,1")

    assert str(region) == "percent:0.0000001,0,1,1"


def test_the_region_of_a_word_that_was_read_can_be_cited() -> None:
    word = Box(12.5, 40, 30.25, 8)

    region = parse_region(word.as_fragment())

    assert (region.x, region.y, region.w, region.h) == tuple(map(Decimal, ("12.5", "40", "30.25", "8")))


@pytest.mark.parametrize(
    ("text", "start", "end"),
    [
        ("00:12:31.000/00:12:44.000", "751", "764"),  # 12 x 60 + 31, 12 x 60 + 44
        ("00:12:31.000", "751", "751"),
        ("00:00:00/01:00:00.5", "0", "3600.5"),
        ("00:59:59.999/01:00:00.000", "3599.999", "3600"),
        ("100:00:00", "360000", "360000"),
    ],
)
def test_a_time_in_a_recording_is_read_in_seconds(text: str, start: str, end: str) -> None:
    span = parse_time_span(text)

    assert (span.start, span.end) == (Decimal(start), Decimal(end))
    assert str(span) == text


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("00:12:44.000/00:12:31.000", "does not end after it starts"),
        ("00:12:31/00:12:31.000", "does not end after it starts"),
        ("12:31", "no time in a recording"),
        ("00:60:00", "no time in a recording"),
        ("00:00:60", "no time in a recording"),
        ("0:12:31", "no time in a recording"),
        ("00:12:31/", "no time in a recording"),
        ("/00:12:31", "no time in a recording"),
        ("00:12:31/00:12:44/00:12:50", "no time in a recording"),
        ("00:12:31,000", "no time in a recording"),
        ("00:12:31 / 00:12:44", "no time in a recording"),
        ("751", "no time in a recording"),
        ("", "no time in a recording"),
    ],
)
def test_a_time_that_no_recording_has_is_refused(text: str, what: str) -> None:
    with pytest.raises(TimeSpanError, match=what) as refused:
        parse_time_span(text)

    assert isinstance(refused.value, WordingError)
    assert refused.value.mend


@given(st.integers(0, 359_999_999), st.integers(0, 9_999_999))
def test_a_time_written_and_read_again_is_the_same(start_ms: int, length_ms: int) -> None:
    span = TimeSpan(Decimal(start_ms) / 1000, Decimal(start_ms + length_ms) / 1000)

    again = parse_time_span(str(span))

    assert again == span


@pytest.mark.parametrize(
    ("text", "first", "last", "count"), [("3..7", 3, 7, 5), ("3", 3, 3, 1), ("1..400", 1, 400, 400)]
)
def test_a_run_of_pages_takes_in_both_its_ends(text: str, first: int, last: int, count: int) -> None:
    pages = parse_page_range(text)

    assert pages == PageRange(first, last)
    assert str(pages) == text
    assert len(pages) == count
    assert [page for page in range(402) if page in pages] == list(range(first, last + 1))


def test_a_run_of_one_page_is_that_page() -> None:
    assert parse_page_range("3..3") == parse_page_range("3")


@pytest.mark.parametrize(
    ("text", "what", "mend"),
    [
        ("0", "page 0", "from 1"),
        ("0..4", "page 0", "from 1"),
        ("7..3", "runs backwards", "`3..7`"),
        ("3-7", "no run of pages", "`3..7`"),
        ("xiv", "no run of pages", "`3..7`"),
        ("3..", "no run of pages", "`3..7`"),
        ("..7", "no run of pages", "`3..7`"),
        ("3..7..9", "no run of pages", "`3..7`"),
        ("-3", "no run of pages", "`3..7`"),
        ("3 ..7", "no run of pages", "`3..7`"),
        ("12345678", "no run of pages", "`3..7`"),
        ("\u0663", "no run of pages", "`3..7`"),
        ("", "no run of pages", "`3..7`"),
    ],
)
def test_a_run_of_pages_that_cannot_be_is_refused(text: str, what: str, mend: str) -> None:
    with pytest.raises(PageRangeError, match=re.escape(what)) as refused:
        parse_page_range(text)

    assert isinstance(refused.value, WordingError)
    assert mend in refused.value.mend
