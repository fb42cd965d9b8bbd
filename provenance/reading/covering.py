"""Which ink of a page looks like text and is not covered by any word that was read, seen in a reduced picture.

A recogniser that finds the layout by itself drops columns and paragraphs, and does not say so. Ink is parted into
pieces that hang together. Pieces as large as letters, or as a few letters that touch, may be text: rules, frames, edges
and dark areas are larger, specks and stops are smaller. Pieces that stand close together are a block, and a block looks
like text where most of its pieces stand in line with a neighbour, as letters do and what a photograph shows does not.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from provenance.reading.leaning import Levels, darkness, reduction
from provenance.reading.pieces import Marks, Pieces, pieces_of
from provenance.records.readings import DOUBTFUL_BELOW, Box, Word

_USUAL_HEIGHT, _LEAST_HEIGHT, _HIGH_ENOUGH = 0.009, 4.0, 8.0
_FEWEST_SURE = 10
_LOWEST, _HIGHEST, _WIDEST = 0.5, 3.0, 8.0
_TALLEST_WORD = 3.0
_GROWN = 0.35
_BESIDE, _BELOW = 1.2, 2.0
_OF_PRINT, _PALEST = 0.4, 6.0
_LEVEL, _OTHER_EDGE, _NEXT = 0.16, 0.7, 1.5
_AT_ONCE = 256
_IN_LINE, _SURELY_IN_LINE = 0.65, 0.8
_FEWEST_PIECES, _FEWEST_FOR_SURE = 2, 8
_FEWEST_TO_TELL, _LEAST_TO_TELL = 40, 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A part of a page that looks like text and is not covered by words.

    Attributes:
        box: round its pieces, in percent of the picture.
        pieces: how many there are in it, each a letter or a few.
        level: the share of them that stand in line with a neighbour, 0 to 1.
        ink: of its pieces, in points of the reduced picture.
    """

    box: Box
    pieces: int
    level: float
    ink: int

    @property
    def is_text(self) -> bool:
        """Whether it is beyond doubt that this is text, without it being read.

        Measured: text that is too worn to be read has .78 and more in line, what photographs show mostly below .55,
        and small parts of them by chance any share.
        """
        return self.level >= _SURELY_IN_LINE and self.pieces >= _FEWEST_FOR_SURE


@dataclass(frozen=True, slots=True, kw_only=True)
class Uncovered:
    """What of a page looks like text and is not covered by words.

    Attributes:
        blocks: from the top down.
        covered: the ink that words cover, in points of the reduced picture.
        height: of letters, in percent of the picture's height.
    """

    blocks: tuple[Block, ...]
    covered: int
    height: float

    @property
    def share(self) -> float:
        """How much of the page's text is left, by its ink, 0 to 1; 0 also where that is too little to be told."""
        sure = [block for block in self.blocks if block.is_text]
        ink = sum(block.ink for block in sure)
        share = ink / max(1, ink + self.covered)
        return share if sum(block.pieces for block in sure) >= _FEWEST_TO_TELL and share >= _LEAST_TO_TELL else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PageInk:
    """The ink of a page that may be text; it is seen once, and may be held against several readings.

    Attributes:
        letters: pieces as large as letters.
        height: of letters, in points of the reduced picture.
        rows: of the reduced picture.
        columns: likewise.
    """

    letters: Pieces
    height: float
    rows: int
    columns: int

    def uncovered(self, words: Sequence[Word]) -> Uncovered:
        """See what no word covers.

        Args:
            words: with places in percent of the picture; what is no word by its height covers nothing.
        """
        letters = self.letters
        middle = (letters.top + letters.bottom) // 2, (letters.left + letters.right) // 2
        is_covered = _covered((self.rows, self.columns), words, self.height)[middle]
        rest = letters.chosen(~is_covered)
        blocks = [self._block(pieces) for pieces in _blocks(rest, self)]
        return Uncovered(
            blocks=tuple(block for block in blocks if block.level >= _IN_LINE),
            covered=int(letters.area[is_covered].sum()),
            height=100 * self.height / self.rows,
        )

    def _block(self, pieces: Pieces) -> Block:
        level = float(in_line(pieces, self.height).mean())
        return Block(box=self._box(pieces), pieces=len(pieces), level=level, ink=int(pieces.area.sum()))

    def _box(self, pieces: Pieces) -> Box:
        left, top = 100 * int(pieces.left.min()) / self.columns, 100 * int(pieces.top.min()) / self.rows
        right, bottom = 100 * int(pieces.right.max()) / self.columns, 100 * int(pieces.bottom.max()) / self.rows
        return Box(left, top, right - left, bottom - top)


def see_ink(image: Image.Image, words: Sequence[Word]) -> PageInk:
    """See the ink of a page that may be text.

    Args:
        image: grey, its lines level.
        words: that were read, with places in percent of this picture: how high and how dark its letters are.
    """
    on_page = _letter_height(image.height, words)
    dark = darkness(image, max(reduction(image), int(on_page / _HIGH_ENOUGH)))
    rows, columns = dark.shape
    height = max(_LEAST_HEIGHT, on_page * rows / image.height)
    pieces = pieces_of(dark > _palest_print(dark, _covered((rows, columns), words, height)))
    is_letter = (pieces.high >= _LOWEST * height) & (pieces.high <= _HIGHEST * height)
    letters = pieces.chosen(is_letter & (pieces.wide <= _WIDEST * height))
    return PageInk(letters=letters, height=height, rows=rows, columns=columns)


def stands_for_ink(word: Word, height: float) -> bool:
    """Whether a word covers what stands in its box: a frame or a picture that is taken for a letter does not.

    Args:
        word: as read.
        height: of letters, in percent like its box.
    """
    is_too_high = word.box is None or word.box.h > _TALLEST_WORD * height
    is_sure = (word.confidence or 0.0) >= DOUBTFUL_BELOW
    return any(map(str.isalnum, word.text)) and (is_sure or not is_too_high)


def _letter_height(rows: int, words: Sequence[Word]) -> float:
    """Give the middle height of the words that were read surely; where there are few, a usual height of print."""
    sure = [word.box.h for word in words if word.box and (word.confidence or 0.0) >= DOUBTFUL_BELOW]
    share = float(np.median(sure)) / 100 if len(sure) >= _FEWEST_SURE else _USUAL_HEIGHT
    return share * rows


def _covered(shape: tuple[int, int], words: Sequence[Word], height: float) -> Marks:
    """Mark the boxes of words, a little grown."""
    rows, columns = shape
    marks = np.zeros(shape, dtype=np.bool_)
    more = _GROWN * height
    for word in words:
        if word.box and stands_for_ink(word, 100 * height / rows):
            left, top = word.box.x * columns / 100 - more, word.box.y * rows / 100 - more
            right, bottom = left + word.box.w * columns / 100 + 2 * more, top + word.box.h * rows / 100 + 2 * more
            marks[max(0, int(top)) : int(bottom) + 1, max(0, int(left)) : int(right) + 1] = True
    return marks


def _palest_print(dark: Levels, covered: Marks) -> float:
    """Give how dark print is at least, beside the words that were read; beside all ink where there are none."""
    known = dark[covered] if covered.any() else dark
    known = known[known > 0]
    return max(_PALEST, _OF_PRINT * float(np.percentile(known, 90))) if known.size else _PALEST


def _blocks(pieces: Pieces, page: PageInk) -> list[Pieces]:
    """Part pieces into blocks of those that stand close together, from the top down; a lone piece is none."""
    cell = page.height / 2
    cells = np.zeros((int(page.rows / cell) + 2, int(page.columns / cell) + 2), dtype=np.bool_)
    beside, below = _BESIDE * page.height / 2, _BELOW * page.height / 2
    left, right = np.maximum(pieces.left - beside, 0) // cell, (pieces.right + beside) // cell
    top, bottom = np.maximum(pieces.top - below, 0) // cell, (pieces.bottom + below) // cell
    for edges in np.stack([left, top, right, bottom], axis=1).astype(np.int64).tolist():
        cells[edges[1] : edges[3] + 1, edges[0] : edges[2] + 1] = True
    areas = pieces_of(cells)
    across = (pieces.left + pieces.right) / 2 // cell
    down = (pieces.top + pieces.bottom) / 2 // cell
    found = []
    for number in np.argsort(areas.top, kind="stable").tolist():
        is_within = (across >= areas.left[number]) & (across < areas.right[number])
        block = pieces.chosen(is_within & (down >= areas.top[number]) & (down < areas.bottom[number]))
        if len(block) >= _FEWEST_PIECES:
            found.append(block)
    return found


def in_line(pieces: Pieces, height: float) -> Marks:
    """Mark the pieces that stand in line with a neighbour: their lower or upper edges are level.

    Args:
        pieces: of a page whose lines lie level.
        height: of letters, in points of the picture.
    """
    order = np.argsort(pieces.bottom, kind="stable")
    ordered = pieces.chosen(order)
    marks = np.zeros(len(pieces), dtype=np.bool_)
    for begin in range(0, len(pieces), _AT_ONCE):
        some = slice(begin, begin + _AT_ONCE)
        lowest, highest = ordered.bottom[some][-1] + height, ordered.bottom[begin] - height
        near = slice(*np.searchsorted(ordered.bottom, (highest, lowest)).tolist())
        level = _are_level(ordered.chosen(some), ordered.chosen(near), height)
        marks[some] |= level.any(axis=1)
        marks[near] |= level.any(axis=0)
    back = np.empty_like(marks)
    back[order] = marks
    return back


def _are_level(some: Pieces, others: Pieces, height: float) -> Marks:
    """Whether the second of each pair stands next to the first, to its right, and level with it."""
    gap = others.left[None, :] - some.right[:, None]
    upper = np.abs(others.top[None, :] - some.top[:, None]) / height
    lower = np.abs(others.bottom[None, :] - some.bottom[:, None]) / height
    is_next = (gap >= -_LEVEL * height) & (gap <= _NEXT * height)
    is_level: NDArray[np.bool_] = (np.minimum(upper, lower) <= _LEVEL) & (np.maximum(upper, lower) <= _OTHER_EDGE)
    return is_next & is_level & (others.right[None, :] > some.right[:, None])
