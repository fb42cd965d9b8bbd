"""Whether two pictures are one, where by making them it is known that they are, and how."""

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import numpy as np
import numpy.typing as npt
import pytest
from likeness.carried_pictures import carried, print_carried, printed
from PIL import Image, ImageDraw, ImageFilter, ImageOps
from skimage.transform import ProjectiveTransform, warp

from provenance.likeness.print_bytes import from_bytes, to_bytes
from provenance.likeness.proof import Query, prove
from provenance.likeness.values import Corners, Form, Likeness, PictureMatch, PicturePrint
from provenance.records.readings import Box


@cache
def _coffee() -> PicturePrint:
    return print_carried("coffee.png")


def _compare(picture: Image.Image) -> PictureMatch:
    return prove(Query(_coffee()), printed(picture))


def _far(one: Corners, other: npt.ArrayLike) -> float:
    return float(np.abs(np.array(one) - np.array(other)).max())


def test_a_warp_of_known_geometry_is_found_where_it_lies() -> None:
    picture = carried("coffee.png")
    wide, tall = picture.size
    spots = np.array([(0.1, 0.15), (0.85, 0.1), (0.9, 0.9), (0.05, 0.8)])
    way = ProjectiveTransform.from_estimate(  # type: ignore[no-untyped-call]  # scikit-image has no types there
        np.array([(0, 0), (wide, 0), (wide, tall), (0, tall)]), spots * np.array(picture.size)
    )
    seen = warp(np.asarray(picture), way.inverse, cval=0.9)  # type: ignore[no-untyped-call]  # nor there

    match = _compare(Image.fromarray((seen * 255).astype(np.uint8)))

    assert match.likeness is Likeness.COPY
    assert match.form is Form.PLAIN
    assert _far(match.one, [(0, 0), (100, 0), (100, 100), (0, 100)]) < 1
    assert _far(match.other, spots * 100) < 1.5  # percent of the page


def test_a_cutting_is_found_in_the_whole_and_the_whole_about_the_cutting() -> None:
    picture = carried("coffee.png")  # 600 by 400
    cutting = picture.crop((300, 100, 600, 340))

    there, back = _compare(cutting), prove(Query(printed(cutting)), _coffee())

    assert there.likeness is back.likeness is Likeness.COPY
    assert _far(there.one, [(50, 25), (100, 25), (100, 85), (50, 85)]) < 1.5
    assert _far(there.other, [(0, 0), (100, 0), (100, 100), (0, 100)]) < 1.5
    assert _far(back.one, there.other) < 1.5
    assert _far(back.other, there.one) < 1.5
    assert there.overlap == pytest.approx(1, abs=0.02)
    assert "the whole of the second picture lies at the right of the first" in there.why


@pytest.mark.parametrize(
    ("change", "form", "corners"),
    [
        pytest.param(ImageOps.mirror, Form.MIRRORED, [(100, 0), (0, 0), (0, 100), (100, 100)], id="mirrored"),
        pytest.param(ImageOps.invert, Form.NEGATIVE, [(0, 0), (100, 0), (100, 100), (0, 100)], id="negative"),
        pytest.param(
            lambda picture: ImageOps.invert(ImageOps.mirror(picture)),
            Form.MIRRORED_NEGATIVE,
            [(100, 0), (0, 0), (0, 100), (100, 100)],
            id="mirrored negative",
        ),
        pytest.param(
            ImageOps.flip, Form.MIRRORED, [(0, 100), (100, 100), (100, 0), (0, 0)], id="upside down in a mirror"
        ),
        pytest.param(
            lambda picture: picture.transpose(
                Image.Transpose.ROTATE_90
            ),  # against the clock: the upper left goes below
            Form.PLAIN,
            [(0, 100), (0, 0), (100, 0), (100, 100)],
            id="quarter turn",
        ),
    ],
)
def test_the_form_is_told_and_the_corners_are_followed(
    change: Callable[[Image.Image], Image.Image], form: Form, corners: list[tuple[int, int]]
) -> None:
    match = _compare(change(carried("coffee.png")))

    assert match.likeness is Likeness.COPY
    assert match.form is form
    assert _far(match.one, [(0, 0), (100, 0), (100, 100), (0, 100)]) < 1
    assert _far(match.other, corners) < 1


def test_a_picture_equals_itself() -> None:
    match = _compare(carried("coffee.png"))

    assert match.likeness is Likeness.COPY
    assert match.score == pytest.approx(1, abs=0.01)
    assert match.overlap == pytest.approx(1, abs=0.01)
    assert match.correlation == pytest.approx(1, abs=0.01)


def test_the_same_two_pictures_always_give_the_same_answer() -> None:
    other = printed(carried("coffee.png").rotate(3))

    assert prove(Query(_coffee()), other) == prove(Query(_coffee()), other)


def test_a_print_that_was_kept_gives_the_answer_of_a_fresh_one() -> None:
    other = printed(carried("coffee.png").resize((500, 333)))
    (kept,) = from_bytes(to_bytes([other]))

    fresh, later = prove(Query(_coffee()), other), prove(Query(_coffee()), kept)

    assert (fresh.likeness, fresh.inliers) == (later.likeness, later.inliers)
    assert fresh.correlation == pytest.approx(later.correlation, abs=0.001)


@pytest.mark.parametrize("name", ["camera.png", "chelsea.png", "coins.png", "brick.png", "page.png", "rocket.jpg"])
def test_different_pictures_are_distinct_both_ways(name: str) -> None:
    there, back = prove(Query(_coffee()), print_carried(name)), prove(Query(print_carried(name)), _coffee())

    assert there.likeness is back.likeness is Likeness.DISTINCT
    assert "points agree" in there.why


def test_the_areas_are_told_on_the_page_of_which_the_picture_is_a_part() -> None:
    placed = replace(_coffee(), part=Box(20, 40, 50, 30))

    match = prove(Query(_coffee()), placed)

    assert _far(match.other, [(20, 40), (70, 40), (70, 70), (20, 70)]) < 0.5


def _form(entries: str) -> Image.Image:
    """Our own works order form, with entries of 12 fields."""
    sheet = Image.new("L", (900, 1200), 245)
    pen = ImageDraw.Draw(sheet)
    random = np.random.default_rng(int(entries))
    pen.text((60, 30), "WORKS ORDER", fill=20, font_size=48)
    for row in range(12):
        top = 120 + 85 * row
        pen.rectangle((60, top, 840, top + 70), outline=60, width=3)
        pen.text(
            (70, top + 6), ("Vehicle", "Part", "Fitter", "Fault found", "Ordered by")[row % 5], fill=50, font_size=24
        )
        written = "".join(chr(random.integers(65, 91)) for _ in range(int(random.integers(12, 20))))
        pen.text((230, top + 22), written, fill=30, font_size=44)
    return sheet


def test_one_form_filled_in_twice_is_no_copy_but_a_rescan_of_either_is() -> None:
    first, second = _form("1"), _form("2")

    twice = prove(Query(printed(first)), printed(second))
    again = prove(Query(printed(first)), printed(first.rotate(1, fillcolor=250).resize((700, 933))))

    assert twice.likeness is Likeness.POSSIBLE
    assert "each has something that the other lacks" in twice.why
    assert again.likeness is Likeness.COPY


def _table(seed: int) -> Image.Image:
    """Our own list of parts: 26 ruled rows of a number, two words and a count in small print."""
    sheet = Image.new("L", (620, 877), 235)
    pen = ImageDraw.Draw(sheet)
    random = np.random.default_rng(seed)
    pen.text((180, 60), "PARTS HELD", fill=20, font_size=22)
    for row in range(27):
        top = 110 + 26 * row
        pen.line((60, top, 560, top), fill=60, width=2)
        words = ["".join(chr(random.integers(97, 123)) for _ in range(int(random.integers(4, 8)))) for _ in range(2)]
        for left, said in (
            (66, f"H-{random.integers(100, 999)}"),
            (156, " ".join(words)),
            (506, str(random.integers(3, 40))),
        ):
            pen.text((left, top + 7), said if row < 26 else "", fill=50, font_size=13)
    for across in (60, 146, 496, 560):
        pen.line((across, 110, across, 110 + 26 * 26), fill=60, width=2)
    return sheet


def test_two_tables_of_one_layout_are_no_copies_though_their_rules_agree() -> None:
    first, second = _table(1), _table(2)

    two = prove(Query(printed(first)), printed(second))
    again = prove(Query(printed(first)), printed(first.resize((500, 707))))

    assert two.likeness is not Likeness.COPY
    assert again.likeness is Likeness.COPY


def test_a_soft_picture_with_points_of_no_use_is_told_by_its_light_and_dark() -> None:
    soft = print_carried("coffee.png")
    other = printed(carried("coffee.png").filter(ImageFilter.GaussianBlur(1)))
    useless = replace(other, marks=np.random.default_rng(1).integers(0, 256, other.marks.shape, dtype=np.uint8))

    match = prove(Query(soft), useless)

    assert match.likeness is Likeness.POSSIBLE
    assert match.inliers == 0
    assert match.why.startswith("too few points to tell by")
