"""Pages of English that come back whole or in part, misread on both sides, among 10,000 others; beside two peers.

Thresholds were chosen on the even pages (0, 2, 4, ...); what is reported here is measured on the odd ones. A page or an
extract is set into an index of 10,000 pages twice, misread each time anew, and asked from one side. Peers are given the
same pairs of texts and need no index: MinHash of words (datasketch) at a resemblance of .3, and the best partial match
(RapidFuzz) at 60 of 100. An extract stands within a page of other matter.
"""

import random
import re
import statistics
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import sqrt
from pathlib import Path

from bench.english_pages import Page, english_pages, made_pages
from bench.figures import Figure, seconds
from bench.made_numbers import a_misreader
from bench.office_letters import office_letters
from datasketch import MinHash
from rapidfuzz.fuzz import partial_ratio

from provenance.likeness.values import Likeness, TextMatch
from provenance.likeness.word_index import WordIndex

HELD = 10_000
ASKED = 100
ASKED_PEERS = 40
OFFICE = 400
_RESEMBLANCE = 0.3
_PARTIAL = 60
_WORDS = re.compile(r"\w+")


@dataclass(frozen=True, slots=True)
class _Case:
    """Pairs of texts of which the one comes back in the other, and what is promised of them.

    Attributes:
        name: what they are.
        pairs: the texts.
        wanted: the least that a match has to be to count.
        promised: the share that has to be found; None for what is only reported.
    """

    name: str
    pairs: list[tuple[str, str]]
    wanted: Likeness = Likeness.POSSIBLE
    promised: float | None = None


def measure(folder: Path) -> Iterator[Figure]:
    """Fill an index with 10,000 pages, then ask it."""
    pages = english_pages()
    odd, even = pages[1::2], pages[::2]
    draw = random.Random(19340601)
    filling = [page.text for page in even]
    filling += made_pages(filling, HELD - len(filling), draw)
    index = WordIndex(folder / "held")
    kept = seconds(lambda: index.add((f"held-{n}", text) for n, text in enumerate(filling)))
    size = sum(path.stat().st_size for path in (folder / "held").iterdir())
    yield Figure(name=f"{HELD} pages of 300 words kept", value=HELD / kept, unit="pages/s", more_is_better=True)
    yield Figure(name="their size on disk", value=size / HELD / 1000, unit="kB/page")
    yield Figure(name="they are opened", value=seconds(lambda: WordIndex(folder / "held")), unit="s")
    yield Figure(name="one page more", value=1000 * seconds(lambda: index.add([("one", odd[0].text)])), unit="ms")
    index.drop(["one"])
    cases = list(_cases(odd, filling, draw))
    spent: list[float] = []
    for case in cases:
        yield _found(index, case, spent)
    yield Figure(name=f"asked, median (of {HELD} pages)", value=statistics.median(spent), unit="ms")
    late = sorted(spent)[int(len(spent) * 0.95)]
    yield Figure(name=f"asked, 95 of 100 (of {HELD} pages)", value=late, unit="ms", promised=50)
    yield from _unrelated(index, odd)
    yield from _offices(folder, odd, draw)
    for case in cases:
        yield from _peers(case, draw)
    yield from _false_of_peers(odd, draw)
    yield from _error_of_minhash(draw)


def _cases(pages: Sequence[Page], others: Sequence[str], draw: random.Random) -> Iterator[_Case]:
    for rate in (0.05, 0.10, 0.20):
        misread = a_misreader(rate, draw)
        taken = draw.sample(pages, ASKED)
        yield _Case(f"page, {rate:.0%} misread", [(p.text, misread(p.text)) for p in taken], Likeness.COPY, 1.0)
    for words, wanted in ((40, Likeness.POSSIBLE), (80, Likeness.COPY)):
        for rate in (0.0, 0.05, 0.10):
            misread = a_misreader(rate, draw)
            taken = draw.sample(pages, ASKED)
            pairs = [(misread(p.text), misread(_set_in(_extract(p.text, words, draw), others, draw))) for p in taken]
            yield _Case(f"{words} words, {rate:.0%} misread on both sides", pairs, wanted, 0.99)
    for letters in (80, 100):
        for rate in (0.0, 0.05, 0.10):
            misread = a_misreader(rate, draw)
            taken = draw.sample(pages, ASKED)
            pairs = [(misread(p.text), misread(_set_in(_run(p.text, letters, draw), others, draw))) for p in taken]
            yield _Case(f"{letters} letters, {rate:.0%} misread on both sides", pairs)


def _extract(page: str, words: int, draw: random.Random) -> list[str]:
    taken = page.split()
    start = draw.randrange(len(taken) - words + 1)
    return taken[start : start + words]


def _run(page: str, letters: int, draw: random.Random) -> list[str]:
    """Whole words of so many letters and figures or a few more."""
    words = _extract(page, 60, draw)
    count = 0
    for n, word in enumerate(words):
        count += sum(1 for character in word if character.isalnum())
        if count >= letters:
            return words[: n + 1]
    return words


def _set_in(extract: Sequence[str], others: Sequence[str], draw: random.Random) -> str:
    """An extract within a page of other matter, as in a newsletter."""
    words = draw.choice(others).split()
    at = draw.randrange(40, 200)
    return " ".join([*words[:at], *extract, *words[at + len(extract) :]])


def _found(index: WordIndex, case: _Case, spent: list[float]) -> Figure:
    """Set the pairs of a case into the index and ask for each; `spent` gains what each question took, in ms."""
    sides = ("one", "other")
    index.add(
        (f"{side}-{n}", text) for n, pair in enumerate(case.pairs) for side, text in zip(sides, pair, strict=True)
    )
    found = 0
    for n in range(len(case.pairs)):
        began = time.perf_counter()
        matches = index.matches(f"one-{n}", family_of=str)
        spent.append(1000 * (time.perf_counter() - began))
        found += any(match.key == f"other-{n}" and _is(match, case.wanted) for match in matches)
    index.drop([f"{side}-{n}" for n in range(len(case.pairs)) for side in sides])
    name = f"found ({case.wanted}): {case.name}"
    return Figure(name=name, value=found / len(case.pairs), unit="", promised=case.promised, more_is_better=True)


def _is(match: TextMatch, wanted: Likeness) -> bool:
    return wanted is Likeness.POSSIBLE or match.likeness is Likeness.COPY


def _unrelated(index: WordIndex, pages: Sequence[Page]) -> Iterator[Figure]:
    """Matches between pages of different packages; those of one package do repeat themselves."""
    index.add((f"{n}", page.text) for n, page in enumerate(pages))
    asked = range(0, len(pages), 4)
    false = {Likeness.POSSIBLE: 0, Likeness.COPY: 0}
    for n in asked:
        for match in index.matches(f"{n}", family_of=str):
            if match.key.isdigit() and pages[int(match.key)].package != pages[n].package:
                false[match.likeness] += 1
    pairs = sum(1 for n in asked for page in pages if page.package != pages[n].package)
    index.drop([f"{n}" for n in range(len(pages))])
    several = sum(false.values())
    of = f"of {pairs} unrelated pairs"
    yield Figure(name=f"false, possible and copy, {of}", value=several, unit="", promised=pairs / 3369)
    yield Figure(name=f"false copies, {of}", value=false[Likeness.COPY], unit="", promised=pairs / 3369)
    bound = (several + 1.645 * sqrt(several) + 3) / pairs  # rough: 3 / N for none
    yield Figure(name="their rate, at most (19 of 20)", value=1e6 * bound, unit="/million")


def _offices(folder: Path, pages: Sequence[Page], draw: random.Random) -> Iterator[Figure]:
    for letters in (OFFICE, 5):
        for rate in (0.0, 0.05, 0.10):
            index = WordIndex(folder / f"office-{letters}-{rate}")
            misread = a_misreader(rate, draw)
            bodies = draw.sample([page.text for page in pages], letters)
            texts = [misread(text) for text in office_letters(bodies, draw)]
            index.add((f"{n}", text) for n, text in enumerate(texts))
            asked = draw.sample(range(letters), min(letters, ASKED_PEERS))
            alone = sum(not index.matches(f"{n}", family_of=str) for n in asked) / len(asked)
            name = f"alike to no other: {letters} letters of an office, {rate:.0%} misread"
            yield Figure(name=name, value=alone, unit="", promised=1, more_is_better=True)


def _peers(case: _Case, draw: random.Random) -> Iterator[Figure]:
    if case.promised is None:
        return
    pairs = draw.sample(case.pairs, ASKED_PEERS)
    for name, is_found in _PEERS.items():
        share = sum(is_found(*pair) for pair in pairs) / len(pairs)
        yield Figure(name=f"{name}: {case.name}", value=share, unit="", more_is_better=True)


def _false_of_peers(pages: Sequence[Page], draw: random.Random) -> Iterator[Figure]:
    pairs = [pair for pair in combinations(draw.sample(pages, ASKED), 2) if pair[0].package != pair[1].package]
    pairs = draw.sample(pairs, 300)
    for name, is_found in _PEERS.items():
        false = sum(is_found(one.text, other.text) for one, other in pairs)
        yield Figure(name=f"{name}: false of {len(pairs)} unrelated pairs", value=false, unit="")


def _by_minhash(one: str, other: str) -> bool:
    resemblance = float(_sketch(_WORDS.findall(one.lower())).jaccard(_sketch(_WORDS.findall(other.lower()))))
    return resemblance >= _RESEMBLANCE


def _sketch(words: Sequence[str], seed: int = 1) -> MinHash:
    sketch = MinHash(num_perm=128, seed=seed)
    sketch.update_batch([word.encode() for word in words])
    return sketch


def _by_partial_ratio(one: str, other: str) -> bool:
    return partial_ratio(one, other) >= _PARTIAL


_PEERS: dict[str, Callable[[str, str], bool]] = {"MinHash": _by_minhash, "RapidFuzz": _by_partial_ratio}


def _error_of_minhash(draw: random.Random) -> Iterator[Figure]:
    """The standard error of the peer's estimate over sqrt(J (1 - J) / k) (Broder 1997): a check on how it is called."""
    words = [f"word{n}" for n in range(300)]
    one, other = words[:200], words[100:]  # 100 of 300 in common
    seeds = [draw.randrange(1, 2**31) for _ in range(60)]
    estimates = [_sketch(one, seed).jaccard(_sketch(other, seed)) for seed in seeds]
    expected = sqrt(1 / 3 * 2 / 3 / 128)
    off = sqrt(sum((estimate - 1 / 3) ** 2 for estimate in estimates) / len(estimates))
    yield Figure(name="MinHash: standard error over that of Broder (60 seeds)", value=off / expected, unit="")
