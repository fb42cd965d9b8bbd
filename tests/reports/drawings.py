"""Drawings read again as XML: where each line of words and each stroke stands, and how large the words are at most."""

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from xml.etree import ElementTree as ET

from provenance.reports.svg_lettering import width_of

SVG = "{http://www.w3.org/2000/svg}"
PLAIN_PARTS = {
    "svg", "title", "desc", "defs", "pattern", "g", "rect", "polygon", "circle", "path", "text",
}  # fmt: skip
_MOVED = re.compile(r"translate\((-?[0-9.]+) (-?[0-9.]+)\)")
_RISE, _FALL = 0.96, 0.24
"""How far letters reach above and below the line that they stand on, by their height: no less than those of Vera."""


@dataclass(frozen=True, slots=True)
class Words:
    """A line of words with the rectangle that it takes at most."""

    text: str
    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: "Words") -> bool:
        """Whether the two stand on one another; a tenth of a pixel, to which places are rounded, does not count."""
        aside = self.right <= other.left + 0.15 or other.right <= self.left + 0.15
        return not (aside or self.bottom <= other.top + 0.15 or other.bottom <= self.top + 0.15)


def parts_of(svg: str) -> Iterator[tuple[ET.Element, float, float]]:
    """Every part of a drawing, with how far it is moved to the right and down."""
    waiting = [(ET.fromstring(svg), 0.0, 0.0)]
    while waiting:
        part, x, y = waiting.pop(0)
        moved = _MOVED.fullmatch(part.get("transform") or "translate(0 0)")
        assert moved
        x, y = x + float(moved[1]), y + float(moved[2])
        yield part, x, y
        if part.tag != f"{SVG}defs":
            waiting = [(child, x, y) for child in part] + waiting


def words_of(svg: str) -> list[Words]:
    """Every line of words."""
    found = []
    for part, x, y in parts_of(svg):
        if part.tag == f"{SVG}text":
            text, height = part.text or "", float(part.get("font-size") or 0)
            width = width_of(text, height)
            left = (
                x
                + float(part.get("x") or 0)
                - width * {"middle": 0.5, "end": 1.0}.get(part.get("text-anchor") or "", 0.0)
            )
            line = y + float(part.get("y") or 0)
            found.append(Words(text, left, line - _RISE * height, left + width, line + _FALL * height))
    return found


def all_words(svg: str) -> str:
    """All lines of words, one after the other."""
    return " ".join(each.text for each in words_of(svg))


def size_of(svg: str) -> tuple[float, float, float, float]:
    """Width and height as shown, and in the drawing's own unit."""
    top = ET.fromstring(svg)
    _, _, width, height = map(float, (top.get("viewBox") or "").split())
    return float(top.get("width") or 0), float(top.get("height") or 0), width, height


def require_sound(svg: str) -> None:
    """No words on one another or beyond the edge, every id once, nothing that acts or is fetched, a title and more."""
    _, _, width, height = size_of(svg)
    lines = words_of(svg)
    beyond = [
        each for each in lines if min(each.left, each.top) < -0.1 or each.right > width + 0.1 or each.bottom > height
    ]
    assert beyond == []
    assert [(one, other) for n, one in enumerate(lines) for other in lines[:n] if one.overlaps(other)] == []
    top = ET.fromstring(svg)
    assert {part.tag.removeprefix(SVG) for part in top.iter()} <= PLAIN_PARTS
    for part in top.iter():
        for name, value in part.attrib.items():
            assert not name.startswith("on")
            assert "href" not in name
            assert "url(" not in value or value.startswith("url(#")
            assert not re.search("nan|inf", value) or name in {"id", "aria-labelledby", "fill"}
    ids = [each for part in top.iter() if (each := part.get("id"))]
    assert max(Counter(ids).values()) == 1
    prefix = (top[0].get("id") or "").removesuffix("-title")
    assert prefix
    assert all(each.startswith(f"{prefix}-") for each in ids)
    assert top.get("role") == "img"
    assert top.get("aria-labelledby") == f"{top[0].get('id')} {top[1].get('id')}"
    assert [part.tag for part in top[:2]] == [f"{SVG}title", f"{SVG}desc"]
    assert top[0].text
    assert top[1].text
