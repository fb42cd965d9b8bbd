"""The register of features: what the evidence speaks for, how sure that is, what is built, and what is conjecture."""

from collections.abc import Iterator, Mapping, Sequence

from provenance.records.components import Component
from provenance.records.decisions import Decision, ModernChange
from provenance.records.kinds import How, SourceKind, Stance
from provenance.reports.appendix_readings import withheld_remarks
from provenance.reports.appendix_words import OF_OTHERS, PARTS, REASONS
from provenance.reports.date_words import date_words
from provenance.reports.declared import definitions_of
from provenance.reports.layout import counted
from provenance.reports.registers import (
    FeatureRegister,
    FeatureRow,
    Occasion,
    RegisterHead,
    meaning_of_what_is_struck_out,
    sentences_about,
)
from provenance.rules.cautions import cautions_for
from provenance.rules.chosen_builds import chosen_build
from provenance.rules.grades import Grade
from provenance.rules.public_values import PublicArchive
from provenance.rules.sentences import chance_in_words
from provenance.rules.verdicts import JudgedItem, Verdict

PHYSICAL, PICTORIAL, DOCUMENTARY, TOLD = "physical", "pictorial", "documentary", "told"
BY_COMPARISON, UNBUILT = "by comparison with another machine", "an unbuilt design"
CONJECTURE = "conjecture"
IN_DOUBT = "in doubt: a question about it has not been answered yet"

CLASSES = {
    PHYSICAL: "a surviving piece, or a survey or an analysis of one",
    PICTORIAL: "a photograph, a film, a work of art or a model",
    DOCUMENTARY: "what was drawn, written or printed",
    TOLD: "what a person tells from memory",
    BY_COMPARISON: "seen or said of another machine or type, and carried over",
    UNBUILT: "drawn or specified, and never built so; it counts for nothing by itself",
}
"""The classes of evidence, in the order in which they are named."""

_PHYSICAL = frozenset({SourceKind.ARTEFACT, SourceKind.SURVEY, SourceKind.ANALYSIS})
_PICTORIAL = frozenset(
    {SourceKind.PHOTOGRAPH, SourceKind.FILM, SourceKind.ARTWORK, SourceKind.SCALE_MODEL, SourceKind.MODEL_3D}
)
_TOLD = frozenset({SourceKind.ORAL_HISTORY, SourceKind.OPINION})

_MEANINGS = (
    ("Declared", "what is conjecture, known by comparison alone, changed for the present day, or in doubt"),
    ("Decided, and built as", "the value that the team has released for building; empty while it has released none"),
    ("Made on", "when the part was made; empty while it is not"),
    ("Not shown here", "what is known of evidence that cannot be shown, and no more than that"),
    ("An empty cell", "nothing is recorded"),
)


def compose_feature_register(view: PublicArchive, occasion: Occasion) -> FeatureRegister:
    """Compose the register of features of an archive that says what it represents."""
    parts = parts_in_order(view.archive.components)
    verdicts = [view.verdicts[f"{part.id}/{feature.id}"] for part in parts for feature in part.features]
    rows = tuple(_row(view, number, verdict) for number, verdict in enumerate(verdicts, 1))
    concerned = dict.fromkeys(verdict.component for verdict in verdicts)
    hazards = (hazard for each in concerned for hazard in view.archive.components[each].hazards)
    head = RegisterHead(
        title=f"Register of features: {view.archive.title}",
        day=view.date,
        draft=occasion.draft,
        about=(
            *sentences_about(view, occasion),
            f"It lists {counted(len(rows), 'feature')} of {counted(len(concerned), 'part')}.",
        ),
        cautions=cautions_for(view.archive, hazards),
        meanings=(*_words_used(view, verdicts), *CLASSES.items(), *_MEANINGS, *meaning_of_what_is_struck_out(rows)),
        held_privately=occasion.held_privately,
    )
    return FeatureRegister(head=head, rows=rows)


def _words_used(view: PublicArchive, verdicts: Sequence[Verdict]) -> Iterator[tuple[str, str]]:
    """The defined words that stand in rows, with their meaning; grades of values that no row names stand in none."""
    unused = {grade.value for grade in Grade} - {verdict.grade.value for verdict in verdicts}
    return ((word, meaning) for word, meaning in definitions_of(view, verdicts) if word not in unused)


def parts_in_order(components: Mapping[str, Component]) -> tuple[Component, ...]:
    """All parts, each before those that belong to it, and parts of the same one in order of their ids."""
    inside: dict[str | None, list[str]] = {}
    for each in sorted(components):
        owner = components[each].part_of
        inside.setdefault(owner if owner in components else None, []).append(each)
    found: dict[str, Component] = {}
    waiting = inside.get(None, [])[::-1]
    while waiting:
        each = waiting.pop()
        found[each] = components[each]
        waiting += inside.get(each, [])[::-1]
    return tuple(found.values())


def _row(view: PublicArchive, number: int, verdict: Verdict) -> FeatureRow:
    part = view.archive.components[verdict.component]
    owner = view.archive.components.get(part.part_of or "")
    decision = verdict.decision
    return FeatureRow(
        number=number,
        record=verdict.feature,
        part=part.name,
        part_of=owner.name if owner else "",
        feature=verdict.name,
        aspect=verdict.aspect.value,
        made_as=PARTS.get(part.made_as or "", ""),
        value=verdict.shown or "",
        grade=verdict.grade.value,
        witnesses=str(verdict.lines),
        chance=chance_in_words(verdict.posterior) if verdict.best else "",
        evidence=", ".join(classes_behind(view, verdict)),
        declared="; ".join(_declared(view, verdict, part)),
        built=chosen_build(verdict, decision).shown if decision else "",
        made=", ".join(date_words(each.date) for each in decision.made) if decision else "",
        confidence=" ".join(withheld_remarks(view, verdict)),
        hazards=", ".join(part.hazards),
    )


def classes_behind(view: PublicArchive, verdict: Verdict) -> Iterator[str]:
    """The classes of evidence behind the best value, in order, and whether it is of other machines.

    Where nothing supports any value, an unbuilt design alone can be named.
    """
    candidates = (verdict.best,) if verdict.best else verdict.candidates
    items = [item for each in candidates for item in each.items if item.stance is Stance.SUPPORTS and not item.left_out]
    counting = [item for item in items if item.weight > 0]
    found = {_class_of(view, item) for item in counting}
    yield from (each for each in CLASSES if each in found)
    of_others = [item for item in counting if item.how is How.ANALOGY or item.applies in OF_OTHERS]
    if of_others:
        yield f"{'all' if len(of_others) == len(counting) else 'in part'} {BY_COMPARISON}"
    if any(_is_unbuilt(view, item) for item in items):
        yield UNBUILT


def _is_unbuilt(view: PublicArchive, item: JudgedItem) -> bool:
    return view.archive.sources[item.source].executed is False


def _class_of(view: PublicArchive, item: JudgedItem) -> str:
    kind = view.archive.sources[item.source].kind
    if kind in _PHYSICAL:
        return PHYSICAL
    if kind in _PICTORIAL:
        return PICTORIAL
    return TOLD if kind in _TOLD else DOCUMENTARY


def _declared(view: PublicArchive, verdict: Verdict, part: Component) -> Iterator[str]:
    """What must not go unsaid of a feature; of what is not shown nothing is declared."""
    decision = verdict.decision
    if part.made_as == "not-represented":
        return
    if decision is not None and chosen_build(verdict, decision).is_conjecture:
        yield f"{CONJECTURE}: nothing that can be shown here supports what is built"
    elif verdict.best is None and (decision is None or decision.modern_change is None):
        yield f"{CONJECTURE}: nothing that can be shown here supports any answer"
    elif verdict.grade is Grade.INFERRED:
        yield f"inferred {BY_COMPARISON}"
    if decision is not None and decision.modern_change is not None:
        yield _changed(decision.modern_change, decision)
    if verdict.feature in view.queried:
        yield IN_DOUBT


def _changed(change: ModernChange, decision: Decision) -> str:
    note = f": {change.note.rstrip('.')}" if change.note else ""
    marked = f"; the new part is marked: {decision.stamp.rstrip('.')}" if decision.stamp else ""
    return f"modern change {REASONS[change.reason]}{note}{marked}"
