"""Readings come back exactly as they were kept, or not at all."""

import hashlib
import json
import math
import random
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from provenance.errors import WriteRefusedError
from provenance.records.readings import Box, Origin, PageReading, Word
from provenance.store.readings_store import ReadingsStore, digest_of
from provenance.store.staging import leftover_name

SCAN = "ab" * 32
KEY = "0123456789abcdef"
SIDES = st.floats(allow_nan=False, allow_infinity=False)
WORDS = st.builds(
    Word,
    text=st.text(min_size=1, max_size=12),
    line=st.integers(min_value=1, max_value=10_000),
    box=st.none() | st.builds(Box, SIDES, SIDES, SIDES, SIDES),
    confidence=st.none() | st.floats(min_value=0, max_value=100),
)
READINGS = st.builds(
    PageReading,
    page=st.integers(min_value=1, max_value=20_000),
    words=st.lists(WORDS, max_size=8).map(tuple),
    origin=st.sampled_from(Origin),
    engine=st.text(max_size=20),
    languages=st.lists(st.sampled_from(["en", "de", "sr-Latn"]), max_size=3).map(tuple),
    note=st.text(max_size=20),
    uncovered=st.none() | st.integers(min_value=0, max_value=1000).map(lambda parts: parts / 1000),
)


def a_reading(page: int = 1, text: str = "bracket", words: int = 2) -> PageReading:
    return PageReading(
        page=page,
        words=tuple(Word(text, n // 9 + 1, Box(1.25, 2.5, 10, 1.1), 91.5) for n in range(words)),
        origin=Origin.RECOGNISED,
        engine="a reader 1.0",
        languages=("en",),
    )


def file_of(folder: Path, page: int = 1, key: str = KEY, sha256: str = SCAN) -> Path:
    return folder / ".derived" / "readings" / sha256 / f"p{page:04d}-{key}.json"


@given(reading=READINGS)
def test_a_reading_comes_back_exactly_as_it_was_kept(
    tmp_path_factory: pytest.TempPathFactory, reading: PageReading
) -> None:
    store = ReadingsStore(tmp_path_factory.mktemp("archive"))

    store.put(SCAN, KEY, reading)

    assert store.get(SCAN, reading.page, KEY) == reading
    assert store.digest(SCAN, reading.page, KEY) == digest_of(reading)
    assert store.uncovered(SCAN, reading.page, KEY) == reading.uncovered


def test_a_reading_of_before_shares_were_kept_has_none_and_is_as_it_was(tmp_path: Path) -> None:
    store = ReadingsStore(tmp_path)

    store.put(SCAN, KEY, a_reading())

    assert "uncovered" not in json.loads(file_of(tmp_path).read_text())["reading"]
    assert store.uncovered(SCAN, 1, KEY) is None
    assert store.uncovered(SCAN, 2, KEY) is None


def test_a_reading_lies_where_people_can_find_it_as_plain_json(tmp_path: Path) -> None:
    ReadingsStore(tmp_path).put(SCAN, KEY, a_reading(page=14))

    kept = json.loads(file_of(tmp_path, page=14).read_text())

    assert kept["reading"]["text"] == ["bracket", "bracket"]
    assert kept["reading"]["x"] == [1.25, 1.25]


def test_what_was_never_read_is_nothing(tmp_path: Path) -> None:
    store = ReadingsStore(tmp_path)

    assert store.get(SCAN, 1, KEY) is None
    assert store.digest(SCAN, 1, KEY) is None
    assert store.keys(SCAN) == {}
    assert store.prune(lambda *_: False) == 0
    assert not (tmp_path / ".derived").exists()


def test_a_reading_is_replaced_by_one_of_the_same_key(tmp_path: Path) -> None:
    store = ReadingsStore(tmp_path)

    store.put(SCAN, KEY, a_reading(text="braoket"))
    store.put(SCAN, KEY, a_reading(text="bracket"))

    assert store.get(SCAN, 1, KEY) == a_reading(text="bracket")


def test_every_flipped_bit_in_a_reading_is_noticed(tmp_path: Path) -> None:
    store = ReadingsStore(tmp_path)
    store.put(SCAN, KEY, a_reading())
    whole = file_of(tmp_path).read_bytes()
    flips = random.Random(1934)

    for _ in range(300):
        damaged = bytearray(whole)
        damaged[flips.randrange(len(damaged))] ^= 1 << flips.randrange(8)
        file_of(tmp_path).write_bytes(damaged)
        assert store.get(SCAN, 1, KEY) is None


def test_a_reading_cut_short_anywhere_is_noticed(tmp_path: Path) -> None:
    store = ReadingsStore(tmp_path)
    store.put(SCAN, KEY, a_reading())
    whole = file_of(tmp_path).read_bytes()

    for length in range(len(whole)):
        file_of(tmp_path).write_bytes(whole[:length])
        assert store.get(SCAN, 1, KEY) is None
    file_of(tmp_path).write_bytes(whole[:40])
    assert store.digest(SCAN, 1, KEY) is None


def test_a_reading_that_says_it_is_of_another_page_is_not_taken(tmp_path: Path) -> None:
    store = ReadingsStore(tmp_path)
    store.put(SCAN, KEY, a_reading(page=3))

    file_of(tmp_path, page=3).rename(file_of(tmp_path, page=4))

    assert store.get(SCAN, 4, KEY) is None


def test_something_else_of_the_right_form_is_not_taken(tmp_path: Path) -> None:
    store = ReadingsStore(tmp_path)
    whole = a_reading()
    store.put(SCAN, KEY, whole)
    pages = file_of(tmp_path)
    body = json.loads(pages.read_text())["reading"]

    for change in ({"origin": "guessed"}, {"line": [1]}, {"text": 5}, {"languages": None}, {"page": "1"}):
        changed = json.dumps(body | change, separators=(",", ":")).encode()
        pages.write_bytes(b'{"digest":"%s","reading":%s}' % (hashlib.sha256(changed).hexdigest().encode(), changed))
        assert store.get(SCAN, 1, KEY) is None


def test_the_readings_of_a_file_are_listed_by_page(tmp_path: Path) -> None:
    store = ReadingsStore(tmp_path)
    for page, key in ((10_000, "a"), (2, "b"), (2, "a"), (1, "fast-1.0")):
        store.put(SCAN, key, a_reading(page=page))
    (file_of(tmp_path).parent / leftover_name()).write_bytes(b"{")
    (file_of(tmp_path).parent / "notes.txt").write_bytes(b"")

    assert store.keys(SCAN) == {1: ("fast-1.0",), 2: ("a", "b"), 10_000: ("a",)}
    assert list(store.keys(SCAN)) == [1, 2, 10_000]


def test_pruning_keeps_what_is_wanted_and_what_is_not_ours(tmp_path: Path) -> None:
    store = ReadingsStore(tmp_path)
    other = "cd" * 32
    store.put(SCAN, KEY, a_reading())
    store.put(SCAN, "old", a_reading())
    store.put(other, "old", a_reading())
    (file_of(tmp_path).parent / "notes.txt").write_bytes(b"")
    left = file_of(tmp_path, sha256=other).parent / leftover_name()
    left.write_bytes(b"{")
    (tmp_path / ".derived" / "readings" / "mine").mkdir()

    gone = store.prune(lambda sha256, page, key: (sha256, page, key) == (SCAN, 1, KEY))

    assert gone == 2
    assert store.keys(SCAN) == {1: (KEY,)}
    assert sorted(entry.name for entry in (tmp_path / ".derived" / "readings").iterdir()) == [SCAN, "mine"]
    assert (file_of(tmp_path).parent / "notes.txt").exists()


@pytest.mark.parametrize(
    ("sha256", "key"), [("../" * 10, KEY), ("AB" * 32, KEY), (SCAN, "../x"), (SCAN, ""), (SCAN, "a/b")]
)
def test_no_name_leads_out_of_the_folder_of_readings(tmp_path: Path, sha256: str, key: str) -> None:
    store = ReadingsStore(tmp_path)

    with pytest.raises(ValueError, match="cannot be part of the place of a reading"):
        store.put(sha256, key, a_reading())

    assert list(tmp_path.iterdir()) == []


def test_a_reading_that_cannot_be_kept_says_so(tmp_path: Path) -> None:
    (tmp_path / ".derived").write_bytes(b"in the way")

    with pytest.raises(WriteRefusedError, match="cannot be written"):
        ReadingsStore(tmp_path).put(SCAN, KEY, a_reading())


def test_a_digest_changes_with_every_part_of_a_reading() -> None:
    reading = a_reading()
    others = [
        a_reading(page=2),
        a_reading(text="braoket"),
        a_reading(words=3),
        PageReading(page=1, words=reading.words, origin=Origin.TEXT_LAYER, engine=reading.engine, languages=("en",)),
        PageReading(page=1, words=reading.words, origin=reading.origin, engine="another", languages=("en",)),
        PageReading(page=1, words=reading.words, origin=reading.origin, engine=reading.engine),
        PageReading(page=1, words=(), origin=reading.origin, engine=reading.engine, languages=("en",)),
    ]

    assert len({digest_of(each) for each in (reading, *others)}) == len(others) + 1
    assert digest_of(a_reading()) == digest_of(reading)
    assert math.isclose(reading.confidence or 0, 91.5)
