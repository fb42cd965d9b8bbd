from pathlib import Path

import numpy as np
import pypdfium2
from pages.made_originals import born_digital, canvas

from provenance.pages.pictures import PIXELS_TO_READ
from provenance.pages.rendering import render


def test_a_page_is_drawn_grey_at_the_resolution_asked_for(tmp_path: Path) -> None:
    path = born_digital(tmp_path / "manual.pdf")

    picture = render(path, 1, 144)

    assert picture.image.mode == "L"
    assert picture.image.size == (1190, 1684)  # 595 and 842 points, doubled
    assert picture.dpi == 144
    assert picture.note == ""
    assert picture.image.getextrema() == (0, 255)


def test_a_turned_page_is_drawn_upright(tmp_path: Path) -> None:
    path = born_digital(tmp_path / "manual.pdf", pages=1)
    with pypdfium2.PdfDocument(path) as document:
        document[0].set_rotation(90)
        document.save(tmp_path / "turned.pdf")

    upright = np.asarray(render(path, 1, 72).image)
    turned = np.asarray(render(tmp_path / "turned.pdf", 1, 72).image)

    assert turned.shape == (595, 842)
    assert np.abs(turned.astype(int) - np.rot90(upright, -1).astype(int)).mean() < 5


def test_a_works_drawing_of_great_size_is_drawn_at_less_and_that_is_said(tmp_path: Path) -> None:
    path = tmp_path / "drawing.pdf"
    sheet = canvas(path, (14400, 14400))
    sheet.line(100, 100, 14000, 14000)
    sheet.save()

    picture = render(path, 1, 300)

    assert 0.98 * PIXELS_TO_READ <= picture.image.width * picture.image.height <= 1.01 * PIXELS_TO_READ
    assert picture.dpi is not None
    assert picture.dpi < 31  # 200 inches at 30 dpi are 6,000 pixels
    assert picture.note == "a very large page, drawn at 30 dpi"


def test_a_page_without_height_does_not_stop_the_batch(tmp_path: Path) -> None:
    path = tmp_path / "flat.pdf"
    sheet = canvas(path, (500, 0.001))
    sheet.line(0, 0, 500, 0)
    sheet.save()

    picture = render(path, 1, 300)

    assert min(picture.image.size) >= 1
