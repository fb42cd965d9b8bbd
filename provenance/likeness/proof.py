"""The proof that two pictures are one: points that agree, the geometry between them, and light and dark compared."""

from collections.abc import Mapping
from functools import cached_property

import numpy as np
import numpy.typing as npt

from provenance.likeness.agreeing import Matrix, Pairs, agree, count_places, lay_on, pair_one_way, pair_up, turned_back
from provenance.likeness.aligned import compare
from provenance.likeness.laid_on import covered, lay
from provenance.likeness.matched_area import matched_area
from provenance.likeness.perceptual_hash import bits_apart, hash_of
from provenance.likeness.picture_forms import Marks, Points, small_as, take_as
from provenance.likeness.picture_verdicts import Findings, judge, say_why, score
from provenance.likeness.values import Form, Likeness, PictureMatch, PicturePrint

_CHANCE = 3  # so many points of unrelated pictures agree by chance
_TRIED_FIRST = 400  # points of the first picture by which it is seen whether a form is worth more
_NEARLY_EQUAL = 8  # of the 64 bits of the hash


class Query:
    """A picture that is compared with others, with what is worked out once for all of them."""

    def __init__(self, picture: PicturePrint) -> None:
        """Remember the picture; nothing is worked out yet."""
        self.picture = picture

    @cached_property
    def forms(self) -> Mapping[Form, tuple[Points, Marks]]:
        """The points and marks of the picture as it is, mirrored, negative, and both."""
        return {form: take_as(self.picture, form) for form in Form}

    @cached_property
    def smalls(self) -> Mapping[Form, npt.NDArray[np.uint8]]:
        """The small picture in every form."""
        return {form: small_as(self.picture, form) for form in Form}

    @cached_property
    def hashes(self) -> Mapping[tuple[Form, int], int]:
        """The hash of the picture in every form, and turned by so many quarters against the clock."""
        return {
            (form, turn): hash_of(np.rot90(small, turn)) for form, small in self.smalls.items() for turn in range(4)
        }


def prove(query: Query, other: PicturePrint) -> PictureMatch:
    """Compare two pictures and say whether they are one.

    Args:
        query: the first picture.
        other: the second.

    Returns:
        A match whose `form` tells how the second has to be taken; with no corners where nothing agrees.
    """
    most, form, pairs = _best_try(query, other)
    found = None
    if most > _CHANCE:
        geometry = lay_on(query.forms[form], (other.points, other.marks), pairs, _sides(query, other))
        if geometry is not None:
            found = _look(query, other, (form, geometry.matrix), geometry.inliers)
    if found is None or found.likeness is Likeness.DISTINCT:
        by_hash = _by_hash(query, other)
        found = by_hash if by_hash is not None and by_hash.likeness is not Likeness.DISTINCT else found
    return found or _nothing_agrees(most)


def _sides(query: Query, other: PicturePrint) -> tuple[float, float]:
    return float(max(query.picture.small.shape)), float(max(other.small.shape))


def _best_try(query: Query, other: PicturePrint) -> tuple[int, Form, Pairs]:
    """The form in which most points agree: tried with the first few points in all forms, with all in the likeliest."""
    few = [(_try(query, other, form, _TRIED_FIRST)[0], form) for form in Form]
    likely = sorted((tried for tried in few if tried[0] >= _CHANCE), key=lambda tried: -tried[0])[:2]
    if not likely:
        return *max(few, key=lambda tried: tried[0]), np.zeros((0, 2), np.intp)
    full = [(*_try(query, other, form, None), form) for _, form in likely]
    most, pairs, form = max(full, key=lambda tried: tried[0])
    return most, form, pairs


def _try(query: Query, other: PicturePrint, form: Form, few: int | None) -> tuple[int, Pairs]:
    """How many points agree in one form, and which; with `few` only so many of the first picture's are asked."""
    points, marks = query.forms[form]
    pairs = pair_up(marks, other.marks) if few is None else pair_one_way(marks[:few], other.marks)
    pairs = pairs[agree(points, other.points, pairs, _sides(query, other))]
    if not len(pairs):
        return 0, pairs
    return min(count_places(points[pairs[:, 0]]), count_places(other.points[pairs[:, 1]])), pairs


def _look(query: Query, other: PicturePrint, way: tuple[Form, Matrix], inliers: int) -> PictureMatch | None:
    """Lay the one picture on the other and judge; None where they share next to nothing."""
    form, matrix = way
    one, two = query.smalls[form], other.small
    back = turned_back(matrix)
    is_first_inner = round(covered(one, two, matrix)[0], 3) >= round(covered(two, one, back)[0], 3)
    laid = lay(one, two, matrix) if is_first_inner else lay(two, one, back)
    if laid is None:
        return None
    seen = compare(laid)
    area = matched_area(laid, seen, (query.picture.part, other.part), form, is_first_inner=is_first_inner)
    found = Findings(
        inliers=inliers, agreement=seen, overlap=area.share, smaller="first" if is_first_inner else "second",
        place=area.place, turn=_turn(matrix, one), form=form,
    )  # fmt: skip
    likeness = judge(found)
    return PictureMatch(
        likeness=likeness, score=score(found), inliers=inliers, overlap=area.share, correlation=seen.correlation,
        form=form, one=area.one, other=area.other, why=say_why(found, likeness),
    )  # fmt: skip


def _turn(matrix: Matrix, one: npt.NDArray[np.uint8]) -> float:
    """Degrees clockwise by which the middle of the first is turned on the second, -180 to 180."""
    x, y = one.shape[1] / 2, one.shape[0] / 2
    at, beside = (matrix @ np.array([place, y, 1.0]) for place in (x, x + 1))
    ahead = beside[:2] / beside[2] - at[:2] / at[2]
    return float(np.degrees(np.arctan2(ahead[1], ahead[0])))


def _by_hash(query: Query, other: PicturePrint) -> PictureMatch | None:
    """Compare whole with whole where the hashes are nearly equal: soft pictures have few points to tell them by."""
    apart, form, turn = min(
        (bits_apart(hash_, other.hash), form, turn) for (form, turn), hash_ in query.hashes.items()
    )  # fmt: skip
    if apart > _NEARLY_EQUAL:
        return None
    return _look(query, other, (form, _whole_on_whole(query.smalls[form], other.small, turn)), 0)


def _whole_on_whole(one: npt.NDArray[np.uint8], other: npt.NDArray[np.uint8], turn: int) -> Matrix:
    """The first turned by so many quarters against the clock and stretched to the size of the second."""
    quarter = np.array([[0, 1, 0], [-1, 0, 1], [0, 0, 1.0]])
    height, width = one.shape
    turned = np.linalg.matrix_power(quarter, turn) @ np.diag([1 / width, 1 / height, 1])
    return np.asarray(np.diag([other.shape[1], other.shape[0], 1]) @ turned)


def _nothing_agrees(most: int) -> PictureMatch:
    by_chance = most <= _CHANCE
    why = f"only {most} points agree, " + ("no more than by chance" if by_chance else "and not as a picture lies flat")
    return PictureMatch(
        likeness=Likeness.DISTINCT, score=0.0, inliers=most, overlap=0.0, correlation=0.0, form=Form.PLAIN, one=(),
        other=(), why=why,
    )  # fmt: skip
