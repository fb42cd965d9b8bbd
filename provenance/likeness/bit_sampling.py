"""Keys by which marks that differ in few bits are found together, without comparing them all.

Of the bits of a mark a few are drawn, the same ones for every mark: marks that agree in all of these have the same key
and stand in the same cell of a table. Two marks of which a share p of the bits is equal meet in a table of r drawn bits
with chance p^r, and in at least one of b tables with chance 1 - (1 - p^r)^b. (P. Indyk, R. Motwani: Approximate nearest
neighbors: towards removing the curse of dimensionality, STOC 1998: sampling of bits for the Hamming distance.)
"""

import hashlib
from collections.abc import Iterator
from functools import lru_cache
from itertools import count, islice

import numpy as np
import numpy.typing as npt

TABLES = 8
"""How many tables, each of other bits."""

BITS = 24
"""How many bits make a key; at most 32."""

VERSION = "bit sampling 1"
"""Names how bits are drawn; with `TABLES` and `BITS` it tells which keys can be compared."""

_AT_ONCE = 1 << 15


@lru_cache
def drawn_bits(width: int) -> tuple[tuple[int, ...], ...]:
    """Draw the bits of each table for marks of `width` bits.

    The draw is the same on every machine and under every version of every library: bits stand in the order of the
    SHA-256 of their number, and are dealt out to the tables in turn. So no bit is in two tables before all bits are in
    one, and tables fail independently of one another as far as there are bits enough.

    Args:
        width: how many bits a mark has.

    Raises:
        ValueError: a mark has too few bits for a key.
    """
    if width < BITS:
        raise ValueError(f"marks of {width} bits are too short for keys of {BITS}")
    tables: list[tuple[int, ...]] = []
    dealt = _deal(width)
    while len(tables) < TABLES:
        drawn = tuple(islice(dealt, BITS))
        if len(set(drawn)) == BITS:  # else the end of one round and the beginning of the next name one bit twice
            tables.append(drawn)
    return tuple(tables)


def _deal(width: int) -> Iterator[int]:
    for turn in count():
        yield from sorted(range(width), key=lambda bit: hashlib.sha256(f"{VERSION}/{turn}/{bit}".encode()).digest())


def keys_of(marks: npt.NDArray[np.uint8]) -> npt.NDArray[np.uint32]:
    """The keys of marks in each table.

    Args:
        marks: shape (n, bytes).

    Returns:
        Shape (`TABLES`, n).

    Raises:
        ValueError: a mark has too few bits for a key.
    """
    drawn = np.array(drawn_bits(marks.shape[1] * 8))
    places = np.left_shift(np.uint32(1), np.arange(BITS, dtype=np.uint32))
    keys = np.empty((TABLES, len(marks)), dtype=np.uint32)
    for start in range(0, len(marks), _AT_ONCE):
        bits = np.unpackbits(marks[start : start + _AT_ONCE], axis=1)
        for table, chosen in enumerate(drawn):
            keys[table, start : start + _AT_ONCE] = bits[:, chosen] @ places
    return keys
