"""The family of a source, drawn from the records: what was made from what, which pairs are copies, who is behind them.

`within` is no descent. Circles, which `check` names as a fault, end nothing and are told as they are.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from provenance.records.archive import Archive
from provenance.records.decisions import CopyPair
from provenance.records.kinds import Derivation, Ruling
from provenance.rules.copy_families import COPY
from provenance.rules.descent import Lineage, in_order
from provenance.rules.family_order import oldest_first
from provenance.rules.verdicts import JudgedItem


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """That one source was made from another, or that what it is cited for stands on the word of another.

    Attributes:
        later: the source that was made, the copy.
        earlier: the source that it was made from.
        how: None where nothing was made: the evidence taken from `later` stands on what `earlier` says, such as that
            parts are common to several machines, or which option a sign belongs to.
        note: of the record; None where it has none.
        pair: the record of the two as likely copies, with its ruling; None where there is none.
    """

    later: str
    earlier: str
    how: Derivation | None
    note: str | None = None
    pair: CopyPair | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tie:
    """Somebody, or an origin that nobody named, behind several sources.

    Attributes:
        origin: `witness:NAME` or `*unstated*`, as judgement has it; `copy:` and more for what likely copies may go back
            to, where no pair among the members says it.
        sources: the members of the family that go back to it of themselves, the oldest first.
        others: sources outside of the family that do, in order of id; empty where a feature was asked about.
    """

    origin: str
    sources: tuple[str, ...]
    others: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FamilyTree:
    """Sources and how they hang together.

    Attributes:
        members: source ids, the oldest first: none before what it was made from, but where that is a circle.
        links: in order of the later source, then of the earlier.
        pairs: likely copies, and those ruled copies, of which neither is entered as made from the other.
        ruled_out: pairs of the source that was asked about of which it was ruled that they are no copies.
        ties: in the order of judgement: the unnamed origin, then witnesses by name.
        circles: sources each of which is entered as made from all others of its circle, the oldest first.
        behind: what the source that was asked about goes back to; empty where a feature was.
        after: what goes back to it; in a circle a source is in both.
    """

    members: tuple[str, ...]
    links: tuple[Link, ...] = ()
    pairs: tuple[CopyPair, ...] = ()
    ruled_out: tuple[CopyPair, ...] = ()
    ties: tuple[Tie, ...] = ()
    circles: tuple[tuple[str, ...], ...] = ()
    behind: frozenset[str] = frozenset()
    after: frozenset[str] = frozenset()


def family_of(archive: Archive, asked: str, lineage: Lineage | None = None) -> FamilyTree:
    """Gather what a source was made from, what was made from it, through however many hands, and pairs of any of these.

    Args:
        archive: the archive.
        asked: the id of a source that it has.
        lineage: of the same archive, where it is at hand; None to have it made.
    """
    parents = {source_id: _parents(archive, source_id) for source_id in archive.sources}
    behind = _reached({asked}, parents)
    after = _reached({asked}, _turned(parents))
    core = behind | after
    pairs = [pair for _, pair in sorted(archive.copies.items()) if core.intersection(pair.between)]
    ruled_out = tuple(pair for pair in pairs if pair.ruling is Ruling.DISTINCT and asked in pair.between)
    standing = [pair for pair in pairs if pair.ruling is not Ruling.DISTINCT]
    members = core.union(*(pair.between for pair in standing)) & archive.sources.keys()
    drawn = _drawn(
        archive,
        members,
        links=_links_between(archive, members, parents),
        ties=_ties_of(lineage or Lineage(archive), behind=behind, core=core, everything=archive.sources),
        ruled_out=ruled_out,
    )
    return replace(drawn, behind=frozenset(behind - {asked}), after=frozenset(after - {asked}))


def family_behind(archive: Archive, items: Sequence[JudgedItem]) -> FamilyTree:
    """Gather what some items of evidence go back to, as judgement took it.

    Args:
        archive: the archive.
        items: of one value; an item that goes back by way of one parent brings in that parent alone.
    """
    members = {name for item in items for name in item.descent if name in archive.sources}
    parents = {source_id: _parents(archive, source_id) for source_id in members}
    links = _links_between(archive, members, parents)
    return _drawn(
        archive,
        members,
        links=[*links, *_words_taken(items, parents)],
        ties=_ties_among(archive, items, members),
    )


def _ties_among(archive: Archive, items: Sequence[JudgedItem], members: set[str]) -> Iterator[Tie]:
    lineage = Lineage(archive)
    bearers: dict[str, set[str]] = defaultdict(set)
    for item in items:
        for name in item.descent - archive.sources.keys():
            own = {each for each in item.descent & members if name in lineage.added_by(each)}
            bearers[name] |= own or {item.source}
    pairs = [pair.between for pair in archive.copies.values() if pair.ruling is not Ruling.DISTINCT]
    for name, sources in bearers.items():
        alike: dict[str, list[str]] = defaultdict(list)
        for one, other in pairs if name.startswith(COPY) else ():
            alike[one] += [other] if other in sources else []
            alike[other] += [one] if one in sources else []
        if _reached({min(sources)}, alike) < sources:
            yield Tie(origin=name, sources=tuple(sources))


def nearest_first(archive: Archive, names: Collection[str], items: Sequence[JudgedItem]) -> tuple[str, ...]:
    """Put what all items go back to into order: what lies the fewest steps behind the farthest of the items first.

    Args:
        archive: the archive.
        names: source ids, `*unstated*` and `witness:NAME`; a person or an unnamed origin comes after the source that
            it stands behind.
        items: the items that all go back to each of them.
    """
    parents = {source_id: _parents(archive, source_id) for source_id in archive.sources}
    lineage = Lineage(archive)
    steps = [_steps_to(item, parents) for item in items]

    def farness(name: str, reached: Mapping[str, int]) -> int:
        if name in archive.sources:
            return reached.get(name, 1)
        return min((far for each, far in reached.items() if name in lineage.added_by(each)), default=0)

    farthest = {name: max(farness(name, reached) for reached in steps) for name in names}
    return tuple(sorted(names, key=lambda name: (farthest[name], in_order(name))))


def _parents(archive: Archive, source_id: str) -> tuple[str, ...]:
    """The sources that one was made from, each once; what the archive does not have is passed over."""
    named = (parent.source for parent in archive.sources[source_id].derives_from)
    return tuple(dict.fromkeys(name for name in named if name in archive.sources))


def _turned(parents: Mapping[str, Iterable[str]]) -> Mapping[str, list[str]]:
    children: dict[str, list[str]] = defaultdict(list)
    for later, earlier in parents.items():
        for each in earlier:
            children[each].append(later)
    return children


def _reached(names: Collection[str], leads_to: Mapping[str, Iterable[str]]) -> set[str]:
    found, waiting = set(names), list(names)
    while waiting:
        fresh = set(leads_to.get(waiting.pop(), ())) - found
        found |= fresh
        waiting.extend(fresh)
    return found


def _links_between(archive: Archive, members: Collection[str], parents: Mapping[str, object]) -> list[Link]:
    return [
        Link(later=later, earlier=each.source, how=each.how, note=each.note)
        for later in members
        if later in parents
        for each in archive.sources[later].derives_from
        if each.source in members
    ]


def _words_taken(items: Sequence[JudgedItem], parents: Mapping[str, Iterable[str]]) -> Iterator[Link]:
    """Lead from an item's source to those on whose word it stands, without what these in turn go back to."""
    taken: dict[tuple[str, str], None] = {}
    for item in items:
        foreign = (item.descent & parents.keys()) - _reached({item.source}, parents)
        behind = set().union(*(_reached({each}, parents) - {each} for each in foreign))
        taken.update(dict.fromkeys((item.source, each) for each in sorted(foreign - behind)))
    return (Link(later=later, earlier=earlier, how=None) for later, earlier in taken)


def _ties_of(
    lineage: Lineage, *, behind: Collection[str], core: Collection[str], everything: Iterable[str]
) -> list[Tie]:
    """Those behind two members of the family, or behind what was asked about and a source outside."""
    bearers: dict[str, set[str]] = defaultdict(set)
    for source_id in everything:
        for name in lineage.added_by(source_id):
            if not name.startswith(COPY):
                bearers[name].add(source_id)
    ties = []
    for name, sources in bearers.items():
        own, others = sources.intersection(core), sources.difference(core) if sources & set(behind) else set()
        if own and len(own) + len(others) > 1:
            ties.append(Tie(origin=name, sources=tuple(own), others=tuple(sorted(others))))
    return ties


def _drawn(
    archive: Archive,
    members: Collection[str],
    *,
    links: Iterable[Link],
    ties: Iterable[Tie],
    ruled_out: tuple[CopyPair, ...] = (),
) -> FamilyTree:
    """Put everything into order, and each pair to the link that it is a ruling on."""
    links = list(links)
    order, circles = oldest_first(archive, members, [(link.later, link.earlier) for link in links])
    place = {source_id: number for number, source_id in enumerate(order)}
    pairs = {
        pair.between: pair for _, pair in sorted(archive.copies.items()) if all(each in place for each in pair.between)
    }
    joined = [_with_pair(link, pairs) for link in links]
    carried = {link.pair.between for link in joined if link.pair is not None}
    return FamilyTree(
        members=order,
        links=tuple(sorted(joined, key=lambda link: (place[link.later], place[link.earlier], link.how or ""))),
        pairs=tuple(
            pair for pair in pairs.values() if pair.ruling is not Ruling.DISTINCT and pair.between not in carried
        ),
        ruled_out=tuple(pair for pair in ruled_out if pair.between not in carried),
        ties=tuple(
            Tie(origin=tie.origin, sources=tuple(sorted(tie.sources, key=place.__getitem__)), others=tie.others)
            for tie in sorted(ties, key=lambda tie: in_order(tie.origin))
        ),
        circles=circles,
    )


def _with_pair(link: Link, pairs: Mapping[tuple[str, str], CopyPair]) -> Link:
    one, other = sorted((link.later, link.earlier))
    pair = pairs.get((one, other)) if link.how is not None else None
    return Link(later=link.later, earlier=link.earlier, how=link.how, note=link.note, pair=pair)


def _steps_to(item: JudgedItem, parents: Mapping[str, Iterable[str]]) -> Mapping[str, int]:
    """How many steps each source of an item's descent lies behind the item."""
    steps, rank = {item.source: 0}, [item.source]
    while rank:
        fresh = dict.fromkeys(
            each for name in rank for each in parents[name] if each not in steps and each in item.descent
        )
        steps.update(dict.fromkeys(fresh, steps[rank[0]] + 1))
        rank = list(fresh)
    return steps
