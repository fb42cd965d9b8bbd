from provenance.pages.line_order import Direction, PlacedWord, in_reading_order
from provenance.records.readings import Box, Word


def at(text: str, left: float, top: float, direction: Direction = Direction.RIGHT) -> PlacedWord:
    """A word 8 percent wide and 2 high."""
    return PlacedWord(text, left, top, left + 8, top + 2, direction)


def lines(words: tuple[Word, ...]) -> list[list[str]]:
    return [[word.text for word in words if word.line == number] for number in sorted({word.line for word in words})]


def test_words_of_one_line_stand_from_the_left_however_they_were_stored() -> None:
    words = [at("frame", 50, 10), at("to", 40, 10.2), at("the", 45, 9.9), at("below", 10, 14)]

    read = in_reading_order(words)

    assert lines(read) == [["to", "the", "frame"], ["below"]]


def test_a_raised_figure_stays_on_its_line() -> None:
    words = [at("10", 10, 10), PlacedWord("2", 18, 9.4, 19, 10.6), at("mm", 20, 10), at("next", 10, 12.1)]

    read = in_reading_order(words)

    assert lines(read) == [["10", "2", "mm"], ["next"]]


def test_words_that_run_another_way_come_after_the_others() -> None:
    words = [
        PlacedWord("upwards", 2, 40, 4, 60, Direction.UP),
        PlacedWord("first", 2, 70, 4, 80, Direction.UP),
        PlacedWord("down", 95, 10, 97, 20, Direction.DOWN),
        at("plain", 30, 50),
        at("turned", 50, 90, Direction.LEFT),
        at("head", 70, 90, Direction.LEFT),
    ]

    read = in_reading_order(words)

    assert lines(read) == [["plain"], ["down"], ["first", "upwards"], ["head", "turned"]]


def test_places_are_kept_to_three_decimals() -> None:
    words = [PlacedWord("a", 10.12345, 20, 11.99999, 21.5)]

    (read,) = in_reading_order(words)

    assert read == Word("a", 1, Box(10.123, 20.0, 1.877, 1.5))


def test_a_page_without_words_has_no_lines() -> None:
    assert in_reading_order([]) == ()
