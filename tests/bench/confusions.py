"""Which characters of reference numbers the recogniser takes for one another: real runs on pages whose text is known.

    PYTHONPATH=tests .venv/bin/python tests/bench/confusions.py [--pages 12]

Two sorts of page: made ones of numbers alone, in each font given, blurred as a poor copy is; and the sample's handbook
beside its truth. Prints how often each character that was set came out as another one, the most frequent first, and
the share of wrong characters that `reference_key` folds. `records/reference_numbers.py` quotes the figures.
"""

import argparse
import random
import tempfile
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import closing
from difflib import SequenceMatcher
from pathlib import Path

from PIL import Image, ImageDraw, ImageFilter, ImageFont

from provenance.pages.signatures import PDF, PNG
from provenance.reading.page_reading import PageJob, read_page
from provenance.records.reference_numbers import reference_key
from provenance.workers.running import run_in_workers

ROOT = Path(__file__).parents[2]
HANDBOOK = ROOT / "sample_archive" / "archive" / "originals" / "handbook-1933"
TRUTH = ROOT / "tests" / "sample" / "truth" / "handbook-1933"
ROWS = 40
Confusions = Counter[tuple[str, str]]


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    options.add_argument("--pages", type=int, default=12)
    options.add_argument("--font", action="append", default=[], help="a font file; may be repeated")
    chosen = options.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        made = list(made_pages(Path(folder), chosen.pages, chosen.font))
        _tell(f"{len(made)} made pages of {ROWS} numbers", made)
    handbook = [PageJob(path=next(HANDBOOK.glob("*.pdf")), media_type=PDF, page=page) for page in range(1, 7)]
    truths = [(TRUTH / f"p{page:04}.txt").read_text(encoding="utf-8").split() for page in range(1, 7)]
    _tell("the sample's handbook", list(zip(handbook, truths, strict=True)))


def made_pages(folder: Path, pages: int, fonts: Sequence[str]) -> Iterator[tuple[PageJob, list[str]]]:
    """Pages of one number a line, each with its truth; every third is sharp, the others are more and more blurred."""
    draw = random.Random(19331001)
    for page in range(pages):
        numbers = [_number(draw) for _ in range(ROWS)]
        picture = Image.new("L", (1240, 1754), 245)
        pen = ImageDraw.Draw(picture)
        font = ImageFont.truetype(fonts[page % len(fonts)], 26) if fonts else ImageFont.load_default(26)
        for row, number in enumerate(numbers):
            pen.text((150, 60 + 41 * row), f"Part {number}", font=font, fill=40)
        path = folder / f"{page}.png"
        picture.filter(ImageFilter.GaussianBlur(0.9 * (page % 3))).save(path, dpi=(150, 150))
        yield PageJob(path=path, media_type=PNG, page=1), [word for number in numbers for word in ("Part", number)]


def _number(draw: random.Random) -> str:
    letters = "".join(draw.choices("ABCDEFGHIJKLMNOPRSTUVWXYZ", k=draw.randint(1, 2)))
    return f"{letters}-{''.join(draw.choices('0123456789', k=draw.randint(3, 5)))}"


def _tell(name: str, pages: Sequence[tuple[PageJob, list[str]]]) -> None:
    truth = dict(pages)
    found: Confusions = Counter()
    characters = 0
    with closing(run_in_workers(read_page, list(truth), seconds_each=120.0)) as outcomes:
        for outcome in outcomes:
            if outcome.value is not None:
                characters += sum(map(len, truth[outcome.job]))
                found += confusions(truth[outcome.job], [word.text for word in outcome.value.words])
    folded = sum(times for (one, other), times in found.items() if reference_key(one) == reference_key(other))
    print(f"{name}: {characters} characters, {found.total()} taken for another one, {folded} of them folded")
    for (one, other), times in found.most_common(20):
        print(f"  {one} -> {other}  {times}")


def confusions(truth: Sequence[str], read: Sequence[str]) -> Confusions:
    """One character for another in words with a figure that have the same length; other mistakes are not counted."""
    pairs: Confusions = Counter()
    for what, a, b, c, d in SequenceMatcher(None, truth, read, autojunk=False).get_opcodes():
        if what == "replace" and b - a == d - c:
            for one, other in zip(truth[a:b], read[c:d], strict=True):
                if len(one) == len(other) and any(letter.isdigit() for letter in one):
                    pairs.update((x, y) for x, y in zip(one, other, strict=True) if x != y)
    return pairs


if __name__ == "__main__":
    main()
