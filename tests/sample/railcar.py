"""The petrol railcar of the sample, fitting by fitting, as it differs from batch to batch."""

import itertools
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sample.shapes import Finish, Mesh, Point, ball, box, join, moved, rod, sheet, turned, vault

HALF = 12.0
SIDE = 3.1
FLOOR, WAIST, CANTRAIL, CROWN = 2.3, 4.45, 7.4, 8.5
WINDOWS = (8.9, 5.8, 2.7, -0.4, -3.5, -6.6)
LAMP_HEIGHT = 3.45
COUPLING_HEIGHT = 1.75
VENTILATORS = (-3.2, 0.8, 4.8, 8.8)

_BRASS = Finish(tone=0.75, gloss=0.5)
_STEEL = Finish(tone=0.34, gloss=0.25)
_BLACK = Finish(tone=0.09, gloss=0.15)
_FRAME = Finish(tone=0.14, gloss=0.05)
_GLASS = Finish(tone=0.3, gloss=0.55, picture=0)
_ROOF = Finish(tone=0.62)
_LENS = Finish(tone=0.9, gloss=0.6)


@dataclass(frozen=True, slots=True, kw_only=True)
class Car:
    """One machine of the class as it stood on one day.

    Attributes:
        number_picture: overlay with the number for the side; None where it is painted out.
        letters_picture: overlay with the railway's initials; None where they are gone.
        third_batch: electric lamps, conduit, torpedo ventilators and hook; else the older fittings.
        rack: a luggage rack on the roof.
        body: tone of the panels below the waist.
        upper: tone of the panels above it.
    """

    number_picture: int | None
    letters_picture: int | None
    third_batch: bool
    rack: bool = False
    body: float = 0.2
    upper: float = 0.62


def railcar(car: Car) -> Mesh:
    """Build a whole car, its middle at the origin, its front towards growing x."""
    parts = [*_shell(car), *_lettering(car), *_underframe(), *_front(car), *_rear(car), *_roof(car)]
    if car.third_batch:
        parts += _conduit()
    else:
        parts += _roof_board()
    return join(parts)


def _shell(car: Car) -> Iterator[Mesh]:
    lower, upper = Finish(tone=car.body, gloss=0.22), Finish(tone=car.upper, gloss=0.12)
    yield box((-HALF, -SIDE, FLOOR), (HALF, SIDE, WAIST), lower)
    yield box((-HALF, -SIDE, WAIST), (HALF, SIDE, CANTRAIL), upper)
    for level in (FLOOR + 0.25, WAIST, CANTRAIL - 0.3):
        yield box((-HALF - 0.03, -SIDE - 0.05, level), (HALF + 0.03, SIDE + 0.05, level + 0.09), upper)
    for side in (-1, 1):
        for centre in WINDOWS:
            yield from _window(centre, side, 1.18)
        yield from _door(-9.6, side)
    for post in (7.35, 4.25, 1.15, -1.95, -5.05, -8.15, 10.6):
        yield box((post - 0.05, -SIDE - 0.04, FLOOR + 0.3), (post + 0.05, SIDE + 0.04, WAIST), upper)


def _window(centre: float, side: int, half: float) -> Iterator[Mesh]:
    y = side * (SIDE + 0.012)
    low, high = 4.85, 6.8
    left, right = (centre - half, centre + half) if side < 0 else (centre + half, centre - half)
    yield sheet([(left, y, high), (left, y, low), (right, y, low), (right, y, high)], _GLASS)
    frame = Finish(tone=0.3, gloss=0.3)
    out = side * (SIDE + 0.07)
    y_low, y_high = min(side * SIDE, out), max(side * SIDE, out)
    for z in (low - 0.08, high, 6.2):
        yield box((centre - half - 0.08, y_low, z), (centre + half + 0.08, y_high, z + 0.08), frame)
    for x in (centre - half - 0.08, centre + half):
        yield box((x, y_low, low), (x + 0.08, y_high, high), frame)


def _door(centre: float, side: int) -> Iterator[Mesh]:
    yield from _window(centre, side, 0.75)
    dark = Finish(tone=0.06)
    low, high = sorted((side * SIDE, side * (SIDE + 0.03)))
    for x in (centre - 1.05, centre + 1.05):
        yield box((x - 0.03, low, FLOOR + 0.1), (x + 0.03, high, CANTRAIL - 0.3), dark)
    for x in (centre - 1.25, centre + 1.25):
        yield rod((x, side * (SIDE + 0.15), 3.2), (x, side * (SIDE + 0.15), 5.6), 0.04, _BRASS)
    yield box((centre - 1.1, min(low, side * 3.3), 1.35), (centre + 1.1, max(high, side * 3.3), 1.45), _FRAME)


def _lettering(car: Car) -> Iterator[Mesh]:
    y = SIDE + 0.02
    for picture, centre, half, low, high in (
        (car.number_picture, WINDOWS[1], 0.75, 2.82, 4.3),
        (car.letters_picture, -2.0, 2.6, 3.05, 4.05),
    ):
        if picture is not None:
            finish = Finish(tone=0.95, gloss=0.05, picture=picture)
            left, right = centre - half, centre + half
            yield sheet([(left, -y, high), (left, -y, low), (right, -y, low), (right, -y, high)], finish)
            yield sheet([(right, y, high), (right, y, low), (left, y, low), (left, y, high)], finish)


def _underframe() -> Iterator[Mesh]:
    for side in (-1, 1):
        low, high = sorted((side * 1.7, side * 1.85))
        yield box((-HALF + 0.2, low, 1.25), (HALF - 0.2, high, 2.2), _FRAME)
        for axle in (-6.0, 6.0):
            wheel = [
                (0.0, 0.0),
                (0.0, 0.25),
                (0.05, 0.3),
                (0.05, 0.82),
                (-0.06, 0.86),
                (-0.06, 1.0),
                (0.3, 1.0),
                (0.3, 1.12),
            ]
            yield turned(wheel, (axle, side * 1.35, 1.0), (0, -side, 0), _STEEL)
            yield from _axlebox(axle, side)
    yield box((-3.5, -1.2, 0.9), (3.0, 1.2, FLOOR), _BLACK)
    yield rod((-4.0, -1.4, 1.5), (-10.5, -1.4, 1.5), 0.28, _STEEL)


def _axlebox(axle: float, side: int) -> Iterator[Mesh]:
    """Oil box with a lid that is hinged along its top edge, and the leaf spring above it."""
    y = side * 1.85
    low, high = sorted((y, y + side * 0.5))
    yield box((axle - 0.42, low, 0.62), (axle + 0.42, high, 1.4), Finish(tone=0.3, gloss=0.15))
    face = y + side * 0.5
    lid_low, lid_high = sorted((face, face + side * 0.1))
    yield box((axle - 0.3, lid_low, 0.7), (axle + 0.3, lid_high, 1.22), Finish(tone=0.55, gloss=0.35))
    yield rod((axle - 0.36, face + side * 0.08, 1.26), (axle + 0.36, face + side * 0.08, 1.26), 0.07, _BRASS)
    yield rod((axle, face + side * 0.12, 0.68), (axle, face + side * 0.12, 0.86), 0.06, _BRASS)
    for leaf in range(4):
        reach = 1.7 - 0.36 * leaf
        yield box((axle - reach, low, 1.75 - 0.09 * leaf), (axle + reach, high - 0.1, 1.82 - 0.09 * leaf), _STEEL)


def _front(car: Car) -> Iterator[Mesh]:
    yield from _end(1)
    yield box((HALF, -0.95, 2.5), (HALF + 0.4, 0.95, 4.6), Finish(tone=0.6, gloss=0.5))
    for row in range(15):
        z = 2.68 + row * 0.12
        yield box((HALF + 0.4, -0.78, z), (HALF + 0.43, 0.78, z + 0.05), _BLACK)
    yield rod((HALF + 0.2, 0, 4.6), (HALF + 0.2, 0, 4.85), 0.16, _BRASS)
    for side in (-1, 1):
        place = (HALF + 0.5, side * 2.0, LAMP_HEIGHT)
        yield from _electric_lamp(place) if car.third_batch else _acetylene_lamp(place)
        yield rod((HALF, side * 2.0, LAMP_HEIGHT - 0.55), (HALF + 0.55, side * 2.0, LAMP_HEIGHT - 0.55), 0.06, _STEEL)
        yield rod(
            (HALF + 0.5, side * 2.0, LAMP_HEIGHT - 0.6), (HALF + 0.5, side * 2.0, LAMP_HEIGHT - 0.2), 0.06, _STEEL
        )
    yield from _coupler(car)


def _rear(car: Car) -> Iterator[Mesh]:
    yield moved(join([*_end(1), *_coupler(car)]), turn=180)
    yield box((-HALF - 0.05, -0.9, FLOOR + 0.1), (-HALF, 0.9, 4.3), Finish(tone=car.body * 0.8, gloss=0.2))
    yield rod((-HALF - 0.12, 1.1, 2.9), (-HALF - 0.12, 1.1, 5.6), 0.05, _BRASS)


def _end(_: int) -> Iterator[Mesh]:
    x = HALF + 0.012
    frame = Finish(tone=0.3, gloss=0.3)
    for centre, half in ((-2.0, 0.82), (0.0, 0.92), (2.0, 0.82)):
        left, right = centre - half, centre + half
        yield sheet([(x, left, 6.9), (x, left, 4.95), (x, right, 4.95), (x, right, 6.9)], _GLASS)
        for z in (4.87, 6.9):
            yield box((HALF, left - 0.07, z), (HALF + 0.07, right + 0.07, z + 0.08), frame)
        for y in (left - 0.07, right):
            yield box((HALF, y, 4.95), (HALF + 0.07, y + 0.07, 6.9), frame)
    yield box((HALF - 0.1, -SIDE + 0.15, 1.3), (HALF + 0.25, SIDE - 0.15, 2.25), Finish(tone=0.26, gloss=0.1))
    y_low, y_high = -SIDE, SIDE
    arch = [
        (y, CANTRAIL + (CROWN - CANTRAIL) * np.sqrt(max(0.0, 1 - (y / SIDE) ** 2)))
        for y in np.linspace(y_low, y_high, 25)
    ]
    for (a, top_a), (b, top_b) in itertools.pairwise(arch):
        panel: list[Point] = [(HALF, a, top_a), (HALF, a, CANTRAIL - 0.1), (HALF, b, CANTRAIL - 0.1), (HALF, b, top_b)]
        yield sheet(panel, Finish(tone=0.5, gloss=0.1))


def _electric_lamp(at: Point) -> Iterator[Mesh]:
    """A flat drum with a broad rim."""
    shell = [(-0.42, 0.0), (-0.42, 0.2), (-0.25, 0.4), (0.1, 0.46)]
    yield turned(shell, at, (1, 0, 0), Finish(tone=0.18, gloss=0.5))
    yield turned([(0.08, 0.46), (0.08, 0.55), (0.2, 0.55), (0.2, 0.43)], at, (1, 0, 0), _BRASS)
    yield turned([(0.17, 0.43), (0.24, 0.2), (0.26, 0.0)], at, (1, 0, 0), _LENS)


def _acetylene_lamp(at: Point) -> Iterator[Mesh]:
    """A tall lantern with a chimney, and the gas generator below it."""
    x, y, z = at
    yield turned(
        [(-0.5, 0.0), (-0.5, 0.42), (0.5, 0.42), (0.72, 0.2), (0.72, 0.0)], at, (0, 0, 1), Finish(tone=0.5, gloss=0.5)
    )
    yield turned([(0.0, 0.16), (0.4, 0.16), (0.4, 0.3), (0.55, 0.0)], (x, y, z + 0.72), (0, 0, 1), _BRASS)
    yield turned([(0.3, 0.4), (0.46, 0.46), (0.46, 0.36)], at, (1, 0, 0), _BRASS)
    yield turned([(0.43, 0.36), (0.5, 0.2), (0.52, 0.0)], at, (1, 0, 0), _LENS)
    yield rod((x - 0.1, y, z - 1.35), (x - 0.1, y, z - 0.65), 0.25, _BRASS)


def _coupler(car: Car) -> Iterator[Mesh]:
    z = COUPLING_HEIGHT
    if car.third_batch:
        yield turned(
            [(0.0, 0.3), (0.3, 0.3), (0.9, 0.2), (0.9, 0.62), (1.05, 0.6), (1.1, 0.0)],
            (HALF + 0.2, 0, z + 0.12),
            (1, 0, 0),
            _STEEL,
        )
        bends: list[Point] = [
            (HALF + 0.2, 0, z - 0.45),
            (HALF + 1.1, 0, z - 0.5),
            (HALF + 1.45, 0, z - 0.55),
            (HALF + 1.6, 0, z - 0.35),
            (HALF + 1.55, 0, z - 0.1),
        ]
        for start, end in itertools.pairwise(bends):
            yield rod(start, end, 0.12, Finish(tone=0.5, gloss=0.3))
            yield ball(end, (0.12, 0.12, 0.12), Finish(tone=0.5, gloss=0.3))
        for link in range(5):
            yield ball((HALF + 0.75, 0.42, z - 0.5 - 0.2 * link), (0.08, 0.05, 0.14), Finish(tone=0.45, gloss=0.3))
        return
    yield box((HALF + 0.2, -0.42, z - 0.4), (HALF + 0.9, 0.42, z + 0.4), _STEEL)
    yield box((HALF + 0.9, -0.3, z - 0.13), (HALF + 0.93, 0.3, z + 0.13), Finish(tone=0.02))
    yield rod((HALF + 0.7, 0, z - 0.6), (HALF + 0.7, 0, z + 0.75), 0.09, Finish(tone=0.6, gloss=0.4))
    yield ball((HALF + 0.7, 0, z + 0.78), (0.16, 0.16, 0.1), Finish(tone=0.6, gloss=0.4))
    loop: list[Point] = [
        (HALF + 0.8, -0.2, z),
        (HALF + 1.6, -0.24, z - 0.25),
        (HALF + 1.85, 0, z - 0.34),
        (HALF + 1.6, 0.24, z - 0.25),
        (HALF + 0.8, 0.2, z),
    ]
    for start, end in itertools.pairwise(loop):
        yield rod(start, end, 0.09, Finish(tone=0.55, gloss=0.4))
        yield ball(end, (0.09, 0.09, 0.09), Finish(tone=0.55, gloss=0.4))


def _roof(car: Car) -> Iterator[Mesh]:
    steps = np.linspace(-1, 1, 31)
    arc = [(SIDE * 1.03 * t, CANTRAIL + (CROWN - CANTRAIL) * float(np.sqrt(max(0.0, 1 - t**2)))) for t in steps]
    yield vault(arc, -HALF - 0.15, HALF + 0.25, _ROOF)
    for centre in VENTILATORS:
        yield from _torpedo(centre) if car.third_batch else _cowl(centre)
    if car.rack:
        yield from _rack()


def _torpedo(x: float) -> Iterator[Mesh]:
    finish = Finish(tone=0.3, gloss=0.3)
    yield rod((x, 0, CROWN - 0.1), (x, 0, CROWN + 0.35), 0.16, finish)
    yield turned(
        [(-0.8, 0.1), (-0.68, 0.2), (-0.25, 0.27), (0.25, 0.27), (0.68, 0.2), (0.8, 0.1)],
        (x, 0, CROWN + 0.5),
        (1, 0, 0),
        finish,
    )
    for end in (-0.55, 0.55):
        yield turned(
            [(-0.05, 0.22), (-0.05, 0.27), (0.05, 0.27), (0.05, 0.22)], (x + end, 0, CROWN + 0.5), (1, 0, 0), _BRASS
        )


def _cowl(x: float) -> Iterator[Mesh]:
    finish = Finish(tone=0.3, gloss=0.3)
    yield rod((x, 0, CROWN - 0.1), (x, 0, CROWN + 0.55), 0.2, finish)
    yield turned(
        [(0.0, 0.2), (0.02, 0.56), (0.2, 0.45), (0.36, 0.2), (0.4, 0.0)], (x, 0, CROWN + 0.5), (0, 0, 1), finish
    )


def _rack() -> Iterator[Mesh]:
    rail = Finish(tone=0.16, gloss=0.3)
    for y in (-1.9, 1.9):
        for z in (CROWN + 0.15, CROWN + 0.6):
            yield rod((-11.3, y, z), (-5.2, y, z), 0.06, rail)
        for x in (-11.3, -9.8, -8.3, -6.8, -5.2):
            yield rod((x, y, CANTRAIL + 0.7), (x, y, CROWN + 0.62), 0.06, rail)
    for x in (-11.3, -5.2):
        yield rod((x, -1.9, CROWN + 0.6), (x, 1.9, CROWN + 0.6), 0.06, rail)
    yield box((-10.6, -1.2, CROWN + 0.1), (-8.8, 0.4, CROWN + 1.15), Finish(tone=0.28, gloss=0.1))
    yield box((-8.2, -1.0, CROWN + 0.1), (-6.6, 0.9, CROWN + 0.8), Finish(tone=0.45, gloss=0.1))


def _conduit() -> list[Mesh]:
    """Steel tube along the edge of the roof and down the front corner, with a clip every 18 inches."""
    tube = Finish(tone=0.85, gloss=0.4)
    parts = []
    for side in (-1, 1):
        y = side * (SIDE + 0.13)
        parts.append(rod((-11.4, y, CANTRAIL - 0.1), (11.75, y, CANTRAIL - 0.1), 0.085, tube))
        parts.append(rod((11.75, y, CANTRAIL - 0.1), (11.75, y, 3.5), 0.085, tube))
        parts.append(rod((11.75, y, 3.5), (12.1, side * 2.4, LAMP_HEIGHT), 0.07, tube))
        parts.extend(
            box(
                (x, min(y, side * SIDE) - 0.05, CANTRAIL - 0.24),
                (x + 0.16, max(y, side * SIDE) + 0.05, CANTRAIL + 0.04),
                _BLACK,
            )
            for x in np.arange(-11, 11.6, 1.5)
        )
    return parts


def _roof_board() -> list[Mesh]:
    board = Finish(tone=0.85)
    parts = [
        box((-5.0, y - 0.05, CANTRAIL + 0.1), (5.0, y + 0.05, CANTRAIL + 0.75), board)
        for y in (-SIDE - 0.1, SIDE + 0.1)
    ]
    parts += [
        box((x - 0.08, -SIDE - 0.18, CANTRAIL - 0.1), (x + 0.08, -SIDE - 0.02, CANTRAIL + 0.85), _BLACK)
        for x in (-4.0, 0.0, 4.0)
    ]
    return parts
