"""Scenes of our own invention, photographed from where one likes: flat painted surfaces standing in space, in metres.

x runs to the right, y away from the first photographer, z up from the ground. Every surface is painted from the seed of
its scene, so that two scenes share no wall, tree or waggon, while two photographs of one scene share them all.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import cos, radians, sin, tan

import cv2
import numpy as np
import numpy.typing as npt
from likeness.page_makers import Tones, as_numbers, as_picture, clouds
from likeness.scene_paint import front, masonry, person, tree, waggon
from PIL import Image, ImageDraw

Point = tuple[float, float, float]
SIZE = (720, 500)
_NEAREST = 0.6


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Surface:
    """A painted rectangle.

    Attributes:
        corners: top left, top right, bottom right, bottom left.
        tones: its paint.
        cover: 0 to 1, where it is solid; None for everywhere.
        name: by which it can be moved; empty for what stays.
    """

    corners: tuple[Point, Point, Point, Point]
    tones: Tones
    cover: Tones | None = None
    name: str = ""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Scene:
    """What stands there.

    Attributes:
        surfaces: all that is upright.
        ground: paint of the ground, of which one repeat is `stride` metres square.
        stride: in metres.
        sky: the sky and the far hills, twice as wide as a picture.
    """

    surfaces: tuple[Surface, ...]
    ground: Tones
    stride: float
    sky: Tones


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """Where the photographer stood, and the day.

    Attributes:
        eye: place of the lens.
        towards: degrees to the right of straight ahead.
        wide: width of the view in degrees.
        sun: strength of the light, 1 for a bright day.
        seed: of grain, specks and scratches.
        moved: metres to the right, by name of what was moved since.
    """

    eye: Point = (0.0, 0.0, 1.7)
    towards: float = 0.0
    wide: float = 55.0
    sun: float = 1.0
    seed: int = 0
    moved: tuple[tuple[str, float], ...] = ()


def _seen(points: npt.NDArray[np.float64], view: View) -> npt.NDArray[np.float64]:
    """Where points fall on the plate, and how far away they are."""
    turn = radians(view.towards)
    away = points - np.array(view.eye)
    right = away[:, 0] * cos(turn) - away[:, 1] * sin(turn)
    ahead = away[:, 0] * sin(turn) + away[:, 1] * cos(turn)
    focal = SIZE[0] / 2 / tan(radians(view.wide) / 2)
    clipped = np.maximum(ahead, _NEAREST)
    return np.stack(
        [SIZE[0] / 2 + focal * right / clipped, SIZE[1] * 0.55 - focal * away[:, 2] / clipped, ahead], axis=1
    )


def _ground_seen(scene: Scene, view: View) -> tuple[Tones, Tones]:
    """The ground at every pixel, and how far it is away (0 above the horizon)."""
    focal = SIZE[0] / 2 / tan(radians(view.wide) / 2)
    rows, columns = np.mgrid[0 : SIZE[1], 0 : SIZE[0]].astype(np.float32)
    below = (rows - SIZE[1] * 0.55) / focal
    ahead = np.where(below > 1e-3, view.eye[2] / np.maximum(below, 1e-3), 0)
    right = (columns - SIZE[0] / 2) / focal * ahead
    turn = radians(view.towards)
    x = view.eye[0] + right * cos(turn) + ahead * sin(turn)
    y = view.eye[1] - right * sin(turn) + ahead * cos(turn)
    per_metre = scene.ground.shape[0] / scene.stride
    seen = cv2.remap(
        scene.ground,
        ((x * per_metre) % scene.ground.shape[1]).astype(np.float32),
        ((y * per_metre) % scene.ground.shape[0]).astype(np.float32),
        cv2.INTER_LINEAR,
        borderMode=cv2.BORDER_WRAP,
    )
    haze = np.clip(ahead / 60, 0, 1)  # far ground has no grain that a lens could tell
    return (seen * (1 - haze) + float(scene.ground.mean()) * haze).astype(np.float32), ahead.astype(np.float32)


def _sky_seen(scene: Scene, view: View) -> Tones:
    left = round(scene.sky.shape[1] / 4 + view.towards / 110 * SIZE[0])
    shown = scene.sky[:, max(0, left) : max(0, left) + SIZE[0]]
    return as_numbers(cv2.resize(shown, SIZE)) if shown.shape[1] != SIZE[0] else shown.copy()


def photographed(scene: Scene, view: View) -> Image.Image:
    """Take the picture and make the print: light, haze, a soft lens, grain, dark corners, specks and scratches."""
    ground, ahead = _ground_seen(scene, view)
    plate = np.where(ahead > 0, ground, _sky_seen(scene, view)).astype(np.float32)
    shifts = dict(view.moved)
    placed = [
        (np.array(surface.corners) + np.array([shifts.get(surface.name, 0.0), 0, 0]), surface)
        for surface in scene.surfaces
    ]
    seen = [(_seen(corners, view), surface) for corners, surface in placed]
    for spots, surface in sorted(seen, key=lambda pair: -float(pair[0][:, 2].mean())):
        if (spots[:, 2] > _NEAREST).all():
            _lay(plate, spots, surface)
    return _printed(plate * np.float32(0.6 + 0.4 * view.sun), view)


def _lay(plate: Tones, spots: npt.NDArray[np.float64], surface: Surface) -> None:
    """Lay a surface over the plate, within the smallest upright rectangle that holds it."""
    left, top = (max(0, int(edge)) for edge in spots[:, :2].min(axis=0))
    right, bottom = (min(most, int(edge) + 1) for most, edge in zip(SIZE, spots[:, :2].max(axis=0), strict=True))
    if right - left < 2 or bottom - top < 2:
        return  # beside the plate, or seen edge on
    height, width = surface.tones.shape
    start = np.array([[0, 0], [width, 0], [width, height], [0, height]], dtype=np.float32)
    way = cv2.getPerspectiveTransform(start, (spots[:, :2] - (left, top)).astype(np.float32))
    size = right - left, bottom - top
    cover = np.ones((height, width), np.float32) if surface.cover is None else surface.cover
    hides = cv2.warpPerspective(cover, way, size, flags=cv2.INTER_LINEAR)
    tones = cv2.warpPerspective(surface.tones, way, size, flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    haze = min(0.5, float(spots[:, 2].mean()) / 120)
    there = plate[top:bottom, left:right]
    there += hides * (tones * (1 - haze) + 200 * haze - there)


def _printed(plate: Tones, view: View) -> Image.Image:
    random = np.random.default_rng(view.seed)
    height, width = plate.shape
    soft = cv2.GaussianBlur(plate, (0, 0), random.uniform(0.6, 1.1))
    grain = cv2.GaussianBlur(random.normal(0, 1, plate.shape).astype(np.float32), (0, 0), 0.7)
    rows, columns = np.mgrid[0:height, 0:width].astype(np.float32)
    away = np.hypot(columns / width - 0.5, rows / height - 0.5)
    tones = (soft + random.uniform(4, 11) * grain) * (1 - 0.5 * away**2)
    dark, bright = np.quantile(tones, (0.01, 0.99))
    picture = as_picture(30 + (tones - dark) * (random.uniform(185, 205) / (bright - dark)))
    pen = ImageDraw.Draw(picture)
    for _ in range(40):
        x, y, wide = random.uniform(0, width), random.uniform(0, height), random.uniform(0.4, 1.6)
        pen.ellipse((x - wide, y - wide, x + wide, y + wide), fill=int(random.choice([35, 225])))
    for _ in range(3):
        x, y, reach = random.uniform(0, width), random.uniform(0, height), random.uniform(30, 160)
        pen.line((x, y, x + random.uniform(-8, 8), y + reach), fill=225)
    return picture


def _upright(x: float, y: float, wide: float, tall: float) -> tuple[Point, Point, Point, Point]:
    return (x, y, tall), (x + wide, y, tall), (x + wide, y, 0), (x, y, 0)


def _building(x: float, y: float, random: np.random.Generator) -> Iterator[Surface]:
    wide, deep, tall = random.uniform(6, 13), random.uniform(4, 9), random.uniform(3.5, 9)
    yield Surface(corners=_upright(x, y, wide, tall), tones=front(round(tall * 40), round(wide * 40), random))
    side = front(round(tall * 40), round(deep * 40), random) * np.float32(0.65)
    for at in (x, x + wide):
        corners = (at, y, tall), (at, y + deep, tall), (at, y + deep, 0), (at, y, 0)
        yield Surface(corners=corners, tones=side.astype(np.float32))
    roof = masonry(120, round(wide * 40), random) * np.float32(0.6)
    rise = random.uniform(1, 3)
    slope = (x, y + deep / 2, tall + rise), (x + wide, y + deep / 2, tall + rise), (x + wide, y, tall), (x, y, tall)
    yield Surface(corners=slope, tones=roof.astype(np.float32))


def _standing(random: np.random.Generator) -> Iterator[Surface]:
    at = random.uniform(-24, -14)
    while at < 22:
        yield from _building(at, random.uniform(18, 34), random)
        at += random.uniform(10, 18)
    for _ in range(int(random.integers(2, 6))):
        tones, cover = tree(random)
        tall = random.uniform(5, 10)
        spot = _upright(random.uniform(-22, 20), random.uniform(12, 36), tall * 0.75, tall)
        yield Surface(corners=spot, tones=tones, cover=cover)
    for number in range(int(random.integers(1, 3))):
        tones, cover = waggon(random)
        spot = _upright(random.uniform(-9, 3), random.uniform(8, 15), 5.6, 2.9)
        yield Surface(corners=spot, tones=tones, cover=cover, name=f"waggon {number}")
    for number in range(int(random.integers(0, 5))):
        tones, cover = person(random)
        spot = _upright(random.uniform(-5, 5), random.uniform(6, 14), 0.8, 1.75)
        yield Surface(corners=spot, tones=tones, cover=cover, name=f"person {number}")


def _far(random: np.random.Generator) -> Tones:
    """Sky with clouds, two rows of hills before it."""
    height, width = SIZE[1], SIZE[0] * 2
    sky = 165 + 70 * clouds(height, width, random.uniform(50, 160), random)
    rows = np.mgrid[0:height, 0:width][0]
    for base, tone in ((0.36, 150), (0.46, 115)):
        ridge = height * (
            base + 0.14 * (clouds(1, width, 130, random)[0] - 0.5) + 0.02 * clouds(1, width, 9, random)[0]
        )
        woods = tone + 25 * (clouds(height, width, 6, random) - 0.5)
        sky = np.where(rows > ridge[None, :], woods, sky)
    return sky.astype(np.float32)


def scene(seed: int) -> Scene:
    """A yard, a street or a halt that nobody ever saw."""
    random = np.random.default_rng(seed)
    grain = random.uniform(2.5, 7)
    stones = 70 + 110 * clouds(512, 512, grain, random) + 40 * (clouds(512, 512, 70, random) - 0.5)
    return Scene(
        surfaces=tuple(_standing(random)),
        ground=stones.astype(np.float32),
        stride=random.uniform(3, 7),
        sky=_far(random),
    )


def views(seed: int, count: int) -> tuple[View, ...]:
    """Places from which one scene was photographed: steps of half a metre to five, other days, things moved."""
    random = np.random.default_rng(seed + 70_000)
    first = View(seed=seed * 100)
    return first, *(
        replace(
            first,
            eye=(
                float(random.choice([-1, 1]) * random.uniform(0.5, 5)),
                float(random.uniform(-3, 2)),
                float(random.uniform(1.4, 2.6)),
            ),
            towards=float(random.uniform(-9, 9)),
            wide=float(random.uniform(44, 62)),
            sun=float(random.uniform(0.5, 1)),
            seed=seed * 100 + number,
            moved=tuple(
                (f"{what} {at}", float(random.uniform(-3, 3))) for what in ("waggon", "person") for at in range(5)
            ),
        )
        for number in range(1, count)
    )


def engraved(picture: Image.Image, seed: int) -> Image.Image:
    """The picture cut in lines that swell where it is dark, as in a book of the time before the halftone."""
    random = np.random.default_rng(seed)
    tones = cv2.resize(np.asarray(picture, dtype=np.float32), None, fx=1.25, fy=1.25)
    rows, columns = np.mgrid[0 : tones.shape[0], 0 : tones.shape[1]].astype(np.float32)
    bend = 10 * clouds(tones.shape[0], tones.shape[1], 90, random)
    lean = random.uniform(-0.5, 0.5)
    first = 127.5 + 120 * np.sin((rows + lean * columns + bend) * (2 * np.pi / 4.5))
    second = 70 + 60 * np.sin((rows * 0.6 - columns + bend) * (2 * np.pi / 5.0))
    cut = np.clip((tones - np.minimum(first, 255)) * 0.05 + 0.6, 0, 1) * np.clip((tones - second) * 0.05 + 0.6, 0, 1)
    return as_picture(cv2.GaussianBlur((35 + 205 * cut).astype(np.float32), (0, 0), 0.6))
