"""One decision with all that is on record of it, in words."""

from collections.abc import Iterator
from dataclasses import dataclass

from provenance.records.archive import Archive
from provenance.records.components import Feature
from provenance.records.decisions import Decision, Made
from provenance.reports.copied_words import person_words
from provenance.reports.date_words import date_words
from provenance.reports.dossier_words import status_words
from provenance.reports.layout import listed
from provenance.reports.making_words import change_words, drawing_words
from provenance.reports.to_decide import value_words
from provenance.rules.cautions import StandingCaution, cautions_for
from provenance.rules.chosen_builds import PROPOSED
from provenance.rules.judging import decision_in_force
from provenance.rules.quantity_words import in_both_units


@dataclass(frozen=True, slots=True, kw_only=True)
class DecisionShown:
    """One decision.

    Attributes:
        build: what is built, as people read it.
        state: such as `In force` or `Proposed`.
        terms: what is on record of it, as words with what is said of each, in the order of its record.
        basis: the claims that it rests on: id, and its value as people read it.
        set_aside: those that it goes against: id, its value, and why.
        made: what was made to it, a sentence each.
        cautions: of the hazards of the component, and of the sources of all claims about that feature.
        may_be_released: whether it is a proposal that stands.
        may_be_withdrawn: whether it is not withdrawn yet.
    """

    decision: Decision
    asked: Feature
    build: str
    state: str
    terms: tuple[tuple[str, str], ...]
    basis: tuple[tuple[str, str], ...]
    set_aside: tuple[tuple[str, str, str], ...]
    made: tuple[str, ...]
    cautions: tuple[StandingCaution, ...]
    is_in_force: bool
    may_be_released: bool
    may_be_withdrawn: bool


def compose_decision_shown(archive: Archive, decision: Decision) -> DecisionShown:
    """Put together what is on record of a decision.

    Args:
        archive: the archive.
        decision: of one of its features.
    """
    asked = archive.features[decision.about]
    in_force = decision_in_force([each for each in archive.decisions.values() if each.about == decision.about])
    is_in_force = in_force is not None and in_force.id == decision.id
    return DecisionShown(
        decision=decision,
        asked=asked,
        build=value_words(asked, decision.build),
        state=status_words(decision, in_force=is_in_force),
        terms=tuple(_terms(archive, asked, decision)),
        basis=tuple((each, _claimed(archive, asked, each)) for each in decision.basis),
        set_aside=tuple((each.claim, _claimed(archive, asked, each.claim), each.why) for each in decision.set_aside),
        made=tuple(_made(archive, asked, each) for each in decision.made),
        cautions=cautions_for(archive, _hazards(archive, decision.about)),
        is_in_force=is_in_force,
        may_be_released=decision.status == PROPOSED and decision.withdrawn is None,
        may_be_withdrawn=decision.withdrawn is None,
    )


def _hazards(archive: Archive, about: str) -> Iterator[str]:
    yield from archive.components[about.partition("/")[0]].hazards
    for claim in archive.claims.values():
        if claim.about == about:
            for item in claim.evidence:
                yield from archive.sources[item.source].hazards


def _terms(archive: Archive, asked: Feature, decision: Decision) -> Iterator[tuple[str, str]]:
    if decision.tolerance:
        yield "To limits", in_both_units(decision.tolerance, asked.unit)
    if decision.modern_change:
        yield "Changed from the evidence", change_words(decision.modern_change)
    if decision.drawings:
        yield "To drawing", listed(map(drawing_words, decision.drawings))
    if decision.stamp:
        yield "Mark the new part", decision.stamp
    if decision.why:
        yield "Why", decision.why
    if decision.grade_then:
        yield "Grade of that value then", decision.grade_then
    yield "Decided", f"by {person_words(archive, decision.by)}, {date_words(decision.date)}"
    if decision.released:
        released = decision.released
        yield "Released", f"by {person_words(archive, released.by)}, {date_words(released.date)}"
    if decision.note:
        yield "Note", decision.note
    if decision.withdrawn:
        gone = decision.withdrawn
        yield "Withdrawn", f"by {person_words(archive, gone.by)}, {date_words(gone.date)}: {gone.why}"


def _claimed(archive: Archive, asked: Feature, claim: str) -> str:
    return value_words(asked, archive.claims[claim].value) if claim in archive.claims else "not there any more"


def _made(archive: Archive, asked: Feature, made: Made) -> str:
    value = f" to {value_words(asked, made.value)}" if made.value else ""
    by = f" by {person_words(archive, made.by)}" if made.by else ""
    fits = f" It fits {made.fits}." if made.fits else ""
    inspected = f" Inspected by {person_words(archive, made.inspected_by)}." if made.inspected_by else ""
    note = f" {made.note.rstrip('.')}." if made.note else ""
    return f"Made{value}{by}, {date_words(made.date)}.{fits}{inspected}{note}"
