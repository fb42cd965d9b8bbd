"""What has a fingerprint, what has none, and that the same picture always has the same."""

import numpy as np
import pytest
from likeness.carried_pictures import WHOLE, carried, printed
from likeness.test_picture_content import a_blank_sheet
from PIL import Image

from provenance.likeness.picture_points import MARK_BYTES, MOST_POINTS
from provenance.likeness.print_bytes import to_bytes
from provenance.likeness.prints import METHOD, SMALL_SIDE, print_of
from provenance.records.readings import Box


def test_the_same_picture_always_gives_the_same_bytes() -> None:
    first, second = (to_bytes([printed(carried("chelsea.png").copy())]) for _ in range(2))

    assert first == second


def test_a_print_keeps_to_its_sizes() -> None:
    made = printed(carried("coffee.png"))

    assert max(made.small.shape) == SMALL_SIDE
    assert made.points.shape == (len(made.marks), 4)
    assert 100 < len(made.points) <= MOST_POINTS
    assert made.marks.shape[1] == MARK_BYTES
    assert (made.points[:, :2] >= 0).all()
    assert (made.points[:, :2] <= np.array(made.small.shape[::-1])).all()


def test_the_strongest_point_of_every_sixth_across_and_down_comes_first() -> None:
    made = printed(carried("coins.png"))

    cells = np.floor(made.points[:36, :2] / np.array(made.small.shape[::-1]) * 6)

    assert len({tuple(cell) for cell in cells.tolist()}) >= 34  # two may have none


def test_a_part_of_a_page_has_the_print_of_the_picture_cut_out() -> None:
    picture = carried("coffee.png")
    page = Image.new("L", (1000, 1000), 250)
    page.paste(picture, (150, 300))
    part = Box(15, 30, picture.width / 10, picture.height / 10)

    placed = print_of(page, part)

    alone = printed(picture)
    assert placed is not None
    assert placed.part == part
    assert placed.hash == alone.hash
    np.testing.assert_array_equal(placed.marks, alone.marks)


@pytest.mark.parametrize(
    "picture",
    [
        pytest.param(Image.new("L", (800, 600), 255), id="white"),
        pytest.param(Image.new("L", (800, 600), 0), id="black"),
        pytest.param(Image.new("1", (800, 600), 1), id="white of one bit"),
        pytest.param(Image.linear_gradient("L"), id="a slope of grey"),
        pytest.param(a_blank_sheet(1, folds=2, is_edged=True), id="a blank sheet"),
        pytest.param(carried("camera.png").resize((31, 31)), id="tiny"),
        pytest.param(carried("camera.png").resize((4000, 40)), id="a strip too narrow"),
        pytest.param(Image.new("L", (1, 1), 7), id="one pixel"),
    ],
)
def test_what_there_is_nothing_to_tell_by_has_no_print(picture: Image.Image) -> None:
    assert print_of(picture, WHOLE) is None


def test_grain_alone_has_no_print() -> None:
    grain = np.random.default_rng(3).normal(128, 20, (1200, 900)).clip(0, 255).astype(np.uint8)

    assert print_of(Image.fromarray(grain), WHOLE) is None


@pytest.mark.parametrize("mode", ["1", "RGB", "RGBA", "LA", "P"])
def test_a_picture_of_another_kind_is_taken_as_grey(mode: str) -> None:
    made = print_of(carried("coins.png").convert(mode), WHOLE)

    assert made is not None
    assert made.small.ndim == 2


def test_a_long_narrow_picture_has_a_print() -> None:
    strip = carried("page.png").resize((1500, 120))

    made = printed(strip)

    assert made.small.shape == (41, 512)  # 120 * 512 / 1500 = 40.96


def test_a_part_beyond_the_edge_ends_at_the_edge() -> None:
    made = print_of(carried("coins.png"), Box(10, 10, 95, 95))

    assert made is not None


def test_the_method_names_its_engine() -> None:
    assert METHOD.startswith("picture points ")
    assert "opencv" in METHOD
