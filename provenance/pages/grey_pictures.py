"""Any kind of picture to 8-bit grey, ink dark and paper light, made smaller on the way, a band of rows at a time.

A band at a time, since the picture as it was decoded is the largest thing in memory: beside it only the small result
and a few rows of anything else have room.
"""

from collections.abc import Iterator
from itertools import chain
from math import sqrt

import numpy as np
from PIL import Image

NEAR_ENOUGH = 0.9
"""The share of the size wanted at which a picture may be left, if that can be had at once."""

_BAND_PIXELS = 4_000_000
_WHITES = (1, 255, 1023, 4095, 16383, 65535)
"""Levels of white of pictures whose numbers are not bytes: a share, and 8, 10, 12, 14 and 16 bits."""


def grey_at(image: Image.Image, target: tuple[int, int], *, is_white_zero: bool = False) -> Image.Image:
    """Give a picture in grey, at a target size or up to a tenth below it.

    By a whole factor, that is by plain averages of squares, where that comes near enough: it takes a fifth of the time.

    Args:
        image: of any mode; it is loaded if it was not.
        target: the size wanted, of the same shape and no larger.
        is_white_zero: the smallest number stands for white; only of pictures whose numbers are not bytes, since of
            others the library sees to it.
    """
    factor = _factor(image.width, target[0])
    grey = _reduced(image, factor, 255, is_white_zero=is_white_zero)
    if grey.getextrema() == (255, 255) and image.has_transparency_data:  # white ink, drawn on nothing
        grey = _reduced(image, factor, 0, is_white_zero=is_white_zero)
    return grey if grey.width <= target[0] else grey.resize(target, Image.Resampling.LANCZOS)


def fit(size: tuple[int, int], pixels: int) -> tuple[int, int]:
    """Give the largest size of the same shape that has at most so many pixels; the size itself if it has no more."""
    share = min(1.0, sqrt(pixels / (size[0] * size[1])))
    return max(1, int(size[0] * share)), max(1, int(size[1] * share))


def _factor(width: int, wanted: int) -> int:
    return max(1, int(width / (wanted * NEAR_ENOUGH)))


def _reduced(image: Image.Image, factor: int, paper: int, *, is_white_zero: bool) -> Image.Image:
    if image.mode == "L" and factor == 1 and not image.has_transparency_data:
        return image
    levels = _levels(image) if image.mode[0] in "IF" else None
    grey = Image.new("L", (-(-image.width // factor), -(-image.height // factor)))
    for top, band in _bands(image, factor):
        flat = _flat(band, paper) if levels is None else _levelled(band, levels, is_white_zero=is_white_zero)
        grey.paste(flat if factor == 1 else flat.reduce(factor), (0, top // factor))
    return grey


def _bands(image: Image.Image, factor: int) -> Iterator[tuple[int, Image.Image]]:
    rows = max(1, _BAND_PIXELS // image.width // factor) * factor
    for top in range(0, image.height, rows):
        yield top, image.crop((0, top, image.width, min(image.height, top + rows)))


def _flat(band: Image.Image, paper: int) -> Image.Image:
    """Make grey of a band of bytes; what is transparent is paper."""
    if band.mode == "LAB":
        return band.getchannel("L")
    if not band.has_transparency_data:
        return band.convert("L")
    with_alpha = band if band.mode in {"LA", "RGBA"} else band.convert("RGBA")
    grey = Image.new("L", band.size, paper)
    grey.paste(with_alpha.convert("L"), mask=with_alpha.getchannel("A"))
    return grey


def _levels(image: Image.Image) -> tuple[float, float]:
    """Give the numbers that stand for black and white.

    White is the least of the usual ones that no number goes beyond: scanners of 12 bits write into 16. Where there is
    none, or a number below zero, it is the largest number, and black the smallest.
    """
    found = [(0.0, 0.0)]
    for _, band in _bands(image, 1):
        numbers = np.asarray(band)
        sound = numbers[np.isfinite(numbers)]
        if sound.size:
            found.append((float(sound.min()), float(sound.max())))
    lowest, highest = min(chain.from_iterable(found)), max(chain.from_iterable(found))
    usual = next((white for white in _WHITES if highest <= white), None)
    return (0.0, usual) if usual and lowest == 0 else (lowest, highest)


def _levelled(band: Image.Image, levels: tuple[float, float], *, is_white_zero: bool) -> Image.Image:
    black, white = levels
    numbers = np.nan_to_num(np.asarray(band, dtype=np.float64), nan=white, posinf=white, neginf=black)
    grey = np.clip((numbers - black) * (255 / (white - black)), 0, 255).round().astype(np.uint8)
    return Image.fromarray(255 - grey if is_white_zero else grey)
