import struct
from pathlib import Path

import pytest
from pages.made_pictures import bytes_of, grey_tiff, marked, refusal

from provenance.errors import UnreadableOriginalError
from provenance.pages.pictures import look_at_picture, upright
from provenance.pages.signatures import BMP, GIF, J2C, JPEG, TIFF, WEBP

BOASTS = {
    "gif": (GIF, b"GIF89a\xff\xff\xff\xff\x80\0\0" + bytes(6) + b",\0\0\0\0\xff\xff\xff\xff\0\x08\x01\0;"),
    "bmp": (BMP, b"BM" + struct.pack("<IHHIIIIHHIIIIII", 54, 0, 0, 54, 40, 65535, 65535, 1, 24, 0, 0, 0, 0, 0, 0)),
    "packed bmp": (
        BMP,
        b"BM" + struct.pack("<IHHIIIIHHIIIIII", 54, 0, 0, 54, 40, 20000, 20000, 1, 8, 1, 0, 0, 0, 0, 0),
    ),
    "webp": (WEBP, b"RIFF\x16\0\0\0WEBPVP8X\x0a\0\0\0" + bytes(4) + b"\xff\x3f\0\xff\x3f\0"),
    "lossless webp": (
        WEBP,
        b"RIFF\x16\0\0\0WEBPVP8L\x0a\0\0\0\x2f" + struct.pack("<I", 16382 | 16382 << 14) + bytes(9),
    ),
    "j2k": (
        J2C,
        b"\xff\x4f"
        + struct.pack(">HHH8IH", 0xFF51, 41, 0, 60000, 60000, 0, 0, 60000, 60000, 0, 0, 1)
        + b"\x07\x01\x01\xff\x52\x00\x0c\x00\x00\x00\x01\x00\x00\x04\x04\x00\x01\xff\xd9",
    ),
}


@pytest.mark.parametrize("kind", BOASTS)
def test_a_few_bytes_that_boast_of_a_huge_picture_are_refused_before_memory_is_set_aside(
    tmp_path: Path, kind: str
) -> None:
    media_type, content = BOASTS[kind]
    path = tmp_path / "a"
    path.write_bytes(content)

    for refuse in (lambda: look_at_picture(path, media_type), lambda: upright(path, media_type)):
        with pytest.raises(UnreadableOriginalError, match="million pixels, more than is safe to open"):
            refuse()


@pytest.mark.parametrize("fields", [{256: 60000, 257: 60000, 278: 60000}, {322: 60000, 323: 60000, 324: 8, 325: 8}])
def test_a_tiff_that_boasts_of_a_huge_page_or_of_huge_tiles_is_refused(tmp_path: Path, fields: dict[int, int]) -> None:
    path = grey_tiff(tmp_path / "a.tif", [fields])

    for error in (refusal(path), refusal(path, TIFF)):
        assert "more than is safe to open" in error.what


def test_a_photograph_that_is_sent_in_stages_counts_what_is_kept_between_them(tmp_path: Path) -> None:
    """Decoding one holds every coefficient of the full picture, though the picture itself is decoded smaller."""
    plain, staged = tmp_path / "plain.jpg", tmp_path / "staged.jpg"
    image = marked().convert("RGB")
    for path, options in ((plain, {}), (staged, {"progressive": True, "subsampling": 0})):
        written = bytes_of(image, "JPEG", **options)
        path.write_bytes(written.replace(struct.pack(">HH", 200, 300), struct.pack(">HH", 15_000, 10_000)))

    assert look_at_picture(plain, JPEG).pages == 1
    assert "unfolds to 150 million pixels" in refusal(staged).what
