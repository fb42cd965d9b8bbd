"""The part of an archive on which the verdict on one feature depends: judged alone, it gives the same verdict."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from provenance.records.archive import Archive


def judged_part(archive: Archive, about: str) -> Archive:
    """Keep what the verdict on one feature depends on: so small a part is judged quickly over and over again.

    Kept are its component and claims, the sources that these name, all that those go back to, the issues that replaced
    any of them, the pairs of likely copies that they are in, and the decisions on the feature.

    Args:
        archive: the archive.
        about: `component/feature`; one that the archive has.
    """
    component = archive.components[about.partition("/")[0]]
    claims = {claim.id: claim for claim in archive.claims_by_feature.get(about, ())}
    named = {item.source for claim in claims.values() for item in claim.evidence}
    named |= {item.via for claim in claims.values() for item in claim.evidence if item.via is not None}
    named |= {common.source for common in component.common_to}
    feature = archive.features[about]
    named |= {sign.source for option in feature.options for sign in option.signs if sign.source is not None}
    sources = _closed(archive, named)
    return replace(
        archive,
        components={component.id: component},
        claims=claims,
        sources={source: archive.sources[source] for source in sorted(sources)},
        copies={pair_id: pair for pair_id, pair in archive.copies.items() if not sources.isdisjoint(pair.between)},
        decisions={each.id: each for each in archive.decisions.values() if each.about == about},
    )


def _closed(archive: Archive, named: Iterable[str]) -> frozenset[str]:
    """The sources named, with all that they go back to and the later issues of any of them."""
    later: dict[str, list[str]] = {}
    for source_id, source in archive.sources.items():
        if source.replaces is not None:
            later.setdefault(source.replaces, []).append(source_id)
    found: set[str] = set()
    waiting = [source for source in named if source in archive.sources]
    while waiting:
        source_id = waiting.pop()
        if source_id in found:
            continue
        found.add(source_id)
        waiting += (each for each in _next(archive, source_id, later) if each in archive.sources)
    return frozenset(found)


def _next(archive: Archive, source_id: str, later: dict[str, list[str]]) -> Iterator[str]:
    yield from (parent.source for parent in archive.sources[source_id].derives_from)
    yield from later.get(source_id, ())
