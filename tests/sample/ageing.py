"""What printing, damp, handling and a scanner do to a page."""

from dataclasses import dataclass

import numpy as np
from PIL import Image

from sample.film import blurred, cloudy
from sample.shapes import Numbers


@dataclass(frozen=True, slots=True, kw_only=True)
class Wear:
    """How badly a page has fared.

    Attributes:
        skew: turn in degrees.
        softness: blur in pixels.
        spread: unevenness of the ink, 0 to 1: letters break and fill.
        noise: of the scanner, in grey levels.
        stains: number of stains.
        through: how strongly the back of the leaf shows, 0 to 1.
        shade: darkening towards the gutter, 0 to 1.
        paper: tone of the paper, 0 to 1.
        ink: tone of the ink.
    """

    skew: float = 0.0
    softness: float = 1.0
    spread: float = 0.5
    noise: float = 9.0
    stains: int = 2
    through: float = 0.1
    shade: float = 0.3
    paper: float = 0.86
    ink: float = 0.16


def scanned(page: Image.Image, back: Image.Image | None, wear: Wear, random: np.random.Generator) -> Image.Image:
    """Print a page, let it age and scan it.

    Args:
        page: black on white.
        back: the other side of the leaf, black on white; None when nothing shows through.
        wear: how badly it fared.
        random: source of noise.
    """
    size = (page.height, page.width)
    ink = 1 - np.asarray(page, dtype=np.float64) / 255
    ink = blurred(ink, wear.softness)
    ink = (
        ink
        + wear.spread * 0.7 * (cloudy(size, 2.2, random) - 0.5) * (ink > 0.08)
        + 0.25 * wear.spread * (cloudy(size, 70, random) - 0.5) * ink
    )
    ink = np.clip((ink - 0.18) / 0.6, 0, 1)
    sheet = wear.paper + 0.035 * (cloudy(size, 90, random) - 0.5) + 0.03 * (cloudy(size, 3, random) - 0.5)
    if back is not None:
        behind = 1 - np.asarray(back.transpose(Image.Transpose.FLIP_LEFT_RIGHT), dtype=np.float64) / 255
        sheet = sheet - wear.through * blurred(behind, 2.6)
    sheet *= _stained(size, wear.stains, random)
    tones = sheet * (1 - ink) + wear.ink * ink
    across = np.linspace(0, 1, size[1])
    tones *= 1 - wear.shade * np.exp(-across * 9)[None, :]
    tones *= 1 - 0.06 * np.linspace(0, 1, size[0])[:, None]
    turned = _turned(tones, wear.skew)
    turned += random.normal(0, wear.noise / 255, size) + 0.012 * random.standard_normal((1, size[1]))
    return Image.fromarray(np.clip(turned * 255, 0, 255).astype(np.uint8))


def _turned(tones: Numbers, angle: float) -> Numbers:
    picture = Image.fromarray(tones.astype(np.float32))
    made = picture.rotate(angle, Image.Resampling.BICUBIC, fillcolor=0.32)
    return np.asarray(made, dtype=np.float64)


def _stained(size: tuple[int, int], count: int, random: np.random.Generator) -> Numbers:
    """Make rings and washes of damp, as shares of the light that is left."""
    rows, columns = size
    down, across = np.mgrid[0:rows, 0:columns]
    made = np.ones(size)
    for _ in range(count):
        y, x = random.uniform(0, rows), random.uniform(0, columns)
        reach = random.uniform(60, 260)
        edge = np.hypot(across - x, (down - y) * random.uniform(0.7, 1.2)) / reach + 0.35 * (
            cloudy(size, 60, random) - 0.5
        )
        made *= 1 - 0.07 * np.clip((1.05 - edge) * 4, 0, 1) - 0.09 * np.exp(-(((edge - 1) / 0.045) ** 2))
    return made
