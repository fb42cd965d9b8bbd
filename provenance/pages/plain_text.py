"""Text files: which characters their bytes stand for."""

import codecs
from dataclasses import dataclass
from pathlib import Path

from provenance.errors import UnreadableOriginalError

MAX_TEXT_BYTES = 20_000_000
"""A longer text is refused: it is data, not something that a person wrote. Common practice, no source."""

_CONTROLS = frozenset(range(32)) - set(b"\t\n\v\f\r\x1a\x1b")
_BYTE_ORDER_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig", "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16", "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16", "utf-16"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class DecodedText:
    """The characters of a text file.

    Attributes:
        text: as it stands, line ends made line feeds.
        encoding: `utf-8`, `utf-16` or `cp1252`.
        note: what a person should know; empty for nothing.
    """

    text: str
    encoding: str
    note: str = ""


def looks_like_text(head: bytes) -> bool:
    """Tell whether bytes can be text: no control characters but white space, or a byte order mark before them."""
    if head.startswith(tuple(mark for mark, _, _ in _BYTE_ORDER_MARKS)):
        return True
    return bool(head) and _CONTROLS.isdisjoint(head)


def read_text(path: Path) -> DecodedText:
    """Read a text file: UTF-8, UTF-16 with its mark, or else Windows code page 1252, which is then said.

    Raises:
        UnreadableOriginalError: longer than `MAX_TEXT_BYTES`, or no text.
    """
    size = path.stat().st_size
    if size > MAX_TEXT_BYTES:
        raise UnreadableOriginalError(
            f"{path.name} is a text of {size // 1_000_000} million bytes; up to {MAX_TEXT_BYTES // 1_000_000} are read",
            "split it into parts and ingest those",
        )
    content = path.read_bytes()
    if not looks_like_text(content):
        raise UnreadableOriginalError(
            f"{path.name} looks like text at its beginning and is not text further on",
            "compare it with the original; it may be damaged, or another kind of file",
        )
    return _decode(path, content)


def _decode(path: Path, content: bytes) -> DecodedText:
    marked = next(((codec, name) for mark, codec, name in _BYTE_ORDER_MARKS if content.startswith(mark)), None)
    codec, name = marked or ("utf-8", "utf-8")
    try:
        return DecodedText(text=_with_line_feeds(content.decode(codec)), encoding=name)
    except UnicodeDecodeError as error:
        if marked:
            raise UnreadableOriginalError(
                f"{path.name} is marked as {name.upper()} and breaks off or is damaged at byte {error.start}",
                "get the file again, or save it as UTF-8",
            ) from error
    try:
        text = _with_line_feeds(content.decode("cp1252"))
    except UnicodeDecodeError as error:
        raise UnreadableOriginalError(
            f"{path.name} is neither UTF-8 nor Windows-1252 text (byte {error.start})", "save it as UTF-8"
        ) from error
    return DecodedText(text=text, encoding="cp1252", note="not UTF-8; read as Windows-1252")


def _with_line_feeds(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n").rstrip("\x1a")
