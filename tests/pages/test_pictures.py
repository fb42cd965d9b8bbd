from pathlib import Path
from typing import Any

import numpy as np
import pytest
import tifffile
from pages.made_pictures import corner_marked, huge_png, level_at, marked
from PIL import Image, ImageOps

from provenance.errors import UnreadableOriginalError
from provenance.pages.pictures import PIXELS_TO_READ, look_at_picture, stated_dpi, upright
from provenance.pages.signatures import JPEG, PNG, TIFF, WEBP

EXIF_ORIENTATION = 0x0112
WAYS: dict[str, tuple[str, str, dict[str, Any]]] = {
    "jpeg": (JPEG, "RGB", {"quality": 95}),
    "grey jpeg": (JPEG, "L", {"quality": 95}),
    "png": (PNG, "L", {}),
    "png with paper of nothing": (PNG, "LA", {}),
    "webp": (WEBP, "RGB", {"lossless": True}),
    "lossy webp": (WEBP, "RGBA", {"quality": 90}),
    "raw tiff": (TIFF, "L", {}),
    "lzw": (TIFF, "RGB", {"compression": "tiff_lzw"}),
    "colour differences": (TIFF, "YCbCr", {"compression": "tiff_lzw"}),
    "group4": (TIFF, "1", {"compression": "group4"}),
    "jpeg in tiff": (TIFF, "RGB", {"compression": "jpeg", "quality": 95}),
    "bigtiff": (TIFF, "L", {"big_tiff": True}),
}
CORNERS = [(1, (0, 0)), (2, (1, 0)), (3, (1, 1)), (4, (0, 1)), (5, (0, 0)), (6, (1, 0)), (7, (1, 1)), (8, (0, 1))]


@pytest.mark.parametrize(("orientation", "corner"), CORNERS)
@pytest.mark.parametrize("way", WAYS)
def test_a_picture_is_turned_as_its_camera_held_it(
    tmp_path: Path, orientation: int, corner: tuple[int, int], way: str
) -> None:
    """Source: EXIF 2.32 (CIPA DC-008), tag 274: where the first row and the first column of the stored picture lie.

    1 top, left; 2 top, right; 3 bottom, right; 4 bottom, left; 5 left, top; 6 right, top; 7 right, bottom;
    8 left, bottom.
    """
    path = saved(tmp_path, marked(), orientation, way)

    image = upright(path, WAYS[way][0]).image

    assert image.size == ((300, 200) if orientation < 5 else (200, 300))
    assert corner_marked(image) == [corner]


def saved(folder: Path, image: Image.Image, orientation: int, way: str) -> Path:
    media_type, mode, options = WAYS[way]
    exif = Image.Exif()
    exif[EXIF_ORIENTATION] = orientation
    path = folder / f"a.{media_type.removeprefix('image/')}"
    ready = image if image.mode == mode else image.convert("RGB").convert(mode)
    ready.save(path, exif=exif, **options)
    return path


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("way", WAYS)
def test_every_pixel_lies_where_another_hand_turns_it(tmp_path: Path, orientation: int, way: str) -> None:
    """Source: Pillow's own `ImageOps.exif_transpose` of the full picture; grey of it by Pillow.

    A JPEG is decoded to grey at once, without colours between: up to two levels apart. The picture is opened from an
    open file, since by the path of an uncompressed TIFF that lies on its side Pillow 13 mixes up the rows.
    """
    levels = np.random.default_rng(orientation).integers(0, 256, (23, 37), dtype=np.uint8)
    image = Image.fromarray(np.kron(levels, np.ones((4, 4), dtype=np.uint8)))
    path = saved(tmp_path, image, orientation, way)

    found = upright(path, WAYS[way][0]).image

    with path.open("rb") as file, Image.open(file) as opened:
        turned = ImageOps.exif_transpose(opened)
        expected = np.asarray(turned.convert("L")).astype(int)
    assert found.size == turned.size
    assert np.abs(np.asarray(found) - expected).max() <= (2 if WAYS[way][0] == JPEG else 0)


def test_each_frame_of_a_tiff_is_turned_by_its_own_tag(tmp_path: Path) -> None:
    """Source: tifffile, which wrote it."""
    with tifffile.TiffWriter(tmp_path / "a.tif") as file:
        for orientation, _ in CORNERS:
            file.write(np.asarray(marked()), extratags=[(EXIF_ORIENTATION, 3, 1, orientation, True)])

    corners = [corner_marked(upright(tmp_path / "a.tif", TIFF, page).image) for page in range(1, 9)]

    assert corners == [[corner] for _, corner in CORNERS]


def test_a_large_picture_is_turned_after_it_was_made_smaller(tmp_path: Path) -> None:
    path = saved(tmp_path, marked((9000, 6000)).convert("1"), 6, "group4")

    picture = upright(path, TIFF)

    assert picture.image.size == (4898, 7348)
    assert corner_marked(picture.image) == [(1, 0)]


@pytest.mark.parametrize("way", ["jpeg", "png", "group4"])
def test_a_page_that_is_only_looked_at_is_opened_no_larger_than_is_enough(tmp_path: Path, way: str) -> None:
    path = saved(tmp_path, marked((3000, 2000)), 6, way)

    picture = upright(path, WAYS[way][0], pixels=600_000)

    assert 0.8 * 600_000 <= picture.image.width * picture.image.height <= 600_000
    assert picture.image.width / picture.image.height == pytest.approx(2 / 3, abs=0.01)
    assert corner_marked(picture.image) == [(1, 0)]
    assert picture.note.startswith("3000 by 2000 pixels, read at ")


@pytest.mark.parametrize("orientation", [0, 9, 77])
def test_an_orientation_that_is_none_leaves_the_picture_as_it_is(tmp_path: Path, orientation: int) -> None:
    path = saved(tmp_path, marked(), orientation, "png")

    assert corner_marked(upright(path, PNG).image) == [(0, 0)]


@pytest.mark.parametrize("name", ["a.jpg", "a.png", "a.webp"])
def test_a_picture_whose_exif_is_damaged_is_read_as_it_is_stored_and_that_is_said(tmp_path: Path, name: str) -> None:
    marked().convert("RGB").save(tmp_path / name, exif=b"Exif\0\0" + bytes(range(40)), quality=95)

    picture = upright(tmp_path / name, {"a.jpg": JPEG, "a.png": PNG, "a.webp": WEBP}[name])

    assert corner_marked(picture.image) == [(0, 0)]
    assert picture.note == "its EXIF is damaged: it was read as it is stored, and may lie on its side"


@pytest.mark.parametrize("mode", ["1", "L", "P", "RGB", "LA", "RGBA", "I;16"])
def test_every_kind_of_png_becomes_grey_with_the_paper_white_and_the_ink_black(tmp_path: Path, mode: str) -> None:
    image = marked().convert("I").point(lambda level: level * 257) if mode == "I;16" else marked().convert(mode)
    if mode == "I;16":
        image = image.convert("I;16")
    image.save(tmp_path / "a.png")

    picture = upright(tmp_path / "a.png", "image/png")

    assert picture.image.mode == "L"
    assert picture.image.getpixel((5, 5)) == 0
    assert picture.image.getpixel((290, 190)) == 255


def test_what_is_transparent_is_paper(tmp_path: Path) -> None:
    image = Image.new("RGBA", (300, 200), (0, 0, 0, 0))
    image.paste((0, 0, 0, 255), (0, 0, 100, 50))
    image.save(tmp_path / "a.png")

    picture = upright(tmp_path / "a.png", "image/png")

    assert picture.image.getpixel((5, 5)) == 0
    assert picture.image.getpixel((290, 190)) == 255


def test_a_grey_of_sixteen_bits_is_not_burnt_out(tmp_path: Path) -> None:
    Image.new("I;16", (300, 200), 32896).save(tmp_path / "a.png")

    picture = upright(tmp_path / "a.png", "image/png")

    assert picture.image.getpixel((5, 5)) == 128  # 32896 = 128 x 257


def test_a_separated_colour_picture_is_not_turned_into_its_negative(tmp_path: Path) -> None:
    marked().convert("CMYK").save(tmp_path / "a.jpg", quality=95)

    picture = upright(tmp_path / "a.jpg", "image/jpeg")

    assert level_at(picture.image, 5, 5) < 40
    assert level_at(picture.image, 290, 190) > 215


@pytest.mark.parametrize(("stated", "believed"), [(300, 300), (72, None), (0, None), (9600, None)])
def test_a_resolution_is_believed_where_a_scanner_may_have_written_it(
    tmp_path: Path, stated: int, believed: int | None
) -> None:
    marked().save(tmp_path / "a.jpg", dpi=(stated, stated))

    picture = upright(tmp_path / "a.jpg", "image/jpeg")

    assert picture.dpi == believed


@pytest.mark.parametrize(("name", "media_type"), [("a.jpg", "image/jpeg"), ("a.png", "image/png")])
def test_a_picture_of_one_pixel_is_a_picture(tmp_path: Path, name: str, media_type: str) -> None:
    Image.new("RGB", (1, 1), "white").save(tmp_path / name)

    picture = upright(tmp_path / name, media_type)

    assert picture.image.size == (1, 1)


def test_an_honest_large_drawing_is_read_smaller_and_that_is_said(tmp_path: Path) -> None:
    size = (9933, 14043)  # A0 at 300 dpi: 841 by 1189 mm
    Image.new("L", size, 255).save(tmp_path / "drawing.jpg", dpi=(300, 300))

    picture = upright(tmp_path / "drawing.jpg", "image/jpeg")

    assert picture.image.size == (4967, 7022)
    assert picture.dpi == pytest.approx(150, abs=0.1)
    assert picture.note == "9933 by 14043 pixels, read at 50% of its size"


@pytest.mark.parametrize("megapixels", [90, 180])
def test_around_the_guard_of_the_library_every_honest_picture_is_read(tmp_path: Path, megapixels: int) -> None:
    path = huge_png(tmp_path / "plan.png", (10_000, megapixels * 100), rows=megapixels * 100)

    picture = upright(path, "image/png")

    assert picture.image.width * picture.image.height <= PIXELS_TO_READ
    assert picture.image.getextrema() == (255, 255)
    assert "read at" in picture.note


def test_a_picture_that_unfolds_beyond_all_measure_is_refused_before_it_is_decoded(tmp_path: Path) -> None:
    path = huge_png(tmp_path / "bomb.png", (30_000, 10_000), rows=10, is_colour=True)

    for refuse in (lambda: look_at_picture(path, "image/png"), lambda: upright(path, "image/png")):
        with pytest.raises(UnreadableOriginalError, match="unfolds to 300 million pixels"):
            refuse()


def test_a_picture_that_is_cut_short_is_never_read_in_part(tmp_path: Path) -> None:
    marked((1200, 900)).save(tmp_path / "a.jpg")
    content = (tmp_path / "a.jpg").read_bytes()
    (tmp_path / "a.jpg").write_bytes(content[: len(content) // 2])

    with pytest.raises(UnreadableOriginalError, match="damaged or cut-short picture"):
        upright(tmp_path / "a.jpg", "image/jpeg")


@pytest.mark.parametrize(
    ("dpi", "size", "believed"),
    [
        ((204, 98), (300, 416), 204),  # a facsimile of the ordinary kind
        ((204, 196), (300, 200), 204),  # and of the fine one: square enough
        ((98, 204), (624, 200), 204),
        ((1200, 100), (300, 200), 1200),  # beyond belief
        ((300, 0), (300, 200), None),
    ],
)
def test_a_facsimile_with_long_pixels_is_stretched_to_square_ones(
    tmp_path: Path, dpi: tuple[int, int], size: tuple[int, int], believed: int | None
) -> None:
    """Source: ITU-T T.4, section 2: 8.04 dots a millimetre across, 3.85 or 7.7 lines down: 204 by 98 or 196 an inch."""
    marked().convert("1").save(tmp_path / "a.tif", compression="group3", tiffinfo={282: dpi[0], 283: dpi[1], 296: 2})

    picture = upright(tmp_path / "a.tif", TIFF)

    assert picture.image.size == size
    assert picture.dpi == pytest.approx(believed)
    assert ("not square" in picture.note) == (size != (300, 200))
    assert corner_marked(picture.image) == [(0, 0)]


def test_a_large_facsimile_is_stretched_no_further_than_a_page_may_be_large(tmp_path: Path) -> None:
    tags = {282: 400, 283: 100, 296: 2}
    marked((4000, 6000)).convert("1").save(tmp_path / "a.tif", compression="group4", tiffinfo=tags)

    picture = upright(tmp_path / "a.tif", TIFF)

    assert picture.image.size == (2449, 14696)  # of 4000 by 24000 as many as 36 million are
    assert picture.dpi == pytest.approx(400 * 2449 / 4000)


@pytest.mark.parametrize("orientation", [6, 8])
def test_the_resolution_of_a_turned_facsimile_is_that_of_its_square_pixels(tmp_path: Path, orientation: int) -> None:
    tags = {282: 204, 283: 98, 296: 2, EXIF_ORIENTATION: orientation}
    marked().convert("1").save(tmp_path / "a.tif", compression="group3", tiffinfo=tags)

    picture = upright(tmp_path / "a.tif", TIFF)

    assert picture.image.size == (416, 300)
    assert picture.dpi == pytest.approx(204)


def test_a_resolution_that_is_no_number_is_none(tmp_path: Path) -> None:
    with Image.open(saved(tmp_path, marked(), 1, "png")) as image:
        image.info["dpi"] = ("three hundred", None)

        assert stated_dpi(image) == (0.0, 0.0)
