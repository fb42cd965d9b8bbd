"""Figures and units in the records that cannot be read, that can be read in two ways, or that cannot be."""

import re
from collections.abc import Iterator

from provenance.errors import Place, Problem, Severity
from provenance.records.archive import Archive
from provenance.records.claims import Claim
from provenance.records.components import Component, Feature
from provenance.records.decisions import Decision
from provenance.records.kinds import FeatureKind
from provenance.records.measures import AmbiguousMeasureError, MeasureError, parse_measure
from provenance.records.units import Unit, parse_unit

_LOOKS_LIKE_A_FIGURE = re.compile(r"\s*[0-9.½¼¾⅛⅜⅝⅞]")
_BELOW_NOTHING = re.compile(r"\s*[-\N{MINUS SIGN}\N{EN DASH}]")


def claim_measures(archive: Archive) -> Iterator[Problem]:
    """Figures of claims, and their give or take (rules `unreadable-measure`, `impossible-uncertainty`).

    Only of quantities whose unit is known: without one no figure can be told in it, which `component_measures` says.
    """
    for claim in archive.claims.values():
        unit = _unit_to_build_in(archive.features.get(claim.about))
        if unit is not None:
            file = f"claims/{claim.id}.yaml"
            yield from _unreadable(claim.value, unit, Place(file=file, field="value"))
            yield from _of_uncertainty(claim, unit, Place(file=file, field="uncertainty"))


def component_measures(archive: Archive) -> Iterator[Problem]:
    """Units of quantities, and how closely they must be known and fit (rules `unreadable-measure`, `no-unit`)."""
    for component in archive.components.values():
        for number, feature in enumerate(component.features):
            yield from _of_feature(component, feature, f"features[{number}]")


def decision_measures(archive: Archive) -> Iterator[Problem]:
    """What is to be built and what was made, where that begins as a figure and is none (rule `unreadable-measure`).

    People may write in words what they build, and to which tolerance: that is no fault, and so these are warnings.
    """
    for decision in archive.decisions.values():
        unit = _unit_to_build_in(archive.features.get(decision.about))
        if unit is not None:
            yield from _of_decision(decision, unit)


def _unit_to_build_in(feature: Feature | None) -> Unit | None:
    """The unit of a quantity; None for other kinds, and where none that is known is given."""
    if feature is None or feature.kind is not FeatureKind.QUANTITY or feature.unit is None:
        return None
    try:
        return parse_unit(feature.unit)
    except MeasureError:
        return None


def _of_uncertainty(claim: Claim, unit: Unit, place: Place) -> Iterator[Problem]:
    written = claim.uncertainty
    if written is None:
        return
    if not _BELOW_NOTHING.match(written):
        try:
            if parse_measure(written, unit=unit).value > 0:
                return
        except MeasureError as error:
            yield _problem(place, error)
            return
    yield Problem(
        place=place,
        rule="impossible-uncertainty",
        what=f"a give or take of `{written}` is not more than nothing",
        mend="write how far the figure may be off either way, such as `uncertainty: 1/4 in`, or delete `uncertainty`",
    )


def _of_feature(component: Component, feature: Feature, field: str) -> Iterator[Problem]:
    file = f"components/{component.id}.yaml"
    unit = _unit_to_build_in(feature)
    if feature.kind is FeatureKind.QUANTITY and feature.unit is None:
        yield Problem(
            place=Place(file=file, field=field),
            rule="no-unit",
            what=f"{component.id}/{feature.id} is a quantity without a unit: its figures cannot be compared",
            mend="write the unit that it is built in, such as `unit: mm`",
        )
    elif feature.unit is not None and unit is None:
        yield from _unknown_unit(feature.unit, Place(file=file, field=f"{field}.unit"))
    if feature.needed is not None:
        yield from _unreadable(feature.needed, unit, Place(file=file, field=f"{field}.needed"))
    for number, mate in enumerate(feature.mates):
        if mate.within is not None:
            yield from _unreadable(mate.within, unit, Place(file=file, field=f"{field}.mates[{number}].within"))


def _unknown_unit(written: str, place: Place) -> Iterator[Problem]:
    try:
        parse_unit(written)
    except MeasureError as error:
        yield _problem(place, error)


def _of_decision(decision: Decision, unit: Unit) -> Iterator[Problem]:
    written = {"build": decision.build, "tolerance": decision.tolerance}
    written |= {f"made[{number}].value": made.value for number, made in enumerate(decision.made)}
    for field, text in written.items():
        if text is not None:
            place = Place(file=f"decisions/{decision.id}.yaml", field=field)
            yield from _unreadable(text, unit, place, is_free_text=True)


def _unreadable(written: str, unit: Unit | None, place: Place, *, is_free_text: bool = False) -> Iterator[Problem]:
    try:
        parse_measure(written, unit=unit)
    except AmbiguousMeasureError as error:
        yield _problem(place, error, Severity.WARN if is_free_text else Severity.ERROR)
    except MeasureError as error:
        if not is_free_text:
            yield _problem(place, error)
        elif _LOOKS_LIKE_A_FIGURE.match(written):
            yield _problem(place, error, Severity.WARN)


def _problem(place: Place, error: MeasureError, severity: Severity = Severity.ERROR) -> Problem:
    return Problem(place=place, rule="unreadable-measure", what=error.what, mend=error.mend, severity=severity)
