import struct
from pathlib import Path
from typing import Any

import pytest
from pages.made_pictures import bytes_of, marked
from PIL import Image

from provenance.pages.picture_headers import (
    BrokenHeaderError,
    Jpeg2000Header,
    WebpHeader,
    jpeg2000_header,
    webp_header,
)


def webp_in(folder: Path, content: bytes) -> WebpHeader:
    (folder / "a").write_bytes(content)
    with (folder / "a").open("rb") as file:
        return webp_header(file)


def jpeg2000_in(folder: Path, content: bytes) -> Jpeg2000Header:
    (folder / "a").write_bytes(content)
    with (folder / "a").open("rb") as file:
        return jpeg2000_header(file)


@pytest.mark.parametrize("size", [(1, 1), (300, 200), (1001, 77)])
@pytest.mark.parametrize("options", [{"quality": 80}, {"lossless": True}, {"exif": b"Exif\0\0II*\0\x08\0\0\0\0\0"}])
def test_the_size_of_a_webp_is_the_one_that_its_writer_gave_it(
    tmp_path: Path, size: tuple[int, int], options: dict[str, Any]
) -> None:
    """Source: libwebp, which wrote it; with metadata it writes the extended layout."""
    content = bytes_of(marked((301, 201)).resize(size).convert("RGB"), "WEBP", **options)

    header = webp_in(tmp_path, content)

    assert header == WebpHeader(size=size, file_bytes=len(content))


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"RIFF\x20\0\0\0WEBP",
        b"RIFF\x20\0\0\0WEBPVP8 " + bytes(20),
        b"RIFF\x20\0\0\0WEBPVP8L" + bytes(20),
        b"RIFF\x20\0\0\0WEBPALPH" + bytes(20),
        b"RIFF\x20\0\0\0WEBPVP8 " + bytes(7) + b"\x9d\x01\x2a" + bytes(10),
    ],
)
def test_what_does_not_begin_like_a_webp_has_no_size(tmp_path: Path, content: bytes) -> None:
    with pytest.raises(BrokenHeaderError):
        webp_in(tmp_path, content)


@pytest.mark.parametrize("is_bare", [True, False])
@pytest.mark.parametrize(
    ("mode", "options", "tile", "levels"),
    [
        ("L", {}, (300, 200), 5),
        ("RGB", {"tile_size": (128, 64)}, (128, 64), 5),
        ("RGBA", {"num_resolutions": 3}, (300, 200), 2),
    ],
)
def test_the_layout_of_a_jpeg_2000_is_the_one_that_its_writer_gave_it(
    tmp_path: Path, *, is_bare: bool, mode: str, options: dict[str, Any], tile: tuple[int, int], levels: int
) -> None:
    """Source: OpenJPEG, which wrote it; n resolutions are n - 1 halvings."""
    content = bytes_of(marked().convert(mode), "JPEG2000", no_jp2=is_bare, **options)

    header = jpeg2000_in(tmp_path, content)

    components = len(Image.new(mode, (1, 1)).getbands())
    assert header == Jpeg2000Header(size=(300, 200), tile=tile, components=components, levels=levels, is_whole=True)


def test_a_box_of_eight_byte_length_leads_to_the_codestream_too(tmp_path: Path) -> None:
    stream = bytes_of(marked(), "JPEG2000", no_jp2=True)
    before = struct.pack(">I4s", 12, b"jP  ") + b"\r\n\x87\n" + struct.pack(">I4sQ", 1, b"uuid", 20) + bytes(4)

    header = jpeg2000_in(tmp_path, before + struct.pack(">I4sQ", 1, b"jp2c", 16 + len(stream)) + stream)

    assert header.size == (300, 200)


SIZ = struct.pack(">HHH8IH", 0xFF51, 41, 0, 4, 2, 0, 0, 4, 2, 0, 0, 1) + b"\x07\x01\x01"


@pytest.mark.parametrize(
    "content",
    [
        b"",
        struct.pack(">I4s", 0, b"free") + bytes(100),  # a box to the end of the file, and no codestream
        struct.pack(">I4s", 8, b"free") * 3,
        struct.pack(">I4s", 8, b"free") * 10_001,
        b"\xff\x4f" + SIZ[:20],
        b"\xff\x4f" + SIZ.replace(b"\xff\x51", b"\xff\x50"),
        b"\xff\x4f" + struct.pack(">HHH8IH", 0xFF51, 41, 0, 4, 2, 4, 0, 4, 2, 0, 0, 1) + bytes(100),
        b"\xff\x4f" + struct.pack(">HHH8IH", 0xFF51, 41, 0, 4, 2, 0, 0, 0, 2, 0, 0, 1) + bytes(100),
        b"\xff\x4f" + SIZ,
        b"\xff\x4f" + SIZ + b"\x12\x34\0\x04",
        b"\xff\x4f" + SIZ + b"\xff\x52\0\x04\0\0",  # a COD segment without its levels
        b"\xff\x4f" + SIZ + b"\xff\x64\0\x02" * 10_001,
        struct.pack(">I4sQ", 1, b"free", 2**64 - 1) + bytes(100),
    ],
)
def test_a_broken_jpeg_2000_has_no_layout(tmp_path: Path, content: bytes) -> None:
    with pytest.raises(BrokenHeaderError):
        jpeg2000_in(tmp_path, content)


def test_reading_a_header_leaves_the_file_as_it_was(tmp_path: Path) -> None:
    (tmp_path / "a.jp2").write_bytes(bytes_of(marked(), "JPEG2000"))

    with (tmp_path / "a.jp2").open("rb") as file:
        first, second = jpeg2000_header(file), jpeg2000_header(file)

    assert first == second


@pytest.mark.parametrize("is_bare", [True, False])
def test_a_codestream_is_whole_when_its_end_mark_stands_at_its_end(tmp_path: Path, *, is_bare: bool) -> None:
    content = bytes_of(marked().convert("RGB"), "JPEG2000", no_jp2=is_bare, tile_size=(64, 64))
    behind = b"" if is_bare else struct.pack(">I4s", 100_000, b"xml ") + bytes(99_992)

    assert jpeg2000_in(tmp_path, content + behind).is_whole
    assert not jpeg2000_in(tmp_path, content[:-2]).is_whole
    assert not jpeg2000_in(tmp_path, content[: len(content) // 2]).is_whole
