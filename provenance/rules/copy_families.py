"""Families of likely copies: pictures of which each may have been made from any other, until somebody has ruled.

A thousand prints of one photograph are found as a tree of 999 open pairs. So the open pairs of pictures are taken
together: with A~B and B~C open, A and C are no two witnesses either. What hangs together is the picture on a page, not
the source: a book of plates joins nothing of one page with anything of another. And since each of a family may have
been made from any other, each may go back to whatever any of them was made from.

Pairs ruled copies hold a family together too, as long as one pair of it is open: the likeness of that one passes on
to the original of a copy, which may so be a copy of what the other was made from.

Pairs found otherwise stay pair by pair: a newsletter may draw on two books that have nothing in common. So do pairs
ruled copies where none is open, for `derives_from` says the rest. Where it does not, since two pictures were ruled to
go back to a third that is not held, all pictures that are ruled copies of either go back to that third, and so does
what alone any of these was made from.
"""

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping
from typing import Generic, TypeVar

from provenance.records.archive import Archive
from provenance.records.decisions import PICTURE, CopyPair
from provenance.records.kinds import Ruling
from provenance.records.sources import Source

COPY = "copy:"
"""What the name of a shared ancestor begins with that only stands for likely copies."""

Place = tuple[str, int | None]
"""A source and a page of it, counted from 1; None for the whole of it."""

Thing = TypeVar("Thing", bound=Hashable)


class Joined(Generic[Thing]):
    """Things joined two by two: each set of joined ones has one root, which may change with the next joining."""

    def __init__(self) -> None:
        """Begin with nothing joined."""
        self._above: dict[Thing, Thing] = {}
        self._members: dict[Thing, list[Thing]] = {}

    def root(self, thing: Thing) -> Thing:
        """Give the one that stands for all that are joined with a thing; itself where none is."""
        above, root = self._above, thing
        while root in above:
            root = above[root]
        while thing != root:
            above[thing], thing = root, above[thing]
        return root

    def join(self, one: Thing, other: Thing) -> tuple[Thing, Thing]:
        """Join two; give the root that stays and the root that it takes in, the same twice where they were joined."""
        kept, taken = self.root(one), self.root(other)
        if kept == taken:
            return kept, taken
        if len(self.members(kept)) < len(self.members(taken)):
            kept, taken = taken, kept
        self._members.setdefault(kept, [kept]).extend(self.members(taken))
        self._members.pop(taken, None)
        self._above[taken] = kept
        return kept, taken

    def members(self, root: Thing) -> list[Thing]:
        """Give all that a root stands for, itself included, in no order."""
        return self._members.get(root) or [root]


def is_of_a_family(pair: CopyPair) -> bool:
    """Say whether a pair is taken together with others until it is ruled on: an open one of pictures."""
    return pair.ruling is Ruling.OPEN and is_of_pictures(pair)


def places_of(pair: CopyPair) -> tuple[Place, Place]:
    """Give where two pictures look alike, to the page: where nothing is said of it, the whole of both sources."""
    one, other = pair.between
    places = pair.found_by.places if pair.found_by else ()
    pages = [place.page for place in places] if len(places) == 2 else [None, None]
    return (one, pages[0]), (other, pages[1])


def shared_by(one: str, other: str) -> str:
    """Name the ancestor that stands for a pair of likely copies, in whichever order they are given."""
    first, second = sorted((one, other))
    return f"{COPY}{first}--{second}"


def open_ancestors(copies: Iterable[CopyPair]) -> frozenset[str]:
    """Name the ancestors that stand for open pairs, each by itself."""
    return frozenset(shared_by(*pair.between) for pair in copies if pair.ruling is Ruling.OPEN)


def is_of_pictures(pair: CopyPair) -> bool:
    """Say whether a pair was found by comparing pictures."""
    return pair.found_by is not None and pair.found_by.method == PICTURE


class Alike:
    """Pictures taken together, since each is likely to be, or is, a copy of the same thing as another of them.

    Args:
        made_from: gives what a source was made from.
    """

    def __init__(self, made_from: Callable[[str], Iterable[str]]) -> None:
        """Begin with no pictures."""
        self._made_from = made_from
        self._joined: Joined[Place] = Joined()
        self._places: dict[str, set[Place]] = {}
        self._names: dict[Place, str] = {}
        self._behind: dict[Place, set[str]] = {}

    def join(self, one: Place, other: Place, *, is_open: bool = True) -> None:
        """Take two pictures together, with all that either was taken together with before.

        Args:
            one: a picture.
            other: another.
            is_open: whether nobody has ruled on these two; only where one pair is open are they a family.
        """
        first, name = self._placed(one), shared_by(one[0], other[0])
        self._unite(first, self._placed(other))
        root = self._joined.root(first)
        if is_open:
            self._names[root] = min(name, self._names.get(root, name))

    def families(self) -> Iterator[Place]:
        """Give each family once: the root that stands for its pictures now."""
        return iter(self._names)

    def families_of(self, source: str) -> frozenset[Place]:
        """Give the families that pictures of a source are in; empty for none."""
        return frozenset(self._joined.root(place) for place in self._places.get(source, ())) & self._names.keys()

    def family_at(self, place: Place) -> Place:
        """Give the family of a picture that was joined to another."""
        return self._joined.root(place)

    def name_of(self, family: Place) -> str:
        """Give the name of the ancestor that its pictures share: `copy:` and the id of the first of its pairs."""
        return self._names[family]

    def members(self, family: Place) -> list[str]:
        """Give the sources of a family, in order."""
        return sorted({source for source, _ in self._joined.members(family)})

    def behind(self, family: Place) -> Iterable[str]:
        """Give what the sources of a family were made from."""
        return self._behind[family]

    def _placed(self, place: Place) -> Place:
        """Take in a picture; the whole of a source is every picture of it."""
        source, page = place
        places = self._places.setdefault(source, set())
        if place not in places:
            self._behind[place] = set(self._made_from(source))
            for other in [other for other in places if page is None or other == (source, None)]:
                self._unite(place, other)
            places.add(place)
        return place

    def _unite(self, one: Place, other: Place) -> None:
        kept, taken = self._joined.join(one, other)
        if kept != taken:
            less, more = sorted((self._behind.pop(kept), self._behind.pop(taken)), key=len)
            more.update(less)
            self._behind[kept] = more
            names = [self._names.pop(root) for root in (kept, taken) if root in self._names]
            self._names.update({kept: min(names)} if names else {})


class CopyFamilies:
    """What each source goes back to, or may go back to as long as likely copies are not ruled on.

    An ancestor is named by the id of a source; one that only stands for likely copies by `copy:` and the id of a pair.

    Attributes:
        open: the families of pictures on which nobody has ruled.

    Args:
        sources: the sources by id; what they derive from need not be among them.
        copies: the pairs of likely copies, ruled on or not.
    """

    def __init__(self, sources: Mapping[str, Source], copies: Iterable[CopyPair]) -> None:
        """Take in the sources, then the pairs: open ones of pictures last, since they hang on what others rule."""
        self._sources = sources
        self._pairs: dict[str, frozenset[str]] = {}
        self._ruled: dict[str, frozenset[str]] = {}
        self.open = Alike(self.made_from)
        standing = [pair for pair in copies if pair.ruling is not Ruling.DISTINCT]
        self._take_ruled([pair for pair in standing if pair.ruling is Ruling.COPY])
        for pair in standing:
            if is_of_pictures(pair):
                self.open.join(*places_of(pair), is_open=is_of_a_family(pair))
            elif pair.ruling is Ruling.OPEN:
                self.pair(*pair.between)

    def pair(self, one: str, other: str) -> None:
        """Let two sources share an ancestor of their own, as likely copies that are no pictures do."""
        for source in (one, other):
            self._pairs[source] = self.shared_in_pairs(source) | {shared_by(one, other)}

    def shared_in_pairs(self, source: str) -> frozenset[str]:
        """Give the ancestors that a source shares with others, but for those of open families."""
        return self._pairs.get(source, frozenset())

    def made_from(self, source_id: str) -> frozenset[str]:
        """Give what a source was made from, as its record and the pairs ruled copies say."""
        return self._ruled.get(source_id, frozenset()).union(self._parents(source_id))

    def of_family(self, family: Place, *, source: str | None = None, via: str | None = None) -> frozenset[str]:
        """Give all that the pictures of an open family may go back to, and what stands for the family.

        Args:
            family: the family.
            source: one of it that goes back by way of one parent alone; None for none.
            via: that parent.
        """
        behind = self.open.behind(family)
        if via is not None:
            others = (each for each in self.open.members(family) if each != source)
            behind = [via, *(ancestor for each in others for ancestor in self.made_from(each))]
        return self.of_ancestors(behind) | {self.open.name_of(family)}

    def of_ancestors(self, ancestors: Iterable[str]) -> frozenset[str]:
        """Give some ancestors, and all that these go back to or may go back to."""
        found: set[str] = set()
        waiting = list(ancestors)
        while waiting:
            ancestor = waiting.pop()
            if ancestor in found:
                continue
            found |= {ancestor, *self.shared_in_pairs(ancestor)}
            waiting += self._parents(ancestor)
            for family in self.open.families_of(ancestor):
                if self.open.name_of(family) not in found:
                    found.add(self.open.name_of(family))
                    waiting += self.open.behind(family)
        return frozenset(found)

    def _take_ruled(self, copies: Iterable[CopyPair]) -> None:
        """Let pairs ruled copies share ancestors, each its own; pictures that go back to a third, one and the same."""
        alike = Alike(lambda _: ())
        thirds: list[Place] = []
        for pair in copies:
            self.pair(*pair.between)
            if is_of_pictures(pair):
                alike.join(*places_of(pair))
                one, other = pair.between
                if one not in self._origins(other) and other not in self._origins(one):
                    thirds.append(places_of(pair)[0])
        for family in {alike.family_at(place) for place in thirds}:
            for source in {each for member in alike.members(family) for each in self._line_of(member)}:
                self._pairs[source] = self.shared_in_pairs(source) | {alike.name_of(family)}
        self._ruled = dict(self._pairs)

    def _parents(self, source_id: str) -> list[str]:
        source = self._sources.get(source_id)
        return [parent.source for parent in source.derives_from] if source else []

    def _line_of(self, source_id: str) -> list[str]:
        """A source, what it was made from if that is one thing, what that was made from if that is one thing, etc."""
        line, parents = [source_id], self._parents(source_id)
        while len(parents) == 1 and parents[0] not in line:
            line += parents
            parents = self._parents(parents[0])
        return line

    def _origins(self, source_id: str) -> set[str]:
        found, waiting = {source_id}, [source_id]
        while waiting:
            fresh = {*self._parents(waiting.pop())} - found
            found |= fresh
            waiting += fresh
        return found


class Ties:
    """Which sources of an archive cannot stand as two witnesses, whoever tells of them; pairs may be added.

    Args:
        archive: the archive, with its pairs.
    """

    def __init__(self, archive: Archive) -> None:
        """Take in all that is declared, ruled and open."""
        self._families = CopyFamilies(archive.sources, archive.copies.values())
        self._together: Joined[str] = Joined()
        self._first: dict[str, str] = {}
        for source in archive.sources.values():
            for parent in source.derives_from:
                self._take_together(source.id, parent.source)
        for pair in archive.copies.values():
            if pair.ruling is not Ruling.DISTINCT:
                self._take_together(*pair.between)

    def are_tied(self, one: str, other: str) -> bool:
        """Say whether two sources are no two witnesses, by descent or as likely copies.

        They are where both go back, or may go back, to one source, one family or one pair that is open or ruled a copy.
        People and the unnamed origin do not count here.
        """
        return not self._families.of_ancestors([one]).isdisjoint(self._families.of_ancestors([other]))

    def tie(
        self, one: str, other: str, *, method: str = PICTURE, pages: tuple[int | None, int | None] = (None, None)
    ) -> None:
        """Take an open pair as if it were on record.

        Args:
            one: a source.
            other: another.
            method: how they were found alike; `picture` joins their families, any other ties these two alone.
            pages: where the pictures are, in this order; None for the whole source.
        """
        if method == PICTURE:
            self._families.open.join((one, pages[0]), (other, pages[1]))
        else:
            self._families.pair(one, other)
        self._take_together(one, other)

    def family(self, source: str) -> str:
        """Name one for all sources that hang together by descent, by open pairs or by such as are ruled copies.

        It is the first of them by id. Here two that have nothing in common hang together too, where a third draws on
        both: what stands in all three is counted once.
        """
        root = self._together.root(source)
        return self._first.get(root, root)

    def _take_together(self, one: str, other: str) -> None:
        first = min(self.family(one), self.family(other))
        kept, _ = self._together.join(one, other)
        self._first[kept] = first


def tied(archive: Archive) -> Ties:
    """Say which sources of an archive are tied to one another."""
    return Ties(archive)
