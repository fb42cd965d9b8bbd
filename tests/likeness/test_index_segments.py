"""Segments of the picture index: the same pictures make the same file, and no damaged file is believed."""

import hashlib
import io
import json
import os
from pathlib import Path

import numpy as np
import pytest
from likeness.made_prints import a_print

from provenance.likeness.bit_sampling import TABLES, keys_of
from provenance.likeness.index_segments import Segment, as_pose, build, digest, merge, open_segment, sample, write

SAMPLES = {f"{seed:02}": sample(a_print(seed, points=seed)) for seed in (0, 1, 40, 7, 300)}
ALL = np.ones(len(SAMPLES), np.bool_)


def as_bytes(segment: Segment) -> bytes:
    file = io.BytesIO()
    write(segment, file)
    return file.getvalue()


def written(segment: Segment, folder: Path) -> tuple[Path, str]:
    path = folder / "a"
    with path.open("wb") as file:
        known_by = write(segment, file)
    return path, known_by


def part(*names: str) -> Segment:
    return build({name: SAMPLES[name] for name in names})


def test_every_point_of_every_picture_stands_in_every_table_once_and_in_order_of_keys() -> None:
    segment = build(SAMPLES)

    assert segment.names == ("00", "01", "07", "300", "40")
    for table in range(TABLES):
        keys = segment.keys[table].tolist()
        assert keys == sorted(keys)
        stands = sorted(zip(keys, segment.entries[table].tolist(), strict=True))
        expected = sorted(
            (key, number << 16 | pose)
            for number, name in enumerate(sorted(SAMPLES))
            for key, pose in zip(SAMPLES[name].keys[table].tolist(), SAMPLES[name].poses.tolist(), strict=True)
        )
        assert stands == expected


def test_directions_are_kept_in_256ths_of_a_turn_and_sizes_in_eighths_of_a_doubling() -> None:
    points = np.array([[0, 0, 1, 0], [0, 0, 2, 90], [0, 0, 4, 359.9], [0, 0, 0, 180], [0, 0, 1e30, 270]], np.float32)

    poses = as_pose(points).tolist()

    assert [pose >> 8 for pose in poses] == [0, 64, 0, 128, 192]
    assert [pose & 255 for pose in poses] == [64, 72, 80, 0, 255]


def test_the_same_pictures_make_the_same_file_in_whatever_order_and_parts_they_came() -> None:
    whole = as_bytes(build(SAMPLES))

    turned_round = as_bytes(build(dict(reversed(SAMPLES.items()))))
    in_parts = as_bytes(merge([(part("40", "01"), ALL[:2]), (part("300"), ALL[:1]), (part("07", "00"), ALL[:2])]))

    assert turned_round == whole
    assert in_parts == whole


def test_what_is_dropped_is_gone_when_segments_become_one() -> None:
    merged = merge([(build(SAMPLES), np.array([True, False, True, False, False])), (part("300"), ALL[:1])])

    names = sorted(SAMPLES)
    assert as_bytes(merged) == as_bytes(part(names[0], names[2], "300"))


def test_a_segment_is_mapped_back_as_it_was_written(tmp_path: Path) -> None:
    segment = build(SAMPLES)

    mapped = open_segment(*written(segment, tmp_path))

    assert mapped.names == segment.names
    for array in ("hashes", "counts", "keys", "entries"):
        np.testing.assert_array_equal(getattr(mapped, array), getattr(segment, array))


def test_no_byte_of_a_segment_can_change_unnoticed(tmp_path: Path) -> None:
    path, known_by = written(part("07", "01"), tmp_path)
    sound = path.read_bytes()
    padding = set(range(len(sound))) - set(meant(sound))

    for place in range(0, len(sound), 3):
        damaged = bytearray(sound)
        damaged[place] ^= 0x10
        path.write_bytes(damaged)
        if place in padding:  # the gap before the next array, which nobody reads
            open_segment(path, known_by)
        else:
            with pytest.raises(ValueError, match=r"it|parts"):
                open_segment(path, known_by)


def meant(data: bytes) -> "set[int]":
    """The places of a segment's file that mean something: all but the gaps between arrays."""
    length = int.from_bytes(data[40:48], "little")
    arrays = json.loads(data[48 : 48 + length])["arrays"]
    widths = {"hashes": 8, "counts": 4, "keys": 4, "entries": 4}
    places = set(range(48 + length))
    for name, about in arrays.items():
        begins = 48 + length + about["at"]
        places |= set(range(begins, begins + widths[name] * int(np.prod(about["shape"]))))
    return places


@pytest.mark.parametrize("kept", [0, 1, 47, 48, 700, -1])
def test_a_segment_that_was_cut_short_is_refused(tmp_path: Path, kept: int) -> None:
    path, known_by = written(build(SAMPLES), tmp_path)
    path.write_bytes(path.read_bytes()[:kept])

    with pytest.raises(ValueError, match=r"cut short|written|length"):
        open_segment(path, known_by)


def test_a_segment_with_a_tail_is_refused(tmp_path: Path) -> None:
    path, known_by = written(build(SAMPLES), tmp_path)
    path.write_bytes(path.read_bytes() + b"x")

    with pytest.raises(ValueError, match="length"):
        open_segment(path, known_by)


def test_a_whole_segment_under_the_name_of_another_is_refused(tmp_path: Path) -> None:
    path, _ = written(part("07"), tmp_path)

    with pytest.raises(ValueError, match="not the segment"):
        open_segment(path, hashlib.sha256(b"another").hexdigest())


def forged(told: object, body: bytes, folder: Path) -> tuple[Path, str]:
    """A file whose heading agrees with whatever stands in it."""
    description = json.dumps(told).encode("ascii")
    known_by = hashlib.sha256(description)
    path = folder / "forged"
    path.write_bytes(b"picture\n" + known_by.digest() + len(description).to_bytes(8, "little") + description + body)
    return path, known_by.hexdigest()


def description_of(path: Path) -> "tuple[dict[str, object], bytes]":
    data = path.read_bytes()
    length = int.from_bytes(data[40:48], "little")
    return json.loads(data[48 : 48 + length]), data[48 + length :]


@pytest.mark.parametrize(
    ("changes", "what"),
    [
        ({"made by": "another method"}, "another method"),
        ({"names": ["b", "a"]}, "do not agree"),
        ({"names": ["a"]}, "do not agree"),
        ({"names": ["a", "a"]}, "do not agree"),
        ({"names": None}, "lacks"),
        ({"arrays": {}}, "lacks"),
        ({"bytes": "many"}, "lacks"),
        ({"bytes": 5}, "length"),
    ],
)
def test_a_description_that_does_not_fit_is_refused_though_its_digest_agrees(
    tmp_path: Path, changes: "dict[str, object]", what: str
) -> None:
    told, body = description_of(written(part("07", "01"), tmp_path)[0])

    with pytest.raises(ValueError, match=what):
        open_segment(*forged({**told, **changes}, body, tmp_path))


def test_points_of_pictures_that_are_not_there_are_refused_though_all_digests_agree(tmp_path: Path) -> None:
    sound = part("07", "01")
    entries = sound.entries.copy()
    entries[3, 2] = 2 << 16
    bad = Segment(names=sound.names, hashes=sound.hashes, counts=sound.counts, keys=sound.keys, entries=entries)

    with pytest.raises(ValueError, match="do not agree"):
        open_segment(*written(bad, tmp_path))


@pytest.mark.parametrize("shape", [[-1], [2**62], [[2]], "x", None])
def test_a_shape_that_no_array_has_is_refused(tmp_path: Path, shape: object) -> None:
    told, body = description_of(written(part("07", "01"), tmp_path)[0])
    arrays = told["arrays"]
    assert isinstance(arrays, dict)
    arrays["keys"]["shape"] = shape

    with pytest.raises(ValueError, match=r"."):
        open_segment(*forged(told, body, tmp_path))


def test_a_segment_is_read_through_no_link_and_from_no_pipe(tmp_path: Path) -> None:
    path, known_by = written(part("07"), tmp_path)
    (tmp_path / "link").symlink_to(path)
    os.mkfifo(tmp_path / "pipe")

    with pytest.raises(OSError, match="symbolic links"):
        open_segment(tmp_path / "link", known_by)
    with pytest.raises(ValueError, match="ordinary"):
        open_segment(tmp_path / "pipe", known_by)


def test_blocks_that_changed_places_change_the_digest() -> None:
    blocks = np.random.default_rng(1).integers(0, 256, (3, 1 << 16), dtype=np.uint8)

    assert digest(blocks.ravel()) != digest(blocks[[1, 0, 2]].ravel())


def test_the_keys_of_a_sample_are_those_of_its_marks() -> None:
    picture = a_print(5)

    np.testing.assert_array_equal(sample(picture).keys, keys_of(picture.marks))
