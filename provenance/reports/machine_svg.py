"""The machine as one picture: each assembly a field with its parts in it, each feature a cell marked by how it stands.

A drawing for the inside of a page: it takes its colours from the page's style sheet, by classes and `currentColor`.
"""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from provenance.reports.date_words import date_words
from provenance.reports.layout import counted
from provenance.reports.machine import Cell, Part, View
from provenance.reports.mark_patterns import fill_of, pattern
from provenance.reports.svg_drawing import Lettering, rounded, text_line
from provenance.reports.svg_lettering import FACE, broken, svg_safe, width_of
from provenance.reports.treemap import Area, squarified

WIDTH = 1200.0
"""Of the drawing, in pixels."""
_LEAST, _USUAL, _MOST = 240.0, 640.0, 1600.0
_ROOM = 320.0
"""How much a feature takes at best, in square pixels."""
EMPTY_SHARE = 0.3
"""How large a component without features is drawn, by the size of a feature."""
SMALLEST_CELL = 7.0
"""The side of a cell under which the features of a component are drawn as one field, in pixels."""
EMPTY = "empty"
"""The pattern of a component without features."""
_GAP = 1.5
_LETTERS = 11.0
_LINE = 13.5
_LONGEST_TITLE = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Links:
    """Where the fields of the picture lead: what stands before a `component/feature`, and before a component's id.

    Attributes:
        feature: to the page of a feature.
        component: to the page of a component.
        part: to the picture of a component alone.
    """

    feature: str
    component: str
    part: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MachineDrawing:
    """The picture.

    Attributes:
        svg: to stand inside a page.
        merged: how many components are drawn as one field, since their features would be too small.
        merged_features: how many features these have, with those of the parts of them.
    """

    svg: str
    merged: int
    merged_features: int


def draw_machine(part: Part, view: View, links: Links) -> MachineDrawing:
    """Draw a component, or the whole machine, with all that it is made up of.

    Args:
        part: the whole machine or a component.
        view: what is marked.
        links: where the fields lead.
    """
    drawer = _Drawer(part, view, links)
    drawn = list(drawer.drawn())
    prefix = drawer.prefix
    order = [*(mark.id for mark in view.marks), EMPTY]
    used = [mark for mark in order if mark in drawer.fields]
    # One shape for all cells of a mark: a browser that prints writes out a pattern anew for each shape.
    fields = [f'<path d="{"".join(drawer.fields[mark])}" fill="{fill_of(prefix, mark)}"/>' for mark in used]
    title = f"{part.name}, {view.words}"
    told = (
        f"{counted(part.features, 'feature')}, each a cell that leads to its page; "
        "the tables below tell the same in words."
    )
    head = (
        f'<svg class="machine" role="group" aria-labelledby="{prefix}-title" aria-describedby="{prefix}-desc" '
        f'viewBox="0 0 {WIDTH:g} {drawer.height:g}" width="{WIDTH:g}" height="{drawer.height:g}" '
        f'font-family="{FACE}" fill="currentColor"><title id="{prefix}-title">{svg_safe(title)}</title>'
        f'<desc id="{prefix}-desc">{svg_safe(told)}</desc>'
        f"<defs>{''.join(pattern(prefix, mark) for mark in used)}</defs>"
    )
    return MachineDrawing(
        svg="\n".join([head, *fields, *drawn, "</svg>"]), merged=drawer.merged, merged_features=drawer.merged_features
    )


class _Drawer:
    """Draws one picture, and counts what it could not draw apart."""

    def __init__(self, part: Part, view: View, links: Links) -> None:
        self.part, self.view, self.links = part, view, links
        self.prefix = f"machine-{view.id}"
        self.merged = self.merged_features = 0
        self.fields: defaultdict[str, list[str]] = defaultdict(list)
        self.shares: dict[str, float] = {}
        for each in reversed(list(part.all_parts())):
            inside = sum(self.shares[other.id] for other in each.parts)
            self.shares[each.id] = len(each.cells) + inside or EMPTY_SHARE
        shares = self.shares[part.id]
        self.height = float(round(min(max(_LEAST, min(_USUAL, 15 * shares), _ROOM * shares / WIDTH), _MOST)))

    def drawn(self) -> Iterator[str]:
        """The fields from the outside in."""
        waiting = [(self.part, Area(0.0, 0.0, WIDTH, self.height))]
        while waiting:
            part, area = waiting.pop()
            if part is not self.part:
                if not part.features and not part.parts:
                    yield self._empty(part, area)
                    continue
                if self._is_too_small(part, area):
                    yield from self._as_one(part, area) if part.features > 1 else self._alone(part, area)
                    continue
                yield from self._framed(part, area)
                area = _inside(part, area)
            things: list[Part | Cell] = [*part.parts, *part.cells]
            shares = [self.shares[each.id] if isinstance(each, Part) else 1.0 for each in things]
            for thing, place in zip(things, squarified(shares, area), strict=True):
                if isinstance(thing, Part):
                    waiting.append((thing, place))
                else:
                    yield self._cell(thing, place)

    def _is_too_small(self, part: Part, area: Area) -> bool:
        inner = _inside(part, area)
        if min(inner.width, inner.height) < SMALLEST_CELL:
            return True
        return inner.size / self.shares[part.id] < SMALLEST_CELL**2

    def _cell(self, cell: Cell, area: Area) -> str:
        field = _inset(area)
        self.fields[self.view.mark_of(cell)].append(_outline(field))
        title = svg_safe(_cut(cell_words(cell)))
        words = "".join(_words_in(cell, area))
        return (
            f'<a href="{svg_safe(self.links.feature + cell.about)}"><title>{title}</title>'
            f"{_rectangle(field, 'cell')}{words}</a>"
        )

    def _framed(self, part: Part, area: Area) -> Iterator[str]:
        yield _rectangle(area, "part")
        heading = _heading(part, area)
        if heading:
            address = svg_safe(self.links.component + part.id)
            line = text_line(Lettering(heading, _LETTERS, bold=True), area.x + 4, area.y + 12.5)
            yield f'<a class="name" href="{address}"><title>{svg_safe(_cut(self._told(part)))}</title>{line}</a>'

    def _empty(self, part: Part, area: Area) -> str:
        title = svg_safe(_cut(f"{part.name}: no feature is entered"))
        field = _inset(area)
        self.fields[EMPTY].append(_outline(field))
        shape = _rectangle(field, "cell empty")
        return f'<a href="{svg_safe(self.links.component + part.id)}"><title>{title}</title>{shape}</a>'

    def _as_one(self, part: Part, area: Area) -> Iterator[str]:
        """One field, parted among the marks of all features in it."""
        self.merged += 1
        self.merged_features += part.features
        counts = {mark: number for mark, number in self.view.counted(part).items() if number}
        total, begin = sum(counts.values()), 0.0
        yield f'<a href="{svg_safe(self.links.part + part.id)}"><title>{svg_safe(_cut(self._told(part)))}</title>'
        is_wide = area.width >= area.height
        for mark, number in counts.items():
            long = (area.width if is_wide else area.height) * number / total
            at = (
                Area(area.x + begin, area.y, long, area.height)
                if is_wide
                else Area(area.x, area.y + begin, area.width, long)
            )
            self.fields[mark].append(_outline(at))
            yield _rectangle(at, "cell")
            begin += long
        yield f"{_rectangle(area, 'part')}</a>"

    def _alone(self, part: Part, area: Area) -> Iterator[str]:
        """The one feature that is in a component, or the component where there is none."""
        cells = [self._cell(cell, area) for cell in part.all_cells()]
        yield from cells or [self._empty(part, area)]

    def _told(self, part: Part) -> str:
        counts = self.view.counted(part)
        by_mark = ", ".join(f"{counts[mark.id]} {mark.words}" for mark in self.view.marks if counts[mark.id])
        return f"{part.name}: {counted(part.features, 'feature')}" + (f": {by_mark}" if by_mark else "")


def cell_words(cell: Cell) -> str:
    """A feature in a few words: of which component, its name, value, grade, and when it is needed."""
    value = cell.shown if cell.shown is not None else "no value"
    needed = f"; needed by {date_words(cell.needed_by)}" if cell.needed_by else ""
    return f"{cell.component}, {cell.name}: {value}; {cell.grade.value if cell.grade else 'not judged'}{needed}"


def _heading(part: Part, area: Area) -> str:
    """As much of the name as stands over a field; empty where there is no room for any of it."""
    if area.width < 48 or area.height < 36:
        return ""
    line = broken(part.name[:_LONGEST_TITLE], area.width - 8, _LETTERS, most=1)
    return line[0] if line and len(line[0]) >= min(4, len(part.name)) else ""


def _inside(part: Part, area: Area) -> Area:
    """The room for what is in a component, under its name."""
    over = 17.0 if _heading(part, area) else _GAP
    return Area(area.x + _GAP, area.y + over, max(area.width - 2 * _GAP, 0.1), max(area.height - over - _GAP, 0.1))


def _words_in(cell: Cell, area: Area) -> Iterator[str]:
    """The name, then the value, each only where it fits whole; on a plate, so that no pattern runs through them."""
    width, room = area.width - 10, area.height - 8
    if width < 24 or room < _LINE:
        return
    lines: list[Lettering] = []
    for text, slanted, most in ((cell.name, False, room), (cell.shown or "", True, room * 0.7)):
        more = _whole(text, width)
        if not more or (len(lines) + len(more)) * _LINE > most:
            break
        lines += [Lettering(line, _LETTERS, slanted=slanted) for line in more]
    if not lines:
        return
    wide = max(width_of(line.text, _LETTERS) for line in lines)
    plate = Area(area.x + 3, area.y + 3, min(wide + 4, area.width - 6), len(lines) * _LINE + 2)
    yield _rectangle(plate, "plate", "#ffffff")
    for number, line in enumerate(lines, start=1):
        yield text_line(line, plate.x + 2, plate.y + number * _LINE - 2.5)


def _whole(text: str, width: float) -> tuple[str, ...]:
    """The lines of a text that is not cut anywhere; none where it has to be."""
    if len(text) > _LONGEST_TITLE or any(width_of(word, _LETTERS) > width for word in text.split()):
        return ()
    return broken(text, width, _LETTERS, most=_LONGEST_TITLE)


def _cut(text: str) -> str:
    return text if len(text) <= _LONGEST_TITLE else f"{text[:_LONGEST_TITLE].rstrip()}…"


def _inset(area: Area) -> Area:
    """The same with a little room round it, where it is large enough."""
    by = min(0.75, area.width / 10, area.height / 10)
    return Area(area.x + by, area.y + by, area.width - 2 * by, area.height - 2 * by)


def _rectangle(area: Area, name: str, fill: str = "none") -> str:
    x, y, width, height = map(rounded, (area.x, area.y, area.width, area.height))
    return f'<rect class="{name}" x="{x}" y="{y}" width="{width}" height="{height}" fill="{fill}"/>'


def _outline(area: Area) -> str:
    x, y, width, height = map(rounded, (area.x, area.y, area.width, area.height))
    return f"M{x} {y}h{width}v{height}h-{width}z"
