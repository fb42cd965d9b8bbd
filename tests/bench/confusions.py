"""Which characters of reference numbers the recogniser takes for one another: real runs on pages whose text is known.

    PYTHONPATH=tests .venv/bin/python tests/bench/confusions.py [--pages 24] [--seed 1] [--font FILE]... [--keep NAME]

Two sorts of page: made ones of numbers alone, in each font given, blurred, speckled and faded as poor copies are; and
the sample's handbook beside its truth. Prints how often each character that was set came out as another one, as two,
or not at all, the most frequent first, and the share of wrong characters that make no difference to `reference_key`.
`records/misreading.py` quotes the figures; `--keep` writes those of the made pages under that name into
`misread_characters.json`.
"""

import argparse
import json
import random
import tempfile
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import closing
from pathlib import Path

from bench.made_numbers import COUNTED, made_number
from PIL import Image, ImageChops, ImageDraw, ImageFilter, ImageFont

from provenance.pages.signatures import PDF, PNG
from provenance.reading.page_reading import PageJob, read_page
from provenance.records.readings import Word
from provenance.records.reference_numbers import reference_key
from provenance.workers.running import run_in_workers

ROOT = Path(__file__).parents[2]
HANDBOOK = ROOT / "sample_archive" / "archive" / "originals" / "handbook-1933"
TRUTH = ROOT / "tests" / "sample" / "truth" / "handbook-1933"
ROWS = 40
_BLURS = (0.0, 0.9, 1.3, 1.7)
Confusions = Counter[tuple[str, str]]
"""What was set, what was read instead (the same and more, where something was added; nothing, where it was lost)."""


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    options.add_argument("--pages", type=int, default=24)
    options.add_argument("--seed", type=int, default=19331001)
    options.add_argument("--font", action="append", default=[], help="a font file; may be repeated")
    options.add_argument("--keep", help="write the counts of the made pages under this name")
    chosen = options.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        made = list(made_pages(Path(folder), chosen.pages, chosen.font, random.Random(chosen.seed)))
        characters, found = _tell(f"{len(made)} made pages of {ROWS} numbers", made)
    if chosen.keep:
        _keep(chosen.keep, characters, found)
        return
    handbook = [PageJob(path=next(HANDBOOK.glob("*.pdf")), media_type=PDF, page=page) for page in range(1, 7)]
    truths = [(TRUTH / f"p{page:04}.txt").read_text(encoding="utf-8") for page in range(1, 7)]
    _tell("the sample's handbook", list(zip(handbook, truths, strict=True)))


def made_pages(folder: Path, pages: int, fonts: Sequence[str], draw: random.Random) -> Iterator[tuple[PageJob, str]]:
    """Pages of one number a line, each with its truth; every fourth is sharp, the others are more and more blurred."""
    for page in range(pages):
        numbers = [made_number(draw) for _ in range(ROWS)]
        font = ImageFont.truetype(fonts[page % len(fonts)], 26) if fonts else ImageFont.load_default(26)
        picture = Image.new("L", (1240, 1754), 245)
        pen = ImageDraw.Draw(picture)
        for row, number in enumerate(numbers):
            pen.text((150, 60 + 41 * row), f"Part {number}", font=font, fill=draw.choice((40, 90, 140)))
        path = folder / f"{page}.png"
        _worn(picture, _BLURS[page % len(_BLURS)], draw).save(path, dpi=(150, 150))
        yield PageJob(path=path, media_type=PNG, page=1), "\n".join(f"Part {number}" for number in numbers)


def _worn(picture: Image.Image, blur: float, draw: random.Random) -> Image.Image:
    """Blur and speckle a picture as a poor copy is; a sharp one stays clean."""
    if not blur:
        return picture
    coarse = (picture.width // 2, picture.height // 2)
    grains = Image.frombytes("L", coarse, draw.randbytes(coarse[0] * coarse[1])).point(lambda tone: 130 * (tone > 252))
    speckled = ImageChops.subtract(picture, grains.resize(picture.size))
    return speckled.filter(ImageFilter.GaussianBlur(blur))


def _tell(name: str, pages: Sequence[tuple[PageJob, str]]) -> tuple[int, Confusions]:
    truth = dict(pages)
    found: Confusions = Counter()
    characters = 0
    with closing(run_in_workers(read_page, list(truth), seconds_each=120.0)) as outcomes:
        for outcome in outcomes:
            if outcome.value is not None:
                characters += sum(1 for letter in truth[outcome.job] if not letter.isspace())
                found += confusions(truth[outcome.job], _text_of(outcome.value.words))
    folded = sum(times for (one, other), times in found.items() if one and reference_key(one) == reference_key(other))
    print(f"{name}: {characters} characters, {found.total()} misread, {folded} of them alike to `reference_key`")
    for (one, other), times in found.most_common(60):
        print(f"  {one} -> {other or 'lost'}  {times}")
    return characters, found


def _text_of(words: Sequence[Word]) -> str:
    lines: dict[int, list[str]] = {}
    for word in words:
        lines.setdefault(word.line, []).append(word.text)
    return "\n".join(" ".join(line) for line in lines.values())


def _keep(name: str, characters: int, found: Confusions) -> None:
    kept = json.loads(COUNTED.read_text(encoding="utf-8")) if COUNTED.exists() else {}
    misread: dict[str, dict[str, int]] = {}
    for (one, other), times in sorted(found.items()):
        misread.setdefault(one, {})[other] = times
    kept[name] = {"characters": characters, "misread": misread}
    COUNTED.write_text(json.dumps(kept, indent=1, sort_keys=True, ensure_ascii=False) + "\n", encoding="utf-8")


def confusions(truth: str, read: str) -> Confusions:
    """What was made of the characters of words with a figure.

    A word read wrong by half or more was not read at all, and specks read as stops beside a character are no misreading
    of it: neither is counted.
    """
    found: Confusions = Counter()
    word: list[tuple[str, str]] = []
    for pair in [*aligned(truth, read), ("\n", "\n")]:
        if not pair[0].isspace():
            word.append(pair)
            continue
        pairs = [(one, other.strip().split(" ")[0].partition("\n")[0][:2]) for one, other in word]
        wrong = [pair for pair in pairs if pair[0] != pair[1] and not _is_specked(*pair)]
        if any(one.isdigit() for one, _ in word) and len(wrong) < len(word) / 2:
            found.update(wrong)
        word = []
    return found


def _is_specked(one: str, other: str) -> bool:
    return other.startswith(one) and not any(letter.isalnum() for letter in other[len(one) :])


def aligned(truth: str, read: str) -> Iterator[tuple[str, str]]:
    """Each character of the truth with what was read in its place (Wagner and Fischer, JACM 21, 1974)."""
    table = [list(range(len(read) + 1))]
    for n, one in enumerate(truth, start=1):
        above, row = table[-1], [n]
        for m, other in enumerate(read, start=1):
            row.append(min(above[m] + 1, row[m - 1] + 1, above[m - 1] + (one != other)))
        table.append(row)
    pairs: list[tuple[str, str]] = []
    n, m, added = len(truth), len(read), ""
    while n:
        here = table[n][m]
        if m and here == table[n - 1][m - 1] + (truth[n - 1] != read[m - 1]):
            n, m = n - 1, m - 1
            pairs.append((truth[n], read[m] + added))
            added = ""
        elif here == table[n - 1][m] + 1:
            n -= 1
            pairs.append((truth[n], added))
            added = ""
        else:
            m -= 1
            added = read[m] + added
    yield from reversed(pairs)


if __name__ == "__main__":
    main()
