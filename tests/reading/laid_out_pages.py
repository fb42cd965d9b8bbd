"""Pages whose layout makes recognisers drop parts of them: columns, ruled tables, figures beside text, captions.

Printed and damaged as the other pages are; each tells which of its words are numbers, the ones that matter most.
"""

import random
from collections import Counter
from collections.abc import Callable, Iterable
from itertools import pairwise

import numpy as np
from PIL import Image, ImageFilter
from reading.printed_pages import A4, WORDS, Press, Printed, damaged
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase.pdfmetrics import stringWidth


def numbers(page: Printed) -> list[str]:
    """The words of a page that hold a figure, bare of marks."""
    return [word.text.strip(".,;") for word in page.words if any(map(str.isdigit, word.text))]


def share_found(page: Printed, read: Iterable[str]) -> float:
    """How many of a page's numbers are exactly among the words that were read, 0 to 1."""
    wanted, had = Counter(numbers(page)), Counter(word.strip(".,;|()[]") for word in read)
    return sum(min(count, had[number]) for number, count in wanted.items()) / wanted.total()


def words_amiss(page: Printed, read: Iterable[str]) -> float:
    """The characters of words that were not read, and of those read that are not there, as a share of the page's.

    In whatever order: where captions and columns belong among the lines is a matter of taste, and one line in another
    place would count twice.
    """
    wanted, had = Counter(word.text for word in page.words), Counter(read)
    amiss = (wanted - had) + (had - wanted)
    return sum(len(word) * count for word, count in amiss.items()) / sum(len(word.text) for word in page.words)


def part_number(chosen: random.Random) -> str:
    return f"{chosen.choice('HKLR')}-{chosen.randrange(1000, 9999)}"


def columns(seed: int) -> Printed:
    """Two or three columns with narrow gutters, as a works magazine has them, under one heading."""
    chosen, press = random.Random(seed), Press()
    count, gutter, points = chosen.choice((2, 3, 3)), chosen.choice((8.0, 11.0, 15.0)), chosen.choice((8.5, 9.5))
    press.put("NOTES OF THE " + " ".join(chosen.choices(WORDS, k=2)).upper(), 150, 60, "Times-Bold", 16)
    wide = (515 - gutter * (count - 1)) / count
    if chosen.random() < 0.4:
        for number in range(1, count):
            across = 40 + number * (wide + gutter) - gutter / 2
            press.canvas.line(across, A4[1] - 76, across, 60)
    for number in range(count):
        set_paragraph(press, chosen, 40 + number * (wide + gutter), 86, wide, points=points, lines=54)
    return damaged(press.printed(200), seed)


def boxed_table(seed: int) -> Printed:
    """A parts list of which every cell is ruled, and short."""
    chosen, press = random.Random(seed), Press()
    edges = [45, 75, 140, 330, 385, 455, 550] if chosen.random() < 0.5 else [45, 110, 180, 250, 320, 390, 460, 550]
    press.put("LIST OF PARTS, GROUP " + str(chosen.randrange(2, 40)), 190, 56, "Helvetica-Bold", 14)
    rows, step = 30, 23
    for row in range(rows):
        down = 90 + step * row
        for left, right in pairwise(edges):
            text = _cell(chosen, right - left)
            press.put(text, left + 4, down, "Helvetica", 10)
    for row in range(rows + 1):
        press.canvas.line(edges[0], A4[1] - 74 - step * row, edges[-1], A4[1] - 74 - step * row)
    for edge in edges:
        press.canvas.line(edge, A4[1] - 74, edge, A4[1] - 74 - step * rows)
    return damaged(press.printed(200), seed)


def _cell(chosen: random.Random, wide: float) -> str:
    if wide > 150:
        return " ".join(chosen.choices(WORDS, k=4)).capitalize()
    if wide > 60:
        return part_number(chosen)
    return str(chosen.randrange(2, 96))


def figures_beside(seed: int) -> Printed:
    """A text with a narrow column of numbers beside it, far off or close by, now left and now right of it."""
    chosen, press = random.Random(seed), Press()
    is_left, step = chosen.random() < 0.5, chosen.choice((15.0, 18.0))
    text_left, figures_left = (150, 60) if is_left else (60, 470)
    press.put("SETTING OF THE " + chosen.choice(WORDS).upper(), 200, 60, "Helvetica-Bold", 14)
    beside = [(number, part_number(chosen)) for number in range(38) if chosen.random() < 0.6]
    if is_left:
        for number, text in beside:
            press.put(text, figures_left, 100 + step * number, "Helvetica", 10)
    set_paragraph(press, chosen, text_left, 100, 380, points=10.5, lines=38, step=step)
    if not is_left:
        for number, text in beside:
            press.put(text, figures_left, 100 + step * number, "Helvetica", 10)
    return damaged(press.printed(200), seed)


def captions(seed: int) -> Printed:
    """Pictures with captions in and beside them, and a text under them."""
    chosen, press = random.Random(seed), Press()
    for number in range(4):
        left, low = 50 + 260 * (number % 2), A4[1] - 260 - 230 * (number // 2)
        press.canvas.drawImage(ImageReader(scene(seed + number)), left, low, 230, 170)
        if number % 2:
            press.canvas.setFillGray(1)
            press.canvas.rect(left + 120, low + 8, 100, 34, stroke=0, fill=1)
            press.canvas.setFillGray(0)
            press.put(f"No. {part_number(chosen)}", left + 126, A4[1] - low - 28, "Helvetica", 10)
            press.put(
                f"{chosen.randrange(2, 9)} ft {chosen.randrange(1, 12)} in",
                left + 126,
                A4[1] - low - 14,
                "Helvetica",
                10,
            )
        press.put(
            f"Fig. {number + 1}. {' '.join(chosen.choices(WORDS, k=3))} {part_number(chosen)}",
            left,
            A4[1] - low + 14,
            "Times-Italic",
            10,
        )
    set_paragraph(press, chosen, 50, 540, 490, points=11, lines=16, step=15)
    return damaged(press.printed(200), seed)


def leaders(seed: int) -> Printed:
    """A list with dots that lead from each name to its lone figures."""
    chosen, press = random.Random(seed), Press()
    for number in range(40):
        name = " ".join(chosen.choices(WORDS, k=4)).capitalize()
        down = 70 + 18.0 * number
        press.canvas.setFont("Times-Roman", 11)
        press.put(name, 60, down, "Times-Roman", 11)
        press.canvas.drawRightString(410, A4[1] - down, "." * chosen.randrange(20, 40))
        press.put(str(chosen.randrange(1, 9)), 430, down, "Times-Roman", 11)
        press.put(str(chosen.randrange(10, 99)), 520, down, "Times-Roman", 11)
    return damaged(press.printed(200), seed)


def cards(seed: int) -> Printed:
    """Small frames within a heavy one, each with part numbers, quantities and a round thing."""
    chosen, press = random.Random(seed), Press()
    press.canvas.setLineWidth(5)
    press.canvas.rect(40, 40, 515, 762)
    press.canvas.setLineWidth(2)
    for place in range(12):
        left, top = 60 + 165 * (place % 3), 70 + 180 * (place // 3)
        press.canvas.rect(left, A4[1] - top - 160, 150, 160)
        press.canvas.circle(left + 110, A4[1] - top - 110, 30)
        for row in range(6):
            press.put(part_number(chosen), left + 8, top + 22 + 22 * row, "Helvetica", 10)
            if row < 3:
                press.put(str(chosen.randrange(10, 40)), left + 70, top + 22 + 22 * row, "Helvetica", 10)
    return damaged(press.printed(200), seed)


def figures(seed: int, dpi: float = 150, rows: int = 36) -> Printed:
    """Wide columns of figures with gaps in them, as a table of readings has."""
    chosen, press = random.Random(seed), Press((595.0, 100.0 + 19 * rows))
    for column in range(8):
        for row in range(rows):
            if chosen.random() < 0.8:
                press.put(
                    str(chosen.randrange(10, 999)), 50 + 66 * column + 4 * (row % 3), 80 + 19 * row, "Helvetica", 9
                )
    return damaged(press.printed(dpi), seed)


def panels(seed: int) -> Printed:
    """A column of text beside two panels, one on grey and one in white on black."""
    chosen, press = random.Random(seed), Press()
    set_paragraph(press, chosen, 50, 60, 240, points=10, lines=48, step=14)
    for grey, low, high, ink in ((0.62, 400, 340, 0.0), (0.05, 740, 300, 1.0)):
        press.canvas.setFillGray(grey)
        press.canvas.rect(310, A4[1] - low, 240, high, stroke=1, fill=1)
        press.canvas.setFillGray(ink)
        set_paragraph(press, chosen, 320, low - high + 20, 220, points=10, lines=high // 15, step=14)
    press.canvas.setFillGray(0)
    return damaged(press.printed(200), seed)


def scene(seed: int) -> Image.Image:
    """Something like a photograph: clouds of tone with edges in it, nothing that is to be read."""
    chosen = np.random.default_rng(seed)
    tones = np.zeros((340, 460), dtype=np.float32)
    for size in (4, 9, 20, 60):
        cloud = Image.fromarray(chosen.random((size, size), dtype=np.float32))
        tones += np.asarray(cloud.resize((460, 340), Image.Resampling.BICUBIC)) / len((4, 9, 20, 60))
    tones += 0.25 * (tones > np.median(tones))
    tones = (tones - tones.min()) / (tones.max() - tones.min())
    return Image.fromarray((30 + 200 * tones).astype(np.uint8)).filter(ImageFilter.GaussianBlur(1))


def set_paragraph(  # noqa: PLR0913  # where and how type is set takes as many
    press: Press,
    chosen: random.Random,
    left: float,
    down: float,
    wide: float,
    *,
    points: float,
    lines: int,
    step: float | None = None,
    face: str = "Times-Roman",
) -> None:
    """Set lines of words with numbers among them, filled to the right edge as printers do."""
    for number in range(lines):
        line: list[str] = []
        while True:
            word = part_number(chosen) if chosen.random() < 0.07 else chosen.choice(WORDS)
            if stringWidth(" ".join([*line, word]), face, points) > wide:
                break
            line.append(word)
        press.put_filled(" ".join(line), left, down + (step or points * 1.2) * number, (face, points), wide)


LAYOUTS: tuple[Callable[[int], Printed], ...] = (
    columns,
    boxed_table,
    figures_beside,
    captions,
    leaders,
    cards,
    figures,
    panels,
)
