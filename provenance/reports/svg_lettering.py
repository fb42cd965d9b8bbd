"""Letters in a drawing: how wide a text is at most, lines that fit a width, texts of others made harmless in SVG."""

import re
import unicodedata
from html import escape

from provenance.reports.layout import plain

FACE = "Arimo, Helvetica, Arial, 'DejaVu Sans', sans-serif"

# In hundredths of the height of the letters: not less than Bitstream Vera Sans Bold, as measured, among the widest of
# the faces that stand in for one another. A reader may have any of them.
_WIDTHS = {
    letter: width
    for width, letters in (
        (33, "'"),
        (43, " ,-./:;IJ\\ijl|"),
        (53, '!"()*[]_`frt'),
        (63, "?csz"),
        (83, "ABCGKPRUVX"),
        (93, "#&+<=>DHNOQ^w~"),
        (103, "%@M"),
        (113, "Wmæœ"),
        (119, "Œ"),
    )
    for letter in letters
}
_OTHER_ASCII, _LETTER, _WIDE = 73, 80, 112
_NO_CHARACTER = re.compile("[\ufdd0-\ufdef\ufffe\uffff]")
_WORD = re.compile(r"\S+?-+(?=\w)|\S+")
_CUT = "…"


def svg_safe(text: str) -> str:
    """Make a text fit to stand in an SVG file, in an attribute too, whoever wrote it."""
    return escape(_NO_CHARACTER.sub(lambda found: ascii(found[0])[1:-1], plain(text)), quote=True)


def width_of(text: str, height: float) -> float:
    """How wide a text is at most, in the unit of the height of its letters."""
    return sum(_hundredths(letter) for letter in text) * height / 100


def _hundredths(letter: str) -> int:
    if letter in _WIDTHS or letter < "\x7f":
        return _WIDTHS.get(letter, _OTHER_ASCII)
    if unicodedata.combining(letter) or unicodedata.category(letter) in {"Mn", "Me", "Cf"}:
        return 0
    if letter in "“”" or (unicodedata.category(letter) == "Ll" and letter < "\u0250"):
        return _LETTER
    return _WIDE


def broken(text: str, width: float, height: float, *, most: int) -> tuple[str, ...]:
    """Break a text into lines that fit; a word that fits on none is cut, and what goes beyond the last is left out.

    Args:
        text: made plain here; not yet escaped.
        width: of a line.
        height: of the letters, in the same unit.
        most: how many lines at most; where there is more, the last ends in an ellipsis.
    """
    lines: list[str] = []
    line = ""
    for word, spaced in _pieces(plain(text), width, height):
        longer = f"{line} {word}" if line and spaced else f"{line}{word}"
        if line and width_of(longer, height) > width:
            lines.append(line)
            longer = word
        line = longer
    lines += [line] if line else []
    if len(lines) <= most:
        return tuple(lines)
    last = lines[most - 1]
    while last and width_of(f"{last}{_CUT}", height) > width:
        last = last[:-1]
    return (*lines[: most - 1], f"{last.rstrip()}{_CUT}")


def _pieces(text: str, width: float, height: float) -> list[tuple[str, bool]]:
    """The parts between which a line may be broken, each with whether a space stands before it."""
    found = []
    for each in _WORD.finditer(text):
        spaced = each.start() > 0 and text[each.start() - 1].isspace()
        word = each[0]
        while width_of(word, height) > width and len(word) > 1:
            fits = 1
            while width_of(word[: fits + 1], height) <= width:
                fits += 1
            found.append((word[:fits], spaced))
            word, spaced = word[fits:], False
        found.append((word, spaced))
    return found
