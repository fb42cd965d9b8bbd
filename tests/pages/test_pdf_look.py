from pathlib import Path

import pikepdf
import pytest
from pages.made_originals import A4, born_digital, canvas, draw_scan, image_only, picture_of, write_lines
from reportlab.pdfgen.canvas import Canvas

from provenance.errors import UnreadableOriginalError
from provenance.pages.pdf_look import look_at


def test_a_born_digital_page_has_characters_and_no_pictures(tmp_path: Path) -> None:
    path = born_digital(tmp_path / "manual.pdf")

    look = look_at(path, 1)

    assert look.characters > 200
    assert look.picture_share == 0
    assert look.scan_dpi is None


def test_a_scan_tells_its_resolution_on_paper(tmp_path: Path) -> None:
    path = image_only(tmp_path / "scan.pdf", picture_of(size=(1654, 2339)))

    look = look_at(path, 1)

    assert look.characters == 0
    assert look.picture_share == pytest.approx(1)
    # 1654 pixels over 595 points: 1654 / (595 / 72) = 200.1
    assert look.scan_dpi == pytest.approx(200, abs=0.5)


def test_a_picture_within_a_form_counts_where_it_is_shown(tmp_path: Path) -> None:
    path = tmp_path / "form.pdf"
    sheet = canvas(path)
    sheet.beginForm("stamp", 0, 0, 100, 100)
    draw_scan(sheet, picture_of(size=(200, 200)), (0, 0, 100, 100))
    sheet.endForm()
    sheet.saveState()
    sheet.translate(50, 100)
    sheet.scale(2, 3)
    sheet.doForm("stamp")
    sheet.restoreState()
    sheet.save()

    look = look_at(path, 1)

    assert look.picture_share == pytest.approx(200 * 300 / (A4[0] * A4[1]), rel=0.01)
    # 200 pixels over 200 by 300 points: 72 x 200 / sqrt(200 x 300) = 58.8
    assert look.scan_dpi == pytest.approx(58.8, abs=0.5)


def test_a_picture_outside_the_page_covers_nothing_of_it(tmp_path: Path) -> None:
    path = tmp_path / "outside.pdf"
    sheet = canvas(path)
    draw_scan(sheet, picture_of(), (700, 0, 500, 500))
    write_lines(sheet)
    sheet.save()

    look = look_at(path, 1)

    assert look.picture_share == 0
    assert look.scan_dpi is None


def test_a_blank_page_has_nothing_drawn_on_it(tmp_path: Path) -> None:
    path = tmp_path / "blank.pdf"
    sheet = Canvas(str(path))
    sheet.showPage()
    sheet.save()

    look = look_at(path, 1)

    assert look.objects == 0


@pytest.mark.parametrize("page", [0, 3, -1])
def test_a_page_that_is_not_there_is_refused_by_its_number(tmp_path: Path, page: int) -> None:
    path = born_digital(tmp_path / "manual.pdf", pages=2)

    with pytest.raises(UnreadableOriginalError, match=f"has 2 pages for the engine that draws, and no page {page}"):
        look_at(path, page)


def test_a_page_that_the_document_promises_and_does_not_hold_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "circle.pdf"
    path.write_bytes(
        b"%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n"
        b"2 0 obj<</Type/Pages/Kids[2 0 R]/Count 1>>endobj\ntrailer<</Root 1 0 R>>\n%%EOF\n"
    )

    with pytest.raises(UnreadableOriginalError, match=r"page 1 of circle\.pdf cannot be opened"):
        look_at(path, 1)


def test_the_resolution_of_a_scan_on_a_page_of_larger_units_is_that_on_paper(tmp_path: Path) -> None:
    with pikepdf.open(image_only(tmp_path / "scan.pdf", picture_of(size=(1654, 2339)))) as document:
        document.pages[0].obj.UserUnit = 2  # ISO 32000-1, 14.11: the sheet is twice as wide
        document.save(tmp_path / "large.pdf")

    assert look_at(tmp_path / "large.pdf", 1).scan_dpi == pytest.approx(100, abs=0.5)
