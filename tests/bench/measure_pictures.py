"""Pictures found again after 22 transformations, and pictures that only look alike, beside a hash and points of ORB.

No picture reported on is one by which thresholds were chosen. A copy counts as found when the index over all of them
proposes its base and the proof calls the two a copy or possible. What was missed, and what was taken for a copy that is
none, is listed in `.bench/pictures.txt`.
"""

import multiprocessing
import statistics
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from itertools import pairwise
from pathlib import Path
from random import Random
from typing import Any

from bench.figures import Figure, seconds
from bench.picture_pairs import (
    WHOLE,
    WRITTEN,
    Compared,
    Tried,
    by_name,
    compare,
    held,
    keep,
    reported,
    take_print,
    try_copies,
    unrelated_pairs,
)
from bench.picture_peers import LEAST_INLIERS, orb_inliers
from likeness.base_pictures import Half, forms, scenes
from likeness.transformations import TRANSFORMATIONS
from PIL import Image

from provenance.likeness.picture_index import PictureIndex
from provenance.likeness.prints import print_of
from provenance.likeness.proof import Query, prove
from provenance.likeness.values import Likeness, PicturePrint
from provenance.workers.limits import usable_cores

RECALL, RECALL_ON_AVERAGE = 0.95, 0.98
SAME_SCENE, SAME_FORM = 0.005, 0.05
LISTED = Path(__file__).parent.parent.parent / ".bench" / "pictures.txt"
BY_CHANCE, SEEN_BY_PEERS = 1500, 300
"""So many pairs of those that the index does not propose are proved too, and so many of them shown to peers."""
_SLICE = 40
_PEERS = f"plain ORB, {LEAST_INLIERS} points or more"


def measure(folder: Path) -> Iterator[Figure]:
    """Yield the recall for each transformation, what was taken for a copy and is none, and the time of it."""
    with ProcessPoolExecutor(usable_cores(), mp_context=multiprocessing.get_context("spawn")) as pool:
        printed = list(pool.map(take_print, by_name(), chunksize=4))
        keep(folder, [(name, each) for name, each in printed if each is not None])
        tried = [one for some in pool.map(try_copies, [(folder, n) for n in range(len(reported()))]) for one in some]
        yield from _recall(tried)
        proposed, by_chance = unrelated_pairs(folder, Random(9), BY_CHANCE)
        chosen = _compared(pool, folder, proposed, has_peers=False)
        others = _compared(pool, folder, by_chance[:SEEN_BY_PEERS], has_peers=True)
        others += _compared(pool, folder, sorted(by_chance[SEEN_BY_PEERS:]), has_peers=False)
        yield from _unrelated(tried, chosen, others)
        for name, pairs, most in (("photographs of one scene", scenes(), SAME_SCENE), ("one form", forms(), SAME_FORM)):
            named = [(one.name, other.name) for one, other in pairs if one.half is Half.REPORTING]
            alike = _compared(pool, folder, named, has_peers=True)
            yield from _alike(name, alike, most)
            chosen += alike
    _list(tried, [*chosen, *others])
    yield from _times(folder)


def _compared(
    pool: ProcessPoolExecutor, folder: Path, pairs: Sequence[tuple[str, str]], *, has_peers: bool
) -> list[Compared]:
    there = held(folder)
    sound = [pair for pair in pairs if there.keys() >= set(pair)]
    work = [(folder, sound[start : start + _SLICE], has_peers) for start in range(0, len(sound), _SLICE)]
    return [one for some in pool.map(compare, work) for one in some]


def _share(count: int, of: int) -> float:
    return count / of if of else 0.0


def _recall(tried: Sequence[Tried]) -> Iterator[Figure]:
    shares = []
    for name in TRANSFORMATIONS:
        these = [one for one in tried if one.transformation == name]
        shares.append(_share(sum(one.is_found for one in these), len(these)))
        yield Figure(
            name=f"found again after: {name}, of {len(these)}",
            value=shares[-1],
            unit="share",
            promised=RECALL,
            more_is_better=True,
        )
    yield Figure(
        name=f"found again, mean of {len(TRANSFORMATIONS)} transformations",
        value=statistics.mean(shares),
        unit="share",
        promised=RECALL_ON_AVERAGE,
        more_is_better=True,
    )
    copies = sum(one.is_found and one.likeness is Likeness.COPY for one in tried)
    yield Figure(name="found again as a copy, not only as possible", value=_share(copies, len(tried)), unit="share")
    proposed = sum(one.is_proposed for one in tried)
    yield Figure(name="proposed by the index, proved or not", value=_share(proposed, len(tried)), unit="share")
    peers = [one for one in tried if one.orb is not None]
    for name, found in (
        (f"{_PEERS}, the whole page", sum((one.orb or 0) >= LEAST_INLIERS for one in peers)),
        ("a perceptual hash in 16 forms", sum(bool(one.hash_is_near) for one in peers)),
        ("ours, the same pictures", sum(one.is_found for one in peers)),
    ):
        yield Figure(name=f"found again by {name}, of {len(peers)}", value=_share(found, len(peers)), unit="share")


def _unrelated(tried: Sequence[Tried], chosen: Sequence[Compared], others: Sequence[Compared]) -> Iterator[Figure]:
    """What was said of unrelated pairs: all that the index proposes, some by chance, those of transformed pictures.

    Two pages of print or writing stand apart: where their words were read they are never compared as pictures.
    Every pair that counts was proved. Those that the index proposes are the likeliest to be taken for copies. The bound
    on the share, at 95 %, is that of J. Hanley and A. Lippman-Hand, If Nothing Goes Wrong, Is Everything All Right?,
    JAMA 249 (1983), 1743-1745; it takes pairs as independent, which pairs of one picture are not quite.
    """
    pairs = [(one.one, one.other, one.likeness) for one in (*chosen, *others)]
    pairs += [(one.base, other, likeness) for one in tried for other, likeness in one.others]
    written = [answer for one, other, answer in pairs if {by_name()[one].kind, by_name()[other].kind} <= WRITTEN]
    answers = [answer for one, other, answer in pairs if not {by_name()[one].kind, by_name()[other].kind} <= WRITTEN]
    count = len(answers)
    about = f"of {count} unrelated pairs of {len(reported())} pictures"
    wrong = answers.count(Likeness.COPY)
    yield Figure(
        name=f"not called a copy, {about}", value=1 - wrong / count, unit="share", promised=1, more_is_better=True
    )
    yield Figure(name=f"called a copy, {about}", value=wrong, unit="pairs")
    yield Figure(name=f"called possible, {about}", value=answers.count(Likeness.POSSIBLE), unit="pairs")
    if not wrong:
        yield Figure(name="then at most, by the rule of three (3/N)", value=30_000 / count, unit="in 10000")
    pages = f"of {len(written)} of two pages of print or writing, which are compared by their words instead"
    for word, likeness in (("a copy", Likeness.COPY), ("possible", Likeness.POSSIBLE)):
        yield Figure(name=f"called {word}, {pages}", value=written.count(likeness), unit="pairs")
    yield Figure(name="of them proposed by the index", value=len(pairs) - len(others), unit="pairs")
    yield from _peers_on([one for one in others if one.orb is not None], "unrelated pairs by chance")


def _alike(name: str, alike: Sequence[Compared], most: float) -> Iterator[Figure]:
    """What was said of pairs that look alike and are no copies."""
    about = f"pairs of {name}"
    for word, likeness, promised in (("a copy", Likeness.COPY, most), ("possible", Likeness.POSSIBLE, None)):
        count = sum(one.likeness is likeness for one in alike)
        yield Figure(
            name=f"called {word}, of {len(alike)} {about}",
            value=_share(count, len(alike)),
            unit="share",
            promised=promised,
        )
    yield from _peers_on(alike, about)


def _peers_on(pairs: Sequence[Compared], about: str) -> Iterator[Figure]:
    by_orb = sum((one.orb or 0) >= LEAST_INLIERS for one in pairs)
    yield Figure(name=f"called a copy by {_PEERS}, {about}", value=_share(by_orb, len(pairs)), unit="share")
    by_hash = sum(bool(one.hash_is_near) for one in pairs)
    yield Figure(name=f"called a copy by a perceptual hash, {about}", value=_share(by_hash, len(pairs)), unit="share")


def _list(tried: Sequence[Tried], compared: Sequence[Compared]) -> None:
    """Write down what went wrong, one line each."""
    lines = [
        f"missed: {one.base}: {one.transformation}: {one.why}" + ("" if one.is_proposed else " (not proposed)")
        for one in tried
        if not one.is_found
    ]
    lines += [
        f"{likeness}: {one.base}, {one.transformation}, and {other}"
        for one in tried
        for other, likeness in one.others
        if likeness is not Likeness.DISTINCT
    ]
    lines += [
        f"{one.likeness}: {one.one} and {one.other}: {one.why}"
        for one in compared
        if one.likeness is not Likeness.DISTINCT
    ]
    LISTED.parent.mkdir(exist_ok=True)
    LISTED.write_text("".join(f"{line}\n" for line in lines), encoding="utf-8")


def _times(folder: Path) -> Iterator[Figure]:
    """What one print, one proof and one question to the index take, one after the other, on one core."""
    names = [base.name for base in reported() if base.name in held(folder)][:: max(1, len(reported()) // 30)]
    pictures = [by_name()[name].picture() for name in names]
    prints, index = held(folder), PictureIndex(folder / "index")
    queries = [Query(prints[name]) for name in names]
    yield _median("a print of a picture", lambda one: print_of(one, WHOLE), pictures)
    yield _median("candidates from the index, of a new picture", index.candidates, queries)
    others = [(query, prints[name]) for query, name in zip(queries, names[1:], strict=False)]
    yield _median("the proof of one candidate that is no copy", lambda pair: prove(*pair), others)
    copies = [(query, each) for query, one in zip(queries, pictures, strict=True) if (each := _negative(one))]
    yield _median("the proof of a copy, a mirrored negative", lambda pair: prove(*pair), copies)
    yield _median("a comparison by plain ORB, points and all", lambda two: orb_inliers(*two), list(pairwise(pictures)))


def _negative(picture: Image.Image) -> PicturePrint | None:
    return print_of(TRANSFORMATIONS["mirrored negative"](picture, 1).picture, WHOLE)


def _median(name: str, work: Callable[[Any], object], things: Sequence[Any]) -> Figure:
    value = statistics.median(seconds(partial(work, thing)) for thing in things)
    return Figure(name=name, value=1000 * value, unit="ms")
