"""Which of 1,000 and of 10,000 held pictures could be the same: time, memory and room on the disk.

Held are the fingerprints of drawn and photographed pictures, of parts of them, and for the rest ones put together of
the marks of several of these, some bits flipped: marks of real pictures are alike in clumps, so that some keys have
very many points, and random marks would be found too quickly. Asked about are transformed pictures whose originals are
held.
"""

import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache, partial
from itertools import islice
from pathlib import Path

import numpy as np
from bench.figures import Figure, peak_memory, seconds
from likeness.base_pictures import bases
from likeness.transformations import TRANSFORMATIONS, Transformed
from PIL import Image

from provenance.likeness.picture_index import MOST, PictureIndex
from provenance.likeness.print_bytes import to_bytes
from provenance.likeness.prints import print_of
from provenance.likeness.proof import Query, prove
from provenance.likeness.values import PicturePrint
from provenance.records.readings import Box

HELD = (1_000, 10_000)
MOST_BASES = 60
CROPS = 2
AT_ONCE = 500
ONE_BY_ONE = 20
WHOLE = Box(0, 0, 100, 100)
TOP = Path(__file__).parent.parent.parent

_ASKING = """
import sys
from pathlib import Path
from provenance.likeness.picture_index import PictureIndex
from provenance.likeness.print_bytes import from_bytes
from provenance.likeness.proof import Query
index = PictureIndex(Path(sys.argv[1]))
assert index.keys
for picture in from_bytes(Path(sys.argv[2]).read_bytes()):
    index.candidates(Query(picture))
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sought:
    """A transformed picture, and the key of the one that it was made from."""

    key: str
    change: str
    picture: PicturePrint


def measure(folder: Path) -> Iterator[Figure]:
    """Fill an index with 1,000 and then 10,000 pictures, and ask it about transformed ones."""
    real, sought = _real_and_sought()
    index = PictureIndex(folder / "index")
    holdings = Holdings(real)
    for count in HELD:
        before = len(index.keys)
        first = list(holdings.numbered(before, before + AT_ONCE))
        spent = seconds(partial(index.add, first))
        yield Figure(name=f"{AT_ONCE} pictures added to {before} at once", value=1000 * spent / AT_ONCE, unit="ms each")
        index.add(holdings.numbered(before + AT_ONCE, count - ONE_BY_ONE))
        singly = [seconds(partial(index.add, [each])) for each in holdings.numbered(count - ONE_BY_ONE, count)]
        yield Figure(name=f"one picture added to {count}, median", value=1000 * float(np.median(singly)), unit="ms")
        yield Figure(name=f"one picture added to {count}, slowest of {ONE_BY_ONE}", value=1000 * max(singly), unit="ms")
        yield from _asked(folder, holdings, sought, count)


class Holdings:
    """The pictures held, by number: those that were looked at first, then ones put together of their marks."""

    def __init__(self, real: Sequence[tuple[str, PicturePrint]]) -> None:
        """Remember the real ones."""
        self._real = real
        self._numbers = {key: number for number, (key, _) in enumerate(real)}

    def key_and_print(self, number: int) -> tuple[str, PicturePrint]:
        """The key and the fingerprint of one picture."""
        return self._real[number] if number < len(self._real) else (f"made {number:06}", _made(number, self._real))

    def of(self, key: str) -> PicturePrint:
        """The fingerprint of a key."""
        number = self._numbers.get(key)
        return self.key_and_print(int(key.removeprefix("made ")) if number is None else number)[1]

    def numbered(self, begins: int, ends: int) -> Iterator[tuple[str, PicturePrint]]:
        """The keys and fingerprints of some numbers, the last left out."""
        return map(self.key_and_print, range(begins, ends))


def _real_and_sought() -> tuple[list[tuple[str, PicturePrint]], list[Sought]]:
    """Pictures and parts of them, and for every picture two of the transformations, all of these in turn."""
    random = np.random.default_rng(19340601)
    every = bases()
    held: list[tuple[str, PicturePrint]] = []
    sought = []
    changes = list(TRANSFORMATIONS.items())
    for number, base in enumerate(every[:: -(-len(every) // MOST_BASES)]):
        picture = base.picture()
        if (whole := print_of(picture, WHOLE)) is None:
            continue
        held.append((base.name, whole))
        for name, change in (changes[(2 * number + more) % len(changes)] for more in range(2)):
            if (found := _printed(change(picture, number), picture.size)) is not None:
                sought.append(Sought(key=base.name, change=name, picture=found))
        parts = (print_of(_cut(picture, random), WHOLE) for _ in range(CROPS))
        held += [(f"{base.name}, part {part}", each) for part, each in enumerate(parts) if each is not None]
    return held, sought


def _printed(changed: Transformed, size: tuple[int, int]) -> PicturePrint | None:
    """The fingerprint of a transformed picture; of one that stands on a page that of its part, as it is found there."""
    if not changed.is_page:
        return print_of(changed.picture, WHOLE)
    wide, tall = size
    corners = np.array([(0, 0, 1), (wide, 0, 1), (wide, tall, 1), (0, tall, 1)]) @ changed.homography.T
    across, down = (corners[:, :2] / corners[:, 2:]).T / np.array(changed.picture.size)[:, None] * 100
    return print_of(changed.picture, Box(across.min(), down.min(), np.ptp(across), np.ptp(down)))


def _cut(picture: Image.Image, random: np.random.Generator) -> Image.Image:
    wide, tall = (int(side * random.uniform(0.3, 0.6)) for side in picture.size)
    left, top = (
        int(random.integers(0, size - side + 1)) for size, side in zip(picture.size, (wide, tall), strict=True)
    )
    return picture.crop((left, top, left + wide, top + tall))


def _made(number: int, real: Sequence[tuple[str, PicturePrint]]) -> PicturePrint:
    """Put a fingerprint together of the marks of three real ones, their points elsewhere and turned a little."""
    random = np.random.default_rng(number)
    three = [real[int(place)][1] for place in random.integers(0, len(real), 3)]
    marks = np.concatenate([each.marks for each in three])
    points = np.concatenate([each.points for each in three])
    chosen = random.choice(len(marks), min(len(marks), int(random.integers(200, 601))), replace=False)
    bits = np.unpackbits(marks[chosen], axis=1)
    bits ^= random.random(bits.shape) < random.uniform(0.03, 0.25, (len(chosen), 1))
    points = points[chosen]
    points[:, :2] = random.uniform(0, 1, (len(chosen), 2)) * three[0].small.shape[::-1]
    points[:, 3] += random.normal(0, 40, len(chosen))  # upright things stay upright by and large, letters above all
    points[:, 3] %= 360
    hash_ = int(random.integers(0, 2**63))
    return replace(three[0], hash=hash_, points=points.astype(np.float32), marks=np.packbits(bits, axis=1))


def _candidates(index: PictureIndex, picture: PicturePrint) -> None:
    index.candidates(Query(picture))  # a fresh question each time: the forms are worked out in it


def _proved(query: Query, others: Sequence[PicturePrint]) -> None:
    for other in others:
        prove(query, other)


def _asked(folder: Path, holdings: Holdings, sought: Sequence[Sought], count: int) -> Iterator[Figure]:
    is_full = count == HELD[-1]
    opened = seconds(lambda: PictureIndex(folder / "index"), times=5)
    yield Figure(name=f"index of {count} pictures opened", value=1000 * opened, unit="ms")
    index = PictureIndex(folder / "index")
    prints = lru_cache(maxsize=None)(holdings.of)
    alone, proved, ranks = [], [], []
    for each in sought:
        query = Query(each.picture)
        found = index.candidates(query, most=count)
        ranks.append(next((rank for rank, one in enumerate(found, 1) if one.key == each.key), count + 1))
        others = [prints(one.key) for one in found[:MOST]]
        alone.append(seconds(partial(_candidates, index, each.picture)))
        proved.append(alone[-1] + seconds(partial(_proved, query, others)))
    of = f"of {count} pictures"
    yield Figure(name=f"candidates {of}, median", value=float(np.median(alone)), unit="s")
    yield Figure(name=f"candidates {of}, 95 of 100", value=float(np.quantile(alone, 0.95)), unit="s")
    promised = 1.0 if is_full else None
    yield Figure(
        name=f"candidates {of} and their proof, 95 of 100",
        value=float(np.quantile(proved, 0.95)),
        unit="s",
        promised=promised,
    )
    for rank in (10, MOST, 60):
        share = float(np.mean(np.array(ranks) <= rank))
        yield Figure(name=f"found among the first {rank} {of}", value=share, unit="share", more_is_better=True)
    size = sum(path.stat().st_size for path in (folder / "index").iterdir())
    limit = 60.0 if is_full else None
    yield Figure(name=f"index {of} on disk", value=size / count / 1000, unit="kB each", promised=limit)
    asked = folder / "asked"
    asked.write_bytes(to_bytes([each.picture for each in islice(sought, 0, None, 10)]))
    memory = peak_memory(sys.executable, [sys.executable, "-c", _ASKING, str(folder / "index"), str(asked)], cwd=TOP)
    limit = 500.0 if is_full else None
    yield Figure(name=f"memory of asking an index {of}", value=memory, unit="MB", promised=limit)
