"""What stands round the railcar: ballast, rails, a platform, a station, trees, people and the sky."""

from collections.abc import Iterator, Sequence

import numpy as np
from PIL import Image, ImageDraw

from sample.faces import Faces
from sample.film import cloudy
from sample.rendering import Overlay
from sample.shapes import Finish, Mesh, Numbers, Point, ball, box, join, rod, sheet, turned

GLASS, BALLAST, TREE, OTHER_TREE, BOARDS, LETTERS, NUMBER, NAME = range(8)


def overlays(faces: Faces, number: str, name: str, random: np.random.Generator) -> tuple[Overlay, ...]:
    """Make the pictures that surfaces refer to, in the order of the numbers above.

    Args:
        faces: typefaces for the painted letters.
        number: the car's running number, as painted.
        name: the station's name, as on its board.
        random: source of grain and leaves.
    """
    whole = np.ones((64, 64))
    glass = 0.25 + 0.5 * cloudy((128, 256), 30, random) * np.linspace(1.3, 0.3, 128)[:, None]
    stones = 0.55 + 0.45 * cloudy((256, 256), 2.2, random) + 0.25 * (cloudy((256, 256), 12, random) - 0.5)
    boards = np.ones((256, 256))
    boards[::16] = 0.5
    boards *= 0.85 + 0.15 * cloudy((256, 256), 5, random)
    return (
        Overlay(tone=glass, cover=np.ones_like(glass)),
        Overlay(tone=stones, cover=np.ones_like(stones)),
        _tree(random),
        _tree(random),
        Overlay(tone=boards, cover=np.ones_like(boards)),
        _painted(faces, "B. & C. L. R.", (520, 100)),
        _painted(faces, number, (300, 300)) if number else Overlay(tone=whole, cover=whole * 0),
        _sign(faces, name),
    )


def _tree(random: np.random.Generator) -> Overlay:
    height, width = 400, 300
    leaves = cloudy((height, width), 6, random)
    down, across = np.mgrid[0:height, 0:width]
    crown = 1 - np.hypot((across - 150) / 140, (down - 150) / 150) + 0.7 * (cloudy((height, width), 26, random) - 0.5)
    trunk = (abs(across - 150) < 13) & (down > 200)
    light = 0.35 + 0.6 * leaves * np.clip(1.25 - down / 330, 0.2, 1)
    return Overlay(
        tone=np.where(trunk & (crown + leaves < 0.6), 0.25, light),
        cover=((crown + 0.5 * (leaves - 0.5) > 0) | trunk).astype(float),
    )


def _painted(faces: Faces, text: str, size: tuple[int, int]) -> Overlay:
    """Paint letters with a shaded edge on nothing."""
    width, height = size
    face = faces.find("book-bold", height * (1.22 if len(text) < 3 else 0.72))
    left, top, right, bottom = face.getbbox(text)
    spot = ((width - right - left) / 2, (height - bottom - top) / 2)
    cover, letters = (Image.new("L", size, 0) for _ in range(2))
    for shift in range(7):
        ImageDraw.Draw(cover).text((spot[0] + shift, spot[1] + shift), text, 255, font=face, stroke_width=2)
    ImageDraw.Draw(letters).text(spot, text, 255, font=face, stroke_width=2)
    return Overlay(tone=0.04 + 0.96 * np.asarray(letters) / 255.0, cover=np.asarray(cover) / 255.0)


def _sign(faces: Faces, text: str) -> Overlay:
    board = Image.new("L", (600, 110), 235)
    pen = ImageDraw.Draw(board)
    face = faces.find("drawing", 76)
    left, top, right, bottom = face.getbbox(text)
    pen.text(((600 - right - left) / 2, (110 - top - bottom) / 2), text, 25, font=face, stroke_width=2)
    pen.rectangle((4, 4, 595, 105), outline=25, width=5)
    return Overlay(tone=np.asarray(board) / 255.0, cover=np.ones((110, 600)))


def sky(width: int, height: int, random: np.random.Generator, *, level: float = 0.92) -> Numbers:
    """Make a sky of thin cloud, brighter towards the horizon."""
    rise = np.linspace(0.82, 1.0, height)[:, None]
    made: Numbers = level * rise * (0.9 + 0.2 * cloudy((height, width), 90, random))
    return made


def ground(level: float, tone: float, reach: tuple[float, float, float, float]) -> Mesh:
    """Lay out ballast in tiles of ten feet over (x from, x to, y from, y to)."""
    finish = Finish(tone=tone, picture=BALLAST)
    tiles = []
    for x in np.arange(reach[0], reach[1], 10.0):
        for y in np.arange(reach[2], reach[3], 10.0):
            spots: list[Point] = [(x, y + 10, level), (x, y, level), (x + 10, y, level), (x + 10, y + 10, level)]
            tiles.append(sheet(spots, finish))
    return join(tiles)


def track(offset: float = 0.0, start: float = -70.0, end: float = 70.0) -> Mesh:
    """Lay a road of 2 ft 6 in gauge at a distance across."""
    parts = [
        box((x, offset - 2.4, -0.6), (x + 0.8, offset + 2.4, -0.38), Finish(tone=0.22))
        for x in np.arange(start, end, 2.5)
    ]
    for side in (-1.25, 1.25):
        parts += [
            box((x, offset + side - 0.1, -0.4), (x + 10, offset + side + 0.1, 0.0), Finish(tone=0.4, gloss=0.4))
            for x in np.arange(start, end, 10.0)
        ]
    return join(parts)


def platform(near: float, far: float, top: float, *, start: float = -70.0, end: float = 70.0) -> Mesh:
    """Build a platform with a pale stone edge on both sides."""
    parts = []
    for x in np.arange(start, end, 10.0):
        spots: list[Point] = [
            (x, far - 0.7, top),
            (x, near + 0.7, top),
            (x + 10, near + 0.7, top),
            (x + 10, far - 0.7, top),
        ]
        parts.append(sheet(spots, Finish(tone=0.62, picture=BALLAST)))
        parts += [
            box((x, edge, top - 1.9), (x + 9.97, edge + 0.7, top + 0.02), Finish(tone=0.8))
            for edge in (near, far - 0.7)
        ]
    return join(parts)


def trees(places: Sequence[tuple[float, float, float]], towards: Point) -> Mesh:
    """Stand trees (x, y, height) that face the lens."""
    parts = []
    for number, (x, y, height) in enumerate(places):
        across = np.array([-(towards[1] - y), towards[0] - x])
        dx, dy = -across / np.linalg.norm(across) * height * 0.4
        spots: list[Point] = [
            (x - dx, y - dy, height),
            (x - dx, y - dy, -0.5),
            (x + dx, y + dy, -0.5),
            (x + dx, y + dy, height),
        ]
        parts.append(sheet(spots, Finish(tone=0.42, picture=(TREE, OTHER_TREE)[number % 2])))
    return join(parts)


def station(x: float, y: float, level: float) -> Mesh:
    """Build a boarded station with a canopy, a door, two windows and its name board."""
    wall, dark = Finish(tone=0.66, picture=BOARDS), Finish(tone=0.15, gloss=0.3)
    front = y
    parts = [
        box((x, front, level), (x + 26, front + 12, level + 9), wall),
        box((x - 1, front - 6, level + 8.6), (x + 27, front + 0.3, level + 9.1), Finish(tone=0.4)),
        box((x + 11.5, front - 0.1, level), (x + 14.5, front + 0.1, level + 7), dark),
    ]
    parts += [box((x + at, front - 0.1, level + 2.8), (x + at + 4, front + 0.1, level + 6.8), dark) for at in (3.5, 19)]
    roof: list[Point] = [
        (x - 1, front + 6, level + 14),
        (x - 1, front - 1.5, level + 8.8),
        (x + 27, front - 1.5, level + 8.8),
        (x + 27, front + 6, level + 14),
    ]
    parts.append(sheet(roof, Finish(tone=0.36, picture=BOARDS)))
    parts += [
        rod((x + at, front - 5.6, level), (x + at, front - 5.6, level + 8.6), 0.2, Finish(tone=0.5))
        for at in (0, 8.6, 17.3, 26)
    ]
    return join(parts)


def name_board(x: float, y: float, level: float) -> Mesh:
    """Stand the station's name on two posts."""
    spots: list[Point] = [
        (x, y, level + 6.4),
        (x, y, level + 4.9),
        (x + 8.2, y, level + 4.9),
        (x + 8.2, y, level + 6.4),
    ]
    posts = [rod((x + at, y + 0.1, level), (x + at, y + 0.1, level + 6.6), 0.14, Finish(tone=0.8)) for at in (0.5, 7.7)]
    return join([sheet(spots, Finish(tone=0.95, picture=NAME)), *posts])


def person(x: float, y: float, level: float, *, coat: float, tall: float = 5.7) -> Mesh:
    """Stand somebody in a coat and a cap."""
    return join(_person(x, y, level, coat, tall))


def _person(x: float, y: float, level: float, coat: float, tall: float) -> Iterator[Mesh]:
    cloth, skin = Finish(tone=coat), Finish(tone=0.62)
    for side in (-0.27, 0.27):
        yield turned([(0, 0.24), (0.45 * tall, 0.3)], (x + side, y, level), (0, 0, 1), Finish(tone=coat * 0.7))
        yield ball((x + side, y - 0.18, level + 0.12), (0.22, 0.45, 0.16), Finish(tone=0.05))
        yield turned(
            [(0, 0.14), (0.38 * tall, 0.2)], (x + side * 3.0, y - 0.05, level + 0.42 * tall), (-side * 0.5, 0, 2), cloth
        )
    yield turned(
        [(0, 0.74), (0.5, 0.7), (0.22 * tall, 0.62), (0.42 * tall, 0.82), (0.48 * tall, 0.3)],
        (x, y, level + 0.36 * tall),
        (0, 0, 1),
        cloth,
    )
    yield ball((x, y, level + 0.925 * tall), (0.38, 0.4, 0.5), skin)
    yield turned(
        [(0, 0.5), (0.12, 0.55), (0.26, 0.42), (0.3, 0)],
        (x, y, level + 0.96 * tall),
        (0, 0, 1),
        Finish(tone=coat * 0.6),
    )


def churns(x: float, y: float, level: float, count: int) -> Mesh:
    """Stand milk churns in a row."""
    profile = [(0, 0.0), (0, 0.62), (1.5, 0.62), (2.0, 0.36), (2.2, 0.36), (2.2, 0.5), (2.35, 0.5), (2.4, 0.0)]
    return join(
        turned(profile, (x + 1.5 * step, y + 0.3 * (step % 2), level), (0, 0, 1), Finish(tone=0.6, gloss=0.4))
        for step in range(count)
    )
