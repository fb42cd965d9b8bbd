"""Votes for pictures: points whose keys agree, counted where they agree on a turn and a change of size besides.

When one picture is turned against another, all points that truly belong together differ by the same angle; when it is
larger, by the same factor. So each pair of points with one key votes for a picture at a turn and a factor, and what
counts is the fullest place: chance votes are spread over all of them. A pair votes once for each table in which it has
one key, so that the nearer two marks are, the more they weigh. (H. Jegou, M. Douze, C. Schmid: Hamming embedding and
weak geometric consistency for large scale image search, ECCV 2008, section 5; there turns and factors are counted
apart, here together.)

A key that many points have tells little: hatching, foliage, a screen's dots. So what a point gives by one key is shared
out, and what falls to one picture is the same however often it has that key (on bursts: H. Jegou, M. Douze, C. Schmid,
On the burstiness of visual elements, CVPR 2009). It is not shared out wholly, or a thousand prints of one picture would
have so little each that chance came before them; how far was chosen on pictures that no figures are reported on.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from provenance.likeness.bit_sampling import keys_of
from provenance.likeness.index_segments import SIZE_STEPS, Segment, as_pose

MOST_PAIRS = 2_000_000
"""How many pairs of points one query looks at; the keys that fewest points have come first."""

SHARED_OUT = 0.75
"""What a point gives by a key that n points have is n to the power of minus this, for each picture among them."""

_TURNS = 16
_FACTORS = 16
_TURN_STEPS = 256 // _TURNS
_FACTOR_STEPS = int(SIZE_STEPS) // 2
_MIDDLE = _FACTOR_STEPS * _FACTORS // 2


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Asked:
    """The points of a picture in all its forms, ready to be looked up.

    Attributes:
        keys: shape (tables, points).
        poses: direction and size of each point (see `as_pose`).
        forms: the number of the form of each point.
        count: how many forms.
    """

    keys: npt.NDArray[np.uint32]
    poses: npt.NDArray[np.uint32]
    forms: npt.NDArray[np.int64]
    count: int


def ask(forms: Sequence[tuple[npt.NDArray[np.float32], npt.NDArray[np.uint8]]]) -> Asked:
    """Make the points and marks of the forms of a picture ready.

    Raises:
        ValueError: a mark has too few bits.
    """
    return Asked(
        keys=np.concatenate([keys_of(marks) for _, marks in forms], axis=1),
        poses=np.concatenate([as_pose(points) for points, _ in forms]),
        forms=np.repeat(np.arange(len(forms)), [len(marks) for _, marks in forms]),
        count=len(forms),
    )


def count_votes(segments: Sequence[Segment], asked: Asked) -> tuple[npt.NDArray[np.float64], ...]:
    """Sum for each picture of each segment the votes at its best form, turn and factor.

    How points are spread over segments does not matter to the answer: whether a key is looked at is decided by how many
    points have it in all of them together.
    """
    spans = [_look_up(segment, asked.keys) for segment in segments]
    sizes = sum((ends - begins for begins, ends in spans), start=np.zeros(asked.keys.shape, np.int64))
    wanted = _looked_at(sizes)
    return tuple(
        _count(segment, asked, begins, np.where(wanted, ends - begins, 0), sizes)
        for segment, (begins, ends) in zip(segments, spans, strict=True)
    )


def _look_up(segment: Segment, keys: npt.NDArray[np.uint32]) -> tuple[npt.NDArray[np.int64], npt.NDArray[np.int64]]:
    """Where the points with each key begin and end in the tables of a segment."""
    begins, ends = np.empty(keys.shape, np.int64), np.empty(keys.shape, np.int64)
    for table, held in enumerate(segment.keys):
        begins[table] = np.searchsorted(held, keys[table], "left")
        ends[table] = np.searchsorted(held, keys[table], "right")
    return begins, ends


def _looked_at(sizes: npt.NDArray[np.int64]) -> npt.NDArray[np.bool_]:
    """Which keys are looked at: those that fewest points have first, and the strongest points' of equal ones.

    So a key that half the pictures have (a screen's dots, the frame of a form) costs nothing where others tell more,
    and a thousand prints of one picture are still found, though all their keys are full.
    """
    by_point = sizes.T.ravel()
    order = np.argsort(by_point, kind="stable")
    wanted = np.zeros(len(by_point), np.bool_)
    wanted[order[np.cumsum(by_point[order]) <= MOST_PAIRS]] = True
    return wanted.reshape(sizes.T.shape).T


def _count(
    segment: Segment,
    asked: Asked,
    begins: npt.NDArray[np.int64],
    lengths: npt.NDArray[np.int64],
    sizes: npt.NDArray[np.int64],
) -> npt.NDArray[np.float64]:
    """Sum for each picture of one segment the votes at its best form, turn and factor."""
    pictures = len(segment.names)
    places, weights = zip(*_voted(segment, asked, begins, lengths, sizes), strict=True)
    size = asked.count * pictures * _TURNS * _FACTORS
    votes = np.bincount(np.concatenate(places), np.concatenate(weights), size).astype(np.float64)
    in_forms = [_fullest(form) for form in votes.reshape(asked.count, pictures, _TURNS, _FACTORS)]
    return np.asarray(np.max(in_forms, axis=0), dtype=np.float64)


def _voted(
    segment: Segment,
    asked: Asked,
    begins: npt.NDArray[np.int64],
    lengths: npt.NDArray[np.int64],
    sizes: npt.NDArray[np.int64],
) -> Iterable[tuple[npt.NDArray[np.int64], npt.NDArray[np.float64]]]:
    """For each table the place that each pair of points with one key votes for, and with what weight."""
    for entries, starts, counts, all_over in zip(segment.entries, begins, lengths, sizes, strict=True):
        looked = np.flatnonzero(counts)
        times = counts[looked]
        points = np.repeat(looked, times)
        shifts = np.repeat(starts[looked] - np.cumsum(times) + times, times)
        found = entries[shifts + np.arange(len(shifts))]
        yield _place(found, asked, points, len(segment.names)), _weights(found, points, all_over)


def _weights(
    found: npt.NDArray[np.uint32], points: npt.NDArray[np.int64], all_over: npt.NDArray[np.int64]
) -> npt.NDArray[np.float64]:
    """What each pair weighs: the share of its point, divided among the points of one picture with that key."""
    picture = found >> np.uint32(16)
    is_next = np.ones(len(found), np.bool_)
    is_next[1:] = (picture[1:] != picture[:-1]) | (points[1:] != points[:-1])
    group = np.cumsum(is_next) - 1
    return np.asarray(all_over[points] ** -SHARED_OUT / np.bincount(group)[group] if len(found) else np.zeros(0))


def _place(
    found: npt.NDArray[np.uint32], asked: Asked, points: npt.NDArray[np.int64], pictures: int
) -> npt.NDArray[np.int64]:
    poses = asked.poses[points]
    turned = ((found >> np.uint32(8)) - (poses >> np.uint32(8)) + np.uint32(_TURN_STEPS // 2)) & np.uint32(0xFF)
    turn = turned.astype(np.int64) // _TURN_STEPS
    larger = (found & np.uint32(0xFF)).astype(np.int64) - (poses & np.uint32(0xFF)).astype(np.int64)
    factor = np.clip((larger + _FACTOR_STEPS // 2 + _MIDDLE) // _FACTOR_STEPS, 0, _FACTORS - 1)
    picture = asked.forms[points] * pictures + (found >> np.uint32(16)).astype(np.int64)
    return (picture * _TURNS + turn) * _FACTORS + factor


def _fullest(votes: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """The most votes within two turns and two factors that are next to each other: a true one may lie between."""
    votes = votes + np.roll(votes, 1, axis=-2)
    votes[..., 1:] += votes[..., :-1].copy()
    return np.asarray(votes.max(axis=(-2, -1)))
