"""Telling what a file is by how its bytes begin. Media types are those of the IANA registry."""

from provenance.pages.plain_text import looks_like_text

PDF = "application/pdf"
JPEG = "image/jpeg"
PNG = "image/png"
PLAIN_TEXT = "text/plain"
MARKDOWN = "text/markdown"

PAGED_TYPES = frozenset({PDF, JPEG, PNG, PLAIN_TEXT, MARKDOWN})
"""What can be opened a page at a time."""

HEAD_BYTES = 4096
"""How much of a file is looked at; a PDF may begin within its first 1024 bytes (ISO 32000-1, annex H.3 note 13)."""

_STARTS: tuple[tuple[bytes, str], ...] = (
    (b"\xff\xd8\xff", JPEG),
    (b"\x89PNG\r\n\x1a\n", PNG),
    (b"II*\x00", "image/tiff"),
    (b"MM\x00*", "image/tiff"),
    (b"II+\x00", "image/tiff"),
    (b"MM\x00+", "image/tiff"),
    (b"GIF87a", "image/gif"),
    (b"GIF89a", "image/gif"),
    (b"BM", "image/bmp"),
    (b"\x00\x00\x00\x0cjP  \r\n\x87\n", "image/jp2"),
    (b"AT&TFORM", "image/vnd.djvu"),
    (b"fLaC", "audio/flac"),
    (b"OggS", "application/ogg"),
    (b"ID3", "audio/mpeg"),
    (b"\xff\xfb", "audio/mpeg"),
    (b"\xff\xf3", "audio/mpeg"),
    (b"\xff\xf2", "audio/mpeg"),
    (b"\x1aE\xdf\xa3", "video/matroska"),
    (b"\x00\x00\x01\xba", "video/mpeg"),
    (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "application/x-ole-storage"),
    (b"{\\rtf", "application/rtf"),
    (b"%!PS", "application/postscript"),
    (b"\x1f\x8b", "application/gzip"),
    (b"7z\xbc\xaf\x27\x1c", "application/x-7z-compressed"),
)
_RIFF = {b"WAVE": "audio/vnd.wave", b"AVI ": "video/vnd.avi", b"WEBP": "image/webp"}
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
_MARKUP = ((b"<svg", "image/svg+xml"), (b"<!doctype html", "text/html"), (b"<html", "text/html"))

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
    ".tif": "image/tiff",
    ".tiff": "image/tiff",
    ".gif": "image/gif",
    ".bmp": "image/bmp",
    ".webp": "image/webp",
    ".heic": "image/heic",
    ".jp2": "image/jp2",
    ".djvu": "image/vnd.djvu",
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


def type_by_content(head: bytes) -> str | None:
    """Tell the media type from the first bytes of a file.

    Args:
        head: the first `HEAD_BYTES` bytes.

    Returns:
        None where they are nothing that is known here. Text of any kind is `text/plain` (SVG and HTML are known).
    """
    if b"%PDF-" in head[:1024]:
        return PDF
    by_start = next((media_type for start, media_type in _STARTS if head.startswith(start)), None)
    return by_start or _type_of_container(head) or _type_of_text(head)


def _type_of_container(head: bytes) -> str | None:
    if head.startswith(b"RIFF"):
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
    start = head[:1024].lower()
    return next((media_type for mark, media_type in _MARKUP if mark in start), PLAIN_TEXT)
