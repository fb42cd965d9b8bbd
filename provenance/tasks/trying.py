"""Which verdicts a change to the records would change, and what hangs on them; only what it can reach is judged."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from pathlib import PurePosixPath

from provenance.records.archive import Archive
from provenance.records.kinds import Ruling
from provenance.records.sources import Source
from provenance.reports.tried import Change, Tried
from provenance.rules.judging import judge_all
from provenance.rules.verdicts import Verdict
from provenance.tasks.changing import Step, preview
from provenance.tasks.opening import Opened
from provenance.tasks.pair_reach import PairReach


def try_out(
    opened: Opened,
    steps: Sequence[Step],
    *,
    answer: str,
    record: str,
    said: Iterable[str] = (),
    verdicts: Mapping[str, Verdict] | None = None,
) -> Tried:
    """Look at a plan as if it were done, and tell which verdicts would change; nothing is written.

    Args:
        opened: the archive.
        steps: the plan.
        answer: the name of the command.
        record: the id of the record that it is about.
        said: sentences for the writer.
        verdicts: on every feature of the archive as it is, where they are known; None to judge what is reached.

    Raises:
        UsageRefusedError: a record would be unsound, or would name what is not there.
        WriteRefusedError: a record was written by somebody else since the archive was opened.
        ArchiveError: the archive does not say yet what it represents, so that nothing can be judged.
    """
    looked_at = preview(opened, steps)
    files = tuple(write.file for write in looked_at.writes)
    if files:
        _ = opened.target
    changes = changes_between(opened.archive, looked_at.after, files, verdicts)
    return Tried(standing=opened.standing, answer=answer, record=record, files=files, said=tuple(said), changes=changes)


def changes_between(
    before: Archive, after: Archive, files: Collection[str], verdicts: Mapping[str, Verdict] | None = None
) -> tuple[Change, ...]:
    """The features whose verdict changes, with the decisions and panels that rest on them, in order.

    Args:
        before: the archive as it is.
        after: the archive as it would be.
        files: of the claims, sources and pairs of copies in which the two differ.
        verdicts: on every feature of `before`, where they are known; None to judge what is reached.
    """
    if before.target is None:
        return ()
    reached = features_reached(before, files) | features_reached(after, files)
    old = judge_all(before, only=reached) if verdicts is None else verdicts
    new = judge_all(after, only=reached)
    return tuple(
        change_between(after, old[feature], verdict)
        for feature, verdict in new.items()
        if feature in old and is_changed(old[feature], verdict)
    )


def features_reached(archive: Archive, files: Collection[str]) -> frozenset[str]:
    """The features whose verdict what these claims, sources and pairs of copies say may have a part in.

    A claim speaks of its feature. A source has a part in whatever goes back to it, or may as a likely copy, is ended by
    it as a later issue, or rests on its word that parts are common to several machines, or which signs belong to which
    option. A pair of copies has a part in whatever goes back, or may, to what either goes back to.
    """
    claims, sources, copies = (
        {PurePosixPath(file).stem for file in files if file.startswith(f"{folder}/")}
        for folder in ("claims", "sources", "copies")
    )
    reached = {archive.claims[claim].about for claim in claims if claim in archive.claims}
    pairs = [archive.copies[pair] for pair in copies if pair in archive.copies]
    if pairs:
        reach = PairReach(archive)
        reached.update(*(reach.of_pair(pair) for pair in pairs))
    if sources:
        bearing = _descendants(archive, _ended_by(archive.sources, sources))
        reached.update(features_citing(archive, bearing))
    return frozenset(reached)


def is_changed(before: Verdict, after: Verdict) -> bool:
    """Whether the grade, the number of independent witnesses, the chance or the value is another."""
    return _standing(before) != _standing(after)


def change_between(archive: Archive, before: Verdict, after: Verdict) -> Change:
    """Put a verdict beside what it would be, with the decisions and panels that rest on it.

    Args:
        archive: all of it, with the decisions and panels.
        before: the verdict as it is.
        after: as it would be.
    """
    decisions = [
        decision
        for _, decision in sorted(archive.decisions.items())
        if decision.about == after.feature and decision.withdrawn is None
    ]
    panels = (
        panel.id
        for _, panel in sorted(archive.panels.items())
        if after.component in panel.components
        or any(after.feature in statement.features for statement in panel.statements)
    )
    return Change(
        before=before,
        after=after,
        decisions=tuple(decision.id for decision in decisions),
        made=tuple(decision.id for decision in decisions if decision.made),
        panels=tuple(panels),
    )


def _standing(verdict: Verdict) -> tuple[object, ...]:
    return verdict.grade, verdict.lines, verdict.posterior, verdict.value


def _ended_by(sources: Mapping[str, Source], names: set[str]) -> set[str]:
    """The sources themselves, and every earlier issue that they replace, one after another."""
    found = set(names)
    waiting = list(names)
    while waiting:
        source = sources.get(waiting.pop())
        if source is not None and source.replaces is not None and source.replaces not in found:
            found.add(source.replaces)
            waiting.append(source.replaces)
    return found


def _descendants(archive: Archive, names: set[str]) -> set[str]:
    """The sources themselves, and all that were made from them, or may have been, through however many hands."""
    made_from: dict[str, list[str]] = defaultdict(list)
    for source in archive.sources.values():
        for parent in source.derives_from:
            made_from[parent.source].append(source.id)
    for pair in archive.copies.values():
        if pair.ruling is not Ruling.DISTINCT:
            one, other = pair.between
            made_from[one].append(other)
            made_from[other].append(one)
    found = set(names)
    waiting = list(names)
    while waiting:
        for child in made_from.get(waiting.pop(), ()):
            if child not in found:
                found.add(child)
                waiting.append(child)
    return found


def features_citing(archive: Archive, bearing: Collection[str]) -> Iterator[str]:
    """The features of which a claim, an option's sign, or what is common to several machines names one of some sources.

    A feature may be named more than once.
    """
    for claim in archive.claims.values():
        if any(item.source in bearing or item.via in bearing for item in claim.evidence):
            yield claim.about
    for component in archive.components.values():
        of_all = any(common.source in bearing for common in component.common_to)
        for feature in component.features:
            signs = (sign for option in feature.options for sign in option.signs)
            if of_all or any(sign.source in bearing for sign in signs):
                yield f"{component.id}/{feature.id}"
