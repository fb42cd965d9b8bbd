"""The sources of an archive as they are looked through: some of them, and what they can be narrowed to."""

from dataclasses import dataclass

from provenance.records.sources import Source
from provenance.reports.narrowed import ChoiceGroup


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedSource:
    """A source in a list.

    Attributes:
        pages: how many there are.
        pictured: the number of the page that is shown of it; None where no page can be seen.
        digest: SHA-256 of the file that this page is in; empty without one.
        components: ids of the components that it is tagged with, or cited for.
    """

    source: Source
    pages: int
    pictured: int | None
    digest: str
    components: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SourcesListed:
    """What is listed.

    Attributes:
        total: how many sources there are with what was chosen.
        sources: those of this page of the list, in order of title.
        groups: what the list can be narrowed to, with how many sources each choice leaves.
    """

    total: int
    sources: tuple[ListedSource, ...]
    groups: tuple[ChoiceGroup, ...]
