"""Typed letters: the office's carbon copies, and one top copy of 1962."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from PIL import Image, ImageDraw

from sample.faces import Faces
from sample.film import blurred, cloudy
from sample.shapes import Numbers

_SIZE = (1240, 1640)
_DOTS = 150


@dataclass(frozen=True, slots=True, kw_only=True)
class Letter:
    """One typed sheet.

    Attributes:
        lines: as typed, in order; empty lines part paragraphs, and what stands between tildes is faint.
        carbon: colour of the carbon paper, red, green and blue.
        paper: colour of the sheet.
        blur: softness of the copy in pixels.
        faint: how unevenly the keys struck, 0 to 1.
        skew: turn in degrees.
        seed: of the noise.
    """

    lines: Sequence[str]
    carbon: tuple[int, int, int] = (62, 52, 110)
    paper: tuple[int, int, int] = (236, 226, 196)
    blur: float = 1.25
    faint: float = 0.55
    skew: float = 0.6
    seed: int = 0


OFFER = Letter(
    lines=(
        "                                          COPY.",
        "",
        "RC/114.                       14th February, 1933.",
        "",
        "H. J. Morvane, Esq.,",
        "    Superintendent,",
        "        Brennow & Carrowsea Light Railway,",
        "            Brennow.",
        "",
        "Dear Sir,",
        "",
        "           RAIL CARS Nos. 9, 10 and 11.",
        "",
        "We thank you for yours of the 9th. The three cars",
        "now in hand will be wired throughout and will have",
        "electric head lamps in place of the acetylene lamps",
        "of the earlier cars.",
        "",
        "An exhaust whistle will be fitted to each of the",
        "three cars, worked by a pedal at the driver's right",
        "foot.",
        "",
        "The brackets are altered for the new lamps as shown",
        "on our drawing 30921, Issue C, of which a print was",
        "sent to you in November.",
        "",
        "We hope to put the first car, No. 9, on the rails",
        "at Brennow by the end of May.",
        "",
        "                         Yours faithfully,",
        "",
        "             for ORRINSHAW & TEBB LTD.",
        "",
        "                      S. Tebb.",
    ),
    seed=214,
)

COUPLING = Letter(
    lines=(
        "           BRENNOW & CARROWSEA LIGHT RAILWAY",
        "",
        "Superintendent's Office,",
        "Brennow.                        20th June, 1933.",
        "",
        "Messrs. Orrinshaw & Tebb Ltd.,",
        "    Lindle Works, Stoverton.",
        "",
        "Gentlemen,",
        "",
        "             RAIL CAR No. 9.",
        "",
        "The car came to hand on Saturday and was run to",
        "Carrowsea and back on Monday with the van.",
        "",
        "The coupling ~hook~ is at 1 ft. 9 in. above the rail,",
        "as we asked, and draws level with the wagon stock.",
        "I have to complain of the doors, which rattle.",
        "",
        "Kindly send six more of the clips H-225, of which",
        "several were short in the box, and let me have the",
        "new book of instructions as soon as it is printed.",
        "",
        "                        I am, Gentlemen,",
        "                          Yours truly,",
        "",
        "                         H. J. Morvane,",
        "                         Superintendent.",
    ),
    carbon=(46, 46, 54),
    paper=(228, 222, 205),
    blur=1.4,
    faint=0.7,
    skew=-0.8,
    seed=620,
)

LEDGER = Letter(
    lines=(
        "                              3, Quay Terrace,",
        "                              Carrowsea.",
        "                              8th October, 1962.",
        "",
        "Dear Mr. Ellowby,",
        "",
        "I was clerk in the stores at Brennow from 1929 until",
        "the line was closed and I kept the cars' ledger.",
        "",
        "You ask what petrol they carried. According to the",
        "stores ledger the tank of each car held 14 gallons,",
        "and they were filled every second night. The ledger",
        "itself went in the fire at the shed with all the",
        "other books, but I copied the page on the cars into",
        "my own pocket book some time before that and have it",
        "beside me as I write.",
        "",
        "I am sorry I can not help you with the photographs.",
        "",
        "                         Yours sincerely,",
        "",
        "                         E. Corvick (Miss).",
    ),
    carbon=(34, 32, 34),
    paper=(240, 236, 222),
    blur=0.9,
    faint=0.35,
    skew=0.3,
    seed=1962,
)

PAINT = Letter(
    lines=(
        "           BRENNOW & CARROWSEA LIGHT RAILWAY",
        "",
        "Superintendent's Office,",
        "Brennow.                         22nd May, 1934.",
        "",
        "Messrs. Orrinshaw & Tebb Ltd.,",
        "    Lindle Works, Stoverton.",
        "",
        "Gentlemen,",
        "",
        "             RAIL CAR No. 9.",
        "",
        "No. 9 has been touched up below the waist with the",
        "holly green you sent, and I am obliged to you for",
        "it. The match is a good one and the car will be fit",
        "to be seen for the summer traffic.",
        "",
        "Please send two lamps H-204 complete. A wagon was",
        "shunted into the car at Pellow Halt on the 17th and",
        "both glasses are broken. The brackets are sound.",
        "",
        "                          Yours truly,",
        "",
        "                         H. J. Morvane,",
        "                         Superintendent.",
    ),
    carbon=(56, 48, 104),
    paper=(232, 222, 192),
    blur=1.3,
    faint=0.6,
    skew=0.9,
    seed=522,
)


def typed(letter: Letter, faces: Faces) -> Image.Image:
    """Type a letter key by key, and carry it through the carbon."""
    random = np.random.default_rng(letter.seed)
    ink = blurred(_struck(letter, faces, random), letter.blur)
    size = (_SIZE[1], _SIZE[0])
    ink *= 1 - letter.faint * 0.55 * cloudy(size, 4, random) - letter.faint * 0.3 * cloudy(size, 120, random)
    ink = np.clip(ink * 1.25, 0, 1) + 0.05 * cloudy(size, 30, random) ** 2
    paper = _sheet(size, random)
    channels = [
        np.clip((under / 255 * paper) * (1 - ink) + over / 255 * ink + 0.012 * random.standard_normal(size), 0, 1)
        for under, over in zip(letter.paper, letter.carbon, strict=True)
    ]
    picture = Image.fromarray((np.stack(channels, -1) * 255).astype(np.uint8))
    return picture.rotate(letter.skew, Image.Resampling.BICUBIC, fillcolor=(96, 92, 84))


def _struck(letter: Letter, faces: Faces, random: np.random.Generator) -> Numbers:
    """Strike each key with its own weight and a little off the line."""
    made = np.zeros((_SIZE[1], _SIZE[0]))
    face = faces.find("typewriter", 11.4 * _DOTS / 72)
    pitch, feed = 19.0, 40.0
    for row, line in enumerate(letter.lines):
        for column, (key, struck) in enumerate(_keys(line)):
            if key == " ":
                continue
            stamp = Image.new("L", (40, 48), 0)
            ImageDraw.Draw(stamp).text((8, 34), key, 255, font=face, anchor="ls")
            x = int(150 + column * pitch + random.normal(0, 0.5))
            y = int(150 + row * feed + random.normal(0, 0.8)) - 34
            weight = struck * np.clip(random.normal(0.9, 0.1 * (1 + letter.faint)), 0.35, 1)
            made[y : y + 48, x : x + 40] = np.maximum(made[y : y + 48, x : x + 40], np.asarray(stamp) / 255 * weight)
    return made


def _keys(line: str) -> Iterator[tuple[str, float]]:
    """Give each key and how hard it was struck; what stands between tildes hardly came through."""
    struck = 1.0
    for key in line:
        if key == "~":
            struck = 1.42 - struck
        else:
            yield key, struck


def _sheet(size: tuple[int, int], random: np.random.Generator) -> Numbers:
    """Make thin paper, folded twice, browner at its edges."""
    down = np.linspace(0, 1, size[0])[:, None]
    across = np.linspace(0, 1, size[1])[None, :]
    edge = np.minimum(np.minimum(down, 1 - down), np.minimum(across, 1 - across))
    made = (
        1 - 0.12 * np.exp(-edge * 30) + 0.03 * (cloudy(size, 50, random) - 0.5) + 0.03 * (cloudy(size, 2, random) - 0.5)
    )
    for fold in (0.345, 0.672):
        made += 0.05 * np.exp(-(((down - fold) / 0.0018) ** 2)) - 0.07 * np.exp(
            -(((down - fold - 0.003) / 0.0022) ** 2)
        )
    return np.asarray(made)
