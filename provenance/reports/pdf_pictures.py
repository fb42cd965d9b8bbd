"""Pictures made ready for a printed page."""

import re
import unicodedata
from base64 import b64encode

from provenance.reports.document import Picture

DRAWING = "image/svg+xml"

# What shows nothing of its own: U+FEFF is forbidden by PDF/UA-1 in a text, and of the others the typesetter does not
# say in the file of a drawing what they stand for, which PDF/UA-1 asks of each.
_SHOWS_NOTHING = re.compile("[\u034f\u200d\ufe00-\ufe0f\ufeff\U000e0100-\U000e01ef]")


def drawable(picture: Picture) -> bytes:
    """A picture as an SVG: the typesetter takes nothing but text from memory, so that other pictures lie in one.

    The words of a drawing are composed (Unicode normalisation form C), since a letter with a mark that has no place of
    its own among the characters would not be told in the file.
    """
    if picture.media_type == DRAWING:
        text = picture.data.decode("utf-8", "replace")
        return unicodedata.normalize("NFC", _SHOWS_NOTHING.sub("", text)).encode()
    size = f'width="{picture.width:.3f}" height="{picture.height:.3f}"'
    view = f'viewBox="0 0 {picture.width:.3f} {picture.height:.3f}"'
    inside = f'<image {size} href="data:{picture.media_type};base64,{b64encode(picture.data).decode()}"/>'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size} {view}>{inside}</svg>'.encode()
