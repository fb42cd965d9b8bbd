"""Texts of others made ready for a printed page: harmless, breakable where they are long, in the right order."""

import re
import unicodedata
from typing import TypeAlias

from provenance.reports.fit_text import shown as fit
from provenance.reports.fit_text import stretches
from provenance.reports.svg_lettering import width_of

Shown: TypeAlias = str | list[str | list[str] | None]
"""A text as the page takes it: strings; lists of strings between which a line may break; None for the end of a line."""

LONGEST_WHOLE = 30
"""A run of more characters than this without a space may be broken anywhere."""

_CLUSTERS_EACH = 6
_WIDEST = 1.2  # of a cluster, in the height of its letters
_FIRST_STRONG_ISOLATE, _RIGHT_TO_LEFT_ISOLATE, _POP_ISOLATE = "\u2068", "\u2067", "\u2069"
_ISOLATES = "\u2067\u2068\u2069"

_STRONG_LEFT, _STRONG_RIGHT = frozenset({"L"}), frozenset({"R", "AL"})
# Spaces at which a line may break; the others (U+00A0, U+2007, U+202F) hold two words together.
_RUN = re.compile("[^ \u1680\u2000-\u2006\u2008-\u200a\u200b\u205f\u3000]+")
_ARABIC = re.compile("[\u0600-\u07ff\u0860-\u08ff\ufb50-\ufdff\ufe70-\ufefc]")
_LINE_END = re.compile("\r\n|[\n-\r\u2028\u2029]")


def printable(text: str) -> str:
    """Make a text fit to be printed, whoever wrote it, as in every other format.

    U+FEFF, which PDF/UA-1 forbids in a text, becomes U+2060, which the Unicode Standard puts in its place (23.2).
    """
    return fit(text).replace("\ufeff", "\u2060")


def shown(text: str, width: float, height: float) -> Shown:
    """Make a text ready for a place on a page; its line breaks become spaces.

    Args:
        text: as it came.
        width: of the place, in millimetres.
        height: of the letters, in points.
    """
    return _joined(_pieces(isolated(printable(text)), width, _millimetres(height)))


def shown_lines(text: str, width: float, height: float) -> Shown:
    """The same of a text whose line breaks count."""
    pieces: list[str | list[str] | None] = []
    for number, line in enumerate(_LINE_END.split(text)):
        pieces += [None] if number else []
        pieces += _pieces(isolated(printable(line)), width, _millimetres(height))
    return _joined(pieces)


def isolated(text: str) -> str:
    """Wrap each stretch of letters written from right to left, so that figures beside it stay where they are.

    It stands between U+2068 and U+2069 (Unicode Standard Annex 9, explicit directional isolates).
    """
    return "".join(
        f"{_FIRST_STRONG_ISOLATE}{piece}{_POP_ISOLATE}" if turned else piece for piece, turned in stretches(text)
    )


def clusters(text: str) -> list[str]:
    """The characters of a text, each with the marks that stand on it."""
    found: list[str] = []
    for letter in text:
        if found and (unicodedata.category(letter)[0] == "M" or "\u200d" in (letter, found[-1][-1])):
            found[-1] += letter
        else:
            found.append(letter)
    return found


def _millimetres(points: float) -> float:
    return points * 25.4 / 72


def _joined(pieces: "list[str | list[str] | None]") -> Shown:
    if not pieces:
        return ""
    return pieces[0] if len(pieces) == 1 and isinstance(pieces[0], str) else pieces


def _pieces(text: str, width: float, height: float) -> list[str | list[str] | None]:
    """The text with its long runs cut; the rest in as few strings as can be."""
    pieces: list[str | list[str] | None] = []
    done = 0
    for found in _RUN.finditer(text):
        run = found[0].strip(_ISOLATES)
        if _is_long(run, width, height):
            pieces += [text[done : found.start()]] if found.start() > done else []
            pieces += _cut(run, max(1, min(_CLUSTERS_EACH, int(width / (height * _WIDEST)))))
            done = found.end()
    return [*pieces, text[done:]] if done < len(text) else pieces


def _is_long(run: str, width: float, height: float) -> bool:
    """Letters that are joined are cut only where the run would leave the page: what fits is not longer than a line."""
    if len(run) > LONGEST_WHOLE and not _ARABIC.search(run):
        return True
    return len(run) * height * _WIDEST > width and _width(run, height) > width


def _width(run: str, height: float) -> float:
    """How wide a run is at most; Arabic letters are narrower than those of some scripts."""
    return width_of(_ARABIC.sub("M", run), height)


def _cut(run: str, each: int) -> list[str | list[str] | None]:
    """A run in parts; those of letters from right to left follow one another in that direction."""
    letters = clusters(run.translate(dict.fromkeys(map(ord, _ISOLATES))))
    parts = ["".join(letters[start : start + each]) for start in range(0, len(letters), each)]
    directions = (unicodedata.bidirectional(letter) for letter in run)
    if next((each for each in directions if each in _STRONG_LEFT | _STRONG_RIGHT), "L") in _STRONG_RIGHT:
        return [_RIGHT_TO_LEFT_ISOLATE, parts, _POP_ISOLATE]
    return [parts]
