from pathlib import Path

import numpy as np
import pdfplumber
import pikepdf
import pytest
from pages.hostile_pdfs import CATALOG, ONE_PAGE, page, stream, write_pdf
from pages.made_originals import A4, born_digital, canvas, draw_scan, picture_of, write_lines
from PIL import Image
from reportlab.pdfgen.canvas import Canvas

from provenance.errors import UnreadableOriginalError
from provenance.pages.placed_pictures import placed_pictures
from provenance.pages.rendering import render
from provenance.records.readings import Box

BLACK = Image.new("L", (300, 300), 0)
PHOTO = picture_of(size=(300, 200), letters=12)


def percent(left: float, bottom: float, wide: float, high: float) -> Box:
    """What is drawn on an A4 page at so many points, in percent from its upper left corner."""
    across, down = 100 / A4[0], 100 / A4[1]
    return Box(left * across, (A4[1] - bottom - high) * down, wide * across, high * down)


def are_at(boxes: tuple[Box, ...], *wanted: Box, within: float = 0.1) -> bool:
    """Whether places are the wanted ones, in that order, to a tenth of a percent."""
    edges = [(box.x, box.y, box.w, box.h) for box in boxes]
    return edges == [pytest.approx((box.x, box.y, box.w, box.h), abs=within) for box in wanted]


def sheet_with(path: Path, *places: tuple[float, float, float, float], image: Image.Image = PHOTO) -> Path:
    """Write a page of text with a picture at each of the places."""
    sheet = canvas(path)
    write_lines(sheet)
    for place in places:
        draw_scan(sheet, image, place)
    sheet.save()
    return path


def test_pictures_are_told_where_they_stand_the_largest_first(tmp_path: Path) -> None:
    path = sheet_with(tmp_path / "a.pdf", (60, 100, 150, 100), (300, 300, 240, 160))

    assert are_at(placed_pictures(path, 1), percent(300, 300, 240, 160), percent(60, 100, 150, 100))


def test_they_stand_where_another_engine_says(tmp_path: Path) -> None:
    """Source: pdfplumber, which reads the page by an engine of its own."""
    path = sheet_with(tmp_path / "a.pdf", (60.5, 100.25, 150, 100), (300, 300, 240.75, 160.5))

    found = placed_pictures(path, 1)

    with pdfplumber.open(path) as document:
        sheet = document.pages[0]
        images = sorted(sheet.images, key=lambda image: -image["width"] * image["height"])
        across, down = 100 / float(sheet.width), 100 / float(sheet.height)
        others = [Box(i["x0"] * across, i["top"] * down, i["width"] * across, i["height"] * down) for i in images]
    assert len(others) == 2
    assert are_at(found, *others)


def test_a_picture_in_a_form_within_a_form_is_told_where_it_is_shown(tmp_path: Path) -> None:
    sheet = canvas(tmp_path / "a.pdf")
    sheet.beginForm("inner", 0, 0, 100, 100)
    draw_scan(sheet, PHOTO, (10, 10, 60, 40))
    sheet.endForm()
    sheet.beginForm("outer", 0, 0, 300, 300)
    sheet.translate(20, 30)
    sheet.scale(2, 2)
    sheet.doForm("inner")
    sheet.endForm()
    sheet.translate(100, 200)
    sheet.scale(1, 1.5)
    sheet.doForm("outer")
    sheet.save()

    # Across: 100 + 20 + 2 x 10 = 140, 2 x 60 = 120 wide. Up: 200 + 1.5 (30 + 2 x 10) = 275, 1.5 x 2 x 40 = 120 high.
    assert are_at(placed_pictures(tmp_path / "a.pdf", 1), percent(140, 275, 120, 120))


@pytest.mark.parametrize("turn", [0, 90, 180, 270])
def test_on_a_turned_and_cropped_page_a_picture_is_told_where_the_page_as_drawn_shows_it(
    tmp_path: Path, turn: int
) -> None:
    """Source: where the page is black when PDFium draws it."""
    sheet = canvas(tmp_path / "a.pdf")
    draw_scan(sheet, BLACK, (150, 250, 200, 120))
    sheet.save()
    with pikepdf.open(tmp_path / "a.pdf") as document:
        document.pages[0].obj.CropBox = pikepdf.Array([100, 50, 500, 700])
        document.pages[0].obj.Rotate = turn
        document.save(tmp_path / "turned.pdf")

    found = placed_pictures(tmp_path / "turned.pdf", 1)

    drawn = np.asarray(render(tmp_path / "turned.pdf", 1, 144).image) < 128
    rows, columns = np.flatnonzero(drawn.any(axis=1)), np.flatnonzero(drawn.any(axis=0))
    down, across = 100 / drawn.shape[0], 100 / drawn.shape[1]
    black = Box(columns[0] * across, rows[0] * down, len(columns) * across, len(rows) * down)
    assert are_at(found, black, within=0.3)


def test_what_a_path_clips_off_is_left_out(tmp_path: Path) -> None:
    sheet = canvas(tmp_path / "a.pdf")
    shape = sheet.beginPath()
    shape.rect(100, 100, 200, 150)
    sheet.clipPath(shape, stroke=0)
    draw_scan(sheet, PHOTO, (50, 50, 400, 400))
    sheet.save()

    assert are_at(placed_pictures(tmp_path / "a.pdf", 1), percent(100, 100, 200, 150))


def test_what_lies_beyond_the_page_is_left_out(tmp_path: Path) -> None:
    path = sheet_with(tmp_path / "a.pdf", (700, 100, 300, 300), (400, -50, 300, 200))

    assert are_at(placed_pictures(path, 1), percent(400, 0, A4[0] - 400, 150))


def test_the_bands_of_a_scan_are_one_picture(tmp_path: Path) -> None:
    bands = [(100, 200 + 20 * number, 300, 20) for number in range(12)]
    path = sheet_with(tmp_path / "a.pdf", *bands, image=PHOTO.crop((0, 0, 300, 20)))

    assert are_at(placed_pictures(path, 1), percent(100, 200, 300, 240))


def test_the_bands_of_a_scan_that_lies_on_its_side_are_one_picture(tmp_path: Path) -> None:
    sheet = canvas(tmp_path / "a.pdf")
    sheet.translate(400, 200)
    sheet.rotate(90)
    for number in range(12):
        draw_scan(sheet, PHOTO.crop((0, 0, 300, 20)), (0, 20 * number, 300, 20))
    sheet.save()

    # Turned to the left: 300 long upward from 200, 12 x 20 wide to the left of 400.
    assert are_at(placed_pictures(tmp_path / "a.pdf", 1), percent(160, 200, 240, 300))


def test_the_tiles_of_a_picture_are_one_picture(tmp_path: Path) -> None:
    tiles = [(100 + 50 * across, 200 + 60 * up, 50, 60) for across in range(4) for up in range(3)]
    path = sheet_with(tmp_path / "a.pdf", *tiles, image=PHOTO.crop((0, 0, 60, 60)))

    assert are_at(placed_pictures(path, 1), percent(100, 200, 200, 180))


def test_two_pictures_with_paper_between_them_stay_two(tmp_path: Path) -> None:
    path = sheet_with(tmp_path / "a.pdf", (100, 400, 200, 140), (100, 250, 200, 140), (310, 400, 200, 140))

    assert len(placed_pictures(path, 1)) == 3


def test_a_picture_that_is_drawn_twice_is_one_its_bands_too(tmp_path: Path) -> None:
    bands = [(100, 200 + 70 * number, 200, 70) for number in range(3)]
    path = sheet_with(tmp_path / "a.pdf", (100, 500, 200, 140), (100, 500, 200, 140), *bands, *bands)

    assert are_at(placed_pictures(path, 1), percent(100, 200, 200, 210), percent(100, 500, 200, 140))


def test_logos_rules_and_what_has_hardly_a_pixel_are_left_out(tmp_path: Path) -> None:
    sheet = canvas(tmp_path / "a.pdf")
    draw_scan(sheet, PHOTO, (60, 760, 90, 60))  # 1.1 % of the page
    draw_scan(sheet, PHOTO, (60, 700, 475, 2))
    draw_scan(sheet, PHOTO.resize((47, 300)), (60, 300, 300, 200))
    sheet.save()

    assert placed_pictures(tmp_path / "a.pdf", 1) == ()


def test_a_page_of_text_and_a_blank_page_have_none(tmp_path: Path) -> None:
    blank = Canvas(str(tmp_path / "blank.pdf"))
    blank.showPage()
    blank.save()

    assert placed_pictures(born_digital(tmp_path / "a.pdf"), 2) == ()
    assert placed_pictures(tmp_path / "blank.pdf", 1) == ()


def test_a_form_that_draws_itself_comes_to_an_end(tmp_path: Path) -> None:
    resources = b"/Resources<</XObject<</F 5 0 R>>>>"
    form = stream(b"/F Do", b"/Type/XObject/Subtype/Form/BBox[0 0 100 100]" + resources)
    opened = page(b"/MediaBox[0 0 400 200]/Contents 4 0 R" + resources)
    path = write_pdf(tmp_path / "a.pdf", CATALOG, ONE_PAGE, opened, stream(b"/F Do"), form)

    assert placed_pictures(path, 1) == ()


def test_a_page_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(UnreadableOriginalError, match="no page 3"):
        placed_pictures(born_digital(tmp_path / "manual.pdf", pages=2), 3)
