import os
import time
from pathlib import Path

import pytest

from provenance.errors import WriteRefusedError
from provenance.store.cut_outs_store import CUT_OUTS, CutOutsStore, KeptCut
from provenance.store.staging import leftover_name

ONE, OTHER = "a" * 64, "b" * 64
PIECE = KeptCut(said={"note": "of a page", "width": 12, "width_mm": 40.5}, data=b"\x89PNG\n\0picture\n")


def test_a_piece_is_given_back_as_it_was_kept(tmp_path: Path) -> None:
    store = CutOutsStore(tmp_path)

    store.put(ONE, 3, "k1", PIECE)

    assert store.get(ONE, 3, "k1") == PIECE
    assert [store.get(*place) for place in ((ONE, 2, "k1"), (ONE, 3, "k2"), (OTHER, 3, "k1"))] == [None] * 3
    assert (tmp_path / CUT_OUTS / ONE / "p0003-k1.cut").is_file()


def test_a_piece_of_which_any_byte_changed_is_none(tmp_path: Path) -> None:
    store = CutOutsStore(tmp_path)
    store.put(ONE, 1, "k1", PIECE)
    file = tmp_path / CUT_OUTS / ONE / "p0001-k1.cut"
    whole = file.read_bytes()

    for place in range(len(whole)):
        file.write_bytes(whole[:place] + bytes([whole[place] ^ 1]) + whole[place + 1 :])
        assert store.get(ONE, 1, "k1") is None, place
    for length in (0, 10, 32, len(whole) - 1):
        file.write_bytes(whole[:length])
        assert store.get(ONE, 1, "k1") is None, length


def test_what_is_not_to_be_kept_goes_with_what_killed_writers_left(tmp_path: Path) -> None:
    store = CutOutsStore(tmp_path)
    for sha256, page in ((ONE, 1), (ONE, 2), (OTHER, 1)):
        store.put(sha256, page, "k1", PIECE)
    leftover = tmp_path / CUT_OUTS / ONE / leftover_name()
    leftover.touch()

    gone = store.prune(lambda sha256, page, key: (sha256, page, key) == (ONE, 1, "k1"))

    assert gone == 2
    assert store.get(ONE, 1, "k1") == PIECE
    assert not leftover.exists()
    assert not (tmp_path / CUT_OUTS / OTHER).exists()


def test_nothing_is_pruned_where_nothing_was_kept(tmp_path: Path) -> None:
    assert CutOutsStore(tmp_path).prune(lambda _sha256, _page, _key: False) == 0


def test_only_what_nobody_can_be_writing_any_more_is_cleaned_away(tmp_path: Path) -> None:
    store = CutOutsStore(tmp_path)
    store.put(ONE, 1, "k1", PIECE)
    old, young = (tmp_path / CUT_OUTS / ONE / leftover_name() for _ in range(2))
    old.touch()
    young.touch()
    os.utime(old, (time.time() - 3600,) * 2)

    store.clean(ONE)

    assert (old.exists(), young.exists()) == (False, True)


@pytest.mark.parametrize(("sha256", "key"), [("../" + "a" * 61, "k1"), (ONE, "../k1"), (ONE, ""), ("A" * 64, "k1")])
def test_nothing_is_kept_outside_the_folder(tmp_path: Path, sha256: str, key: str) -> None:
    with pytest.raises(ValueError, match="cannot be part"):
        CutOutsStore(tmp_path).put(sha256, 1, key, PIECE)


def test_a_disk_that_refuses_is_told_of(tmp_path: Path) -> None:
    (tmp_path / ".derived").write_text("a file in the place of the folder", encoding="utf-8")

    with pytest.raises(WriteRefusedError):
        CutOutsStore(tmp_path).put(ONE, 1, "k1", PIECE)
