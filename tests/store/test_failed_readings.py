"""What became of a page that could not be read is remembered exactly, or not at all."""

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from provenance.errors import WriteRefusedError
from provenance.store.failed_readings import FailedReading, FailedReadings
from provenance.store.readings_store import ReadingsStore

SCAN = "ab" * 32
KEY = "0123456789abcdef"
FAILURES = st.builds(FailedReading, why=st.text(), kind=st.text(), engine=st.text(), is_costly=st.booleans())
HUNG = FailedReading(why="it was stopped after 300 seconds", kind="time", engine="tesseract 5.3.0", is_costly=True)


def file_of(folder: Path) -> Path:
    return folder / ".derived" / "readings" / SCAN / f"p0002-{KEY}.unread"


@given(failed=FAILURES)
def test_what_became_of_a_page_comes_back_as_it_was_put(
    tmp_path_factory: pytest.TempPathFactory, failed: FailedReading
) -> None:
    store = FailedReadings(tmp_path_factory.mktemp("archive"))

    store.put(SCAN, 2, KEY, failed)

    assert store.get(SCAN, 2, KEY) == failed


def test_it_is_remembered_for_its_page_and_its_key_alone(tmp_path: Path) -> None:
    store = FailedReadings(tmp_path)

    store.put(SCAN, 2, KEY, HUNG)

    assert file_of(tmp_path).is_file()
    assert store.get(SCAN, 1, KEY) is None
    assert store.get(SCAN, 2, KEY.replace("0", "1")) is None
    assert store.get("cd" * 32, 2, KEY) is None


def test_it_is_no_reading(tmp_path: Path) -> None:
    FailedReadings(tmp_path).put(SCAN, 2, KEY, HUNG)

    assert ReadingsStore(tmp_path).keys(SCAN) == {}
    assert ReadingsStore(tmp_path).get(SCAN, 2, KEY) is None


def test_what_was_forgotten_is_not_known_and_forgetting_nothing_does_no_harm(tmp_path: Path) -> None:
    store = FailedReadings(tmp_path)
    store.put(SCAN, 2, KEY, HUNG)

    store.forget(SCAN, 2, KEY)
    store.forget(SCAN, 2, KEY)

    assert store.get(SCAN, 2, KEY) is None


@pytest.mark.parametrize(
    "written",
    [
        b"",
        b"\x00" * 100,
        b"[]",
        b"{}",
        json.dumps({"digest": "0" * 64, "failed": {"why": "x"}}).encode(),
        json.dumps({"digest": 5, "failed": 5}).encode(),
    ],
)
def test_a_damaged_memory_is_none(tmp_path: Path, written: bytes) -> None:
    store = FailedReadings(tmp_path)
    store.put(SCAN, 2, KEY, HUNG)

    file_of(tmp_path).write_bytes(written)

    assert store.get(SCAN, 2, KEY) is None


def test_a_changed_reason_is_not_believed(tmp_path: Path) -> None:
    store = FailedReadings(tmp_path)
    store.put(SCAN, 2, KEY, HUNG)

    file_of(tmp_path).write_bytes(file_of(tmp_path).read_bytes().replace(b"300 seconds", b"30000 years"))

    assert store.get(SCAN, 2, KEY) is None


def test_a_place_that_cannot_be_written_is_refused(tmp_path: Path) -> None:
    (tmp_path / ".derived").write_text("in the way", encoding="utf-8")

    with pytest.raises(WriteRefusedError):
        FailedReadings(tmp_path).put(SCAN, 2, KEY, HUNG)


def test_it_says_how_it_is_tried_again_where_that_is_not_done_by_itself() -> None:
    damaged = FailedReading(why="it is damaged", kind="refused", engine="", is_costly=False)

    assert "provenance rebuild" in HUNG.why_not_again
    assert damaged.why_not_again == "it is damaged"


def test_pruning_removes_what_is_not_kept_and_counts_readings_alone(tmp_path: Path) -> None:
    store = FailedReadings(tmp_path)
    store.put(SCAN, 1, KEY, HUNG)
    store.put(SCAN, 2, KEY, HUNG)

    gone = ReadingsStore(tmp_path).prune(lambda _digest, page, _key: page == 1)

    assert gone == 0
    assert store.get(SCAN, 1, KEY) == HUNG
    assert store.get(SCAN, 2, KEY) is None
