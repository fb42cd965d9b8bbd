import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from pages.coded_pages import (
    ACROSS,
    BLOCK,
    DOWN,
    SIZE,
    Colour,
    blocks_in,
    coded_page,
    colour_of,
    is_near,
    job_of,
    lying_png,
    one_piece,
    pixels_of,
)
from PIL import Image, ImageCms, PngImagePlugin

from provenance.errors import UnreadableOriginalError
from provenance.pages import picture_kinds
from provenance.pages.cut_outs import FRAME, MOST_PIXELS, CutOut
from provenance.pages.cutting import cut

JPEG, PNG, TIFF = "image/jpeg", "image/png", "image/tiff"
MIDDLE = "percent:30,20,50,50"  # of the coded page: columns 6 to 15, rows 2 to 6; 200 by 100 pixels from 120, 40
Levels = NDArray[np.uint8]

# How a picture is stored, by its orientation: where its first row and its first column lie on the picture upright.
# Source: CIPA DC-008 (EXIF 2.32), 4.6.4 A, Orientation.
STORED: dict[int, Callable[[Levels], Levels]] = {
    1: lambda upright: upright,
    2: lambda upright: upright[:, ::-1],  # row: top, column: right
    3: lambda upright: upright[::-1, ::-1],  # bottom, right
    4: lambda upright: upright[::-1],  # bottom, left
    5: lambda upright: upright.transpose(1, 0, 2),  # left, top
    6: lambda upright: upright.transpose(1, 0, 2)[::-1],  # right, top
    7: lambda upright: upright.transpose(1, 0, 2)[::-1, ::-1],  # right, bottom
    8: lambda upright: upright.transpose(1, 0, 2)[:, ::-1],  # left, bottom
}


def stored(orientation: int) -> Image.Image:
    """The coded page as a camera would store it."""
    return Image.fromarray(np.ascontiguousarray(STORED[orientation](np.asarray(coded_page()))))


def exif_of(orientation: int, description: str = "") -> bytes:
    exif = Image.Exif()
    exif[0x0112] = orientation
    if description:
        exif[0x010E] = description
    return exif.tobytes()


def require_middle(piece: CutOut) -> None:
    """The region is 200 by 100 pixels, enlarged to 300 by 150; its margin of 8 % is 16 pixels, which become 24."""
    picture = pixels_of(piece).convert("RGB")
    assert picture.size == (348, 198)
    for across, down in blocks_in(range(6, 16), range(2, 7)):
        place = 24 + 30 * (across - 6) + 15, 24 + 30 * (down - 2) + 15
        assert is_near(picture.getpixel(place), colour_of(across, down)), (across, down)
    for place, block in {(3, 100): (5, 4), (344, 100): (16, 4), (190, 3): (11, 1), (190, 194): (11, 7)}.items():
        assert is_near(picture.getpixel(place), colour_of(*block)), block


def test_a_piece_shows_its_region_and_a_margin_of_what_lies_round_it(tmp_path: Path) -> None:
    coded_page().save(tmp_path / "page.png")

    piece = one_piece(tmp_path / "page.png", PNG, MIDDLE)

    require_middle(piece)
    assert piece.note == "from a page of 400 by 200 pixels, shown at 150 % of its size"


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("kind", [JPEG, PNG, TIFF])
def test_a_region_is_measured_on_the_page_upright_however_it_is_stored(
    tmp_path: Path, kind: str, orientation: int
) -> None:
    path = tmp_path / "page"
    options = {"quality": 95, "subsampling": 0} if kind == JPEG else {}
    if kind == TIFF:
        stored(orientation).save(path, "TIFF", tiffinfo={0x0112: orientation})
    else:
        stored(orientation).save(path, kind.removeprefix("image/").upper(), exif=exif_of(orientation), **options)

    require_middle(one_piece(path, kind, MIDDLE))
    require_middle(one_piece(path, kind, "pixel:120,40,200,100"))


def test_the_second_page_of_a_tiff_is_cut_where_it_is_named(tmp_path: Path) -> None:
    path, first = tmp_path / "two.tif", Image.new("L", (50, 50), 255)
    first.save(path, "TIFF", save_all=True, append_images=[coded_page()])

    require_middle(one_piece(path, TIFF, MIDDLE, page=2))
    with pytest.raises(UnreadableOriginalError, match="no page 3"):
        cut(job_of(path, TIFF, MIDDLE, page=3))


@pytest.mark.parametrize("kind", [JPEG, PNG])
def test_a_large_page_shows_the_same_part_made_small(tmp_path: Path, kind: str) -> None:
    path = tmp_path / "large"
    coded_page().resize((4000, 2000), Image.Resampling.NEAREST).save(path, kind.removeprefix("image/").upper())

    picture = pixels_of(one_piece(path, kind, MIDDLE)).convert("RGB")

    # 2,000 pixels and a margin of 160 on either side become 1,200; a block of 200 becomes 103 and a half.
    assert max(picture.size) in range(1196, 1201)
    for across, down in blocks_in(range(6, 16), range(2, 7)):
        place = (160 + 200 * (across - 6) + 100) * 1200 // 2320, (160 + 200 * (down - 2) + 100) * 1200 // 2320
        assert is_near(picture.getpixel(place), colour_of(across, down)), (across, down)


def test_without_a_region_the_whole_page_is_shown_without_angles(tmp_path: Path) -> None:
    coded_page().save(tmp_path / "page.png")

    piece = one_piece(tmp_path / "page.png", PNG)

    picture = pixels_of(piece).convert("RGB")
    assert picture.size == SIZE
    assert all(
        is_near(picture.getpixel((BLOCK * across + 10, BLOCK * down + 10)), colour_of(across, down))
        for across, down in blocks_in(range(ACROSS), range(DOWN))
    )
    assert piece.note == "the whole of a page of 400 by 200 pixels, shown at 100 % of its size"


@pytest.mark.parametrize("paper", [(0, 0, 0), (255, 255, 255), (128, 128, 128)])
def test_the_angles_are_seen_on_dark_and_on_light_and_cover_nothing_of_the_region(
    tmp_path: Path, paper: Colour
) -> None:
    page = Image.new("RGB", (600, 400), paper)
    page.paste((0, 160, 0), (200, 150, 500, 250))
    page.save(tmp_path / "page.png")

    picture = pixels_of(one_piece(tmp_path / "page.png", PNG, "pixel:200,150,300,100")).convert("RGB")

    levels = np.asarray(picture)  # margin 24, scale 1
    assert (levels[24:124, 24:324] == (0, 160, 0)).all()
    levels = levels.copy()
    levels[24:124, 24:324] = paper
    seen = {tuple(colour) for colour in levels.reshape(-1, 3).tolist()}
    assert seen >= {(0, 0, 0), (255, 255, 255)}
    assert all((levels[19:23, x] != paper).any() for x in (20, 30, 317, 327))  # the light line and the dark one above


@pytest.mark.parametrize("region", ["percent:0,0,100,100", "percent:0,0,10,10", "percent:95,95,5,5"])
def test_where_the_page_ends_the_angles_stand_on_white_beside_it(tmp_path: Path, region: str) -> None:
    Image.new("RGB", (400, 400), (0, 160, 0)).save(tmp_path / "page.png")

    levels = np.asarray(pixels_of(one_piece(tmp_path / "page.png", PNG, region)).convert("RGB"))

    shown = {"percent:0,0,100,100": 400, "percent:0,0,10,10": 80, "percent:95,95,5,5": 40}[region]
    greens = (levels == (0, 160, 0)).all(axis=-1)
    assert greens.sum() >= shown * shown
    assert (levels == (0, 0, 0)).all(axis=-1).any()


def test_nothing_outside_the_margin_stands_in_the_picture(tmp_path: Path) -> None:
    page = Image.new("RGB", (4000, 3000), (255, 0, 0))
    page.paste((255, 255, 255), (968, 968, 2032, 1532))  # the region with its margin of 80, and 48 pixels more
    for kind in ("PNG", "JPEG", "TIFF"):
        page.save(tmp_path / kind, kind)

        piece = one_piece(tmp_path / kind, f"image/{kind.lower()}", "pixel:1096,1096,808,308")

        levels = np.asarray(pixels_of(piece).convert("RGB")).astype(int)
        assert (levels[..., 0] - levels[..., 1]).max() <= 2, kind


@pytest.mark.parametrize("kind", [JPEG, PNG, TIFF])
def test_no_word_date_profile_or_small_picture_of_the_original_goes_along(tmp_path: Path, kind: str) -> None:
    path, canary, noise = tmp_path / "page", "CANARY", np.random.default_rng(7).integers(0, 256, (300, 300, 3))
    page = Image.fromarray(noise.astype(np.uint8)) if kind == JPEG else coded_page()
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes() + canary.encode()
    if kind == JPEG:
        page.save(path, "JPEG", exif=exif_of(1, canary), comment=canary, icc_profile=profile, xmp=canary.encode())
    elif kind == PNG:
        words = PngImagePlugin.PngInfo()
        words.add_text("Author", canary)
        page.save(path, "PNG", pnginfo=words, exif=exif_of(1, canary), icc_profile=profile)
    else:
        page.save(path, "TIFF", tiffinfo={0x010E: canary, 0x0131: canary}, icc_profile=profile)
    assert canary.encode() in path.read_bytes()

    piece = one_piece(path, kind, MIDDLE)

    assert canary.encode() not in piece.data
    picture = pixels_of(piece)
    assert set(picture.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
    assert not picture.getexif()


def _on_nothing(colour: Colour) -> Image.Image:
    """A part of a page of that colour, and nothing round it."""
    image = Image.new("RGBA", (400, 240), (255, 255, 255, 0))
    image.paste((*colour, 255), (150, 90, 250, 150))
    return image


def _levels_of(dtype: type, white: float) -> Image.Image:
    levels: NDArray[Any] = np.full((240, 400), white, dtype=dtype)
    levels[90:150, 150:250] = white / 5
    return Image.fromarray(levels)


def _marked(mode: str) -> Image.Image:
    image = Image.new("RGB", (400, 240), (255, 255, 255))
    image.paste((200, 40, 40), (150, 90, 250, 150))
    return image.quantize(4) if mode == "P" else image.convert(mode)


KINDS: dict[str, tuple[Callable[[], Image.Image], str, Colour]] = {
    "black and white": (lambda: _marked("L").point(lambda level: 255 * (level > 128)).convert("1"), TIFF, (0, 0, 0)),
    "grey": (lambda: _marked("L"), PNG, (88, 88, 88)),
    "grey kept as colour": (lambda: _marked("L").convert("RGB"), PNG, (88, 88, 88)),
    "colours": (lambda: _marked("RGB"), PNG, (200, 40, 40)),
    "a palette": (lambda: _marked("P"), PNG, (200, 40, 40)),
    "printing inks": (lambda: _marked("CMYK"), TIFF, (200, 40, 40)),
    "printing inks, packed": (lambda: _marked("CMYK"), JPEG, (200, 40, 40)),
    "colour on nothing": (lambda: _on_nothing((200, 40, 40)), PNG, (200, 40, 40)),
    "grey on nothing": (lambda: _on_nothing((88, 88, 88)).convert("LA"), PNG, (88, 88, 88)),
    "16 bits": (lambda: _levels_of(np.uint16, 65535), PNG, (51, 51, 51)),
    "12 bits in 16": (lambda: _levels_of(np.uint16, 4095), TIFF, (51, 51, 51)),
    "shares of white": (lambda: _levels_of(np.float32, 1.0), TIFF, (51, 51, 51)),
}


@pytest.mark.parametrize("name", KINDS)
def test_colour_is_shown_where_there_is_colour_and_grey_elsewhere(tmp_path: Path, name: str) -> None:
    make, kind, wanted = KINDS[name]
    make().save(tmp_path / "page", kind.removeprefix("image/").upper())

    picture = pixels_of(one_piece(tmp_path / "page", kind, MIDDLE))

    assert (picture.mode == "L") == (len(set(wanted)) == 1)
    picture = picture.convert("RGB")
    assert is_near(picture.getpixel((174, 114)), wanted, 8)
    assert is_near(picture.getpixel((60, 60)), (255, 255, 255), 4)


def test_lightness_alone_is_shown_of_colours_kept_by_lightness(tmp_path: Path) -> None:
    page = Image.new("LAB", (400, 200), (255, 128, 128))
    page.paste((80, 190, 60), (150, 60, 250, 120))
    page.save(tmp_path / "page.tif")

    picture = pixels_of(one_piece(tmp_path / "page.tif", TIFF, MIDDLE))

    assert (picture.mode, picture.getpixel((130, 80))) == ("L", 80)


def test_a_photograph_that_has_room_in_grey_alone_is_shown_in_grey(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    coded_page().save(tmp_path / "page.jpg")
    monkeypatch.setattr(picture_kinds, "MAX_DECODED_BYTES", 200_000)  # 80,000 pixels take 320,000 in colour

    assert pixels_of(one_piece(tmp_path / "page.jpg", JPEG, MIDDLE)).mode == "L"
    monkeypatch.setattr(picture_kinds, "MAX_DECODED_BYTES", 70_000)
    with pytest.raises(UnreadableOriginalError, match="more than is safe"):
        cut(job_of(tmp_path / "page.jpg", JPEG, MIDDLE))


def test_a_photograph_with_damaged_exif_is_shown_as_it_is_stored_and_that_is_said(tmp_path: Path) -> None:
    coded_page().save(tmp_path / "page.jpg", quality=95, subsampling=0, exif=b"Exif\0\0" + bytes(range(40)))

    piece = one_piece(tmp_path / "page.jpg", JPEG, MIDDLE)

    require_middle(piece)
    assert "its EXIF is damaged" in piece.note


def test_white_ink_on_nothing_is_shown_on_black_where_it_would_not_be_seen(tmp_path: Path) -> None:
    _on_nothing((255, 255, 255)).save(tmp_path / "page.png")

    inked = pixels_of(one_piece(tmp_path / "page.png", PNG, MIDDLE))
    bare = pixels_of(one_piece(tmp_path / "page.png", PNG, "percent:0,0,20,20"))

    assert (inked.getpixel((174, 114)), inked.getpixel((60, 60))) == (255, 0)
    assert bare.getpixel((60, 40)) == 255


def test_the_oblong_pixels_of_a_facsimile_are_made_square(tmp_path: Path) -> None:
    # 204 by 98 to the inch (ITU-T T.4): 408 by 196 pixels are two inches each way.
    Image.new("L", (408, 196), 255).save(tmp_path / "fax.tif", dpi=(204, 98))

    piece = one_piece(tmp_path / "fax.tif", TIFF)

    assert piece.width == 408
    assert piece.height == pytest.approx(408, abs=2)


def test_tones_are_written_as_jpeg_and_lines_as_png(tmp_path: Path) -> None:
    noise = np.random.default_rng(7).integers(0, 256, (400, 400, 3)).astype(np.uint8)
    Image.fromarray(noise).save(tmp_path / "tones.png")
    coded_page().save(tmp_path / "lines.png")

    kinds = [one_piece(tmp_path / name, PNG).media_type for name in ("tones.png", "lines.png")]

    assert kinds == [JPEG, PNG]


def test_a_region_is_shown_alike_whatever_else_is_cut_from_its_page(tmp_path: Path) -> None:
    path = tmp_path / "page.jpg"
    noise = np.random.default_rng(7).integers(0, 256, (250, 400, 3)).astype(np.uint8)
    Image.fromarray(noise).resize((4000, 2500)).save(path, quality=90)
    regions = ("percent:40,40,5,5", MIDDLE, None)

    among = cut(job_of(path, JPEG, *regions))

    assert [cut(job_of(path, JPEG, region))[0] for region in regions] == list(among)


def test_two_processes_write_the_same_bytes(tmp_path: Path) -> None:
    path = tmp_path / "page.jpg"
    coded_page().save(path, quality=90)
    program = (
        "import sys, hashlib; from pathlib import Path; from pages.coded_pages import one_piece;"
        "print(hashlib.sha256(one_piece(Path(sys.argv[1]), 'image/jpeg', sys.argv[2]).data).hexdigest())"
    )

    said = [
        subprocess.run(
            [sys.executable, "-c", program, path, MIDDLE],
            capture_output=True,
            check=True,
            cwd=Path(__file__).parents[1],
            text=True,
        ).stdout
        for _ in range(2)
    ]

    assert said[0] == said[1]
    assert len(said[0].strip()) == 64


def test_each_region_off_the_page_is_answered_by_itself(tmp_path: Path) -> None:
    coded_page().save(tmp_path / "page.png")

    off, on = cut(job_of(tmp_path / "page.png", PNG, "pixel:400,0,10,10", MIDDLE))

    assert off == "the region pixel:400,0,10,10 lies off the page"
    assert isinstance(on, CutOut)


def test_a_region_that_runs_beyond_the_page_says_so(tmp_path: Path) -> None:
    coded_page().save(tmp_path / "page.png")

    piece = one_piece(tmp_path / "page.png", PNG, "pixel:300,100,200,100")

    assert "the region runs beyond what can be shown" in piece.note


def test_a_picture_of_a_few_bytes_that_unfolds_to_gigabytes_is_refused(tmp_path: Path) -> None:
    (tmp_path / "bomb.png").write_bytes(lying_png("RGB", (20_000, 20_000)))

    with pytest.raises(UnreadableOriginalError, match="unfolds to 400 million pixels"):
        cut(job_of(tmp_path / "bomb.png", PNG, MIDDLE))


PEAK_OF = """
import sys
from pathlib import Path
from pages.coded_pages import one_piece
piece = one_piece(Path(sys.argv[1]), "image/png", sys.argv[2])
print(next(line for line in open("/proc/self/status") if line.startswith("VmHWM")).split()[1], piece.width)
"""


@pytest.mark.long
@pytest.mark.skipif(sys.platform != "linux", reason="the peak of memory is read where Linux writes it")
def test_a_picture_of_169_million_pixels_is_cut_within_a_gigabyte(tmp_path: Path) -> None:
    Image.new("RGBA", (13_000, 13_000)).save(tmp_path / "large.png", compress_level=1)

    said = subprocess.run(
        [sys.executable, "-c", PEAK_OF, tmp_path / "large.png", "percent:0,0,99,99"],
        capture_output=True,
        check=True,
        cwd=Path(__file__).parents[1],
        text=True,
    ).stdout.split()

    assert int(said[0]) < 1_000_000  # kilobytes
    assert int(said[1]) <= MOST_PIXELS + 2 * FRAME


def test_a_damaged_picture_is_refused(tmp_path: Path) -> None:
    coded_page().save(tmp_path / "page.png")
    whole = (tmp_path / "page.png").read_bytes()
    (tmp_path / "page.png").write_bytes(whole[: len(whole) // 2])

    with pytest.raises(UnreadableOriginalError, match="damaged or cut-short"):
        cut(job_of(tmp_path / "page.png", PNG, MIDDLE))
