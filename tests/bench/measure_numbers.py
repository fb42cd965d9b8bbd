"""Part numbers asked of pages that were misread, beside SQLite's trigrams and the plain phrase of the same index.

    PYTHONPATH=tests .venv/bin/python -m bench.measure_numbers 10000 [RATE...]

measures at the size that is promised, at all rates of misread characters or at those named; `run.sh` takes a fifth of
the pages and of the numbers. Every number stands on one page; a third of them are one figure from another. 400 are
asked, and 400 that stand nowhere. A hit is found where its tier is exact or folded, else near; both together count for
success at 1 and at 10.
"""

import random
import sqlite3
import statistics
import string
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass
from itertools import accumulate
from pathlib import Path
from typing import Any

from bench.figures import Figure
from bench.made_numbers import a_misreader, made_number, made_numbers, one_digit_off

from provenance.records.reference_numbers import Tier
from provenance.search.asking import ask
from provenance.search.building import bring_up_to_date
from provenance.search.entries import Entry, What
from provenance.search.grammar import parse_query
from provenance.search.manifest import IndexPlace
from provenance.search.opening import Index, open_verified
from provenance.search.translating import translate

PAGES = 2_000
NUMBERS_A_PAGE = 0.28
WORDS_A_PAGE = 300
ASKED = 400
ROUNDS = 3
PROMISED = {0.0: (0.99, 0.995), 0.05: (0.88, 0.94), 0.10: (0.77, 0.86)}
RATES = tuple(PROMISED)
LIMIT = 20


def measure(folder: Path) -> Iterator[Figure]:
    """The quick run: a fifth of what is promised."""
    yield from measure_at(folder, PAGES)


def measure_at(folder: Path, pages: int, rates: Sequence[float] = RATES) -> Iterator[Figure]:
    """Build and ask an archive of so many pages for each of these shares of misread characters."""
    for rate in rates:
        yield from _measure(folder / f"{rate}", pages, rate)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Made:
    """Pages, and the numbers on them.

    Attributes:
        pages: their texts as read.
        standing: for each number that was set on a page, the page, from 0.
        nowhere: numbers that stand on none; a third of them are one figure from one that does.
    """

    pages: Sequence[str]
    standing: dict[str, int]
    nowhere: Sequence[str]


def _make(pages: int, rate: float) -> _Made:
    draw = random.Random(19340601)
    words = ["".join(draw.choices(string.ascii_lowercase, k=draw.randint(2, 10))) for _ in range(20_000)]
    weights = list(accumulate(1 / (place + 3) for place in range(len(words))))
    numbers = made_numbers(draw, round(NUMBERS_A_PAGE * pages))
    standing = {number: draw.randrange(pages) for number in numbers}
    on_page: dict[int, list[str]] = {}
    for number, page in standing.items():
        on_page.setdefault(page, []).append(number)
    misread = a_misreader(rate, random.Random(19331001))
    texts = []
    for page in range(pages):
        said = [*draw.choices(words, cum_weights=weights, k=WORDS_A_PAGE - 4), str(draw.randint(1901, 1960))]
        said += [f"{draw.randint(1, 60)} in", f"No. {draw.randint(1, 400)}"]
        for number in on_page.get(page, ()):
            said.insert(draw.randrange(len(said)), number)
        texts.append(misread(" ".join(said)))
    return _Made(pages=texts, standing=standing, nowhere=_nowhere(numbers, draw))


def _nowhere(numbers: Sequence[str], draw: random.Random) -> list[str]:
    """Numbers that are none of these."""
    made: dict[str, None] = {}
    while len(made) < ASKED:
        is_like_one = len(made) < ASKED // 3
        made[one_digit_off(draw.choice(numbers), draw) if is_like_one else made_number(draw)] = None
        for number in made.keys() & set(numbers):
            del made[number]
    return list(made)


def _measure(folder: Path, pages: int, rate: float) -> Iterator[Figure]:
    made = _make(pages, rate)
    entries = {entry.key: entry for entry in _entries(made.pages)}
    place = IndexPlace(folder, bytes(32))
    began = time.process_time()
    bring_up_to_date(place, {key: entry.digest for key, entry in entries.items()}, entries.__getitem__)
    spent = time.process_time() - began
    size = sum(path.stat().st_size for path in folder.rglob("*") if path.is_file())
    of = f"part numbers on {pages:,} pages, {rate:.0%} misread"
    yield Figure(name=f"{of}: index built", value=pages / spent, unit="pages/s", more_is_better=True)
    yield Figure(
        name=f"{of}: index on disk", value=size / pages / 1000, unit="kB/page", promised=None if rate else 10.0
    )
    asked = random.Random(1).sample(sorted(made.standing), min(ASKED, len(made.standing)))
    with open_verified(place) as index, closing(_trigrams(made.pages)) as database:
        yield from _success(of, index, made, asked, PROMISED[rate])
        yield from _peer(f"{of}: SQLite trigrams", lambda number: _by_trigrams(database, number), made, asked)
        yield from _peer(f"{of}: plain phrase", lambda number: _by_phrase(index, number), made, asked)


def _entries(pages: Sequence[str]) -> Iterator[Entry]:
    for number, text in enumerate(pages):
        key = f"s{number // 50:04}/p{number % 50 + 1:04}"
        yield Entry(key=key, digest=str(number), what=What.PAGE, source=key[:5], page=number % 50 + 1, text=text)


def _success(
    of: str, index: Index, made: _Made, asked: Sequence[str], promised: tuple[float, float]
) -> Iterator[Figure]:
    """Success at 1 and at 10 of both groups, what is found of numbers that stand nowhere, and the time."""
    answers = [ask(index, number, limit=LIMIT) for number in asked]
    ranks = [_rank([_page(hit.key) for hit in a.hits], made.standing[n]) for n, a in zip(asked, answers, strict=True)]
    yield from _at(of, ranks, promised)
    is_found = [any(hit.tier in {Tier.EXACT, Tier.FOLDED} for hit in answer.hits) for answer in answers]
    near = [sum(1 for hit in answer.hits if hit.tier is Tier.NEAR) for answer in answers]
    nowhere = [ask(index, number, limit=LIMIT).hits for number in made.nowhere]
    wrong = sum(any(hit.tier is not Tier.NEAR for hit in hits) for hits in nowhere) / len(nowhere)
    near_nowhere = [sum(1 for hit in hits if hit.tier is Tier.NEAR) for hits in nowhere]
    yield Figure(name=f"{of}: something is found", value=statistics.mean(is_found), unit="share", more_is_better=True)
    yield Figure(name=f"{of}: near hits of a number", value=statistics.mean(near), unit="hits", promised=2.0)
    yield Figure(name=f"{of}: found of numbers that stand nowhere", value=wrong, unit="share", promised=0.03)
    yield Figure(name=f"{of}: near hits of these", value=statistics.mean(near_nowhere), unit="hits", promised=2.0)
    yield from _times(of, lambda number: ask(index, number, limit=LIMIT), [*asked, *made.nowhere], 15.0)


def _at(of: str, ranks: Sequence[int | None], promised: tuple[float, float] | None = None) -> Iterator[Figure]:
    for place, most in zip((1, 10), promised or (None, None), strict=True):
        share = sum(rank is not None and rank <= place for rank in ranks) / len(ranks)
        name = f"{of}: success at {place}"
        yield Figure(name=name, value=share, unit="share", promised=most, more_is_better=True)


def _page(key: str) -> int:
    return int(key[1:5]) * 50 + int(key[-4:]) - 1


def _rank(pages: Sequence[int], page: int) -> int | None:
    return pages.index(page) + 1 if page in pages else None


def _times(of: str, work: Callable[[str], object], asked: Sequence[str], most: float | None = None) -> Iterator[Figure]:
    """The least of some rounds for each number, so that what else the machine does counts little."""
    least = [float("inf")] * len(asked)
    for _ in range(ROUNDS):
        for at, number in enumerate(asked):
            began = time.perf_counter()
            work(number)
            least[at] = min(least[at], (time.perf_counter() - began) * 1000)
    yield Figure(name=f"{of}: asked, median", value=statistics.median(least), unit="ms")
    yield Figure(name=f"{of}: asked, 95 of 100", value=sorted(least)[int(len(least) * 0.95)], unit="ms", promised=most)


def _peer(of: str, work: Callable[[str], list[int]], made: _Made, asked: Sequence[str]) -> Iterator[Figure]:
    yield from _at(of, [_rank(work(number), made.standing[number]) for number in asked])
    hits = statistics.mean(len(work(number)) for number in asked)
    yield Figure(name=f"{of}: hits of a number, at most {LIMIT * 5}", value=hits, unit="hits")
    yield from _times(of, work, asked)


def _trigrams(pages: Sequence[str]) -> sqlite3.Connection:
    database = sqlite3.connect(":memory:")
    database.execute("create virtual table page using fts5(text, tokenize='trigram')")
    database.executemany("insert into page(rowid, text) values (?, ?)", list(enumerate(pages, start=1)))
    return database


def _by_trigrams(database: sqlite3.Connection, number: str) -> list[int]:
    """Any of the trigrams of a number, ranked by SQLite's BM25: what it has against misreadings."""
    grams = [number[at : at + 3].replace('"', '""') for at in range(len(number) - 2)]
    match = " OR ".join(f'"{gram}"' for gram in grams)
    found = database.execute("select rowid from page where page match ? order by rank limit ?", (match, LIMIT * 5))
    return [row - 1 for (row,) in found]


def _by_phrase(index: Index, number: str) -> list[int]:
    query = parse_query(f'"{number}"')
    found: Any = index.searcher.search(translate(query, index.searcher, {}, []), limit=LIMIT * 5)
    return [_page(hit.fields()["shown"].split('"', 4)[3]) for hit in found]


if __name__ == "__main__":
    asked_pages = int(sys.argv[1]) if sys.argv[1:] else PAGES
    asked_rates = [float(rate) for rate in sys.argv[2:]] or RATES
    with tempfile.TemporaryDirectory() as told:
        for figure in measure_at(Path(told), asked_pages, asked_rates):
            print(figure, flush=True)
