"""Pictures compared in several processes: with their copies, with others, with other views of the same scene.

Everything is named by the names of `likeness.base_pictures`; the prints of the pictures that are held lie in a file of
the folder, and the index over them beside it.
"""

import json
import os
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import combinations
from pathlib import Path
from random import Random

import cv2
from bench.picture_peers import hash_is_near, orb_inliers
from likeness.base_pictures import Base, Half, Kind, bases, forms, scenes
from likeness.transformations import TRANSFORMATIONS, Transformed
from PIL import Image

from provenance.likeness.page_prints import PrintJob, print_page
from provenance.likeness.picture_index import PictureIndex
from provenance.likeness.print_bytes import from_bytes, to_bytes
from provenance.likeness.prints import print_of
from provenance.likeness.proof import Query, prove
from provenance.likeness.values import Likeness, PictureMatch, PicturePrint
from provenance.pages.signatures import JPEG
from provenance.records.readings import Box

Pair = tuple[str, str]
"""Two pictures by name."""
WHOLE = Box(0, 0, 100, 100)
EVERY = 4
"""Each transformation is done to one picture in so many, to others each time."""
PEERS_EVERY = 5
"""Peers see one in so many of the pairs."""
MOST_OTHERS = 1
"""Of the pictures proposed for a transformed one so many that are not its base are proved too."""
WRITTEN = frozenset({Kind.TYPESCRIPT, Kind.FORM})


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """What became of one transformed picture.

    Attributes:
        base: name of the picture that it was made from.
        transformation: name.
        is_proposed: whether the index named its base among the candidates.
        likeness: what the proof against the base came to; distinct where nothing could be proved.
        why: the reason that the proof gave, or what was missing.
        others: what the proofs came to against other pictures that the index proposed, and their names.
        hash_is_near: whether a perceptual hash finds it; None where that was not tried.
        orb: how many points of ORB agree; None where that was not tried.
    """

    base: str
    transformation: str
    is_proposed: bool
    likeness: Likeness
    why: str
    others: tuple[tuple[str, Likeness], ...]
    hash_is_near: bool | None = None
    orb: int | None = None

    @property
    def is_found(self) -> bool:
        """Whether the base was proposed, and proved at least possible."""
        return self.is_proposed and self.likeness is not Likeness.DISTINCT


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """What the comparison of two pictures came to that are no copies; the peers' as above."""

    one: str
    other: str
    likeness: Likeness
    why: str
    hash_is_near: bool | None = None
    orb: int | None = None


@cache
def by_name() -> dict[str, Base]:
    """Every picture that is reported on."""
    pairs = (base for pair in (*scenes(), *forms()) for base in pair)
    return {base.name: base for base in (*pairs, *bases()) if base.half is Half.REPORTING}


def reported() -> tuple[Base, ...]:
    """The pictures of which no two have anything to do with each other."""
    return tuple(base for base in bases() if base.half is Half.REPORTING)


def take_print(name: str) -> tuple[str, PicturePrint | None]:
    """The print of a picture by its name."""
    cv2.setNumThreads(1)
    return name, print_of(by_name()[name].picture(), WHOLE)


def keep(folder: Path, prints: Sequence[tuple[str, PicturePrint]]) -> None:
    """Write prints for the other processes, and index those of the pictures that others are held against."""
    (folder / "names.json").write_text(json.dumps([name for name, _ in prints]), encoding="utf-8")
    (folder / "prints.bin").write_bytes(to_bytes([each for _, each in prints]))
    held = {base.name for base in reported()}
    PictureIndex(folder / "index").add((name, each) for name, each in prints if name in held)


@cache
def held(folder: Path) -> dict[str, PicturePrint]:
    """The prints that were kept."""
    names = json.loads((folder / "names.json").read_text(encoding="utf-8"))
    return dict(zip(names, from_bytes((folder / "prints.bin").read_bytes()), strict=True))


@cache
def _index(folder: Path) -> PictureIndex:
    return PictureIndex(folder / "index")


def is_done_to(base: Base, number: int, transformation: str) -> bool:
    """Whether a transformation is tried on a picture: pages of words are not pictures on a page."""
    order = list(TRANSFORMATIONS).index(transformation)
    is_page = transformation in {"inset on a page", "book print"}
    return (number + order) % EVERY == 0 and not (is_page and base.kind in WRITTEN)


def try_copies(work: tuple[Path, int]) -> list[Tried]:
    """Transform one picture in several ways, and look for it."""
    cv2.setNumThreads(1)
    folder, number = work
    base = reported()[number]
    picture = base.picture()
    wanted = [name for name in TRANSFORMATIONS if is_done_to(base, number, name)]
    return [_try_one(folder, base, picture, name, has_peers=number % PEERS_EVERY == 0) for name in wanted]


def _try_one(folder: Path, base: Base, picture: Image.Image, name: str, *, has_peers: bool) -> Tried:
    made = TRANSFORMATIONS[name](picture, len(base.name))
    queries = [Query(each) for each in prints_of(made, folder)]
    named = [[candidate.key for candidate in _index(folder).candidates(query)] for query in queries]
    matches = [prove(query, held(folder)[base.name]) for query in queries] if base.name in held(folder) else []
    best = max(matches, key=lambda match: (_RANK[match.likeness], match.score), default=None)
    return Tried(
        base=base.name,
        transformation=name,
        is_proposed=any(base.name in names for names in named),
        likeness=best.likeness if best else Likeness.DISTINCT,
        why=best.why if best else "nothing to tell it by was found on one of the two",
        others=tuple(_against_others(folder, base, zip(queries, named, strict=True))),
        hash_is_near=hash_is_near(picture, made.picture) if has_peers else None,
        orb=orb_inliers(picture, made.picture) if has_peers else None,
    )


_RANK = {Likeness.DISTINCT: 0, Likeness.POSSIBLE: 1, Likeness.COPY: 2}


def prints_of(made: Transformed, folder: Path) -> tuple[PicturePrint, ...]:
    """The prints of a transformed picture: of the parts of a page, by the way that a find takes, or of the whole."""
    if not made.is_page:
        whole = print_of(made.picture, WHOLE)
        return () if whole is None else (whole,)
    path = folder / f"page-{os.getpid()}.jpg"
    made.picture.save(path, quality=95)
    return print_page(PrintJob(path=path, media_type=JPEG, page=1, words=made.words))


def _against_others(
    folder: Path, base: Base, found: Iterable[tuple[Query, Sequence[str]]]
) -> Iterator[tuple[str, Likeness]]:
    for query, names in found:
        for name in [name for name in names if by_name()[name].family != base.family][:MOST_OTHERS]:
            yield name, prove(query, held(folder)[name]).likeness


def unrelated_pairs(
    folder: Path, random: Random, by_chance: int
) -> tuple[list[tuple[str, str]], list[tuple[str, str]]]:
    """Pairs of pictures that have nothing in common: those that the index proposes, and some of the rest."""
    names = [base.name for base in reported() if base.name in held(folder)]
    index = PictureIndex(folder / "index")
    asked = {name: {one.key for one in index.candidates(Query(held(folder)[name]))} for name in names}
    pairs = [pair for pair in combinations(names, 2) if by_name()[pair[0]].family != by_name()[pair[1]].family]
    proposed = [(one, other) for one, other in pairs if other in asked[one] or one in asked[other]]
    rest = sorted(set(pairs).difference(proposed))
    return proposed, random.sample(rest, min(by_chance, len(rest)))


def compare(work: tuple[Path, Sequence[Pair], bool]) -> list[Compared]:
    """Prove pairs of pictures, beside the peers where asked."""
    cv2.setNumThreads(1)
    folder, pairs, has_peers = work
    queries = {one: Query(held(folder)[one]) for one, _ in pairs}
    return [_compared(pair, prove(queries[pair[0]], held(folder)[pair[1]]), has_peers=has_peers) for pair in pairs]


def _compared(pair: Pair, match: PictureMatch, *, has_peers: bool) -> Compared:
    pictures = (_picture(pair[0]), _picture(pair[1])) if has_peers else None
    return Compared(
        one=pair[0],
        other=pair[1],
        likeness=match.likeness,
        why=match.why,
        hash_is_near=hash_is_near(*pictures) if pictures else None,
        orb=orb_inliers(*pictures) if pictures else None,
    )


@lru_cache(maxsize=256)
def _picture(name: str) -> Image.Image:
    return by_name()[name].picture()
