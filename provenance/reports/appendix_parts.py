"""The parts that a panel shows: what each is, and of each of its features what is shown and how that is known."""

from collections.abc import Iterator

from provenance.records.components import Component
from provenance.records.decisions import Decision
from provenance.reports.appendix_values import Part, Standing
from provenance.reports.appendix_words import (
    AS_IT_IS,
    BY_COMPARISON,
    NEARNESS,
    NEW_TODAY,
    ONLY_CONJECTURE,
    ORIGINAL,
    PARTS,
    UNDECIDED,
    sureness,
)
from provenance.rules.chosen_builds import chosen_build
from provenance.rules.grades import Grade
from provenance.rules.public_values import PublicArchive
from provenance.rules.verdicts import Candidate, Verdict

_ORIGINALS = frozenset({"original", "conserved-original"})
_NOT_SHOWN = "not-represented"


def part_of_panel(view: PublicArchive, part: Component) -> Part:
    """A part as visitors see it."""
    standings = tuple(_standing(part, verdict) for verdict in verdicts_of(view, part))
    return Part(name=part.name, words=PARTS.get(part.made_as or "", UNDECIDED), standings=standings)


def verdicts_of(view: PublicArchive, part: Component) -> Iterator[Verdict]:
    """The verdicts on what is shown of a part: none where the part is not."""
    if part.made_as != _NOT_SHOWN:
        yield from (view.verdicts[f"{part.id}/{feature.id}"] for feature in part.features)


def _standing(part: Component, verdict: Verdict) -> Standing:
    if part.made_as in _ORIGINALS:
        return Standing(name=verdict.name, shown=verdict.shown or AS_IT_IS, known=ORIGINAL)
    shown, known = _undecided(verdict) if verdict.decision is None else _decided(verdict, verdict.decision)
    return Standing(name=verdict.name, shown=shown, known=known)


def _undecided(verdict: Verdict) -> tuple[str, str]:
    if verdict.best is None:
        return "not decided yet", "nothing that can be shown here supports any answer"
    return f"not decided yet; the evidence speaks for “{verdict.best.shown}”", _known(verdict.best)


def _decided(verdict: Verdict, decision: Decision) -> tuple[str, str]:
    build = chosen_build(verdict, decision)
    if decision.modern_change is not None:
        known = NEW_TODAY
    elif build.is_conjecture or build.candidate is None:
        known = ONLY_CONJECTURE
    else:
        known = _known(build.candidate)
    if not build.is_best and verdict.best is not None:
        known = f"{known}; the evidence speaks for “{verdict.best.shown}”"
    return build.shown, known


def _known(candidate: Candidate) -> str:
    """How a value is known: how near its nearest direct witness comes, and how sure it is."""
    if candidate.grade is Grade.INFERRED:
        return BY_COMPARISON
    near = {item.applies for item in candidate.supporting if item.direct}
    nearest = next((NEARNESS[each] for each in NEARNESS if each in near), BY_COMPARISON)
    return f"{nearest}; {sureness(candidate)}"
