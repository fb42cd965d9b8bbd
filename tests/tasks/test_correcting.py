"""What a person reads on a page takes the place of what a machine read there, and of an earlier person's reading."""

from pathlib import Path

import pytest
from tasks.team import TODAY
from web.small_archives import a_small_archive

from provenance.errors import ProvenanceError, UnknownRecordError, UsageRefusedError
from provenance.store.transcripts import read_transcript
from provenance.tasks.correcting import correct_reading, page_to_correct
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.page_readings import Readings


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return a_small_archive(tmp_path)


def kept(folder: Path) -> Path:
    return folder / "transcripts" / "drawing" / "p0001.txt"


def laid_out(opened: Opened) -> list[str]:
    page = page_to_correct(opened, Readings(opened.folder, opened.archive), "drawing", 1)
    return [line.text for line in page.lines]


def test_a_reading_is_kept_with_a_name_and_counts_before_the_machines(folder: Path) -> None:
    assert laid_out(open_folder(folder)) == ["Bracket H-204", "above rail"]

    written = correct_reading(folder, "drawing", 1, "Bracket H-204\r\nabove the rail  \r\n", by="mh", today=TODAY)

    assert written.written == ("sources/drawing.yaml", "transcripts/drawing/p0001.txt")
    assert kept(folder).read_text(encoding="utf-8") == f"by: mh\ndate: {TODAY}\n\nBracket H-204\nabove the rail\n"
    assert laid_out(open_folder(folder)) == ["Bracket H-204", "above the rail"]


def test_a_later_reading_takes_the_place_of_an_earlier_one(folder: Path) -> None:
    correct_reading(folder, "drawing", 1, "Bracket", by="mh", today=TODAY)

    again = correct_reading(folder, "drawing", 1, "Bracket H-205", by="mh", today="2026-02-03")

    assert again.written == ("transcripts/drawing/p0001.txt",)
    transcript = read_transcript(kept(folder).read_text(encoding="utf-8"))
    assert (transcript.date, transcript.text) == ("2026-02-03", "Bracket H-205\n")


def test_the_same_reading_again_leaves_the_first_name_and_day(folder: Path) -> None:
    correct_reading(folder, "drawing", 1, "Bracket", by="mh", today=TODAY)

    again = correct_reading(folder, "drawing", 1, "Bracket\n\n\n", by="mh", today="2026-02-03")

    assert again.written == ()
    assert again.said == ("It says just that already.",)
    assert read_transcript(kept(folder).read_text(encoding="utf-8")).date == TODAY


def test_of_several_blank_lines_one_is_kept(folder: Path) -> None:
    correct_reading(folder, "drawing", 1, "\n\none\n\n\n\n\ntwo\n\n", by="mh", today=TODAY)

    assert read_transcript(kept(folder).read_text(encoding="utf-8")).text == "one\n\ntwo\n"


@pytest.mark.parametrize(
    ("source", "page", "text", "error"),
    [
        ("drawing", 1, " \n ", UsageRefusedError),
        ("drawing", 1, "a\0b", UsageRefusedError),
        ("drawing", 1, "é" * 600_000, UsageRefusedError),
        ("drawing", 2, "Bracket", UnknownRecordError),
        ("tape", 1, "Bracket", UnknownRecordError),
        ("nosuch", 1, "Bracket", UnknownRecordError),
    ],
)
def test_what_is_no_text_of_a_page_is_refused(
    folder: Path, source: str, page: int, text: str, error: type[ProvenanceError]
) -> None:
    with pytest.raises(error):
        correct_reading(folder, source, page, text, by="mh", today=TODAY)

    assert not kept(folder).exists()
