"""The strip of a page around words that were found: which it is, and where on it they stand."""

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from provenance.records.regions import parse_region
from provenance.reports.strips import strip_around


def test_a_strip_shows_about_a_line_above_and_below_and_where_the_word_stands() -> None:
    strip = strip_around(["percent:40,50,10,1"])

    # 40 heights of 1 % wide, about the word's middle at 45 %; 1.6 heights above and below it
    assert strip is not None
    assert strip.region == "percent:25.00,48.40,40.00,4.20"
    ((left, top, width, height),) = strip.marks
    assert (left, width) == (Decimal("37.50"), Decimal("25.00"))
    assert abs(top - Decimal("38.10")) < Decimal("0.02")
    assert abs(height - Decimal("23.81")) < Decimal("0.02")


def test_the_strip_that_shows_most_of_the_words_is_chosen_and_the_first_of_equals() -> None:
    scattered, pair = "percent:10,5,5,1", ["percent:40,50,5,1", "percent:50,51,5,1"]

    most, first = strip_around([scattered, *pair]), strip_around([scattered, "percent:60,90,5,1"])

    assert most is not None
    assert len(most.marks) == 2
    assert first == strip_around([scattered])


def test_of_a_part_of_a_page_nothing_beside_it_is_shown() -> None:
    within = parse_region("percent:38,49,20,10")

    strip = strip_around(["percent:40,50,10,1", "percent:70,50,10,1"], within)

    assert strip is not None
    assert strip.region == "percent:38,49,20,3.60"
    assert len(strip.marks) == 1


def test_where_no_word_has_a_place_there_is_no_strip() -> None:
    assert strip_around([]) is None
    assert strip_around(["percent:40,50,10,1"], parse_region("percent:0,0,10,10")) is None
    assert strip_around(["percent:40,50,10,1"], parse_region("pixel:0,0,10,10")) is None


_SIDE = st.decimals(0, 100, places=2, allow_nan=False)


@given(st.lists(st.tuples(_SIDE, _SIDE, _SIDE, _SIDE), max_size=8))
def test_a_strip_lies_on_the_page_and_its_marks_on_the_strip(boxes: list[tuple[Decimal, ...]]) -> None:
    regions = [f"percent:{x},{y},{w},{h}" for x, y, w, h in boxes if w and h and x + w <= 100 and y + h <= 100]

    strip = strip_around(regions)

    assert (strip is None) == (not regions)
    if strip is not None:
        parse_region(strip.region)  # which refuses what passes the edge of the page
        assert strip.marks
        for left, top, width, height in strip.marks:
            assert left >= 0 and top >= 0 and width > 0 and height > 0  # noqa: PT018  one thing: it has a size
            assert left + width <= Decimal("100.05")
            assert top + height <= Decimal("100.05")
