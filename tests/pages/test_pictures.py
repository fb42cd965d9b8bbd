import struct
import zlib
from pathlib import Path

import pytest
from PIL import Image

from provenance.errors import UnreadableOriginalError
from provenance.pages.pictures import PIXELS_TO_READ, check_picture, fit, upright

EXIF_ORIENTATION = 0x0112


def marked(size: tuple[int, int] = (300, 200)) -> Image.Image:
    """A white picture with its upper left corner black."""
    image = Image.new("L", size, 255)
    image.paste(0, (0, 0, size[0] // 3, size[1] // 4))
    return image


def level_at(image: Image.Image, across: int, down: int) -> float:
    level = image.getpixel((across, down))
    assert isinstance(level, (int, float))
    return level


def huge_png(path: Path, size: tuple[int, int], *, rows: int, is_colour: bool = False) -> Path:
    """Write a white PNG by hand: a few kilobytes for many megapixels."""

    def chunk(kind: bytes, content: bytes) -> bytes:
        return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", zlib.crc32(kind + content))

    packer = zlib.compressobj(1)
    row = b"\0" + b"\xff" * size[0] * (3 if is_colour else 1)
    packed = b"".join(packer.compress(row) for _ in range(rows)) + packer.flush()
    header = struct.pack(">IIBBBBB", *size, 8, 2 if is_colour else 0, 0, 0, 0)
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", packed) + chunk(b"IEND", b""))
    return path


@pytest.mark.parametrize(
    ("orientation", "corner"),
    [(1, (0, 0)), (2, (1, 0)), (3, (1, 1)), (4, (0, 1)), (5, (0, 0)), (6, (1, 0)), (7, (1, 1)), (8, (0, 1))],
)
@pytest.mark.parametrize(("name", "media_type"), [("a.jpg", "image/jpeg"), ("a.png", "image/png")])
def test_a_picture_is_turned_as_its_camera_held_it(
    tmp_path: Path, orientation: int, corner: tuple[int, int], name: str, media_type: str
) -> None:
    """Source: EXIF 2.32 (CIPA DC-008), tag 274: where the first row and the first column of the stored picture lie.

    1 top, left; 2 top, right; 3 bottom, right; 4 bottom, left; 5 left, top; 6 right, top; 7 right, bottom;
    8 left, bottom.
    """
    exif = Image.Exif()
    exif[EXIF_ORIENTATION] = orientation
    marked().save(tmp_path / name, exif=exif)

    image = upright(tmp_path / name, media_type).image

    width, height = image.size
    assert image.size == ((300, 200) if orientation < 5 else (200, 300))
    for across in (0, 1):
        for down in (0, 1):
            level = level_at(image, 5 + across * (width - 10), 5 + down * (height - 10))
            assert (level < 50) == ((across, down) == corner)


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
    path = huge_png(tmp_path / "bomb.png", (20_000, 10_000), rows=10, is_colour=True)

    for refuse in (lambda: check_picture(path, "image/png"), lambda: upright(path, "image/png")):
        with pytest.raises(UnreadableOriginalError, match="unfolds to 200 million pixels"):
            refuse()


def test_a_picture_that_is_cut_short_is_never_read_in_part(tmp_path: Path) -> None:
    marked((1200, 900)).save(tmp_path / "a.jpg")
    content = (tmp_path / "a.jpg").read_bytes()
    (tmp_path / "a.jpg").write_bytes(content[: len(content) // 2])

    with pytest.raises(UnreadableOriginalError, match="damaged or cut-short picture"):
        upright(tmp_path / "a.jpg", "image/jpeg")


@pytest.mark.parametrize(
    ("size", "pixels", "fitted"),
    [((100, 200), 20_000, (100, 200)), ((200, 200), 10_000, (100, 100)), ((10_000, 1), 100, (1000, 1))],
)
def test_a_size_is_fitted_without_changing_its_shape(
    size: tuple[int, int], pixels: int, fitted: tuple[int, int]
) -> None:
    assert fit(size, pixels) == fitted
