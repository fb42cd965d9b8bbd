"""How much hangs on one source or one weight: the verdict judged again without the one, or with the other changed."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from provenance.records.archive import Archive
from provenance.rules.grades import STRENGTH
from provenance.rules.judged_part import judged_part
from provenance.rules.judging import judge_feature
from provenance.rules.verdicts import Verdict
from provenance.rules.weights import STANDARD

_FACTORS = (Decimal(2), Decimal("0.5"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Loss:
    """What would be left of a verdict without one source and all that goes back to it.

    Attributes:
        source: the id of the source.
        then: the verdict without it.
    """

    source: str
    then: Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherWeight:
    """A weight that, doubled or halved, gives another value or grade.

    Attributes:
        weight: its path in the table, such as `base.photograph`.
        factor: 2 or .5.
        then: the verdict with it.
    """

    weight: str
    factor: Decimal
    then: Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class Sensitivity:
    """What a verdict hangs on.

    Attributes:
        loss: of the source whose loss would hurt it most; None where nothing supports any value.
        weights: the weights that would change its value or grade, in order of the table, doubled before halved.
    """

    loss: Loss | None
    weights: tuple[OtherWeight, ...]


def sensitivity_of(archive: Archive, verdict: Verdict, *, without: frozenset[str] = frozenset()) -> Sensitivity:
    """Say which source's loss would hurt a verdict most, and which weights it would not bear doubled or halved.

    The loss that hurts most leaves another value or none; then it leaves the lowest grade, the fewest independent
    witnesses, the smallest chance of the value; of equal ones it is the first by id.

    Args:
        archive: the archive that the verdict was judged on.
        verdict: the verdict.
        without: what it was judged without.
    """
    part = judged_part(archive, verdict.feature)
    losses = [_loss(part, verdict, source, without) for source in _behind(part, verdict)]
    return Sensitivity(
        loss=min(losses, key=lambda loss: _left(verdict, loss), default=None),
        weights=tuple(_other_weights(part, verdict, without)),
    )


def _behind(archive: Archive, verdict: Verdict) -> list[str]:
    """The sources that the support of the best value goes back to."""
    descents = [item.descent for item in verdict.best.supporting] if verdict.best else []
    return sorted(source for source in frozenset().union(*descents) if source in archive.sources)


def _loss(part: Archive, verdict: Verdict, source: str, without: frozenset[str]) -> Loss:
    return Loss(source=source, then=judge_feature(part, verdict.feature, without=without | {source}))


def _left(verdict: Verdict, loss: Loss) -> tuple[bool, int, int, float, str]:
    then = loss.then
    kept = next((each for each in then.candidates if each.claims and _same_value(verdict, each.claims)), None)
    still = then.best is not None and then.best is kept
    return still, STRENGTH.index(then.grade), then.lines, round(kept.posterior if kept else 0.0, 12), loss.source


def _same_value(verdict: Verdict, claims: tuple[str, ...]) -> bool:
    return verdict.best is not None and bool(set(claims) & set(verdict.best.claims))


def is_same_value(verdict: Verdict, then: Verdict) -> bool:
    """Say whether two verdicts on one feature give the same best value, a mean that moved a little included."""
    if verdict.best is None or then.best is None:
        return verdict.best is then.best
    return verdict.value == then.value or (verdict.quantity is not None and _same_value(verdict, then.best.claims))


def _other_weights(part: Archive, verdict: Verdict, without: frozenset[str]) -> Iterator[OtherWeight]:
    for path in _weights_used(part, verdict):
        ours = part.weights.get(path, Decimal(str(STANDARD[path])))
        for factor in _FACTORS:
            changed: Mapping[str, Decimal] = {**part.weights, path: ours * factor}
            then = judge_feature(replace(part, weights=changed), verdict.feature, without=without)
            if then.grade is not verdict.grade or not is_same_value(verdict, then):
                yield OtherWeight(weight=path, factor=factor, then=then)


def _weights_used(part: Archive, verdict: Verdict) -> list[str]:
    """The weights of the kinds of source that have a say, and of a change that comes in with a batch."""
    items = [item for candidate in verdict.candidates for item in candidate.items if item.weight > 0]
    kinds = {part.sources[item.source].kind for item in items}
    used = {f"base.{kind}" for kind in kinds if kind is not None}
    if verdict.change_over is not None and verdict.change_over.chances:
        used.add("batch_step")
    return [path for path in STANDARD if path in used]
