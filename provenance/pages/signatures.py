"""Telling what a file is by how its bytes begin. Media types are those of the IANA registry."""

from provenance.pages.plain_text import looks_like_text
from provenance.pages.timed_texts import timed_type
from provenance.records.recordings import SUBRIP, WEBVTT, is_recording

PDF = "application/pdf"
JPEG = "image/jpeg"
PNG = "image/png"
TIFF = "image/tiff"
WEBP = "image/webp"
GIF = "image/gif"
BMP = "image/bmp"
JP2 = "image/jp2"
J2C = "image/j2c"
HTML = "text/html"
PLAIN_TEXT = "text/plain"
MARKDOWN = "text/markdown"

PICTURES = frozenset({JPEG, PNG, TIFF, WEBP, GIF, BMP, JP2, J2C})
"""Pictures that can be opened a page at a time."""

PAGED_TYPES = PICTURES | {PDF, PLAIN_TEXT, MARKDOWN, WEBVTT, SUBRIP}
"""What can be opened a page at a time."""

HEAD_BYTES = 4096
"""How much of a file is looked at; a PDF may begin within its first 1024 bytes (ISO 32000-1, annex H.3 note 13)."""

_STARTS: tuple[tuple[bytes, str], ...] = (
    (b"\xff\xd8\xff", JPEG),
    (b"\x89PNG\r\n\x1a\n", PNG),
    (b"II*\x00", TIFF),
    (b"MM\x00*", TIFF),
    (b"II+\x00\x08\x00", TIFF),  # BigTIFF, whose offsets have 8 bytes
    (b"MM\x00+\x00\x08", TIFF),
    (b"GIF87a", GIF),
    (b"GIF89a", GIF),
    (b"\x00\x00\x00\x0cjP  \r\n\x87\n", JP2),
    (b"\xff\x4f\xff\x51", J2C),
    (b"AT&TFORM", "image/vnd.djvu"),
    (b"fLaC", "audio/flac"),
    (b"OggS", "application/ogg"),
    (b"ID3", "audio/mpeg"),
    (b"\xff\xfb", "audio/mpeg"),
    (b"\xff\xf3", "audio/mpeg"),
    (b"\xff\xf2", "audio/mpeg"),
    (b"\x1aE\xdf\xa3", "video/matroska"),
    (b"\x00\x00\x01\xba", "video/mpeg"),
    (b"0&\xb2u\x8ef\xcf\x11\xa6\xd9\x00\xaa\x00b\xcel", "video/x-ms-asf"),  # sound too; common practice
    (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "application/x-ole-storage"),
    (b"{\\rtf", "application/rtf"),
    (b"%!PS", "application/postscript"),
    (b"\x1f\x8b", "application/gzip"),
    (b"7z\xbc\xaf\x27\x1c", "application/x-7z-compressed"),
)
_RIFF = {b"WAVE": "audio/vnd.wave", b"AVI ": "video/vnd.avi", b"WEBP": WEBP}
_FORM = {b"AIFF": "audio/aiff", b"AIFC": "audio/aiff"}
_BRANDS = {
    b"heic": "image/heic",
    b"heix": "image/heic",
    b"mif1": "image/heif",
    b"avif": "image/avif",
    b"M4A ": "audio/mp4",
    b"qt  ": "video/quicktime",
}
_ZIPPED = (
    (b"application/epub+zip", "application/epub+zip"),
    (b"application/vnd.oasis.opendocument.text", "application/vnd.oasis.opendocument.text"),
    (b"application/vnd.oasis.opendocument.spreadsheet", "application/vnd.oasis.opendocument.spreadsheet"),
    (b"word/", "application/vnd.openxmlformats-officedocument.wordprocessingml.document"),
    (b"xl/", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"),
)
_BMP_HEADERS = frozenset({12, 16, 40, 52, 56, 64, 108, 124})
"""How long the second header of a BMP can be: two letters alone would make a BMP of a text that begins with BM."""

_MARKUP = ((b"<svg", "image/svg+xml"), (b"<!doctype html", HTML), (b"<html", HTML))

TYPES_OF_NAMES = {
    ".pdf": PDF,
    ".jpg": JPEG,
    ".jpeg": JPEG,
    ".jpe": JPEG,
    ".png": PNG,
    ".md": MARKDOWN,
    ".markdown": MARKDOWN,
    ".txt": PLAIN_TEXT,
    ".text": PLAIN_TEXT,
    ".vtt": WEBVTT,
    ".srt": SUBRIP,
    ".tif": TIFF,
    ".tiff": TIFF,
    ".gif": GIF,
    ".bmp": BMP,
    ".dib": BMP,
    ".webp": WEBP,
    ".heic": "image/heic",
    ".heif": "image/heif",
    ".jp2": JP2,
    ".j2k": J2C,
    ".j2c": J2C,
    ".jpc": J2C,
    ".djvu": "image/vnd.djvu",
    ".djv": "image/vnd.djvu",
    ".svg": "image/svg+xml",
    ".wav": "audio/vnd.wave",
    ".mp3": "audio/mpeg",
    ".flac": "audio/flac",
    ".ogg": "application/ogg",
    ".m4a": "audio/mp4",
    ".mp4": "video/mp4",
    ".mov": "video/quicktime",
    ".avi": "video/vnd.avi",
    ".mkv": "video/matroska",
    ".docx": "application/vnd.openxmlformats-officedocument.wordprocessingml.document",
    ".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    ".zip": "application/zip",
}
"""What a name claims to be; a name that is not here claims nothing."""


_AS_PICTURE = "ingest a copy saved as JPEG or PNG beside it"
_AS_PDF = "ingest a copy saved as PDF beside it"
_UNPACK = "a package of files: unpack it, and ingest what is in it"
_KEPT_UNREAD = {
    "image/heic": f"a picture as telephones keep it, which cannot be opened here: {_AS_PICTURE}",
    "image/heif": f"a picture as telephones keep it, which cannot be opened here: {_AS_PICTURE}",
    "image/avif": f"a picture of a kind that cannot be opened here: {_AS_PICTURE}",
    "image/vnd.djvu": f"scans of a kind that cannot be opened here: {_AS_PDF}",
    "image/svg+xml": f"a drawing written as text, which is not opened here: {_AS_PDF}",
    "application/zip": _UNPACK,
    "application/gzip": _UNPACK,
    "application/x-7z-compressed": _UNPACK,
}


def why_unread(media_type: str) -> str:
    """Say why a kind of file is kept and not read, and what helps; empty for what is read, and for recordings."""
    if media_type in PAGED_TYPES or is_recording(media_type):
        return ""
    return _KEPT_UNREAD.get(media_type, f"a document of a kind that is not opened here ({media_type}): {_AS_PDF}")


def type_by_content(head: bytes) -> str | None:
    """Tell the media type from the first bytes of a file.

    Args:
        head: the first `HEAD_BYTES` bytes.

    Returns:
        None where they are nothing that is known here. Text is `text/plain`, but for SVG, HTML, WebVTT and SubRip.
    """
    if b"%PDF-" in head[:1024]:
        return PDF
    by_start = next((media_type for start, media_type in _STARTS if head.startswith(start)), None)
    return by_start or _type_of_container(head) or _type_of_text(head)


def _type_of_container(head: bytes) -> str | None:
    if head.startswith(b"BM") and int.from_bytes(head[14:18], "little") in _BMP_HEADERS:
        return BMP
    if head.startswith((b"RIFF", b"RF64")):  # RF64: the same for sound of over 4 GB (EBU Tech 3306, from memory)
        return _RIFF.get(head[8:12])
    if head.startswith(b"FORM"):
        return _FORM.get(head[8:12])
    if head[4:8] == b"ftyp":
        return _BRANDS.get(head[8:12], "video/mp4")
    if head.startswith(b"PK\x03\x04"):
        return next((media_type for mark, media_type in _ZIPPED if mark in head), "application/zip")
    return None


def _type_of_text(head: bytes) -> str | None:
    if not looks_like_text(head):
        return None
    if timed := timed_type(head):
        return timed
    start = head[:1024].lower()
    return next((media_type for mark, media_type in _MARKUP if mark in start), PLAIN_TEXT)
