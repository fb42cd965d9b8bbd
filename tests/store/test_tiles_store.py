import os
import time
from pathlib import Path

import pytest

from provenance.errors import WriteRefusedError
from provenance.store.staging import leftover_name
from provenance.store.tiles_store import TILES, TilesStore

ONE, OTHER = "a" * 64, "b" * 64


def test_tiles_lie_where_they_are_looked_for(tmp_path: Path) -> None:
    store = TilesStore(tmp_path)

    kept = store.put(ONE, 3, "k1", b"tiles")

    assert kept == store.place(ONE, 3, "k1") == tmp_path / TILES / ONE / "p0003-k1.tiles"
    assert kept.read_bytes() == b"tiles"
    assert store.put(ONE, 3, "k1", b"newer").read_bytes() == b"newer"


def test_what_is_not_to_be_kept_goes_with_what_killed_writers_left(tmp_path: Path) -> None:
    store = TilesStore(tmp_path)
    for sha256, page in ((ONE, 1), (ONE, 2), (OTHER, 1)):
        store.put(sha256, page, "k1", b"tiles")
    leftover, strange = (tmp_path / TILES / ONE / name for name in (leftover_name(), "notes.txt"))
    leftover.touch()
    strange.touch()

    gone = store.prune(lambda sha256, page, key: (sha256, page, key) == (ONE, 1, "k1"))

    assert gone == 2
    assert store.place(ONE, 1, "k1").exists()
    assert not leftover.exists()
    assert strange.exists()
    assert not (tmp_path / TILES / OTHER).exists()


def test_nothing_is_pruned_where_nothing_was_kept(tmp_path: Path) -> None:
    assert TilesStore(tmp_path).prune(lambda _sha256, _page, _key: False) == 0


def test_only_what_nobody_can_be_writing_any_more_is_cleaned_away(tmp_path: Path) -> None:
    store = TilesStore(tmp_path)
    store.put(ONE, 1, "k1", b"tiles")
    young, old = (tmp_path / TILES / ONE / leftover_name() for _ in range(2))
    for each in (young, old):
        each.touch()
    os.utime(old, (time.time() - 3600,) * 2)

    store.clean(ONE)

    assert (young.exists(), old.exists()) == (True, False)
    assert store.place(ONE, 1, "k1").exists()


@pytest.mark.parametrize("place", [("../x", "k1"), (ONE, "../k1"), (ONE.upper(), "k1"), (ONE, "")])
def test_no_name_leads_out_of_the_folder(tmp_path: Path, place: tuple[str, str]) -> None:
    with pytest.raises(ValueError, match="cannot be part of the place"):
        TilesStore(tmp_path).place(place[0], 1, place[1])


def test_a_disk_that_refuses_is_told(tmp_path: Path) -> None:
    (tmp_path / ".derived").write_text("no folder", encoding="utf-8")

    with pytest.raises(WriteRefusedError):
        TilesStore(tmp_path).put(ONE, 1, "k1", b"tiles")
