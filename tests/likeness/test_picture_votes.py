"""Votes: what agrees on a turn and a change of size, against a sum by hand over every pair of points."""

from collections import Counter, defaultdict
from collections.abc import Sequence

import numpy as np
import pytest
from likeness.made_prints import a_print, flipped, turned

from provenance.likeness import picture_votes
from provenance.likeness.bit_sampling import keys_of
from provenance.likeness.index_segments import build, sample
from provenance.likeness.picture_forms import take_as
from provenance.likeness.picture_votes import ask, count_votes
from provenance.likeness.values import Form, PicturePrint

HELD = {f"held {seed}": a_print(seed, points=60) for seed in range(8)}


def votes_for(asked: Sequence[PicturePrint], held: dict[str, PicturePrint]) -> dict[str, float]:
    segment = build({key: sample(picture) for key, picture in held.items()})
    (votes,) = count_votes([segment], ask([(each.points, each.marks) for each in asked]))
    return dict(zip(segment.names, votes.tolist(), strict=True))


def summed_by_hand(asked: PicturePrint, held: PicturePrint) -> float:
    """Every pair of points with one key, put into 16 turns and half doublings; the fullest two by two of them.

    A pair weighs less the more points of all pictures have its key, and the more of this one.
    """
    places: dict[tuple[int, int], float] = defaultdict(float)
    in_all = [Counter(np.concatenate(keys).tolist()) for keys in zip(*map(table_keys, HELD.values()), strict=True)]
    for mine, theirs, often in zip(keys_of(asked.marks).tolist(), keys_of(held.marks).tolist(), in_all, strict=True):
        for i, key in enumerate(mine):
            for j in (j for j, other in enumerate(theirs) if other == key):
                turn = step_of_turn(held, j) - step_of_turn(asked, i)
                factor = step_of_size(held, j) - step_of_size(asked, i)
                place = (turn + 8) % 256 // 16, min(15, max(0, (factor + 2) // 4 + 8))
                places[place] += often[key] ** -0.75 / theirs.count(key)
    return max(
        (
            sum(places[(turn + right) % 16, factor + up] for right in (0, 1) for up in (0, 1))
            for turn in range(16)
            for factor in range(-1, 16)
        ),
        default=0.0,
    )


def table_keys(picture: PicturePrint) -> Sequence[np.ndarray[tuple[int], np.dtype[np.uint32]]]:
    return list(keys_of(picture.marks))


def step_of_turn(picture: PicturePrint, point: int) -> int:
    """The direction in 256ths of a full turn."""
    return round(float(picture.points[point, 3]) / 360 * 256) % 256


def step_of_size(picture: PicturePrint, point: int) -> int:
    """The size in eighths of a doubling."""
    return round(float(np.log2(picture.points[point, 2])) * 8)


@pytest.mark.parametrize("seed", range(4))
def test_votes_are_what_summing_over_every_pair_of_points_gives(seed: int) -> None:
    asked = turned(flipped(a_print(seed, points=60), 0.03, seed), 70 * seed, 1.0 + 0.3 * seed, 100 + seed)

    votes = votes_for([asked], HELD)

    assert votes == pytest.approx({key: summed_by_hand(asked, held) for key, held in HELD.items()})
    assert max(votes.values()) == votes[f"held {seed}"] > 50


def test_a_picture_counts_in_the_form_in_which_it_has_most_votes() -> None:
    asked = a_print(3, points=60)
    forms = [
        PicturePrint(part=asked.part, small=asked.small, hash=0, points=points, marks=marks)
        for points, marks in (take_as(asked, form) for form in Form)
    ]

    votes = votes_for(forms, HELD)

    by_hand = {key: max(summed_by_hand(form, held) for form in forms) for key, held in HELD.items()}
    assert votes == pytest.approx(by_hand)


def test_points_that_agree_by_their_marks_alone_are_not_added_up() -> None:
    together = a_print(1, points=100)
    apart = a_print(1, points=100)
    apart.points[:, 3] = np.random.default_rng(5).uniform(0, 360, 100)

    votes = votes_for([together], {"one picture": together, "the same marks, each its own way": apart})

    assert votes["the same marks, each its own way"] < votes["one picture"] / 3


def test_a_key_that_many_points_have_is_looked_at_last(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two points with a key of their own, one whose key a hundred points have: the limit leaves room for the two."""
    asked = a_print(1, points=3)
    crowd = {f"crowd {n}": a_print(100 + n, points=10) for n in range(10)}
    for each in crowd.values():
        each.marks[:] = asked.marks[2]
    held = {"sought": asked, **crowd}

    everything = votes_for([asked], held)
    monkeypatch.setattr(picture_votes, "MOST_PAIRS", 60)  # two million would take thousands of pictures
    limited = votes_for([asked], held)

    assert min(everything[f"crowd {n}"] for n in range(10)) > 0
    assert limited["sought"] > 0
    assert {limited[f"crowd {n}"] for n in range(10)} == {0}


def test_where_all_keys_are_equally_full_the_strongest_points_are_looked_at(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = a_print(1, points=40)
    held = {f"copy {n}": asked for n in range(20)}

    monkeypatch.setattr(picture_votes, "MOST_PAIRS", 20 * 40)  # two million would take thousands of pictures
    votes = votes_for([asked], held)

    assert min(votes.values()) > 0
    assert len(set(votes.values())) == 1


def test_the_answer_does_not_depend_on_how_pictures_are_spread_over_segments(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(picture_votes, "MOST_PAIRS", 200)  # two million would take thousands of pictures
    asked = flipped(a_print(2, points=60), 0.02, 1)
    samples = {key: sample(picture) for key, picture in HELD.items()}
    names = sorted(samples)

    one = votes_for([asked], HELD)
    segments = [build({name: samples[name] for name in names[start::3]}) for start in range(3)]
    counted = count_votes(segments, ask([(asked.points, asked.marks)]))

    assert {
        name: votes
        for segment, each in zip(segments, counted, strict=True)
        for name, votes in zip(segment.names, each.tolist(), strict=True)
    } == one
