"""What a scanner sees of an empty sheet is nothing to tell it by."""

import numpy as np
import numpy.typing as npt
import pytest
from likeness.carried_pictures import NAMES, carried
from PIL import Image, ImageDraw

from provenance.likeness.picture_content import has_content


def a_blank_sheet(seed: int, *, folds: int = 0, is_edged: bool = False) -> Image.Image:
    """A sheet of A4 at 75 dots to the inch: uneven light, dust, grain; folds or the dark edge of the lid."""
    random = np.random.default_rng(seed)
    light = random.uniform(228, 246) - np.linspace(0, random.uniform(0, 12), 620)[None, :].repeat(877, 0)
    sheet = Image.fromarray(light.astype(np.uint8))
    pen = ImageDraw.Draw(sheet)
    for x, y, size, tone in random.uniform((0, 0, 0, 40), (620, 877, 2, 180), (80, 4)):
        pen.ellipse((x, y, x + size, y + size), fill=int(tone))
    for fold in range(1, folds + 1):
        height = 877 * fold / (folds + 1) + random.uniform(-3, 3)
        pen.line((0, height, 620, height + random.uniform(-3, 3)), fill=200, width=2)
    if is_edged:
        pen.rectangle((0, 0, 620, 6), fill=30)
        pen.rectangle((610, 0, 620, 877), fill=45)
    grain = np.asarray(sheet, np.float64) + random.normal(0, 3, (877, 620))
    return Image.fromarray(np.clip(grain, 0, 255).astype(np.uint8))


def _small(picture: Image.Image) -> npt.NDArray[np.uint8]:
    scale = min(1.0, 512 / max(picture.size))
    size = round(picture.width * scale), round(picture.height * scale)
    return np.asarray(picture.resize(size, Image.Resampling.BOX))


@pytest.mark.parametrize(("folds", "is_edged"), [(0, False), (2, False), (3, True)])
def test_an_empty_sheet_with_dust_and_folds_has_nothing_on_it(folds: int, *, is_edged: bool) -> None:
    sheets = [a_blank_sheet(seed, folds=folds, is_edged=is_edged) for seed in range(6)]

    assert not any(has_content(_small(sheet)) for sheet in sheets)


@pytest.mark.parametrize("name", NAMES)
def test_a_photograph_has_something_on_it_even_when_faded_to_a_third(name: str) -> None:
    faded = Image.fromarray((170 + np.asarray(carried(name)) / 3).astype(np.uint8))

    assert has_content(_small(carried(name)))
    assert has_content(_small(faded))


def test_a_line_drawing_has_something_on_it() -> None:
    sheet = Image.new("L", (500, 400), 240)
    pen = ImageDraw.Draw(sheet)
    for step in range(6):
        pen.ellipse((60 + 50 * step, 80 + 10 * step, 150 + 50 * step, 250 + 12 * step), outline=40, width=2)

    assert has_content(np.asarray(sheet))


def test_one_even_tone_has_nothing_on_it() -> None:
    assert not has_content(np.full((300, 200), 128, np.uint8))
