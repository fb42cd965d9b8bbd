"""A picture printed again: a page of a quarterly on which an old photograph stands as a halftone, cut and screened."""

import numpy as np
import numpy.typing as npt
from PIL import Image

from sample.ageing import Wear, scanned
from sample.faces import Faces
from sample.setting import Block, Style, set_page

_KEPT = (0.06, 0.06, 0.82, 0.94)
_WIDE = 640
_TOP = 300
_CELL = 3.4
_FINER = 3

_QUARTERLY = (
    Block(kind="small", text="BRANCH LINES QUARTERLY. Autumn 1971"),
    Block(kind="rule"),
    Block(kind="heading", text="A CAR THAT FEW REMEMBER"),
    Block(kind="gap", size=15.6),
    Block(kind="small", text="Rail car No. 9 about to leave the coast"),
    Block(kind="gap", size=1),
    Block(
        kind="text",
        text=(
            "Of the petrol cars that took visitors to the sea before the war nothing is left but a few prints. Our "
            "picture was sent in by a reader, who had it from a drawer and could not say who took it. He asks what "
            "was carried on the roof. Baskets of fish, we should think, and perambulators."
        ),
    ),
)


def quarterly(faces: Faces, picture: Image.Image) -> Image.Image:
    """A page of a quarterly of 1971 with a photograph, of which nobody says where it was had from."""
    style = Style(
        faces=faces,
        roman="garamond",
        bold="garamond",
        points=12,
        size=(1000, 1400),
        margins=(120, 110, 120),
        leading=1.35,
    )
    page = set_page(_QUARTERLY, style)[0].convert("L")
    page.paste(_screened(_cut(picture)), (180, _TOP))
    wear = Wear(skew=-0.7, softness=0.7, spread=0.2, noise=5, stains=0, shade=0.08, paper=0.9)
    return scanned(page, None, wear, np.random.default_rng(1971))


def _cut(picture: Image.Image) -> Image.Image:
    left, top, right, lower = _KEPT
    size = picture.size
    cut = picture.crop((round(left * size[0]), round(top * size[1]), round(right * size[0]), round(lower * size[1])))
    return cut.convert("L").resize((_WIDE, round(_WIDE * cut.height / cut.width)), Image.Resampling.LANCZOS)


def _screened(picture: Image.Image) -> Image.Image:
    """Print a picture in dots that grow as it darkens, in rows at half a right angle, sixty to the inch."""
    finer = picture.resize((picture.width * _FINER, picture.height * _FINER), Image.Resampling.BICUBIC)
    tones = np.asarray(finer, dtype=np.float64) / 255
    down, across = np.mgrid[0 : finer.height, 0 : finer.width]
    dots = (_wave(across + down) + _wave(across - down)) / 4 + 0.5
    printed = Image.fromarray((255 * (0.1 + 0.85 * tones > dots)).astype(np.uint8))
    return printed.resize(picture.size, Image.Resampling.BOX)


def _wave(places: npt.NDArray[np.int_]) -> npt.NDArray[np.float64]:
    return np.asarray(np.cos(2 * np.pi * places / (_CELL * _FINER * 2**0.5)), dtype=np.float64)
