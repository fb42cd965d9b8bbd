"""What reading a picture takes of memory, in a process of its own; no time is asserted."""

import struct
import sys
from pathlib import Path
from typing import Any

import pytest
from pages.made_pictures import huge_png, marked, peak_of
from PIL import Image, ImageDraw, ImageFont

from provenance.pages.plain_files import open_plain
from provenance.pages.tiff_frames import read_frames

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="the mark of a process image is read from /proc")

A0 = (9933, 14_043)  # 841 by 1189 mm at 300 dpi
GUARD = 89_478_485  # pixels at which Pillow warns; it refuses at twice as many (Pillow, Image.MAX_IMAGE_PIXELS)


def drawing(size: tuple[int, int], number: int = 0) -> Image.Image:
    """A sheet with a frame, rules and lettering, of two levels."""
    image = Image.new("1", size, 1)
    draw = ImageDraw.Draw(image)
    draw.rectangle((200, 200, size[0] - 200, size[1] - 200), outline=0, width=8)
    for place in range(400, min(size) - 400, 500):
        draw.line((place, 300, place, size[1] - 300), fill=0, width=3)
    draw.text((500, 700), f"H-{number}", fill=0, font=ImageFont.load_default(300))
    return image


@pytest.mark.parametrize(
    ("name", "mode", "options"),
    [("a0.tif", "1", {"compression": "group4"}), ("a0.png", "L", {"compress_level": 1}), ("a0.jpg", "L", {})],
)
def test_an_a0_drawing_is_read_within_300_megabytes(
    tmp_path: Path, name: str, mode: str, options: dict[str, Any]
) -> None:
    drawing(A0).convert(mode).save(tmp_path / name, **options)

    peak, said = peak_of(tmp_path / name)

    assert said == "1 (4967, 7022) 9933 by 14043 pixels, read at 50% of its size"
    assert peak <= 300


@pytest.mark.parametrize("many", [6, pytest.param(60, marks=pytest.mark.long)])
def test_sixty_large_frames_are_read_one_by_one_within_500_megabytes(tmp_path: Path, many: int) -> None:
    frames = [drawing((6000, 4000), number) for number in range(many)]
    path = tmp_path / "drawings.tif"
    frames[0].save(path, save_all=True, append_images=frames[1:], compression="group4")

    peak, said = peak_of(path)

    assert path.stat().st_size < 1_400_000
    assert said.startswith(f"{many} (6000, 4000)")
    assert peak <= (500 if many == 60 else 250)  # six at once would be 290 with what the process holds anyway


def test_a_page_is_opened_without_those_before_it(tmp_path: Path) -> None:
    frames = [drawing((600, 400), number) for number in range(40)]
    frames[0].save(tmp_path / "a.tif", save_all=True, append_images=frames[1:], compression="group4")

    with open_plain(tmp_path / "a.tif") as file:
        places = [frame.alone[4] for frame in read_frames(file)]

    assert len(set(places)) == 40


@pytest.mark.parametrize(
    ("share", "is_colour"),
    [
        (2.01, False),
        *(pytest.param(*each, marks=pytest.mark.long) for each in ((0.99, False), (0.99, True), (2.01, True))),
    ],
)
def test_a_png_around_the_guard_of_the_library_is_read_within_a_gigabyte(
    tmp_path: Path, *, share: float, is_colour: bool
) -> None:
    size = (10_000, int(GUARD * share) // 10_000)
    path = huge_png(tmp_path / "a.png", size, rows=size[1], is_colour=is_colour)

    peak, said = peak_of(path)

    assert said.startswith("1 (")
    assert "read at" in said
    assert peak < 1000


@pytest.mark.parametrize(
    ("name", "options"),
    [
        ("a.jpg", {"quality": 30}),
        pytest.param("a.gif", {}, marks=pytest.mark.long),
        pytest.param("a.bmp", {}, marks=pytest.mark.long),
        pytest.param("a.tif", {"compression": "tiff_adobe_deflate"}, marks=pytest.mark.long),
    ],
)
def test_other_kinds_around_the_guard_of_the_library_are_read_within_a_gigabyte(
    tmp_path: Path, name: str, options: dict[str, Any]
) -> None:
    Image.new("L", (10_000, int(GUARD * 2.01) // 10_000), 255).save(tmp_path / name, **options)

    peak, said = peak_of(tmp_path / name)

    assert said.startswith("1 (4474, 8046)")
    assert peak < 1000


def test_a_webp_that_would_take_too_much_is_refused_before_it_takes_it(tmp_path: Path) -> None:
    path = tmp_path / "a.webp"
    Image.new("RGB", (100, 80), "white").save(path, lossless=True)
    content = bytearray(path.read_bytes())
    content[21:25] = struct.pack("<I", (9000 - 1) | (8000 - 1) << 14)  # the size that it claims
    path.write_bytes(content)

    peak, said = peak_of(path)

    assert "unfolds to 72 million pixels, more than is safe to open" in said
    assert peak < 100


@pytest.mark.long
@pytest.mark.parametrize(("name", "megapixels"), [("a.webp", 45), ("a.jp2", 70)])
def test_a_large_picture_of_a_kind_that_takes_much_is_read_within_a_gigabyte(
    tmp_path: Path, name: str, megapixels: int
) -> None:
    options: dict[str, Any] = {"method": 0, "lossless": True} if name.endswith("webp") else {}
    Image.new("RGB" if name.endswith("webp") else "L", (megapixels * 200, 5000), 255).save(tmp_path / name, **options)

    peak, said = peak_of(tmp_path / name)

    assert said.startswith("1 (")
    assert peak < 1000


def test_what_is_read_is_what_was_drawn(tmp_path: Path) -> None:
    marked((3000, 2000)).save(tmp_path / "a.png")

    assert peak_of(tmp_path / "a.png")[1] == "1 (3000, 2000)"
