"""Two sources that are named as copies of one another: what is on record of them, and how they hang together."""

from dataclasses import dataclass

from provenance.errors import Place, UsageRefusedError
from provenance.records.archive import Archive
from provenance.records.decisions import CopyPair
from provenance.records.kinds import Derivation
from provenance.records.sources import Source
from provenance.rules.source_words import derivation_in_words
from provenance.store.record_files import read_bytes
from provenance.store.record_kinds import RecordKind
from provenance.store.yaml_text import read_with_faults
from provenance.tasks.given_values import require_record
from provenance.tasks.opening import Opened


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """That a source was made from another.

    Attributes:
        source: the later one.
        number: of its entry in `derives_from`, counted from 0.
        parent: what it was made from.
        how: how.
    """

    source: str
    number: int
    parent: str
    how: Derivation

    @property
    def words(self) -> str:
        """Such as `b is a print of a`."""
        return f"{self.source} {derivation_in_words(self.how)} {self.parent}"


@dataclass(frozen=True, slots=True, kw_only=True)
class TwoSources:
    """Two sources in order of their ids, and what is on record about them.

    Attributes:
        pair: None where there is no record of the two yet.
        links: how the one goes back to the other by what is on record, link by link from the later one; empty where
            neither does.
    """

    opened: Opened
    one: Source
    other: Source
    pair: CopyPair | None
    links: tuple[Link, ...]

    @property
    def id(self) -> str:
        """The id of their pair."""
        return pair_id(self.one.id, self.other.id)

    @property
    def ids(self) -> tuple[str, str]:
        """The ids of the two."""
        return self.one.id, self.other.id

    def places(self) -> str:
        """Where each link is written, as people follow it: file, line and field, and what is said there."""
        return "; ".join(f"{_place_of(self.opened, link)}: {link.words}" for link in self.links)


def find_two(opened: Opened, names: tuple[str, str]) -> TwoSources:
    """Find two sources by their ids, which may come in any order.

    Raises:
        UnknownRecordError: there is no such source; the nearest are named.
        UsageRefusedError: it is one source, or a record about them has faults.
    """
    for name in names:
        _require_usable(opened, RecordKind.SOURCE.file_of(name))
    sources = opened.archive.sources
    one, other = (require_record(sources, name, "source", "sources") for name in sorted(names))
    if one.id == other.id:
        raise UsageRefusedError(f"`{one.id}` is named twice", "name two sources, the one and what looks like its copy")
    _require_usable(opened, RecordKind.COPY.file_of(pair_id(one.id, other.id)))
    pair = opened.archive.copies.get(pair_id(one.id, other.id))
    return TwoSources(opened=opened, one=one, other=other, pair=pair, links=links_between(opened.archive, one, other))


def links_between(archive: Archive, one: Source, other: Source) -> tuple[Link, ...]:
    """How the one of two sources goes back to the other, link by link from the later one; empty where neither does."""
    return _links(archive, one.id, other.id) or _links(archive, other.id, one.id)


def pair_id(one: str, other: str) -> str:
    """The id of the pair of two sources."""
    return "--".join(sorted((one, other)))


def _require_usable(opened: Opened, file: str) -> None:
    """See that a record that is there can be used.

    Raises:
        UsageRefusedError: it was left out.
    """
    for record in opened.left_out:
        if record.file == file:
            raise UsageRefusedError(f"{file} cannot be used: {record.why}", "mend it first, as `provenance check` says")


def _links(archive: Archive, start: str, goal: str) -> tuple[Link, ...]:
    """The shortest way from a source back to another."""
    ways: dict[str, tuple[Link, ...]] = {start: ()}
    waiting = [start]
    for source_id in waiting:
        source = archive.sources.get(source_id)
        for number, parent in enumerate(source.derives_from if source else ()):
            if parent.source not in ways:
                link = Link(source=source_id, number=number, parent=parent.source, how=parent.how)
                ways[parent.source] = (*ways[source_id], link)
                waiting.append(parent.source)
    return ways.get(goal, ())


def _place_of(opened: Opened, link: Link) -> Place:
    file, field = RecordKind.SOURCE.file_of(link.source), f"derives_from[{link.number}]"
    document, _ = read_with_faults(read_bytes(str(opened.folder / file)), file)
    return Place(file=file, line=document.line_of(field) if document else None, field=field)
