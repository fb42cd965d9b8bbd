"""The descent of sources as one drawing in SVG: black on white, the oldest at the top, to be printed on A4.

No script, nothing fetched, no colour that has to be told from another: shape, outline and words say the same as shade.
The same answer gives the same bytes.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from math import isqrt

from provenance.reports.cautioned import caution_sentences
from provenance.reports.descended import Descended
from provenance.reports.descent_boxes import LINE, WIDTH, Box, Lettering, Shape, source_box, tie_box, value_box
from provenance.reports.descent_lines import Line, Stroke, lines_of
from provenance.reports.descent_words import bottleneck_words, circle_words, named, resting_words
from provenance.reports.layered_layout import Layout, Place, Point, Size, lay_out
from provenance.reports.layout import counted
from provenance.reports.svg_lettering import FACE, broken, svg_safe, width_of
from provenance.rules.cautions import FITNESS

_ABREAST = 4
"""How many boxes stand side by side at most, as wide as A4 takes; more in a family that fits on no page anyway."""
_MARGIN = 20.0
_LEAST_WIDTH = 640.0
_LABEL = 10.0
_LABEL_ROW = 13.0
_SHOWN = 6
_A4 = (703.0, 1032.0)
"""A4 upright without margins of 12 mm, in pixels of 1/96 inch."""
_SMALLEST = 0.6
"""To how much a drawing that is larger than the page is scaled down at most: 10 pixels are 4.5 points then."""

_FILLS: Mapping[Shape, str] = {
    Shape.PICTURE: "#ffffff",
    Shape.PAPER: "#f2f2f2",
    Shape.TOLD: "#e4e4e4",
    Shape.THING: "#d6d6d6",
    Shape.UNTAGGED: "#ffffff",
    Shape.ORIGIN: "#ffffff",
    Shape.VALUE: "#ffffff",
}
_DASHES: Mapping[Stroke, str] = {
    Stroke.MADE: "",
    Stroke.WORD: "10 3 2 3",
    Stroke.COPY: "",
    Stroke.OPEN: "7 5",
    Stroke.ORIGIN: "1.5 4",
    Stroke.EVIDENCE: "",
}
_WEIGHTS: Mapping[Stroke, float] = {Stroke.COPY: 3.0, Stroke.EVIDENCE: 2.2}


def descended_svg(descended: Descended) -> str:
    """Draw it."""
    boxes = {box.id: box for box in _boxes(descended)}
    lines = lines_of(descended)
    labelled = _labelled(lines)
    sizes = {
        name: Size(width=WIDTH, height=box.height, head=_LABEL_ROW * len(labelled.get(name, ())) + 12.0)
        for name, box in boxes.items()
    }
    layout = lay_out(
        sizes, [(line.upper, line.lower) for line in lines], most=max(_ABREAST, isqrt(len(boxes)) * 2 // 3)
    )
    inner = max(layout.width, _LEAST_WIDTH)
    head, top = _heading(descended, inner)
    legend, bottom = _legend(list(boxes.values()), lines, inner, top + layout.height + 30.0)
    drawn = [*_strokes(lines, layout), *_outlines(boxes, layout), *_labels(lines, labelled, layout)]
    shift = (inner - layout.width) / 2
    body = [f'<g transform="translate({_n(shift)} {_n(top)})">', *drawn, "</g>"] if boxes else []
    width, height = inner + 2 * _MARGIN, bottom + 2 * _MARGIN
    scale = _scale(width, height)
    size = f'width="{_n(width * scale)}" height="{_n(height * scale)}" viewBox="0 0 {_n(width)} {_n(height)}"'
    named_by = 'role="img" aria-labelledby="descent-title descent-desc"'
    return "\n".join(
        [
            '<?xml version="1.0" encoding="UTF-8"?>',
            f'<svg xmlns="http://www.w3.org/2000/svg" {named_by} {size} font-family="{FACE}" fill="#000000">',
            f'<title id="descent-title">{svg_safe(_title(descended))}</title>',
            f'<desc id="descent-desc">{svg_safe(_told(len(descended.tree.members)))}</desc>',
            f'<rect width="{_n(width)}" height="{_n(height)}" fill="#ffffff"/>',
            f'<g transform="translate({_n(_MARGIN)} {_n(_MARGIN)})">',
            *head,
            *body,
            *legend,
            "</g>",
            "</svg>",
        ]
    )


def _n(value: float) -> str:
    """A figure to a tenth, without a sign where it is nothing."""
    return f"{value + 0.0:.1f}".replace("-0.0", "0.0")


def _scale(width: float, height: float) -> float:
    upright, lying = (min(1.0, page[0] / width, page[1] / height) for page in (_A4, _A4[::-1]))
    return max(upright, lying, _SMALLEST)


def _boxes(descended: Descended) -> Iterator[Box]:
    """The boxes, none before one that a line leads to it from."""
    for number, tie in enumerate(descended.tree.ties, 1):
        yield tie_box(descended, tie, number)
    for source_id in descended.tree.members:
        yield source_box(descended, source_id)
    value = value_box(descended)
    if value is not None:
        yield value


def _title(descended: Descended) -> str:
    if descended.verdict is None:
        return f"Descent of {named(descended, descended.about)}"
    return f"Descent of “{descended.verdict.name}” ({descended.about})"


def _told(members: int) -> str:
    drawn = counted(members, "source is drawn", "sources are drawn").capitalize()
    arrows = "an arrow leads from each to what was made from it"
    return f"For the team: it may name what is held in confidence. {drawn}, the oldest at the top; {arrows}."


def _said(descended: Descended) -> Iterator[str]:
    """The sentences under the title."""
    left_out = descended.standing.left_out
    if left_out:
        many = counted(len(left_out), "record takes", "records take").capitalize()
        yield f"Not the whole archive: {many.lower()} no part in this (`provenance check` names the mends)."
    yield from (f"Caution, {each.hazard}: {caution_sentences(each)}" for each in descended.cautions)
    if descended.cautions:
        yield FITNESS
    if descended.verdict is not None:
        yield from bottleneck_words(descended)
    elif descended.resting is None:
        yield f"Which features rest on it alone could not be judged: {descended.not_judged}."
    else:
        sentences = [resting_words(verdict, descended.about) for verdict in descended.resting]
        yield from (f"{each[:1].upper()}{each[1:]}." for each in sentences[:_SHOWN])
        if len(sentences) > _SHOWN:
            more = counted(len(sentences) - _SHOWN, "further feature rests", "further features rest")
            yield f"{more.capitalize()} on it alone."
    yield from (circle_words(descended, circle) for circle in descended.tree.circles)


def _heading(descended: Descended, width: float) -> tuple[list[str], float]:
    """Title and sentences, and where the drawing may begin below them."""
    lettered = [Lettering(line, 15.0, bold=True) for line in broken(_title(descended), width, 15.0, most=4)]
    for sentence in _said(descended):
        lettered += [Lettering(line, 11.0) for line in broken(sentence, width, 11.0, most=8)]
    y, drawn = 0.0, []
    for line in lettered:
        y += line.height * LINE
        drawn.append(_text(line, width / 2, y))
    return drawn, y + 24.0


def _text(line: Lettering, x: float, y: float) -> str:
    """A line of words about its middle, so that it keeps its place whichever way it is read."""
    weight = ' font-weight="bold"' if line.bold else ""
    slant = ' font-style="italic"' if line.slanted else ""
    size = f"{line.height:g}"
    return (
        f'<text x="{_n(x)}" y="{_n(y)}" font-size="{size}" text-anchor="middle"{weight}{slant}>'
        f"{svg_safe(line.text)}</text>"
    )


def _outlines(boxes: Mapping[str, Box], layout: Layout) -> Iterator[str]:
    for name, box in boxes.items():
        place = layout.boxes[name]
        yield f'<g id="{svg_safe(name)}">'
        yield f"<title>{svg_safe(box.says)}</title>"
        yield from _outline(box.shape, place, 3.0 if box.marked else 1.2)
        y = place.y + 9.0
        for line in box.lines:
            y += line.height * LINE
            yield _text(line, place.x + place.width / 2, y - line.height * (LINE - 1.0))
        yield "</g>"


def _outline(shape: Shape, place: Place, weight: float) -> Iterator[str]:
    x, y, width, height = place.x, place.y, place.width, place.height
    style = f'fill="{_FILLS[shape]}" stroke="#000000" stroke-width="{weight:g}"'
    if shape in {Shape.THING, Shape.VALUE}:
        yield f'<polygon points="{_corners(shape, place)}" {style}/>'
        return
    dashes = {Shape.UNTAGGED: ' stroke-dasharray="2 3"', Shape.ORIGIN: ' stroke-dasharray="1.5 4"'}.get(shape, "")
    radius = {Shape.TOLD: 14.0, Shape.ORIGIN: min(height / 2, 24.0)}.get(shape, 0.0)
    yield _rectangle(x, y, width, height, f'rx="{_n(radius)}" {style}{dashes}')
    if shape is Shape.PICTURE:
        inner = 'fill="none" stroke="#000000" stroke-width="0.8"'
        yield _rectangle(x + 5.0, y + 5.0, width - 10.0, height - 10.0, inner)


def _rectangle(x: float, y: float, width: float, height: float, style: str) -> str:
    return f'<rect x="{_n(x)}" y="{_n(y)}" width="{_n(width)}" height="{_n(height)}" {style}/>'


def _corners(shape: Shape, place: Place) -> str:
    """A thing has its corners cut off; the value has a point at either side."""
    left, right, top, bottom = place.x, place.x + place.width, place.y, place.y + place.height
    cut = min(10.0, place.height / 3)
    if shape is Shape.VALUE:
        middle = (top + bottom) / 2
        around = [(left + cut, top), (right - cut, top), (right, middle), (right - cut, bottom), (left + cut, bottom)]
        around.append((left, middle))
    else:
        around = [(left + cut, top), (right - cut, top), (right, top + cut), (right, bottom - cut)]
        around += [(right - cut, bottom), (left + cut, bottom), (left, bottom - cut), (left, top + cut)]
    return " ".join(f"{_n(x)},{_n(y)}" for x, y in around)


def _strokes(lines: Sequence[Line], layout: Layout) -> Iterator[str]:
    for number, (line, route) in enumerate(zip(lines, layout.routes, strict=True), 1):
        yield f'<g id="line-{number}">'
        yield f'<path d="{_path(route)}" {_style(line.stroke)}/>'
        if line.points_down:
            yield _arrow(route[-1], 1.0)
        if line.points_up:
            yield _arrow(route[0], -1.0)
        yield "</g>"


def _style(stroke: Stroke) -> str:
    dashes = f' stroke-dasharray="{_DASHES[stroke]}"' if _DASHES[stroke] else ""
    return f'fill="none" stroke="#000000" stroke-width="{_WEIGHTS.get(stroke, 1.4):g}"{dashes}'


def _path(route: Sequence[Point]) -> str:
    """Straight down where it runs straight, and a curve where it changes its side."""
    parts = [f"M{_n(route[0][0])} {_n(route[0][1])}"]
    for number in range(1, len(route)):
        (x, y), (to_x, to_y) = route[number - 1], route[number]
        if number % 2:
            parts.append(f"V{_n(to_y)}")
        else:
            middle = _n((y + to_y) / 2)
            parts.append(f"C{_n(x)} {middle} {_n(to_x)} {middle} {_n(to_x)} {_n(to_y)}")
    return " ".join(parts)


def _arrow(tip: Point, way: float) -> str:
    x, y = tip
    return f'<path d="M{_n(x)} {_n(y)} L{_n(x - 4.5)} {_n(y - 9.0 * way)} L{_n(x + 4.5)} {_n(y - 9.0 * way)} Z"/>'


def _labelled(lines: Sequence[Line]) -> Mapping[str, list[int]]:
    """The numbers of the lines with words beside them, by the box that they lead to."""
    found: dict[str, list[int]] = {}
    for number, line in enumerate(lines):
        if line.label:
            found.setdefault(line.lower, []).append(number)
    return found


def _labels(lines: Sequence[Line], labelled: Mapping[str, list[int]], layout: Layout) -> Iterator[str]:
    """The words beside the lines, above the box that these lead to: one under the other, none beside its neighbours."""
    for name, numbers in labelled.items():
        place = layout.boxes[name]
        for row, number in enumerate(sorted(numbers, key=lambda number: layout.routes[number][-1])):
            (label,) = broken(lines[number].label, place.width, _LABEL, most=1)
            width = min(width_of(label, _LABEL) * 0.86 + 4.0, place.width)
            x = layout.routes[number][-1][0]
            x = min(max(x, place.x + width / 2), place.x + place.width - width / 2)
            y = place.y - 12.0 - _LABEL_ROW * row
            yield _rectangle(x - width / 2, y - 9.5, width, 12.0, 'fill="#ffffff"')
            yield _text(Lettering(label, _LABEL), x, y)


def _legend(boxes: Collection[Box], lines: Sequence[Line], width: float, top: float) -> tuple[list[str], float]:
    """What the shapes and lines in this drawing mean, and where it ends."""
    drawn: list[str] = []
    shapes = [shape for shape in Shape if any(box.shape is shape for box in boxes)]
    strokes = [stroke for stroke in Stroke if any(line.stroke is stroke for line in lines)]
    columns = max(1, int(width // 320.0))
    rows: list[Shape | Stroke] = [*shapes, *strokes]
    for number, each in enumerate(rows):
        x, y = (number % columns) * (width / columns), top + (number // columns) * 22.0
        if isinstance(each, Shape):
            drawn += _outline(each, Place(x=x, y=y, width=34.0, height=16.0), 1.2)
        else:
            drawn += _sample(each, x, y + 8.0)
        drawn.append(f'<text x="{_n(x + 42.0)}" y="{_n(y + 12.0)}" font-size="10">{svg_safe(each.value)}</text>')
    return drawn, top + -(-len(rows) // columns) * 22.0


def _sample(stroke: Stroke, x: float, y: float) -> Iterator[str]:
    yield f'<path d="M{_n(x)} {_n(y)} H{_n(x + 34.0)}" {_style(stroke)}/>'
    if stroke in {Stroke.MADE, Stroke.WORD, Stroke.EVIDENCE}:
        yield f'<path d="M{_n(x + 36.0)} {_n(y)} L{_n(x + 27.0)} {_n(y - 4.5)} L{_n(x + 27.0)} {_n(y + 4.5)} Z"/>'
