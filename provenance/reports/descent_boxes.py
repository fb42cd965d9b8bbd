"""What stands in each box of a drawn descent: its words, line by line, its size and its shape."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import Enum

from provenance.records.kinds import SourceKind
from provenance.records.sources import Source
from provenance.reports.descended import Descended
from provenance.reports.descent_words import id_words, kind_words, when_words
from provenance.reports.layout import counted
from provenance.reports.svg_drawing import Lettering, height_of, lettered
from provenance.rules.family_tree import Tie
from provenance.rules.public_values import HELD_PRIVATELY
from provenance.rules.sentences import namer

WIDTH = 200.0
_INSIDE = 172.0
_EDGE = 9.0
_TITLE, _TEXT = 11.5, 10.0


class Shape(Enum):
    """The outline of a box: what group of things it stands for, in the words of the legend."""

    PICTURE = "picture: photograph, film, work of art"
    PAPER = "paper of the works, survey: drawing, manual, logbook"
    TOLD = "account: letter, book, newspaper, recollection"
    THING = "thing: surviving piece, model"
    UNTAGGED = "not tagged yet"
    ORIGIN = "no source: a person, or an origin, behind several"
    VALUE = "the value that was asked about"


_SHAPES: Mapping[SourceKind, Shape] = {
    SourceKind.PHOTOGRAPH: Shape.PICTURE,
    SourceKind.FILM: Shape.PICTURE,
    SourceKind.ARTWORK: Shape.PICTURE,
    SourceKind.ARTEFACT: Shape.THING,
    SourceKind.SCALE_MODEL: Shape.THING,
    SourceKind.MODEL_3D: Shape.THING,
    SourceKind.SURVEY: Shape.PAPER,
    SourceKind.ANALYSIS: Shape.PAPER,
    SourceKind.DRAWING: Shape.PAPER,
    SourceKind.SPECIFICATION: Shape.PAPER,
    SourceKind.MANUAL: Shape.PAPER,
    SourceKind.CATALOGUE: Shape.PAPER,
    SourceKind.LOGBOOK: Shape.PAPER,
    SourceKind.REPORT: Shape.PAPER,
    SourceKind.LETTER: Shape.TOLD,
    SourceKind.NEWSPAPER: Shape.TOLD,
    SourceKind.ORAL_HISTORY: Shape.TOLD,
    SourceKind.BOOK: Shape.TOLD,
    SourceKind.OPINION: Shape.TOLD,
    SourceKind.NOTES: Shape.TOLD,
    SourceKind.WEBSITE: Shape.TOLD,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A box to be drawn.

    Attributes:
        id: unique in the drawing.
        says: all that it stands for, uncut, for those who cannot see it.
        lines: its words, which fit its width.
        marked: whether its outline is thick: what was asked about, or what everything hangs on.
    """

    id: str
    shape: Shape
    says: str
    lines: tuple[Lettering, ...]
    marked: bool = False

    @property
    def height(self) -> float:
        """The height that its words take."""
        return 2 * _EDGE + height_of(self.lines)


def source_box(descended: Descended, source_id: str, *, is_public: bool = False) -> Box:
    """The box of a source; for the public it does not say whether a file of it is here."""
    source = descended.sources[source_id]
    extra = tuple(_remarks(descended, source, is_public=is_public))
    hangs = source_id in descended.bottleneck[:1]
    asked = source_id == descended.about
    lines = [
        *_lettered(source.title, _TITLE, most=5, bold=True),
        *_lettered(_kind_and_date(source), _TEXT, most=3),
        *_lettered(id_words(source_id), _TEXT, most=4, slanted=True),
    ]
    for remark in extra:
        lines += _lettered(remark, _TEXT, most=3)
    for remark in _marks(asked=asked, hangs=hangs):
        lines += _lettered(remark, _TEXT, most=2, bold=True)
    return Box(
        id=f"source-{source_id}",
        shape=_SHAPES[source.kind] if source.kind else Shape.UNTAGGED,
        says="; ".join([f"“{source.title}” ({id_words(source_id)})", _kind_and_date(source), *extra]),
        lines=tuple(lines),
        marked=asked or hangs,
    )


def _kind_and_date(source: Source) -> str:
    """What it is and when it was made; of one held privately the public is not told when."""
    return kind_words(source) if source.title == HELD_PRIVATELY else f"{kind_words(source)}, {when_words(source)}"


def _remarks(descended: Descended, source: Source, *, is_public: bool) -> Iterator[str]:
    best = descended.best
    ways = [item.how.value for item in best.supporting if item.source == source.id] if best else []
    if ways:
        yield f"cited here: {', '.join(dict.fromkeys(ways))}"
    if not source.files and not is_public:
        yield "no file of it here"
    if source.within is not None:
        yield f"kept in {source.within.source}"
    if source.withdrawn is not None:
        yield "withdrawn"


def _marks(*, asked: bool, hangs: bool) -> Iterator[str]:
    if asked:
        yield "this was asked about"
    if hangs:
        yield "everything hangs on this"


def tie_box(descended: Descended, tie: Tie, number: int) -> Box:
    """The box of somebody, or of an unnamed origin, behind several sources."""
    name = namer(descended.sources)(tie.origin)
    others = f"also behind {counted(len(tie.others), 'source')} not drawn here" if tie.others else ""
    hangs = tie.origin in descended.bottleneck[:1]
    lines = [*_lettered(name, _TEXT, most=6), *(_lettered(others, _TEXT, most=2) if others else [])]
    lines += [each for mark in _marks(asked=False, hangs=hangs) for each in _lettered(mark, _TEXT, most=2, bold=True)]
    return Box(
        id=f"origin-{number}",
        shape=Shape.ORIGIN,
        says="; ".join(filter(None, (name, others))),
        lines=tuple(lines),
        marked=hangs,
    )


def value_box(descended: Descended) -> Box | None:
    """The box of the value of the feature that was asked about; None for a source, and where there is no value."""
    verdict, best = descended.verdict, descended.best
    if verdict is None or best is None:
        return None
    lines = [
        *_lettered(verdict.name, _TEXT, most=3),
        *_lettered(best.shown, _TITLE, most=5, bold=True),
        *_lettered(verdict.grade.value, _TEXT, most=1),
    ]
    says = f"{verdict.name} ({verdict.feature}): {best.shown}; {verdict.grade.value}"
    return Box(id="value", shape=Shape.VALUE, says=says, lines=tuple(lines), marked=True)


def _lettered(text: str, height: float, *, most: int, bold: bool = False, slanted: bool = False) -> list[Lettering]:
    return lettered(text, _INSIDE, height, most=most, bold=bold, slanted=slanted)
