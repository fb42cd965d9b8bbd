"""Registers as values: every source that may be shown with where it comes from, and every feature with its grade.

They are made from the public view alone. A register tells facts about sources and shows nothing of theirs, no quotation
and no picture; so a source stands in it whose own publication is not cleared, and its row says so.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields
from typing import TypeAlias

from provenance.records.dates import Day, EdtfDate
from provenance.reports.appendix_words import CLAIMS, DRAFT, RE_CREATION
from provenance.reports.date_words import date_words
from provenance.reports.layout import counted
from provenance.rules.cautions import StandingCaution
from provenance.rules.public_values import PublicArchive
from provenance.rules.withheld_words import STRUCK_OUT

NOT_LOOKED_AT = "not looked at yet"


@dataclass(frozen=True, slots=True, kw_only=True)
class SourceRow:
    """One source in words; an empty text is what nothing is recorded of.

    Attributes:
        number: in this register, counted from 1.
        record: the id of its record, which stays when numbers change.
        kind: what it is; for a find that nobody has tagged, that it has not been looked at.
        created: when the thing was made, not the scan.
        creator: who made it, as print may name them.
        reference: the holder's.
        language: BCP 47 tags.
        replaces: the earlier issue that it replaces.
        made_from: what it was made from, and how.
        within: what it is kept in.
        shows: the individual machines that it shows or speaks of.
        reliability: the letter of AJP-2.1 and what it means, and why it was judged so.
        statement: the rights statement.
        credit: the line that stands beside it where it is shown.
        cleared: whether it may itself be published beside a panel.
        cited_by: how many features have evidence from it, for or against; empty where nothing can be judged.
        hazards: of the thing itself.
        remarks: what tells how far it can be gone by: never built, altered, saying or not saying whence it knows.
        entered: the day of its record.
    """

    number: int
    record: str
    title: str
    kind: str
    created: str
    creator: str
    holder: str
    reference: str
    language: str
    issue: str
    replaces: str
    made_from: str
    within: str
    shows: str
    reliability: str
    statement: str
    credit: str
    cleared: str
    cited_by: str
    hazards: str
    remarks: str
    entered: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FeatureRow:
    """One feature in words; an empty text is what nothing is recorded of.

    Attributes:
        number: in this register, counted from 1.
        record: `component/feature`.
        part: the name of the component.
        part_of: the name of the part that it belongs to.
        aspect: what the feature is about.
        made_as: what the made part is; empty while that is undecided.
        value: what the evidence speaks for; empty where nothing supports anything.
        grade: how well that is supported.
        witnesses: how many independent ones it has.
        chance: of that value, in 100.
        evidence: the classes of evidence behind it, and whether it is of other machines.
        declared: conjecture, what is known by comparison alone, and what the present day asked to be changed.
        built: the value that is released for building.
        made: when it was made.
        confidence: what the public is not shown, and no more than that.
        hazards: of the part.
    """

    number: int
    record: str
    part: str
    part_of: str
    feature: str
    aspect: str
    made_as: str
    value: str
    grade: str
    witnesses: str
    chance: str
    evidence: str
    declared: str
    built: str
    made: str
    confidence: str
    hazards: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RegisterHead:
    """What a register says of itself.

    Attributes:
        title: names the archive.
        day: on which closures and permissions are looked at.
        draft: whether it is marked as a draft.
        about: sentences on what it is, the mark of a draft first.
        cautions: of the hazards in its rows.
        meanings: its words, with what each means.
        held_privately: how many sources of the team's it does not list.
    """

    title: str
    day: Day
    draft: bool
    about: tuple[str, ...]
    cautions: tuple[StandingCaution, ...]
    meanings: tuple[tuple[str, str], ...]
    held_privately: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SourceRegister:
    """All sources that may be shown, in order of their ids."""

    head: RegisterHead
    rows: tuple[SourceRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FeatureRegister:
    """All features, in order of the tree of parts, then as each part lists them."""

    head: RegisterHead
    rows: tuple[FeatureRow, ...]


Register: TypeAlias = SourceRegister | FeatureRegister

SOURCE_HEADINGS = {
    "number": "No.",
    "record": "Record",
    "title": "Title",
    "kind": "What it is",
    "created": "When made",
    "creator": "Made by",
    "holder": "Held by",
    "reference": "Holder's reference",
    "language": "Language",
    "issue": "Issue",
    "replaces": "Replaces",
    "made_from": "Made from",
    "within": "Kept within",
    "shows": "Machines shown",
    "reliability": "Reliability",
    "statement": "Rights statement",
    "credit": "Credit line",
    "cleared": "Cleared for print",
    "cited_by": "Features that cite it",
    "hazards": "Hazards",
    "remarks": "Remarks",
    "entered": "Entered on",
}
"""What stands above each field of a source."""

FEATURE_HEADINGS = {
    "number": "No.",
    "record": "Record",
    "part": "Part",
    "part_of": "Belongs to",
    "feature": "Feature",
    "aspect": "About its",
    "made_as": "What the part is",
    "value": "What the evidence speaks for",
    "grade": "Grade",
    "witnesses": "Independent witnesses",
    "chance": "Chance",
    "evidence": "Evidence behind it",
    "declared": "Declared",
    "built": "Decided, and built as",
    "made": "Made on",
    "confidence": "Not shown here",
    "hazards": "Hazards",
}
"""What stands above each field of a feature."""


def headings_of(register: Register) -> dict[str, str]:
    """What stands above each field, by the field's name, in order."""
    return SOURCE_HEADINGS if isinstance(register, SourceRegister) else FEATURE_HEADINGS


def cells_of(row: SourceRow | FeatureRow) -> tuple[str, ...]:
    """The fields of a row in order, as texts."""
    return tuple(str(getattr(row, field.name)) for field in fields(row))


@dataclass(frozen=True, slots=True, kw_only=True)
class Occasion:
    """For what a register is made.

    Attributes:
        printed: the day that it carries.
        held_privately: how many sources of the team's there are besides.
        left_out: how many records could not be used; 0 but for a draft.
    """

    printed: EdtfDate
    draft: bool
    held_privately: int
    left_out: int = 0


def sentences_about(view: PublicArchive, occasion: Occasion) -> Iterator[str]:
    """Say what every register says: a draft, what the object is, what is represented, the day, what is missing."""
    if occasion.draft:
        yield f"{DRAFT}."
    yield f"{_object(view)} The object is {RE_CREATION}."
    target = view.archive.target
    if target is not None:
        why = f" Why this one: {target.why.rstrip('.')}." if target.why else ""
        yield f"Represented is No. {target.example} as it was in {date_words(target.as_at)}.{why}"
    yield f"What may be shown was looked at for {date_words(occasion.printed)}."
    if occasion.left_out:
        yield f"Not the whole archive: {counted(occasion.left_out, 'record')} could not be used."
    if occasion.held_privately == 1:
        yield "One further source is held privately."
    elif occasion.held_privately:
        yield f"{occasion.held_privately} further sources are held privately."


def _object(view: PublicArchive) -> str:
    subject = view.archive.subject
    if subject is None:
        return f"{view.archive.title.rstrip('.')}."
    claims = subject.claims_to_be
    said = f", {'an' if claims[0] in 'aeiou' else 'a'} {claims}" if claims else ""
    return f"{subject.name}{said}."


def meaning_of_the_object(view: PublicArchive) -> Iterator[tuple[str, str]]:
    """What the word means that says what the object claims to be; nothing where it says none."""
    subject = view.archive.subject
    if subject is not None and subject.claims_to_be in CLAIMS:
        yield subject.claims_to_be, CLAIMS[subject.claims_to_be]


def meaning_of_what_is_struck_out(rows: Sequence[SourceRow | FeatureRow]) -> Iterator[tuple[str, str]]:
    """What stands in the place of words that may not be said; nothing where it stands in no row."""
    if any(STRUCK_OUT in cell for row in rows for cell in cells_of(row)):
        yield STRUCK_OUT, "words that would name what may not be shown"
