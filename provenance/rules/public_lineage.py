"""What stands in public for the team's sources that open ones go back to: nodes without names, so that lines stay true.

Two open books that cite one ledger of the team's are one witness in public too. Without that node they would seem two.
"""

from collections.abc import Collection, Iterator, Mapping

from provenance.records.archive import Archive
from provenance.records.kinds import SourceKind
from provenance.records.sources import DerivesFrom, Source
from provenance.rules.consent import namer_of_people, tells
from provenance.rules.public_values import HELD_PRIVATELY

_PICTURES = frozenset({SourceKind.PHOTOGRAPH, SourceKind.FILM, SourceKind.ARTWORK})


def ancestors_of(sources: Collection[str], archive: Archive) -> set[str]:
    """Everything that some sources were made from, transitively, without themselves."""
    found: set[str] = set()
    waiting = list(sources)
    while waiting:
        source = archive.sources[waiting.pop()]
        fresh = {parent.source for parent in source.derives_from} - found
        found |= fresh
        waiting.extend(fresh)
    return found - set(sources)


def telling_too_much(archive: Archive, nodes: Collection[str], kept: Collection[str]) -> set[str]:
    """Those of the nodes whose witness is also one of what is shown: the tie cannot be kept without naming who it is.

    What goes back to them is not judged on in public.
    """
    name = namer_of_people(archive)
    shown = {name(person) for person in _people(archive, kept)}
    return {each for each in nodes if _is_told(archive.sources[each]) and name(_maker(archive.sources[each])) in shown}


def unnamed_nodes(archive: Archive, nodes: Collection[str], ids: Mapping[str, str]) -> dict[str, Source]:
    """The nodes, by their public ids: what kind of thing it was and what it was made from, and nothing else.

    Args:
        archive: the whole archive.
        nodes: ids of the team's sources that open ones go back to.
        ids: the public id of every source that stands in the public view.
    """
    name = namer_of_people(archive)
    makers = _numbered(name(_maker(archive.sources[each])) for each in sorted(nodes) if _maker(archive.sources[each]))
    occasions = _numbered(occasion for each in sorted(nodes) if (occasion := archive.sources[each].occasion))
    behind = [archive.sources[each] for each in sorted(nodes)]
    return {
        ids[source.id]: _unnamed(
            source,
            ids,
            maker=f"an unnamed person ({makers[name(_maker(source))]})" if _is_told(source) else None,
            occasion=f"an occasion ({occasions[source.occasion]})" if source.occasion else None,
        )
        for source in behind
    }


def _unnamed(source: Source, ids: Mapping[str, str], *, maker: str | None, occasion: str | None) -> Source:
    return Source(
        id=ids[source.id],
        title=HELD_PRIVATELY,
        by="",
        date=source.date,
        kind=source.kind,
        creator=maker,
        occasion=occasion,
        derives_from=tuple(
            DerivesFrom(source=ids[each.source], how=each.how) for each in source.derives_from if each.source in ids
        ),
        origin_stated=source.origin_stated,
        tagged=source.tagged,
    )


def _people(archive: Archive, kept: Collection[str]) -> Iterator[str]:
    yield from (_maker(archive.sources[each]) for each in kept if _is_told(archive.sources[each]))
    for claim in archive.claims.values():
        yield from (item.at.who for item in claim.evidence if item.source in kept and item.at.who)


def _maker(source: Source) -> str:
    """Who made a source; empty where nobody is known."""
    return "" if source.creator in {None, "unknown"} else source.creator or ""


def _is_told(source: Source) -> bool:
    """Whether who made it is a witness: a telling account by its author, a picture by its maker."""
    return bool(_maker(source)) and (tells(source) or source.kind in _PICTURES)


def _numbered(names: Iterator[str]) -> dict[str, int]:
    return {name: number for number, name in enumerate(dict.fromkeys(names), 1)}
