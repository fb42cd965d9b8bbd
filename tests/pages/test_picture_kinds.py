from collections.abc import Callable
from pathlib import Path
from typing import Any, Literal

import numpy as np
import pytest
import tifffile
from pages.made_pictures import (
    INNER,
    ORIENTATION,
    STRIP_BYTES,
    SUBFILE,
    bytes_of,
    grey_tiff,
    level_at,
    marked,
    refusal,
)
from PIL import Image, TiffImagePlugin

from provenance.errors import UnreadableOriginalError
from provenance.pages import picture_kinds
from provenance.pages.picture_kinds import opened_picture
from provenance.pages.pictures import PIXELS_TO_READ, look_at_picture, upright
from provenance.pages.signatures import BMP, GIF, J2C, JP2, JPEG, PNG, TIFF, WEBP

PAGE = np.asarray(marked())
COMPRESSIONS = ["raw", "tiff_lzw", "tiff_adobe_deflate", "packbits"]


@pytest.mark.parametrize("compression", [*COMPRESSIONS, "group3", "group4"])
def test_a_bilevel_tiff_is_read_however_it_was_packed(tmp_path: Path, compression: str) -> None:
    marked().convert("1").save(tmp_path / "a.tif", compression=compression)

    assert np.array_equal(np.asarray(upright(tmp_path / "a.tif", TIFF).image), PAGE)


@pytest.mark.parametrize("compression", COMPRESSIONS)
@pytest.mark.parametrize("mode", ["L", "P", "RGB", "RGBA", "LA", "CMYK", "YCbCr", "F", "I"])
def test_a_tiff_is_read_in_every_mode_however_it_was_packed(tmp_path: Path, compression: str, mode: str) -> None:
    image = marked().convert("RGB").convert(mode) if mode in {"CMYK", "YCbCr"} else marked().convert(mode)
    image.save(tmp_path / "a.tif", compression=compression)

    found = np.asarray(upright(tmp_path / "a.tif", TIFF).image).astype(int)

    assert np.abs(found - PAGE).max() <= 1


@pytest.mark.parametrize("mode", ["L", "RGB", "CMYK", "YCbCr"])
def test_a_tiff_that_is_packed_as_jpeg_is_read(tmp_path: Path, mode: str) -> None:
    marked().convert("RGB").convert(mode).save(tmp_path / "a.tif", compression="jpeg", quality=95)

    picture = upright(tmp_path / "a.tif", TIFF).image

    assert level_at(picture, 5, 5) < 40
    assert level_at(picture, 290, 190) > 215


@pytest.mark.parametrize("byteorder", ["<", ">"])
@pytest.mark.parametrize("bigtiff", [False, True])
@pytest.mark.parametrize(
    ("make", "options"),
    [
        (lambda page: page, {}),
        (lambda page: page, {"rowsperstrip": 7}),
        (lambda page: page, {"tile": (64, 48), "compression": "zlib"}),
        (lambda page: page.astype(np.uint16) * 257, {}),
        (lambda page: page.astype(np.uint16) * 257, {"compression": "zlib", "predictor": True}),
        (lambda page: 65535 - page.astype(np.uint16) * 257, {"photometric": "miniswhite"}),
        (lambda page: 255 - page, {"photometric": "miniswhite"}),
        (lambda page: page.astype(np.float32) / 255, {}),
        (lambda page: np.dstack([page.astype(np.uint16) * 257] * 3), {"photometric": "rgb"}),
        (lambda page: np.stack([page] * 3), {"photometric": "rgb", "planarconfig": "separate"}),
    ],
)
def test_what_another_writer_makes_of_a_page_is_read_as_that_page(
    tmp_path: Path,
    *,
    byteorder: Literal["<", ">"],
    bigtiff: bool,
    make: Callable[[np.ndarray], np.ndarray],
    options: dict[str, Any],
) -> None:
    """Source: tifffile, which wrote it, and which shares no code with the library that reads it."""
    path = tmp_path / "a.tif"
    tifffile.imwrite(path, make(PAGE), byteorder=byteorder, bigtiff=bigtiff, **options)

    found = np.asarray(upright(path, TIFF).image)

    assert np.array_equal(found, PAGE)
    assert look_at_picture(path, TIFF).pages == 1


def test_each_frame_of_a_tiff_is_a_page(tmp_path: Path) -> None:
    frames = [marked(colour=level) for level in (0, 10, 20, 30, 40)]
    frames[0].save(tmp_path / "a.tif", save_all=True, append_images=frames[1:], compression="tiff_lzw")

    levels = [level_at(upright(tmp_path / "a.tif", TIFF, page).image, 5, 5) for page in (1, 2, 3, 4, 5)]

    assert look_at_picture(tmp_path / "a.tif", TIFF).pages == 5
    assert levels == [0, 10, 20, 30, 40]
    for page in (0, 6):
        assert f"has 5 pages, and no page {page}" in refusal(tmp_path / "a.tif", TIFF, page).what


@pytest.mark.parametrize("bigtiff", [False, True])
def test_frames_of_different_kinds_are_pages_of_one_file(tmp_path: Path, *, bigtiff: bool) -> None:
    """Source: tifffile, which wrote it."""
    with tifffile.TiffWriter(tmp_path / "a.tif", bigtiff=bigtiff) as file:
        file.write(PAGE, compression="zlib")
        file.write(PAGE.astype(np.uint16) * 257)
        file.write(PAGE[:100, :150], tile=(64, 64))

    pages = [np.asarray(upright(tmp_path / "a.tif", TIFF, page).image) for page in (1, 2, 3)]

    assert np.array_equal(pages[0], PAGE)
    assert np.array_equal(pages[1], PAGE)
    assert np.array_equal(pages[2], PAGE[:100, :150])


def test_a_smaller_copy_is_no_page_and_that_is_said(tmp_path: Path) -> None:
    """Source: tifffile, which wrote the second frame as a reduced copy (subfile type 1) of the first."""
    with tifffile.TiffWriter(tmp_path / "a.tif") as file:
        file.write(PAGE)
        file.write(PAGE[::4, ::4], subfiletype=1)
        file.write(255 - PAGE)

    facts = look_at_picture(tmp_path / "a.tif", TIFF)

    assert facts.pages == 2
    assert facts.note == "smaller copies or masks in it, which are no pages: 1"
    assert np.array_equal(np.asarray(upright(tmp_path / "a.tif", TIFF, 2).image), 255 - PAGE)


def test_a_frame_that_is_marked_as_a_copy_of_nothing_is_a_page_all_the_same(tmp_path: Path) -> None:
    facts = look_at_picture(grey_tiff(tmp_path / "a.tif", [{SUBFILE: 1}]), TIFF)

    assert (facts.pages, facts.note) == (1, "")


def test_a_camera_file_whose_chain_holds_only_previews_is_refused(tmp_path: Path) -> None:
    error = refusal(grey_tiff(tmp_path / "a.tif", [{SUBFILE: 1, INNER: 8}]), TIFF)

    assert "beside it only previews" in error.what
    assert "saved as JPEG" in error.mend


def test_a_broken_chain_is_refused_with_what_is_wrong(tmp_path: Path) -> None:
    path = grey_tiff(tmp_path / "a.tif", [{}, {}], last_next=16)

    for error in (refusal(path), refusal(path, TIFF)):
        assert "is a damaged or cut-short TIFF: the list of its pictures runs in a circle" in error.what


def test_a_page_without_its_data_costs_no_other_page(tmp_path: Path) -> None:
    path = grey_tiff(tmp_path / "a.tif", [{}, {STRIP_BYTES: 5000}, {}, {273: 5000}])

    facts = look_at_picture(path, TIFF)

    assert facts.pages == 4
    assert facts.note == "it may be cut short: pages that lack data: 2, the first is page 2"
    assert upright(path, TIFF, 3).image.size == (4, 2)
    assert "damaged or cut-short" in refusal(path, TIFF, 4).what


def test_a_tiff_whose_pages_all_lack_data_is_refused(tmp_path: Path) -> None:
    path = grey_tiff(tmp_path / "a.tif", [{273: 5000}, {273: 5000}])

    assert "each of its 2 pages lacks data" in refusal(path).what


def test_strips_that_are_not_listed_are_never_read_as_ink_or_paper(tmp_path: Path) -> None:
    path = grey_tiff(tmp_path / "a.tif", [{257: 4}])  # four rows, and one strip of two

    for error in (refusal(path), refusal(path, TIFF)):
        assert "damaged or cut-short" in error.what


def test_a_length_that_an_old_writer_overstated_is_forgiven_where_the_picture_is_there(tmp_path: Path) -> None:
    path = grey_tiff(tmp_path / "a.tif", [{STRIP_BYTES: 5000}])

    facts = look_at_picture(path, TIFF)

    assert facts.pages == 1
    assert list(upright(path, TIFF).image.tobytes()) == list(range(8))


def test_a_rare_make_is_refused_with_a_mend(tmp_path: Path) -> None:
    tifffile.imwrite(tmp_path / "a.tif", PAGE.astype(np.float64))

    error = refusal(tmp_path / "a.tif")

    assert "or of a rare make that is not opened here" in error.what
    assert "saved as PNG or TIFF" in error.mend


def with_a_small_one_inside() -> bytes:
    """A photograph that carries a small one of itself, as cameras write it: whole, with an end mark of its own."""
    small = bytes_of(marked((40, 30)), "JPEG")
    return bytes_of(marked(), "JPEG", quality=95, exif=b"Exif\0\0II*\0\x08\0\0\0\0\0\0\0\0\0" + small)


WRITTEN: dict[str, tuple[str, Callable[[], bytes]]] = {
    "gif": (GIF, lambda: bytes_of(marked(), "GIF")),
    "bmp": (BMP, lambda: bytes_of(marked().convert("RGB"), "BMP")),
    "bmp of two levels": (BMP, lambda: bytes_of(marked().convert("1"), "BMP")),
    "webp": (WEBP, lambda: bytes_of(marked().convert("RGB"), "WEBP", lossless=True)),
    "lossy webp": (WEBP, lambda: bytes_of(marked().convert("RGB"), "WEBP", quality=90)),
    "jp2": (JP2, lambda: bytes_of(marked(), "JPEG2000")),
    "tiled jp2": (JP2, lambda: bytes_of(marked().convert("RGB"), "JPEG2000", tile_size=(128, 64))),
    "j2k": (J2C, lambda: bytes_of(marked(), "JPEG2000", no_jp2=True)),
    "jpeg": (JPEG, lambda: bytes_of(marked(), "JPEG", quality=95)),
    "jpeg with a small one inside": (JPEG, with_a_small_one_inside),
    "png": (PNG, lambda: bytes_of(marked(), "PNG")),
    "raw tiff": (TIFF, lambda: bytes_of(marked(), "TIFF")),
    "group4": (TIFF, lambda: bytes_of(marked().convert("1"), "TIFF", compression="group4")),
    "lzw": (TIFF, lambda: bytes_of(marked().convert("RGB"), "TIFF", compression="tiff_lzw")),
    "jpeg in tiff": (TIFF, lambda: bytes_of(marked().convert("RGB"), "TIFF", compression="jpeg", quality=95)),
}


@pytest.mark.parametrize("kind", WRITTEN)
def test_a_whole_picture_is_one_page_with_the_mark_where_it_was_drawn(tmp_path: Path, kind: str) -> None:
    media_type, write = WRITTEN[kind]
    path = tmp_path / "a"
    path.write_bytes(write())

    found = np.asarray(upright(path, media_type).image).astype(int)

    assert look_at_picture(path, media_type).pages == 1
    assert np.abs(found - PAGE).mean() < 1
    assert (found[:45, :95] < 40).all()
    assert (found[60:, 110:] > 215).all()


@pytest.mark.parametrize("kind", WRITTEN)
def test_a_picture_that_is_cut_short_anywhere_is_refused_or_the_same_but_never_partly_blank(
    tmp_path: Path, kind: str
) -> None:
    """The same: where nothing but what no reader needs is missing, such as the last bytes of a list of fields."""
    media_type, write = WRITTEN[kind]
    whole, path, refused = write(), tmp_path / "a", 0
    path.write_bytes(whole)
    expected = upright(path, media_type).image.tobytes()
    cuts = {int(len(whole) * share / 40) for share in range(1, 40)} | {len(whole) - cut for cut in (1, 2, 3, 12)}

    for cut in sorted(cuts):
        path.write_bytes(whole[:cut])
        try:
            look_at_picture(path, media_type)
            assert upright(path, media_type).image.tobytes() == expected
        except UnreadableOriginalError as error:
            assert "damaged or cut-short" in error.what  # noqa: PT017  # a cut may also leave it whole
            refused += 1

    assert refused >= len(cuts) - 6


def test_a_photograph_cut_short_behind_the_small_one_inside_it_is_refused_when_it_comes_in(tmp_path: Path) -> None:
    whole, path = with_a_small_one_inside(), tmp_path / "a.jpg"
    path.write_bytes(whole[: whole.index(b"\xff\xd9") + 300])

    assert "damaged or cut-short" in refusal(path).what


@pytest.mark.parametrize(
    ("media_type", "write"),
    [
        (GIF, lambda frames: bytes_of(frames[0], "GIF", save_all=True, append_images=frames[1:])),
        (WEBP, lambda frames: bytes_of(frames[0], "WEBP", save_all=True, append_images=frames[1:], lossless=True)),
        (PNG, lambda frames: bytes_of(frames[0], "PNG", save_all=True, append_images=frames[1:])),
    ],
)
def test_of_an_animation_the_first_picture_is_the_page_and_that_is_said(
    tmp_path: Path, media_type: str, write: Callable[[list[Image.Image]], bytes]
) -> None:
    path = tmp_path / "a"
    path.write_bytes(write([marked().convert("RGB"), marked(colour=100).convert("RGB")]))

    facts = look_at_picture(path, media_type)

    assert facts.pages == 1
    assert facts.note == "an animation: its first picture is the page, and the others are not read"
    assert level_at(upright(path, media_type).image, 5, 5) < 5


@pytest.mark.parametrize("media_type", [JPEG, PNG, WEBP, GIF, BMP, JP2, J2C])
def test_a_picture_of_one_page_has_no_second(tmp_path: Path, media_type: str) -> None:
    path = tmp_path / "a"
    path.write_bytes(next(write() for kind, write in WRITTEN.values() if kind == media_type))

    assert "has 1 page, and no page 2" in refusal(path, media_type, 2).what


@pytest.mark.parametrize(("pixels", "halved"), [(1000 * 1000 // 8, 500), (1000 * 1000 // 20, 250)])
def test_a_jpeg_2000_is_decoded_at_a_half_or_a_quarter_where_that_is_enough(
    tmp_path: Path, pixels: int, halved: int
) -> None:
    path = tmp_path / "a.jp2"
    Image.new("L", (1000, 1000), 255).save(path, "JPEG2000")

    with opened_picture(path, JP2, pixels=pixels) as picture:
        picture.load()

        assert picture.image.size == picture.decoded == (halved, halved)
        assert picture.size == (1000, 1000)


def test_a_jpeg_2000_is_not_halved_where_the_library_would_round_its_size_otherwise(tmp_path: Path) -> None:
    """A quarter of 1001 pixels is 251 by the standard (ISO/IEC 15444-1, equation B-15) and 250 by the library."""
    path = tmp_path / "a.jp2"
    Image.new("L", (1001, 1001), 255).save(path, "JPEG2000")

    with opened_picture(path, JP2, pixels=40_000) as picture:
        picture.load()

        assert picture.image.size == (501, 501)


def test_the_guard_of_the_library_is_set_aside_for_as_long_as_a_picture_is_open(tmp_path: Path) -> None:
    before, prefixes = Image.MAX_IMAGE_PIXELS, list(TiffImagePlugin.PREFIXES)
    path = grey_tiff(tmp_path / "a.tif")

    with opened_picture(path, TIFF, pixels=PIXELS_TO_READ):
        assert Image.MAX_IMAGE_PIXELS is None
    refusal(path, TIFF, 2)

    assert before == Image.MAX_IMAGE_PIXELS
    assert prefixes == TiffImagePlugin.PREFIXES


def test_a_picture_that_the_library_cannot_make_sense_of_is_told_as_damage(tmp_path: Path) -> None:
    whole = bytes_of(marked(), "PNG")
    path = tmp_path / "a.png"
    path.write_bytes(whole[:25] + b"\x09" + whole[26:])  # a kind of colour that there is not

    assert "damaged or cut-short" in refusal(path).what
    assert picture_kinds.MAX_DECODED_BYTES < 1_000_000_000


def test_an_orientation_by_another_hand_is_not_followed_where_the_tag_of_the_frame_says_otherwise(
    tmp_path: Path,
) -> None:
    xmp = b'<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:Description tiff:Orientation="6"/></x:xmpmeta>'
    marked().save(tmp_path / "a.tif", tiffinfo={ORIENTATION: 3, 700: xmp})

    assert upright(tmp_path / "a.tif", TIFF).image.size == (300, 200)
