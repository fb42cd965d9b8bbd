"""The order of a family: the oldest first, nothing before what it was made from, however the records run in circles."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from heapq import heapify, heappop, heappush

from provenance.records.archive import Archive

_Key = tuple[bool, object, str]


def oldest_first(
    archive: Archive, members: Collection[str], links: Iterable[tuple[str, str]]
) -> tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    """Put sources into order: none before what it was made from; then by the earliest day they may be of, then by id.

    Args:
        archive: the archive.
        members: source ids.
        links: the later and the earlier of two members, for each that was made from another.

    Returns:
        The order, and the circles: sources each of which goes back to all others of its circle, in that order. Within
        a circle the oldest begins.
    """
    leads_to: dict[str, set[str]] = {member: set() for member in members}
    for later, earlier in links:
        if later != earlier:
            leads_to[later].add(earlier)
    circle_of = _circles(leads_to)
    keys = {member: _key(archive, member) for member in members}
    groups: dict[str, list[str]] = defaultdict(list)
    for member in members:
        groups[circle_of[member]].append(member)
    between = {
        group: {circle_of[earlier] for member in inside for earlier in leads_to[member]} - {group}
        for group, inside in groups.items()
    }
    first = {group: min(keys[member] for member in inside) for group, inside in groups.items()}
    order: list[str] = []
    circles = []
    for group in _released(between, first):
        inside = _opened({each: leads_to[each].intersection(groups[group]) for each in groups[group]}, keys)
        order += inside
        if len(inside) > 1:
            circles.append(tuple(inside))
    return tuple(order), tuple(circles)


def _key(archive: Archive, source_id: str) -> _Key:
    created = archive.sources[source_id].created
    day = created.earliest if created else None
    return day is None, day or (), source_id


def _released(waits_for: Mapping[str, Collection[str]], keys: Mapping[str, _Key]) -> list[str]:
    """Names in order, each after all that it waits for; of those that are free the least by its key."""
    left = {name: len(behind) for name, behind in waits_for.items()}
    followers: dict[str, list[str]] = defaultdict(list)
    for name, behind in waits_for.items():
        for each in behind:
            followers[each].append(name)
    free = [(keys[name], name) for name, count in left.items() if count == 0]
    heapify(free)
    order = []
    while free:
        _, name = heappop(free)
        order.append(name)
        for each in followers[name]:
            left[each] -= 1
            if left[each] == 0:
                heappush(free, (keys[each], each))
    return order


def _opened(waits_for: Mapping[str, Collection[str]], keys: Mapping[str, _Key]) -> list[str]:
    """The members of one circle, the oldest first, and then as far as possible each after what it was made from."""
    order: list[str] = []
    rest = {name: set(behind) for name, behind in waits_for.items()}
    while rest:
        rest[min(rest, key=keys.__getitem__)] = set()
        order += _released(rest, keys)
        done = set(order)
        rest = {name: behind - done for name, behind in rest.items() if name not in done}
    return order


def _circles(leads_to: Mapping[str, Collection[str]]) -> dict[str, str]:
    """Give every name its circle, called by one of its members: two are in one where each leads to the other.

    Kosaraju's algorithm. Walks without recursion, so that no chain is too long.
    """
    coming: dict[str, list[str]] = defaultdict(list)
    for name, following in leads_to.items():
        for each in following:
            coming[each].append(name)
    circle: dict[str, str] = {}
    for start in reversed(_left_in_order(leads_to)):
        waiting = [start]
        while waiting:
            name = waiting.pop()
            if name not in circle:
                circle[name] = start
                waiting += coming[name]
    return circle


def _left_in_order(leads_to: Mapping[str, Collection[str]]) -> list[str]:
    """All names, in the order in which a walk into the depth leaves them."""
    seen: set[str] = set()
    left: list[str] = []
    for start in sorted(leads_to):
        stack = [(start, False)]
        while stack:
            name, leaving = stack.pop()
            if leaving:
                left.append(name)
            elif name not in seen:
                seen.add(name)
                stack.append((name, True))
                stack += [(each, False) for each in sorted(leads_to[name], reverse=True)]
    return left
