"""Flags about what was decided and made: overtaken, on thin evidence, unexplained, or conjecture not declared."""

from collections.abc import Iterator

from provenance.records.archive import Archive
from provenance.records.dates import Day, EdtfDate
from provenance.records.decisions import Decision
from provenance.rules.chosen_builds import ChosenBuild, chosen_build
from provenance.rules.flag_values import Flag, Level
from provenance.rules.grades import Grade
from provenance.rules.verdicts import Verdict

SOON_DAYS = 183
"""Half a year: how soon a part must be needed for thin evidence to press; common practice, no source."""

_ORDER = tuple(Grade)
_NOT_THE_BEST_THEN = frozenset({Grade.CONTESTED, Grade.OUTWEIGHED, Grade.UNSUPPORTED})
_THIN = {
    Grade.POSSIBLE: "no more than possible",
    Grade.UNCORROBORATED: "uncorroborated, with one independent witness",
    Grade.INFERRED: "inferred from other machines only",
    Grade.CONTESTED: "contested",
    Grade.OUTWEIGHED: "outweighed",
}


def decision_flags(archive: Archive, verdict: Verdict, decision: Decision, today: Day | None) -> Iterator[Flag]:
    """Raise the flags about one decision that stands: the one in force on a feature, or a proposal.

    Args:
        archive: the archive.
        verdict: on the feature of the decision.
        decision: the decision.
        today: tells what is needed soon; None: nothing is.
    """
    chosen = chosen_build(verdict, decision)
    for raised in (
        _overtaken(chosen),
        _thin(chosen, archive, today),
        _unexplained(chosen),
        _undeclared(chosen),
    ):
        if raised is not None:
            yield raised


def _overtaken(chosen: ChosenBuild) -> Flag | None:
    if not chosen.is_released:
        return None
    then = Grade(chosen.decision.grade_then) if chosen.decision.grade_then else None
    lost = _has_lost(chosen, then)
    if not lost and (then is None or chosen.grade is then):
        return None
    stronger = then is not None and not lost and _ORDER.index(chosen.grade) < _ORDER.index(then)
    was = f"when it was {then}" if then else "when it was decided"
    return _flag(
        chosen,
        "decision-overtaken",
        Level.NOTE if stronger else _pressing(chosen) if lost or not chosen.verdict.best else Level.WARN,
        f"chose to build “{chosen.shown}” {was}, but {_now(chosen, lost=lost)}.",
        "look at the evidence again, and release a decision that replaces this one",
        best=True,
    )


def _has_lost(chosen: ChosenBuild, then: Grade | None) -> bool:
    """Whether another value than then is the best.

    Where the grade of then is not written down, what was built is taken to have been the best, unless what speaks
    against it was set aside. A modern change departs from the value of its claims, so those are compared.
    """
    best = chosen.verdict.best
    if best is None or chosen.is_best:
        return False
    if chosen.decision.modern_change:
        basis = set(chosen.decision.basis)
        return chosen.candidate is None and bool(basis) and then is not Grade.UNSUPPORTED and not basis & {*best.claims}
    return not chosen.sets_aside_value(best) if then is None else then not in _NOT_THE_BEST_THEN


def _now(chosen: ChosenBuild, *, lost: bool) -> str:
    best = chosen.verdict.best
    if best is None:
        return "nothing supports any value now"
    if lost:
        return f"the evidence now speaks for “{best.shown}” ({best.grade})"
    departed = f"“{best.shown}”, which it departs from," if chosen.candidate is None else "that"
    return f"{departed} is now {chosen.grade}"


def why_thin(chosen: ChosenBuild) -> str:
    """Say in what the evidence for a build is thin; empty where it is not, or where a modern change departs from it."""
    if chosen.decision.modern_change or _is_settled(chosen):
        return ""
    return _THIN.get(chosen.grade, "")


def _thin(chosen: ChosenBuild, archive: Archive, today: Day | None) -> Flag | None:
    decision = chosen.decision
    thin = why_thin(chosen)
    if not chosen.is_released or not thin:
        return None
    needed = archive.components[chosen.verdict.component].needed_by
    if decision.made:
        level, what = Level.WARN, "has been made"
    elif _is_soon(needed, today):
        level, what = _pressing(chosen) if _is_disputed(chosen) else Level.WARN, f"is released and needed by {needed}"
    else:
        level, what = Level.NOTE, "is released for building"
    return _flag(
        chosen,
        "built-on-thin-evidence",
        level,
        f"“{chosen.shown}” {what}, but it is {thin}.",
        "look for a further witness before it is made; say in the decision why it is built all the same",
    )


def _is_soon(needed: EdtfDate | None, today: Day | None) -> bool:
    day = needed.earliest or needed.latest if needed else None
    return day is not None and today is not None and day.ordinal <= today.ordinal + SOON_DAYS


def _is_disputed(chosen: ChosenBuild) -> bool:
    return chosen.grade in {Grade.CONTESTED, Grade.OUTWEIGHED}


def _is_settled(chosen: ChosenBuild) -> bool:
    """Whether the rivals of a contested value are set aside with reasons, and two witnesses or more speak for it."""
    candidate = chosen.candidate
    if candidate is None or candidate.grade is not Grade.CONTESTED or candidate.lines < 2:
        return False
    rivals = [each for each in chosen.verdict.candidates if each is not candidate and each.grade is Grade.CONTESTED]
    return chosen.sets_aside_value(*rivals)


def _unexplained(chosen: ChosenBuild) -> Flag | None:
    decision = chosen.decision
    best = chosen.verdict.best
    change = decision.modern_change
    level = Level.WARN if chosen.is_released else Level.NOTE
    if change is not None and not _is_said(change.note) and not _is_said(decision.why):
        said = f"departs from the evidence for {change.reason}, and does not say how"
        return _flag(
            chosen, "modern-change-unexplained", level, f"{said}.", "write the reason under modern_change.note"
        )
    if change is not None or _is_said(decision.why) or not chosen.is_supported or best is None or chosen.is_best:
        return None
    if chosen.sets_aside_value(best):
        return None
    return _flag(
        chosen,
        "modern-change-unexplained",
        level,
        f"builds “{chosen.shown}” where the evidence speaks for “{best.shown}” ({best.grade}), and says no why.",
        "say why, set the other claims aside with reasons, or declare a modern change",
        best=True,
    )


def _is_said(text: str | None) -> bool:
    return bool(text and text.strip())


def _undeclared(chosen: ChosenBuild) -> Flag | None:
    if not chosen.is_conjecture or chosen.declares_conjecture:
        return None
    return _flag(
        chosen,
        "conjecture-undeclared",
        _pressing(chosen) if chosen.is_released else Level.NOTE,
        f"builds “{chosen.shown}”, which nothing that we hold supports, and does not say that this is conjecture.",
        "say in its why that it is conjecture, enter what supports it, or declare a modern change",
    )


def _pressing(chosen: ChosenBuild) -> Level:
    """What would stop the making comes too late for what is made."""
    return Level.WARN if chosen.decision.made else Level.STOP


def _flag(chosen: ChosenBuild, flag: str, level: Level, said: str, mend: str, *, best: bool = False) -> Flag:
    """Word a flag: whatever does not begin with a value speaks of the decision."""
    concerned = [chosen.candidate, chosen.verdict.best if best else None]
    candidates = [each for each in concerned if each is not None]
    bearing = {item.claim for each in candidates for item in each.supporting}
    claims = {claim for each in candidates for claim in each.claims}
    subject = "" if said.startswith("“") else f"decision {chosen.decision.id} "
    return Flag(
        flag=flag,
        severity=level,
        about=chosen.verdict.feature,
        sentence=f"“{chosen.verdict.name}”: {subject}{said}",
        mend=mend,
        claims=tuple(sorted({*chosen.decision.basis, *claims, *bearing})),
        sources=tuple(sorted({item.source for each in candidates for item in each.supporting})),
    )
