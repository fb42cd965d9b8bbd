import pytest
from PIL import Image, ImageDraw

from provenance.pages.signatures import type_by_content


@pytest.mark.parametrize(
    ("head", "media_type"),
    [
        (b"RIFF\x24\x00\x00\x00WAVEfmt ", "audio/vnd.wave"),
        (b"RIFF\x24\x00\x00\x00WEBPVP8 ", "image/webp"),
        (b"FORM\x00\x00\x00\x20AIFFCOMM", "audio/aiff"),
        (b"ID3\x04\x00\x00\x00\x00\x00\x00", "audio/mpeg"),
        (b"fLaC\x00\x00\x00\x22", "audio/flac"),
        (b"OggS\x00\x02\x00\x00", "application/ogg"),
        (b"\x00\x00\x00\x18ftypheic\x00\x00", "image/heic"),
        (b"\x00\x00\x00\x18ftypmp42\x00\x00", "video/mp4"),
        (b"\x00\x00\x00\x14ftypqt  \x00\x00", "video/quicktime"),
        (b"PK\x03\x04\x14\x00\x00\x00mimetypeapplication/epub+zip", "application/epub+zip"),
        (b"PK\x03\x04\x14\x00\x00\x00photographs/01.jpg", "application/zip"),
        (b'<svg xmlns="http://www.w3.org/2000/svg">', "image/svg+xml"),
        (b"<!DOCTYPE html><title>404</title>", "text/html"),
        (b"RF64\xff\xff\xff\xffWAVEds64", "audio/vnd.wave"),
        (b"0&\xb2u\x8ef\xcf\x11\xa6\xd9\x00\xaa\x00b\xcel\x1e\x02", "video/x-ms-asf"),
        (b"WEBVTT\n\n00:01.000 --> 00:02.000\nBell\n", "text/vtt"),
        (b"1\r\n00:00:01,000 --> 00:00:02,000\r\nBell\r\n", "application/x-subrip"),
        (b"\xff\x4f\xff\x51\x00\x29\x00\x00", "image/j2c"),
        (b"\x00\x00\x00\x0cjP  \r\n\x87\n\x00\x00\x00\x14ftypjp2 ", "image/jp2"),
        (b"II+\x00\x08\x00\x00\x00", "image/tiff"),
        (b"MM\x00+\x00\x08\x00\x00", "image/tiff"),
        (b"BM-204, the bracket of the head lamp", "text/plain"),
        (b"Dear Sir,\r\n", "text/plain"),
        ("\ufeffGr\u00fc\u00dfe".encode("utf-16"), "text/plain"),
    ],
)
def test_a_kind_is_told_by_how_its_bytes_begin(head: bytes, media_type: str) -> None:
    assert type_by_content(head) == media_type


@pytest.mark.parametrize("head", [b"", b"RIFF\x24\x00\x00\x00XXXX", b"\x00\x01\x02\x03", b"text with a \x00 in it"])
def test_what_is_nothing_known_has_no_type(head: bytes) -> None:
    assert type_by_content(head) is None


@pytest.mark.parametrize(
    ("form", "media_type"),
    [
        ("JPEG", "image/jpeg"),
        ("PNG", "image/png"),
        ("TIFF", "image/tiff"),
        ("GIF", "image/gif"),
        ("BMP", "image/bmp"),
        ("WEBP", "image/webp"),
        ("JPEG2000", "image/jp2"),
        ("PDF", "application/pdf"),
    ],
)
def test_what_another_program_writes_is_known_for_what_it_is(
    tmp_path_factory: pytest.TempPathFactory, form: str, media_type: str
) -> None:
    """Source: Pillow's own writers of each format, and its table of media types where it has the same name."""
    path = tmp_path_factory.mktemp("kinds") / "picture"
    image = Image.new("RGB", (40, 20), "white")
    ImageDraw.Draw(image).line((0, 0, 39, 19), fill="black")
    image.save(path, format=form)

    found = type_by_content(path.read_bytes()[:4096])

    assert found == media_type
    assert Image.MIME[form] == media_type
