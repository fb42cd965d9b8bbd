import pickle
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pikepdf
import pytest
from likeness.made_pages import MadePage, alike, fitted, photograph
from pages.hostile_pdfs import CATALOG, ONE_PAGE, page, stream, write_pdf
from pages.made_originals import A4, born_digital, canvas, draw_scan, image_only, write_lines
from pages.made_pictures import huge_png
from PIL import Image

from provenance.errors import UnreadableOriginalError
from provenance.likeness.page_prints import PIXELS_TO_PRINT, PrintJob, page_picture, print_page
from provenance.likeness.picture_parts import WHOLE_PAGE
from provenance.likeness.values import PicturePrint
from provenance.pages.signatures import BMP, GIF, JPEG, MARKDOWN, PDF, PLAIN_TEXT, PNG, TIFF, WEBP
from provenance.reading.page_reading import PageJob, read_page
from provenance.records.readings import DOUBTFUL_BELOW, Box
from provenance.records.recordings import SUBRIP, WEBVTT

ORIENTATION = 0x0112


def prints_of(path: Path, media_type: str, page: int = 1, words: tuple[Box, ...] = ()) -> tuple[PicturePrint, ...]:
    return print_page(PrintJob(path=path, media_type=media_type, page=page, words=words))


def parts_of(path: Path, media_type: str, page: int = 1, words: tuple[Box, ...] = ()) -> list[Box]:
    return [each.part for each in prints_of(path, media_type, page, words)]


def saved(image: Image.Image, path: Path, **options: Any) -> Path:
    image.save(path, **options)
    return path


def newsletter() -> tuple[MadePage, Box]:
    """A page of print with a photograph in the middle."""
    sheet = MadePage()
    sheet.write((150, 130, 1090, 480))
    sheet.write((150, 1060, 1090, 1640))
    return sheet, sheet.put(photograph("coffee.png"), (150, 500, 950, 1040))


def test_a_photograph_has_one_print_of_all_of_it(tmp_path: Path) -> None:
    path = saved(photograph("coffee.png"), tmp_path / "a.jpg", quality=90)

    prints = prints_of(path, JPEG)

    assert [each.part for each in prints] == [WHOLE_PAGE]
    assert len(prints[0].points) >= 100


def test_a_page_of_print_with_a_photograph_has_the_print_of_the_photograph_alone(tmp_path: Path) -> None:
    sheet, put = newsletter()
    path = saved(sheet.image, tmp_path / "a.png")

    (part,) = parts_of(path, PNG, words=tuple(sheet.words))

    assert alike(part, put) >= 0.93


def test_by_what_the_recogniser_reads_a_letter_is_no_picture_and_a_photograph_among_print_is(tmp_path: Path) -> None:
    sheet, letter = MadePage((800, 760)), MadePage((800, 400))
    sheet.write((80, 60, 720, 230))
    sheet.write((80, 560, 720, 720))
    letter.write((80, 60, 720, 340))
    put = sheet.put(photograph("coffee.png"), (80, 250, 620, 540))
    found = []
    for made in (sheet, letter):
        path = saved(made.image, tmp_path / "a.png", dpi=(150, 150))
        words = read_page(PageJob(path=path, media_type=PNG, page=1)).words
        sure = tuple(word.box for word in words if word.box and (word.confidence or 0) >= DOUBTFUL_BELOW)
        found.append(parts_of(path, PNG, words=sure))

    assert [alike(part, put) >= 0.93 for part in found[0]] == [True]
    assert found[1] == []


@pytest.mark.parametrize("kind", [PLAIN_TEXT, MARKDOWN, WEBVTT, SUBRIP, "audio/vnd.wave", "application/rtf"])
def test_what_has_no_page_pictures_has_no_prints_and_cannot_be_looked_at(tmp_path: Path, kind: str) -> None:
    path = tmp_path / "a.txt"
    path.write_text("The lamp bracket\n", encoding="utf-8")

    assert prints_of(path, kind) == ()
    with pytest.raises(UnreadableOriginalError, match=r"a\.txt is .* whose pages have no picture"):
        page_picture(PrintJob(path=path, media_type=kind, page=1))


@pytest.mark.parametrize("size", [(1, 1), (8, 8), (31, 31), (400, 300)])
@pytest.mark.parametrize("level", [0, 255])
def test_what_is_tiny_or_even_has_no_prints(tmp_path: Path, size: tuple[int, int], level: int) -> None:
    path = saved(Image.new("L", size, level), tmp_path / "a.png")

    assert prints_of(path, PNG) == ()


@pytest.mark.parametrize("size", [(1, 1), (8, 8), (31, 31)])
def test_a_tiny_photograph_has_no_prints(tmp_path: Path, size: tuple[int, int]) -> None:
    path = saved(photograph("coffee.png").resize(size), tmp_path / "a.png")

    assert prints_of(path, PNG) == ()


def _sixteen_bits(image: Image.Image) -> Image.Image:
    return Image.fromarray(np.asarray(image).astype(np.uint16) * 257)


def _transparent(image: Image.Image) -> Image.Image:
    made = image.convert("RGBA")
    made.putalpha(255)
    made.paste((0, 0, 0, 0), (0, 0, 60, made.height))
    return made


WAYS: dict[str, tuple[str, str, Callable[[Image.Image], Image.Image]]] = {
    "facsimile": (".tif", TIFF, lambda image: image.convert("1")),
    "cmyk": (".jpg", JPEG, lambda image: image.convert("CMYK")),
    "sixteen bits": (".png", PNG, _sixteen_bits),
    "transparent": (".png", PNG, _transparent),
    "palette": (".gif", GIF, lambda image: image.convert("P")),
    "bmp": (".bmp", BMP, lambda image: image.convert("RGB")),
    "webp": (".webp", WEBP, lambda image: image.convert("RGB")),
}


@pytest.mark.parametrize("way", WAYS)
def test_a_photograph_of_any_make_has_a_print(tmp_path: Path, way: str) -> None:
    ending, media_type, made = WAYS[way]
    path = saved(made(photograph("coffee.png")), tmp_path / f"a{ending}")

    assert parts_of(path, media_type)[0] == WHOLE_PAGE


def test_each_page_of_a_tiff_has_its_own_prints(tmp_path: Path) -> None:
    first, second = photograph("coffee.png"), Image.new("L", (600, 400), 255)
    path = saved(first, tmp_path / "a.tif", save_all=True, append_images=[second])

    assert parts_of(path, TIFF) == [WHOLE_PAGE]
    assert parts_of(path, TIFF, 2) == []
    with pytest.raises(UnreadableOriginalError, match="2 pages, and no page 3"):
        prints_of(path, TIFF, 3)


@pytest.mark.parametrize(("orientation", "turn"), [(3, 180), (6, 270), (8, 90)])
def test_the_parts_of_a_turned_photograph_lie_where_they_are_seen_upright(
    tmp_path: Path, orientation: int, turn: int
) -> None:
    """CIPA DC-008 (EXIF 2.32), tag 274: how the stored picture has to be turned."""
    leaf = MadePage((1200, 1600), paper=50)
    put = leaf.put(photograph("chelsea.png"), (100, 150, 1000, 800))
    exif = Image.Exif()
    exif[ORIENTATION] = orientation
    stored = leaf.image.rotate(-turn, expand=True)
    path = saved(stored, tmp_path / "a.jpg", exif=exif, quality=95)

    whole, part = parts_of(path, JPEG)

    assert whole == WHOLE_PAGE
    assert alike(part, put) >= 0.93


def test_a_gigantic_photograph_is_looked_at_much_smaller(tmp_path: Path) -> None:
    path = saved(photograph("coffee.png").resize((9000, 6000)), tmp_path / "a.jpg", quality=70)

    looked_at = page_picture(PrintJob(path=path, media_type=JPEG, page=1))

    assert 0.8 * PIXELS_TO_PRINT <= looked_at.width * looked_at.height <= PIXELS_TO_PRINT
    assert parts_of(path, JPEG) == [WHOLE_PAGE]


def test_a_picture_made_to_fill_the_memory_is_refused(tmp_path: Path) -> None:
    path = huge_png(tmp_path / "a.png", (60_000, 60_000), rows=10)

    with pytest.raises(UnreadableOriginalError, match="more than is safe to open"):
        prints_of(path, PNG)


def test_a_file_that_is_not_here_is_refused(tmp_path: Path) -> None:
    with pytest.raises(UnreadableOriginalError, match=r"a\.png"):
        prints_of(tmp_path / "a.png", PNG)


def test_a_gigantic_page_of_a_pdf_is_looked_at_much_smaller(tmp_path: Path) -> None:
    path = write_pdf(tmp_path / "a.pdf", CATALOG, ONE_PAGE, page(b"/MediaBox[0 0 6000 4000]"))

    looked_at = page_picture(PrintJob(path=path, media_type=PDF, page=1))

    assert 0.95 * PIXELS_TO_PRINT <= looked_at.width * looked_at.height <= 1.01 * PIXELS_TO_PRINT


def test_a_scanned_page_of_a_pdf_is_looked_at_like_any_scan(tmp_path: Path) -> None:
    sheet, put = newsletter()
    path = image_only(tmp_path / "a.pdf", sheet.image)

    (part,) = parts_of(path, PDF, words=tuple(sheet.words))

    assert alike(part, put) >= 0.93


def born_with_pictures(path: Path) -> tuple[Box, Box]:
    """Write a page of text with two photographs placed on it, and give the places."""
    sheet = canvas(path)
    write_lines(sheet, ["The bracket as found on the second car of the batch, before it was cleaned"] * 10)
    draw_scan(sheet, photograph("coffee.png"), (60, 300, 300, 200))
    draw_scan(sheet, fitted(photograph("moon.png"), (300, 200)), (380, 100, 150, 100))
    sheet.save()
    down = 100 / A4[1]
    return (
        Box(6000 / A4[0], (A4[1] - 500) * down, 30_000 / A4[0], 200 * down),
        Box(38_000 / A4[0], (A4[1] - 200) * down, 15_000 / A4[0], 100 * down),
    )


def turned(box: Box) -> Box:
    """A place on a page that is turned a quarter clockwise."""
    return Box(100 - box.y - box.h, box.x, box.h, box.w)


@pytest.mark.parametrize("turn", [0, 90])
def test_pictures_placed_on_a_page_have_prints_and_the_page_has_none(tmp_path: Path, turn: int) -> None:
    first, second = born_with_pictures(tmp_path / "a.pdf")
    # The ten lines of text, 18 points apart from 760 points up.
    words = tuple(
        Box(10 + 12 * n, (A4[1] - 770 + 18 * line) * 100 / A4[1], 11, 1.6) for line in range(10) for n in range(6)
    )
    if turn:
        first, second, words = turned(first), turned(second), tuple(map(turned, words))
    with pikepdf.open(tmp_path / "a.pdf") as document:
        document.pages[0].obj.Rotate = turn
        document.save(tmp_path / "b.pdf")

    parts = parts_of(tmp_path / "b.pdf", PDF, words=words)

    assert len(parts) == 2  # the second covers 3 %: it is known, and need not be found
    assert alike(parts[0], first) >= 0.99
    assert alike(parts[1], second) >= 0.99


def test_a_figure_drawn_in_lines_on_a_page_of_text_has_a_print(tmp_path: Path) -> None:
    sheet = canvas(tmp_path / "a.pdf")
    write_lines(sheet, ["The bracket as found on the second car of the batch, before it was cleaned"] * 20)
    sheet.setLineWidth(1.5)
    for radius in (20, 50, 80, 110):
        sheet.circle(300, 200, radius)
    for at in range(-3, 4):
        sheet.line(190, 200 + 25 * at, 410, 200 - 25 * at)
    sheet.save()
    words = tuple(
        Box(10 + 12 * n, (A4[1] - 770 + 18 * line) * 100 / A4[1], 11, 1.6) for line in range(20) for n in range(6)
    )

    (part,) = parts_of(tmp_path / "a.pdf", PDF, words=words)

    put = Box(19_000 / A4[0], (A4[1] - 310) * 100 / A4[1], 22_000 / A4[0], 22_000 / A4[1])
    assert alike(part, put) >= 0.93


def test_a_blank_page_of_a_pdf_has_no_prints(tmp_path: Path) -> None:
    path = write_pdf(tmp_path / "a.pdf", CATALOG, ONE_PAGE, page())

    assert prints_of(path, PDF) == ()


def test_a_page_whose_picture_cannot_be_decoded_is_refused(tmp_path: Path) -> None:
    broken = stream(
        b"\xff\xd8 no more of it is left",
        b"/Type/XObject/Subtype/Image/Width 100/Height 100/BitsPerComponent 8/ColorSpace/DeviceGray/Filter/DCTDecode",
    )
    opened = page(b"/MediaBox[0 0 400 200]/Contents 4 0 R/Resources<</XObject<</I 5 0 R>>>>")
    path = write_pdf(tmp_path / "a.pdf", CATALOG, ONE_PAGE, opened, stream(b"400 0 0 200 0 0 cm /I Do"), broken)

    with pytest.raises(UnreadableOriginalError, match="cannot be drawn whole"):
        prints_of(path, PDF)


def test_a_page_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(UnreadableOriginalError, match="no page 3"):
        prints_of(born_digital(tmp_path / "a.pdf", pages=2), PDF, 3)


def test_a_job_can_be_handed_to_a_worker_and_its_prints_handed_back(tmp_path: Path) -> None:
    job = PrintJob(
        path=saved(photograph("coffee.png"), tmp_path / "a.png"), media_type=PNG, page=1, words=(WHOLE_PAGE,)
    )

    (print_,) = pickle.loads(pickle.dumps(print_page(pickle.loads(pickle.dumps(job)))))

    assert print_.part == WHOLE_PAGE
