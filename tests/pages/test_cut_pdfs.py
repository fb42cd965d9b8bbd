from pathlib import Path

import numpy as np
import pikepdf
import pytest
from pages.coded_pages import blocks_in, colour_of, is_near, job_of, one_piece, part_of, pixels_of
from pages.hostile_pdfs import drawn, write_pdf
from PIL import Image
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from provenance.errors import UnreadableOriginalError
from provenance.pages.cut_outs import CutJob, CutOut
from provenance.pages.cutting import cut
from provenance.records.regions import parse_region

PDF = "application/pdf"
UNIT = 20  # points to a block
ACROSS, DOWN = 16, 10  # blocks on the sheet; of these a margin of one all round is cropped
VISIBLE = range(1, ACROSS - 1), range(1, DOWN - 1)
MIDDLE = "percent:20,30,50,50"


def coded_pdf(path: Path, turned: int = 0) -> Path:
    """A sheet of 16 by 10 blocks of 20 points of which the crop box leaves 14 by 8, turned clockwise so far."""
    drawing = Canvas(str(path), pagesize=(ACROSS * UNIT, DOWN * UNIT))
    for across, down in blocks_in(range(ACROSS), range(DOWN)):
        drawing.setFillColorRGB(*(level / 255 for level in colour_of(across, down)))
        drawing.rect(across * UNIT, (DOWN - 1 - down) * UNIT, UNIT, UNIT, stroke=0, fill=1)
    drawing.save()
    with pikepdf.open(path, allow_overwriting_input=True) as document:
        page = document.pages[0]
        page.CropBox = pikepdf.Array([UNIT, UNIT, (ACROSS - 1) * UNIT, (DOWN - 1) * UNIT])
        page.Rotate = turned
        document.save(path)
    return path


def upright_middle(turned: int, across: int, down: int) -> tuple[float, float]:
    """Where the middle of a block lies on the page upright, in blocks from the left and the top.

    Source of the turning, clockwise: ISO 32000-1, table 30, Rotate.
    """
    x, y, width, height = across - 0.5, down - 0.5, ACROSS - 2, DOWN - 2
    return {0: (x, y), 90: (height - y, x), 180: (width - x, height - y), 270: (y, width - x)}[turned]


@pytest.mark.parametrize("turned", [0, 90, 180, 270])
def test_a_region_is_measured_on_the_page_cropped_and_turned(tmp_path: Path, turned: int) -> None:
    path = coded_pdf(tmp_path / "coded.pdf", turned)
    size = (ACROSS - 2, DOWN - 2) if turned in {0, 180} else (DOWN - 2, ACROSS - 2)

    picture = pixels_of(one_piece(path, PDF, MIDDLE)).convert("RGB")

    # The longer side of the region is 7 blocks, and 8 % of it are shown on either side.
    margin = 7 * 0.08
    scale = picture.width / (size[0] / 2 + 2 * margin)
    looked_at = 0
    for across, down in blocks_in(*VISIBLE):
        x, y = upright_middle(turned, across, down)
        left, top = size[0] * 0.2, size[1] * 0.3
        if left < x < left + size[0] / 2 and top < y < top + size[1] / 2:
            looked_at += 1
            place = round((x - left + margin) * scale), round((y - top + margin) * scale)
            assert is_near(picture.getpixel(place), colour_of(across, down)), (across, down)
    assert looked_at in range(20, 36)


def test_a_piece_of_a_page_without_a_scan_is_drawn_at_200_to_the_inch(tmp_path: Path) -> None:
    piece = one_piece(coded_pdf(tmp_path / "coded.pdf"), PDF, MIDDLE)

    # 140 points and twice 11.2 for the margin are 162.4 points, which are 57.3 mm.
    assert piece.width == pytest.approx(162.4 / 72 * 200, abs=2)
    # 451 pixels at 150 to the inch.
    assert piece.width_mm == pytest.approx(76.4, abs=0.4)
    assert piece.note == "from a page of 99 by 56 mm"


def test_the_whole_page_is_its_visible_part(tmp_path: Path) -> None:
    piece = one_piece(coded_pdf(tmp_path / "coded.pdf"), PDF)

    picture = pixels_of(piece).convert("RGB")
    assert picture.width / picture.height == pytest.approx(14 / 8, rel=0.01)
    assert is_near(picture.getpixel((5, 5)), colour_of(1, 1))
    assert is_near(picture.getpixel((picture.width - 5, picture.height - 5)), colour_of(14, 8))
    assert piece.note == "the whole of a page of 99 by 56 mm"


def test_a_scan_is_shown_as_fine_as_it_is_and_no_finer(tmp_path: Path) -> None:
    # 800 by 400 pixels on 8 by 4 inches are 100 to the inch.
    noise = np.random.default_rng(7).integers(0, 256, (400, 800)).astype(np.uint8)
    drawing = Canvas(str(tmp_path / "scan.pdf"), pagesize=(576, 288))
    drawing.drawImage(ImageReader(Image.fromarray(noise)), 0, 0, 576, 288)
    drawing.save()

    piece = one_piece(tmp_path / "scan.pdf", PDF, MIDDLE)

    # 400 pixels, and 32 for the margin on either side; the page carries no colour.
    assert piece.width == pytest.approx(464, abs=2)
    assert pixels_of(piece).mode == "L"


def test_nothing_outside_the_margin_is_drawn_and_no_name_goes_along(tmp_path: Path) -> None:
    drawing = Canvas(str(tmp_path / "page.pdf"), pagesize=(400, 400))
    drawing.setAuthor("CANARY")
    drawing.setFillColorRGB(1, 0, 0)
    drawing.rect(0, 0, 400, 400, stroke=0, fill=1)
    drawing.setFillColorRGB(1, 1, 1)
    drawing.rect(82, 82, 236, 236, stroke=0, fill=1)  # the region, its margin of 16 points, and 2 points more
    drawing.save()

    piece = one_piece(tmp_path / "page.pdf", PDF, "percent:25,25,50,50")

    levels = np.asarray(pixels_of(piece).convert("RGB")).astype(int)
    assert (levels[..., 0] - levels[..., 1]).max() <= 2
    assert b"CANARY" not in piece.data


def test_a_region_in_pixels_is_refused_and_the_others_are_cut(tmp_path: Path) -> None:
    refused, piece = cut(job_of(coded_pdf(tmp_path / "coded.pdf"), PDF, "pixel:10,10,20,20", MIDDLE))

    assert isinstance(refused, str)
    assert "measured in pixels" in refused
    assert "percent" in refused
    assert isinstance(piece, CutOut)


def test_nothing_beside_the_part_that_a_source_is_of_its_page_is_shown(tmp_path: Path) -> None:
    path = coded_pdf(tmp_path / "coded.pdf")
    parts = part_of(None, within="percent:0,0,50,50"), part_of("percent:60,60,9,9", within="percent:0,0,50,50")

    whole, off = cut(CutJob(path=path, media_type=PDF, page=1, parts=parts))

    assert isinstance(whole, CutOut)
    assert whole.note == "from a page of 99 by 56 mm"
    assert is_near(pixels_of(whole).convert("RGB").getpixel((whole.width - 5, whole.height - 5)), colour_of(7, 4))
    assert off == "the region percent:60,60,9,9 lies off the part of the page that the source is"


def test_pages_of_other_units_are_measured_in_their_own(tmp_path: Path) -> None:
    path = coded_pdf(tmp_path / "coded.pdf")
    with pikepdf.open(path, allow_overwriting_input=True) as document:
        document.pages[0].UserUnit = 10
        document.save(path)

    assert one_piece(path, PDF, MIDDLE).note == "from a page of 988 by 564 mm"


def test_a_picture_that_cannot_be_decoded_is_no_white_page(tmp_path: Path) -> None:
    damaged = (
        b"<</Type/XObject/Subtype/Image/Width 64/Height 64/ColorSpace/DeviceGray/BitsPerComponent 8"
        b"/Filter/DCTDecode/Length 4>>stream\nspoi\nendstream"
    )
    catalog, pages, page, content = drawn(b"q 200 0 0 200 0 0 cm /P Do Q")
    page = page.replace(b"/Contents 4 0 R", b"/Resources<</XObject<</P 5 0 R>>>>/Contents 4 0 R")
    path = write_pdf(tmp_path / "damaged.pdf", catalog, pages, page, content, damaged)

    with pytest.raises(UnreadableOriginalError, match="cannot be drawn whole"):
        cut(job_of(path, PDF, MIDDLE))


def test_a_page_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(UnreadableOriginalError, match="no page 2"):
        cut(job_of(coded_pdf(tmp_path / "coded.pdf"), PDF, MIDDLE, page=2))


def test_a_hair_of_a_page_is_still_a_picture(tmp_path: Path) -> None:
    path = coded_pdf(tmp_path / "coded.pdf")

    pieces = cut(job_of(path, PDF, "percent:0,0,0.01,0.01", "percent:99.99,99.99,0.01,0.01", "percent:0,50,100,0.01"))

    assert all(isinstance(piece, CutOut) for piece in pieces)
    assert str(parse_region("percent:0,0,0.01,0.01")) == "percent:0,0,0.01,0.01"
