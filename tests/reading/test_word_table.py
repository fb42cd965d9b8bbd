import pytest
from hypothesis import given
from hypothesis import strategies as st

from provenance.errors import UnreadableOriginalError
from provenance.reading.word_table import words_of_table
from provenance.records.readings import Box, Word

HEAD = "level\tpage_num\tblock_num\tpar_num\tline_num\tword_num\tleft\ttop\twidth\theight\tconf\ttext"


def row(*cells: object) -> str:
    return "\t".join(map(str, cells))


def table(*rows: str) -> str:
    return "\n".join([HEAD, row(1, 1, 0, 0, 0, 0, 0, 0, 1000, 2000, -1, ""), *rows, ""])


def test_a_word_is_placed_in_percent_of_the_page_with_its_confidence() -> None:
    written = table(
        row(2, 1, 1, 0, 0, 0, 90, 180, 300, 80, -1, ""), row(5, 1, 1, 1, 1, 1, 100, 200, 250, 50, 96.063492, "H-204")
    )

    words = words_of_table(written)

    assert words == (Word("H-204", 1, Box(10.0, 10.0, 25.0, 2.5), 96.063),)


def test_lines_run_on_over_paragraphs_and_blocks() -> None:
    written = table(
        row(5, 1, 1, 1, 1, 1, 0, 0, 1, 1, 90, "first"),
        row(5, 1, 1, 1, 1, 2, 0, 0, 1, 1, 90, "line"),
        row(5, 1, 1, 1, 2, 1, 0, 0, 1, 1, 90, "second"),
        row(5, 1, 1, 2, 1, 1, 0, 0, 1, 1, 90, "third"),
        row(5, 1, 2, 1, 1, 1, 0, 0, 1, 1, 90, "fourth"),
    )

    words = words_of_table(written)

    assert [(word.text, word.line) for word in words] == [
        ("first", 1),
        ("line", 1),
        ("second", 2),
        ("third", 3),
        ("fourth", 4),
    ]


def test_rules_and_pictures_which_the_recogniser_calls_white_words_are_no_words() -> None:
    written = table(row(5, 1, 1, 1, 1, 1, 0, 0, 900, 900, 95, " "), row(5, 1, 2, 1, 1, 1, 0, 0, 1, 1, 90, "word"))

    words = words_of_table(written)

    assert [(word.text, word.line) for word in words] == [("word", 1)]


def test_a_quotation_mark_is_a_character_like_any_other() -> None:
    written = table(row(5, 1, 1, 1, 1, 1, 0, 0, 1, 1, 90, '"H"'), row(5, 1, 1, 1, 1, 2, 0, 0, 1, 1, 90, "3'-4\""))

    words = words_of_table(written)

    assert [word.text for word in words] == ['"H"', "3'-4\""]


def test_a_page_without_words_is_an_empty_reading() -> None:
    assert words_of_table(table()) == ()


@given(st.data())
def test_a_table_that_breaks_off_is_no_reading_of_a_page(data: st.DataObject) -> None:
    words = [row(5, 1, 1, 1, 1, number, 100, 200, 250, 50, 96.063492, "H-204") for number in range(1, 5)]
    whole = table(*words)

    cut = whole[: data.draw(st.integers(min_value=0, max_value=len(whole) - 1))]

    # one that ends with a row cannot be told from a whole one; disks cut at blocks
    if cut.endswith("\n") and cut.count("\n") > 1:
        return
    with pytest.raises(UnreadableOriginalError, match="cut short"):
        words_of_table(cut)
