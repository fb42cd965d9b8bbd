"""A verdict in plain sentences: what was decided, what was counted, what was not and why, and what rests on what."""

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from provenance.records.kinds import Stance
from provenance.rules.descent import in_order
from provenance.rules.grades import Category, Grade
from provenance.rules.posterior import at_least
from provenance.rules.sentences import chance_in_words, counted, listed, points
from provenance.rules.verdicts import Candidate, JudgedItem
from provenance.rules.weights import Weights

Namer = Callable[[str], str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """What an explanation is about.

    Attributes:
        best: the best value; None where nothing supports any.
        candidates: all values.
        part_itself: id of the source that is the very part of this machine; None where it is not held.
        seen_built: ids of the sources that saw the best value as built.
        open_pairs: the shared ancestors of likely copies that nobody has ruled on, each with its two sources.
        weights: the thresholds.
        name: names a part of a descent in words.
    """

    best: Candidate | None
    candidates: tuple[Candidate, ...]
    part_itself: str | None
    seen_built: tuple[str, ...]
    open_pairs: dict[str, tuple[str, str]]
    weights: Weights
    name: Namer


def explain(case: Case) -> str:
    """Say in some plain sentences why the verdict is what it is."""
    if case.best is None:
        return " ".join(_nothing(case))
    best = case.best
    told = [_opening(case, best), *_resting(case, best), *_counted(case, best), *_not_counted(case, best)]
    return " ".join([*told, *_against(case, best), *_pairs(case, best), *_doubts(case, best)])


def _nothing(case: Case) -> Iterator[str]:
    items = [item for candidate in case.candidates for item in candidate.items]
    if not items:
        yield "Nothing has been entered about this yet."
        return
    yield "Nothing that we hold supports any value."
    against = [item for item in items if item.weight > 0]
    if against:
        yield f"Evidence speaks only against: {_titles(against, case.name)}."
    weightless = [item for item in items if item.weight == 0]
    if weightless:
        yield f"Of no weight here: {_with_why(weightless, case.name)}."


def _opening(case: Case, best: Candidate) -> str:
    value, chance = f"“{best.shown}”", chance_in_words(best.posterior)
    witnesses = counted(best.lines, "independent witness", "independent witnesses")
    if best.grade is Grade.CONTESTED:
        rivals = [each for each in case.candidates if each is not best and each.grade is Grade.CONTESTED]
        against = listed([f"“{each.shown}” with {chance_in_words(each.posterior)}" for each in rivals])
        return f"{value} leads with {chance}, but it is contested: {against} is supported directly too."
    if best.grade is Grade.INFERRED:
        return f"{value} is inferred only, {chance}: {comparison(best)}."
    if best.grade is Grade.UNCORROBORATED:
        return f"{value} rests on a single witness that nothing independent confirms: {chance}."
    on = (
        f"on the part itself, {case.name(case.part_itself)}"
        if best.lines < 2 and case.part_itself
        else f"on {witnesses}"
    )
    if best.grade is Grade.ESTABLISHED:
        seen = listed([case.name(source) for source in case.seen_built])
        return f"{value} is established: {chance}, {on}; it was seen as built in {seen}."
    if best.grade is Grade.PROBABLE:
        unseen = at_least(best.posterior, case.weights.established)
        designed = " As designed; not shown to have been built so." if unseen else ""
        return f"{value} is probable: {chance}, {on}.{designed}"
    return f"{value} is possible, no more: {chance}, {on}."


def comparison(best: Candidate) -> str:
    """Say what an inferred value is inferred from."""
    direct = [item.applies for item in best.supporting if item.direct]
    if direct:
        nearest = min(direct, key=list(Category).index)
        return f"by comparison with {nearest.words}; nothing speaks directly of this machine or of its batch"
    nearest = min((item.applies for item in best.supporting), key=list(Category).index)
    return f"by comparison with what is known of {nearest.words}; nothing shows it or says so directly"


def _resting(case: Case, best: Candidate) -> Iterator[str]:
    sources = list(dict.fromkeys(item.source for item in best.supporting))
    if best.lines != 1:
        return
    if len(best.supporting) == 1:
        yield f"It rests on {case.name(sources[0])} alone."
    elif best.rests_on:
        named = [case.name(part) for part in best.rests_on]
        yield f"All {len(best.supporting)} citations go back to {listed(named)}."
    else:
        shared = [
            f"{case.name(overlap.sources[0])} and {case.name(overlap.sources[1])} share "
            f"{listed([case.name(part) for part in overlap.shared])}"
            for overlap in best.overlaps
        ]
        yield f"Independence cannot be shown: {listed(shared, shown=3)}."


def _counted(case: Case, best: Candidate) -> Iterator[str]:
    chosen = [item for item in best.supporting if item.counted]
    named = [f"{case.name(item.source)} ({item.applies.words}, {points(item.weight)})" for item in chosen]
    yield f"Counted for it: {listed(named)}; together worth {points(best.weight_for)} for this machine."


def _not_counted(case: Case, best: Candidate) -> Iterator[str]:
    chosen = [item for item in best.supporting if item.counted]
    beside = [
        f"{case.name(item.source)} ({_what_it_shares(item, chosen, case.name)})"
        for item in best.supporting
        if not item.counted
    ]
    if beside:
        yield f"Not counted beside: {listed(beside)}."
    weightless = [item for item in best.items if item.weight == 0]
    if weightless:
        yield f"Of no weight here: {_with_why(weightless, case.name)}."


def _what_it_shares(item: JudgedItem, chosen: Sequence[JudgedItem], name: Namer) -> str:
    other = next(each for each in chosen if each.descent & item.descent)
    if other.source == item.source:
        return "the same source once more"
    first = min(other.descent & item.descent, key=in_order)
    if first == item.source:
        return f"{name(other.source)} was made from it"
    if first == other.source:
        return f"it was made from {name(first)}"
    return f"shares {name(first)} with {name(other.source)}"


def _against(case: Case, best: Candidate) -> Iterator[str]:
    against = [item for item in best.items if item.weight > 0 and item.stance is Stance.CONTRADICTS and item.counted]
    if against:
        yield f"Against it: {_titles(against, case.name)}, worth {points(best.weight_against)}."
    others = [
        each for each in case.candidates if each is not best and each.grade is Grade.OUTWEIGHED and each.posterior
    ]
    if others:
        named = [f"“{each.shown}” ({chance_in_words(each.posterior)})" for each in others]
        yield f"Outweighed: {listed(named)}."


def _pairs(case: Case, best: Candidate) -> Iterator[str]:
    told = if_ruled_out(best, case.open_pairs, case.name)
    if told:
        yield f"{told}."


def if_ruled_out(best: Candidate, open_pairs: Mapping[str, tuple[str, str]], name: Namer) -> str:
    """Say how many witnesses there would be if no open pair were a copy; empty where that changes nothing."""
    if best.lines_if_ruled_out is None:
        return ""
    parts = Counter(part for item in best.supporting for part in item.descent if part in open_pairs)
    pairs = [open_pairs[part] for part in sorted(parts) if parts[part] > 1]
    named = [f"{name(one)} is not a copy of {name(other)}" for one, other in pairs]
    witnesses = counted(best.lines_if_ruled_out, "independent witness", "independent witnesses")
    return f"{witnesses} if {listed(named)}"


def _doubts(case: Case, best: Candidate) -> Iterator[str]:
    doubts = [f"{case.name(item.source)}: {note}" for item in best.supporting for note in item.notes]
    if doubts:
        yield f"Mind: {'; '.join(dict.fromkeys(doubts[:3]))}."


def _titles(items: Sequence[JudgedItem], name: Namer) -> str:
    return listed(list(dict.fromkeys(name(item.source) for item in items)))


def _with_why(items: Sequence[JudgedItem], name: Namer) -> str:
    return listed([f"{name(item.source)} ({_why_weightless(item)})" for item in items])


def _why_weightless(item: JudgedItem) -> str:
    if item.left_out or item.circular or item.applies in (Category.OTHER_TIME, Category.UNKNOWN):
        return item.reasons[0]
    return item.reasons[1] if len(item.reasons) > 1 else "it counts nothing by the weights in use"
