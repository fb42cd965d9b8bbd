"""The picture index: what it names beside a comparison with everything, and that no state of it is half."""

import os
import random
import resource
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest
from checkout import ROOT
from likeness.made_prints import a_print, flipped, showing, turned
from PIL import Image

from provenance.errors import WriteRefusedError
from provenance.likeness import index_merging, index_segments, picture_index
from provenance.likeness.index_files import LISTING, Listed, read_listing, write_listing
from provenance.likeness.picture_forms import take_as
from provenance.likeness.picture_index import LEAST_VOTES, PictureIndex
from provenance.likeness.prints import print_of
from provenance.likeness.proof import Query
from provenance.likeness.values import Form, PicturePrint
from provenance.records.readings import Box

HELD = {f"{seed:064}/p0001/0": a_print(seed) for seed in range(60)}
KEYS = list(HELD)
SOUGHT = [11, 23, 42]

Shades = npt.NDArray[np.uint8]


def an_index(folder: Path, held: dict[str, PicturePrint] | None = None) -> PictureIndex:
    index = PictureIndex(folder)
    index.add((HELD if held is None else held).items())
    return index


def names(index: PictureIndex, asked: PicturePrint, most: int = 40, without: tuple[str, ...] = ()) -> list[str]:
    return [found.key for found in index.candidates(Query(asked), most=most, without=without)]


def nearest_by_all_marks(asked: PicturePrint) -> str:
    """The held picture of which most marks lie within 40 bits of one of those asked about: everything compared."""
    mine = np.unpackbits(asked.marks, axis=1).astype(np.int32)
    met = {}
    for key, held in HELD.items():
        theirs = np.unpackbits(held.marks, axis=1).astype(np.int32)
        apart = mine.sum(axis=1)[:, None] + theirs.sum(axis=1)[None, :] - 2 * mine @ theirs.T
        met[key] = int((apart.min(axis=0) <= 40).sum())
    return max(met, key=lambda key: met[key])


@pytest.mark.parametrize("seed", SOUGHT)
@pytest.mark.parametrize(
    ("bits", "degrees", "factor"), [(0.02, 0, 1.0), (0.05, 5, 0.5), (0.08, 90, 1.7), (0.1, 200, 1.2)]
)
def test_the_first_candidate_is_the_one_that_comparing_everything_finds(
    tmp_path: Path, seed: int, bits: float, degrees: float, factor: float
) -> None:
    index = an_index(tmp_path)
    asked = turned(flipped(HELD[KEYS[seed]], bits, seed), degrees, factor, 500 + seed)

    found = names(index, asked)

    assert found[0] == nearest_by_all_marks(asked) == KEYS[seed]


@pytest.mark.parametrize("form", list(Form))
def test_a_picture_is_found_as_its_mirror_image_and_its_negative(tmp_path: Path, form: Form) -> None:
    index = an_index(tmp_path)
    points, marks = take_as(HELD[KEYS[7]], form)

    found = names(index, replace(a_print(900), points=points, marks=marks))

    assert found[0] == KEYS[7]


@pytest.mark.parametrize("lies", [np.fliplr, np.flipud, np.rot90, lambda small: 255 - small])
def test_a_picture_without_points_in_common_is_found_by_its_hash_however_it_lies(
    tmp_path: Path, lies: Callable[[Shades], Shades]
) -> None:
    hills = np.add.outer(np.arange(64) ** 2 / 32, 90 * np.sin(np.arange(80) / 9)) + 60
    evening = np.clip(hills, 0, 255).astype(np.uint8)
    index = an_index(tmp_path, {**HELD, "evening": showing(a_print(900), evening)})

    found = index.candidates(Query(showing(a_print(901), np.ascontiguousarray(lies(evening)))))

    assert [each.key for each in found if each.votes < LEAST_VOTES] == ["evening"]


def test_many_pictures_of_one_hash_and_many_of_the_same_points_leave_room_for_each_other(tmp_path: Path) -> None:
    asked = a_print(77)
    forms = {f"form {n:03}": showing(a_print(1000 + n), asked.small) for n in range(40)}
    prints = {f"print {n:03}": showing(flipped(asked, 0.1, n), a_print(n).small) for n in range(40)}
    index = an_index(tmp_path, {**forms, **prints})

    found = names(index, asked, most=20)

    assert [name[:5] for name in found] == 15 * ["print"] + 5 * ["form "]
    assert len(names(index, asked, most=100)) == 80


def test_a_thousand_prints_of_one_photograph_give_as_many_as_were_asked_for(tmp_path: Path) -> None:
    photograph = a_print(5)
    index = an_index(tmp_path, {**HELD, **{f"print {n:04}": flipped(photograph, 0.03, n) for n in range(1000)}})

    found = index.candidates(Query(photograph), most=60)

    assert len(found) == 60
    assert {each.key for each in found} <= {f"print {n:04}" for n in range(1000)} | {KEYS[5]}
    assert min(each.votes for each in found) > 2 * LEAST_VOTES


def test_blank_pages_have_no_print_that_could_be_held() -> None:
    for shade in (255, 128, 0):
        assert print_of(Image.new("L", (1240, 1754), shade), Box(0, 0, 100, 100)) is None


def test_parts_of_one_page_are_named_each_by_itself(tmp_path: Path) -> None:
    page = "f" * 64 + "/p0003/"
    index = an_index(tmp_path, {**HELD, page + "0": a_print(200), page + "1": a_print(201)})

    assert names(index, flipped(a_print(201), 0.05, 1))[0] == page + "1"
    assert names(index, flipped(a_print(200), 0.05, 1))[0] == page + "0"


def test_keys_that_are_not_wanted_are_not_named_and_do_not_count(tmp_path: Path) -> None:
    photograph = a_print(5)
    prints = {f"print {n}": flipped(photograph, 0.02 * n, n) for n in range(8)}
    index = an_index(tmp_path, prints)

    everything = names(index, photograph, most=8)
    without = names(index, photograph, most=5, without=(*everything[:3], "never held"))

    assert len(everything) == 8
    assert without == everything[3:]


def test_what_agrees_by_chance_alone_is_no_candidate(tmp_path: Path) -> None:
    index = an_index(tmp_path)

    assert all(each.votes >= LEAST_VOTES for each in index.candidates(Query(a_print(999))))
    assert len(index.candidates(Query(a_print(999)))) < 20
    assert index.candidates(Query(HELD[KEYS[0]]), most=0) == ()


def test_an_empty_index_has_nothing_to_name_and_writes_nothing(tmp_path: Path) -> None:
    index = PictureIndex(tmp_path / "index")

    index.add(())
    index.drop(KEYS)

    assert index.keys == frozenset()
    assert index.candidates(Query(HELD[KEYS[0]])) == ()
    assert not (tmp_path / "index").exists()


def test_the_answer_does_not_depend_on_the_order_of_adding_nor_on_what_was_merged(tmp_path: Path) -> None:
    asked = Query(turned(flipped(HELD[KEYS[42]], 0.08, 1), 30, 1.2, 7))
    at_once = an_index(tmp_path / "at once").candidates(asked)
    shuffled = KEYS[:]

    for seed in range(3):
        random.Random(seed).shuffle(shuffled)
        index = PictureIndex(tmp_path / f"one by one {seed}")
        while shuffled[: len(index.keys)] != shuffled:
            some = shuffled[len(index.keys) : len(index.keys) + 1 + 3 * seed]
            index.add((key, HELD[key]) for key in some)

        assert index.candidates(asked) == at_once
        assert PictureIndex(tmp_path / f"one by one {seed}").candidates(asked) == at_once

    assert len(at_once) > 1


def test_a_picture_of_a_key_that_is_there_takes_the_place_of_the_earlier_one(tmp_path: Path) -> None:
    index = an_index(tmp_path)

    index.add([(KEYS[3], a_print(300)), (KEYS[4], a_print(301)), (KEYS[4], a_print(302))])

    assert index.keys == frozenset(KEYS)
    assert names(index, a_print(300))[0] == KEYS[3]
    assert names(index, a_print(302))[0] == KEYS[4]
    for earlier in (HELD[KEYS[3]], HELD[KEYS[4]], a_print(301)):
        assert max((each.votes for each in index.candidates(Query(earlier))), default=0) < 20


def test_more_pictures_than_fit_into_one_segment_are_added_in_one_step(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    expected = an_index(tmp_path / "one").candidates(Query(HELD[KEYS[9]]))
    for module in (picture_index, index_merging, index_segments):
        monkeypatch.setattr(module, "MOST_PICTURES", 16)  # the limit alone is lower: 4,096 pictures take a minute

    index = PictureIndex(tmp_path / "several")
    index.add([*HELD.items(), (KEYS[0], HELD[KEYS[0]])])

    assert len(list((tmp_path / "several").glob("*.segment"))) == 4
    assert index.keys == PictureIndex(tmp_path / "several").keys == frozenset(KEYS)
    assert [each.key for each in index.candidates(Query(HELD[KEYS[9]]))] == [each.key for each in expected]


def test_what_is_dropped_is_not_named_from_then_on(tmp_path: Path) -> None:
    index = an_index(tmp_path)
    asked = Query(HELD[KEYS[11]])
    before = index.candidates(asked)

    index.drop(key for key in (KEYS[11], KEYS[12], "never held"))

    assert index.keys == PictureIndex(tmp_path).keys == frozenset(KEYS) - {KEYS[11], KEYS[12]}
    expected = tuple(each for each in before if each.key not in {KEYS[11], KEYS[12]})
    assert index.candidates(asked) == PictureIndex(tmp_path).candidates(asked) == expected
    index.add([(KEYS[11], HELD[KEYS[11]])])
    assert names(index, HELD[KEYS[11]])[0] == KEYS[11]


def test_what_is_dropped_frees_its_place_on_the_disk(tmp_path: Path) -> None:
    index = an_index(tmp_path)
    full = size_of(tmp_path)

    index.drop(KEYS[:50])
    assert size_of(tmp_path) < full / 4

    index.drop(KEYS)
    assert index.keys == frozenset()
    assert [path.name for path in tmp_path.iterdir()] == [LISTING]


def size_of(folder: Path) -> int:
    return sum(path.stat().st_size for path in folder.iterdir())


def test_a_reader_goes_on_with_the_state_that_it_opened(tmp_path: Path) -> None:
    an_index(tmp_path)
    asked = Query(HELD[KEYS[20]])
    reader = PictureIndex(tmp_path)
    before = reader.candidates(asked)

    writer = PictureIndex(tmp_path)
    for seed in range(300, 320):
        writer.add([(f"new {seed}", a_print(seed))])
    writer.drop(KEYS[:40])

    assert reader.candidates(asked) == before
    assert reader.keys == frozenset(KEYS)
    assert PictureIndex(tmp_path).keys == writer.keys != reader.keys


def test_one_who_adds_after_another_loses_nothing_of_what_the_other_wrote(tmp_path: Path) -> None:
    first, second = PictureIndex(tmp_path), PictureIndex(tmp_path)

    first.add([("a", a_print(1))])
    second.add([("b", a_print(2))])
    first.drop(["b"])
    second.add([("c", a_print(3))])

    assert PictureIndex(tmp_path).keys == second.keys == {"a", "c"}


def test_what_a_killed_writer_left_is_not_read_and_goes_with_the_next_writing(tmp_path: Path) -> None:
    index = an_index(tmp_path)
    (tmp_path / f".unfinished-{'0' * 16}").write_bytes(b"half")
    another = an_index(tmp_path / "another", {"stray": a_print(1)})
    stray = next((tmp_path / "another").glob("*.segment"))
    (tmp_path / stray.name).write_bytes(stray.read_bytes())
    (tmp_path / "a note of mine.txt").write_text("stays")

    assert PictureIndex(tmp_path).keys == index.keys
    assert another.keys == {"stray"}
    index.add([("new", a_print(2))])

    left = {path.name for path in tmp_path.iterdir() if path.is_file()}
    assert left == {LISTING, "a note of mine.txt", *(each.file for each in read_listing(tmp_path))}


_ADDING = """
import sys
from pathlib import Path
from likeness.made_prints import a_print
from provenance.likeness.picture_index import PictureIndex

index = PictureIndex(Path(sys.argv[1]))
for seed in range(len(index.keys), 100_000):
    index.add([(f"{seed:06}", a_print(seed, points=20))])
    print(seed, flush=True)
"""


def test_a_writer_that_is_killed_at_any_moment_leaves_a_whole_state(tmp_path: Path) -> None:
    reached = 0
    for kill in range(3):
        with subprocess.Popen(
            [sys.executable, "-c", _ADDING, str(tmp_path)],
            env={**os.environ, "PYTHONPATH": f"{ROOT}{os.pathsep}{ROOT / 'tests'}"},
            stdout=subprocess.PIPE,
            text=True,
        ) as writer:
            assert writer.stdout is not None
            for line in writer.stdout:
                if int(line) >= reached + 20 + kill:
                    break
            time.sleep(0.001 * kill)
            writer.send_signal(signal.SIGKILL)
            told = [int(line), *(int(rest) for rest in writer.stdout if rest.endswith("\n"))]

        keys = sorted(PictureIndex(tmp_path).keys)

        assert keys == [f"{seed:06}" for seed in range(len(keys))]
        assert len(keys) >= told[-1] + 1  # what was told of as added is there
        reached = len(keys)


@pytest.mark.parametrize("damage", ["zeros", "cut", "gone", "another", "link", "pipe", "folder"])
def test_a_damaged_segment_counts_as_not_there_and_its_pictures_can_be_added_again(tmp_path: Path, damage: str) -> None:
    index = an_index(tmp_path)
    index.add([("late", a_print(300))])
    expected = index.candidates(Query(HELD[KEYS[30]]))
    largest = max(tmp_path.glob("*.segment"), key=lambda path: path.stat().st_size)
    spoil(largest, damage)

    opened = PictureIndex(tmp_path)
    assert opened.keys == {"late"}
    assert names(opened, a_print(300)) == ["late"]

    if damage == "folder":
        largest.rmdir()  # nothing of ours makes one; whoever did has to take it away
    opened.add(HELD.items())
    assert opened.keys == PictureIndex(tmp_path).keys == index.keys
    assert (
        opened.candidates(Query(HELD[KEYS[30]])) == PictureIndex(tmp_path).candidates(Query(HELD[KEYS[30]])) == expected
    )


def spoil(path: Path, damage: str) -> None:
    whole = path.read_bytes()
    path.unlink()
    if damage == "zeros":
        half = len(whole) // 2
        path.write_bytes(whole[:half] + bytes(4096) + whole[half + 4096 :])
    elif damage == "cut":
        path.write_bytes(whole[: len(whole) // 2])
    elif damage == "another":
        path.write_bytes(b"a letter from somebody else" * 100)
    elif damage == "link":
        (path.parent / "elsewhere").write_bytes(whole)
        path.symlink_to(path.parent / "elsewhere")
    elif damage == "pipe":
        os.mkfifo(path)
    elif damage == "folder":
        path.mkdir()


@pytest.mark.parametrize(
    "listing",
    [
        b"",
        b"[]",
        b"{}",
        b"\xff\xfe",
        b'{"digest": "0", "segments": []}',
        b'{"digest": 0, "segments": [["../../elsewhere", []]]}',
        b"[" * 100_000,
    ],
)
def test_a_damaged_list_counts_as_an_empty_index(tmp_path: Path, listing: bytes) -> None:
    an_index(tmp_path)
    (tmp_path / LISTING).write_bytes(listing)

    index = PictureIndex(tmp_path)
    assert index.keys == frozenset()

    index.add([("new", a_print(1))])
    assert PictureIndex(tmp_path).keys == {"new"}
    assert len(list(tmp_path.glob("*.segment"))) == 1


def test_a_list_that_names_files_outside_or_pictures_that_are_not_there_is_not_believed(tmp_path: Path) -> None:
    an_index(tmp_path / "index")
    (listed,) = read_listing(tmp_path / "index")
    (tmp_path / listed.file).write_bytes((tmp_path / "index" / listed.file).read_bytes())

    write_listing(tmp_path / "index", (replace(listed, known_by=f"../{listed.known_by}"),))
    assert read_listing(tmp_path / "index") == ()
    assert PictureIndex(tmp_path / "index").keys == frozenset()

    an_index(tmp_path / "index")
    write_listing(tmp_path / "index", (replace(listed, dropped=(60,)),))
    assert PictureIndex(tmp_path / "index").keys == frozenset()


def test_an_index_of_another_method_counts_as_empty(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(index_segments, "MADE_BY", "picture points 0")  # as an earlier version wrote it
    an_index(tmp_path)
    monkeypatch.undo()

    assert PictureIndex(tmp_path).keys == frozenset()


def test_a_merge_between_reading_the_list_and_opening_its_segments_does_not_disturb(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    writer = PictureIndex(tmp_path)
    for key in KEYS[:3]:
        writer.add([(key, HELD[key])])
    late = iter([KEYS[3]])

    def read_then_merged(folder: Path) -> tuple[Listed, ...]:
        listing = read_listing(folder)
        for key in late:
            writer.add([(key, HELD[key])])  # the fourth: all four become one, and the three are removed
        return listing

    monkeypatch.setattr(picture_index, "read_listing", read_then_merged)  # the real one, and a writer just after it

    assert PictureIndex(tmp_path).keys == set(KEYS[:4])


def test_a_disk_that_refuses_leaves_the_index_as_it_was(tmp_path: Path) -> None:
    index = an_index(tmp_path)
    before = sorted(path.name for path in tmp_path.iterdir())

    with no_file_over(1000), pytest.raises(WriteRefusedError, match="cannot be written: File too large") as refused:
        index.add([("new", a_print(1))])

    assert str(tmp_path) in refused.value.what
    assert refused.value.mend
    assert index.keys == PictureIndex(tmp_path).keys == frozenset(KEYS)
    assert sorted(path.name for path in tmp_path.iterdir()) == before


@contextmanager
def no_file_over(octets: int) -> Iterator[None]:
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (octets, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


def test_marks_of_sixteen_bytes_and_of_thirty_two_can_be_held_side_by_side(tmp_path: Path) -> None:
    index = an_index(tmp_path, {**HELD, "short": a_print(500, octets=16)})

    assert names(index, a_print(500, octets=16))[0] == "short"
    assert names(index, HELD[KEYS[1]])[0] == KEYS[1]
