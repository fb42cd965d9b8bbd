"""Text that a recogniser leaves out: numbers found and errors before and after, and the time of it.

Pages of eight layouts (`tests/reading/laid_out_pages.py`). What counts as text was settled on seeds up to 6; the seeds
here are others. Before is one recognition of the page as it lies, which finds the layout by itself. Of the sample's
scans, upright and laid down aslant, the words are counted, for no truth of them is kept.
"""

import resource
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from statistics import mean

from bench.figures import Figure
from reading.laid_out_pages import LAYOUTS, share_found, words_amiss
from reading.printed_pages import Printed, character_errors

from provenance.pages.pictures import PagePicture, upright
from provenance.pages.rendering import render
from provenance.pages.signatures import JPEG, PNG
from provenance.reading.recognising import recognise
from provenance.reading.remaining import completed
from provenance.reading.settings import ReadingSettings
from provenance.reading.upright import read_upright
from provenance.records.readings import Word

SEEDS = (51, 52)
SAMPLE = Path(__file__).parents[2] / "sample_archive" / "archive" / "originals"
MOST_WORSE, MOST_TIME = 0.2, 3.0
ENGLISH = ("eng",)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """One page before and after: its words, and the processor time of the first reading and of what was added to it."""

    before: tuple[Word, ...]
    after: tuple[Word, ...]
    first: float
    more: float


def measure(_folder: Path) -> Iterator[Figure]:
    """Yield for each layout the numbers found and the errors, before and after; then words and times of the sample."""
    worse: list[float] = []
    found: list[tuple[float, float]] = []
    for make in LAYOUTS:
        pages = [make(seed) for seed in SEEDS]
        tried = [try_page(PagePicture(image=page.image, dpi=200)) for page in pages]
        pairs = list(zip(pages, tried, strict=True))
        before = mean(100 * share_found(page, texts(each.before)) for page, each in pairs)
        after = mean(100 * share_found(page, texts(each.after)) for page, each in pairs)
        name = make.__name__.replace("_", " ")
        yield Figure(name=f"numbers found, {name}: before", value=before, unit="%")
        yield Figure(name=f"numbers found, {name}", value=after, unit="%")
        found.append((before, after))
        errors = [(errors_of(page, each.before), errors_of(page, each.after)) for page, each in pairs]
        yield Figure(name=f"errors, {name}: before", value=mean(first for first, _ in errors), unit="points")
        yield Figure(name=f"errors, {name}", value=mean(last for _, last in errors), unit="points")
        worse += [
            100 * (words_amiss(page, texts(each.after)) - words_amiss(page, texts(each.before))) for page, each in pairs
        ]
    yield Figure(
        name="part numbers found on eight layouts (promised: more than plain finds)",
        value=mean(after for _, after in found),
        unit="%",
        promised=mean(before for before, _ in found),
        more_is_better=True,
    )
    yield Figure(
        name="letters of words wrong or missing there, beyond plain, the worst page",
        value=max(worse),
        unit="points",
        promised=MOST_WORSE,
    )
    yield from _of_sample()


def try_page(picture: PagePicture) -> Tried:
    """Read a page as it lies, then what was left out of it."""
    begun = _processor_seconds()
    before = recognise(picture, ENGLISH, ReadingSettings())
    between = _processor_seconds()
    after = completed(picture, before, ENGLISH, ReadingSettings())
    ended = _processor_seconds()
    return Tried(before=before, after=after.words, first=between - begun, more=ended - between)


def errors_of(page: Printed, words: tuple[Word, ...]) -> float:
    """Give the character errors in points."""
    return 100 * character_errors(page.text, " ".join(texts(words)))


def texts(words: tuple[Word, ...]) -> list[str]:
    """Give what was read, word by word."""
    return [word.text for word in words]


def _of_sample() -> Iterator[Figure]:
    pages = list(_sample_pages())
    tried = {name: try_page(picture()) for name, picture in pages}
    changed = {name: each for name, each in tried.items() if len(each.after) != len(each.before)}
    for name, each in changed.items():
        yield Figure(name=f"words, {name}: before", value=len(each.before), unit="words")
        yield Figure(name=f"words, {name}", value=len(each.after), unit="words")
    yield Figure(name="pages of the sample", value=len(tried), unit="pages")
    yield Figure(name="pages of the sample to which something was added", value=len(changed), unit="pages")
    read = [each for each in tried.values() if len(each.before) >= 50]
    yield Figure(
        name="processor time that looking for text left out adds",
        value=100 * sum(each.more for each in read) / sum(each.first for each in read),
        unit="%",
        promised=MOST_TIME,
    )
    yield Figure(name="processor time more, its other pages", value=_more_time(tried), unit="%")
    handbook = dict(pages)["rail-cars-handbook.pdf 2"]()
    for degrees in (0.0, 3.0, -5.0):
        laid = PagePicture(image=handbook.image.rotate(degrees, expand=True, fillcolor=230), dpi=handbook.dpi)
        recognised = read_upright(laid, ENGLISH, ReadingSettings())
        yield Figure(name=f"words of a handbook page at {degrees:g} degrees", value=len(recognised.words), unit="words")
        yield Figure(name=f"of its text not read, at {degrees:g} degrees", value=recognised.uncovered, unit="share")


def _more_time(tried: dict[str, Tried]) -> float:
    others = [each for each in tried.values() if len(each.before) < 50]
    return 100 * sum(each.more for each in others) / sum(each.first for each in others)


def _sample_pages() -> Iterator[tuple[str, Callable[[], PagePicture]]]:
    """Give each page of the sample that can be opened: one of its pictures is cut short."""
    kinds = {".jpg": JPEG, ".png": PNG}
    for path in sorted(SAMPLE.glob("*/*")):
        if path.suffix in kinds and path.stem != "turntable":
            yield path.name, partial(upright, path, kinds[path.suffix], 1)
    handbook = SAMPLE / "handbook-1933" / "rail-cars-handbook.pdf"
    for page in (1, 2, 3, 5):
        yield f"{handbook.name} {page}", partial(render, handbook, page, 200)


def _processor_seconds() -> float:
    used = map(resource.getrusage, (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return sum(one.ru_utime + one.ru_stime for one in used)
