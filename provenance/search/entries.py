"""What is put into the index: one entry a page, a source or a claim."""

from dataclasses import dataclass
from enum import StrEnum


class What(StrEnum):
    """What a hit leads to."""

    PAGE = "page"
    SOURCE = "source"
    CLAIM = "claim"


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One page, source or claim as it is searched for.

    Words asked without a field are looked for on a page in its text alone, so that a book whose title says
    "bracket" does not come up with every one of its pages; on a source or a claim they are looked for everywhere.

    Attributes:
        key: a stable name, such as `handbook-1a2b3c4d/p0003`; no two entries have the same.
        digest: of all that the entry was made from; another digest makes the entry be written anew.
        what: a page, a source or a claim.
        source: id of the source that it belongs to; empty for a claim without evidence.
        page: counted from 1 within the source; None for a source, and for a claim that cites no page.
        title: what people call it; shown with the hit.
        text: a page's lines, joined by line feeds; a source's or claim's own words.
        references: part, stores and drawing numbers, the holder's reference.
        creator: person or works; empty when unknown.
        holder: archive, museum or person; empty when unknown.
        kind: the kind of the source, such as `photograph`; empty when nobody has said.
        state: the state of the source, such as `untagged`; empty when it has none.
        components: ids of the components that it is tagged with.
        earliest: first day that it can be from, as yyyymmdd; None when open on that side.
        latest: last day that it can be from, as yyyymmdd; None when open on that side. Undated when both are None.
    """

    key: str
    digest: str
    what: What
    source: str
    page: int | None = None
    title: str = ""
    text: str = ""
    references: tuple[str, ...] = ()
    creator: str = ""
    holder: str = ""
    kind: str = ""
    state: str = ""
    components: tuple[str, ...] = ()
    earliest: int | None = None
    latest: int | None = None
