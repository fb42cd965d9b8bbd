from pathlib import Path

import numpy as np
import pytest
from pages.made_pictures import level_at, marked
from PIL import Image

from provenance.pages.grey_pictures import fit, grey_at


@pytest.mark.parametrize(
    ("size", "pixels", "fitted"),
    [((100, 200), 20_000, (100, 200)), ((200, 200), 10_000, (100, 100)), ((10_000, 1), 100, (1000, 1))],
)
def test_a_size_is_fitted_without_changing_its_shape(
    size: tuple[int, int], pixels: int, fitted: tuple[int, int]
) -> None:
    assert fit(size, pixels) == fitted


@pytest.mark.parametrize(
    "mode", ["1", "L", "P", "RGB", "RGBA", "LA", "CMYK", "YCbCr", "LAB", "I", "I;16", "I;16B", "F"]
)
def test_ink_is_dark_and_paper_is_light_in_every_kind_of_picture(mode: str) -> None:
    image = as_mode(marked(), mode)

    grey = grey_at(image, image.size)

    assert grey.mode == "L"
    assert level_at(grey, 5, 5) <= 1
    assert level_at(grey, 290, 190) >= 254


def as_mode(image: Image.Image, mode: str) -> Image.Image:
    if mode == "LAB":
        return Image.merge("LAB", [image, Image.new("L", image.size, 128), Image.new("L", image.size, 128)])
    if mode.startswith("I;16"):
        levels = np.asarray(image).astype(">u2" if mode == "I;16B" else "<u2") * 257
        return Image.frombytes(mode, image.size, levels.tobytes())
    return image.convert("RGB").convert(mode) if mode in {"CMYK", "YCbCr"} else image.convert(mode)


@pytest.mark.parametrize(
    ("wanted", "reached"), [((300, 200), (300, 200)), ((155, 103), (150, 100)), ((99, 66), (99, 66))]
)
def test_a_picture_is_made_smaller_by_whole_squares_where_that_comes_near_and_else_exactly(
    wanted: tuple[int, int], reached: tuple[int, int]
) -> None:
    assert grey_at(marked(), wanted).size == reached


def test_a_picture_of_many_bands_is_the_same_as_one_made_whole() -> None:
    """Source: the plain average of each square of pixels, by numpy."""
    rng = np.random.default_rng(9)
    levels = rng.integers(0, 256, (3001, 3000), dtype=np.uint8)  # over two bands of rows, and an odd row

    grey = np.asarray(grey_at(Image.fromarray(levels).convert("RGB"), (1500, 1500)))

    means = levels[:3000].astype(float).reshape(1500, 2, 1500, 2).mean(axis=(1, 3))
    assert grey.shape == (1501, 1500)
    assert np.abs(grey[:1500] - means).max() <= 0.5
    assert np.abs(grey[1500] - levels[3000].astype(float).reshape(1500, 2).mean(axis=1)).max() <= 0.5


@pytest.mark.parametrize("mode", ["RGBA", "LA", "P", "L", "RGB"])
def test_what_is_transparent_is_paper(mode: str) -> None:
    image = Image.new("L", (300, 200), 0)
    image.paste(40, (0, 0, 100, 50))
    if mode in {"RGBA", "LA"}:
        image = image.convert(mode)
        image.putalpha(marked().point(lambda level: 255 - level))
    else:
        image = image.convert(mode)
        image.info["transparency"] = {"P": 0, "L": 0, "RGB": (0, 0, 0)}[mode]

    grey = grey_at(image, image.size)

    assert level_at(grey, 5, 5) == 40
    assert level_at(grey, 290, 190) == 255


def test_white_ink_that_is_drawn_on_nothing_is_not_lost() -> None:
    image = Image.new("LA", (300, 200), (255, 0))
    image.paste((255, 255), (0, 0, 100, 50))

    grey = grey_at(image, image.size)

    assert grey.getextrema() == (0, 255)
    assert level_at(grey, 5, 5) == 255


@pytest.mark.parametrize(
    ("white", "kind", "middle"),
    [
        *((1.0, np.float32, 0.5), (255, np.int32, 128), (1023, np.uint16, 512), (4095, np.uint16, 2048)),
        *((16383, np.uint16, 8192), (65535, np.uint16, 32768), (65535, np.float32, 32768), (1e6, np.float32, 5e5)),
    ],
)
def test_numbers_are_spread_between_black_and_the_white_of_their_kind(
    white: float, kind: type[np.generic], middle: float
) -> None:
    levels = np.full((20, 30), white).astype(kind)
    levels[0, 0], levels[1, 1] = 0, middle

    grey = grey_at(Image.fromarray(levels), (30, 20))

    assert level_at(grey, 0, 0) == 0
    assert level_at(grey, 1, 1) == pytest.approx(127.5, abs=1)
    assert level_at(grey, 9, 9) == 255


def test_an_even_grey_of_sixteen_bits_is_that_grey() -> None:
    grey = grey_at(Image.new("I;16", (30, 20), 32896), (30, 20))

    assert grey.getextrema() == (128, 128)  # 32896 = 128 x 257


def test_numbers_below_nothing_and_numbers_that_are_none_do_no_harm() -> None:
    levels = np.array([[-1.0, 0.0, 1.0], [np.nan, np.inf, -np.inf]], dtype=np.float32)

    grey = np.asarray(grey_at(Image.fromarray(levels), (3, 2)))

    assert grey.tolist() == [[0, 128, 255], [255, 255, 0]]


def test_a_picture_of_no_number_at_all_is_paper() -> None:
    grey = grey_at(Image.fromarray(np.full((2, 3), np.nan, dtype=np.float32)), (3, 2))

    assert grey.getextrema() == (255, 255)


def test_where_the_smallest_number_is_white_it_is_turned_round() -> None:
    grey = grey_at(as_mode(marked(), "I;16"), (300, 200), is_white_zero=True)

    assert level_at(grey, 5, 5) == 255
    assert level_at(grey, 290, 190) == 0


def test_a_strip_of_one_row_keeps_its_row(tmp_path: Path) -> None:
    Image.new("RGB", (10_000, 1), "white").save(tmp_path / "a.png")

    with Image.open(tmp_path / "a.png") as image:
        grey = grey_at(image, (1000, 1))

    assert grey.size == (910, 1)
