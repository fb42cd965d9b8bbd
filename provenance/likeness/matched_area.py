"""The area that two pictures have in common, on the page of each."""

from dataclasses import dataclass

import numpy as np

from provenance.likeness.agreeing import carry
from provenance.likeness.aligned import Agreement
from provenance.likeness.laid_on import Grey, Laid, Spots
from provenance.likeness.values import Corners, Form
from provenance.records.readings import Box

_WHOLE = 0.8
"""Of the width and height of the larger that the smaller covers, for it to lie on the whole of it."""

_WORTH = 3
"""An alike block weighs so many unlike ones: what was written over or stained still belongs to the area."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Area:
    """What two pictures have in common.

    Attributes:
        one: its corners on the page of the first, clockwise there from the one at the upper left.
        other: the same corners on the page of the second.
        share: of the inner picture, 0 to 1.
        place: where on the larger picture, in words such as `in the upper right of`.
    """

    one: Corners
    other: Corners
    share: float
    place: str


def matched_area(
    laid: Laid, seen: Agreement, parts: tuple[Box, Box], form: Form, *, is_first_inner: bool
) -> Area:  # fmt: skip
    """Find the common area of two pictures laid on one another.

    Args:
        laid: the pictures, the first in its form.
        seen: how they agree.
        parts: where each stands on its page, the first before the second.
        form: that of the first.
        is_first_inner: whether the inner of the two is the first.
    """
    low, high = _trimmed(laid, seen)
    inside = np.array([(low[0], low[1]), (high[0], low[1]), (high[0], high[1]), (low[0], high[1])])
    outside = _clipped(carry(laid.matrix, inside), laid.outer)
    share = laid.share * float(np.prod(high - low) / np.prod(laid.high - laid.low))
    inner, outer = inside / _size(laid.inner), outside / _size(laid.outer)
    one, other = (inner, outer) if is_first_inner else (outer, inner)
    if form in {Form.MIRRORED, Form.MIRRORED_NEGATIVE}:
        one = np.column_stack([1 - one[:, 0], one[:, 1]])
    order = _clockwise(one)
    place = _in_words(outer if is_first_inner or form is Form.PLAIN or form is Form.NEGATIVE else one)
    return Area(
        one=_on_page(one[order], parts[0]), other=_on_page(other[order], parts[1]), share=min(1.0, share), place=place
    )


def _size(grey: Grey) -> Spots:
    return np.array(grey.shape[::-1], np.float64)


def _clipped(spots: Spots, grey: Grey) -> Spots:
    return np.clip(spots, 0, _size(grey))


def _trimmed(laid: Laid, seen: Agreement) -> tuple[Spots, Spots]:
    """The rectangle that they share, less the rows and columns at its edges where more is unlike than alike."""
    edges = [_kept(seen.like.sum(axis=axis), seen.unlike.sum(axis=axis)) for axis in (0, 1)]
    counts = np.array(seen.like.shape[::-1])
    step = (laid.high - laid.low) / counts
    low, high = (np.array([edge[end] for edge in edges]) for end in (0, 1))
    return laid.low + low * step, laid.low + high * step


def _kept(like: Spots, unlike: Spots) -> tuple[int, int]:
    """From which to which line the alike outweigh the unlike: the run with the greatest surplus, and what is even."""
    surplus = _WORTH * like.astype(int) - unlike.astype(int)
    total = np.concatenate([[0], np.cumsum(surplus)])
    gains = total[None, :] - total[:, None]
    gains = np.where(np.triu(np.ones(gains.shape), 1) > 0, gains, np.iinfo(int).min)
    best = gains.max()
    starts, ends = np.nonzero(gains == best)
    widest = int(np.argmax(ends - starts))
    return int(starts[widest]), int(ends[widest])


def _clockwise(spots: Spots) -> list[int]:
    """The order of four corners clockwise as seen, from the one nearest the upper left."""
    x, y = spots.T
    turning = float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))
    order = [0, 1, 2, 3] if turning >= 0 else [0, 3, 2, 1]
    first = min(range(4), key=lambda at: (round(float(x[order[at]] + y[order[at]]), 6), at))
    return order[first:] + order[:first]


def _on_page(spots: Spots, part: Box) -> Corners:
    return tuple(
        (
            float(np.clip(part.x + part.w * x, 0, 100)),
            float(np.clip(part.y + part.h * y, 0, 100)),
        )
        for x, y in spots
    )


def _in_words(spots: Spots) -> str:
    low, high = spots.min(axis=0), spots.max(axis=0)
    if (high - low >= _WHOLE).all():
        return "on the whole of"
    across, down = (low + high) / 2
    column = "left" if across < 0.4 else "right" if across > 0.6 else ""
    row = "upper" if down < 0.4 else "lower" if down > 0.6 else ""
    if not column:
        return f"in the {row} part of" if row else "in the middle of"
    return f"in the {row} {column} of" if row else f"at the {column} of"
