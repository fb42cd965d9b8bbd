"""A page laid on another by corners whose places are known, since the test put the one picture on the other's page."""

from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageOps
from tasks.likenesses import a_photograph, laid_down

from provenance.likeness.page_prints import PrintJob
from provenance.likeness.pair_views import ViewJob, lay_page, view_pages
from provenance.likeness.values import Corners

WHOLE: Corners = ((0, 0), (100, 0), (100, 100), (0, 100))
PAGE = (800, 1000)
BOX = (160, 300, 560, 600)
"""Where on its page the picture of 400 by 300 is printed, in pixels."""


def a_page_with(picture: Image.Image) -> Image.Image:
    page = Image.new("L", PAGE, 230)
    page.paste(picture, BOX[:2])
    return page


def in_box(*order: int) -> Corners:
    """The corners of the printed picture in hundredths of its page, beginning at the upper left, in another order."""
    left, top, right, lower = BOX
    corners = [(left, top), (right, top), (right, lower), (left, lower)]
    return tuple((corners[each][0] / PAGE[0] * 100, corners[each][1] / PAGE[1] * 100) for each in order)


def apart(one: Image.Image, other: Image.Image) -> float:
    """How far light and dark are apart on the whole, of 255; the outermost pixels are left out."""
    tones = [np.asarray(each.convert("L"), np.float64)[2:-2, 2:-2] for each in (one, other)]
    return float(np.abs(tones[0] - tones[1]).mean())


@pytest.mark.parametrize(
    ("printed", "order", "is_negative"),
    [
        (lambda picture: picture, (0, 1, 2, 3), False),
        (ImageOps.mirror, (1, 0, 3, 2), False),
        (lambda picture: picture.rotate(180), (2, 3, 0, 1), False),
        (ImageOps.invert, (0, 1, 2, 3), True),
    ],
    ids=["as it is", "in a mirror", "upside down", "as a negative"],
)
def test_a_picture_on_a_page_comes_to_lie_on_the_print_it_was_made_from(
    printed: Callable[[Image.Image], Image.Image], order: tuple[int, ...], *, is_negative: bool
) -> None:
    held = a_photograph()

    laid = lay_page(a_page_with(printed(held)), held.size, (WHOLE, in_box(*order)), is_negative=is_negative)

    assert laid is not None
    assert (laid.mode, laid.size) == ("LA", held.size)
    assert apart(laid, held) < 2
    assert laid.getchannel("A").getextrema() == (255, 255)


def test_a_crop_covers_what_it_shows_and_leaves_the_rest_clear() -> None:
    held = a_photograph()
    crop = held.crop((100, 75, 300, 225))

    laid = lay_page(crop.resize((600, 450)), held.size, (((25, 25), (75, 25), (75, 75), (25, 75)), WHOLE))

    assert laid is not None
    clear = np.asarray(laid.getchannel("A"))
    assert clear[77:223, 102:298].min() == 255
    assert clear[:73].max() == clear[227:].max() == clear[:, :98].max() == clear[:, 302:].max() == 0
    assert apart(laid.crop((100, 75, 300, 225)), crop) < 4


def test_of_a_page_seen_at_a_slant_that_cannot_be_carried_whole_the_area_alone_is_laid() -> None:
    # The sides of this area meet at a third of the page's height: what stands above lies behind the eye.
    slanted: Corners = ((40, 45), (60, 45), (99, 99), (1, 99))

    laid = lay_page(a_page_with(a_photograph()), (400, 300), (((25, 25), (75, 25), (75, 75), (25, 75)), slanted))

    assert laid is not None
    clear = np.asarray(laid.getchannel("A"))
    assert clear[80:220, 105:295].min() == 255
    assert clear[:70].max() == clear[:, :95].max() == 0


@pytest.mark.parametrize("area", [(), ((10, 10), (10, 10), (10, 10), (10, 10)), ((0, 0), (50, 0), (100, 0), (20, 0))])
def test_corners_that_enclose_nothing_tell_no_geometry(area: Corners) -> None:
    assert lay_page(a_photograph(), (400, 300), (WHOLE, area)) is None


def test_a_page_that_cannot_be_opened_costs_the_other_nothing(tmp_path: Path) -> None:
    held = laid_down(tmp_path / "held.png", a_photograph())
    broken = tmp_path / "broken.png"
    broken.write_bytes(held.read_bytes()[:200])
    pages = tuple(PrintJob(path=path, media_type="image/png", page=1) for path in (held, broken))

    views = view_pages(ViewJob(pages=(pages[0], pages[1]), areas=(WHOLE, WHOLE), is_laid=True))

    assert views.first is not None
    assert (views.second, views.laid, views.under) == (None, None, None)
    (fault,) = views.faults
    assert "broken.png" in fault
    with Image.open(BytesIO(views.first)) as drawn:
        assert drawn.size == (1200, 900)


def test_letters_stand_at_the_corners_where_they_tell_how_the_second_lies(tmp_path: Path) -> None:
    white = Image.new("L", (400, 300), 255)
    job = PrintJob(path=laid_down(tmp_path / "white.png", white), media_type="image/png", page=1)
    middle: Corners = ((25, 25), (75, 25), (75, 75), (25, 75))

    lettered, bare = (
        view_pages(ViewJob(pages=(job, job), areas=(middle, middle), is_laid=is_laid)) for is_laid in (True, False)
    )

    inside = []
    for views in (lettered, bare):
        assert views.first is not None
        with Image.open(BytesIO(views.first)) as drawn:
            inside.append((np.asarray(drawn)[240:660, 315:885] < 128).sum())
            assert (np.asarray(drawn)[223:228, 400:800] < 128).any()
    assert inside[0] > inside[1] == 0
