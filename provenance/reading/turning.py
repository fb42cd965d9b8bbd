"""A page turned so that its lines lie level and upright; places found on it brought back to the page as delivered."""

from dataclasses import dataclass
from math import cos, radians, sin

from PIL import Image, ImageStat

from provenance.records.readings import Box

_TO_THE_RIGHT = {
    1: Image.Transpose.ROTATE_270,  # Pillow counts to the left
    2: Image.Transpose.ROTATE_180,
    3: Image.Transpose.ROTATE_90,
}
_IN_WORDS = {
    1: "the page lies sideways: turned a quarter to the right for reading",
    2: "the page lies upside down: turned by half for reading",
    3: "the page lies sideways: turned a quarter to the left for reading",
}
_DECIMALS = 3


@dataclass(frozen=True, slots=True)
class Turn:
    """How a page as delivered is turned for reading: first by quarters, then by a few degrees.

    Attributes:
        quarters: to the right, 0 to 3.
        degrees: to the right above zero, to the left below.
    """

    quarters: int = 0
    degrees: float = 0.0

    def in_words(self) -> str:
        """Say what was done; empty for nothing."""
        side = "right" if self.degrees > 0 else "left"
        little = f"turned by {abs(self.degrees):.1f} degrees to the {side}" if self.degrees else ""
        quarters = _IN_WORDS.get(self.quarters, "")
        if quarters and little:
            return f"{quarters}, and by {abs(self.degrees):.1f} degrees to the {side}"
        return quarters or (f"{little} for reading" if little else "")


AS_DELIVERED = Turn()
"""Nothing is turned."""


def turned(image: Image.Image, turn: Turn) -> Image.Image:
    """Turn a picture; after a turn by degrees it is larger, so that nothing of it is cut off.

    What comes in at the corners has the middle tone of the picture, its paper: white beside grey paper is taken for
    an edge of the layout, and whole pages were lost by it. Measured.

    Args:
        image: grey, as delivered.
        turn: what to do.
    """
    if turn.quarters:
        image = image.transpose(_TO_THE_RIGHT[turn.quarters])
    if turn.degrees:
        image = image.rotate(-turn.degrees, Image.Resampling.BICUBIC, expand=True, fillcolor=_paper(image))
    return image


def level_width(delivered: tuple[int, int], turn: Turn) -> float:
    """Give the width that a page has once it lies level, taken that its picture just holds all of it, in pixels.

    A sheet of width w and height h that leans by a is held by a picture w cos a + h sin a wide and w sin a + h cos a
    high; this solves the two for w.
    """
    across, down = delivered if turn.quarters % 2 == 0 else delivered[::-1]
    lean = radians(abs(turn.degrees))
    return (across * cos(lean) - down * sin(lean)) / cos(2 * lean)


def _paper(image: Image.Image) -> int:
    """Give the middle tone of a picture: of a page, its paper's."""
    return ImageStat.Stat(image).median[0]


def place_back(box: Box, turn: Turn, read: tuple[int, int], delivered: tuple[int, int]) -> Box:
    """Give the upright rectangle round a box on the page as delivered: exact for quarters, wider than a leaning word.

    Args:
        box: in percent of the turned picture.
        turn: how that was made.
        read: width and height of the turned picture, before any change of scale.
        delivered: width and height of the picture as delivered.
    """
    if turn == AS_DELIVERED:
        return box
    corners = [
        _corner_back((x * read[0] / 100, y * read[1] / 100), turn, read, delivered)
        for x in (box.x, box.x + box.w)
        for y in (box.y, box.y + box.h)
    ]
    left, right = _span([x for x, _ in corners], delivered[0])
    top, bottom = _span([y for _, y in corners], delivered[1])
    return Box(left, top, round(right - left, _DECIMALS), round(bottom - top, _DECIMALS))


def _corner_back(
    point: tuple[float, float], turn: Turn, read: tuple[int, int], delivered: tuple[int, int]
) -> tuple[float, float]:
    """Turn a point back about the middle of the picture, which stays the middle."""
    across, down = point[0] - read[0] / 2, point[1] - read[1] / 2
    cosine, sine = cos(radians(turn.degrees)), sin(radians(turn.degrees))
    across, down = across * cosine + down * sine, down * cosine - across * sine
    for _ in range(turn.quarters):
        across, down = down, -across
    return across + delivered[0] / 2, down + delivered[1] / 2


def _span(positions: list[float], length: int) -> tuple[float, float]:
    """Give the first and last of positions in percent of a side, none of them off the page."""
    shares = [min(100.0, max(0.0, 100 * position / length)) for position in positions]
    return round(min(shares), _DECIMALS), round(max(shares), _DECIMALS)
