import hashlib
from collections import Counter
from collections.abc import Iterable
from itertools import combinations

import numpy as np
import pytest
from likeness.base_pictures import Base, Half, Kind, bases, forms, scenes, tile_of
from likeness.drawn_pictures import blank
from PIL import Image

QUICK = tuple(base for base in bases() if not base.name.startswith(("engraving", "scene", "book", "parts", "type")))


def _digest(picture: Image.Image) -> str:
    return hashlib.sha256(repr(picture.size).encode() + picture.tobytes()).hexdigest()


def _spread(picture: Image.Image) -> float:
    """How far light and dark lie apart, beyond what noise alone does: over patches of eight pixels."""
    small = picture.resize((picture.width // 8, picture.height // 8), Image.Resampling.BOX)
    return float(np.asarray(small, dtype=np.float64).std())


def _assert_sound(chosen: Iterable[Base]) -> None:
    digests, faults = Counter[str](), []
    for base in chosen:
        picture = base.picture()
        digests[_digest(picture)] += 1
        if picture.mode != "L" or min(picture.size) < 180 or _spread(picture) < 4:
            faults.append(base.name)
    assert faults == []
    assert max(digests.values()) == 1


def test_two_hundred_pictures_of_every_kind_are_there_to_report_on() -> None:
    reported = [base for base in bases() if base.half is Half.REPORTING]

    assert len(reported) >= 200
    assert {base.kind for base in reported} == set(Kind)
    assert len({base.name for base in bases()}) == len(bases())


def test_pictures_that_have_something_to_do_with_each_other_are_in_one_half() -> None:
    pairs = (*scenes(), *forms())

    assert all(one.family == other.family and one.half is other.half for one, other in pairs)
    assert {base.half for base in bases()} == set(Half)


def test_of_one_scene_or_form_one_picture_alone_is_among_the_pictures_that_have_nothing_in_common() -> None:
    drawn = Counter(base.family for base in bases() if base.whence not in {"scikit-image", "PyWavelets"})

    assert set(drawn.values()) == {1}


def test_tiles_of_a_picture_share_no_pixel() -> None:
    numbers = np.arange(60 * 41, dtype=np.int32).reshape(41, 60)
    whole = Image.fromarray(numbers)

    tiles = [set(np.asarray(tile_of(whole, 3, 2, number)).ravel().tolist()) for number in range(6)]

    assert all(one.isdisjoint(other) for one, other in combinations(tiles, 2))
    assert sum(map(len, tiles)) == 60 * 40


def test_pictures_that_packages_and_the_sample_archive_carry_differ_and_are_not_blank() -> None:
    _assert_sound(base for base in QUICK if base.whence != "drawn from a seed")


@pytest.mark.long
def test_no_two_pictures_are_equal_and_none_is_blank() -> None:
    _assert_sound(bases())


def test_a_picture_is_made_the_same_each_time() -> None:
    by_kind = {base.name.split()[0]: base for base in (*QUICK, scenes()[1][0])}

    changed = [base.name for base in by_kind.values() if _digest(base.picture()) != _digest(base.picture())]

    assert changed == []


def test_two_entries_in_one_form_share_its_print_and_not_its_writing() -> None:
    one, other = next(pair for pair in forms() if pair[0].name == "form 3, entry 1")
    sheet, places = blank(3)

    inks = [np.asarray(base.picture(), dtype=np.float64) < 140 for base in (one, other)]
    printed = np.asarray(sheet) < 140
    left, top, right, bottom = places[0]

    shares = [float(_near(ink)[printed].mean()) for ink in inks]
    assert min(shares) > 0.8
    written = [ink[top:bottom, left:right] for ink in inks]
    assert float((written[0] & written[1]).sum()) < 0.6 * max(float(ink.sum()) for ink in written)


def _near(ink: "np.ndarray[tuple[int, ...], np.dtype[np.bool_]]") -> "np.ndarray[tuple[int, ...], np.dtype[np.bool_]]":
    """Where ink is at most a dozen pixels away: sheets lie a little aslant on the scanner."""
    grown = ink.copy()
    for axis in (0, 1):
        grown = np.any([np.roll(grown, step, axis) for step in range(-12, 13)], axis=0)
    return grown


def test_two_views_of_one_scene_differ_by_more_than_a_print_and_its_rescan() -> None:
    one, other = scenes()[1]

    light = [np.asarray(base.picture(), dtype=np.float64) for base in (one, other)]

    assert float(np.corrcoef(light[0].ravel(), light[1].ravel())[0, 1]) < 0.8
