"""Signs in a drawing that are told apart by their shape: circle, square, triangle and more, then numbers in a box."""

from math import cos, pi, sin

from provenance.reports.svg_drawing import Lettering, polygon, rectangle, rounded, stroke, text_line

RADIUS = 5.5
"""How far a sign reaches from its middle, but for a number in a box."""
SHAPES = 8
"""So many signs have a shape of their own; the further ones are numbers in a box."""


def sign(number: int, x: float, y: float, *, is_filled: bool, dashes: str = "", is_struck: bool = False) -> list[str]:
    """Draw a sign about its middle.

    Args:
        number: from 0, which sign.
        x: of its middle.
        y: of its middle.
        is_filled: black, else white with an outline.
        dashes: of its outline.
        is_struck: whether a line goes through it: seen not to be so.
    """
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    style = f'fill="{"#000000" if is_filled else "#ffffff"}" stroke="#000000" stroke-width="1.3"{dashed}'
    drawn = _shape(number, x, y, style) if number < SHAPES else _boxed(number, x, y, style, is_filled=is_filled)
    return drawn + (_struck(x, y) if is_struck else [])


def _shape(number: int, x: float, y: float, style: str) -> list[str]:
    r = RADIUS
    if number == 0:
        return [f'<circle cx="{rounded(x)}" cy="{rounded(y)}" r="{rounded(r - 0.5)}" {style}/>']
    half, arm = r - 1.0, 1.8
    corners = {
        1: [(-half, -half), (half, -half), (half, half), (-half, half)],
        2: [(0.0, -r), (r, half), (-r, half)],
        3: [(0.0, -r), (r, 0.0), (0.0, r), (-r, 0.0)],
        4: [(0.0, r), (-r, -half), (r, -half)],
        5: [
            *((-arm, -r), (arm, -r), (arm, -arm), (r, -arm), (r, arm), (arm, arm)),
            *((arm, r), (-arm, r), (-arm, arm), (-r, arm), (-r, -arm), (-arm, -arm)),
        ],
        6: [(-half, -half), (half, -half), (-half, half), (half, half)],
        7: _star(r),
    }[number]
    return [polygon([(x + right, y + down) for right, down in corners], style)]


def _star(radius: float) -> list[tuple[float, float]]:
    """Five points, the first at the top."""
    reach = (radius, radius * 0.42)
    return [(reach[n % 2] * sin(n * pi / 5), -reach[n % 2] * cos(n * pi / 5)) for n in range(10)]


def _boxed(number: int, x: float, y: float, style: str, *, is_filled: bool) -> list[str]:
    ink = "#ffffff" if is_filled else ""
    box = rectangle(x - 8.0, y - RADIUS, 16.0, 2 * RADIUS, style)
    return [box, text_line(Lettering(str(number + 1), 7.0), x, y + 2.6, "middle", ink=ink)]


def _struck(x: float, y: float) -> list[str]:
    ends = [(x - 8.0, y + 6.5), (x + 8.0, y - 6.5)]
    return [stroke(ends, 3.0, ink="#ffffff"), stroke(ends, 1.3)]
