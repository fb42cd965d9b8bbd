"""Photographs that scikit-image's wheel carries, in grey, as tests of fingerprints need them."""

from functools import cache
from pathlib import Path

import skimage
from PIL import Image

from provenance.likeness.prints import print_of
from provenance.likeness.values import PicturePrint
from provenance.records.readings import Box

WHOLE = Box(0, 0, 100, 100)
NAMES = (
    "camera.png",
    "chelsea.png",
    "coffee.png",
    "coins.png",
    "moon.png",
    "brick.png",
    "page.png",
    "rocket.jpg",
    "gravel.png",
)


@cache
def carried(name: str) -> Image.Image:
    with Image.open(Path(skimage.__file__).parent / "data" / name) as picture:
        return picture.convert("L")


def printed(picture: Image.Image) -> PicturePrint:
    """The fingerprint of a whole picture that has one."""
    made = print_of(picture, WHOLE)
    assert made is not None
    return made


@cache
def print_carried(name: str) -> PicturePrint:
    return printed(carried(name))
