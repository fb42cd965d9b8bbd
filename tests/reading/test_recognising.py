from pathlib import Path

import pytest
from pages.made_originals import LINES, picture_of

from provenance.errors import ToolMissingError, UnreadableOriginalError
from provenance.pages.pictures import PagePicture
from provenance.reading.recognising import recognise
from provenance.reading.settings import ReadingSettings

USUAL = ReadingSettings()


def test_words_come_with_places_and_confidences_from_one_recognition() -> None:
    words = recognise(PagePicture(image=picture_of(), dpi=200), ("eng",), USUAL)

    assert [word.text for word in words] == " ".join(LINES).split()
    assert all(word.box is not None and word.confidence is not None for word in words)
    assert [word.line for word in words] == sorted(word.line for word in words)


@pytest.mark.parametrize("dpi", [None, 300, 1200])
def test_small_print_is_doubled_before_it_is_recognised_whatever_its_file_says_of_its_resolution(
    dpi: int | None,
) -> None:
    picture = PagePicture(image=picture_of(size=(572, 286), letters=11), dpi=dpi)

    doubled = recognise(picture, ("eng",), USUAL)
    plain = recognise(picture, ("eng",), ReadingSettings(double_below=0))

    truth = " ".join(LINES).split()
    assert sum(word.text in truth for word in doubled) >= 0.8 * len(truth)
    assert sum(word.text in truth for word in plain) <= 0.6 * len(truth)


def test_a_recogniser_that_gives_up_on_a_page_names_its_reason() -> None:
    with pytest.raises(UnreadableOriginalError, match=r"the recogniser gave up on this page: .*nowhere") as caught:
        recognise(PagePicture(image=picture_of(), dpi=None), ("nowhere",), USUAL)

    assert "transcribe it by hand" in caught.value.mend


def test_a_recogniser_that_has_gone_is_a_missing_tool(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))

    with pytest.raises(ToolMissingError, match="has gone"):
        recognise(PagePicture(image=picture_of(), dpi=None), ("eng",), USUAL)
