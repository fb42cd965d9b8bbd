"""One component as a value: what it is part of and what is part of it, its features, what is to be minded of it."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from provenance.records.archive import Archive
from provenance.records.components import Component
from provenance.records.decisions import Query
from provenance.reports.fittings import DEEPEST, FeatureLine, feature_lines, in_order_of_parts, way_down
from provenance.reports.standing import Standing
from provenance.rules.cautions import StandingCaution, cautions_for
from provenance.rules.flag_values import Flag
from provenance.rules.grades import Grade
from provenance.rules.verdicts import Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class PartBelow:
    """A part of a component, or a part of a part.

    Attributes:
        depth: 1 for a part of the component itself.
        grades: of its own features, how many have each grade.
    """

    component: Component
    depth: int
    grades: tuple[tuple[Grade, int], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitting:
    """One component.

    Attributes:
        cautions: of its own hazards and of those of the sources that its evidence names.
        above: the assemblies that it is part of, the outermost first.
        below: its parts, each after what it is part of.
        lines: its features, in the order in which it lists them.
        common_to: over which examples it is interchangeable, with the titles of the sources that say so, by their ids.
        flags: about the component itself and its features, the most pressing first.
        queries: what is in doubt about it or its features and not answered, in order of id.
    """

    standing: Standing
    component: Component
    cautions: tuple[StandingCaution, ...]
    above: tuple[Component, ...]
    below: tuple[PartBelow, ...]
    lines: tuple[FeatureLine, ...]
    common_to: tuple[tuple[str, str, str], ...]
    flags: tuple[Flag, ...]
    queries: tuple[Query, ...]


def compose_fitting(
    archive: Archive,
    standing: Standing,
    component_id: str,
    verdicts: Mapping[str, Verdict],
    raised: tuple[Flag, ...],
) -> Fitting:
    """Put together what is to be said of one component.

    Args:
        archive: the archive.
        standing: what every answer begins with.
        component_id: of one that the archive has.
        verdicts: on every feature; empty while the archive does not say what it represents.
        raised: all flags, in their order.
    """
    component = archive.components[component_id]
    lines = feature_lines(component, verdicts)
    own = {component_id, *(line.feature for line in lines)}
    return Fitting(
        standing=standing,
        component=component,
        cautions=cautions_for(archive, [*component.hazards, *_hazards_of_sources(archive, lines)]),
        above=way_down(archive, component_id),
        below=tuple(
            PartBelow(
                component=archive.components[each], depth=min(depth, DEEPEST), grades=_grades(archive, each, verdicts)
            )
            for each, depth in in_order_of_parts(archive, component_id)
            if depth
        ),
        lines=lines,
        common_to=tuple(
            (str(each.examples), each.source, archive.sources[each.source].title)
            for each in component.common_to
            if each.source in archive.sources
        ),
        flags=tuple(flag for flag in raised if flag.about_kind in {"features", "components"} and flag.about in own),
        queries=tuple(each for each in archive.queries.values() if each.open and each.about in own),
    )


def _hazards_of_sources(archive: Archive, lines: tuple[FeatureLine, ...]) -> list[str]:
    verdicts = [line.verdict for line in lines if line.verdict is not None]
    named = {item.source for verdict in verdicts for candidate in verdict.candidates for item in candidate.items}
    return [hazard for each in sorted(named) for hazard in archive.sources[each].hazards]


def _grades(archive: Archive, component_id: str, verdicts: Mapping[str, Verdict]) -> tuple[tuple[Grade, int], ...]:
    lines = feature_lines(archive.components[component_id], verdicts)
    grades = Counter(line.verdict.grade for line in lines if line.verdict is not None)
    return tuple((grade, grades[grade]) for grade in Grade if grades[grade])
