"""Type set on a page: headings, justified paragraphs, tables; and the text exactly as it was set."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal

from PIL import Image, ImageDraw, ImageFont

from sample import composing
from sample.faces import Faces

Kind = Literal["title", "heading", "side", "text", "small", "row", "rule", "gap", "left"]
_GUTTER = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """One thing on a page.

    Attributes:
        kind: centred title or heading, side heading, paragraph, small centred line, table row, rule, gap, plain line.
        text: what is set; the columns of a row are parted by `|`.
        size: of a title in points; of a gap in lines.
    """

    kind: Kind
    text: str = ""
    size: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """How a page is set.

    Attributes:
        faces: typefaces.
        roman: name of the face of the text.
        bold: name of the face of headings.
        points: size of the text.
        dots: dots to the inch.
        size: of the page in pixels.
        margins: left, top, right in pixels.
        leading: distance of lines as a multiple of the size.
        columns: where the columns of a table begin, as shares of the measure.
        justified: whether lines are spread to the full measure.
    """

    faces: Faces
    roman: str
    bold: str
    points: float
    dots: float = 200
    size: tuple[int, int] = (1100, 1700)
    margins: tuple[int, int, int] = (130, 150, 120)
    leading: float = 1.3
    columns: tuple[float, ...] = (0.0, 0.18, 0.6)
    justified: bool = True


@dataclass(slots=True, kw_only=True)
class Setter:
    """A page being set from the top."""

    style: Style
    sheet: Image.Image
    pen: ImageDraw.ImageDraw
    down: float
    lines: list[str] = field(default_factory=list)

    def face(self, name: str, points: float) -> ImageFont.FreeTypeFont:
        """Open a face at a size in points."""
        return self.style.faces.find(name, points * self.style.dots / 72)

    @property
    def measure(self) -> float:
        """The width of a line, in pixels."""
        left, _, right = self.style.margins
        return self.style.size[0] - left - right

    def put(self, text: str, face: ImageFont.FreeTypeFont, left: float) -> None:
        """Set words on the line, beginning at a distance from the left edge in pixels."""
        composing.put(self.pen, (left, self.down), text, face)

    def feed(self, face: ImageFont.FreeTypeFont, lines: float = 1.0) -> None:
        """Go down by so many lines."""
        self.down += face.size * self.style.leading * lines


def set_page(blocks: Sequence[Block], style: Style) -> tuple[Image.Image, str]:
    """Set a page black on white.

    Returns:
        The page, and its text line by line.
    """
    sheet = Image.new("L", style.size, 255)
    setter = Setter(style=style, sheet=sheet, pen=ImageDraw.Draw(sheet), down=style.margins[1])
    for block in blocks:
        _set_block(setter, block)
    return sheet, "\n".join(setter.lines) + "\n"


def _set_block(setter: Setter, block: Block) -> None:
    style = setter.style
    if block.kind == "gap":
        setter.feed(setter.face(style.roman, style.points), block.size or 1.0)
    elif block.kind == "rule":
        left = style.margins[0] + setter.measure * 0.38
        setter.pen.line((left, setter.down - 8, left + setter.measure * 0.24, setter.down - 8), fill=0, width=2)
        setter.feed(setter.face(style.roman, style.points))
    elif block.kind in {"title", "heading", "small"}:
        _set_centred(setter, block)
    elif block.kind == "row":
        _set_row(setter, block.text.split("|"))
    elif block.kind == "left":
        _set_line(setter, block.text)
    else:
        _set_paragraph(setter, block)


def _set_centred(setter: Setter, block: Block) -> None:
    style = setter.style
    sizes = {"title": 20.0, "heading": style.points * 1.25, "small": style.points * 0.92}
    face = setter.face(style.roman if block.kind == "small" else style.bold, block.size or sizes[block.kind])
    spare = setter.measure - composing.length(block.text, face)
    if spare < 0:
        raise ValueError(f"too long for the measure: {block.text}")
    setter.put(block.text, face, style.margins[0] + spare / 2)
    setter.lines.append(block.text)
    setter.feed(face, 1.5 if block.kind == "heading" else 1.1)


def _set_line(setter: Setter, text: str) -> None:
    face = setter.face(setter.style.roman, setter.style.points)
    setter.put(text, face, setter.style.margins[0])
    setter.lines.append(text)
    setter.feed(face)


def _set_row(setter: Setter, cells: list[str]) -> None:
    style = setter.style
    face = setter.face(style.roman, style.points)
    reached = 0.0
    for share, cell in zip(style.columns, cells, strict=False):
        begin = share * setter.measure
        if cell.strip() and begin < reached:
            raise ValueError(f"too long for its column: {cells}")
        setter.put(cell.strip(), face, style.margins[0] + begin)
        reached = max(reached, begin + composing.length(cell.strip(), face) + _GUTTER * face.size)
    setter.lines.append(" ".join(cell.strip() for cell in cells if cell.strip()))
    setter.feed(face)


def _set_paragraph(setter: Setter, block: Block) -> None:
    style = setter.style
    face = setter.face(style.roman, style.points)
    head, text = block.text.split("|", 1) if block.kind == "side" else ("", block.text)
    words = text.split()
    lead = 0.0 if style.justified is False else face.size
    if head:
        bold = setter.face(style.bold, style.points)
        setter.put(head, bold, style.margins[0])
        lead = composing.length(head, bold) + face.size * 0.5
    rows = _broken(words, face, setter.measure, lead)
    for number, row in enumerate(rows):
        start = lead if number == 0 else 0.0
        _spread(setter, row, face, start, last=number == len(rows) - 1)
        setter.lines.append(f"{head} {' '.join(row)}" if head and number == 0 else " ".join(row))
        setter.feed(face)
    setter.feed(face, 0.25)


def _broken(words: list[str], face: ImageFont.FreeTypeFont, measure: float, lead: float) -> list[list[str]]:
    rows: list[list[str]] = [[]]
    for word in words:
        room = measure - (lead if len(rows) == 1 else 0.0)
        if rows[-1] and composing.length(" ".join([*rows[-1], word]), face) > room:
            rows.append([])
        rows[-1].append(word)
    return rows


def _spread(setter: Setter, row: list[str], face: ImageFont.FreeTypeFont, start: float, *, last: bool) -> None:
    room = setter.measure - start
    used = sum(composing.length(word, face) for word in row)
    gap = composing.length(" ", face)
    if setter.style.justified and not last and len(row) > 1:
        gap = (room - used) / (len(row) - 1)
    across = setter.style.margins[0] + start
    for word in row:
        setter.put(word, face, across)
        across += composing.length(word, face) + gap
