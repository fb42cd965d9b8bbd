"""Where a quotation stands on a page, held against a table of edit distances worked out cell by cell."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from provenance.records.readings import Box, Origin, PageReading, Word
from provenance.records.regions import parse_region
from provenance.tasks.quotations import find_passage

PAGE = """WORKING INSTRUCTIONS
The headlamp bracket No. H-204 is fixed
3 ft 4 1/2 in above the rail, on the cab front.
The lamp is of the acety-
lene pattern."""


def a_page(text: str = PAGE, *, placed: bool = True) -> PageReading:
    """A page whose words are 10 percent wide and 4 high, each line 5 percent below the one before."""
    words = [
        Word(text=word, line=line, box=Box(10.0 * place, 5.0 * line, 10.0, 4.0) if placed else None)
        for line, row in enumerate(text.splitlines(), start=1)
        for place, word in enumerate(row.split())
    ]
    return PageReading(page=1, words=tuple(words), origin=Origin.RECOGNISED, engine="by hand")


def fewest_edits(page: str, quotation: str) -> int:
    """The fewest letters to change, add or leave out to find the quotation in the page; brute force."""
    before = [0] * (len(page) + 1)
    for row, wanted in enumerate(quotation, start=1):
        now = [row]
        for column, letter in enumerate(page, start=1):
            now.append(min(before[column] + 1, now[-1] + 1, before[column - 1] + (letter != wanted)))
        before = now
    return min(before)


@pytest.mark.parametrize(
    ("quotation", "stands_there"),
    [
        ("The lamp is of the acetylene pattern.", "The lamp is of the acety- lene pattern."),
        ("THE LAMP IS OF THE ACETYLENE PATTERN", "The lamp is of the acety- lene pattern."),
        ("the rail, on the cab front", "the rail, on the cab front."),
        ("No. H-2O4 is fixed", "No. H-204 is fixed"),
        ("The headlarnp bracket", "The headlamp bracket"),
        ("above [...] cab front", "above the rail, on the cab front."),
        ("above … cab front", "above the rail, on the cab front."),
    ],
)
def test_a_quotation_is_found_whatever_the_line_breaks_the_case_and_the_misread_letters(
    quotation: str, stands_there: str
) -> None:
    passage = find_passage(a_page(), quotation)

    assert passage.stands_there
    assert passage.text == stands_there


@pytest.mark.parametrize(
    "quotation", ["The lamp is electric", "front cab the on rail the above", "…", "", "3 ft 1 1/2"]
)
def test_a_quotation_that_is_not_on_the_page_is_not_taken_for_another(quotation: str) -> None:
    assert not find_passage(a_page(), quotation).stands_there


def test_the_nearest_words_are_told_with_the_letters_that_differ() -> None:
    passage = find_passage(a_page(), "The lamp is of the electric pattern")

    assert not passage.stands_there
    assert passage.text == "The lamp is of the acety- lene pattern."
    assert passage.wrong == fewest_edits("thelamplsoftheacetylenepattern", "thelamplsoftheelectrlcpattern")


def test_the_region_takes_in_all_words_of_the_quotation() -> None:
    passage = find_passage(a_page(), "is of the acetylene pattern")

    # Words 3 to 6 of line 4, and words 1 and 2 of line 5: from 0 to 60 across, from 20 to 29 down.
    assert passage.region == "percent:0,20,60,9"


def test_words_without_places_have_no_region() -> None:
    passage = find_passage(a_page(placed=False), "the cab front")

    assert passage.stands_there
    assert passage.region is None


def test_a_page_without_words_has_nothing_near() -> None:
    assert find_passage(a_page(""), "the cab front").words == ()


LETTERS = st.text(alphabet="abcd", min_size=1, max_size=12)


@given(st.text(alphabet="abcd", max_size=40), LETTERS)
def test_the_letters_that_differ_are_as_few_as_can_be(page: str, quotation: str) -> None:
    passage = find_passage(a_page(" ".join(page)), quotation)

    assert passage.wrong == fewest_edits(page, quotation)
    if passage.words:
        assert fewest_edits("".join(word.text for word in passage.words), quotation) == passage.wrong


@given(st.lists(st.tuples(*[st.floats(0, 100)] * 4), min_size=1, max_size=5))
def test_a_region_is_always_one_that_a_record_may_hold(corners: list[tuple[float, float, float, float]]) -> None:
    boxes = [Box(min(a, b), min(c, d), abs(a - b), abs(c - d)) for a, b, c, d in corners]
    words = tuple(Word(text="lamp", line=1, box=box) for box in boxes)
    page = PageReading(page=1, words=words, origin=Origin.RECOGNISED, engine="by hand")

    region = find_passage(page, "lamp" * len(words)).region

    assert region is not None
    assert str(parse_region(region)) == region
