"""Pages printed from known words at known places, damaged as scanners do it, and laid down turned.

The faces are those that every PDF engine has: Courier for a typescript, Times for a book, Helvetica for lists.
"""

import io
import random
from dataclasses import dataclass, replace
from math import cos, radians, sin

import numpy as np
import pypdfium2
from PIL import Image, ImageFilter
from rapidfuzz.distance import Levenshtein
from reportlab.pdfbase.pdfmetrics import getAscentDescent, stringWidth
from reportlab.pdfgen.canvas import Canvas

A4 = (595.0, 842.0)
_WORDS = """
the of and to in with from under over between after before each both upper lower inner outer bracket lamp frame bolt
stud rivet door panel roof seat axle spring buffer cab pillar floor plate steel brass oak ash canvas painted fitted
measured drawing sheet issue works order number batch third second first was were not found as shown at shop foreman
reported that oil tank leaking joint packing renewed glass window cut wide high thick left right
"""
WORDS = _WORDS.split()


@dataclass(frozen=True, slots=True)
class Set:
    """One word as it was set: its text, and left, top, right and bottom in pixels of the page."""

    text: str
    place: tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Printed:
    """A page as a grey picture, its words in reading order with their places, and its text, a space between words."""

    image: Image.Image
    words: tuple[Set, ...]

    @property
    def text(self) -> str:
        return " ".join(word.text for word in self.words)


class Press:
    """A page being set; words are kept with their places in points from the top left."""

    def __init__(self, size: tuple[float, float] = A4) -> None:
        self.size = size
        self.made = io.BytesIO()
        self.canvas = Canvas(self.made, pagesize=size, invariant=1)
        self.words: list[Set] = []

    def put(self, line: str, left: float, down: float, face: str, points: float) -> None:
        """Set a line with its baseline so many points below the upper edge."""
        self.canvas.setFont(face, points)
        self.canvas.drawString(left, self.size[1] - down, line)
        above, below = getAscentDescent(face, points)
        at = left
        for word in line.split(" "):
            width = stringWidth(word, face, points)
            if word:
                self.words.append(Set(word, (at, down - above, at + width, down - below)))
            at += width + stringWidth(" ", face, points)

    def put_filled(self, line: str, left: float, down: float, face: tuple[str, float], wide: float) -> None:
        """Set a line whose spaces are widened until it is so many points wide."""
        words = line.split(" ")
        gaps = wide - sum(stringWidth(word, *face) for word in words)
        at = left
        for word in words:
            self.put(word, at, down, *face)
            at += stringWidth(word, *face) + gaps / max(1, len(words) - 1)

    def printed(self, dpi: float) -> Printed:
        self.canvas.showPage()
        self.canvas.save()
        with pypdfium2.PdfDocument(self.made.getvalue()) as document:
            image: Image.Image = document[0].render(scale=dpi / 72, grayscale=True).to_pil()
        share = dpi / 72
        words = tuple(
            Set(word.text, (word.place[0] * share, word.place[1] * share, word.place[2] * share, word.place[3] * share))
            for word in self.words
        )
        return Printed(image=image.convert("L"), words=words)


def typescript(seed: int, dpi: float = 200, lines: int = 34) -> Printed:
    """A typed report: ten letters to the inch, double spaced, with numbers in it; damaged a little."""
    chosen, press = random.Random(seed), Press()
    for number in range(lines):
        words = chosen.choices(WORDS, k=8)
        words[chosen.randrange(8)] = f"H-{chosen.randrange(100, 999)}"
        line = " ".join(words)[: 58 if number % 5 else 30].rstrip()
        press.put(line.capitalize() + ("." if number % 3 == 0 else ""), 72, 80 + 20 * number, "Courier", 12)
    return damaged(press.printed(dpi), seed)


def book_page(seed: int, dpi: float = 300) -> Printed:
    """A page of a book: small type in long paragraphs under a heading, with a page number."""
    chosen, press = random.Random(seed), Press((420, 595))
    press.put("CHAPTER " + " ".join(chosen.choices(WORDS, k=2)).upper(), 130, 60, "Times-Bold", 13)
    for number in range(36):
        words = " ".join(chosen.choices(WORDS, k=13))[:70].rstrip()
        press.put(
            words.capitalize() if number % 6 == 0 else words,
            66 if number % 6 == 0 else 50,
            90 + 12.5 * number,
            "Times-Roman",
            10.5,
        )
    press.put(str(chosen.randrange(11, 300)), 205, 565, "Times-Roman", 10.5)
    return damaged(press.printed(dpi), seed)


def parts_list(seed: int, dpi: float = 200) -> Printed:
    """A list with rules between its columns and lines, as a catalogue prints it."""
    chosen, press = random.Random(seed), Press()
    press.put("PARTS OF THE " + chosen.choice(WORDS).upper(), 180, 70, "Helvetica-Bold", 15)
    for number in range(26):
        down = 110 + 25 * number
        name = " ".join(chosen.choices(WORDS, k=3)).capitalize()
        for text, left in ((f"H-{chosen.randrange(100, 999)}", 70), (name, 150), (str(chosen.randrange(1, 40)), 480)):
            press.put(text, left, down, "Helvetica", 11)
        press.canvas.line(60, A4[1] - down - 8, 530, A4[1] - down - 8)
    for left in (60, 140, 470, 530):
        press.canvas.line(left, A4[1] - 85, left, A4[1] - 110 - 25 * 25 - 8)
    return damaged(press.printed(dpi), seed)


def works_drawing(seed: int, dpi: float = 200) -> Printed:
    """A drawing: outlines, a title block, dimensions along the sheet and some that stand upright on it.

    Its words are those that lie along the sheet.
    """
    chosen, press = random.Random(seed), Press((842, 595))
    sheet = press.canvas
    sheet.rect(30, 30, 782, 535)
    for number in range(5):
        left, low = 80 + 140 * number, 200 + 30 * (number % 3)
        sheet.rect(left, low, 100, 180)
        sheet.circle(left + 50, low + 90, 30)
        sheet.line(left, low - 20, left + 100, low - 20)
        press.put(
            f"{chosen.randrange(2, 9)} ft {chosen.randrange(1, 12)} in", left + 28, 595 - low + 34, "Helvetica", 10
        )
        sheet.saveState()
        sheet.translate(left - 8, low + 60)
        sheet.rotate(90)
        sheet.setFont("Helvetica", 10)
        sheet.drawString(0, 0, f"{chosen.randrange(2, 9)} ft {chosen.randrange(1, 12)} in")
        sheet.restoreState()
    sheet.rect(520, 30, 292, 90)
    for number, line in enumerate(
        ("BRACKET FOR HEAD LAMP", f"Drawing H-{chosen.randrange(100, 999)}", "Material mild steel")
    ):
        press.put(line, 540, 595 - 95 + 24 * number, "Helvetica", 13)
    return damaged(press.printed(dpi), seed)


def damaged(page: Printed, seed: int, *, noise: float = 9.0, blur: float = 0.7) -> Printed:
    """Make a print uneven: grey paper, ink that breaks and spreads, the noise of a scanner."""
    chosen = np.random.default_rng(seed)
    ink = 1 - np.asarray(page.image.filter(ImageFilter.GaussianBlur(blur)), dtype=np.float32) / 255
    cloud = Image.fromarray(chosen.random((page.image.height // 4 + 1, page.image.width // 4 + 1), dtype=np.float32))
    uneven = np.asarray(cloud.resize(page.image.size, Image.Resampling.BICUBIC))
    tones = 228 - 190 * np.clip(ink * (0.7 + 0.6 * uneven), 0, 1)
    tones += chosen.normal(0, noise, tones.shape).astype(np.float32)
    return replace(page, image=Image.fromarray(np.clip(tones, 0, 255).astype(np.uint8)))


def laid_down(page: Printed, degrees: float, paper: int = 228) -> Printed:
    """Turn a page to the left by so many degrees, on a sheet that holds all of it; each place becomes the rectangle
    round the turned word.
    """
    image = page.image.rotate(degrees, Image.Resampling.BICUBIC, expand=True, fillcolor=paper)
    turn = radians(degrees)
    middle = (page.image.width / 2, page.image.height / 2)
    new_middle = (image.width / 2, image.height / 2)

    def turned(word: Set) -> Set:
        left, top, right, bottom = word.place
        corners = [(x - middle[0], y - middle[1]) for x in (left, right) for y in (top, bottom)]
        across = [new_middle[0] + x * cos(turn) + y * sin(turn) for x, y in corners]
        down = [new_middle[1] - x * sin(turn) + y * cos(turn) for x, y in corners]
        return Set(word.text, (min(across), min(down), max(across), max(down)))

    return Printed(image=image, words=tuple(map(turned, page.words)))


def character_errors(truth: str, read: str) -> float:
    """Give the edits from what was read to the truth as a share of its characters; words are parted by one space."""
    told = " ".join(truth.split())
    return Levenshtein.distance(told, " ".join(read.split())) / len(told)
