"""Words as a compositor sets them: a fraction that the face lacks is made up from small figures and a stroke."""

import unicodedata
from collections.abc import Iterator
from functools import cache

from PIL import ImageDraw, ImageFont

_FRACTION_STROKE = "\N{FRACTION SLASH}"
# U+FFFF is no character (The Unicode Standard, 23.7), so every face answers it with its box for what it lacks.
_NO_CHARACTER = "\uffff"
_SMALL = 0.58


def length(text: str, face: ImageFont.FreeTypeFont) -> float:
    """Measure words as they will be set, in pixels.

    Raises:
        ValueError: the face lacks a character that is no fraction.
    """
    return sum(_width(piece, face) for piece in _pieces(text, face))


def put(pen: ImageDraw.ImageDraw, spot: tuple[float, float], text: str, face: ImageFont.FreeTypeFont) -> None:
    """Set words from a point on the line on which they stand.

    Raises:
        ValueError: the face lacks a character that is no fraction.
    """
    across, down = spot
    for piece in _pieces(text, face):
        if _parts(piece, face):
            _put_fraction(pen, (across, down), piece, face)
        else:
            pen.text((across, down), piece, 0, font=face, anchor="ls")
        across += _width(piece, face)


def _pieces(text: str, face: ImageFont.FreeTypeFont) -> Iterator[str]:
    """Part words at each fraction that has to be made up."""
    run = ""
    for character in text:
        if _parts(character, face):
            yield from (run, character) if run else (character,)
            run = ""
        elif _lacks(face, character):
            raise ValueError(f"{face.getname()} has no {unicodedata.name(character)}")
        else:
            run += character
    if run:
        yield run


def _parts(piece: str, face: ImageFont.FreeTypeFont) -> tuple[str, str] | None:
    """Give the figures above and below the stroke; None for what the face can set."""
    if len(piece) != 1 or not _lacks(face, piece):
        return None
    above, stroke, below = unicodedata.normalize("NFKC", piece).partition(_FRACTION_STROKE)
    return (above, below) if stroke else None


def _width(piece: str, face: ImageFont.FreeTypeFont) -> float:
    parts = _parts(piece, face)
    if parts is None:
        return face.getlength(piece)
    small = _small(face)
    return small.getlength(parts[0]) + small.getlength(parts[1]) + face.size * 0.06


def _put_fraction(
    pen: ImageDraw.ImageDraw, spot: tuple[float, float], piece: str, face: ImageFont.FreeTypeFont
) -> None:
    above, below = _parts(piece, face) or ("", "")
    small, (across, down) = _small(face), spot
    height = -face.getbbox("1", anchor="ls")[1]
    top = down - height - small.getbbox("1", anchor="ls")[1]
    middle = across + small.getlength(above) + face.size * 0.03
    pen.text((across, top), above, 0, font=small, anchor="ls")
    pen.text((middle + face.size * 0.03, down), below, 0, font=small, anchor="ls")
    lean = face.size * 0.17
    pen.line((middle - lean, down, middle + lean, down - height), fill=0, width=2)


def _small(face: ImageFont.FreeTypeFont) -> ImageFont.FreeTypeFont:
    return face.font_variant(size=face.size * _SMALL)


@cache
def _lacks(face: ImageFont.FreeTypeFont, character: str) -> bool:
    drawn, box = face.getmask(character), face.getmask(_NO_CHARACTER)
    return drawn.size == box.size and bytes(drawn) == bytes(box)
