"""What a camera of the time, a contact print and ninety years do to a picture."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from PIL import Image, ImageDraw

from sample.shapes import Numbers


@dataclass(frozen=True, slots=True, kw_only=True)
class Print:
    """How a negative was exposed and how its print has aged.

    Attributes:
        softness: blur of lens and hand, in pixels.
        grain: 0.01 a fine plate, 0.06 a fast film.
        vignette: darkening of the corners, 0 to 1.
        black: tone of the deepest shadow on the paper, 0 to 1.
        white: tone of the paper.
        scratches: number of scratches on the negative.
        dust: number of specks.
        border: width of the paper's border in pixels.
    """

    softness: float = 1.1
    grain: float = 0.035
    vignette: float = 0.35
    black: float = 0.1
    white: float = 0.9
    scratches: int = 6
    dust: int = 60
    border: int = 46


def blurred(values: Numbers, radius: float) -> Numbers:
    """Blur by a Gaussian of that radius in pixels."""
    reach = max(1, int(np.ceil(radius * 3)))
    weights = np.exp(-0.5 * (np.arange(-reach, reach + 1) / radius) ** 2)
    weights /= weights.sum()
    made = np.asarray(values, dtype=np.float64)
    for axis in (0, 1):
        length = made.shape[axis]
        padding = [(reach, reach) if side == axis else (0, 0) for side in (0, 1)]
        padded = np.pad(made, padding, mode="edge")
        steps = (np.take(padded, range(step, step + length), axis) * weight for step, weight in enumerate(weights))
        made = _added(steps)
    return made


def _added(steps: Iterator[Numbers]) -> Numbers:
    total = next(steps)
    for step in steps:
        total += step
    return total


def cloudy(size: tuple[int, int], scale: float, random: np.random.Generator) -> Numbers:
    """Make soft random patches of about `scale` pixels, spread over 0 to 1 (rows, columns)."""
    rows, columns = size
    reach = np.hypot(np.fft.fftfreq(rows)[:, None], np.fft.rfftfreq(columns)[None])
    spectrum = np.fft.rfft2(random.standard_normal(size)) * np.exp(-2 * (np.pi * reach * scale / 2) ** 2)
    made = np.fft.irfft2(spectrum, s=size)
    return np.asarray(np.clip(0.5 + (made - made.mean()) / (made.std() * 4 + 1e-9), 0, 1))


def developed(light: Numbers, how: Print, random: np.random.Generator) -> Image.Image:
    """Turn light into an aged paper print with its border."""
    rows, columns = light.shape
    soft = blurred(np.clip(light, 0, 1.6), how.softness)
    soft = soft + 0.12 * blurred(np.clip(soft - 0.85, 0, 1), 9)
    down, across = np.mgrid[-1 : 1 : rows * 1j, -1 : 1 : columns * 1j]
    soft *= 1 - how.vignette * np.clip((down**2 + across**2) / 2, 0, 1) ** 1.3
    tone = np.clip(soft, 0, 1.25) / 1.25
    tone = tone**0.62
    tone = 0.35 * tone + 0.65 * (tone * tone * (3 - 2 * tone))
    coarse = blurred(random.standard_normal(light.shape), 0.75) * 1.9
    tone += how.grain * coarse * (0.5 + 1.2 * np.sqrt(np.clip(tone, 0, 1)) * (1 - np.clip(tone, 0, 1)) * 2)
    tone += 0.05 * (cloudy(light.shape, 160, random) - 0.5)
    paper = how.black + (how.white - how.black) * np.clip(tone, 0, 1)
    picture = Image.fromarray((paper * 255).astype(np.uint8))
    _damage(picture, how, random)
    return _mounted(picture, how, random)


def _damage(picture: Image.Image, how: Print, random: np.random.Generator) -> None:
    pen = ImageDraw.Draw(picture)
    width, height = picture.size
    for _ in range(how.scratches):
        x, y = random.uniform(0, width), random.uniform(0, height)
        length, lean = random.uniform(40, 260), random.normal(0, 0.12)
        tone = int(random.choice([225, 235, 60]))
        spots = [(x + lean * step * length / 6 + random.normal(0, 0.8), y + step * length / 6) for step in range(7)]
        pen.line(spots, fill=tone, width=1)
    for _ in range(how.dust):
        x, y, size = random.uniform(0, width), random.uniform(0, height), random.exponential(1.1)
        pen.ellipse((x, y, x + size + 0.6, y + size + 0.6), fill=int(random.choice([238, 228, 50])))


def _mounted(picture: Image.Image, how: Print, random: np.random.Generator) -> Image.Image:
    if not how.border:
        return picture
    width, height = picture.size
    edge = how.border
    paper = 0.9 + 0.06 * (cloudy((height + 2 * edge, width + 2 * edge), 120, random) - 0.5)
    paper += 0.008 * random.standard_normal(paper.shape)
    sheet = Image.fromarray(np.clip(paper * 255, 0, 255).astype(np.uint8))
    sheet.paste(picture, (edge, edge))
    pen = ImageDraw.Draw(sheet)
    for corner in ((0, 0), (sheet.width, 0), (0, sheet.height), (sheet.width, sheet.height)):
        reach = random.uniform(8, 22)
        pen.ellipse((corner[0] - reach, corner[1] - reach, corner[0] + reach, corner[1] + reach), fill=245)
    return sheet


def creased(picture: Image.Image, start: tuple[float, float], end: tuple[float, float]) -> Image.Image:
    """Fold a corner over and back: a pale line with a dark one beside it (shares of width and height)."""
    made = picture.copy()
    pen = ImageDraw.Draw(made)
    (a, b), (c, d) = ((x * picture.width, y * picture.height) for x, y in (start, end))
    pen.line((a, b, c, d), fill=232, width=2)
    pen.line((a + 2, b + 1, c + 2, d + 1), fill=120, width=1)
    return made


def screened(picture: Image.Image, pitch: float = 3.3) -> Image.Image:
    """Print in halftone dots at 45 degrees, as a postcard or a newspaper does."""
    values = np.asarray(picture, dtype=np.float64) / 255
    down, across = np.mgrid[0 : values.shape[0], 0 : values.shape[1]]
    turn = np.pi / pitch * np.sqrt(2)
    dots = 0.5 + 0.25 * (np.cos(turn * (across + down) / np.sqrt(2)) + np.cos(turn * (across - down) / np.sqrt(2)))
    ink = np.clip((blurred(values, 0.7) - (0.12 + 0.76 * dots)) * 2.4 + 0.5, 0, 1)
    return Image.fromarray((30 + 200 * ink).astype(np.uint8))
