"""The lines of a drawn descent: between which boxes, how they look, and the words beside them."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import Enum

from provenance.records.kinds import Ruling
from provenance.reports.descended import Descended
from provenance.reports.descent_words import made_label
from provenance.rules.family_tree import Link


class Stroke(Enum):
    """How a line looks, in the words of the legend; the first that holds of a line is shown."""

    MADE = "the arrow leads to what was made from it"
    WORD = "the arrow leads to what counts on its word"
    COPY = "ruled a copy, it is not said which of which"
    OPEN = "likely a copy (?), nobody has ruled"
    ORIGIN = "goes back to it"
    EVIDENCE = "speaks for the value"


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One line to be drawn.

    Attributes:
        upper: id of the box that it comes from.
        lower: id of the box that it leads to, further down.
        label: the words beside it; empty for none.
        points_down: whether it has an arrow at its lower end.
        points_up: whether it has one at its upper end, where the records run in a circle.
    """

    upper: str
    lower: str
    stroke: Stroke
    label: str = ""
    points_down: bool = False
    points_up: bool = False


def lines_of(descended: Descended) -> tuple[Line, ...]:
    """Every line of a descent: one at most between two boxes, and none from a source to itself."""
    tree = descended.tree
    place = {source_id: number for number, source_id in enumerate(tree.members)}
    found: dict[tuple[str, str], list[Line]] = {}
    for line in (
        *(_of_link(link, place) for link in tree.links if link.later != link.earlier),
        *_of_pairs(descended, place),
        *_of_origins(descended),
        *_of_evidence(descended),
    ):
        found.setdefault((line.upper, line.lower), []).append(line)
    return tuple(_joined(lines) for lines in found.values())


def _of_link(link: Link, place: Mapping[str, int]) -> Line:
    down = place[link.earlier] < place[link.later]
    upper, lower = (link.earlier, link.later) if down else (link.later, link.earlier)
    words = made_label(link.how)
    if link.pair is not None:
        words += {
            Ruling.OPEN: ", ? not ruled",
            Ruling.COPY: ", ruled a copy",
            Ruling.DISTINCT: ", yet ruled no copy",
        }[link.pair.ruling]
    return Line(
        upper=f"source-{upper}",
        lower=f"source-{lower}",
        stroke=Stroke.WORD if link.how is None else Stroke.MADE,
        label=words if down else f"circle: {words}",
        points_down=down,
        points_up=not down,
    )


def _of_pairs(descended: Descended, place: Mapping[str, int]) -> Iterator[Line]:
    for pair in descended.tree.pairs:
        upper, lower = sorted(pair.between, key=place.__getitem__)
        is_open = pair.ruling is Ruling.OPEN
        yield Line(
            upper=f"source-{upper}",
            lower=f"source-{lower}",
            stroke=Stroke.OPEN if is_open else Stroke.COPY,
            label="? a copy" if is_open else "ruled a copy",
        )


def _of_origins(descended: Descended) -> Iterator[Line]:
    for number, tie in enumerate(descended.tree.ties, 1):
        for source_id in tie.sources:
            yield Line(upper=f"origin-{number}", lower=f"source-{source_id}", stroke=Stroke.ORIGIN)


def _of_evidence(descended: Descended) -> Iterator[Line]:
    best = descended.best
    for source_id in dict.fromkeys(item.source for item in best.supporting) if best else ():
        yield Line(upper=f"source-{source_id}", lower="value", stroke=Stroke.EVIDENCE, points_down=True)


def _joined(lines: list[Line]) -> Line:
    first = lines[0]
    return Line(
        upper=first.upper,
        lower=first.lower,
        stroke=min((line.stroke for line in lines), key=list(Stroke).index),
        label=" and ".join(dict.fromkeys(line.label for line in lines if line.label)),
        points_down=any(line.points_down for line in lines),
        points_up=any(line.points_up for line in lines),
    )
