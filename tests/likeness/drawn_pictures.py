"""Drawings, maps, printed forms and typescripts drawn from a seed: no two seeds draw the same thing."""

from math import cos, pi, sin, tau

import cv2
import numpy as np
from likeness.page_makers import as_picture, as_tones, clouds, face, scrawl, words
from PIL import Image, ImageDraw

INK = 30
Spot = tuple[float, float]


def _paper(size: tuple[int, int], random: np.random.Generator) -> Image.Image:
    return as_picture(236 + 10 * clouds(size[1], size[0], 120, random))


def scanned(sheet: Image.Image, random: np.random.Generator, *, lean: float = 0.6) -> Image.Image:
    """The sheet as it comes from a scanner: not quite straight, a little soft, a little noise."""
    middle = sheet.width / 2, sheet.height / 2
    way = cv2.getRotationMatrix2D(middle, random.uniform(-lean, lean), random.uniform(0.985, 1.0))
    way = np.asarray(way) + np.array([[0, 0, random.uniform(-4, 4)], [0, 0, random.uniform(-4, 4)]])
    tones = cv2.warpAffine(as_tones(sheet), way, sheet.size, flags=cv2.INTER_AREA, borderValue=238)
    return as_picture(cv2.GaussianBlur(tones, (0, 0), 0.6) + random.normal(0, 3, tones.shape))


def _circle(pen: ImageDraw.ImageDraw, at: Spot, radius: float, width: int = 2) -> None:
    pen.ellipse((at[0] - radius, at[1] - radius, at[0] + radius, at[1] + radius), outline=INK, width=width)


def _centre_lines(pen: ImageDraw.ImageDraw, at: Spot, reach: float) -> None:
    for step in np.arange(-reach, reach, 14):
        pen.line((at[0] + step, at[1], at[0] + step + 9, at[1]), fill=90)
        pen.line((at[0], at[1] + step, at[0], at[1] + step + 9), fill=90)


def _flange(pen: ImageDraw.ImageDraw, at: Spot, reach: float, random: np.random.Generator) -> None:
    """A round plate with a ring of bolt holes, a bore with a keyway, ribs."""
    _circle(pen, at, reach, 3)
    for share in sorted(random.uniform(0.2, 0.9, int(random.integers(2, 5)))):
        _circle(pen, at, reach * share)
    holes, ring, start = int(random.integers(3, 13)), reach * random.uniform(0.6, 0.85), random.uniform(0, tau)
    for hole in range(holes):
        turn = start + tau * hole / holes
        _circle(pen, (at[0] + ring * cos(turn), at[1] + ring * sin(turn)), reach * 0.07)
    key = reach * random.uniform(0.06, 0.14)
    pen.rectangle((at[0] - key, at[1] - reach * 0.32, at[0] + key, at[1] - reach * 0.2), outline=INK, width=2)
    _centre_lines(pen, at, reach * 1.15)


def _toothed(pen: ImageDraw.ImageDraw, at: Spot, reach: float, random: np.random.Generator) -> None:
    """A gear wheel with spokes."""
    teeth, deep = int(random.integers(14, 46)), random.uniform(0.05, 0.12)
    rim = []
    for step in range(teeth * 4):
        radius = reach * (1 if step % 4 < 2 else 1 - deep)
        turn = tau * step / (teeth * 4)
        rim.append((at[0] + radius * cos(turn), at[1] + radius * sin(turn)))
    pen.line([*rim, rim[0]], fill=INK, width=2)
    inner, hub, spokes = (
        reach * random.uniform(0.65, 0.8),
        reach * random.uniform(0.18, 0.3),
        int(random.integers(3, 9)),
    )
    _circle(pen, at, inner)
    _circle(pen, at, hub)
    _circle(pen, at, hub * 0.5, 3)
    start = random.uniform(0, tau)
    for spoke in range(spokes):
        turn = start + tau * spoke / spokes
        for side in (-0.1, 0.1):
            begin = at[0] + hub * cos(turn + side), at[1] + hub * sin(turn + side)
            pen.line(
                (*begin, at[0] + inner * cos(turn + side / 2), at[1] + inner * sin(turn + side / 2)), fill=INK, width=2
            )
    _centre_lines(pen, at, reach * 1.1)


def _shaft(pen: ImageDraw.ImageDraw, at: Spot, reach: float, random: np.random.Generator) -> None:
    """A stepped shaft cut lengthwise: hatched where it is metal, dimensions above."""
    left = at[0] - reach
    lengths = random.dirichlet(np.ones(int(random.integers(4, 8))) * 3) * 2 * reach
    for length in lengths:
        half = reach * random.uniform(0.15, 0.55)
        area = left, at[1] - half, left + length, at[1] + half
        pen.rectangle(area, outline=INK, width=3)
        if random.random() < 0.6:
            _hatch(pen, area, float(random.choice([-1, 1])), random.uniform(7, 13))
        _dimension(pen, (left, left + length), at[1] - reach * 0.75, random)
        left += length
    for step in np.arange(at[0] - reach * 1.1, at[0] + reach * 1.1, 22):
        pen.line((step, at[1], step + 14, at[1]), fill=90)


def _hatch(pen: ImageDraw.ImageDraw, area: tuple[float, float, float, float], lean: float, gap: float) -> None:
    left, top, right, bottom = area
    tall = bottom - top
    for start in np.arange(left - tall, right + tall, gap):
        ends = [(start + part * tall * lean, top + part * tall) for part in (0, 1)]
        low, high = sorted((_part(ends, left), _part(ends, right)))
        low, high = max(0.0, low), min(1.0, high)
        if high > low:
            begin, end = ((start + part * tall * lean, top + part * tall) for part in (low, high))
            pen.line([begin, end], fill=90)


def _part(ends: list[Spot], x: float) -> float:
    return (x - ends[0][0]) / (ends[1][0] - ends[0][0])


def _dimension(pen: ImageDraw.ImageDraw, span: tuple[float, float], y: float, random: np.random.Generator) -> None:
    pen.line((span[0], y, span[1], y), fill=70)
    for end, way in ((span[0], 1), (span[1], -1)):
        pen.polygon([(end, y), (end + 7 * way, y - 3), (end + 7 * way, y + 3)], fill=INK)
        pen.line((end, y - 6, end, y + 20), fill=110)
    text = f"{random.integers(1, 40)}" + str(random.choice(["", " 1/2", " 3/8", " 5/16", ".25"])) + '"'
    pen.text(((span[0] + span[1]) / 2 - 12, y - 18), text, fill=INK, font=face(14))


def _bracket(pen: ImageDraw.ImageDraw, at: Spot, reach: float, random: np.random.Generator) -> None:
    """An odd-shaped plate with holes, a few dimensions."""
    count = int(random.integers(6, 11))
    turns = np.sort(random.uniform(0, tau, count))
    radii = reach * random.uniform(0.45, 1.0, count)
    outline = [(at[0] + r * cos(t), at[1] + r * sin(t)) for r, t in zip(radii, turns, strict=True)]
    pen.polygon(outline, outline=INK, width=3)
    for _ in range(int(random.integers(2, 6))):
        turn, away = random.uniform(0, tau), random.uniform(0.1, 0.5) * reach
        spot = at[0] + away * cos(turn), at[1] + away * sin(turn)
        _circle(pen, spot, reach * random.uniform(0.04, 0.13))
        _centre_lines(pen, spot, reach * 0.2)
    _dimension(pen, (at[0] - reach * 0.7, at[0] + reach * random.uniform(0.2, 0.8)), at[1] - reach * 0.95, random)


_PARTS = (_flange, _toothed, _shaft, _bracket)


def drawing(seed: int) -> Image.Image:
    """A works drawing: several parts with their dimensions, notes, a border and a title block."""
    random = np.random.default_rng(seed)
    size = (900, 640) if random.random() < 0.7 else (640, 900)
    sheet = _paper(size, random)
    pen = ImageDraw.Draw(sheet)
    pen.rectangle((14, 14, size[0] - 15, size[1] - 15), outline=INK, width=2)
    across, down = (3, 2) if size[0] > size[1] else (2, 3)
    for place in range(across * down - 1):
        middle = size[0] * (place % across + 0.5) / across, size[1] * (place // across + 0.5) / down
        reach = min(size[0] / across, size[1] / down) * random.uniform(0.27, 0.42)
        spot = middle[0] + random.uniform(-12, 12), middle[1] + random.uniform(-12, 12)
        _PARTS[int(random.integers(0, len(_PARTS)))](pen, spot, reach, random)
        pen.text((spot[0] - 50, spot[1] + reach * 1.05), words(random, 2).upper(), fill=INK, font=face(14))
    left, top = size[0] - 250, size[1] - 130
    pen.rectangle((left, top, size[0] - 15, size[1] - 15), outline=INK, width=2)
    for line in range(4):
        pen.line((left, top + 29 * line, size[0] - 15, top + 29 * line), fill=INK)
        text = f"{words(random, 2)}  {random.integers(100, 99999)}".upper()
        pen.text((left + 8, top + 29 * line + 6), text, fill=INK, font=face(15))
    return scanned(sheet, random)


def map_sheet(seed: int) -> Image.Image:
    """A surveyor's map: contours of a hill country that does not exist, a river, a road, place names."""
    random = np.random.default_rng(seed)
    width, height = 800, 600
    land = clouds(height, width, random.uniform(90, 170), random) + 0.25 * clouds(height, width, 40, random)
    land = cv2.GaussianBlur(land, (0, 0), 4)
    levels = (land * random.uniform(10, 18)).astype(np.int32)
    edge = (np.diff(levels, axis=0, prepend=levels[:1]) != 0) | (np.diff(levels, axis=1, prepend=levels[:, :1]) != 0)
    tones = np.where(edge, 95, 238).astype(np.float32)
    tones[land < float(np.quantile(land, 0.07))] = 190
    sheet = as_picture(tones)
    pen = ImageDraw.Draw(sheet)
    for thick in (5, 2, 1):
        x = np.linspace(0, width, 60)
        y = (
            height * random.uniform(0.1, 0.9)
            + height * 0.3 * (clouds(1, 60, 9, random)[0] - 0.5)
            + x * random.uniform(-0.3, 0.3)
        )
        pen.line([(float(a), float(b)) for a, b in zip(x, y, strict=True)], fill=INK, width=thick)
    for _ in range(int(random.integers(8, 18))):
        left, top = random.uniform(20, width - 130), random.uniform(20, height - 40)
        pen.text((left, top), words(random, 1).title(), fill=INK, font=face(int(random.integers(13, 22))))
        for _ in range(int(random.integers(2, 9))):
            a, b = left + random.uniform(-20, 90), top + random.uniform(-18, 36)
            pen.rectangle((a, b, a + random.uniform(4, 11), b + random.uniform(4, 11)), fill=INK)
    return scanned(sheet, random)


def chart(seed: int) -> Image.Image:
    """A diagram: curves over a grid, as in a report of tests."""
    random = np.random.default_rng(seed)
    width, height = 760, 560
    sheet = _paper((width, height), random)
    pen = ImageDraw.Draw(sheet)
    for at in np.arange(80, width - 40, random.uniform(16, 34)):
        pen.line((at, 50, at, height - 70), fill=185)
    for at in np.arange(50, height - 70, random.uniform(16, 34)):
        pen.line((80, at, width - 40, at), fill=185)
    pen.line((80, 50, 80, height - 70, width - 40, height - 70), fill=INK, width=3)
    for _ in range(int(random.integers(2, 6))):
        x = np.linspace(80, width - 40, 90)
        y = 60 + (height - 140) * clouds(1, 90, random.uniform(12, 40), random)[0]
        pen.line([(float(a), float(b)) for a, b in zip(x, y, strict=True)], fill=INK, width=int(random.integers(1, 4)))
        for at in range(0, 90, int(random.integers(5, 12))):
            _circle(pen, (float(x[at]), float(y[at])), random.uniform(2.5, 4.5))
        at = int(random.integers(20, 80))
        pen.text((x[at] - 30, y[at] - 26), words(random, 2), fill=INK, font=face(15))
    pen.text((width * 0.3, 14), f"{words(random, 3)} {random.integers(1, 90)}".upper(), fill=INK, font=face(20))
    return scanned(sheet, random)


def blank(seed: int) -> tuple[Image.Image, tuple[tuple[int, int, int, int], ...]]:
    """A printed form with nothing entered, and the places for entries (left, top, right, bottom)."""
    random = np.random.default_rng(seed)
    width, height = (820, 1060) if random.random() < 0.5 else (900, 620)
    sheet = Image.new("L", (width, height), 240)
    pen = ImageDraw.Draw(sheet)
    if random.random() < 0.6:
        pen.rectangle((18, 18, width - 19, height - 19), outline=INK, width=int(random.integers(2, 5)))
    title = words(random, int(random.integers(2, 4))).upper()
    pen.text((width * random.uniform(0.1, 0.35), 34), title, fill=INK, font=face(int(random.integers(24, 38))))
    pen.text((40, 84), words(random, 9), fill=60, font=face(14))
    places, top = [], 120
    for _ in range(int(random.integers(3, 7))):
        pen.text((40, top), words(random, 2).capitalize() + ":", fill=INK, font=face(18))
        pen.line((220, top + 22, width - 50, top + 22), fill=90)
        places.append((226, top - 8, width - 60, top + 20))
        top += int(random.integers(38, 50))
    columns, tall = int(random.integers(3, 7)), int(random.integers(30, 44))
    wide = (width - 80) // columns
    for column in range(columns):
        pen.text((46 + wide * column, top + 6), words(random, 1).capitalize(), fill=INK, font=face(16))
    for row in range((height - top - 110) // tall + 1):
        pen.line((40, top + tall * row, 40 + wide * columns, top + tall * row), fill=INK)
        if row and row < (height - top - 110) // tall:
            places += [
                (44 + wide * at, top + tall * row + 2, 36 + wide * (at + 1), top + tall * (row + 1) - 4)
                for at in range(columns)
            ]
    foot = top + tall * ((height - top - 110) // tall)
    for column in range(columns + 1):
        pen.line((40 + wide * column, top, 40 + wide * column, foot), fill=INK)
    pen.text((40, height - 70), words(random, 10).capitalize() + ".", fill=60, font=face(14))
    return sheet, tuple(places)


def filled(form: int, entry: int) -> Image.Image:
    """A printed form with entries of its own, by hand or by typewriter, and how it was scanned."""
    sheet, places = blank(form)
    random = np.random.default_rng((form, entry))
    pen = ImageDraw.Draw(sheet)
    typed = random.random() < 0.4
    share = random.uniform(0.6, 0.95)
    for left, top, right, bottom in places:
        if random.random() > share:
            continue
        tall, wide = bottom - top, (right - left) * random.uniform(0.4, 0.9)
        if typed:
            text = f"{words(random, max(1, int(wide // 90)))} {random.integers(1, 999)}"
            pen.text(
                (left + random.uniform(0, 8), top + 4),
                text,
                fill=int(random.integers(30, 80)),
                font=face(round(tall * 0.6)),
            )
        else:
            start = left + random.uniform(0, 8), bottom - tall * 0.2
            scrawl(pen, start, wide, tall * 0.6, ink=(int(random.integers(25, 90)), 2), random=random)
    if random.random() < 0.5:
        stamp = random.uniform(60, sheet.width - 200), random.uniform(100, sheet.height - 120)
        pen.ellipse((*stamp, stamp[0] + 120, stamp[1] + 80), outline=80, width=3)
        pen.text((stamp[0] + 18, stamp[1] + 28), words(random, 1).upper(), fill=80, font=face(20))
    scrawl(pen, (sheet.width * 0.55, sheet.height - 30), 180, 30, ink=(40, 2), random=random)
    return scanned(sheet, random, lean=1.2)


def patterned(seed: int) -> Image.Image:
    """A decorative plate: a rosette of turned curves, such as printers cut against forgers."""
    random = np.random.default_rng(seed)
    side = 600
    sheet = _paper((side, side), random)
    pen = ImageDraw.Draw(sheet)
    for _ in range(int(random.integers(3, 6))):
        lobes, inner = int(random.integers(3, 17)), random.uniform(0.2, 0.7)
        turn = np.linspace(0, tau, 1500)
        for copy in np.linspace(0, pi / lobes, int(random.integers(3, 9))):
            radius = (
                side
                * 0.44
                * (inner + (1 - inner) * np.abs(np.sin(lobes * (turn + copy) / 2)) ** random.uniform(0.5, 2))
            )
            x, y = side / 2 + radius * np.cos(turn), side / 2 + radius * np.sin(turn)
            pen.line([(float(a), float(b)) for a, b in zip(x, y, strict=True)], fill=int(random.integers(30, 120)))
    pen.text((side * 0.3, side * 0.47), words(random, 2).upper(), fill=INK, font=face(26), stroke_width=1)
    return scanned(sheet, random)
