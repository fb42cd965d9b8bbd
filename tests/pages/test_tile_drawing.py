"""Any part of a page at any size, held against the page itself."""

import io
from pathlib import Path

import numpy as np
import pytest
from pages.tiled import tiles_of
from PIL import Image

from provenance.pages.tile_drawing import drawn, level_for
from provenance.pages.tile_files import DamagedTilesError, TileFile

SIZE = 1300, 700  # three tiles across and two down, those at the edges smaller


@pytest.fixture(scope="module")
def page() -> Image.Image:
    """Lines of few shades, so that every pixel is kept."""
    rows, columns = np.mgrid[0 : SIZE[1], 0 : SIZE[0]]
    return Image.fromarray(((rows // 3 * 7 + columns // 2 * 5) % 50 * 5).astype(np.uint8))


@pytest.fixture(scope="module")
def tiles(page: Image.Image, tmp_path_factory: pytest.TempPathFactory) -> TileFile:
    path: Path = tmp_path_factory.mktemp("drawn") / "page.png"
    page.save(path)
    return tiles_of(path, "image/png", is_coarse=True)


def part(tiles: TileFile, level: int, box: tuple[float, float, float, float], size: tuple[int, int]) -> Image.Image:
    data = drawn(lambda column, row: tiles.read(level, column, row), SIZE, level, box, size=size, kind="png")
    return Image.open(io.BytesIO(data))


@pytest.mark.parametrize("box", [(0, 0, 1300, 700), (500, 500, 530, 520), (511, 0, 513, 700), (1299, 699, 1300, 700)])
def test_a_part_at_its_full_size_is_the_page_pixel_for_pixel(
    page: Image.Image, tiles: TileFile, box: tuple[int, int, int, int]
) -> None:
    shown = part(tiles, 0, box, (box[2] - box[0], box[3] - box[1]))

    assert np.array_equal(np.asarray(shown), np.asarray(page.crop(box)))


@pytest.mark.parametrize("box", [(0, 0, 1300, 700), (200, 100, 1224, 612), (3, 5, 1027, 517)])
def test_a_smaller_part_shows_the_same_place(
    page: Image.Image, tiles: TileFile, box: tuple[int, int, int, int]
) -> None:
    size = (box[2] - box[0]) // 4, (box[3] - box[1]) // 4

    shown = part(tiles, 1, box, size)

    # By another way: the mean of 4 by 4 pixels of the page itself.
    wanted = np.asarray(page.crop((*box[:2], box[0] + size[0] * 4, box[1] + size[1] * 4)), dtype=float)
    means = wanted.reshape(size[1], 4, size[0], 4).mean(axis=(1, 3))
    assert shown.size == size
    assert np.abs(np.asarray(shown, dtype=float) - means).mean() < 12


def test_at_an_odd_edge_the_last_pixel_of_a_level_is_shown_as_it_is(tmp_path: Path) -> None:
    """1,301 pixels are 651 at half the size: the last of them stands for a single one of the page."""
    lines = np.zeros((40, 1301), dtype=np.uint8)
    lines[:, ::6] = 250
    Image.fromarray(lines).save(tmp_path / "page.png")
    odd = tiles_of(tmp_path / "page.png", "image/png", is_coarse=True)

    data = drawn(
        lambda column, row: odd.read(1, column, row), (1301, 40), 1, (1024, 0, 1301, 40), size=(139, 20), kind="png"
    )

    stored = Image.open(io.BytesIO(odd.read(1, 1, 0)))
    assert np.array_equal(np.asarray(Image.open(io.BytesIO(data))), np.asarray(stored))


@pytest.mark.parametrize(
    ("box", "size", "level"),
    [
        ((0, 0, 512, 512), (512, 512), 0),
        ((0, 0, 1024, 1024), (513, 513), 0),
        ((0, 0, 1024, 1024), (512, 512), 1),
        ((0, 0, 1024, 1024), (512, 513), 0),
        ((0, 0, 1300, 700), (1, 1), 2),
    ],
)
def test_the_level_taken_is_never_coarser_than_what_is_shown(
    box: tuple[int, int, int, int], size: tuple[int, int], level: int
) -> None:
    assert level_for(box, size, levels=3) == level


def test_a_tile_that_is_no_picture_is_noticed() -> None:
    with pytest.raises(DamagedTilesError):
        drawn(lambda _column, _row: b"no picture", SIZE, 0, (0, 0, 9, 9), size=(9, 9), kind="jpg")
