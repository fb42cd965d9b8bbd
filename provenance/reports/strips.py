"""The strip of a page that is shown around words that were found on it, and where on the strip they stand."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from provenance.records.regions import Region, RegionUnit, common_part, parse_region

BESIDE = Decimal("1.6")
"""How much of the page is shown above and below the words, in heights of a word: about a line each way."""

WIDE = 40
"""How wide a strip is at least, in heights of a word, each a share of its own side of the page: ten words or so."""

_LEAST = Decimal(1)
_ALL = Decimal(100)
_HUNDREDTH = Decimal("0.01")
_MOST_MARKED = 60
"""So many places on a page are looked at; a page that holds more is marked where it holds the first of them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """A strip of a page.

    Attributes:
        region: which part of the page it is, as a percent fragment.
        marks: where on it the words stand: left, top, width and height in percent of the strip.
    """

    region: str
    marks: tuple[tuple[Decimal, Decimal, Decimal, Decimal], ...]


def strip_around(regions: Iterable[str], within: Region | None = None) -> Strip | None:
    """Choose the strip that shows most of the words found on a page, the first where several show as many.

    Args:
        regions: where the words stand, as percent fragments, in order.
        within: the part of the page that is the source; None for the whole page.

    Returns:
        None where no word has a place, or none lies in that part.
    """
    found = [parse_region(each) for each in regions][:_MOST_MARKED]
    best: Strip | None = None
    for each in found:
        strip = _strip(each, found, within)
        if strip and (best is None or len(strip.marks) > len(best.marks)):
            best = strip
    return best


def _strip(around: Region, found: Iterable[Region], within: Region | None) -> Strip | None:
    height = max(around.h, _LEAST / 2)
    width = min(_ALL, max(around.w + 2 * height, height * WIDE))
    left = max(Decimal(0), min(around.x + around.w / 2 - width / 2, _ALL - width))
    top = max(Decimal(0), around.y - height * BESIDE)
    bottom = min(_ALL, around.y + around.h + height * BESIDE)
    strip = Region(unit=RegionUnit.PERCENT, x=_down(left), y=_down(top), w=_up(width), h=_up(bottom - top))
    shown = common_part(strip, within or _WHOLE)
    if shown is None:
        return None
    marks = [_mark(common, shown) for each in found if (common := common_part(each, shown)) and _is_most(common, each)]
    return Strip(region=str(shown), marks=tuple(marks)) if marks else None


_WHOLE = Region(unit=RegionUnit.PERCENT, x=Decimal(0), y=Decimal(0), w=_ALL, h=_ALL)


def _is_most(common: Region, of: Region) -> bool:
    return common.w * common.h * 2 >= of.w * of.h


def _mark(part: Region, strip: Region) -> tuple[Decimal, Decimal, Decimal, Decimal]:
    return (
        _down((part.x - strip.x) / strip.w * 100),
        _down((part.y - strip.y) / strip.h * 100),
        _up(part.w / strip.w * 100),
        _up(part.h / strip.h * 100),
    )


def _down(figure: Decimal) -> Decimal:
    return figure.quantize(_HUNDREDTH, ROUND_FLOOR)


def _up(figure: Decimal) -> Decimal:
    return figure.quantize(_HUNDREDTH, ROUND_CEILING)
