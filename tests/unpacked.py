"""Printed files taken apart, so that anything that stands in them can be searched for: words, streams and pictures."""

import base64
import io
import re
import zipfile
from collections.abc import Iterator

import pdfplumber
import pikepdf
import pypdfium2
from PIL import Image

_DATA = re.compile(rb"data:([a-z/+]+);base64,([A-Za-z0-9+/=]+)")
_STARTS = (b"\x89PNG", b"\xff\xd8\xff")


def unpacked(data: bytes) -> Iterator[bytes]:
    """Every piece of a file of whatever kind: the parts of a package, the streams of a PDF, embedded data."""
    yield data
    if data.startswith(b"PK"):
        yield from _of_package(data)
    elif data.startswith(b"%PDF"):
        yield from _of_pdf(data)
    else:
        yield from (base64.b64decode(found[2]) for found in _DATA.finditer(data))


def words_in(data: bytes) -> str:
    """Everything in a file that can be read as text, whichever of its pieces it stands in."""
    return "\n".join(piece.decode("utf-8", "replace") for piece in unpacked(data) if not piece.startswith(_STARTS))


def pictures_in(data: bytes) -> Iterator[Image.Image]:
    """Every raster picture in a file, in colour."""
    if data.startswith(b"%PDF"):
        with pikepdf.open(io.BytesIO(data)) as pdf:
            for each in pdf.objects:
                if isinstance(each, pikepdf.Stream) and each.get("/Subtype") == "/Image":
                    yield pikepdf.PdfImage(each).as_pil_image().convert("RGB")
        return
    for piece in unpacked(data):
        if piece.startswith(_STARTS):
            yield Image.open(io.BytesIO(piece)).convert("RGB")


def _of_package(data: bytes) -> Iterator[bytes]:
    with zipfile.ZipFile(io.BytesIO(data)) as package:
        for name in package.namelist():
            yield name.encode()
            yield package.read(name)


def _of_pdf(data: bytes) -> Iterator[bytes]:
    with pikepdf.open(io.BytesIO(data)) as pdf:
        for each in pdf.objects:
            yield repr(each).encode()
            if isinstance(each, pikepdf.Stream) and each.get("/Subtype") != "/Image":
                yield each.read_bytes()
            elif isinstance(each, pikepdf.Dictionary):
                told = [value for _, value in each.items() if isinstance(value, pikepdf.String)]
                yield "\n".join(map(str, told)).encode()
    with pdfplumber.open(io.BytesIO(data)) as read:
        yield from ((page.extract_text() or "").encode() for page in read.pages)
    document = pypdfium2.PdfDocument(data)
    try:
        yield from (page.get_textpage().get_text_bounded().encode() for page in document)
    finally:
        document.close()
