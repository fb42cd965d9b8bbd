"""Texts are kept on disk in steps that are whole, a text more rewrites little, and what is damaged is not trusted."""

import json
import random
import shutil
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from likeness.passages import BRAKES, FARES, HEATING, OILING

from provenance.likeness import word_index
from provenance.likeness.text_likeness import TEXT_METHOD
from provenance.likeness.text_segments import SUFFIX, SegmentError, arrays_of, open_segment, write_segment
from provenance.likeness.word_index import WordIndex

TEXTS = {"oiling": OILING, "brakes": BRAKES, "oiling again": f"{FARES} {OILING}", "blank": ""}


def matched(index: WordIndex, key: str) -> list[str]:
    return [match.key for match in index.matches(key, family_of=str)]


def kept(folder: Path, texts: dict[str, str] | None = None) -> WordIndex:
    index = WordIndex(folder)
    index.add((texts or TEXTS).items())
    return index


def segments(folder: Path) -> list[Path]:
    return sorted(folder.glob(f"*{SUFFIX}"))


def test_nothing_is_held_where_nothing_was_kept(tmp_path: Path) -> None:
    index = WordIndex(tmp_path / "not there")

    assert index.keys == frozenset()
    assert not (tmp_path / "not there").exists()
    with pytest.raises(KeyError):
        index.matches("oiling", family_of=str)


def test_what_was_kept_is_there_when_it_is_opened_again(tmp_path: Path) -> None:
    kept(tmp_path / "texts")

    index = WordIndex(tmp_path / "texts")

    assert index.keys == frozenset(TEXTS)
    assert matched(index, "oiling") == ["oiling again"]


def test_a_text_under_a_key_that_is_held_takes_the_place_of_the_old_one(tmp_path: Path) -> None:
    index = kept(tmp_path)

    index.add([("oiling again", FARES), ("late", "one"), ("late", f"{OILING} {HEATING}")])

    assert index.keys == frozenset({*TEXTS, "late"})
    assert matched(index, "oiling") == matched(WordIndex(tmp_path), "oiling") == ["late"]


def test_what_was_dropped_is_found_no_more_and_unknown_keys_are_passed_over(tmp_path: Path) -> None:
    index = kept(tmp_path)
    before = segments(tmp_path)

    index.drop(["nobody"])
    index.drop(["oiling again", "nobody"])

    assert segments(tmp_path) == before  # only the list is written
    for opened in (index, WordIndex(tmp_path)):
        assert opened.keys == frozenset(TEXTS) - {"oiling again"}
        assert matched(opened, "oiling") == []


def test_adding_nothing_keeps_what_there_is(tmp_path: Path) -> None:
    index = kept(tmp_path)

    index.add([])

    assert WordIndex(tmp_path).keys == index.keys == frozenset(TEXTS)


def test_one_text_more_does_not_rewrite_those_that_are_held(tmp_path: Path) -> None:
    draw = random.Random(4)
    words = OILING.split()
    kept(tmp_path, {f"page-{n}": " ".join(draw.choices(words, k=60)) for n in range(200)})
    (large,) = segments(tmp_path)
    first = large.stat()

    for n in range(40):
        WordIndex(tmp_path).add([(f"late-{n}", f"{n} {BRAKES}")])

    assert large.stat() == first
    assert len(segments(tmp_path)) <= 3
    assert len(WordIndex(tmp_path).keys) == 240


def test_texts_that_are_merged_leave_the_dropped_ones_behind(tmp_path: Path) -> None:
    index = kept(tmp_path, {"first": BRAKES, "second": OILING})
    index.drop(["first"])

    index.add([("third", f"{HEATING} {OILING}")])

    (only,) = segments(tmp_path)
    assert open_segment(only, TEXT_METHOD).keys == ("second", "third")
    assert matched(index, "third") == ["second"]


@given(
    st.lists(
        st.tuples(st.sampled_from("abcd"), st.text("lamp oil\n", max_size=40), st.booleans()), min_size=1, max_size=12
    )
)
@settings(max_examples=30, deadline=None)
def test_however_texts_came_and_went_the_last_ones_are_held(
    tmp_path_factory: pytest.TempPathFactory, steps: list[tuple[str, str, bool]]
) -> None:
    folder = tmp_path_factory.mktemp("texts")
    expected: dict[str, str] = {}

    for key, text, is_dropped in steps:
        index = WordIndex(folder)
        if is_dropped:
            index.drop([key])
            expected.pop(key, None)
        else:
            index.add([(key, text)])
            expected[key] = text

    held = WordIndex(folder)._holdings
    assert {key: held.text(number) for key, number in held.numbers.items()} == expected


def test_the_same_texts_give_the_same_files(tmp_path: Path) -> None:
    for name in ("one", "other"):
        kept(tmp_path / name)

    contents = [{path.name: path.read_bytes() for path in (tmp_path / name).iterdir()} for name in ("one", "other")]

    assert contents[0] == contents[1]
    assert len(contents[0]) == 2


@pytest.mark.parametrize("at", [0, 25, 60, 400, -1])
def test_a_file_of_which_one_byte_changed_is_not_trusted(tmp_path: Path, at: int) -> None:
    kept(tmp_path)
    (path,) = segments(tmp_path)
    content = bytearray(path.read_bytes())
    content[at] ^= 1
    path.write_bytes(content)

    index = WordIndex(tmp_path)
    index.add([("late", HEATING)])

    assert index.keys == WordIndex(tmp_path).keys == frozenset({"late"})
    assert path not in segments(tmp_path)


@pytest.mark.parametrize("content", [b"", b"something else", b"provenance texts 1\n"])
def test_a_file_cut_short_or_of_somebody_else_is_not_trusted(tmp_path: Path, content: bytes) -> None:
    kept(tmp_path)
    segments(tmp_path)[0].write_bytes(content)

    assert WordIndex(tmp_path).keys == frozenset()


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"{",
        b"[]",
        b'{"method": "another", "segments": []}',
        json.dumps({"method": TEXT_METHOD}).encode(),
        json.dumps({"method": TEXT_METHOD, "segments": [{"file": "../texts"}]}).encode(),
        json.dumps({"method": TEXT_METHOD, "segments": [{"file": 7, "dropped": "x"}]}).encode(),
    ],
)
def test_a_list_that_is_damaged_or_of_another_method_is_not_trusted(tmp_path: Path, content: bytes) -> None:
    kept(tmp_path)
    (tmp_path / "texts.json").write_bytes(content)

    index = WordIndex(tmp_path)
    index.add([("late", HEATING)])

    assert index.keys == WordIndex(tmp_path).keys == frozenset({"late"})
    assert len(segments(tmp_path)) == 1


def test_a_file_of_another_method_is_not_opened(tmp_path: Path) -> None:
    name = write_segment(tmp_path, "another method", ["key"], arrays_of([OILING]))

    with pytest.raises(SegmentError, match="another method"):
        open_segment(tmp_path / name, TEXT_METHOD)


def test_files_left_behind_by_a_stopped_writer_go_with_the_next_one(tmp_path: Path) -> None:
    kept(tmp_path)
    left = [tmp_path / f"0123456789abcdef{SUFFIX}", tmp_path / ".half.part"]
    for path in left:
        path.write_bytes(b"half")
    stranger = tmp_path / "notes.txt"
    stranger.write_text("not ours", encoding="utf-8")

    WordIndex(tmp_path).add([("late", HEATING)])

    assert not any(path.exists() for path in left)
    assert stranger.exists()
    assert WordIndex(tmp_path).keys == frozenset({*TEXTS, "late"})


def test_a_writer_that_fails_leaves_what_was_there(tmp_path: Path) -> None:
    index = kept(tmp_path)
    taken = tmp_path / "taken"
    shutil.move(tmp_path / "texts.json", taken)
    (tmp_path / "texts.json").mkdir()  # no file can take the place of a folder

    with pytest.raises(OSError, match=r"texts\.json"):
        index.add([("late", HEATING)])

    (tmp_path / "texts.json").rmdir()
    shutil.move(taken, tmp_path / "texts.json")
    assert WordIndex(tmp_path).keys == frozenset(TEXTS)
    assert not list(tmp_path.glob(".*.part"))


def test_one_who_has_it_open_goes_on_reading_while_another_writes(tmp_path: Path) -> None:
    reader = kept(tmp_path)

    WordIndex(tmp_path).add([("oiling", HEATING), ("late", OILING)])

    assert matched(reader, "oiling") == ["oiling again"]


def test_very_many_characters_are_kept_in_several_files_in_one_step(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(word_index, "_CHARACTERS_AT_ONCE", 400)  # the limit alone is lower: ten million otherwise

    index = kept(tmp_path)

    assert index.keys == WordIndex(tmp_path).keys == frozenset(TEXTS)
    assert matched(index, "oiling") == ["oiling again"]
