"""References that lead nowhere, and references that lead back to where they began."""

from collections.abc import Iterator, Mapping
from difflib import get_close_matches

from provenance.errors import Place, Problem
from provenance.records.archive import Archive
from provenance.rules.references import ANYTHING_QUERIED, PEOPLE, Reference, known_names, references_of

_WHERE = {PEOPLE: "add them under `people` in archive.yaml", ANYTHING_QUERIED: "name a feature, a decision or a panel"}


def unknown_ids(
    archive: Archive,
    *,
    among: Archive | None = None,
    needed_only: bool = False,
    unreadable: frozenset[str] = frozenset(),
) -> Iterator[Problem]:
    """References to a record that is not there (rule `unknown-id`).

    Args:
        archive: the records whose references are looked at.
        among: the records that may be named; None for the same.
        needed_only: only those that judgement cannot do without.
        unreadable: files of records that are there but cannot be used, such as `sources/handbook.yaml`.
    """
    known = known_names(among or archive)
    for reference in references_of(archive):
        if reference.name not in known[reference.to] and (reference.needed or not needed_only):
            what, mend = _wording(reference, known[reference.to], unreadable)
            place = Place(file=reference.file, field=reference.field)
            yield Problem(place=place, rule="unknown-id", what=what, mend=mend)


def _wording(reference: Reference, known: frozenset[str], unreadable: frozenset[str]) -> tuple[str, str]:
    spoilt = reference.leads_to & unreadable
    if spoilt:
        return f"`{reference.name}` cannot be used: {min(spoilt)} has faults of its own", "mend that record first"
    what = f"there is no `{reference.name}` among the {reference.to}"
    near = get_close_matches(reference.name, sorted(known), n=1)
    if near:
        return what, f"did you mean `{near[0]}`?"
    return what, _WHERE.get(reference.to, f"write one that is there, or add the missing record to the {reference.to}")


def circles(archive: Archive) -> Iterator[Problem]:
    """Records that lead back to themselves through one kind of reference (rule `circle`)."""
    sources, components, decisions = archive.sources, archive.components, archive.decisions
    descent = {key: tuple(parent.source for parent in source.derives_from) for key, source in sources.items()}
    yield from _circles("sources", "derives_from", descent, "a source cannot descend from itself")
    kept = {key: (source.within.source,) if source.within else () for key, source in sources.items()}
    yield from _circles("sources", "within", kept, "a source cannot be kept inside itself")
    issues = {key: (source.replaces,) if source.replaces else () for key, source in sources.items()}
    yield from _circles("sources", "replaces", issues, "an issue cannot replace itself")
    parts = {key: (part.part_of,) if part.part_of else () for key, part in components.items()}
    yield from _circles("components", "part_of", parts, "a component cannot be part of itself")
    chosen = {key: (decision.replaces,) if decision.replaces else () for key, decision in decisions.items()}
    yield from _circles("decisions", "replaces", chosen, "a decision cannot replace itself")


def _circles(folder: str, field: str, leads_to: Mapping[str, tuple[str, ...]], why: str) -> Iterator[Problem]:
    for circle in find_circles(leads_to):
        path = " -> ".join((*circle, circle[0]))
        yield Problem(
            place=Place(file=f"{folder}/{circle[0]}.yaml", field=field),
            rule="circle",
            what=f"{why}: {path}",
            mend=f"remove the `{field}` that is wrong from one of them",
        )


def find_circles(leads_to: Mapping[str, tuple[str, ...]]) -> tuple[tuple[str, ...], ...]:
    """Circles in a graph, each once, beginning with its first name in order; none exactly where there is none.

    Where circles cross, not all of them are told (there can be very many), but each of them shares an arrow with one
    that is: once those that are told are broken up, none is left. A name that leads nowhere known is passed over.
    Walks without recursion, so that no chain is too long.
    """
    done: set[str] = set()
    found = []
    for start in sorted(leads_to):
        path: list[str] = []
        on_path: dict[str, int] = {}
        stack = [(start, False)]
        while stack:
            name, leaving = stack.pop()
            if leaving:
                path.pop()
                del on_path[name]
                done.add(name)
            elif name in on_path:
                found.append(_from_first(path[on_path[name] :]))
            elif name not in done and name in leads_to:
                on_path[name] = len(path)
                path.append(name)
                stack.append((name, True))
                stack += [(parent, False) for parent in sorted(leads_to[name], reverse=True)]
    return tuple(dict.fromkeys(found))


def _from_first(circle: list[str]) -> tuple[str, ...]:
    first = circle.index(min(circle))
    return (*circle[first:], *circle[:first])
