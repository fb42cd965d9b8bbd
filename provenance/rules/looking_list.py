"""What to look for in a picture, to tell the options of a choice apart, and in which pictures nobody has looked yet.

How much a sign would tell is its expected information in bits: the entropy of the options less the entropy that is
expected to be left once it is known whether the sign is there (C. E. Shannon, *A Mathematical Theory of Communication*,
1948). One bit halves the doubt. It is reckoned for a sign that is in view on the machine represented, in a picture that
stands by itself, before the cap of what such a picture can carry.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, log2

from provenance.records.archive import Archive
from provenance.records.claims import At
from provenance.records.components import Feature, Option
from provenance.records.kinds import Expected, SignSeen
from provenance.rules.looked_for import SIGN, looked_for
from provenance.rules.pictures_to_look_at import PictureToLookAt, pictures_to_look_at, withdrawn_sources
from provenance.rules.posterior import same_chance
from provenance.rules.signs import expects, likelihood, revise
from provenance.rules.verdicts import Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class Expectation:
    """How often one option shows a sign.

    Attributes:
        option: the option.
        expect: None where the option does not list the sign, which counts as `sometimes`.
        sources: ids of the sources that say so, in order; empty where none is named.
    """

    option: Option
    expect: Expected | None
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What one answer to a sign would mean.

    Attributes:
        chance: how likely that answer is, from 0 to 1.
        leads: the option that is then likeliest; None where two share the first place.
        leads_with: the chance of the likeliest option then.
    """

    chance: float
    leads: Option | None
    leads_with: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Report:
    """What somebody entered of one sign in one place.

    Attributes:
        claim: id of the claim that it stands in.
        about: the feature of that claim, `component/feature`; a report counts for that feature alone.
        source: id of the source.
        at: the place in it.
        seen: what was seen.
    """

    claim: str
    about: str
    source: str
    at: At
    seen: SignSeen


@dataclass(frozen=True, slots=True, kw_only=True)
class SignToLookFor:
    """A sign that tells options of a feature apart.

    Attributes:
        id: the sign's id.
        name: what can be seen.
        speaks: for each option, in order, how often it shows the sign.
        bits: the expected information, 0 or more.
        if_seen: what it would mean if it is seen.
        if_not_seen: what it would mean if its place is in view and it is not there.
        reports: what was entered of it, in order of claim, then source and page.
    """

    id: str
    name: str
    speaks: tuple[Expectation, ...]
    bits: float
    if_seen: Outcome
    if_not_seen: Outcome
    reports: tuple[Report, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LookingList:
    """What to look for, and where, to decide one choice.

    Attributes:
        feature: `component/feature`.
        asked: its record.
        chances: each option with its chance at present, in order; together 1.
        is_known: whether any evidence speaks of an option; else all count as equally likely.
        signs: the most telling first, then by id.
        pictures: the nearest to the machine represented first, then those tagged, then by id.
    """

    feature: str
    asked: Feature
    chances: tuple[tuple[Option, float], ...]
    is_known: bool
    signs: tuple[SignToLookFor, ...]
    pictures: tuple[PictureToLookAt, ...]

    @property
    def decides_most(self) -> SignToLookFor | None:
        """The single sign that would tell most; None where no sign would tell anything."""
        first = next(iter(self.signs), None)
        return first if first is not None and same_chance(first.bits) > 0 else None


def looking_list(archive: Archive, verdict: Verdict) -> LookingList:
    """Make the looking list of a choice from what is known of it at present.

    The chances of the options are those of the verdict's candidates. What the evidence leaves to none of them is shared
    equally by the options that no evidence speaks of; values that are no option are left out, and what is left is
    brought to 1. Where nothing is known of any option, all count as equally likely.

    Args:
        archive: the archive.
        verdict: on the feature, from the same archive.
    """
    feature, component = verdict.asked, archive.components[verdict.component]
    chances, is_known = _chances_at_present(verdict)
    names = {sign.id: sign.name for sign in component.signs}
    ids = sorted({each.sign for option in feature.options for each in option.signs})
    signs = [_to_look_for(archive, verdict, sign, names.get(sign, sign), chances) for sign in ids]
    looked_at = {report.source for sign in signs for report in sign.reports}
    noted = {f"{component.id}/{SIGN}{sign}" for sign in ids}
    looked_at |= {name for name, source in archive.sources.items() if not noted.isdisjoint(looked_for(source))}
    return LookingList(
        feature=verdict.feature,
        asked=feature,
        chances=tuple(zip(feature.options, chances, strict=True)),
        is_known=is_known,
        signs=tuple(sorted(signs, key=lambda sign: (-same_chance(sign.bits), sign.id))),
        pictures=pictures_to_look_at(archive, verdict, looked_at),
    )


def expected_bits(chances: Sequence[float], if_seen: Sequence[float]) -> float:
    """Give how much it is expected to tell, in bits, whether a sign is there.

    Args:
        chances: of each option, together 1.
        if_seen: of each option, how likely the sign is to be seen.
    """
    left = 0.0
    for likely in (if_seen, [1 - each for each in if_seen]):
        chance = fsum(map(float.__mul__, chances, likely))
        left += chance * entropy_bits(revise(chances, [(each,) for each in likely])) if chance > 0 else 0.0
    return max(0.0, entropy_bits(chances) - left)


def entropy_bits(chances: Sequence[float]) -> float:
    """Give the entropy of some chances that are together 1, in bits; one that is 0 adds nothing."""
    return -fsum(chance * log2(chance) for chance in chances if chance > 0)


def _chances_at_present(verdict: Verdict) -> tuple[tuple[float, ...], bool]:
    """The chance of each option, in order, and whether anything is known of one."""
    options = verdict.asked.options
    known = {each.value: each.posterior for each in verdict.candidates if each.posterior > 0}
    unspoken = [option.id for option in options if option.id not in known]
    if len(unspoken) == len(options):
        return tuple(1 / len(options) for _ in options), False
    rest = max(0.0, 1 - fsum(known.values()))
    shares = [known.get(option.id, rest / max(len(unspoken), 1)) for option in options]
    return tuple(share / fsum(shares) for share in shares), True


def _to_look_for(archive: Archive, verdict: Verdict, sign: str, name: str, chances: Sequence[float]) -> SignToLookFor:
    options = verdict.asked.options
    expected = [expects(option, sign) for option in options]
    return SignToLookFor(
        id=sign,
        name=name,
        speaks=tuple(
            Expectation(option=option, expect=expect, sources=_said_by(option, sign))
            for option, expect in zip(options, expected, strict=True)
        ),
        bits=expected_bits(chances, [likelihood(expect, SignSeen.SEEN) for expect in expected]),
        if_seen=_outcome(options, chances, [likelihood(expect, SignSeen.SEEN) for expect in expected]),
        if_not_seen=_outcome(options, chances, [likelihood(expect, SignSeen.NOT_SEEN) for expect in expected]),
        reports=tuple(_reports(archive, verdict.component, sign)),
    )


def _said_by(option: Option, sign: str) -> tuple[str, ...]:
    return tuple(sorted({each.source for each in option.signs if each.sign == sign and each.source is not None}))


def _outcome(options: Sequence[Option], chances: Sequence[float], likely: Sequence[float]) -> Outcome:
    then = list(map(same_chance, revise(chances, [(each,) for each in likely])))
    highest = max(then)
    leading = [option for option, chance in zip(options, then, strict=True) if chance == highest]
    return Outcome(
        chance=fsum(map(float.__mul__, chances, likely)),
        leads=leading[0] if len(leading) == 1 else None,
        leads_with=highest,
    )


def _reports(archive: Archive, component: str, sign: str) -> Sequence[Report]:
    """What stands of a sign in the claims about any feature of its component, without what was withdrawn."""
    out = withdrawn_sources(archive)
    found = []
    for about in (about for about in archive.claims_by_feature if about.partition("/")[0] == component):
        for claim in archive.claims_by_feature[about]:
            for item in claim.evidence:
                seen = dict(item.signs).get(sign)
                if seen is not None and not (claim.withdrawn or item.withdrawn or item.source in out):
                    found.append(Report(claim=claim.id, about=about, source=item.source, at=item.at, seen=seen))
    return sorted(found, key=lambda report: (report.claim, report.source, report.at.page or 0, report.seen))
