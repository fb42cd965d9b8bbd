"""The fittings of a machine as a tree: each component with its features, and what is thought of each."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from provenance.records.archive import Archive
from provenance.records.components import Component
from provenance.records.dates import EdtfDate
from provenance.records.wording import fold_wording
from provenance.reports.standing import Standing
from provenance.rules.grades import Grade
from provenance.rules.verdicts import Verdict

ROWS = 200
"""How many components stand on one page of the list."""

DEEPEST = 12
"""How deep a part is drawn at most; what lies deeper is drawn at that depth."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FeatureLine:
    """One feature in a list.

    Attributes:
        feature: `component/feature`.
        verdict: None while the archive does not say what it represents.
    """

    feature: str
    name: str
    verdict: Verdict | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FittingRow:
    """One component in the tree.

    Attributes:
        depth: 0 for what is part of nothing; each row lies at most one deeper than the one before it.
        features: those of its features that are shown.
        is_asked: whether it was asked for itself; else it stands there because a part of it was.
    """

    component: Component
    depth: int
    features: tuple[FeatureLine, ...]
    is_asked: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Narrowing:
    """Which fittings are asked for.

    Attributes:
        grade: only features of this grade; None for all.
        text: only what has all these words, in a name, a number or a value; empty for all.
        by: only what is needed by the end of this date; None for all.
    """

    grade: Grade | None = None
    text: str = ""
    by: EdtfDate | None = None

    @property
    def is_none(self) -> bool:
        """Whether everything is asked for."""
        return self.grade is None and not self.text.strip() and self.by is None


@dataclass(frozen=True, slots=True, kw_only=True)
class Fittings:
    """The list of fittings, or a page of it.

    Attributes:
        narrowing: what was asked for.
        grades: of the features that have the words and the date asked for, how many have each grade; those of none
            are left out.
        components: how many components were found.
        features: how many features were found.
        all_features: how many there are.
        needed: every date by which some component is needed, the soonest first.
        rows: one page of the tree, with the assemblies above each component that was found.
        page: which page, from 1.
        pages: how many; at least 1.
    """

    standing: Standing
    narrowing: Narrowing
    grades: tuple[tuple[Grade, int], ...]
    components: int
    features: int
    all_features: int
    needed: tuple[EdtfDate, ...]
    rows: tuple[FittingRow, ...]
    page: int
    pages: int


def compose_fittings(
    archive: Archive, standing: Standing, verdicts: Mapping[str, Verdict], narrowing: Narrowing, *, page: int = 1
) -> Fittings:
    """Put the list together.

    Args:
        archive: the archive.
        standing: what every answer begins with.
        verdicts: on every feature; empty while the archive does not say what it represents.
        narrowing: what is asked for.
        page: which page of it; one that there is not becomes the nearest.
    """
    grades: Counter[Grade] = Counter()
    found: dict[str, tuple[FeatureLine, ...]] = {}
    for component in archive.components.values():
        lines, are_all = _lines(component, verdicts, narrowing)
        grades.update(line.verdict.grade for line in lines if line.verdict is not None)
        kept = tuple(line for line in lines if _has_grade(line, narrowing.grade))
        if kept or (are_all and not component.features and narrowing.grade is None):
            found[component.id] = kept
    order = [(each, depth) for each, depth in in_order_of_parts(archive) if each in found]
    pages = max(1, -(-len(order) // ROWS))
    page = min(max(page, 1), pages)
    return Fittings(
        standing=standing,
        narrowing=narrowing,
        grades=tuple((grade, grades[grade]) for grade in Grade if grades[grade]),
        components=len(found),
        features=sum(map(len, found.values())),
        all_features=len(archive.features),
        needed=_days(archive),
        rows=tuple(_rows(archive, found, [each for each, _ in order[(page - 1) * ROWS : page * ROWS]])),
        page=page,
        pages=pages,
    )


def in_order_of_parts(archive: Archive, under: str | None = None) -> Iterator[tuple[str, int]]:
    """Every component with its depth, each after what it is part of, those of one assembly in order of their names.

    What is part of itself, or of something that is not there, stands as part of nothing.

    Args:
        archive: the archive.
        under: only this component, at depth 0, and its parts; None for all.
    """
    parts: dict[str, list[str]] = defaultdict(list)
    tops = []
    for each, component in archive.components.items():
        if component.part_of in archive.components and component.part_of != each:
            parts[component.part_of or ""].append(each)
        else:
            tops.append(each)

    def by_name(several: Iterable[str]) -> list[str]:
        return sorted(several, key=lambda each: (archive.components[each].name.casefold(), each))

    seen: set[str] = set()
    for top in by_name(tops) + by_name(archive.components) if under is None else [under]:
        waiting = [(top, 0)]
        while waiting:
            each, depth = waiting.pop()
            if each not in seen:
                seen.add(each)
                yield each, depth
                waiting += [(part, depth + 1) for part in reversed(by_name(parts[each]))]


def way_down(archive: Archive, component_id: str) -> tuple[Component, ...]:
    """The assemblies that a component is part of, the outermost first; a part of itself is none."""
    way: list[str] = []
    above = archive.components[component_id].part_of
    while above is not None and above in archive.components and above not in way and above != component_id:
        way.append(above)
        above = archive.components[above].part_of
    return tuple(archive.components[each] for each in reversed(way))


def feature_lines(component: Component, verdicts: Mapping[str, Verdict]) -> tuple[FeatureLine, ...]:
    """All features of a component, in the order in which it lists them."""
    names = [(f"{component.id}/{feature.id}", feature.name) for feature in component.features]
    return tuple(FeatureLine(feature=each, name=name, verdict=verdicts.get(each)) for each, name in names)


def _lines(
    component: Component, verdicts: Mapping[str, Verdict], narrowing: Narrowing
) -> tuple[tuple[FeatureLine, ...], bool]:
    """The features that have the words and the date asked for, and whether the component itself has both."""
    if not _is_needed_by(component, narrowing.by):
        return (), False
    lines = feature_lines(component, verdicts)
    wanted = fold_wording(narrowing.text).split()
    if not wanted:
        return lines, True
    own = [component.id, component.name, *component.references, *component.also_called]
    return (
        tuple(line for line in lines if _has(wanted, [*own, line.name, line.feature, _value(line)])),
        _has(wanted, own),
    )


def _has(wanted: Sequence[str], texts: Iterable[str]) -> bool:
    there = fold_wording(" ".join(texts))
    return all(word in there for word in wanted)


def _value(line: FeatureLine) -> str:
    return (line.verdict.shown or "") if line.verdict else ""


def _has_grade(line: FeatureLine, grade: Grade | None) -> bool:
    return grade is None or (line.verdict is not None and line.verdict.grade is grade)


def _is_needed_by(component: Component, by: EdtfDate | None) -> bool:
    if by is None or by.latest is None:
        return by is None
    needed = component.needed_by
    day = (needed.latest or needed.earliest) if needed else None
    return day is not None and day <= by.latest


def _days(archive: Archive) -> tuple[EdtfDate, ...]:
    days = {each.needed_by.text: each.needed_by for each in archive.components.values() if each.needed_by}
    return tuple(sorted(days.values(), key=lambda each: (str(each.latest or each.earliest or "9999"), each.text)))


def _rows(archive: Archive, found: Mapping[str, tuple[FeatureLine, ...]], asked: Sequence[str]) -> Iterator[FittingRow]:
    """The components asked for, with the assemblies above each where they do not stand there already."""
    stands: set[str] = set()
    last = -1
    for each in asked:
        way = way_down(archive, each)
        for depth, component in enumerate((*way, archive.components[each])):
            if component.id not in stands:
                stands.add(component.id)
                last = min(depth, last + 1, DEEPEST)
                is_asked = component.id in asked
                yield FittingRow(
                    component=component,
                    depth=last,
                    features=found[component.id] if is_asked else (),
                    is_asked=is_asked,
                )
