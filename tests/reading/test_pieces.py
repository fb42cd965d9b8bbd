"""Ink is parted into the pieces that hang together, as another labeller parts it."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from skimage.measure import label, regionprops

from provenance.reading.pieces import Pieces, pieces_of

Facts = list[tuple[int, int, int, int, int]]


def facts(pieces: Pieces) -> Facts:
    columns = (pieces.top, pieces.left, pieces.bottom, pieces.right, pieces.area)
    return sorted(zip(*(column.tolist() for column in columns), strict=True))


def by_another(ink: np.ndarray) -> Facts:
    """What scikit-image's labelling says of the same picture."""
    found = regionprops(label(ink, connectivity=2))  # type: ignore[no-untyped-call]  # scikit-image has no types there
    boxes = [(piece.bbox, piece.area) for piece in found]
    return sorted((int(box[0]), int(box[1]), int(box[2]), int(box[3]), int(area)) for box, area in boxes)


@given(seed=st.integers(0, 10_000), rows=st.integers(1, 40), columns=st.integers(1, 40), share=st.floats(0, 1))
def test_pieces_are_those_of_another_labeller(seed: int, rows: int, columns: int, share: float) -> None:
    ink = np.random.default_rng(seed).random((rows, columns)) < share

    assert facts(pieces_of(ink)) == by_another(ink)


def test_arms_that_meet_only_at_the_end_are_one_piece() -> None:
    comb = np.zeros((40, 41), dtype=np.bool_)
    comb[:, ::2] = True
    comb[39] = True

    assert facts(pieces_of(comb)) == [(0, 0, 40, 41, 40 * 21 + 20)]


def test_points_that_touch_by_a_corner_belong_together_and_those_across_an_edge_of_the_picture_do_not() -> None:
    corners = np.eye(5, dtype=np.bool_)
    edges = np.zeros((3, 6), dtype=np.bool_)
    edges[0, 5] = edges[1, 0] = True

    assert len(pieces_of(corners)) == 1
    assert len(pieces_of(edges)) == 2


@pytest.mark.parametrize("ink", [np.zeros((3, 3), np.bool_), np.zeros((0, 0), np.bool_)])
def test_where_there_is_no_ink_there_are_no_pieces(ink: np.ndarray) -> None:
    assert len(pieces_of(ink)) == 0


def test_pieces_are_chosen_by_marks_and_by_number() -> None:
    pieces = pieces_of(np.array([[1, 0, 1, 1], [0, 0, 0, 0], [1, 1, 1, 1]], dtype=np.bool_))

    assert pieces.chosen(pieces.wide > 1).area.tolist() == [2, 4]
    assert pieces.chosen(np.array([2, 0])).wide.tolist() == [4, 1]
    assert pieces.high.tolist() == [1, 1, 1]
