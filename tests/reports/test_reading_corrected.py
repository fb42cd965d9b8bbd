"""A reading laid out to be corrected: each line in order, each word with the place of the one that it corrects."""

import pytest

from provenance.records.readings import Box, Origin, PageReading, Word
from provenance.reports.reading_corrected import lines_of_reading, lines_of_text


def at(place: float) -> Box:
    return Box(x=place, y=1, w=1, h=1)


def read(*words: tuple[str, int, float]) -> tuple[Word, ...]:
    return tuple(
        Word(text=text, line=line, box=at(place), confidence=sure)
        for place, (text, line, sure) in enumerate(words, start=1)
    )


MACHINE = read(("The", 1, 95), ("larnp", 1, 20), ("burns", 2, 96), ("gas", 2, 30))


def test_a_machines_lines_stand_in_order_with_what_is_doubtful() -> None:
    lines = lines_of_reading(PageReading(page=1, words=MACHINE, origin=Origin.RECOGNISED, engine="one"))

    assert [line.text for line in lines] == ["The larnp", "burns gas"]
    assert [line.doubtful for line in lines] == [("larnp",), ("gas",)]


@pytest.mark.parametrize(
    ("text", "places"),
    [
        ("The lamp\nburns gas\n", [[1, 2], [3, 4]]),  # the misread word gives its place to the right one
        ("THE lamp burns\n\ngas", [[1, 2, 3], [], [4]]),
        ("The head lamp burns gas", [[1, None, None, 3, 4]]),  # two words for one: nobody can say which stands where
        ("The burns gas", [[1, 3, 4]]),
        ("wholly other words of some length here", [[None] * 7]),
        ("", []),
    ],
)
def test_a_persons_words_have_the_places_of_those_they_correct(text: str, places: list[list[float | None]]) -> None:
    lines = lines_of_text(text, MACHINE)

    assert [[word.box.x if word.box else None for word in line.words] for line in lines] == places


def test_several_blank_lines_stand_for_one() -> None:
    assert [line.text for line in lines_of_text("\n\none\n\n\n\ntwo\n\n", ())] == ["one", "", "two"]
