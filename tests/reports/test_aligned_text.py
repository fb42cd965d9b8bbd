"""Two passages laid under one another, word by word."""

from provenance.reports.aligned_text import aligned_lines


def test_letters_that_differ_are_marked_between_the_two_lines() -> None:
    assert aligned_lines("the electrie head lamps", "the electric head lamps", 60) == [
        "A  the electrie head lamps",
        "              ^",
        "B  the electric head lamps",
    ]


def test_what_only_one_of_them_has_stands_over_nothing() -> None:
    assert aligned_lines("the cantrail on both sides", "the cantrail", 60) == [
        "A  the cantrail on both sides",
        "                ^^ ^^^^ ^^^^^",
        "B  the cantrail",
    ]
    assert aligned_lines("the lamp", "the head lamp", 60) == [
        "A  the      lamp",
        "       ^^^^",
        "B  the head lamp",
    ]


def test_long_passages_go_on_in_further_stretches_and_equal_ones_have_no_marks() -> None:
    assert aligned_lines("one two three", "one two three", 13) == [
        "A  one two",
        "B  one two",
        "",
        "A  three",
        "B  three",
    ]


def test_line_breaks_and_what_a_terminal_would_obey_are_made_harmless() -> None:
    assert aligned_lines("a\nb\x1b[2J", "a b", 60)[0] == r"A  a b\x1b[2J"


def test_a_word_wider_than_the_page_stands_alone() -> None:
    assert aligned_lines("a wonderfully b", "a wonderfully b", 8)[::3] == ["A  a", "A  wonderfully", "A  b"]
    assert aligned_lines("", "", 60) == []
