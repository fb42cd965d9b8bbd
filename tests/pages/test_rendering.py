import zlib
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from pages.hostile_pdfs import CATALOG, ONE_PAGE, page, write_pdf
from pages.made_originals import born_digital, canvas

from provenance.errors import UnreadableOriginalError
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


def test_a_page_that_is_only_looked_at_is_drawn_no_larger_than_is_enough(tmp_path: Path) -> None:
    path = born_digital(tmp_path / "manual.pdf")

    picture = render(path, 1, 300, pixels=500_000)

    assert 0.98 * 500_000 <= picture.image.width * picture.image.height <= 1.01 * 500_000
    assert picture.dpi == pytest.approx(72 * (500_000 / (595 * 842)) ** 0.5)


@pytest.mark.parametrize(("unit", "pixels", "dpi"), [(1, 600, 300), (5, 3000, 300), (40, 6000, 75)])
def test_a_page_measured_in_units_larger_than_a_point_is_drawn_by_its_true_size(
    tmp_path: Path, unit: int, pixels: int, dpi: float
) -> None:
    """ISO 32000-1, 14.11: a unit of 5 makes a box of 144 units 720 points, that is 10 inches, wide."""
    more = b"/MediaBox[0 0 144 144]/UserUnit %d" % unit
    path = write_pdf(tmp_path / "drawing.pdf", CATALOG, ONE_PAGE, page(more))

    picture = render(path, 1, 300)

    assert picture.image.size == (pixels, pixels)
    assert picture.dpi == pytest.approx(dpi)
    assert picture.note == ("" if dpi == 300 else "a very large page, drawn at 75 dpi")


def test_a_page_without_height_does_not_stop_the_batch(tmp_path: Path) -> None:
    path = tmp_path / "flat.pdf"
    sheet = canvas(path, (500, 0.001))
    sheet.line(0, 0, 500, 0)
    sheet.save()

    picture = render(path, 1, 300)

    assert min(picture.image.size) >= 1


def with_picture(path: Path, *, side: int, kind: bytes, content: bytes) -> Path:
    """Write by hand a page that is one picture."""
    drawing = b"595 0 0 842 0 0 cm /I Do"
    path.write_bytes(
        b"%%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n2 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj\n"
        b"3 0 obj<</Type/Page/Parent 2 0 R/MediaBox[0 0 595 842]/Contents 4 0 R"
        b"/Resources<</XObject<</I 5 0 R>>>>>>endobj\n"
        b"4 0 obj<</Length %d>>stream\n%s\nendstream endobj\n"
        b"5 0 obj<</Type/XObject/Subtype/Image/Width %d/Height %d/BitsPerComponent 8/ColorSpace/DeviceGray/Filter/%s"
        b"/Length %d>>stream\n%s\nendstream endobj\ntrailer<</Root 1 0 R>>\n%%%%EOF\n"
        % (len(drawing), drawing, side, side, kind, len(content), content)
    )
    return path


def test_a_scan_of_a_blank_sheet_is_a_blank_page(tmp_path: Path) -> None:
    path = with_picture(tmp_path / "a.pdf", side=100, kind=b"FlateDecode", content=zlib.compress(b"\xff" * 10_000))

    picture = render(path, 1, 72)

    assert picture.image.getextrema() == (255, 255)


@pytest.mark.parametrize(
    ("side", "kind", "content"),
    [(100, b"DCTDecode", b"\xff\xd8 no more of it is left"), (60_000, b"FlateDecode", zlib.compress(bytes(60_000)))],
    ids=["damaged", "too large"],
)
def test_a_picture_that_the_engine_leaves_out_without_a_word_is_never_taken_for_a_blank_page(
    tmp_path: Path, side: int, kind: bytes, content: bytes
) -> None:
    path = with_picture(tmp_path / "a.pdf", side=side, kind=kind, content=content)

    with pytest.raises(UnreadableOriginalError, match="cannot be drawn whole: damaged, or too large"):
        render(path, 1, 72)
