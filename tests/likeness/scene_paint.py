"""What the surfaces of a made scene are painted with: fronts of buildings, trees, people, waggons."""

from math import cos, sin

import cv2
import numpy as np
from likeness.page_makers import Tones, as_numbers, as_picture, as_tones, clouds, face, words
from PIL import Image, ImageDraw


def masonry(height: int, width: int, random: np.random.Generator) -> Tones:
    """Brick, board or plaster, with the stains of the weather."""
    base = random.uniform(70, 190)
    wall = base + 30 * (clouds(height, width, 50, random) - 0.5) + random.normal(0, 5, (height, width))
    kind = random.integers(0, 3)
    if kind == 0:
        course = int(random.integers(7, 11))
        for row, down in enumerate(range(0, height, course)):
            wall[down : down + 1] *= 0.75
            for at in range((row % 2) * course, width, course * 2):
                wall[down : down + course, at : at + 1] *= 0.75
                wall[down : down + course, at : at + 2 * course] += random.normal(0, 12)
    elif kind == 1:
        for at in range(0, width, int(random.integers(8, 16))):
            wall[:, at : at + 2] *= 0.7
            wall[:, at : at + 14] += random.normal(0, 8)
    return as_numbers(wall)


def front(height: int, width: int, random: np.random.Generator) -> Tones:
    """The front of a building: windows that are not all alike, a door, a painted board."""
    picture = as_picture(masonry(height, width, random))
    pen = ImageDraw.Draw(picture)
    across, up = int(random.integers(2, 6)), int(random.integers(1, 4))
    room, storey = width / across, height / (up + 0.3)
    wide, tall = room * random.uniform(0.35, 0.6), storey * random.uniform(0.4, 0.6)
    panes = int(random.integers(2, 5)), int(random.integers(2, 5))
    door = int(random.integers(0, across))
    for column in range(across):
        for storey_number in range(up):
            left, top = room * (column + 0.5) - wide / 2, storey * (storey_number + 0.4)
            if column == door and storey_number == up - 1:
                pen.rectangle(
                    (left, top, left + wide, height), fill=int(random.integers(20, 120)), outline=230, width=3
                )
            elif random.random() < 0.85:
                _window(pen, (left, top, left + wide, top + tall), panes, random)
    board = words(random, 2).upper()
    size = max(10, round(width / (len(board) + 2) * 1.1))
    pen.rectangle((width * 0.1, 3, width * 0.9, size + 9), fill=int(random.choice([30, 235])), outline=120)
    pen.text((width * 0.14, 4), board, fill=int(random.choice([128, 200])), font=face(min(size, round(height * 0.2))))
    return as_tones(picture)


def _window(
    pen: ImageDraw.ImageDraw,
    area: tuple[float, float, float, float],
    panes: tuple[int, int],
    random: np.random.Generator,
) -> None:
    left, top, right, bottom = area
    pen.rectangle((left - 3, top - 3, right + 3, bottom + 4), fill=int(random.integers(190, 240)))
    for column in range(panes[0]):
        for row in range(panes[1]):
            spot = (
                left + (right - left) * column / panes[0] + 1,
                top + (bottom - top) * row / panes[1] + 1,
                left + (right - left) * (column + 1) / panes[0] - 1,
                top + (bottom - top) * (row + 1) / panes[1] - 1,
            )
            pen.rectangle(spot, fill=int(random.integers(15, 110)))
    if random.random() < 0.4:
        pen.polygon([(left, top), (left + (right - left) * 0.4, top), (left, bottom)], fill=200)


def tree(random: np.random.Generator) -> tuple[Tones, Tones]:
    """A tree, and where it is solid."""
    height, width = 320, 240
    rows, columns = np.mgrid[0:height, 0:width].astype(np.float32)
    leaves = clouds(height, width, 7, random)
    crown = 1 - np.hypot((columns - 120) / 112, (rows - 125) / 125) + 0.8 * (clouds(height, width, 34, random) - 0.5)
    trunk = (abs(columns - 120 - 6 * np.sin(rows / 40)) < 9) & (rows > 150)
    solid = ((crown + 0.6 * (leaves - 0.5) > 0) | trunk).astype(np.float32)
    tones = np.where(trunk & (crown < 0.2), 50, 35 + 130 * leaves * np.clip(1.2 - rows / 300, 0.3, 1))
    return as_numbers(tones), as_numbers(cv2.GaussianBlur(solid, (0, 0), 0.8))


def person(random: np.random.Generator) -> tuple[Tones, Tones]:
    """Somebody in a coat and a hat, and where they are solid."""
    body, solid = Image.new("L", (100, 220), 90), Image.new("L", (100, 220), 0)
    coat, trousers = int(random.integers(25, 200)), int(random.integers(20, 110))
    wide = int(random.integers(20, 32))
    for picture, tones in ((body, (coat, trousers, 185, 40)), (solid, (255, 255, 255, 255))):
        pen = ImageDraw.Draw(picture)
        pen.rectangle((50 - wide * 0.7, 125, 46, 218), fill=tones[1])
        pen.rectangle((54, 125, 50 + wide * 0.7, 218), fill=tones[1])
        pen.rounded_rectangle((50 - wide, 48, 50 + wide, 140), 14, fill=tones[0])
        pen.ellipse((37, 14, 63, 50), fill=tones[2])
        pen.rectangle((32, 12, 68, 19), fill=tones[3])
        pen.rectangle((38, 2, 62, 15), fill=tones[3])
    return as_tones(body), as_tones(solid) / np.float32(255)


def waggon(random: np.random.Generator) -> tuple[Tones, Tones]:
    """The side of a railway waggon or van: planks, ironwork, a number, two wheels; and where it is solid."""
    width, height = 420, 220
    paint = masonry(height, width, random)
    body, solid = as_picture(paint), Image.new("L", (width, height), 0)
    pen, mask = ImageDraw.Draw(body), ImageDraw.Draw(solid)
    top = int(random.integers(10, 70))
    mask.rectangle((8, top, width - 8, 170), fill=255)
    for at in sorted(random.integers(10, width - 10, int(random.integers(4, 10)))):
        pen.rectangle((int(at), top, int(at) + 7, 170), fill=int(random.integers(20, 60)))
    pen.rectangle((0, 160, width, 175), fill=30)
    number = f"{random.integers(100, 99999)}"
    pen.text((int(random.integers(30, 160)), top + 20), number, fill=235, font=face(int(random.integers(30, 52))))
    pen.text((int(random.integers(30, 220)), 120), words(random, 2).upper(), fill=225, font=face(22))
    for middle in (90, width - 90):
        for drawn, tone in ((pen, 25), (mask, 255)):
            drawn.ellipse((middle - 34, 150, middle + 34, 218), fill=tone)
        for spoke in range(8):
            turn = spoke * 0.785 + random.uniform(0, 0.7)
            pen.line((middle, 184, middle + 28 * cos(turn), 184 + 28 * sin(turn)), fill=120, width=3)
    return as_tones(body), as_tones(solid) / np.float32(255)
