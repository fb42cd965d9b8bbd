"""Pages cut into tiles show what is on them, upright as delivered, at every size."""

import hashlib
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pikepdf
import pytest
from pages.coded_pages import ACROSS, BLOCK, DOWN, blocks_in, coded_page, colour_of, is_near, job_of, lying_png
from pages.test_cut_pdfs import ACROSS as PDF_ACROSS
from pages.test_cut_pdfs import DOWN as PDF_DOWN
from pages.test_cut_pdfs import VISIBLE, coded_pdf, upright_middle
from pages.test_cut_pictures import exif_of
from pages.tiled import LARGER, large_page, shown_at, tiles_of
from PIL import Image, ImageDraw

from provenance.errors import UnreadableOriginalError
from provenance.pages.tile_files import Band, DamagedTilesError, TileFile, bands_of
from provenance.pages.tiles import TileJob, make_tiles

# How a page upright is stored for each orientation (CIPA DC-008, tag 274; TIFF 6.0, the same tag), by its array.
STORED: dict[int, Callable[[np.ndarray], np.ndarray]] = {
    1: lambda page: page,
    2: np.fliplr,
    3: lambda page: np.rot90(page, 2),
    4: np.flipud,
    5: lambda page: page.transpose(1, 0, 2),
    6: lambda page: np.rot90(page, 1),
    7: lambda page: np.rot90(page.transpose(1, 0, 2), 2),
    8: lambda page: np.rot90(page, 3),
}


def is_coded(picture: Image.Image, by: int = 6) -> bool:
    """Whether every block of the coded page stands where it belongs."""
    across, down = picture.width / ACROSS, picture.height / DOWN
    coloured = picture.convert("RGB")
    return all(
        is_near(coloured.getpixel((int((x + 0.5) * across), int((y + 0.5) * down))), colour_of(x, y), by)
        for x, y in blocks_in(range(ACROSS), range(DOWN))
    )


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "TIFF", "WEBP"])
def test_every_size_of_a_page_shows_all_of_it(tmp_path: Path, kind: str) -> None:
    path = tmp_path / "page"
    large_page().save(path, kind, quality=95)

    fine, coarse = (tiles_of(path, f"image/{kind.lower()}", is_coarse=each) for each in (False, True))

    assert fine.page == coarse.page
    assert (fine.page.width, fine.page.height, fine.page.levels) == (2400, 1200, 4)
    assert [fine.has(level) for level in range(4)] == [True, False, False, False]
    assert [coarse.has(level) for level in range(4)] == [False, True, True, True]
    assert all(is_coded(shown_at(fine if level == 0 else coarse, level)) for level in range(4))


def test_a_page_that_fills_no_window_has_its_full_size_among_the_small_ones(tmp_path: Path) -> None:
    coded_page().save(tmp_path / "page.png")

    tiles = tiles_of(tmp_path / "page.png", "image/png", is_coarse=True)

    assert is_coded(shown_at(tiles, 0))
    assert bands_of(tiles.page.width, tiles.page.height) == ()


def test_a_band_holds_its_own_rows_and_they_are_those_of_the_whole(tmp_path: Path) -> None:
    path = tmp_path / "page.png"
    large_page().save(path)
    job = replace(job_of(path, "image/png", None), sha256=hashlib.sha256(path.read_bytes()).hexdigest())
    whole = tiles_of(path, "image/png", is_coarse=False)

    assert make_tiles(TileJob(page=job, wanted=())) == b""
    bands = [TileFile(make_tiles(TileJob(page=job, wanted=(Band(0, number),)))) for number in (0, 1)]

    # 1,200 rows of pixels are three rows of tiles: two in the first band, the last in the second
    for row in range(3):
        for column in range(5):
            assert bands[row // 2].read(0, column, row) == whole.read(0, column, row)
    with pytest.raises(DamagedTilesError):
        bands[0].read(0, 0, 2)
    with pytest.raises(DamagedTilesError):
        bands[1].read(0, 0, 1)


@pytest.mark.parametrize("orientation", STORED)
def test_a_page_lies_upright_however_it_is_stored(tmp_path: Path, orientation: int) -> None:
    stored = Image.fromarray(np.ascontiguousarray(STORED[orientation](np.asarray(large_page()))))
    stored.save(tmp_path / "page.jpg", quality=95, exif=exif_of(orientation))

    coarse = tiles_of(tmp_path / "page.jpg", "image/jpeg", is_coarse=True)
    fine = tiles_of(tmp_path / "page.jpg", "image/jpeg", is_coarse=False)

    assert coarse.page == fine.page
    assert coarse.page.of_page == (2400, 1200)
    assert is_coded(shown_at(coarse, 1))
    assert is_coded(shown_at(fine, 0))


@pytest.mark.parametrize("orientation", [1, 3, 6])
def test_an_odd_side_is_shown_to_its_last_row(tmp_path: Path, orientation: int) -> None:
    page = Image.new("L", (2401, 1), 255)
    page.putpixel((2400, 0), 0)
    stored = Image.fromarray(np.ascontiguousarray(np.rot90(np.asarray(page), {1: 0, 3: 2, 6: 1}[orientation])))
    stored.save(tmp_path / "page.tif", exif=exif_of(orientation))

    coarse = tiles_of(tmp_path / "page.tif", "image/tiff", is_coarse=True)

    assert (coarse.page.width, coarse.page.height) == (2401, 1)
    assert shown_at(coarse, 1).size == (1201, 1)
    assert shown_at(tiles_of(tmp_path / "page.tif", "image/tiff", is_coarse=False), 0).getpixel((2400, 0)) == 0


@pytest.mark.parametrize("turned", [0, 90, 180, 270])
def test_a_page_of_a_pdf_is_shown_cropped_and_turned(tmp_path: Path, turned: int) -> None:
    path = coded_pdf(tmp_path / "coded.pdf", turned)

    tiles = tiles_of(path, "application/pdf", is_coarse=True)

    # 14 by 8 blocks of 20 points are left, and drawn at 300 to the inch.
    size = tuple(-(-blocks * 20 * 300 // 72) for blocks in (PDF_ACROSS - 2, PDF_DOWN - 2))
    assert (tiles.page.width, tiles.page.height) == (size if turned in {0, 180} else size[::-1])
    picture, block = shown_at(tiles, 0).convert("RGB"), 20 * 300 / 72
    for across, down in blocks_in(*VISIBLE):
        x, y = upright_middle(turned, across, down)
        assert is_near(picture.getpixel((int(x * block), int(y * block))), colour_of(across, down)), (across, down)


def test_a_large_page_of_a_pdf_is_drawn_alike_at_every_size(tmp_path: Path) -> None:
    path = coded_pdf(tmp_path / "coded.pdf")
    with pikepdf.open(path, allow_overwriting_input=True) as document:
        document.pages[0].UserUnit = 3  # ISO 32000-1, table 30: a unit is 3/72 inch
        document.save(path)

    fine, coarse = (tiles_of(path, "application/pdf", is_coarse=each) for each in (False, True))

    assert fine.page == coarse.page
    assert fine.page.width == 3500
    whole, half = shown_at(fine, 0).convert("RGB"), shown_at(coarse, 1).convert("RGB")
    for across, down in blocks_in(*VISIBLE):
        x, y = upright_middle(0, across, down)
        for picture, block in ((whole, 250), (half, 125)):
            assert is_near(picture.getpixel((int(x * block), int(y * block))), colour_of(across, down))


def test_the_second_page_of_a_tiff_is_shown_where_it_is_asked_for(tmp_path: Path) -> None:
    Image.new("RGB", (40, 20), "red").save(tmp_path / "pages.tif", save_all=True, append_images=[coded_page()])

    assert is_coded(shown_at(tiles_of(tmp_path / "pages.tif", "image/tiff", page=2, is_coarse=True), 0))


@pytest.mark.parametrize(
    ("name", "middle"),
    [("cmyk.jpg", (0, 0, 0)), ("sixteen.png", 128), ("see-through.png", (255, 255, 255)), ("bits.tif", 255)],
)
def test_colours_of_every_kind_are_shown(tmp_path: Path, name: str, middle: object) -> None:
    pictures = {
        "cmyk.jpg": Image.new("CMYK", (60, 40), (0, 0, 0, 255)),
        "sixteen.png": Image.fromarray(np.linspace(0, 65535, 61 * 41).reshape(41, 61).astype(np.uint16)),
        "see-through.png": Image.new("RGBA", (60, 40), (10, 10, 10, 0)),
        "bits.tif": Image.new("1", (60, 40), 1),
    }
    if name == "see-through.png":
        ImageDraw.Draw(pictures[name]).rectangle((0, 0, 9, 9), fill=(10, 10, 10, 255))
    pictures[name].save(tmp_path / name)
    kinds = {"jpg": "image/jpeg", "png": "image/png", "tif": "image/tiff"}

    shown = shown_at(tiles_of(tmp_path / name, kinds[name[-3:]], is_coarse=True), 0)

    found = shown.getpixel((30, 20))
    assert np.allclose(np.asarray(found), np.asarray(middle), atol=4)
    if name == "see-through.png":
        assert shown.getpixel((4, 4)) == (10, 10, 10)


def test_lines_keep_every_pixel_and_tones_are_written_small(tmp_path: Path) -> None:
    lines = Image.new("L", (900, 700), 255)
    ImageDraw.Draw(lines).line((10, 10, 890, 690), fill=0, width=3)
    lines.save(tmp_path / "lines.png")
    tones = Image.fromarray(np.random.default_rng(1).integers(0, 255, (700, 900), dtype=np.uint8))
    tones.save(tmp_path / "tones.png")

    of_lines = tiles_of(tmp_path / "lines.png", "image/png", is_coarse=True)
    of_tones = tiles_of(tmp_path / "tones.png", "image/png", is_coarse=True)

    assert of_lines.page.is_lossless
    assert np.array_equal(np.asarray(shown_at(of_lines, 0)), np.asarray(lines))
    assert not of_tones.page.is_lossless
    assert of_tones.read(0, 0, 0).startswith(b"\xff\xd8\xff")


def test_the_oblong_pixels_of_a_facsimile_are_made_square(tmp_path: Path) -> None:
    # 204 by 98 to the inch, the normal resolution of a facsimile (ITU-T T.4, in inches).
    coded_page().save(tmp_path / "fax.tif", dpi=(204, 98))

    tiles = tiles_of(tmp_path / "fax.tif", "image/tiff", is_coarse=True)

    assert (tiles.page.width, tiles.page.height) == (400, round(200 * 204 / 98))
    assert is_coded(shown_at(tiles, 0), by=8)


def test_a_picture_too_large_to_be_kept_whole_is_kept_at_half_its_size(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    large_page().save(tmp_path / "page.png")
    monkeypatch.setattr("provenance.pages.tiles.MOST_PIXELS", 1_000_000)

    tiles = tiles_of(tmp_path / "page.png", "image/png", is_coarse=True)

    assert (tiles.page.width, tiles.page.height, tiles.page.of_page) == (1200, 600, (2400, 1200))
    assert tiles.page.note == "2,400 by 1,200 pixels; shown at 50 % of its size"
    assert is_coded(shown_at(tiles, 0))


def test_a_photograph_with_damaged_exif_is_shown_as_it_is_stored_and_that_is_said(tmp_path: Path) -> None:
    coded_page().save(tmp_path / "page.jpg", quality=95, subsampling=0, exif=b"Exif\0\0" + bytes(range(40)))

    tiles = tiles_of(tmp_path / "page.jpg", "image/jpeg", is_coarse=True)

    assert is_coded(shown_at(tiles, 0))
    assert "its EXIF is damaged" in tiles.page.note


def test_no_word_date_or_profile_of_the_original_goes_along(tmp_path: Path) -> None:
    large_page().save(tmp_path / "page.jpg", exif=exif_of(1, "CANARY"), comment="CANARY", icc_profile=b"CANARY" * 30)

    for is_coarse in (True, False):
        job = job_of(tmp_path / "page.jpg", "image/jpeg", None)
        data = make_tiles(TileJob(page=job, wanted=None if is_coarse else (Band(0, 0),)))
        assert b"CANARY" not in data
        assert TileFile(data).page.width == BLOCK * ACROSS * LARGER


def test_no_profile_goes_along_with_levels_of_sixteen_bits(tmp_path: Path) -> None:
    levels = np.linspace(0, 65535, 61 * 41).reshape(41, 61).astype(np.uint16)
    Image.fromarray(levels).save(tmp_path / "page.png", icc_profile=b"CANARY" * 30)

    data = make_tiles(TileJob(page=job_of(tmp_path / "page.png", "image/png", None), wanted=None))

    assert b"CANARY" not in data
    assert b"ICC_PROFILE" not in data


def test_a_picture_of_a_few_bytes_that_unfolds_to_gigabytes_is_refused(tmp_path: Path) -> None:
    (tmp_path / "bomb.png").write_bytes(lying_png("RGB", (60_000, 60_000)))

    with pytest.raises(UnreadableOriginalError, match="unfolds to 3600 million pixels"):
        tiles_of(tmp_path / "bomb.png", "image/png", is_coarse=True)


def test_what_cannot_be_shown_is_refused_with_the_reason(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("notes", encoding="utf-8")
    coded_page().save(tmp_path / "page.png")
    changed = replace(job_of(tmp_path / "page.png", "image/png", None), sha256="0" * 64)
    (tmp_path / "half.png").write_bytes((tmp_path / "page.png").read_bytes()[:300])

    with pytest.raises(UnreadableOriginalError, match="no picture"):
        tiles_of(tmp_path / "notes.txt", "text/plain", is_coarse=True)
    with pytest.raises(UnreadableOriginalError, match="is not as it was received"):
        make_tiles(TileJob(page=changed, wanted=None))
    with pytest.raises(UnreadableOriginalError, match="damaged or cut-short"):
        tiles_of(tmp_path / "half.png", "image/png", is_coarse=True)
