"""A piece of a page as a small file: its region marked by angles beside it, and nothing but the picture in it."""

import io
from math import ceil, floor

import numpy as np
from PIL import Image, ImageDraw

from provenance.pages.cut_outs import FRAME, Box, CutOut, width_in_print

_QUALITY = 85
_MOST_COLOURS = 4096  # a drawing with its edges smoothed has fewer; a photograph many more, and makes a large PNG
_LIGHT, _DARK = "white", "black"
_NEAR, _FAR = 2, FRAME - 1  # from the region's edge, in pixels: the light line, and within it the dark one
_ARM_SHARE, _SHORTEST_ARM, _LONGEST_ARM = 0.2, 6, 28
_HAIR = 1e-6  # an edge that lies on a pixel's edge but for the rounding of numbers


def finished(image: Image.Image, region: Box | None, true_width: float | None, note: str) -> CutOut:
    """Make the file of a piece.

    Args:
        image: the piece as it is shown, grey or in colour, 8 bits.
        region: what was asked for, in pixels of the piece; None where no part of the page is meant more than another.
        true_width: of the piece on the page itself, in millimetres; None where that is not known.
        note: as of a `CutOut`.
    """
    grey_or_not = _without_idle_colour(image)
    marked = grey_or_not if region is None else _marked(grey_or_not, region)
    widened = None if true_width is None else true_width * marked.width / image.width
    data, media_type = _written(marked)
    return CutOut(
        data=data,
        media_type=media_type,
        width=marked.width,
        height=marked.height,
        width_mm=width_in_print(marked.size, widened),
        note=note,
    )


def _without_idle_colour(image: Image.Image) -> Image.Image:
    if image.mode == "L":
        return image
    levels = np.asarray(image)
    is_grey = bool((levels[..., :1] == levels[..., 1:]).all())
    return image.getchannel(0) if is_grey else image


def _marked(image: Image.Image, region: Box) -> Image.Image:
    """Draw an angle beside each corner of a region; where the page ends there, white is set beside it."""
    left, top = floor(region[0] + _HAIR), floor(region[1] + _HAIR)
    right, bottom = ceil(region[2] - _HAIR), ceil(region[3] - _HAIR)
    beside = [max(0, FRAME - room) for room in (left, top, image.width - right, image.height - bottom)]
    size = image.width + beside[0] + beside[2], image.height + beside[1] + beside[3]
    wide = Image.new(image.mode, size, _LIGHT)
    wide.paste(image, (beside[0], beside[1]))
    edges = left + beside[0], top + beside[1], right + beside[0], bottom + beside[1]
    _draw_angles(wide, edges)
    return wide


def _draw_angles(image: Image.Image, edges: tuple[int, int, int, int]) -> None:
    """Draw the four angles: a dark line within a light one, so that they are seen on anything."""
    draw = ImageDraw.Draw(image)
    for colour, within in ((_LIGHT, 0), (_DARK, 1)):
        for across in _arms(edges[0], edges[2], within):
            for down in _arms(edges[1], edges[3], within):
                (x_line, x_arm), (y_line, y_arm) = across, down
                draw.rectangle((x_arm[0], y_line[0], x_arm[1], y_line[1]), fill=colour)
                draw.rectangle((x_line[0], y_arm[0], x_line[1], y_arm[1]), fill=colour)


_Stretch = tuple[int, int]


def _arms(first: int, end: int, within: int) -> tuple[tuple[_Stretch, _Stretch], tuple[_Stretch, _Stretch]]:
    """Along one direction, for the angles before a region and behind it: from where to where line and arm reach.

    Args:
        first: the region's first pixel.
        end: the first behind it.
        within: by how many pixels the line is thinner on each side, and the arm shorter.
    """
    side = end - first
    arm = min(max(_SHORTEST_ARM, min(_LONGEST_ARM, round(side * _ARM_SHARE))), side // 2) - within
    before = first - _FAR + within, first - _NEAR - within
    behind = end - 1 + _NEAR + within, end - 1 + _FAR - within
    return (before, (before[0], first + arm - 1)), (behind, (end - arm, behind[1]))


def _written(image: Image.Image) -> tuple[bytes, str]:
    """Write tones as JPEG, and what has few colours as PNG where that is not larger."""
    # A picture made anew: what was opened may carry words, profiles and dates that the library would write too.
    bare = Image.new(image.mode, image.size)
    bare.paste(image)
    jpeg = io.BytesIO()
    bare.save(jpeg, "JPEG", quality=_QUALITY, subsampling=0)  # not `optimize`: the library then fails on noise
    if bare.getcolors(_MOST_COLOURS) is not None:
        png = io.BytesIO()
        bare.save(png, "PNG")
        if png.tell() <= jpeg.tell():
            return png.getvalue(), "image/png"
    return jpeg.getvalue(), "image/jpeg"
