import pytest

from provenance.records.readings import Box, Origin, PageReading, Word, doubtful_words


def a_reading(*words: Word, origin: Origin = Origin.RECOGNISED) -> PageReading:
    return PageReading(page=1, words=words, origin=origin, engine="tesseract 5.3.0")


@pytest.mark.parametrize(
    ("box", "fragment"),
    [
        (Box(12.5, 40.0, 30.0, 8.0), "percent:12.5,40,30,8"),
        (Box(0.0, 0.0, 100.0, 100.0), "percent:0,0,100,100"),
        (Box(12.345, 0.004, 30.006, 8.1), "percent:12.35,0,30.01,8.1"),
    ],
)
def test_a_box_is_written_as_a_media_fragment(box: Box, fragment: str) -> None:
    """Source: W3C Media Fragments URI 1.0, 4.2.2; decimals are the archive's own allowance."""
    assert box.as_fragment() == fragment


def test_the_text_of_a_page_has_its_words_in_lines() -> None:
    reading = a_reading(Word("The", 1), Word("lamp", 1), Word("bracket", 2), Word("H-204", 4))

    assert reading.text == "The lamp\nbracket\nH-204"


def test_the_confidence_of_a_page_is_the_mean_of_its_recognised_words() -> None:
    reading = a_reading(Word("a", 1, None, 90.0), Word("b", 1, None, 80.0), Word("c", 1))

    assert reading.confidence == 85.0


@pytest.mark.parametrize("words", [(), (Word("typed", 1),)])
def test_a_page_that_was_not_recognised_has_no_confidence(words: tuple[Word, ...]) -> None:
    assert a_reading(*words).confidence is None


def test_words_below_the_threshold_are_doubtful_and_those_on_it_are_not() -> None:
    sure, on_it, below = Word("sure", 1, None, 96.0), Word("even", 1, None, 60.0), Word("H-2O4", 1, None, 59.999)

    assert doubtful_words(a_reading(sure, on_it, below)) == (below,)


def test_specks_and_rules_are_no_doubtful_words() -> None:
    specks = [Word(text, 1, None, 10.0) for text in ("|", "-", "~.", "\u2014")]

    assert doubtful_words(a_reading(*specks)) == ()


def test_words_that_were_not_recognised_are_never_doubtful() -> None:
    assert doubtful_words(a_reading(Word("typed", 1), origin=Origin.TEXT_LAYER)) == ()
