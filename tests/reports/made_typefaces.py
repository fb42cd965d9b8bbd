"""Typefaces of our own making, each with a square for every character asked for."""

from io import BytesIO
from pathlib import Path

from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont


def a_typeface(path: Path, characters: str, family: str = "Test Squares") -> Path:
    """Write a typeface that has these characters and no others."""
    path.parent.mkdir(parents=True, exist_ok=True)
    names = [".notdef", *(f"u{ord(character):X}" for character in characters)]
    builder = FontBuilder(1000, isTTF=True)
    builder.setupGlyphOrder(names)
    builder.setupCharacterMap({ord(character): f"u{ord(character):X}" for character in characters})
    builder.setupGlyf({name: _square() for name in names})
    builder.setupHorizontalMetrics(dict.fromkeys(names, (900, 100)))
    builder.setupHorizontalHeader(ascent=800, descent=-200)
    names_of_face = {"familyName": family, "styleName": "Regular", "psName": f"{family.replace(' ', '')}-Regular"}
    builder.setupNameTable(names_of_face)
    builder.setupOS2(sTypoAscender=800, sTypoDescender=-200, usWinAscent=800, usWinDescent=200)
    builder.setupPost()
    builder.save(path)
    return path


def _square() -> object:
    pen = TTGlyphPen(None)
    pen.moveTo((100, 0))
    for corner in ((800, 0), (800, 700), (100, 700)):
        pen.lineTo(corner)
    pen.closePath()
    return pen.glyph()


def without_shapes(data: bytes) -> bytes:
    """A typeface with ones in the place of the shapes of its characters and of where each of them begins."""
    with TTFont(BytesIO(data)) as face:
        tables = [face.reader.tables[name] for name in ("glyf", "loca")]
        places = [(table.offset, table.length) for table in tables]
    for start, length in places:
        data = data[:start] + b"\xff" * length + data[start + length :]
    return data
