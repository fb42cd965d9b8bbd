"""The values that a feature may have, and which items speak for and against each."""

import re
from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from provenance.records.components import Feature
from provenance.records.kinds import FeatureKind, Stance
from provenance.records.wording import fold_wording
from provenance.rules.assessing import Assessed

PRESENT = "present"
ABSENT = "absent"
UNREADABLE = "[...]"


@dataclass(slots=True)
class Group:
    """The items that speak of one value.

    Attributes:
        value: as the answer gives it.
        shown: as people read it.
        claims: ids of the claims of this value; none for an option of which signs alone tell.
        supporting: in any order.
        contradicting: in any order.
    """

    value: str
    shown: str
    claims: list[str] = field(default_factory=list)
    supporting: list[Assessed] = field(default_factory=list)
    contradicting: list[Assessed] = field(default_factory=list)

    @property
    def has_weight(self) -> bool:
        """Whether any item for or against it has weight."""
        return any(each.weight > 0 for each in (*self.supporting, *self.contradicting))

    def add(self, items: Iterable[Assessed]) -> None:
        """Add the items of one claim of this value, by their stance."""
        for each in items:
            (self.supporting if each.supports else self.contradicting).append(each)


def group_by_value(feature: Feature, assessed: Mapping[str, Sequence[Assessed]]) -> list[Group]:
    """Gather the items of all claims about a feature under the values that they speak of.

    Args:
        feature: the feature; its kind says which wordings are one value.
        assessed: the items of each claim, by claim id; every claim has at least one.
    """
    if feature.kind is FeatureKind.PRESENCE:
        return _presence(assessed)
    if feature.kind is FeatureKind.CHOICE:
        return list(_choices(feature, assessed).values())
    return _texts(feature, assessed)


def _choices(feature: Feature, assessed: Mapping[str, Sequence[Assessed]]) -> dict[str, Group]:
    named: dict[str, tuple[str, str]] = {}
    for option in feature.options:
        for name in (option.id, option.name, *option.also):
            named.setdefault(fold_wording(name), (option.id, option.name))
    groups: dict[str, Group] = {}
    for claim_id in sorted(assessed):
        written = assessed[claim_id][0].claim.value
        value, shown = named.get(fold_wording(written), (written, written))
        group = groups.setdefault(value, Group(value, shown))
        group.claims.append(claim_id)
        group.add(each for each in assessed[claim_id] if each.reads is None)
    _add_told_by_signs(groups, feature, assessed)
    return groups


def _add_told_by_signs(groups: dict[str, Group], feature: Feature, assessed: Mapping[str, Sequence[Assessed]]) -> None:
    """Put what signs tell under the option that they speak for; of their own, options have no claim by that."""
    names = {option.id: option.name for option in feature.options}
    for claim_id in sorted(assessed):
        for each in assessed[claim_id]:
            if each.reads is not None:
                groups.setdefault(each.reads, Group(each.reads, names[each.reads])).supporting.append(each)


def _presence(assessed: Mapping[str, Sequence[Assessed]]) -> list[Group]:
    """An item against the one is counted once, for the other."""
    groups: dict[str, Group] = {}
    for claim_id in sorted(assessed):
        written = assessed[claim_id][0].claim.value
        value = fold_wording(written)
        other = {PRESENT: ABSENT, ABSENT: PRESENT}.get(value)
        group = groups.setdefault(value if other else written, Group(value if other else written, written))
        group.claims.append(claim_id)
        if other is None:
            group.add(assessed[claim_id])
            continue
        for each in assessed[claim_id]:
            named = value if each.item.stance is Stance.SUPPORTS else other
            groups.setdefault(named, Group(named, named)).supporting.append(each)
    return list(groups.values())


def _texts(feature: Feature, assessed: Mapping[str, Sequence[Assessed]]) -> list[Group]:
    same = same_wordings(feature)
    whole: dict[str, list[str]] = defaultdict(list)
    broken: dict[str, list[str]] = defaultdict(list)
    for claim_id in sorted(assessed):
        wording = fold_wording(assessed[claim_id][0].claim.value)
        if UNREADABLE in wording:
            broken[wording].append(claim_id)
        else:
            whole[same.get(wording, wording)].append(claim_id)
    groups = {wording: _group_of(claims, assessed) for wording, claims in whole.items()}
    standing = {wording for wording, group in groups.items() if group.has_weight}
    for wording, claims in broken.items():
        fits = _fitting(wording)
        fitted = [each for each in sorted(standing) if any(map(fits, _wordings_of(each, same)))]
        for each in fitted:
            groups[each].claims.extend(claims)
            for claim_id in claims:
                groups[each].add(assessed[claim_id])
        if not fitted:
            groups[wording] = _group_of(claims, assessed)
    return list(groups.values())


def _group_of(claims: Sequence[str], assessed: Mapping[str, Sequence[Assessed]]) -> Group:
    """Gather claims of one wording; it is spelt as by the first of them that is not withdrawn."""
    standing = [claim for claim in claims if assessed[claim][0].claim.withdrawn is None]
    spelling = assessed[(standing or claims)[0]][0].claim.value
    group = Group(spelling, spelling, list(claims))
    for claim in claims:
        group.add(assessed[claim])
    return group


def same_wordings(feature: Feature) -> dict[str, str]:
    """Give for each wording that means the same as others the one that stands for them all."""
    stands_for: dict[str, str] = {}
    for group in feature.same:
        folded = [fold_wording(wording) for wording in group]
        joined = {stands_for.get(wording, wording) for wording in folded}
        first = min(joined)
        stands_for.update(dict.fromkeys((*folded, *joined), first))
        stands_for.update({wording: first for wording, named in stands_for.items() if named in joined})
    return stands_for


def _wordings_of(wording: str, same: Mapping[str, str]) -> list[str]:
    return [wording, *(other for other, named in same.items() if named == wording)]


def _fitting(broken: str) -> Callable[[str], bool]:
    """Say of a wording whether a broken reading fits it; `[...]` stands for one letter or more."""
    pattern = re.compile(".+".join(map(re.escape, broken.split(UNREADABLE))), re.DOTALL)
    return lambda wording: pattern.fullmatch(wording) is not None
