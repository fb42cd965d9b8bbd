"""What a recogniser left out of a page is read again by itself: its blocks are cut out and set under one another.

One sheet of all blocks is one more recognition, whatever their number; it is read as one block of lines, so that no
layout is looked for, and nothing can be dropped for the sake of one.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from PIL import Image, ImageStat

from provenance.pages.pictures import PagePicture
from provenance.reading.covering import Block, see_ink, stands_for_ink
from provenance.reading.evidence import letters, share_sure
from provenance.reading.recognising import recognise
from provenance.reading.settings import ReadingSettings
from provenance.records.readings import DOUBTFUL_BELOW, Box, Word

_ONE_BLOCK = 6
_MARGIN, _BETWEEN = 0.6, 1.0
_HIGHEST_SHEET = 20_000
_FEWEST_TO_READ, _LARGE = 10, 150
_OVERLAP = 0.3
_LETTERS_OF_PIECES = 0.5
_FEWEST_LETTERS, _BEYOND_DOUBT = 6, 80.0
_WELL_READ = 0.75


@dataclass(frozen=True, slots=True, kw_only=True)
class Completed:
    """The words of a page, with those that were found where none had been read.

    Attributes:
        words: in reading order.
        uncovered: the share of the page's text-like ink that still no word covers, 0 to 1; 0 where it is too little to
            be told from chance.
    """

    words: tuple[Word, ...]
    uncovered: float = 0.0


@dataclass(frozen=True, slots=True)
class _Strip:
    """A block on the sheet: where it was cut out of the page, and where its corner is on the sheet; in points."""

    left: int
    top: int
    right: int
    bottom: int
    across: int
    down: int


def completed(
    page: PagePicture, words: tuple[Word, ...], data: tuple[str, ...], settings: ReadingSettings
) -> Completed:
    """Read what no word covers, where that looks like text.

    What is found comes as lines of its own; the words that were read before stay as they are.

    Args:
        page: its lines level.
        words: that were read on it, with places in percent of it.
        data: names of the recogniser's data.
        settings: with which it was read.

    Raises:
        UnreadableOriginalError: the recogniser gives up.
        ToolMissingError: it is not there any more.
    """
    ink = see_ink(page.image, words)
    left = ink.uncovered(words)
    if sum(block.pieces for block in left.blocks) < _FEWEST_TO_READ:
        return Completed(words=words)
    known = [word.box for word in words if word.box and stands_for_ink(word, left.height)]
    found = []
    for blocks in together(left.blocks, left.height, page.image.height):
        for block, told in zip(blocks, _read_blocks(page, blocks, left.height, data, settings), strict=True):
            new = tuple(word for word in told if _is_new(word, known))
            sure = tuple(word for word in new if (word.confidence or 0.0) >= DOUBTFUL_BELOW)
            is_read = share_sure(new) >= _WELL_READ and letters(sure) >= _LETTERS_OF_PIECES * block.pieces
            if is_read and _says_something(sure):
                found.append(sure)
                known += [word.box for word in sure if word.box]  # blocks may overlap
    if found:
        words = with_blocks(words, found)
        left = ink.uncovered(words)
    return Completed(words=words, uncovered=left.share)


def together(blocks: Sequence[Block], height: float, rows: int) -> Iterator[tuple[Block, ...]]:
    """Choose what is read at once: each large block by itself, for paper and type may differ; the others together.

    A sheet does not grow beyond what the recogniser takes: Tesseract refuses pictures of more than 32,767 rows.

    Args:
        blocks: of one page.
        height: of letters, in percent of the page's height.
        rows: of the page's picture.
    """
    yield from ((block,) for block in blocks if block.pieces >= _LARGE)
    sheet: list[Block] = []
    high = 0.0
    for block in blocks:
        if block.pieces >= _LARGE:
            continue
        needed = (block.box.h + (2 * _MARGIN + _BETWEEN) * height) * rows / 100
        if sheet and high + needed > _HIGHEST_SHEET:
            yield tuple(sheet)
            sheet, high = [], 0.0
        sheet.append(block)
        high += needed
    if sheet:
        yield tuple(sheet)


def _read_blocks(
    page: PagePicture, blocks: Sequence[Block], height: float, data: tuple[str, ...], settings: ReadingSettings
) -> list[tuple[Word, ...]]:
    """Read blocks on one sheet; give the words of each with their places on the page."""
    sheet, strips = _sheet(page.image, blocks, height)
    # Doubled where the page was, whatever the width of the sheet.
    double = sheet.width + 1 if page.image.width < settings.double_below else 0
    told = recognise(replace(page, image=sheet), data, replace(settings, layout_mode=_ONE_BLOCK, double_below=double))
    return [tuple(_words_of(strip, told, sheet.size, page.image.size)) for strip in strips]


def _says_something(words: Sequence[Word]) -> bool:
    """Whether words are more than what is read by chance into the specks of a photograph: a number, or some letters."""
    return letters(words) >= _FEWEST_LETTERS or any(
        any(map(str.isdigit, word.text)) and (word.confidence or 0.0) >= _BEYOND_DOUBT for word in words
    )


def _sheet(image: Image.Image, blocks: Sequence[Block], height: float) -> tuple[Image.Image, list[_Strip]]:
    """Set blocks under one another on paper of the page's tone."""
    wide, high = image.size
    letter = height * high / 100
    margin, between = round(_MARGIN * letter), round(_BETWEEN * letter)
    strips, down = [], between
    for box in (block.box for block in blocks):
        strip = _Strip(
            max(0, round(box.x * wide / 100) - margin),
            max(0, round(box.y * high / 100) - margin),
            min(wide, round((box.x + box.w) * wide / 100) + margin),
            min(high, round((box.y + box.h) * high / 100) + margin),
            between,
            down,
        )
        strips.append(strip)
        down += strip.bottom - strip.top + between
    size = max(strip.right - strip.left for strip in strips) + 2 * between, down
    sheet = Image.new("L", size, ImageStat.Stat(image).median[0])
    for strip in strips:
        sheet.paste(image.crop((strip.left, strip.top, strip.right, strip.bottom)), (strip.across, strip.down))
    return sheet, strips


def _words_of(strip: _Strip, told: Sequence[Word], sheet: tuple[int, int], page: tuple[int, int]) -> Iterator[Word]:
    """Give the words of a strip with their places on the page."""
    for word in told:
        if word.box is None:
            continue
        across, down = word.box.x * sheet[0] / 100, word.box.y * sheet[1] / 100
        wide, high = word.box.w * sheet[0] / 100, word.box.h * sheet[1] / 100
        if strip.down <= down + high / 2 < strip.down + strip.bottom - strip.top:
            yield replace(
                word,
                box=_on_page(across - strip.across + strip.left, down - strip.down + strip.top, (wide, high), page),
            )


def _on_page(left: float, top: float, size: tuple[float, float], page: tuple[int, int]) -> Box:
    """Place a word in percent of the page, and no part of it off the page."""
    right, bottom = min(page[0], left + size[0]), min(page[1], top + size[1])
    left, top = max(0.0, left), max(0.0, top)
    return Box(
        round(100 * left / page[0], 3),
        round(100 * top / page[1], 3),
        round(100 * (right - left) / page[0], 3),
        round(100 * (bottom - top) / page[1], 3),
    )


def _is_new(word: Word, known: Sequence[Box]) -> bool:
    """Whether a word stands where none was read before."""
    return word.box is not None and all(_common(word.box, box) <= _OVERLAP for box in known)


def _common(one: Box, other: Box) -> float:
    """Give the area that two boxes share, as a share of the smaller one."""
    wide = min(one.x + one.w, other.x + other.w) - max(one.x, other.x)
    high = min(one.y + one.h, other.y + other.h) - max(one.y, other.y)
    return max(0.0, wide) * max(0.0, high) / max(1e-9, min(one.w * one.h, other.w * other.h))


def with_blocks(words: Sequence[Word], blocks: Sequence[tuple[Word, ...]]) -> tuple[Word, ...]:
    """Put the lines of blocks where they belong among those of a page, and number all lines anew.

    Args:
        words: of the page, in reading order.
        blocks: the words of each, in reading order; none is empty.
    """
    lines = _lines(words)
    for block in blocks:
        at = _place_among(lines, _round(block))
        lines[at:at] = _lines(block)
    return tuple(replace(word, line=number) for number, line in enumerate(lines, start=1) for word in line)


def _lines(words: Sequence[Word]) -> list[list[Word]]:
    lines: dict[int, list[Word]] = {}
    for word in words:
        lines.setdefault(word.line, []).append(word)
    return list(lines.values())


def _place_among(lines: Sequence[Sequence[Word]], block: Box) -> int:
    """Give how many lines of a page come before a block: all up to the first that stands below it, or right of it."""
    for number, line in enumerate(lines):
        box = _round(line)
        is_beside = box.y < block.y + block.h and block.y < box.y + box.h
        is_in_line = box.x < block.x + block.w and block.x < box.x + box.w
        is_below, is_right = box.y + box.h / 2 > block.y + block.h, box.x + box.w / 2 > block.x + block.w
        if (is_in_line and is_below) or (is_beside and is_right):
            return number
    return len(lines)


def _round(words: Sequence[Word]) -> Box:
    """Give the box round words."""
    boxes = [word.box for word in words if word.box]
    left, top = min(box.x for box in boxes), min(box.y for box in boxes)
    right, bottom = max(box.x + box.w for box in boxes), max(box.y + box.h for box in boxes)
    return Box(left, top, right - left, bottom - top)
