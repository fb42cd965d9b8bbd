"""What a page of a PDF is drawn by, looked at where nothing was drawn: a blank page is told from a damaged one."""

import zlib
from pathlib import Path
from typing import Any

from pdfminer.pdftypes import LITERALS_FLATE_DECODE, PDFStream, resolve1

from provenance.pages.layer_documents import SECONDS_TO_WALK, open_for_layer
from provenance.pages.pdf_documents import count_drawable
from provenance.pages.time_limit import OutOfTimeError, at_most

_LOOKED_AT = 1_000_000


def is_blank_in_earnest(path: Path, page: int) -> bool:
    """Tell whether a page on which the engine draws nothing is blank, and not a page whose content is lost.

    The engine that draws leaves out what it cannot decode without a word. A page is lost where its content is missing
    from the file, cannot be decoded, or decodes to bytes that are no text: instructions for drawing are
    (ISO 32000-1, 7.8.2).

    Args:
        path: a PDF.
        page: counted from 1.

    Returns:
        False also where the other engine counts different pages, and nothing can be told.
    """
    pages = open_for_layer(path, page).pages
    if len(pages) != count_drawable(path, page):
        return False
    try:
        with at_most(SECONDS_TO_WALK):
            return all(_is_sound(content) for content in pages[page - 1].contents)
    except (Exception, OutOfTimeError):  # noqa: BLE001  # the engine raises whatever it meets, or follows a circle
        return False


def _is_sound(content: Any) -> bool:
    stream = resolve1(content)
    if not isinstance(stream, PDFStream):
        return False
    decoded = _beginning(stream)
    return decoded.replace(b"\0", b" ").isascii()


def _beginning(stream: PDFStream) -> bytes:
    """Decode the beginning of a stream: a few thousand bytes can unfold to gigabytes.

    Raises:
        Exception: of any kind, where it cannot be decoded.
    """
    filters = [name for name, _ in stream.get_filters()]
    if filters and filters[0] in LITERALS_FLATE_DECODE and stream.rawdata is not None and not stream.decipher:
        return zlib.decompressobj().decompress(stream.rawdata, _LOOKED_AT)
    return stream.get_data()[:_LOOKED_AT]
