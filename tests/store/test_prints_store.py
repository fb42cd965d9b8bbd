import os
import time
from pathlib import Path

import pytest

from provenance.store.derived_leftovers import SURELY_LEFT_SECONDS
from provenance.store.prints_store import PRINTS, PrintsStore

DIGEST, OTHER = "a" * 64, "b" * 64
KEY, OLD = "k2", "k1"


def test_fingerprints_are_kept_by_original_page_and_method(tmp_path: Path) -> None:
    store = PrintsStore(tmp_path)

    store.put(DIGEST, 3, KEY, b"three")

    assert store.get(DIGEST, 3, KEY) == b"three"
    assert store.get(DIGEST, 4, KEY) is None
    assert store.get(DIGEST, 3, OLD) is None
    assert store.get(OTHER, 3, KEY) is None


def test_the_pages_done_and_those_tried_in_vain_are_told_by_one_look(tmp_path: Path) -> None:
    store = PrintsStore(tmp_path)
    store.put(DIGEST, 1, KEY, b"one")
    store.put(DIGEST, 2, OLD, b"two")
    store.put_failure(DIGEST, 5, KEY, "it took more time than one job may have")

    assert store.pages(DIGEST, KEY) == (frozenset({1}), frozenset({5}))
    written = (tmp_path / PRINTS / DIGEST / f"p0005-{KEY}.failed").read_text(encoding="utf-8")
    assert written == "it took more time than one job may have"


def test_a_page_that_is_done_after_all_is_no_longer_a_failure(tmp_path: Path) -> None:
    store = PrintsStore(tmp_path)
    store.put_failure(DIGEST, 5, KEY, "the process broke off")

    store.put(DIGEST, 5, KEY, b"five")

    assert store.pages(DIGEST, KEY) == (frozenset({5}), frozenset())


def test_a_file_of_which_a_power_cut_left_only_the_name_counts_for_nothing(tmp_path: Path) -> None:
    store = PrintsStore(tmp_path)
    store.put(DIGEST, 1, KEY, b"one")
    (tmp_path / PRINTS / DIGEST / f"p0001-{KEY}.print").write_bytes(b"")

    assert store.pages(DIGEST, KEY) == (frozenset(), frozenset())


def test_pruning_removes_what_is_not_to_be_kept_and_unfinished_files(tmp_path: Path) -> None:
    store = PrintsStore(tmp_path)
    store.put(DIGEST, 1, KEY, b"one")
    store.put(DIGEST, 1, OLD, b"old")
    store.put_failure(OTHER, 2, OLD, "no")
    (tmp_path / PRINTS / DIGEST / ".provenance-writing-1").write_bytes(b"half")

    gone = store.prune(lambda _digest, _page, key: key == KEY)

    assert gone == 2
    assert [path.name for path in sorted((tmp_path / PRINTS).rglob("*"))] == [DIGEST, f"p0001-{KEY}.print"]


def test_what_a_killed_writer_left_long_ago_is_cleaned_away(tmp_path: Path) -> None:
    store = PrintsStore(tmp_path)
    store.put(DIGEST, 1, KEY, b"one")
    left = tmp_path / PRINTS / DIGEST / ".provenance-writing-1"
    left.write_bytes(b"half")
    long_ago = time.time() - SURELY_LEFT_SECONDS - 1
    os.utime(left, (long_ago, long_ago))

    store.clean(DIGEST)

    assert not left.exists()
    assert store.get(DIGEST, 1, KEY) == b"one"


@pytest.mark.parametrize(("digest", "key"), [("../x", KEY), (DIGEST, "../x"), (DIGEST, ""), (DIGEST.upper(), KEY)])
def test_nothing_is_kept_outside_its_folder(tmp_path: Path, digest: str, key: str) -> None:
    with pytest.raises(ValueError, match="cannot be part of the place of what is derived from an original"):
        PrintsStore(tmp_path).put(digest, 1, key, b"one")
