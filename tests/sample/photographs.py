"""The photographs of the sample: who stood where, and what was on the track that day."""

from dataclasses import dataclass

import numpy as np
from PIL import Image, ImageDraw

from sample import scenery
from sample.faces import Faces
from sample.film import Print, creased, developed, screened
from sample.railcar import Car, railcar
from sample.rendering import Camera, Light, render
from sample.shapes import Finish, Mesh, Numbers, box, join, moved

_SUN = Light(sun=(0.72, -0.66, 0.6), strength=1.0, sky=0.55)
_THIRD = Car(number_picture=scenery.NUMBER, letters_picture=scenery.LETTERS, third_batch=True, rack=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """Everything that a picture needs.

    Attributes:
        mesh: what stands before the lens.
        camera: where the photographer stood.
        light: sun and sky.
        number: painted on the car; empty for none.
        name: on the station's board.
        finish: how the print was made and kept.
        sky: brightness of the sky; nearly 0 indoors.
    """

    mesh: Mesh
    camera: Camera
    light: Light
    number: str
    name: str = ""
    finish: Print
    sky: float = 0.95


def take(scene: Scene, faces: Faces, seed: int) -> Image.Image:
    """Take the picture, twice as large as it will be, and make the print."""
    random = np.random.default_rng(seed)
    size = scene.camera
    fine = Camera(eye=size.eye, target=size.target, view=size.view, width=size.width * 2, height=size.height * 2)
    pictures = scenery.overlays(faces, scene.number, scene.name, random)
    backdrop = scenery.sky(fine.width, fine.height, random, level=scene.sky)
    light = render(scene.mesh, fine, scene.light, pictures, backdrop)
    return developed(_halved(light), scene.finish, random)


def _halved(light: Numbers) -> Numbers:
    rows, columns = light.shape
    halved: Numbers = np.clip(light, 0, 3).reshape(rows // 2, 2, columns // 2, 2).mean(axis=(1, 3))
    return halved


def number_nine_front(faces: Faces) -> Image.Image:
    """No. 9 in the platform at Carrowsea, from the front corner; July 1934."""
    eye = (21.5, -17.5, 7.6)
    mesh = join(
        [
            railcar(_THIRD),
            scenery.track(),
            scenery.ground(-0.5, 0.5, (-80, 60, -40, 60)),
            scenery.platform(-17.0, -4.0, 1.9, start=-60, end=20),
            scenery.platform(6.0, 20.0, 1.9, start=-60, end=20),
            scenery.station(-34, 16, 1.9),
            scenery.name_board(-6, 8, 1.9),
            scenery.person(-13.2, -5.6, 1.9, coat=0.16),
            scenery.person(-19, -7, 1.9, coat=0.3, tall=5.3),
            scenery.person(-21.2, -7.6, 1.9, coat=0.72, tall=5.1),
            scenery.trees([(-60, 30, 24), (-45, 42, 30), (10, 48, 26), (26, 42, 30), (36, 52, 28), (-8, 50, 24)], eye),
        ]
    )
    camera = Camera(eye=eye, target=(2.0, 0.0, 4.9), view=54, width=1400, height=920)
    return creased(
        take(Scene(mesh=mesh, camera=camera, light=_SUN, number="9", name="CARROWSEA", finish=Print()), faces, 9341),
        (0.0, 0.13),
        (0.09, 0.0),
    )


def number_nine_rear(faces: Faces) -> Image.Image:
    """The rear of No. 9 on the same afternoon: coupling, luggage rack, end windows."""
    eye = (-25.0, -9.0, 6.4)
    mesh = join(
        [
            railcar(_THIRD),
            scenery.track(),
            scenery.ground(-0.5, 0.5, (-60, 60, -40, 60)),
            scenery.platform(-17.0, -4.0, 1.9, start=-10, end=60),
            scenery.platform(6.0, 20.0, 1.9, start=-20, end=60),
            scenery.churns(-7.5, -6.4, 1.9, 3),
            scenery.person(13.5, -7.5, 1.9, coat=0.2),
            scenery.person(18, 9, 1.9, coat=0.4),
            scenery.trees([(40, 34, 24), (60, 12, 30), (70, -12, 26), (52, -30, 28)], eye),
        ]
    )
    camera = Camera(eye=eye, target=(-9.6, -0.6, 4.4), view=46, width=1100, height=900)
    return take(
        Scene(
            mesh=mesh,
            camera=camera,
            light=Light(sun=(-0.7, -0.5, 0.6), strength=0.9, sky=0.55),
            number="9",
            finish=Print(softness=1.2),
        ),
        faces,
        9342,
    )


def number_nine_side(faces: Faces) -> Image.Image:
    """No. 9 broadside in the platform at Brennow; May 1935."""
    eye = (2.0, -30.0, 7.2)
    mesh = join(
        [
            railcar(_THIRD),
            scenery.track(),
            scenery.ground(-0.5, 0.5, (-80, 80, -40, 60)),
            scenery.platform(-26.0, -4.0, 1.9),
            scenery.name_board(-19, 9, 1.9),
            scenery.person(-14.3, -5.2, 1.9, coat=0.25),
            scenery.churns(13.5, -6.0, 1.9, 2),
            scenery.trees([(-40, 40, 26), (-24, 36, 22), (-8, 44, 30), (9, 38, 25), (24, 42, 30), (40, 36, 22)], eye),
        ]
    )
    camera = Camera(eye=eye, target=(0.0, 0.0, 5.2), view=52, width=1300, height=700)
    light = Light(sun=(-0.35, -0.8, 0.75), strength=0.85, sky=0.55)
    return take(
        Scene(mesh=mesh, camera=camera, light=light, number="9", name="BRENNOW", finish=Print(grain=0.045, border=30)),
        faces,
        9351,
    )


def number_six(faces: Faces) -> Image.Image:
    """No. 6 of the second batch at Tollan Road, from the ballast; August 1931."""
    eye = (23.0, -20.0, 4.4)
    car = Car(number_picture=scenery.NUMBER, letters_picture=scenery.LETTERS, third_batch=False)
    mesh = join(
        [
            railcar(car),
            scenery.track(),
            scenery.ground(-0.6, 0.55, (-80, 60, -40, 60)),
            scenery.person(-18, 5.6, -0.4, coat=0.14),
            scenery.person(17, 9, -0.4, coat=0.5, tall=5.2),
            scenery.trees([(-50, 20, 24), (-40, 34, 28), (-22, 30, 20), (0, 44, 26), (20, 40, 30), (34, 46, 24)], eye),
        ]
    )
    camera = Camera(eye=eye, target=(3.5, 0.0, 4.5), view=46, width=1400, height=920)
    return take(
        Scene(mesh=mesh, camera=camera, light=_SUN, number="6", finish=Print(grain=0.04, scratches=12, black=0.14)),
        faces,
        9312,
    )


def in_the_shed(faces: Faces) -> Image.Image:
    """A car in the shed, its number out of view: roof edge, windows and the tube along the cantrail."""
    car = Car(number_picture=None, letters_picture=None, third_batch=True)
    wall = Finish(tone=0.35, picture=scenery.BOARDS)
    mesh = join(
        [
            railcar(car),
            scenery.track(),
            scenery.ground(-0.5, 0.35, (-60, 40, -40, 30)),
            box((-40, 8, -0.5), (40, 9, 22), wall),
            box((-30, 6, -0.5), (-29, 8, 16), Finish(tone=0.2)),
            box((-1, 6, -0.5), (0, 8, 16), Finish(tone=0.2)),
            *[box((x, -9, 13.2), (x + 0.8, 9, 14.0), Finish(tone=0.3)) for x in (-24, -14, -4, 6)],
        ]
    )
    camera = Camera(eye=(-19.0, -13.0, 6.2), target=(-7.2, 0.0, 6.6), view=50, width=1000, height=800)
    light = Light(sun=(-0.75, -0.55, 0.35), strength=0.5, sky=0.36)
    return take(
        Scene(
            mesh=mesh,
            camera=camera,
            light=light,
            number="",
            finish=Print(grain=0.07, softness=1.7, vignette=0.55, black=0.12, dust=120),
            sky=0.1,
        ),
        faces,
        9361,
    )


def number_eleven(faces: Faces) -> Image.Image:
    """No. 11 at Pellow Halt, from the other corner; the picture that has not been ingested yet."""
    eye = (22.0, -20.0, 5.4)
    car = moved(railcar(_THIRD), turn=0)
    mesh = join(
        [
            car,
            scenery.track(),
            scenery.ground(-0.5, 0.55, (-80, 60, -40, 60)),
            scenery.name_board(-15, 8, 0.0),
            scenery.person(-17.5, 4.5, -0.4, coat=0.35),
            scenery.person(-19.2, 5.0, -0.4, coat=0.15, tall=5.2),
            scenery.trees([(-50, 26, 28), (-30, 30, 22), (4, 36, 30), (22, 30, 22), (34, 40, 26)], eye),
        ]
    )
    camera = Camera(eye=eye, target=(4.0, 0.0, 4.6), view=48, width=1200, height=800)
    light = Light(sun=(0.75, -0.6, 0.5), strength=0.9, sky=0.5)
    return take(
        Scene(mesh=mesh, camera=camera, light=light, number="11", name="PELLOW HALT", finish=Print(grain=0.05)),
        faces,
        9362,
    )


def number_ten(faces: Faces) -> Image.Image:
    """No. 10 at Tollan Road from the trailing end, without its passengers; September 1935."""
    eye = (-27.0, -13.0, 7.4)
    mesh = join(
        [
            railcar(_THIRD),
            scenery.track(),
            scenery.ground(-0.5, 0.52, (-70, 60, -40, 60)),
            scenery.person(8.5, -6.2, -0.4, coat=0.3),
            scenery.trees([(36, 30, 24), (52, 14, 30), (60, -10, 26), (16, 36, 26), (-10, 40, 22)], eye),
        ]
    )
    camera = Camera(eye=eye, target=(-5.0, -0.4, 4.6), view=46, width=1100, height=800)
    light = Light(sun=(-0.6, -0.6, 0.6), strength=0.9, sky=0.5)
    return take(
        Scene(mesh=mesh, camera=camera, light=light, number="10", finish=Print(grain=0.05, softness=1.2)),
        faces,
        9353,
    )


def quay(faces: Faces) -> Image.Image:
    """The quay from the station: a picture without a car, which shares the album's leaf."""
    eye = (0.0, -24.0, 9.0)
    mesh = join(
        [
            scenery.platform(-20.0, 6.0, 0.0),
            scenery.ground(-4.0, 0.22, (-90, 90, 6, 110)),
            *[
                box((x, 2.0, 0.0), (x + 2.2, 4.4, 2.0), Finish(tone=tone))
                for x, tone in ((-9, 0.4), (-6.4, 0.25), (9, 0.5))
            ],
            scenery.churns(3.0, 1.0, 0.0, 3),
            scenery.person(-2.0, 3.0, 0.0, coat=0.18),
            scenery.person(0.6, 3.6, 0.0, coat=0.5, tall=5.2),
            *[box((x, 40.0, -4.0), (x + 0.5, 40.5, 26.0), Finish(tone=0.2)) for x in (-16, 14)],
            box((-24, 36, -4.0), (-8, 44, -1.5), Finish(tone=0.15)),
            box((6, 36, -4.0), (22, 44, -1.5), Finish(tone=0.3)),
        ]
    )
    camera = Camera(eye=eye, target=(0.0, 6.0, 4.0), view=50, width=640, height=420)
    return take(
        Scene(mesh=mesh, camera=camera, light=_SUN, number="", finish=Print(border=26, grain=0.05, dust=30)),
        faces,
        9352,
    )


def postcard(original: Image.Image, faces: Faces) -> Image.Image:
    """A postcard printed from the picture of No. 9: cropped, screened, with its publisher's line."""
    width, height = original.size
    cut = original.crop((int(width * 0.1), int(height * 0.12), int(width * 0.96), int(height * 0.86))).resize(
        (1150, 690), Image.Resampling.LANCZOS
    )
    card = Image.new("L", (1250, 810), 226)
    card.paste(screened(cut), (50, 45))
    ImageDraw.Draw(card).text(
        (52, 750),
        "THE RAIL CAR AT CARROWSEA STATION.       Orlaby's Series, No. 214",
        60,
        font=faces.find("book-italic", 27),
    )
    return card
