"""Part numbers of our own making, and how a recogniser misreads them, counted from real runs.

`misread_characters.json` holds what Tesseract made of pages set in known numbers (`confusions.py`), once on the pages
that the costs in `records/misreading.py` come from (DejaVu Sans and Serif, seed 19331001), and once on others, that the
benchmark's mistakes are drawn from (DejaVu Sans Mono, Sans Bold and Serif Condensed, seed 19340601).
"""

import json
import random
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import accumulate
from pathlib import Path

COUNTED = Path(__file__).with_name("misread_characters.json")
UNSEEN = 0.15
"""Share of mistakes that are none of those counted but any at all; our own choice."""
LETTERS = "ABCDEFGHIJKLMNOPRSTUVWXYZ"
_ANY = LETTERS + "0123456789-/., '"


def made_number(draw: random.Random) -> str:
    """One number in one of five ways of writing such, of six to ten characters."""
    series = "".join(draw.choices(LETTERS, k=draw.randint(1, 2)))
    figures = str(draw.randint(1000, 99999))
    match draw.randrange(5):
        case 0 | 1:
            return f"{series}-{figures}"
        case 2:
            return f"{series}/{draw.randint(100, 9999)}/{draw.randint(1, 99)}"
        case 3:
            return f"{figures}-{draw.randint(1, 999)}"
        case _:
            return f"{series}{draw.randint(10, 99)}.{draw.randint(1000, 9999)}"


def one_digit_off(number: str, draw: random.Random) -> str:
    """The same number with one figure changed."""
    at = draw.choice([place for place, character in enumerate(number) if character.isdigit()])
    return number[:at] + draw.choice([figure for figure in "123456789" if figure != number[at]]) + number[at + 1 :]


def made_numbers(draw: random.Random, count: int) -> list[str]:
    """Different numbers, a third of them made from another by changing one figure."""
    apart: dict[str, None] = {}
    while len(apart) < count - count // 3:
        apart[made_number(draw)] = None
    numbers, firsts = apart.copy(), list(apart)
    while len(numbers) < count:
        numbers[one_digit_off(draw.choice(firsts), draw)] = None
    made = list(numbers)
    draw.shuffle(made)
    return made


@dataclass(frozen=True, slots=True)
class Misreader:
    """Misreads texts at a given rate.

    Attributes:
        rate: share of the characters, 0 to 1, of which something else is made; white space is left as it is.
        outcomes: for a character, what was made of it and how often, summed up; "" where it was lost.
        draw: chance.
    """

    rate: float
    outcomes: dict[str, tuple[list[str], list[int]]]
    draw: random.Random

    def __call__(self, text: str) -> str:
        """Give the text as it may be read."""
        return "".join(self._characters(text)) if self.rate else text

    def _characters(self, text: str) -> Iterator[str]:
        chance, rate = self.draw.random, self.rate
        for character in text:
            yield self._instead(character) if chance() < rate and not character.isspace() else character

    def _instead(self, character: str) -> str:
        known = self.outcomes.get(character)
        if known and self.draw.random() >= UNSEEN:
            return self.draw.choices(known[0], cum_weights=known[1])[0]
        kind = self.draw.random()
        if kind < 0.2:
            return ""
        other = self.draw.choice(_ANY.replace(character, ""))
        return character + other if kind < 0.3 else other


def a_misreader(rate: float, draw: random.Random) -> Misreader:
    """A misreader by the counts of the pages that the costs were not counted from."""
    counts = json.loads(COUNTED.read_text(encoding="utf-8"))["for measuring"]["misread"]
    outcomes = {one: (list(made), list(accumulate(made.values()))) for one, made in counts.items()}
    return Misreader(rate, outcomes, draw)
