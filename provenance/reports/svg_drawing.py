"""What every drawing in SVG shares: its frame with title and description, lines of words, rectangles, rounding.

No script, nothing fetched, no colour that has to be told from another. The same figures give the same bytes.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from hashlib import sha256

from provenance.reports.svg_lettering import FACE, broken, svg_safe

LINE = 1.28
"""From one line to the next, by the height of the letters."""
PIXELS = 96 / 25.4
"""Pixels by the millimetre: a pixel is 1/96 inch (CSS Values and Units Module Level 3, 5.2), an inch 25.4 mm."""
SMALLEST = 0.6
"""To how much a drawing that is larger than the page is scaled down at most: 10 pixels are 4.5 points then."""
PAGE = (170 * PIXELS, 240 * PIXELS)
"""The room for a figure on A4 upright, in pixels: 170 by 240 mm."""
_NOT_IN_IDS = re.compile("[^A-Za-z0-9_-]")


@dataclass(frozen=True, slots=True)
class Lettering:
    """One line of words: not yet escaped; `height` is that of its letters."""

    text: str
    height: float
    bold: bool = False
    slanted: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """What stands around a drawing.

    Attributes:
        prefix: what its ids begin with, so that it may stand in one page with others.
        title: in a few words, what it is.
        told: in a sentence or two, how it is to be read.
        width: of the drawing, in its own unit.
        height: likewise.
        scale: by how much it is shown smaller than in pixels; 1 for not at all.
    """

    prefix: str
    title: str
    told: str
    width: float
    height: float
    scale: float = 1.0


def framed(frame: Frame, drawn: Iterable[str]) -> str:
    """Make a whole file of what was drawn: a white ground, and words for those who cannot see it."""
    title, told = f"{frame.prefix}-title", f"{frame.prefix}-desc"
    width, height = rounded(frame.width), rounded(frame.height)
    size = f'width="{rounded(frame.width * frame.scale)}" height="{rounded(frame.height * frame.scale)}"'
    around = f'{size} viewBox="0 0 {width} {height}" font-family="{FACE}" fill="#000000"'
    return "\n".join(
        [
            '<?xml version="1.0" encoding="UTF-8"?>',
            f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-labelledby="{title} {told}" {around}>',
            f'<title id="{title}">{svg_safe(frame.title)}</title>',
            f'<desc id="{told}">{svg_safe(frame.told)}</desc>',
            f'<rect width="{width}" height="{height}" fill="#ffffff"/>',
            *drawn,
            "</svg>",
        ]
    )


def fitted(width: float, height: float) -> float:
    """By how much a drawing is shown smaller, so that it fits the page as long as it can be read."""
    return max(min(1.0, PAGE[0] / width, PAGE[1] / height), SMALLEST)


def prefix_of(kind: str, name: str) -> str:
    """What the ids of a drawing begin with; a name that holds what an id may not has a digest behind it."""
    plain_name = in_id(name)
    return f"{kind}-{plain_name}" if plain_name == name else f"{kind}-{plain_name}-{short_digest(name)}"


def in_id(name: str) -> str:
    """A name as it may stand in an id."""
    return _NOT_IN_IDS.sub("_", name)


def short_digest(text: str) -> str:
    """Eight characters that stand for a text, whatever is in it."""
    return sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:8]


def rounded(value: float) -> str:
    """A figure to a tenth, without a sign where it is nothing."""
    return f"{value + 0.0:.1f}".replace("-0.0", "0.0")


def lettered(
    text: str, width: float, height: float, *, most: int, bold: bool = False, slanted: bool = False
) -> list[Lettering]:
    """Break a text into lines that fit a width; see `svg_lettering.broken`."""
    return [Lettering(line, height, bold, slanted) for line in broken(text, width, height, most=most)]


def height_of(lines: Iterable[Lettering]) -> float:
    """How much room some lines take, one under the other."""
    return sum(line.height * LINE for line in lines)


def text_line(line: Lettering, x: float, y: float, anchor: str = "start", *, ink: str = "") -> str:
    """A line of words.

    Args:
        line: the words.
        x: where it begins; of `anchor` `middle` its middle, so that it keeps its place whichever way it is read.
        y: of the line that the letters stand on.
        anchor: `start`, `middle` or `end`.
        ink: empty for black.
    """
    anchored = "" if anchor == "start" else f' text-anchor="{anchor}"'
    weight = ' font-weight="bold"' if line.bold else ""
    slant = ' font-style="italic"' if line.slanted else ""
    inked = f' fill="{ink}"' if ink else ""
    return (
        f'<text x="{rounded(x)}" y="{rounded(y)}" font-size="{line.height:g}"{anchored}{weight}{slant}{inked}>'
        f"{svg_safe(line.text)}</text>"
    )


def text_block(lines: Iterable[Lettering], x: float, top: float, anchor: str = "start") -> list[str]:
    """Lines of words one under the other, from `top` down."""
    drawn, y = [], top
    for line in lines:
        y += line.height * LINE
        drawn.append(text_line(line, x, y - line.height * (LINE - 1.0), anchor))
    return drawn


def rectangle(x: float, y: float, width: float, height: float, style: str) -> str:
    """A rectangle; `style` holds attributes."""
    return f'<rect x="{rounded(x)}" y="{rounded(y)}" width="{rounded(width)}" height="{rounded(height)}" {style}/>'


def polygon(corners: Sequence[tuple[float, float]], style: str) -> str:
    """A shape with straight sides; `style` holds attributes."""
    points = " ".join(f"{rounded(x)},{rounded(y)}" for x, y in corners)
    return f'<polygon points="{points}" {style}/>'


def stroke(points: Sequence[tuple[float, float]], weight: float = 1.2, dashes: str = "", ink: str = "#000000") -> str:
    """A line through some points."""
    (x, y), *others = points
    way = " ".join(f"L{rounded(to_x)} {rounded(to_y)}" for to_x, to_y in others)
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return f'<path d="M{rounded(x)} {rounded(y)} {way}" fill="none" stroke="{ink}" stroke-width="{weight:g}"{dashed}/>'


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A part of a drawing that is put in its place as a whole.

    Attributes:
        height: how much room it takes.
        drawn: from its upper left corner.
    """

    height: float
    drawn: tuple[str, ...]

    def at(self, x: float, y: float) -> list[str]:
        """Put it there."""
        return [f'<g transform="translate({rounded(x)} {rounded(y)})">', *self.drawn, "</g>"] if self.drawn else []


def hatching(name: str, ink: str = "#000000") -> str:
    """A pattern of slanting lines, to be filled with by `url(#NAME)`."""
    return (
        f'<defs><pattern id="{name}" width="6" height="6" patternUnits="userSpaceOnUse" '
        f'patternTransform="rotate(45)"><path d="M0 0V6" stroke="{ink}" stroke-width="1.1"/></pattern></defs>'
    )
