"""Building the index over made pages, bringing one page up to date, and asking in the ways people ask."""

import random
import statistics
import string
import time
from collections.abc import Iterator, Sequence
from itertools import accumulate
from pathlib import Path

from bench.figures import Figure, seconds

from provenance.search.asking import Filters, ask
from provenance.search.building import bring_up_to_date
from provenance.search.entries import Entry, What
from provenance.search.manifest import IndexPlace
from provenance.search.opening import Index, open_verified

PAGES = 2_000
WORDS_A_PAGE = 300
VOCABULARY = 20_000


def measure(folder: Path) -> Iterator[Figure]:
    """Index 2,000 pages of 300 words, of which few are common and most are rare, and ask them."""
    draw = random.Random(19340601)
    words = ["".join(draw.choices(string.ascii_lowercase, k=draw.randint(2, 10))) for _ in range(VOCABULARY)]
    entries = {entry.key: entry for entry in _pages(draw, words)}
    digests = {key: entry.digest for key, entry in entries.items()}

    place = IndexPlace(folder, bytes(32))
    began = time.process_time()
    bring_up_to_date(place, digests, entries.__getitem__)
    spent = time.process_time() - began
    size = sum(path.stat().st_size for path in folder.rglob("*") if path.is_file())
    of = f"{PAGES} pages of {WORDS_A_PAGE} words"
    yield Figure(name=f"index built ({of})", value=PAGES / spent, unit="pages/s", more_is_better=True)
    yield Figure(name=f"index on disk ({of})", value=size / PAGES / 1000, unit="kB/page")
    unchanged = seconds(lambda: bring_up_to_date(place, digests, entries.__getitem__), times=3)
    yield Figure(name="index compared, nothing changed", value=unchanged, unit="s")
    with open_verified(place) as index:
        yield from _ask(index, draw, words, list(entries.values()))
    key = next(iter(entries))
    one = seconds(lambda: bring_up_to_date(place, digests | {key: "changed"}, entries.__getitem__))
    yield Figure(name="index, one page replaced", value=one, unit="s")


def _pages(draw: random.Random, words: Sequence[str]) -> Iterator[Entry]:
    weights = list(accumulate(1 / (place + 3) for place in range(len(words))))
    for number in range(PAGES):
        text = " ".join([*draw.choices(words, cum_weights=weights, k=WORDS_A_PAGE - 2), f"H-{draw.randint(1, 999)}"])
        source, page = f"s{number // 50}", number % 50 + 1
        yield Entry(
            key=f"{source}/p{page:04}",
            digest=str(number),
            what=What.PAGE,
            source=source,
            page=page,
            text=text,
            kind=draw.choice(("manual", "letter")),
            earliest=19300101,
            latest=19341231,
        )


def _ask(index: Index, draw: random.Random, words: Sequence[str], pages: Sequence[Entry]) -> Iterator[Figure]:
    middling = words[50:2_000]
    quoted = [" ".join(draw.choice(pages).text.split()[20:22]) for _ in range(40)]
    asked = {
        "one word": draw.sample(middling, 40),
        "a common word": list(words[:10]),
        "any of three words": [" ".join(draw.sample(middling, 3)) for _ in range(40)],
        "all of three words": [" ".join("+" + word for word in draw.sample(words[:100], 3)) for _ in range(40)],
        "a phrase": [f'"{words}"' for words in quoted],
        "a part number": [f"H-{draw.randint(1, 999)}" for _ in range(40)],
        "a beginning": [word[:3] + "*" for word in draw.sample(middling, 40)],
    }
    for name, queries in asked.items():
        yield from _times(name, [_milliseconds(index, query) for query in queries])
    kept = Filters(kind="letter", since=19310101)
    yield from _times("three words, filtered", [_milliseconds(index, q, kept) for q in asked["any of three words"]])


def _milliseconds(index: Index, query: str, kept: Filters | None = None) -> float:
    began = time.perf_counter()
    ask(index, query, kept)
    return (time.perf_counter() - began) * 1000


def _times(name: str, spent: Sequence[float]) -> Iterator[Figure]:
    yield Figure(name=f"asked {name}, median", value=statistics.median(spent), unit="ms")
    yield Figure(name=f"asked {name}, 95 of 100", value=sorted(spent)[int(len(spent) * 0.95)], unit="ms")
