"""The words under a region are those of which more than half stands in it, in reading order."""

from pathlib import Path

import pytest
from tasks.team import a_text
from web.small_archives import a_drawing, a_small_archive

from provenance.errors import UsageRefusedError
from provenance.records.readings import Box, Word
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.page_readings import Readings
from provenance.tasks.words_under import words_under


@pytest.fixture
def opened(tmp_path: Path) -> Opened:
    return open_folder(a_small_archive(tmp_path))


def under(opened: Opened, region: str, page: int = 1, source: str = "drawing") -> str:
    return words_under(Readings(opened.folder, opened.archive), opened.archive.sources[source], page, region)


@pytest.mark.parametrize(
    ("region", "words"),
    [
        ("percent:0,0,100,100", "Bracket H-204 above rail"),
        ("percent:0,0,100,20", "Bracket H-204"),
        ("percent:10,10,10.1,5", "Bracket"),  # of its width of 20, 10.1
        ("percent:10,10,9.9,5", ""),
        ("percent:10,10,40,2.4", ""),  # of their height of 5, less than half
        ("percent:60,60,30,30", ""),
    ],
)
def test_a_word_is_quoted_of_which_more_than_half_is_framed(opened: Opened, region: str, words: str) -> None:
    assert under(opened, region) == words


def test_where_a_person_wrote_the_page_down_that_persons_words_are_quoted(opened: Opened) -> None:
    a_text(opened.folder / "transcripts" / "drawing" / "p0001.txt", "Brackett H-204\nabove rail level\n")

    assert under(opened, "percent:0,0,100,20") == "Brackett H-204"


def test_words_that_the_person_has_not_are_quoted_as_read(opened: Opened) -> None:
    a_text(opened.folder / "transcripts" / "drawing" / "p0001.txt", "something else altogether\n")

    assert under(opened, "percent:0,0,100,20") == "Bracket H-204"


def test_words_without_a_place_stand_nowhere(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    a_drawing(folder, "odd", (Word(text="lost", line=1), Word(text="thin", line=1, box=Box(1, 1, 0, 5))))

    assert under(open_folder(folder), "percent:0,0,100,100", source="odd") == ""


def test_a_page_that_is_not_there_or_was_not_read_has_no_words(opened: Opened) -> None:
    assert under(opened, "percent:0,0,100,100", page=2) == ""
    assert under(opened, "percent:0,0,100,100", source="photograph") == ""


@pytest.mark.parametrize("region", ["pixel:1,1,9,9", "percent:90,0,20,20", "all"])
def test_what_is_no_part_of_a_page_in_percent_is_refused(opened: Opened, region: str) -> None:
    with pytest.raises(UsageRefusedError):
        under(opened, region)
