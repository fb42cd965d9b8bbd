"""The patterns that marks are drawn with: told apart in black and white by shape, and by shade beside it.

Each is the sign of its grade over and over. Thin evidence stands out, and what is well known is quiet. Colours come
from the style sheet of the page, by the classes `ground-…`, `lines` and `knocked-out`; without one all is black on
white.
"""

from dataclasses import dataclass

TILE = 10
"""The side of a pattern's tile, in pixels of the drawing."""


@dataclass(frozen=True, slots=True)
class _Pattern:
    """What stands on one tile: the class of its ground, and what is drawn on it."""

    ground: str
    drawn: str = ""


def _lines(way: str, weight: float, more: str = "") -> str:
    return f'<path class="lines" d="{way}" fill="none" stroke="currentColor" stroke-width="{weight:g}"{more}/>'


def _dots(radius: float, *middles: tuple[float, float]) -> str:
    return "".join(f'<circle class="dots" cx="{x:g}" cy="{y:g}" r="{radius:g}"/>' for x, y in middles)


_SLANT = "M-2 2L2 -2M0 10L10 0M8 12L12 8"
_DENSE = "M-1 1L1 -1M0 5L5 0M0 10L10 0M5 10L10 5M9 11L11 9"
_CROSSES = "M1 1L5 5M5 1L1 5M6 6L10 10M10 6L6 10"
_PATTERNS = {
    "established": _Pattern("deep"),
    "probable": _Pattern("light", _dots(1.1, (2.5, 2.5), (7.5, 7.5))),
    "possible": _Pattern("none", _lines(_SLANT, 0.9)),
    "uncorroborated": _Pattern(
        "none", '<circle class="lines" cx="5" cy="5" r="2.9" fill="none" stroke="currentColor" stroke-width="1.2"/>'
    ),
    "inferred": _Pattern("none", _lines("M0 2.5H6M5 7.5H10M0 7.5H1", 1.3)),
    "contested": _Pattern("tint", _lines(_CROSSES, 1.3)),
    "unsupported": _Pattern("full", '<path class="knocked-out" d="M2 2.5H8L5 8Z"/>'),
    "first": _Pattern("full", '<path class="knocked-out" d="M2 2.5H8L5 8Z"/>'),
    "second": _Pattern("tint", _lines(_DENSE, 1.4)),
    "third": _Pattern("none", _lines(_SLANT, 0.9)),
    "unsaid": _Pattern("none", _dots(1.1, (2.5, 2.5), (7.5, 7.5))),
    "firm": _Pattern("light"),
    "unjudged": _Pattern("none"),
    "empty": _Pattern("none", _lines("M5 3V7", 0.6)),
}
MARKS = frozenset(_PATTERNS)
"""The ids of all marks that can be drawn."""


def pattern(prefix: str, mark: str) -> str:
    """The pattern of a mark, to be filled with by `fill_of`."""
    kept = _PATTERNS[mark]
    ground = f'<rect class="ground ground-{kept.ground}" width="{TILE}" height="{TILE}" fill="#ffffff"/>'
    return (
        f'<pattern id="{prefix}-{mark}" width="{TILE}" height="{TILE}" patternUnits="userSpaceOnUse">'
        f"{ground}{kept.drawn}</pattern>"
    )


def fill_of(prefix: str, mark: str) -> str:
    """How a shape is filled with a pattern that stands in the same page."""
    return f"url(#{prefix}-{mark})"


def swatch(prefix: str, mark: str) -> str:
    """A small drawing of one mark for a legend, without words of its own; they stand beside it."""
    return (
        f'<svg class="swatch" viewBox="0 0 30 20" width="30" height="20" aria-hidden="true" focusable="false">'
        f"<defs>{pattern(prefix, mark)}</defs>"
        f'<rect class="cell" x="0.5" y="0.5" width="29" height="19" fill="{fill_of(prefix, mark)}"/></svg>'
    )


def bar(prefix: str, counts: dict[str, int], width: float = 600, height: float = 26) -> str:
    """A bar parted among marks in proportion, without words of its own; empty where nothing is counted.

    Args:
        prefix: what its ids begin with.
        counts: how many have each mark, in the order from left to right.
        width: of the drawing, in pixels.
        height: of the drawing, in pixels.
    """
    total = sum(counts.values())
    if not total:
        return ""
    shown = {mark: number for mark, number in counts.items() if number}
    drawn, x = [], 0.5
    for mark, number in shown.items():
        wide = (width - 1) * number / total
        drawn.append(
            f'<rect class="cell" x="{x:.2f}" y="0.5" width="{wide:.2f}" height="{height - 1:g}" '
            f'fill="{fill_of(prefix, mark)}"/>'
        )
        x += wide
    return (
        f'<svg class="bar" viewBox="0 0 {width:g} {height:g}" width="{width:g}" height="{height:g}" aria-hidden="true" '
        f'focusable="false"><defs>{"".join(pattern(prefix, mark) for mark in shown)}</defs>{"".join(drawn)}</svg>'
    )
