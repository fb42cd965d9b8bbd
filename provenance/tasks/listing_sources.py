"""List the sources of an archive, narrowed by kind, component, holder and state."""

import threading
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import islice

from provenance.pages.cut_outs import has_pieces
from provenance.records.archive import Archive
from provenance.records.kinds import SourceKind
from provenance.records.sources import Source
from provenance.reports.narrowed import Choice, ChoiceGroup
from provenance.reports.sources_listed import ListedSource, SourcesListed
from provenance.rules.source_words import kind_in_words
from provenance.tasks.index_entries import components_of_sources
from provenance.tasks.page_readings import pages_of

UNKNOWN = "unknown"
"""Asks for the sources of which nobody has said the kind yet."""

STATES = {
    "untagged": "nobody has looked at it yet",
    "tagged": "looked at",
    "withdrawn": "withdrawn",
    "not-here": "no file of it here",
}
"""The states of sources in a list, as people read them."""

_KINDS = {kind.value: kind_in_words(kind, several=True) for kind in SourceKind} | {UNKNOWN: "not said yet"}
_MOST_REMEMBERED = 64
_Facts = Mapping[str, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class _Described:
    source: Source
    facts: _Facts


class SourcesList:
    """The sources of one state of an archive."""

    def __init__(self, archive: Archive) -> None:
        """Look at every source once."""
        self._archive = archive
        self._lock = threading.Lock()
        components = components_of_sources(archive)
        ordered = sorted(archive.sources.values(), key=lambda each: (each.title.casefold(), each.id))
        self._answers: dict[tuple[tuple[str, str], ...], tuple[list[_Described], tuple[ChoiceGroup, ...]]] = {}
        self._described = [_Described(each, _facts(each, components.get(each.id, ()))) for each in ordered]

    def narrowed(self, chosen: Mapping[str, str], *, limit: int, skip: int = 0) -> SourcesListed:
        """Give the sources that all that was chosen is true of.

        Args:
            chosen: by `kind`, `component`, `holder` and `state`; what is absent does not matter.
            limit: how many are listed at most.
            skip: how many are passed over first.
        """
        with self._lock:
            kept, groups = self._of(tuple(sorted(chosen.items())))
        return SourcesListed(
            total=len(kept),
            sources=tuple(self._listed(each) for each in kept[skip : skip + limit]),
            groups=groups,
        )

    def _of(self, chosen: tuple[tuple[str, str], ...]) -> tuple[list[_Described], tuple[ChoiceGroup, ...]]:
        """What is left, and the choices; the last few answers are remembered, for they are leafed through."""
        if chosen not in self._answers:
            while len(self._answers) >= _MOST_REMEMBERED:
                del self._answers[next(iter(self._answers))]
            asked = dict(chosen)
            groups = tuple(self._group(name, asked) for name in ("kind", "component", "holder", "state"))
            self._answers[chosen] = ([each for each in self._described if _is_kept(each.facts, asked)], groups)
        return self._answers[chosen]

    def _listed(self, described: _Described) -> ListedSource:
        first = next(islice(pages_of(described.source, self._archive), 1), None)
        is_seen = first is not None and has_pieces(first.file.media_type)
        return ListedSource(
            source=described.source,
            pages=sum(1 for _ in pages_of(described.source, self._archive)),
            pictured=first.page if first and is_seen else None,
            digest=first.file.sha256 if first and is_seen else "",
            components=described.facts["component"],
        )

    def _group(self, name: str, chosen: Mapping[str, str]) -> ChoiceGroup:
        others = {other: value for other, value in chosen.items() if other != name}
        counts = Counter(
            value for each in self._described if _is_kept(each.facts, others) for value in each.facts[name]
        )
        values: Iterable[str] = {*counts, *([chosen[name]] if name in chosen else [])}
        choices = [
            Choice(value=value, name=self._name(name, value), hits=counts[value], is_chosen=chosen.get(name) == value)
            for value in values
        ]
        return ChoiceGroup(name=name, choices=tuple(sorted(choices, key=lambda each: (-each.hits, each.name))))

    def _name(self, group: str, value: str) -> str:
        if group == "component" and value in self._archive.components:
            return self._archive.components[value].name
        names = {"kind": _KINDS, "state": STATES}.get(group, {})
        return names.get(value, value)


def _facts(source: Source, components: tuple[str, ...]) -> _Facts:
    states = ["tagged" if source.tagged else "untagged"]
    states += ["withdrawn"] if source.withdrawn else []
    states += [] if source.files or source.within else ["not-here"]
    return {
        "kind": (source.kind.value if source.kind else UNKNOWN,),
        "component": components,
        "holder": (source.holder,) if source.holder else (),
        "state": tuple(states),
    }


def _is_kept(facts: _Facts, chosen: Mapping[str, str]) -> bool:
    return all(value in facts.get(name, ()) for name, value in chosen.items())
