"""The matching words of a page: their places on the picture, and the piece of text around them."""

from collections.abc import Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st

from provenance.records.readings import Box, Word
from provenance.search.grammar import parse_query
from provenance.search.snippets import matched_spans, matched_words, regions, snippet


def words(text: str) -> list[Word]:
    """The words of a page, each 8 wide and 2 high, ten to a hundred, lines 3 apart."""
    return [
        Word(text=word, line=line, box=Box(x=10.0 * place, y=3.0 * line, w=8.0, h=2.0))
        for line, row in enumerate(text.split("\n"), 1)
        for place, word in enumerate(row.split())
    ]


def matched(query: str, text: str) -> list[str]:
    return [text[start:end] for start, end in matched_spans(parse_query(query), text)]


@pytest.mark.parametrize(
    ("query", "text", "expected"),
    [
        ("lamp", "Lamps, a LAMP and lamplight", ["Lamps", "LAMP"]),
        ('"type A"', "type B, A type, type A.", ["type", "A"]),
        ("H-204", "H-205 or H 204", ["H", "204"]),
        ("½", "1/2 in and 1½", ["1/2", "½"]),
        ("brack*", "bracket brackets brace", ["bracket", "brackets"]),
        ("locomotiv*", "locomotion locomotive", ["locomotive"]),
        ("H-20*", "H-204 H-31", ["H", "204"]),
        ("bracket", "a brac-\nket", ["brac-\nket"]),
        ("railcar", "a rail-car", ["rail-car"]),
        ("rail-car", "a railcar", ["railcar"]),
        ("title:lamp text:door", "lamp door", ["door"]),
        ("-lamp door", "lamp door", ["door"]),
        ("+lamp", "lamp", ["lamp"]),
        ("lamp", "", []),
    ],
)
def test_the_words_that_match_are_marked_and_no_others(query: str, text: str, expected: list[str]) -> None:
    assert matched(query, text) == expected


def test_both_halves_of_a_word_broken_at_a_line_end_are_matched_words() -> None:
    page = words("the brac-\nket, of brass")

    indices = matched_words(parse_query("brackets"), page)

    assert [page[index].text for index in indices] == ["brac-", "ket,"]


def test_a_word_that_is_cut_into_several_tokens_is_one_matched_word() -> None:
    page = words("see drawing H-204, sheet 2")

    assert matched_words(parse_query('"drawing H-204"'), page) == (1, 2)
    assert matched_words(parse_query("204"), page) == (2,)
    assert matched_words(parse_query("nothing"), page) == ()
    assert matched_words(parse_query("lamp"), []) == ()


def test_the_region_of_a_word_is_its_box() -> None:
    page = words("a lamp of brass")

    found = regions(page, matched_words(parse_query("lamp brass"), page))

    assert found == ("percent:10,3,8,2", "percent:30,3,8,2")
    assert found == tuple(box.as_fragment() for box in _boxes(page, (1, 3)))


def _boxes(page: list[Word], indices: tuple[int, ...]) -> Iterator[Box]:
    return (box for box in (page[index].box for index in indices) if box)


def test_neighbours_on_one_line_are_one_region_and_a_line_end_parts_them() -> None:
    page = words("type A lamp\nbracket type A")

    found = regions(page, matched_words(parse_query('"type A" lamp bracket'), page))

    # 3 words of the first line: x 0 to 28; the second line begins anew: x 0 to 28
    assert found == ("percent:0,3,28,2", "percent:0,6,28,2")


def test_a_region_of_neighbours_holds_the_highest_and_the_lowest() -> None:
    page = [
        Word(text="head", line=1, box=Box(x=10.0, y=5.5, w=8.0, h=2.0)),
        Word(text="lamp", line=1, box=Box(x=20.0, y=5.0, w=8.25, h=3.0)),
    ]

    assert regions(page, (0, 1)) == ("percent:10,5,18.25,3",)


def test_words_without_a_box_have_no_region() -> None:
    page = [Word(text="head", line=1), Word(text="lamp", line=1, box=Box(x=1.0, y=2.0, w=3.0, h=4.0))]

    assert regions(page, (0, 1)) == ("percent:1,2,3,4",)
    assert regions(page, ()) == ()


def test_a_snippet_stands_where_matches_are_closest() -> None:
    text = "lamp " + "filler " * 60 + "the lamp bracket of the lamp " + "filler " * 60 + "bracket"
    spans = matched_spans(parse_query("lamp bracket"), text)

    cut = snippet(text, spans, width=80)

    assert "the lamp bracket of the lamp" in cut
    assert cut.startswith("… filler")
    assert cut.endswith("filler …")
    assert 60 <= len(cut) <= 100


def test_a_short_text_is_shown_whole_on_one_line() -> None:
    assert snippet("the lamp\nbracket \t of brass", ((4, 8),)) == "the lamp bracket of brass"
    assert snippet("", ()) == ""


def test_without_matches_a_snippet_is_the_beginning() -> None:
    text = "It was a dark night. " * 30

    cut = snippet(text, (), width=50)

    assert cut == "It was a dark night. It was a dark night. It was a …"


def test_a_match_at_the_end_is_shown_with_what_stands_before_it() -> None:
    text = "filler " * 60 + "lamp"

    cut = snippet(text, matched_spans(parse_query("lamp"), text), width=40)

    # 36 characters before the last word: the space after the sixth filler from the end, and 5 fillers of 7
    assert cut == "… " + "filler " * 5 + "lamp"


def test_a_word_longer_than_any_is_cut() -> None:
    cut = snippet("x" * 10_000, ((5_000, 5_001),), width=50)

    assert cut == "… " + "x" * 50 + " …"


@given(st.text(alphabet="ab c\n½-", max_size=300), st.integers(min_value=1, max_value=80))
def test_a_snippet_is_part_of_the_text_and_holds_a_match(text: str, width: int) -> None:
    spans = matched_spans(parse_query("ab ½"), text)

    cut = snippet(text, spans, width)

    whole = " ".join(text.split())
    assert cut.removeprefix("… ").removesuffix(" …") in whole
    assert not spans or any(" ".join(text[start:end].split()) in cut for start, end in spans)
