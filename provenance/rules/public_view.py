"""The one door to the public: what leaves the team passes here, and nothing else makes a `PublicArchive`.

A source of the team's is told as "a source held privately", a closed one not at all, and neither is judged on. What
goes back to a closed one is not judged on either; what goes back to one of the team's is, with a node without a name
behind it, so that it never counts as more witnesses than it is. What was withdrawn is not told. Everything else is
written anew, field by field.
"""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace

from provenance.records.archive import Archive
from provenance.records.claims import Claim, EvidenceItem
from provenance.records.dates import Day
from provenance.records.decisions import Decision
from provenance.records.kinds import Access, FeatureKind, Stance
from provenance.records.sources import Source
from provenance.rules.chosen_builds import candidate_of
from provenance.rules.clearance import NotCleared, access_on, whom_to_ask, why_not_cleared
from provenance.rules.consent import is_private_account, namer_of_people, tells, unnamed_people
from provenance.rules.judging import judge_all
from provenance.rules.public_lineage import ancestors_of, telling_too_much, unnamed_nodes
from provenance.rules.public_pairs import pairs_among
from provenance.rules.public_records import (
    Censor,
    public_claim,
    public_component,
    public_decision,
    public_head,
    public_pair,
    public_panel,
    public_source,
)
from provenance.rules.public_values import PublicArchive
from provenance.rules.signs import sources_on_signs
from provenance.rules.verdicts import JudgedItem, Verdict
from provenance.rules.withheld_words import striker

_Items = Mapping[str, tuple[EvidenceItem, ...]]


def public_view(archive: Archive, date: Day, *, only: Collection[str] | None = None) -> PublicArchive:
    """Make what the public may be shown of an archive on a day.

    Args:
        archive: the records that can be judged on.
        date: decides which closures and permissions have ended.
        only: the features to be judged; the view then holds claims about no others. None for all.
    """
    access = {each: access_on(source, date) for each, source in archive.sources.items()}
    withheld = {each for each in access if access[each] is not Access.OPEN}
    withdrawn = {each for each, source in archive.sources.items() if source.withdrawn is not None}
    kept = {each: archive.sources[each] for each in sorted(access.keys() - withheld - withdrawn)}
    team = {each for each in withheld - withdrawn if access[each] is Access.TEAM}
    nodes = team & ancestors_of(kept, archive)
    out = frozenset(withheld - team | withdrawn | telling_too_much(archive, nodes, kept))
    items = _items_shown(archive, judge_all(archive, without=out, only=only), kept)
    stands_for = unnamed_people(archive, kept, date)
    ids = {**{each: each for each in kept}, **_nodes_named(nodes - out)}
    censor = _censor(archive, withheld, ids, items, stands_for)
    shown = _written_anew(archive, kept, items, censor)
    verdicts = judge_all(shown, only=only)
    whole = judge_all(archive, only=only)
    return PublicArchive(
        archive=shown,
        date=date,
        verdicts=verdicts,
        creators=_creators(archive, kept, censor),
        held_privately={each: _supported_by(team, whole[each], verdicts[each]) for each in verdicts},
        in_confidence=frozenset(each for each in verdicts if _differs(whole[each], verdicts[each])),
        queried=_queried(archive) & verdicts.keys(),
        not_cleared={
            each: NotCleared(source=each, title=source.title, why=why, ask=whom_to_ask(source))
            for each, source in kept.items()
            if (why := why_not_cleared(source, date))
        },
    )


def _items_shown(archive: Archive, judged: Mapping[str, Verdict], kept: Collection[str]) -> _Items:
    """The items of each claim that stand in what may be shown, and go back to nothing closed or withdrawn.

    Signs are read on open words alone: where a withheld source says which option shows them, they are left off.

    A value that is known from withheld sources alone is theirs, even where a public one speaks against it: its claim
    goes whole. That something is there, or is not, is nobody's wording.
    """
    listed = [item for verdict in judged.values() for candidate in verdict.candidates for item in candidate.items]
    out = {(item.claim, item.item) for item in listed if item.left_out and not item.told_by}
    unread = {(item.claim, item.item) for item in listed if item.told_by and not _may_be_read(archive, item, kept)}
    shown = {}
    for claim in (claim for claim in archive.claims.values() if claim.about in judged):
        items = tuple(
            replace(item, signs=()) if (claim.id, item) in unread else item
            for item in claim.evidence
            if item.source in kept and (claim.id, item) not in out
        )
        if items and (_is_presence(archive, claim) or any(item.stance is Stance.SUPPORTS for item in items)):
            shown[claim.id] = items
    return shown


def _may_be_read(archive: Archive, told: JudgedItem, kept: Collection[str]) -> bool:
    """Whether all that says which option shows these signs may be shown, and goes back to nothing that may not."""
    feature = archive.features[archive.claims[told.claim].about]
    says_so = sources_on_signs(feature, [sign for sign, _ in told.told_by])
    return not told.left_out and all(source in kept for source in says_so)


def _is_presence(archive: Archive, claim: Claim) -> bool:
    return archive.features[claim.about].kind is FeatureKind.PRESENCE


def _censor(
    archive: Archive,
    withheld: Collection[str],
    ids: Mapping[str, str],
    items: _Items,
    stands_for: Mapping[str, str],
) -> Censor:
    name = namer_of_people(archive)
    unnamed = {*stands_for, *(person.name for person in archive.people if name(person.id) in stands_for)}
    say = striker(archive, withheld, unnamed)
    return Censor(
        say=say,
        named=lambda person: stands_for.get(name(person), name(person)),
        kept=frozenset(each for each, public in ids.items() if each == public),
        ids=ids,
        related={each.name: say(each.name) for each in archive.related},
        claims=_numbered("claim", items),
        decisions=_numbered("decision", (each.id for each in archive.decisions.values() if _is_public(each))),
    )


def _is_public(decision: Decision) -> bool:
    return decision.status == "released" and decision.withdrawn is None


def _nodes_named(nodes: Iterable[str]) -> dict[str, str]:
    """Public ids that no record can have."""
    return {each: f"*{public}*" for each, public in _numbered("withheld", nodes).items()}


def _numbered(kind: str, ids: Iterable[str]) -> dict[str, str]:
    """Public ids in the order of the true ones, since the first claim of a value says how it is spelt."""
    ordered = sorted(ids)
    width = max(4, len(str(len(ordered))))
    return {each: f"{kind}-{number:0{width}}" for number, each in enumerate(ordered, 1)}


def _written_anew(archive: Archive, kept: Mapping[str, Source], items: _Items, censor: Censor) -> Archive:
    name = namer_of_people(archive)
    sources = {}
    for each, source in kept.items():
        witness = source.creator and (censor.named(source.creator) if tells(source) else name(source.creator))
        sources[each] = public_source(source, censor, creator=witness)
    claims = [
        public_claim(claim, archive.features[claim.about], items[claim.id], censor)
        for claim in (archive.claims[each] for each in sorted(items))
    ]
    decisions = [public_decision(archive.decisions[each], censor) for each in sorted(censor.decisions)]
    pairs = [public_pair(pair, censor) for pair in pairs_among(archive.copies.values(), frozenset(censor.ids))]
    return replace(
        public_head(archive, censor),
        components={each: public_component(part, censor) for each, part in archive.components.items()},
        sources=sources | unnamed_nodes(archive, censor.ids.keys() - kept.keys(), censor.ids),
        claims={claim.id: claim for claim in claims},
        copies={pair.id: pair for pair in pairs},
        decisions={decision.id: decision for decision in decisions},
        panels={each: public_panel(panel, censor) for each, panel in archive.panels.items()},
    )


def _creators(archive: Archive, kept: Mapping[str, Source], censor: Censor) -> dict[str, str]:
    name = namer_of_people(archive)
    return {
        each: censor.named(source.creator) if is_private_account(source) else name(source.creator)
        for each, source in kept.items()
        if source.creator and source.creator != "unknown"
    }


def _queried(archive: Archive) -> frozenset[str]:
    """The features of which something is in doubt, or a decision on them."""
    about = (query.about for query in archive.queries.values() if query.open)
    return frozenset(archive.decisions[each].about if each in archive.decisions else each for each in about)


def _supported_by(team: Collection[str], whole: Verdict, public: Verdict) -> int:
    """How many sources of the team's support the best public value too."""
    if public.value is None:
        return 0
    same = candidate_of(whole, public.value)
    return len({item.source for item in same.supporting if item.source in team}) if same else 0


def _differs(whole: Verdict, public: Verdict) -> bool:
    """Whether what is withheld changes the grade, or which value is the best."""
    if whole.grade is not public.grade or whole.value is None or public.value is None:
        return whole.grade is not public.grade
    return candidate_of(whole, public.value) is not whole.best
