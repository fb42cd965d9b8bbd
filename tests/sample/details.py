"""Close pictures: the inside of No. 4, the maker's plate of No. 9, the ventilator from the body of No. 11."""

from collections.abc import Iterator

import numpy as np
from PIL import Image, ImageDraw

from sample import scenery
from sample.faces import Faces
from sample.film import Print, blurred, cloudy, developed
from sample.photographs import Scene, take
from sample.railcar import CANTRAIL, CROWN, FLOOR, SIDE
from sample.rendering import Camera, Light
from sample.shapes import Finish, Mesh, Numbers, Point, box, join, rod, sheet, turned, vault

_WOOD = Finish(tone=0.52, gloss=0.12)
_IRON = Finish(tone=0.12, gloss=0.2)

# The words cast on the maker's plate, how far down each line stands and how high its letters are, in pixels.
PLATE = (
    ("ORRINSHAW & TEBB LTD.", 226, 53),
    ("LINDLE WORKS", 318, 58),
    ("STOVERTON", 396, 58),
    ("1933   CAR 9", 498, 84),
)


def inside_number_four(faces: Faces) -> Image.Image:
    """The saloon of No. 4 in 1929, looking forward: slatted benches either side of the gangway."""
    mesh = join(
        [*_saloon(), *(part for x in np.arange(-5.6, 9.5, 3.05) for side in (-1, 1) for part in _bench(float(x), side))]
    )
    camera = Camera(eye=(-10.4, 0.25, FLOOR + 4.5), target=(0.0, 0.0, FLOOR + 2.5), view=68, width=1200, height=880)
    light = Light(sun=(-0.25, -0.8, 0.62), strength=1.0, sky=0.5, centre=(0, 0, 5), reach=18)
    scene = Scene(
        mesh=mesh,
        camera=camera,
        light=light,
        number="4",
        finish=Print(grain=0.05, softness=1.4, black=0.13, vignette=0.4),
        sky=1.25,
    )
    return take(scene, faces, 9291)


def _saloon() -> Iterator[Mesh]:
    wall, panel = Finish(tone=0.7), Finish(tone=0.42, gloss=0.15)
    start = -9.6
    floor: list[Point] = [(start, SIDE, FLOOR), (start, -SIDE, FLOOR), (12, -SIDE, FLOOR), (12, SIDE, FLOOR)]
    yield sheet(floor, Finish(tone=0.34, picture=scenery.BOARDS))
    for side in (-1, 1):
        low, high = sorted((side * SIDE, side * (SIDE + 0.15)))
        yield box((start, low, FLOOR), (12, high, 4.85), panel)
        yield box((start, low, 6.8), (12, high, CANTRAIL + 0.3), wall)
        for post in np.arange(-7.85, 12.1, 3.05):
            yield box((post - 0.22, low, 4.8), (post + 0.22, high, 6.85), wall)
            yield box((post - 1.6, low - 0.02, 6.15), (post + 1.6, high + 0.02, 6.25), panel)
    steps = np.linspace(-1, 1, 21)
    yield vault(
        [(SIDE * t, CANTRAIL + (CROWN - CANTRAIL) * float(np.sqrt(max(0, 1 - t * t)))) for t in steps],
        start,
        12,
        Finish(tone=0.95),
    )
    for x in np.arange(-6, 12, 3.05):
        yield box((x, -2.6, CANTRAIL + 0.62), (x + 0.12, 2.6, CANTRAIL + 0.75), _WOOD)
    yield from _bulkhead()


def _bulkhead() -> Iterator[Mesh]:
    x = 10.6
    yield box((x, -SIDE, FLOOR), (x + 0.1, -1.0, CROWN), Finish(tone=0.55))
    yield box((x, 1.0, FLOOR), (x + 0.1, SIDE, CROWN), Finish(tone=0.55))
    yield box((x, -1.0, 6.9), (x + 0.1, 1.0, CROWN), Finish(tone=0.55))
    yield box((x + 0.02, -1.0, FLOOR), (x + 0.12, 1.0, 4.9), Finish(tone=0.38))
    yield rod((x - 0.05, 0.75, 4.2), (x - 0.05, 0.75, 4.6), 0.06, Finish(tone=0.8, gloss=0.6))
    spots: list[Point] = [(x - 0.03, 0.5, 7.95), (x - 0.03, 0.5, 7.0), (x - 0.03, -0.5, 7.0), (x - 0.03, -0.5, 7.95)]
    yield box((x - 0.02, -0.6, 6.95), (x, 0.6, 8.0), Finish(tone=0.12))
    yield sheet(spots, Finish(tone=1.0, picture=scenery.NUMBER))


def _bench(x: float, side: int) -> Iterator[Mesh]:
    """A seat and a back of slats on iron legs, its back towards the rear."""
    inner, outer = sorted((side * 0.95, side * 2.95))
    for slat in range(5):
        at = x + 0.1 + slat * 0.3
        yield box((at, inner, FLOOR + 1.38), (at + 0.2, outer, FLOOR + 1.46), _WOOD)
    for slat in range(5):
        z = FLOOR + 1.62 + slat * 0.32
        lean = 0.06 * slat
        yield box((x - 0.1 - lean, inner, z), (x - 0.02 - lean, outer, z + 0.22), _WOOD)
    for y in (inner + 0.05, outer - 0.1):
        yield rod((x + 0.1, y, FLOOR), (x + 0.1, y, FLOOR + 1.4), 0.06, _IRON)
        yield rod((x + 1.4, y, FLOOR), (x + 1.4, y, FLOOR + 1.4), 0.06, _IRON)
        yield rod((x + 0.05, y, FLOOR + 1.4), (x - 0.35, y, FLOOR + 3.25), 0.07, _IRON)


def makers_plate(faces: Faces) -> Image.Image:
    """The cast plate of No. 9: raised letters and rim, worn bright, paint left in the ground."""
    random = np.random.default_rng(9331)
    size = (1200, 760)
    relief = Image.new("L", size, 0)
    pen = ImageDraw.Draw(relief)
    pen.ellipse((110, 70, 1090, 690), fill=110)
    pen.ellipse((122, 82, 1078, 678), fill=220)
    pen.ellipse((146, 106, 1054, 654), fill=110)
    for text, y, height in PLATE:
        face = faces.find("drawing", height)
        face.set_variation_by_axes([600])
        left, _, right, _ = face.getbbox(text)
        pen.text(((size[0] - right - left) / 2, y - height * 0.7), text, 235, font=face)
    light = _lit_casting(np.asarray(relief, dtype=np.float64), random)
    return developed(
        np.clip(light, 0, 1.3),
        Print(grain=0.012, softness=0.8, scratches=0, dust=0, border=0, vignette=0.2, black=0.06, white=0.97),
        random,
    )


def _lit_casting(relief: Numbers, random: np.random.Generator) -> Numbers:
    """Light a casting of that relief from the upper left: raised parts worn bright, on a bench."""
    size = (relief.shape[0], relief.shape[1])
    heights = blurred(relief, 2.2) + 10 * cloudy(size, 3, random)
    slope_down, slope_across = np.gradient(heights)
    light: Numbers = np.add(0.36, -0.030 * slope_across) - 0.034 * slope_down
    raised = np.clip((blurred(relief, 1.4) - 150) / 70, 0, 1)
    light += 0.34 * raised * (0.7 + 0.5 * cloudy(size, 40, random))
    plate = relief > 40
    bench = _bench_top(size, random)
    shadow = blurred(np.roll(plate.astype(float), (9, 12), (0, 1)), 6)
    light = np.where(plate, light - 0.14 * (cloudy(size, 60, random) - 0.5), bench * (1 - 0.6 * shadow))
    for across in (186, size[1] - 186):
        light = _rivet(light, across, size[0] // 2)
    return light


def _rivet(light: Numbers, x: int, y: int) -> Numbers:
    down, across = np.mgrid[0 : light.shape[0], 0 : light.shape[1]]
    reach = np.hypot(across - x, down - y)
    return np.where(reach < 17, 0.03, np.where(reach < 23, 0.6 - (down - y + across - x) / 80, light))


def _bench_top(size: tuple[int, int], random: np.random.Generator) -> Numbers:
    grain = cloudy((size[0], 40), 4, random)
    wide = np.asarray(
        Image.fromarray((grain * 255).astype(np.uint8)).resize((size[1], size[0]), Image.Resampling.BICUBIC)
    )
    made: Numbers = 0.45 + 0.35 * wide / 255 + 0.1 * (cloudy(size, 90, random) - 0.5)
    return made


def ventilator(faces: Faces) -> Image.Image:
    """The roof ventilator taken off the body of No. 11, on a bench with a rule beside it."""
    dull, worn = Finish(tone=0.4, gloss=0.15), Finish(tone=0.55, gloss=0.3)
    shell = [(-0.8, 0.1), (-0.68, 0.2), (-0.25, 0.27), (0.25, 0.27), (0.68, 0.2), (0.8, 0.1), (0.8, 0.0)]
    parts = [
        turned(shell, (0, 0, 0.62), (1, -0.25, 0), dull),
        turned([(-0.8, 0.1), (-0.6, 0.05), (-0.6, 0.0)], (0, 0, 0.62), (1, -0.25, 0), Finish(tone=0.03)),
        turned([(0, 0.3), (0.04, 0.3), (0.05, 0.16), (0.42, 0.14)], (0, 0, 0), (0, 0, 1), worn),
        sheet(
            [(-5.0, 9.0, 0.0), (-5.0, -1.7, 0.0), (5.0, -1.7, 0.0), (5.0, 9.0, 0.0)],
            Finish(tone=0.62, picture=scenery.BOARDS),
        ),
    ]
    parts += [
        turned(
            [(-0.04, 0.24), (-0.04, 0.285), (0.04, 0.285), (0.04, 0.24)],
            (end * 0.97, -end * 0.24, 0.62),
            (1, -0.25, 0),
            worn,
        )
        for end in (-0.5, 0.5)
    ]
    parts += [
        box((-1 + step / 6, -0.95, 0.0), (-1 + (step + 1) / 6, -0.82, 0.03), Finish(tone=(0.95, 0.05)[step % 2]))
        for step in range(12)
    ]
    camera = Camera(eye=(1.1, -3.6, 2.2), target=(0.0, -0.15, 0.35), view=36, width=1100, height=760)
    light = Light(sun=(-0.6, -0.5, 0.8), strength=0.8, sky=0.55, reach=4, centre=(0, 0, 0.5))
    clean = Print(grain=0.012, softness=0.8, scratches=0, dust=0, border=0, vignette=0.2, black=0.04, white=0.98)
    return take(Scene(mesh=join(parts), camera=camera, light=light, number="", finish=clean), faces, 9332)
