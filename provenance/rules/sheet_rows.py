"""What can be told from a picture, and is still open: the rows of a looking sheet.

A row is open while its feature is weak, or while nobody looked for it in this picture. What a picture cannot show is
none: a material; a finish unless in colour; a dimension or a quantity unless it is measured on the picture.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from provenance.records.archive import Archive
from provenance.records.components import Component, Feature
from provenance.records.kinds import FeatureKind, How, SourceKind
from provenance.records.sources import Source
from provenance.rules.grades import STRENGTH, Grade
from provenance.rules.lifting import WEAK
from provenance.rules.looked_for import SIGN
from provenance.rules.verdicts import Verdict
from provenance.rules.weighing import how_taken


class RowKind(StrEnum):
    """What is answered in a row."""

    SIGN = "sign"
    CHOICE = "choice"
    PRESENCE = "presence"
    TEXT = "text"
    FIGURE = "figure"


_KINDS = {
    FeatureKind.CHOICE: RowKind.CHOICE,
    FeatureKind.PRESENCE: RowKind.PRESENCE,
    FeatureKind.TEXT: RowKind.TEXT,
    FeatureKind.QUANTITY: RowKind.FIGURE,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetRow:
    """One thing to look for in a picture.

    Attributes:
        key: `component/feature`, or `component/sign:SIGN`.
        name: what is looked for, in words.
        feature: the feature; None for a sign.
        tells: of a sign the features, `component/feature`, whose options it tells apart; else the feature alone.
        grade: of the weakest feature that it tells; None while nothing can be judged.
        is_measured: whether the picture can tell it only where it is measured or counted on it.
        claims: ids of the claims that rest on this picture and tell it, in order.
        was_looked_for: whether somebody looked for it in this picture already.
    """

    key: str
    kind: RowKind
    name: str
    feature: Feature | None
    tells: tuple[str, ...]
    grade: Grade | None
    is_measured: bool
    claims: tuple[str, ...]
    was_looked_for: bool

    @property
    def component(self) -> str:
        """The id of the component."""
        return self.key.partition("/")[0]

    @property
    def is_weak(self) -> bool:
        """Whether more evidence is asked for."""
        return self.grade is None or self.grade in WEAK


def sheet_rows(
    archive: Archive,
    source: Source,
    components: Iterable[str],
    verdicts: Mapping[str, Verdict],
    told: Mapping[str, Sequence[str]],
) -> tuple[SheetRow, ...]:
    """Give the open rows of a picture, component by component: its signs, then its features as it lists them.

    Args:
        archive: the archive.
        source: the picture; one that nobody has tagged is taken for a photograph.
        components: ids of those that are looked for, in the order in which they are wanted.
        verdicts: on their features; empty while nothing can be judged.
        told: what was looked for in this picture, as `points_told` gives it.
    """
    picture = source if source.kind is not None else replace(source, kind=SourceKind.PHOTOGRAPH)
    rows = [
        replace(row, claims=tuple(told.get(row.key, ())), was_looked_for=row.key in told)
        for component in components
        for row in _rows_of(archive.components[component], picture, verdicts)
    ]
    return tuple(row for row in rows if row.is_weak or not row.was_looked_for)


def how_by_picture(feature: Feature, source: Source) -> How | None:
    """Say how a picture tells a feature: it shows it, or it must be measured on it; None where it can do neither."""
    for how in (How.SHOWS, How.MEASURED):
        if how_taken(how, source, feature.aspect) is how:
            return How.MEASURED if feature.kind is FeatureKind.QUANTITY else how
    return None


def signs_told_by(feature: Feature) -> frozenset[str]:
    """Give the ids of the signs that an option of a feature lists."""
    return frozenset(each.sign for option in feature.options for each in option.signs)


def _rows_of(component: Component, picture: Source, verdicts: Mapping[str, Verdict]) -> Iterator[SheetRow]:
    def grade(*features: str) -> Grade | None:
        grades = [verdicts[each].grade for each in features if each in verdicts]
        return min(grades, key=STRENGTH.index, default=None)

    for sign in component.signs:
        tells = tuple(f"{component.id}/{each.id}" for each in component.features if sign.id in signs_told_by(each))
        if tells:
            yield SheetRow(
                key=f"{component.id}/{SIGN}{sign.id}",
                kind=RowKind.SIGN,
                name=sign.name,
                feature=None,
                tells=tells,
                grade=grade(*tells),
                is_measured=False,
                claims=(),
                was_looked_for=False,
            )
    for feature in component.features:
        how = how_by_picture(feature, picture)
        if how is not None:
            name = f"{component.id}/{feature.id}"
            yield SheetRow(
                key=name,
                kind=_KINDS[feature.kind],
                name=feature.name,
                feature=feature,
                tells=(name,),
                grade=grade(name),
                is_measured=how is How.MEASURED,
                claims=(),
                was_looked_for=False,
            )
