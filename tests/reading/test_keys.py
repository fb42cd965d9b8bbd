import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from provenance.errors import ToolMissingError
from provenance.reading.engine import data_digest, recogniser
from provenance.reading.keys import possible_keys, reading_key
from provenance.reading.settings import ReadingSettings
from provenance.records.readings import Origin

USUAL = ReadingSettings()


def test_a_page_of_a_pdf_is_looked_up_by_its_text_layer_and_then_by_recognition() -> None:
    keys = possible_keys("application/pdf", ("en",), USUAL)

    assert keys == (
        reading_key(Origin.TEXT_LAYER, ("en",), USUAL),
        reading_key(Origin.RECOGNISED, ("en",), USUAL),
    )


@pytest.mark.parametrize(
    ("media_type", "origin"),
    [
        ("image/jpeg", Origin.RECOGNISED),
        ("image/png", Origin.RECOGNISED),
        ("text/plain", Origin.PLAIN_TEXT),
        ("text/markdown", Origin.PLAIN_TEXT),
        ("text/vtt", Origin.TIMED_TEXT),
        ("application/x-subrip", Origin.TIMED_TEXT),
    ],
)
def test_other_pages_are_read_one_way_only(media_type: str, origin: Origin) -> None:
    assert possible_keys(media_type, (), USUAL) == (reading_key(origin, (), USUAL),)


def test_a_kind_that_is_not_read_has_no_key() -> None:
    assert possible_keys("image/heic", (), USUAL) == ()


def test_every_way_has_a_key_of_its_own() -> None:
    ways = (Origin.TEXT_LAYER, Origin.RECOGNISED, Origin.PLAIN_TEXT, Origin.TIMED_TEXT)
    keys = {reading_key(origin, (), USUAL) for origin in ways}

    assert len(keys) == 4
    assert all(len(key) == 16 and int(key, 16) >= 0 for key in keys)


def test_another_setting_reads_recognised_pages_afresh_and_no_others() -> None:
    other = ReadingSettings(layout_mode=6)

    assert reading_key(Origin.RECOGNISED, (), other) != reading_key(Origin.RECOGNISED, (), USUAL)
    assert reading_key(Origin.TEXT_LAYER, (), other) == reading_key(Origin.TEXT_LAYER, (), USUAL)


def test_other_data_for_the_same_language_read_recognised_pages_afresh(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = reading_key(Origin.RECOGNISED, ("en",), USUAL)
    folder = recogniser().data_folder
    assert folder is not None
    (tmp_path / "eng.traineddata").write_bytes((folder / "eng.traineddata").read_bytes() + b"\0")
    monkeypatch.setenv("TESSDATA_PREFIX", str(tmp_path))
    forget()

    after = reading_key(Origin.RECOGNISED, ("en",), USUAL)
    forget()

    assert recogniser().languages == ("eng",)
    assert after != before


def forget() -> None:
    """Forget what is kept for the length of a process."""
    recogniser.cache_clear()
    data_digest.cache_clear()


@pytest.fixture(autouse=True)
def _forget_afterwards() -> Iterator[None]:
    yield
    forget()


def test_saying_nothing_of_the_language_is_saying_the_default() -> None:
    assert reading_key(Origin.RECOGNISED, (), USUAL) == reading_key(Origin.RECOGNISED, ("en-GB",), USUAL)


def test_a_recognised_page_has_no_key_without_the_data_of_its_language() -> None:
    with pytest.raises(ToolMissingError):
        reading_key(Origin.RECOGNISED, ("ka",), USUAL)

    assert possible_keys("application/pdf", ("ka",), USUAL) == (reading_key(Origin.TEXT_LAYER, ("ka",), USUAL),)


def test_a_machine_without_the_recogniser_still_finds_the_readings_of_text_layers(tmp_path: Path) -> None:
    program = (
        "from provenance.reading.keys import possible_keys; from provenance.reading.settings import ReadingSettings; "
        "print(*possible_keys('application/pdf', ('en',), ReadingSettings()))"
    )

    said = subprocess.run(
        [sys.executable, "-c", program],
        capture_output=True,
        check=True,
        text=True,
        env={**os.environ, "PATH": str(tmp_path)},
    ).stdout

    assert said.split() == [reading_key(Origin.TEXT_LAYER, ("en",), USUAL)]


def test_looking_up_a_reading_loads_no_library_that_reads() -> None:
    program = (
        "import sys; import provenance.reading.keys; "
        "print(*sorted({'pdfplumber', 'pypdfium2', 'PIL', 'pytesseract', 'numpy'} & set(sys.modules)))"
    )

    said = subprocess.run([sys.executable, "-c", program], capture_output=True, check=True, text=True).stdout

    assert said.split() == []
