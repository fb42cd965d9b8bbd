"""What a statement of a panel rests on, by class of evidence, with what speaks otherwise."""

from collections.abc import Iterable, Iterator

from provenance.records.decisions import Statement
from provenance.records.kinds import How, Stance
from provenance.reports.appendix_values import Account, Reading, StatementAccount, Witnesses
from provenance.reports.appendix_words import CLASSES, NEW_TODAY, OF_OTHERS, sureness
from provenance.reports.citations import Citation, Citations
from provenance.reports.declared import feature_name
from provenance.rules.chosen_builds import chosen_build
from provenance.rules.public_values import HELD_PRIVATELY, IN_CONFIDENCE, PublicArchive
from provenance.rules.verdicts import Candidate, JudgedItem, Verdict


def verdicts_on(view: PublicArchive, statement: Statement) -> list[Verdict]:
    """The verdicts on what a statement speaks of; features that are not there are passed over."""
    return [view.verdicts[feature] for feature in dict.fromkeys(statement.features) if feature in view.verdicts]


def cited_in(view: PublicArchive, statements: Iterable[Statement]) -> Iterator[JudgedItem]:
    """Everything that the accounts of some statements cite, in the order in which it stands there."""
    for statement in statements:
        for verdict in verdicts_on(view, statement):
            for candidate in _readings_of(view, verdict):
                yield from (item for _, items in _by_class(view, candidate) for item in items)
                yield from _opposed(candidate)
                yield from _unbuilt(view, candidate)


def account_of(view: PublicArchive, statement: Statement, citations: Citations) -> StatementAccount:
    """What a statement rests on.

    Args:
        view: the archive as the public sees it.
        statement: the statement.
        citations: made of `cited_in`.
    """
    accounts = tuple(_account(view, verdict, citations) for verdict in verdicts_on(view, statement))
    return StatementAccount(text=statement.text, accounts=accounts)


def withheld_remarks(view: PublicArchive, verdict: Verdict) -> Iterator[str]:
    """Say of a feature what the public is not shown, and no more than that."""
    private = view.held_privately[verdict.feature]
    if private == 1:
        yield f"{HELD_PRIVATELY[:1].upper()}{HELD_PRIVATELY[1:]} supports this too."
    elif private:
        yield f"{private} sources held privately support this too."
    if verdict.feature in view.in_confidence:
        yield f"{IN_CONFIDENCE[:1].upper()}{IN_CONFIDENCE[1:]}."


def _shown_otherwise(verdict: Verdict) -> Iterator[str]:
    if verdict.decision is not None and verdict.best is not None:
        build = chosen_build(verdict, verdict.decision)
        if not build.is_best:
            why = NEW_TODAY if verdict.decision.modern_change else "which is not what the evidence speaks for most"
            yield f"Here it is shown as “{build.shown}”, {why}."


def _doubts(view: PublicArchive, verdict: Verdict) -> Iterator[str]:
    if verdict.feature in view.queried:
        yield "A doubt about this was raised and has not been answered yet."


def _account(view: PublicArchive, verdict: Verdict, citations: Citations) -> Account:
    readings = [(each, _reading(view, each, citations)) for each in _readings_of(view, verdict)]
    return Account(
        name=feature_name(view, verdict),
        best=next((reading for candidate, reading in readings if candidate is verdict.best), None),
        others=tuple(reading for candidate, reading in readings if candidate is not verdict.best),
        withheld=tuple(withheld_remarks(view, verdict)),
        remarks=(*_shown_otherwise(verdict), *_doubts(view, verdict)),
    )


def _readings_of(view: PublicArchive, verdict: Verdict) -> Iterator[Candidate]:
    """The best value first, then what else something supports, or an unbuilt design shows."""
    if verdict.best is not None:
        yield verdict.best
    for each in verdict.candidates:
        if each is not verdict.best and (each.supporting or _unbuilt(view, each)):
            yield each


def _reading(view: PublicArchive, candidate: Candidate, citations: Citations) -> Reading:
    return Reading(
        value=candidate.shown,
        sure=sureness(candidate) if candidate.supporting else "",
        supported=tuple(
            Witnesses(said=said, citations=_cited(items, citations)) for said, items in _by_class(view, candidate)
        ),
        counted=_counted(candidate),
        opposed=_cited(_opposed(candidate), citations),
        unbuilt=_cited(_unbuilt(view, candidate), citations),
    )


def _by_class(view: PublicArchive, candidate: Candidate) -> Iterable[tuple[str, list[JudgedItem]]]:
    grouped: dict[str, list[JudgedItem]] = {}
    for item in candidate.supporting:
        grouped.setdefault(_class_of(view, item), []).append(item)
    return grouped.items()


def _class_of(view: PublicArchive, item: JudgedItem) -> str:
    kind = view.archive.sources[item.source].kind
    said = CLASSES[kind] if kind else "Elsewhere"
    if item.how_written is How.ANALOGY:
        said += ", by analogy"
    elif item.applies in OF_OTHERS:
        said += ", of another machine"
    return f"{said}, long afterwards" if item.late_memory else said


def _counted(candidate: Candidate) -> str:
    sources = len({item.source for item in candidate.supporting})
    if candidate.lines >= sources:
        return ""
    witnesses = "one witness" if candidate.lines == 1 else f"{candidate.lines} witnesses"
    return f"These {sources} sources are not all independent of one another: they count as {witnesses}."


def _opposed(candidate: Candidate) -> list[JudgedItem]:
    return [item for item in candidate.items if item.weight > 0 and item.stance is Stance.CONTRADICTS]


def _unbuilt(view: PublicArchive, candidate: Candidate) -> list[JudgedItem]:
    return [
        item
        for item in candidate.items
        if item.weight == 0
        and item.stance is Stance.SUPPORTS
        and not item.left_out
        and view.archive.sources[item.source].executed is False
    ]


def _cited(items: Iterable[JudgedItem], citations: Citations) -> tuple[Citation, ...]:
    return tuple(dict.fromkeys(citations.of(item) for item in items))
