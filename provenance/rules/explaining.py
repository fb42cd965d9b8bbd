"""A verdict in plain sentences: what was decided and why, what was counted, what was not and for what reason."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

from provenance.records.kinds import Stance
from provenance.records.sources import Source
from provenance.rules.change_values import ChangeAnswer, ChangeOver
from provenance.rules.explaining_counts import counted_for, not_counted, set_aside
from provenance.rules.explaining_figures import figures_in_words
from provenance.rules.grades import Category, Grade
from provenance.rules.open_pairs import OpenPairs
from provenance.rules.posterior import at_least
from provenance.rules.quantity_values import Quantity
from provenance.rules.sentences import chance_in_words, counted, in_words, listed, namer
from provenance.rules.source_words import introducer
from provenance.rules.verdicts import Candidate, JudgedItem
from provenance.rules.weights import Weights

Namer = Callable[[str], str]
_NAMED = 3
"""How many pairs of likely copies are named."""
_LIKELY_SAME = frozenset({Category.SAME_BATCH, Category.SAME_TYPE, Category.RELATED_TYPE})


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """What an explanation is about.

    Attributes:
        target: number of the machine represented; None while the archive does not say.
        best: the best value; None where nothing supports any.
        candidates: all values.
        part_itself: id of the source that is the very part of this machine; None where it is not held.
        seen_built: ids of the sources that saw the best value as built.
        open_pairs: the pairs of likely copies that nobody has ruled on.
        weights: the thresholds.
        sources: all sources by id.
        change: the change-over that decides; with what is said where none is computed.
        quantity: what the figures come to; None for other kinds.
    """

    target: str | None
    best: Candidate | None
    candidates: tuple[Candidate, ...]
    part_itself: str | None
    seen_built: tuple[str, ...]
    open_pairs: OpenPairs
    weights: Weights
    sources: Mapping[str, Source]
    change: ChangeAnswer = field(default_factory=ChangeAnswer)
    quantity: Quantity | None = None

    def name(self, part: str) -> str:
        """Name a part of a descent in words: a source by its title, a witness by name."""
        return namer(self.sources)(part)

    def introduce(self, source: str) -> str:
        """Name a source with its kind: the photograph “No. 9 at the works”."""
        return introducer(self.sources)(source)


def explain(case: Case) -> str:
    """Say in some plain sentences why the verdict is what it is."""
    if case.best is None:
        return " ".join(_nothing(case))
    best = case.best
    told = [*_opening(case, best), *_change(case), *counted_for(best, case.sources), *_by_others(case, best)]
    told += [*figures_in_words(case.quantity), *not_counted(best, case.sources), *set_aside(best.items, case.sources)]
    return " ".join([*told, *_against(case, best), *_others(case, best), *_pairs(case, best), *_doubts(case, best)])


def _nothing(case: Case) -> Iterator[str]:
    items = [item for candidate in case.candidates for item in candidate.items]
    if not items:
        yield "Nothing has been entered about this yet."
        return
    yield "Nothing that we hold supports any value."
    against = [item for item in items if item.weight > 0]
    if against:
        yield f"Evidence speaks only against: {_titles(against, case.name)}."
    yield from set_aside(items, case.sources)


def _opening(case: Case, best: Candidate) -> Iterator[str]:
    value, chance = f"“{best.shown}”", chance_in_words(best.posterior)
    if best.grade is Grade.CONTESTED:
        rivals = [each for each in case.candidates if each is not best and each.grade is Grade.CONTESTED]
        against = listed([f"“{each.shown}” with {chance_in_words(each.posterior)}" for each in rivals])
        yield f"This is contested: {value} leads with {chance}, but {against} is spoken for directly too."
    elif best.grade is Grade.INFERRED:
        yield f"{value} is inferred only, with {chance}: {inferred_from(case.change.change_over, best)}."
    elif best.grade is Grade.UNCORROBORATED:
        yield f"{value} has {chance}, but it rests on one witness: nothing independent says the same."
        yield from _resting(case, best)
    else:
        yield from _corroborated(case, best, value, chance)


def _corroborated(case: Case, best: Candidate, value: str, chance: str) -> Iterator[str]:
    if best.lines < 2 and case.part_itself:
        on = f"it rests on the part itself, {case.introduce(case.part_itself)}, which needs no second witness"
    else:
        on = f"{in_words(best.lines)} independent witnesses speak for it"
    if best.grade is Grade.ESTABLISHED:
        yield f"{value} is established, with {chance}: {on}, and {_seen_built(case)}."
    elif best.grade is Grade.PROBABLE:
        yield f"{value} is probable, with {chance}: {on}."
        if at_least(best.posterior, case.weights.established):
            yield "It stands as designed: nothing that we hold shows it to have been built so."
    else:
        yield f"{value} is possible, no more, with {chance}: {on}, but they do not weigh enough."


def _seen_built(case: Case) -> str:
    if case.seen_built == (case.part_itself,):
        return "nothing shows better how it was built"
    if len(case.seen_built) == 1:
        return f"{case.introduce(case.seen_built[0])} shows it as built"
    return f"{in_words(len(case.seen_built))} sources show it as built"


def inferred_from(change: ChangeOver | None, best: Candidate) -> str:
    """Say what an inferred value is inferred from: a change-over, else a comparison with other machines."""
    if change is None:
        return _comparison(best)
    return "from machines seen before and after it" if change.chances else "from what was seen of it before and after"


def _comparison(best: Candidate) -> str:
    direct = [item.applies for item in best.supporting if item.direct]
    if direct:
        nearest = min(direct, key=list(Category).index)
        return f"by comparison with {nearest.words}; nothing speaks directly of this machine or of its batch"
    nearest = min((item.applies for item in best.supporting), key=list(Category).index)
    return f"by comparison with what is known of {nearest.words}; nothing shows it or says so directly"


def _change(case: Case) -> Iterator[str]:
    if case.change.said:
        yield case.change.said


def _resting(case: Case, best: Candidate) -> Iterator[str]:
    places = {(item.claim, item.source, item.at) for item in best.supporting}
    many = in_words(len(places)).capitalize()
    if len(places) > 1 and best.rests_on:
        named = [case.name(part) for part in best.rests_on]
        yield f"{many} places are cited, and all go back to {listed(named)}."
    elif len(places) > 1:
        yield f"{many} places are cited, but no two of them can be shown to be independent."


def _by_others(case: Case, best: Candidate) -> Iterator[str]:
    of_others = any(item.counted and item.applies in _LIKELY_SAME for item in best.supporting)
    if of_others and case.change.change_over is None:
        yield "What is known of another machine counts for less, since the two may differ."


def _against(case: Case, best: Candidate) -> Iterator[str]:
    against = [item for item in best.items if item.weight > 0 and item.stance is Stance.CONTRADICTS and item.counted]
    if against:
        yield f"Against it speaks {_titles(against, case.name)}."


def _others(case: Case, best: Candidate) -> Iterator[str]:
    """The values that lose, with what speaks for them."""
    others = [each for each in case.candidates if each is not best and each.supporting]
    for each in others[:2] if case.change.change_over is None else ():
        titles = _titles(each.supporting, case.name)
        says = "says" if len({item.source for item in each.supporting}) == 1 else "say"
        if each.grade is Grade.CONTESTED:
            yield f"“{each.shown}” is what {titles} {says}."
            continue
        nearest = min((item.applies for item in each.supporting), key=list(Category).index)
        of = f", but of {nearest.words}" if nearest in _LIKELY_SAME else ""
        yield f"“{each.shown}” is outweighed, with {chance_in_words(each.posterior)}: {titles} {says} so{of}."
    if len(others) > 2 and case.change.change_over is None:
        yield f"{in_words(len(others) - 2).capitalize()} more are outweighed."


def _pairs(case: Case, best: Candidate) -> Iterator[str]:
    told = if_ruled_out(best, case.open_pairs, case.name)
    if told:
        yield f"There would be {told}."


def if_ruled_out(best: Candidate, open_pairs: OpenPairs, name: Namer) -> str:
    """Say how many witnesses there would be if no open pair were a copy; empty where that changes nothing.

    Of more than three pairs the first three are named.
    """
    if best.lines_if_ruled_out is None:
        return ""
    pairs = open_pairs.between([item.descent for item in best.supporting])
    named = [f"{name(one)} is not a copy of {name(other)}" for one, other in (pair.between for pair in pairs)]
    witnesses = counted(best.lines_if_ruled_out, "independent witness", "independent witnesses")
    if len(named) <= _NAMED:
        return f"{witnesses} if {listed(named)}"
    more = len(named) - _NAMED
    others = "one more pair is no copy" if more == 1 else f"{in_words(more)} more pairs are no copies"
    return f"{witnesses} if {', '.join(named[:_NAMED])}, and {others}"


def _doubts(case: Case, best: Candidate) -> Iterator[str]:
    doubts = [f"{case.name(item.source)}: {note}" for item in best.supporting for note in item.notes]
    if doubts:
        yield f"Mind: {'; '.join(list(dict.fromkeys(doubts))[:3])}."


def _titles(items: "tuple[JudgedItem, ...] | list[JudgedItem]", name: Namer) -> str:
    return listed(list(dict.fromkeys(name(item.source) for item in items)))
