"""Which parts of a page are pictures.

A page of text is no picture; the pictures on it are. Any other page is a picture as a whole, and so is each picture on
it: each photograph of an album leaf, what stands within a broad border. Every threshold here is common practice, no
source; they were chosen on made pages.
"""

from collections.abc import Iterable, Mapping, Sequence

import numpy as np
from PIL import Image

from provenance.likeness.line_figures import find_figures
from provenance.likeness.rectangles import Rectangle, rectangle_of
from provenance.likeness.small_page import MOST_NOISE, Marks, SmallPage, make_small
from provenance.likeness.tone_regions import find_tones
from provenance.records.readings import Box

WHOLE_PAGE = Box(0, 0, 100, 100)
"""The part that is a page as a whole."""

PARTS_METHOD = "picture parts 1"
"""The name and version of how parts are found: prints that were taken by another may be of other parts."""

MOST_PARTS = 12
"""More parts of a page than these are not taken, the smallest left out."""

LEAST_SHARE = 0.04
"""A smaller part of a page, as a share of it, is not looked for: an initial, an ornament, a stamp."""

NEARLY_WHOLE = 0.8
"""A part that covers as much of its page is told from it by nothing but a narrow border."""

TEXT_SHARE = 0.5
"""From which share of its ink outside of pictures that stands in words a page is a page of text."""

CAPTION_SHARE = 0.2
"""Words that cover less than this share of what the pictures cover are captions, and make no page of text."""

MOST_WORDS = 0.12
"""A part of which words cover more than this is a piece of text: a cutting, a label, a sheet on the scanner's bed."""

SAME_PLACE = 0.5
"""Two parts that have this share of the smaller one in common are one."""

_LEAST_INK = 0.0003


def picture_parts(page: Image.Image, words: Sequence[Box] = (), placed: Iterable[Box] = ()) -> tuple[Box, ...]:
    """Find the parts of a page that are pictures.

    Args:
        page: upright as delivered, in grey.
        words: the places of the words that were read on it with confidence, in percent of the page.
        placed: the places of pictures that are known already, from how the page is made; they come before others, and
            may be smaller.

    Returns:
        The parts, the whole page first where it is a picture itself, then the largest first; empty for a page of text
        without pictures, and for a blank one. A page on which no words were read is a picture, unless it is blank.
    """
    small = make_small(page, words)
    known = {rectangle_of(box, small.shape): box for box in placed}
    found = [each for each in find_tones(small) if not _lies_on(each.place, known)]
    pieces_of_text = [each.place for each in found if _is_text(each.place, small)]
    tones = [each for each in found if each.place not in pieces_of_text]
    pictures = [each for each in known if not _is_text(each, small)]
    figures = [each for each in find_figures(small) if not _lies_on(each, pieces_of_text)]
    clear = _with_figures(pictures, [each.place for each in tones if each.is_apart], figures)
    vague = [each.place for each in tones if not each.is_apart and not _lies_on(each.place, clear)]
    if _is_page_of_text(small, [*clear, *vague]):
        return _boxes([*clear, *vague], small.shape, known)[:MOST_PARTS]
    if not clear and not vague and _is_blank(small):
        return ()
    return (WHOLE_PAGE, *_boxes(clear, small.shape, known, most=NEARLY_WHOLE))[:MOST_PARTS]


def _is_blank(page: SmallPage) -> bool:
    return float(page.ink.mean()) < _LEAST_INK and page.noise <= MOST_NOISE


def _with_figures(
    known: Sequence[Rectangle], tones: Sequence[Rectangle], figures: Iterable[Rectangle]
) -> list[Rectangle]:
    """Join figures to the other parts: one that they mostly fill is seen in them, another takes their place."""
    parts = list(tones)
    for figure in figures:
        filled = sum(figure.common(each) for each in (*known, *tones))
        if filled < SAME_PLACE * figure.area:
            parts = [each for each in parts if not _lies_on(each, [figure])]
            parts.append(figure)
    return [*known, *parts]


def _is_text(part: Rectangle, page: SmallPage) -> bool:
    return float(page.words[part.inside].mean()) > MOST_WORDS


def _is_page_of_text(page: SmallPage, parts: Iterable[Rectangle]) -> bool:
    """Whether words are most of what is on the page beside its pictures, and more than captions to them."""
    pictures = _marked(parts, page.shape)
    ink = page.ink & ~pictures
    written = int((ink & page.words).sum())
    return (
        written > 0
        and written >= TEXT_SHARE * int(ink.sum())
        and int((page.words & ~pictures).sum()) >= CAPTION_SHARE * int(pictures.sum())
    )


def _boxes(
    parts: Iterable[Rectangle], shape: tuple[int, int], known: Mapping[Rectangle, Box], *, most: float = 1.0
) -> tuple[Box, ...]:
    """Tell parts in percent, the largest first.

    Args:
        parts: in points of the page made small.
        shape: its rows and columns.
        known: the parts whose places are known more closely than by points.
        most: the share of the page above which a part is left out, known or not; one that is not known is left out
            where it is too small, too.
    """
    page = shape[0] * shape[1]
    wanted = [each for each in parts if each.area <= most * page and (each in known or each.area >= LEAST_SHARE * page)]
    return tuple(known.get(each) or each.as_box(shape) for each in sorted(wanted, key=lambda each: (-each.area, each)))


def _lies_on(part: Rectangle, others: Iterable[Rectangle]) -> bool:
    return any(part.common(other) >= SAME_PLACE * min(part.area, other.area) for other in others)


def _marked(parts: Iterable[Rectangle], shape: tuple[int, int]) -> Marks:
    marks = np.zeros(shape, dtype=np.bool_)
    for part in parts:
        marks[part.inside] = True
    return marks
