"""Decide what to build for a feature, on what, and why; and release what was proposed."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from provenance.errors import UnknownRecordError, UsageRefusedError, WriteRefusedError
from provenance.records.archive import Archive
from provenance.records.decisions import Decision
from provenance.records.kinds import FeatureKind
from provenance.reports.tried import Tried
from provenance.reports.written import Written
from provenance.rules.chosen_builds import PROPOSED, RELEASED, ChosenBuild, chosen_build
from provenance.rules.decision_flags import decision_flags, why_thin
from provenance.rules.judging import decision_in_force, judge_feature
from provenance.store.editing import AddKey, Change, SetScalar
from provenance.store.naming import slug
from provenance.store.record_kinds import LONGEST_ID, RecordKind
from provenance.tasks.changing import NewRecord, Planner, RecordEdit, Step, change, preview
from provenance.tasks.nearest import nearest_mend
from provenance.tasks.opening import Opened, Where
from provenance.tasks.trying import try_out

ANSWER = "decide"


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """What was chosen, as it was given.

    Attributes:
        build: what to build.
        basis: ids of the claims that it rests on.
        set_aside: claims that it goes against, each as `CLAIM=why`.
        modern_change: `REASON:note`; None for no departure that the present day asks for.
        drawings: each as `NUMBER:ISSUE` or a number alone.
        is_released: whether it is released for building; else it is proposed.
        replaces: the decision that it replaces; None for the one in force, where it is released.
        id: None to make one of the feature and the build.
        seen_in_force: what whoever decides saw in force: a decision's id, empty for none; None where they did not look.
    """

    build: str
    why: str | None = None
    basis: tuple[str, ...] = ()
    set_aside: tuple[str, ...] = ()
    modern_change: str | None = None
    drawings: tuple[str, ...] = ()
    tolerance: str | None = None
    stamp: str | None = None
    is_released: bool = False
    replaces: str | None = None
    id: str | None = None
    seen_in_force: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Planned:
    opened: Opened
    decision: str
    steps: tuple[Step, ...]
    said: tuple[str, ...]


def decide(where: Where, feature: str, choice: Choice, *, by: str, today: str) -> Written:
    """Write down a decision; the grade that its value has now is kept with it.

    Args:
        where: the archive's folder, or the archive as it was opened before.
        feature: `component/feature`.
        choice: what was chosen.
        by: an id of `people`.
        today: the date that the record carries.

    Raises:
        UnknownRecordError: there is no such feature.
        UsageRefusedError: something is named that is not there, or a text is not what is due in its place.
        WriteRefusedError: the record cannot be written.
        ArchiveError: the archive does not say yet what it represents.
    """
    planned: list[_Planned] = []

    def plan(opened: Opened) -> Sequence[Step]:
        _ = opened.target
        require_feature(opened, feature)
        planned.append(_plan_decision(opened, feature, choice, {"by": by, "date": today}))
        return planned[-1].steps

    return _carry_out(where, plan, planned)


def release(
    where: Where,
    decision_id: str,
    *,
    by: str,
    today: str,
    replaces: str | None = None,
    seen_in_force: str | None = None,
) -> Written:
    """Release a proposal for building; the grade that its value has now takes the place of that of then.

    The record keeps who proposed it, and when, beside who released it.

    Args:
        where: the archive's folder, or the archive as it was opened before.
        decision_id: a proposed decision.
        by: who releases it, an id of `people`.
        today: the date of the release.
        replaces: the decision that it replaces; None for the one in force.
        seen_in_force: as of a choice.

    Raises:
        UnknownRecordError: there is no such decision.
        UsageRefusedError: it is not proposed, or something is named that is not there.
        WriteRefusedError: the record cannot be edited.
    """
    planned: list[_Planned] = []

    def plan(opened: Opened) -> Sequence[Step]:
        _ = opened.target
        proposal = _require_proposal(opened, decision_id)
        require_as_seen(opened.archive, proposal.about, seen_in_force)
        planned.append(_plan_release(opened, proposal, replaces, {"by": by, "date": today}))
        return planned[-1].steps

    return _carry_out(where, plan, planned)


def try_decide(opened: Opened, feature: str, choice: Choice, *, by: str, today: str) -> Tried:
    """Tell what would be said of a decision, and which records it would write; nothing is written.

    Args:
        opened: the archive.
        feature: `component/feature`.
        choice: what is chosen.
        by: an id of `people`.
        today: the date that the record would carry.

    Raises:
        UnknownRecordError: there is no such feature.
        UsageRefusedError: as when it is decided.
        WriteRefusedError: a record was written by somebody else since the archive was opened.
        ArchiveError: the archive does not say yet what it represents.
    """
    _ = opened.target
    require_feature(opened, feature)
    return _tried(_plan_decision(opened, feature, choice, {"by": by, "date": today}))


def try_release(opened: Opened, decision_id: str, *, by: str, today: str) -> Tried:
    """Tell what would be said of a proposal, were it released; nothing is written.

    Args:
        opened: the archive.
        decision_id: a proposed decision.
        by: who would release it, an id of `people`.
        today: the date of the release.

    Raises:
        UnknownRecordError: there is no such decision.
        UsageRefusedError: as when it is released.
        WriteRefusedError: the record was written by somebody else since the archive was opened.
        ArchiveError: the archive does not say yet what it represents.
    """
    _ = opened.target
    proposal = _require_proposal(opened, decision_id)
    return _tried(_plan_release(opened, proposal, None, {"by": by, "date": today}))


def require_as_seen(archive: Archive, feature: str, seen: str | None) -> None:
    """See that the decision in force on a feature is the one that somebody saw.

    Args:
        archive: as it stands.
        feature: `component/feature`.
        seen: its id; empty for none, None where they did not look.

    Raises:
        WriteRefusedError: another one is by now.
    """
    current = in_force(archive, feature)
    if seen is None or seen == (current.id if current else ""):
        return
    now = f"{current.id} is in force by now (build “{current.build}”)" if current else "nothing is in force any more"
    before = f"in place of {seen}" if current and seen else f"it was {seen}" if seen else "nothing was before"
    raise WriteRefusedError(
        f"for {feature} {now}, {before}; nothing of yours was written", "look at what stands now, and send it again"
    )


def require_feature(opened: Opened, feature: str) -> None:
    """See that a component has such a feature.

    Raises:
        UnknownRecordError: none has; with the nearest.
    """
    if feature not in opened.archive.features:
        own = [name for name in opened.archive.features if name.partition("/")[0] == feature.partition("/")[0]]
        listing = f"its features are: {', '.join(own)}" if own else "write it as component/feature"
        raise UnknownRecordError(
            f"there is no feature `{feature}`", nearest_mend(feature, opened.archive.features, listing)
        )


def in_force(archive: Archive, feature: str) -> Decision | None:
    """The released decision on a feature that none replaces; None where there is none."""
    return decision_in_force([each for each in archive.decisions.values() if each.about == feature])


def untaken_id(taken: Iterable[str], *parts: str) -> str:
    """Make an id of some words, with a number behind it where it is taken."""
    known = set(taken)
    stem = slug(" ".join(parts), longest=LONGEST_ID)
    made, number = stem, 2
    while made in known:
        ending = f"-{number}"
        made, number = stem[: LONGEST_ID - len(ending)].rstrip("-") + ending, number + 1
    return made


def _carry_out(where: Where, plan: Planner, planned: list[_Planned]) -> Written:
    written = change(where, plan)
    last = planned[-1]
    return Written(standing=last.opened.standing, answer=ANSWER, record=last.decision, written=written, said=last.said)


def _tried(planned: _Planned) -> Tried:
    return try_out(planned.opened, planned.steps, answer=ANSWER, record=planned.decision, said=planned.said)


def _plan_decision(opened: Opened, feature: str, choice: Choice, signed: Mapping[str, str]) -> _Planned:
    archive = opened.archive
    if choice.is_released:
        require_as_seen(archive, feature, choice.seen_in_force)
    replaces, filled_in = _replaced(archive, feature, choice.replaces) if choice.is_released else (choice.replaces, ())
    decision_id = choice.id or untaken_id(archive.decisions, feature, choice.build)
    fields = {
        **_fields(choice),
        "about": feature,
        "status": RELEASED if choice.is_released else PROPOSED,
        "replaces": replaces,
        "released": dict(signed) if choice.is_released else {},
        **signed,
    }
    after = preview(opened, [NewRecord(kind=RecordKind.DECISION, id=decision_id, fields=fields)]).after
    ungraded = _chosen(after, decision_id)
    grade = ungraded.grade.value
    chosen = replace(ungraded, decision=replace(ungraded.decision, grade_then=grade))
    return _Planned(
        opened=opened,
        decision=decision_id,
        steps=(NewRecord(kind=RecordKind.DECISION, id=decision_id, fields={**fields, "grade_then": grade}),),
        said=(*filled_in, *_said_of_basis(chosen, after), *_said_of(chosen, after)),
    )


def _plan_release(opened: Opened, proposal: Decision, given: str | None, signed: Mapping[str, str]) -> _Planned:
    replaces, filled_in = _replaced(opened.archive, proposal.about, given or proposal.replaces)
    grade = _chosen(opened.archive, proposal.id).grade.value
    changes: list[Change] = [SetScalar(("status",), RELEASED), _set(proposal.grade_then, "grade_then", grade)]
    if replaces is not None and replaces != proposal.replaces:
        changes.append(_set(proposal.replaces, "replaces", replaces))
    changes += _signing(proposal, signed)
    steps = (RecordEdit(kind=RecordKind.DECISION, id=proposal.id, changes=tuple(changes)),)
    after = preview(opened, steps).after
    said = (*filled_in, *_said_of(_chosen(after, proposal.id), after))
    return _Planned(opened=opened, decision=proposal.id, steps=steps, said=said)


def _signing(proposal: Decision, signed: Mapping[str, str]) -> list[Change]:
    """Enter who releases a proposal; one that carries a release already was proposed again, by hand."""
    if proposal.released is None:
        return [AddKey((), "released", dict(signed))]
    return [SetScalar(("released", key), value) for key, value in signed.items()]


def _set(before: str | None, key: str, value: str) -> Change:
    return AddKey((), key, value) if before is None else SetScalar((key,), value)


def _require_proposal(opened: Opened, decision_id: str) -> Decision:
    decision = opened.archive.decisions.get(decision_id)
    if decision is None:
        listing = "the decisions are the files in the folder decisions; a new one needs a feature and --build"
        raise UnknownRecordError(
            f"there is no decision `{decision_id}`", nearest_mend(decision_id, opened.archive.decisions, listing)
        )
    if decision.status != PROPOSED or decision.withdrawn is not None:
        state = "withdrawn" if decision.withdrawn else decision.status
        raise UsageRefusedError(f"{decision_id} is {state} already", "decide anew, with --build and --why")
    return decision


def _replaced(archive: Archive, feature: str, given: str | None) -> tuple[str | None, tuple[str, ...]]:
    """Which decision a released one replaces, and what to say where that was filled in.

    Raises:
        UsageRefusedError: another one than is in force is named.
    """
    current = in_force(archive, feature)
    if current is None or given == current.id:
        return given, ()
    if given is not None:
        raise UsageRefusedError(
            f"{current.id} is in force for {feature}, and would stay so beside this one",
            f"say `--replaces {current.id}`, or leave it out",
        )
    return current.id, (f"It replaces {current.id}, which was in force (build “{current.build}”).",)


def _fields(choice: Choice) -> dict[str, object]:
    change_reason, _, change_note = (choice.modern_change or "").partition(":")
    return {
        "build": choice.build,
        "tolerance": choice.tolerance,
        "basis": list(dict.fromkeys(choice.basis)),
        "set_aside": [_set_aside(given) for given in choice.set_aside],
        "modern_change": {"reason": change_reason.strip(), "note": change_note.strip()} if choice.modern_change else {},
        "drawings": [_drawing(given) for given in choice.drawings],
        "stamp": choice.stamp,
        "why": choice.why,
    }


def _set_aside(given: str) -> dict[str, str]:
    claim, equals, why = given.partition("=")
    if not equals or not why.strip():
        raise UsageRefusedError(f"`{given}` does not say why that claim is set aside", "write --set-aside CLAIM=why")
    return {"claim": claim.strip(), "why": why.strip()}


def _drawing(given: str) -> dict[str, str]:
    number, colon, issue = given.rpartition(":")
    return {"number": number.strip(), "issue": issue.strip()} if colon else {"number": given.strip()}


def _chosen(archive: Archive, decision_id: str) -> ChosenBuild:
    decision = archive.decisions[decision_id]
    return chosen_build(judge_feature(archive, decision.about), decision)


def _said_of_basis(chosen: ChosenBuild, archive: Archive) -> list[str]:
    """What the one who decides should know of the claims that are named, or are not."""
    basis = chosen.decision.basis
    claims = chosen.candidate.claims if chosen.candidate else ()
    said = [
        f"{claim} is about {archive.claims[claim].about}." for claim in basis if _is_elsewhere(chosen, archive, claim)
    ]
    feature = chosen.verdict.asked
    if feature.kind is FeatureKind.CHOICE and feature.option_named(chosen.decision.build) is None:
        options = ", ".join(option.id for option in feature.options) or "none is listed yet"
        said.append(f"“{chosen.decision.build}” is none of the options ({options}).")
    said += [f"{claim} is withdrawn." for claim in basis if archive.claims[claim].withdrawn]
    if claims and not set(claims) & set(basis):
        named = "None of the claims named says so" if basis else "It names no claim that it rests on"
        said.append(f"{named}; those of “{chosen.shown}” are {', '.join(claims)} (--basis).")
    return said


def _is_elsewhere(chosen: ChosenBuild, archive: Archive, claim: str) -> bool:
    return archive.claims[claim].about != chosen.decision.about


def _said_of(chosen: ChosenBuild, archive: Archive) -> list[str]:
    """What is thin, unexplained or conjecture about it; a proposal is told what would be flagged once released."""
    raised = decision_flags(archive, chosen.verdict, chosen.decision, None)
    said = [f"{flag.sentence} ({flag.flag}; mend: {flag.mend}.)" for flag in raised]
    thin = why_thin(chosen)
    if thin and not chosen.is_released:
        said.append(f"“{chosen.shown}” is {thin}: released as it is, it would be built on thin evidence.")
    if chosen.is_conjecture and chosen.declares_conjecture:
        said.append(f"“{chosen.shown}” is conjecture, and is declared so.")
    return said
