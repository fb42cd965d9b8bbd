"""The whole machine as its assemblies stand in one another, with how well each feature is known and when it is needed.

Three ways to look at it: by grade; by when what is thinly known is needed; by how prominent what is thinly known is.
"""

from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from provenance.records.archive import Archive
from provenance.records.components import Component
from provenance.records.dates import EdtfDate
from provenance.records.days import Day, days_in_month
from provenance.rules.grades import STRENGTH, Grade
from provenance.rules.lifting import WEAK
from provenance.rules.verdicts import Verdict

SOON, LATER = 6, 12
"""Within how many months a part is needed soon, and within the year: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One feature as the picture shows it.

    Attributes:
        about: `component/feature`.
        shown: the best value as people read it; None where nothing supports any.
        grade: None while nothing can be judged.
        needed_by: when its component is needed; None for not said.
        prominence: of its component: `focal`, `visible`, `hidden`, or None for not said.
    """

    about: str
    name: str
    component: str
    shown: str | None
    grade: Grade | None
    needed_by: EdtfDate | None
    prominence: str | None

    @property
    def is_thin(self) -> bool:
        """Whether nothing should be made on it without another look."""
        return self.grade in WEAK


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A component with what it is made up of.

    Attributes:
        id: of the component; empty for the whole machine.
        cells: its own features, in the order in which it lists them.
        parts: what is part of it, in order of name.
        features: how many features it and all parts of it have.
        without: how many components, it among them, have no feature, and no part with any.
    """

    id: str
    name: str
    cells: tuple[Cell, ...]
    parts: tuple["Part", ...]
    features: int
    without: int

    def all_parts(self) -> Iterator["Part"]:
        """It and all parts of it, each before its own parts."""
        waiting = [self]
        while waiting:
            part = waiting.pop()
            yield part
            waiting.extend(reversed(part.parts))

    def all_cells(self) -> Iterator[Cell]:
        """Its own features, then those of its parts."""
        for part in self.all_parts():
            yield from part.cells


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """How a feature is marked in the picture: by a pattern of that name, and in words."""

    id: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """One way to look at the machine: in its marks, those that ask for something first or last as people rank them.

    Attributes:
        words: what it is by, as `by grade`.
        marks: all that may occur, in their order.
        mark_of: which of them a feature has, by the id of the mark.
    """

    id: str
    words: str
    marks: tuple[Mark, ...]
    mark_of: Callable[[Cell], str]

    def counted(self, part: Part) -> dict[str, int]:
        """How many features of a part, and of the parts of it, have each mark; every mark is named."""
        counts = Counter(map(self.mark_of, part.all_cells()))
        return {mark.id: counts[mark.id] for mark in self.marks}


_UNJUDGED = Mark(id="unjudged", words="not judged")
_FIRM = Mark(id="firm", words="probable or established")
_GRADES = (*(Mark(id=grade.value, words=grade.value) for grade in reversed(STRENGTH)), _UNJUDGED)
_NEEDED = (
    Mark(id="first", words=f"thin, and needed within {SOON} months or overdue"),
    Mark(id="second", words=f"thin, and needed within {LATER} months"),
    Mark(id="third", words="thin, and needed later"),
    Mark(id="unsaid", words="thin; when it is needed is not said"),
    _FIRM,
    _UNJUDGED,
)
_PROMINENT = (
    Mark(id="first", words="thin, and what visitors look at first"),
    Mark(id="second", words="thin, and visible"),
    Mark(id="third", words="thin, and hidden"),
    Mark(id="unsaid", words="thin; whether it can be seen is not said"),
    _FIRM,
    _UNJUDGED,
)
_MARK_OF_PROMINENCE = {"focal": "first", "visible": "second", "hidden": "third", None: "unsaid"}
VIEWS = ("grade", "needed", "prominence")
"""The ways to look at the machine, as addresses name them."""


def view_of(name: str, today: Day) -> View | None:
    """The way to look at the machine of that name, as it is on that day; None where there is none."""
    views = {
        "grade": View(id="grade", words="by grade", marks=_GRADES, mark_of=_by_grade),
        "needed": View(id="needed", words="by date needed", marks=_NEEDED, mark_of=lambda cell: _by_need(cell, today)),
        "prominence": View(
            id="prominence", words="by prominence to visitors", marks=_PROMINENT, mark_of=_by_prominence
        ),
    }
    return views.get(name)


def _by_grade(cell: Cell) -> str:
    return cell.grade.value if cell.grade else _UNJUDGED.id


def _by_need(cell: Cell, today: Day) -> str:
    if not cell.is_thin:
        return _FIRM.id if cell.grade else _UNJUDGED.id
    needed = cell.needed_by
    day = (needed.earliest or needed.latest) if needed else None
    if day is None:
        return "unsaid"
    limits = (("first", SOON), ("second", LATER))
    return next((mark for mark, months in limits if day <= plus_months(today, months)), "third")


def _by_prominence(cell: Cell) -> str:
    if not cell.is_thin:
        return _FIRM.id if cell.grade else _UNJUDGED.id
    return _MARK_OF_PROMINENCE.get(cell.prominence, "unsaid")


def plus_months(day: Day, months: int) -> Day:
    """The same day some months later; the last of the month where that has no such day."""
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    return Day(year, month + 1, min(day.day, days_in_month(year, month + 1)))


def compose_machine(archive: Archive, verdicts: Mapping[str, Verdict]) -> Part:
    """Put the components of an archive into one another.

    One that is part of itself by a circle of others, or of something that is not there, stands at the top: nothing is
    left out.

    Args:
        archive: the records that can be judged on.
        verdicts: on every feature; empty while the archive does not say what it represents.
    """
    below: dict[str | None, list[Component]] = defaultdict(list)
    for component in sorted(archive.components.values(), key=lambda each: (each.name.casefold(), each.id)):
        below[component.part_of if component.part_of in archive.components else None].append(component)
    order, tops = _from_the_top(archive, below)
    made: dict[str, Part] = {}
    for component, inside in reversed(order):
        cells = tuple(_cell(archive, component, feature.id, verdicts) for feature in component.features)
        made[component.id] = _part(component.id, component.name, cells, tuple(made.pop(each) for each in inside))
    return _part("", archive.title, (), tuple(made[each] for each in tops))


def _from_the_top(
    archive: Archive, below: Mapping[str | None, list[Component]]
) -> tuple[list[tuple[Component, list[str]]], list[str]]:
    """Every component with what is inside it, each before what is inside it; and the ids of those at the top."""
    order: list[tuple[Component, list[str]]] = []
    tops: list[str] = []
    met: set[str] = set()
    in_circles = [archive.components[each] for each in sorted(archive.components)]
    for top in [*below.get(None, ()), *in_circles]:
        if top.id in met:
            continue
        tops.append(top.id)
        met.add(top.id)
        waiting = [top]
        while waiting:
            component = waiting.pop()
            inside = [each for each in below.get(component.id, ()) if each.id not in met]
            met.update(each.id for each in inside)
            order.append((component, [each.id for each in inside]))
            waiting.extend(reversed(inside))
    return order, tops


def _cell(archive: Archive, component: Component, feature_id: str, verdicts: Mapping[str, Verdict]) -> Cell:
    about = f"{component.id}/{feature_id}"
    verdict = verdicts.get(about)
    return Cell(
        about=about,
        name=archive.features[about].name,
        component=component.name,
        shown=verdict.shown if verdict else None,
        grade=verdict.grade if verdict else None,
        needed_by=component.needed_by,
        prominence=component.prominence,
    )


def _part(part_id: str, name: str, cells: tuple[Cell, ...], parts: tuple[Part, ...]) -> Part:
    features = len(cells) + sum(part.features for part in parts)
    without = sum(part.without for part in parts) + (bool(part_id) and not features)
    return Part(id=part_id, name=name, cells=cells, parts=parts, features=features, without=without)


def way_to(machine: Part, part_id: str) -> tuple[Part, ...]:
    """The parts that one goes through to a component, the whole first and it last; empty where there is none."""
    above: dict[str, Part] = {}
    for part in machine.all_parts():
        above.update({inside.id: part for inside in part.parts})
        if part.id == part_id:
            way = [part]
            while way[0].id:
                way.insert(0, above[way[0].id])
            return tuple(way)
    return ()
