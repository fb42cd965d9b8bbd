"""Place boxes in rows, each below what leads to it, with as few crossing lines as can be found quickly.

The steps are those of K. Sugiyama, S. Tagawa and M. Toda, *Methods for visual understanding of hierarchical system
structures*, 1981: rows by the longest way, points where a line passes a row, sweeps by the mean place of neighbours.
The same boxes and lines in the same order give the same places to the last bit.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from provenance.reports.layered_order import in_few_crossings
from provenance.reports.layered_places import straightened
from provenance.reports.layered_rows import Rows

GAP = 22.0
SLOPE = 32.0

Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """What a box takes, in any unit.

    Attributes:
        width: of the box, more than 0.
        height: of the box.
        head: room above it in which lines run straight down, for words beside them.
    """

    width: float
    height: float
    head: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a box stands: its left edge, its upper edge counted down, and its size."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """Where everything stands.

    Attributes:
        width: of the whole.
        height: of the whole.
        boxes: by name.
        routes: for each line in turn its points, from the lower edge of the upper box to the upper edge of the lower
            one. From the first to the second, the third to the fourth and so on it runs straight down; in between it
            changes its side.
        crossings: how often two lines cross.
    """

    width: float
    height: float
    boxes: Mapping[str, Place]
    routes: tuple[tuple[Point, ...], ...]
    crossings: int


def lay_out(sizes: Mapping[str, Size], lines: Sequence[tuple[str, str]], *, most: int) -> Layout:
    """Lay out boxes that lines join.

    Args:
        sizes: of each box by name, in an order in which no box stands before one that leads to it.
        lines: the upper and the lower box of each; no two the same.
        most: how many boxes may stand side by side; a fuller row is broken into several, and no line crosses that did
            not cross before.

    Raises:
        ValueError: a line leads up by the order of the boxes, or to the box that it comes from.
    """
    names = list(sizes)
    number = {name: place for place, name in enumerate(names)}
    ends = [(number[upper], number[lower]) for upper, lower in lines]
    if any(upper >= lower for upper, lower in ends):
        raise ValueError("a line leads from a box to one that does not stand after it")
    rows, crossings = in_few_crossings(len(names), ends, most=most)
    middles = straightened(rows, [sizes[name].width for name in names] + [0.0] * (rows.points - len(names)), gap=GAP)
    bands = _bands(rows, [sizes[name] for name in names])
    boxes = [
        Place(x=middle - size.width / 2, y=bands[row].top, width=size.width, height=size.height)
        for size, middle, row in zip(sizes.values(), middles, rows.row_of, strict=False)
    ]
    return Layout(
        width=max([*(box.x + box.width for box in boxes), *middles], default=0.0),
        height=bands[-1].bottom if bands else 0.0,
        boxes=dict(zip(names, boxes, strict=True)),
        routes=_routes(rows, middles, bands, boxes),
        crossings=crossings,
    )


@dataclass(frozen=True, slots=True)
class _Band:
    """The heights of a row: where its lines begin to run straight, and where its boxes begin and end at most."""

    straight: float
    top: float
    bottom: float


def _bands(rows: Rows, sizes: Sequence[Size]) -> list[_Band]:
    bands: list[_Band] = []
    for row in rows.order:
        boxes = [sizes[point] for point in row if point < len(sizes)]
        straight = bands[-1].bottom + SLOPE if bands else 0.0
        top = straight + (max((box.head for box in boxes), default=0.0) if bands else 0.0)
        bands.append(_Band(straight, top, top + max((box.height for box in boxes), default=0.0)))
    return bands


def _routes(
    rows: Rows, middles: Sequence[float], bands: Sequence[_Band], boxes: Sequence[Place]
) -> tuple[tuple[Point, ...], ...]:
    starts, ends = _ports(rows, middles, boxes)
    routes = []
    for line, chain in enumerate(rows.chains):
        upper, lower = boxes[chain[0]], boxes[chain[-1]]
        route = [(starts[line], upper.y + upper.height), (starts[line], bands[rows.row_of[chain[0]]].bottom)]
        for point in chain[1:-1]:
            band = bands[rows.row_of[point]]
            route += [(middles[point], band.straight), (middles[point], band.bottom)]
        route += [(ends[line], bands[rows.row_of[chain[-1]]].straight), (ends[line], lower.y)]
        routes.append(tuple(route))
    return tuple(routes)


def _ports(rows: Rows, middles: Sequence[float], boxes: Sequence[Place]) -> tuple[dict[int, float], dict[int, float]]:
    """Where each line leaves its upper box and meets its lower one: side by side, in the order of where they go."""
    leaving: dict[int, list[tuple[float, int]]] = defaultdict(list)
    coming: dict[int, list[tuple[float, int]]] = defaultdict(list)
    for line, chain in enumerate(rows.chains):
        leaving[chain[0]].append((middles[chain[1]], line))
        coming[chain[-1]].append((middles[chain[-2]], line))
    return _spread(leaving, boxes), _spread(coming, boxes)


def _spread(lines: Mapping[int, list[tuple[float, int]]], boxes: Sequence[Place]) -> dict[int, float]:
    return {
        line: boxes[box].x + boxes[box].width * (place + 1) / (len(own) + 1)
        for box, own in lines.items()
        for place, (_, line) in enumerate(sorted(own))
    }
