"""The descent of sources as one drawing in SVG: black on white, the oldest at the top, to be printed on A4.

No script, nothing fetched, no colour that has to be told from another: shape, outline and words say the same as shade.
The same answer gives the same bytes.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from math import isqrt

from provenance.reports.descended import Descended
from provenance.reports.descent_boxes import WIDTH, Box, Shape, source_box, tie_box, value_box
from provenance.reports.descent_drawn import drawn_sentences, drawn_title, drawn_told
from provenance.reports.descent_lines import Line, Stroke, lines_of
from provenance.reports.layered_layout import Layout, Place, Point, Size, lay_out
from provenance.reports.svg_drawing import (
    SMALLEST,
    Frame,
    Lettering,
    framed,
    height_of,
    in_id,
    lettered,
    polygon,
    prefix_of,
    rectangle,
    rounded,
    text_block,
    text_line,
)
from provenance.reports.svg_lettering import broken, svg_safe, width_of

_ABREAST = 4
"""How many boxes stand side by side at most, as wide as A4 takes; more in a family that fits on no page anyway."""
_MARGIN = 20.0
_LEAST_WIDTH = 640.0
_LABEL = 10.0
_LABEL_ROW = 13.0
_A4 = (703.0, 1032.0)
"""A4 upright without margins of 12 mm, in pixels of 1/96 inch."""

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


def descended_svg(descended: Descended, *, is_public: bool = False) -> str:
    """Draw it.

    Args:
        descended: the family; for the public, composed from the public view of the archive alone.
        is_public: whether it leaves the team: then nothing is said that is meant for the team alone.
    """
    prefix = prefix_of("descent", descended.about)
    boxes = {box.id: box for box in _boxes(descended, is_public=is_public)}
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
    head, top = _heading(descended, inner, is_public=is_public)
    legend, bottom = _legend(list(boxes.values()), lines, inner, top + layout.height + 30.0)
    drawn = [
        *_strokes(lines, layout, prefix),
        *_outlines(boxes, layout, prefix),
        *_labels(lines, labelled, layout),
    ]
    shift = (inner - layout.width) / 2
    body = [f'<g transform="translate({rounded(shift)} {rounded(top)})">', *drawn, "</g>"] if boxes else []
    width, height = inner + 2 * _MARGIN, bottom + 2 * _MARGIN
    frame = Frame(
        prefix=prefix,
        title=drawn_title(descended),
        told=drawn_told(descended, is_public=is_public),
        width=width,
        height=height,
        scale=_scale(width, height),
    )
    within = f'<g transform="translate({rounded(_MARGIN)} {rounded(_MARGIN)})">'
    return framed(frame, [within, *head, *body, *legend, "</g>"])


def _scale(width: float, height: float) -> float:
    upright, lying = (min(1.0, page[0] / width, page[1] / height) for page in (_A4, _A4[::-1]))
    return max(upright, lying, SMALLEST)


def _boxes(descended: Descended, *, is_public: bool) -> Iterator[Box]:
    """The boxes, none before one that a line leads to it from."""
    for number, tie in enumerate(descended.tree.ties, 1):
        yield tie_box(descended, tie, number)
    for source_id in descended.tree.members:
        yield source_box(descended, source_id, is_public=is_public)
    value = value_box(descended)
    if value is not None:
        yield value


def _heading(descended: Descended, width: float, *, is_public: bool) -> tuple[list[str], float]:
    """Title and sentences, and where the drawing may begin below them."""
    lines = lettered(drawn_title(descended), width, 15.0, most=4, bold=True)
    for sentence in drawn_sentences(descended, is_public=is_public):
        lines += lettered(sentence, width, 11.0, most=8)
    drawn, y = [], 0.0
    for line in lines:
        y += height_of([line])
        drawn.append(text_line(line, width / 2, y, "middle"))
    return drawn, y + 24.0


def _outlines(boxes: Mapping[str, Box], layout: Layout, prefix: str) -> Iterator[str]:
    for name, box in boxes.items():
        place = layout.boxes[name]
        yield f'<g id="{prefix}-{in_id(name)}">'
        yield f"<title>{svg_safe(box.says)}</title>"
        yield from _outline(box.shape, place, 3.0 if box.marked else 1.2)
        yield from text_block(box.lines, place.x + place.width / 2, place.y + 9.0, "middle")
        yield "</g>"


def _outline(shape: Shape, place: Place, weight: float) -> Iterator[str]:
    x, y, width, height = place.x, place.y, place.width, place.height
    style = f'fill="{_FILLS[shape]}" stroke="#000000" stroke-width="{weight:g}"'
    if shape in {Shape.THING, Shape.VALUE}:
        yield polygon(_corners(shape, place), style)
        return
    dashes = {Shape.UNTAGGED: ' stroke-dasharray="2 3"', Shape.ORIGIN: ' stroke-dasharray="1.5 4"'}.get(shape, "")
    radius = {Shape.TOLD: 14.0, Shape.ORIGIN: min(height / 2, 24.0)}.get(shape, 0.0)
    yield rectangle(x, y, width, height, f'rx="{rounded(radius)}" {style}{dashes}')
    if shape is Shape.PICTURE:
        inner = 'fill="none" stroke="#000000" stroke-width="0.8"'
        yield rectangle(x + 5.0, y + 5.0, width - 10.0, height - 10.0, inner)


def _corners(shape: Shape, place: Place) -> list[tuple[float, float]]:
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
    return around


def _strokes(lines: Sequence[Line], layout: Layout, prefix: str) -> Iterator[str]:
    for number, (line, route) in enumerate(zip(lines, layout.routes, strict=True), 1):
        yield f'<g id="{prefix}-line-{number}">'
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
    parts = [f"M{rounded(route[0][0])} {rounded(route[0][1])}"]
    for number in range(1, len(route)):
        (x, y), (to_x, to_y) = route[number - 1], route[number]
        if number % 2:
            parts.append(f"V{rounded(to_y)}")
        else:
            middle = rounded((y + to_y) / 2)
            parts.append(f"C{rounded(x)} {middle} {rounded(to_x)} {middle} {rounded(to_x)} {rounded(to_y)}")
    return " ".join(parts)


def _arrow(tip: Point, way: float) -> str:
    x, y = tip
    return _filled([tip, (x - 4.5, y - 9.0 * way), (x + 4.5, y - 9.0 * way)])


def _filled(corners: Sequence[Point]) -> str:
    return f'<path d="M{" L".join(f"{rounded(x)} {rounded(y)}" for x, y in corners)} Z"/>'


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
            yield rectangle(x - width / 2, y - 9.5, width, 12.0, 'fill="#ffffff"')
            yield text_line(Lettering(label, _LABEL), x, y, "middle")


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
        drawn.append(text_line(Lettering(each.value, 10.0), x + 42.0, y + 12.0))
    return drawn, top + -(-len(rows) // columns) * 22.0


def _sample(stroke: Stroke, x: float, y: float) -> Iterator[str]:
    yield f'<path d="M{rounded(x)} {rounded(y)} H{rounded(x + 34.0)}" {_style(stroke)}/>'
    if stroke in {Stroke.MADE, Stroke.WORD, Stroke.EVIDENCE}:
        yield _filled([(x + 36.0, y), (x + 27.0, y - 4.5), (x + 27.0, y + 4.5)])
