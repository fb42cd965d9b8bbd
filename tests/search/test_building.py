"""Only what changed is written, and whatever happens the old index or the new one answers."""

import multiprocessing
import os
import resource
import shutil
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from search.making import LAMP_PAGES, a_page, a_source, at, build, found, keys

from provenance.errors import DerivedDataError
from provenance.search import manifest
from provenance.search.building import Changes, _link, bring_up_to_date
from provenance.search.entries import Entry
from provenance.search.opening import open_verified

FORK = multiprocessing.get_context("fork")


def in_a_child(job: Callable[[], object]) -> int | None:
    """Run a job in a child process and give its exit code."""
    child = FORK.Process(target=job)
    child.start()
    child.join()
    return child.exitcode


def files_of(folder: Path) -> Path:
    (files,) = folder.glob("files-*")
    return files


def test_a_second_time_nothing_is_written_and_no_page_is_fetched(tmp_path: Path) -> None:
    build(tmp_path, LAMP_PAGES)
    before = {path: path.stat().st_mtime_ns for path in tmp_path.rglob("*") if path.name != "lock"}

    def refuse(key: str) -> Entry:
        raise AssertionError(key)

    changes = bring_up_to_date(at(tmp_path), {entry.key: entry.digest for entry in LAMP_PAGES}, refuse)

    assert changes == Changes(added=0, replaced=0, removed=0, kept=5)
    assert {path: path.stat().st_mtime_ns for path in tmp_path.rglob("*") if path.name != "lock"} == before


def test_only_what_is_new_or_changed_is_fetched(tmp_path: Path) -> None:
    many = [a_page("ledger", number, f"entry {number}") for number in range(1, 21)]
    build(tmp_path, many)
    wanted = {
        entry.key: entry for entry in [*many[2:], a_page("ledger", 3, "a cow-catcher"), a_page("ledger", 99, "x")]
    }
    fetched: list[str] = []
    progress: list[tuple[int, int]] = []

    def fetch(key: str) -> Entry:
        fetched.append(key)
        return wanted[key]

    digests = {key: entry.digest for key, entry in wanted.items()}
    changes = bring_up_to_date(at(tmp_path), digests, fetch, on_progress=lambda *done: progress.append(done))

    assert changes == Changes(added=1, replaced=1, removed=2, kept=17)
    assert fetched == ["ledger/p0003", "ledger/p0099"]
    assert progress == [(1, 2), (2, 2)]
    assert keys(found(tmp_path, "cow-catcher")) == ["ledger/p0003"]
    assert found(tmp_path, "entry").total == 17
    with open_verified(at(tmp_path)) as index:
        assert index.entries == digests


def test_an_index_of_nothing_answers(tmp_path: Path) -> None:
    changes = build(tmp_path, [])

    assert changes == Changes(added=0, replaced=0, removed=0, kept=0)
    assert found(tmp_path, "lamp").total == 0


def test_everything_can_be_taken_out_again(tmp_path: Path) -> None:
    build(tmp_path, LAMP_PAGES)

    changes = build(tmp_path, [])

    assert changes.removed == 5
    assert found(tmp_path, "lamp brack*").total == 0


def test_when_much_was_replaced_the_index_is_written_from_nothing(tmp_path: Path) -> None:
    many = [a_page("ledger", number, f"entry {number}") for number in range(1, 31)]
    build(tmp_path, many)
    build(tmp_path, [a_page("ledger", number, "changed once") for number in range(1, 10)] + many[9:])
    gone_before = manifest.read(at(tmp_path)).gone

    build(tmp_path, [a_page("ledger", number, "changed twice") for number in range(1, 10)] + many[9:])

    assert gone_before == 9
    assert manifest.read(at(tmp_path)).gone == 0
    assert found(tmp_path, "twice").total == 9
    assert found(tmp_path, "once").total == 0


def test_an_index_that_was_not_finished_is_said_and_built(tmp_path: Path) -> None:
    (tmp_path / "files-1").mkdir()

    changes = build(tmp_path, LAMP_PAGES)

    assert changes.rebuilt == "the index was not finished (manifest.json is missing); rebuilt"
    assert found(tmp_path, "spare").total == 1


def test_a_page_that_cannot_be_fetched_leaves_the_old_index(tmp_path: Path) -> None:
    build(tmp_path, LAMP_PAGES)

    def fail(key: str) -> Entry:
        raise OSError(5, "Input/output error", key)

    with pytest.raises(OSError, match="Input/output error"):
        bring_up_to_date(at(tmp_path), {"new": "1"}, fail)

    assert found(tmp_path, "spare").total == 1
    assert files_of(tmp_path).name == "files-1"
    assert build(tmp_path, [*LAMP_PAGES, a_page("new", 1, "x")]).added == 1


def test_the_entry_of_another_key_is_a_mistake_of_the_caller(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="asked for the entry 'a/p0001', got 'b'"):
        bring_up_to_date(at(tmp_path), {"a/p0001": "1"}, lambda _: a_source("b"))

    with pytest.raises(DerivedDataError, match="there is no search index"):
        open_verified(at(tmp_path))


def test_whoosh_never_writes_into_the_files_of_the_generation_before(tmp_path: Path) -> None:
    many = [a_page("ledger", number, f"entry {number}") for number in range(1, 101)]
    build(tmp_path, many)
    kept = tmp_path / "kept"
    kept.mkdir()
    for path in files_of(tmp_path).iterdir():
        os.link(path, kept / path.name)
    before = manifest.list_files(kept)

    for number in range(5):
        build(tmp_path, [*many[5:], a_page("ledger", number, f"changed {number}")])

    assert manifest.list_files(kept) == before


def test_killed_at_any_moment_the_old_index_answers_or_the_new_one(tmp_path: Path) -> None:
    old = [a_page("ledger", number, f"old entry {number}") for number in range(300)]
    new = [*old[50:], *(a_page("diary", number, f"new entry {number} " * 20) for number in range(100))]
    build(tmp_path / "old", old)
    shutil.copytree(tmp_path / "old", tmp_path / "whole")
    started = time.monotonic()
    build(tmp_path / "whole", new)
    lasts = time.monotonic() - started
    answers = []

    for step in range(12):
        index = tmp_path / f"index-{step}"
        shutil.copytree(tmp_path / "old", index)
        child = FORK.Process(target=build, args=(index, new))
        child.start()
        child.join(lasts * (0.4 + step / 10))
        child.kill()
        child.join()
        answers.append((found(index, "old").total, found(index, "new").total))
        assert build(index, new).rebuilt == ""
        assert found(index, "new").total == 100
        assert files_of(index).is_dir()

    assert set(answers) <= {(300, 0), (250, 100)}


def test_when_the_disk_is_full_the_old_index_answers(tmp_path: Path) -> None:
    build(tmp_path, LAMP_PAGES)

    def build_on_a_full_disk() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (20_000, 20_000))
        with pytest.raises(OSError, match="File too large"):
            build(tmp_path, [a_page("big", number, f"page {number} " * 200) for number in range(200)])

    assert in_a_child(build_on_a_full_disk) == 0
    assert found(tmp_path, "spare").total == 1
    assert build(tmp_path, LAMP_PAGES) == Changes(added=0, replaced=0, removed=0, kept=5)


def test_builders_wait_for_one_another_and_readers_never_see_half_an_index(tmp_path: Path) -> None:
    sets = [[a_page(name, number, f"entry {name} {number}") for number in range(60)] for name in ("ann", "ben")]
    build(tmp_path, sets[0])

    def build_often(entries: list[Entry]) -> None:
        for _ in range(6):
            build(tmp_path, entries)

    children = [FORK.Process(target=build_often, args=(entries,)) for entries in sets]
    for child in children:
        child.start()
    totals = set()
    while any(child.is_alive() for child in children):
        totals.add(found(tmp_path, "entry").total)

    assert [child.exitcode for child in children] == [0, 0]
    assert totals == {60}


def test_where_a_file_cannot_be_linked_it_is_copied(tmp_path: Path) -> None:
    elsewhere = Path("/dev/shm")  # another file system: links do not reach over
    if not elsewhere.is_dir() or elsewhere.stat().st_dev == tmp_path.stat().st_dev:
        pytest.skip("there is no second file system here")
    (tmp_path / "file").write_bytes(b"postings")
    with tempfile.TemporaryDirectory(dir=elsewhere) as folder:
        _link(tmp_path / "file", Path(folder) / "file")

        assert (Path(folder) / "file").read_bytes() == b"postings"
        assert (tmp_path / "file").stat().st_nlink == 1
