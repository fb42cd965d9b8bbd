"""What came of comparing sources with all others: the pairs that look like copies of one another."""

from dataclasses import dataclass

from provenance.reports.layout import counted, paragraph

MOST_NAMED = 20
"""So many pairs are named on the page of another answer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspected:
    """Two sources that look like copies of one another, in order of their ids.

    Attributes:
        source: id of the first.
        other: id of the second.
        method: `picture` or `text`.
        score: 0 to 1, for sorting.
        why: the reason in one sentence.
    """

    source: str
    other: str
    method: str
    score: float
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """What came of comparing.

    Attributes:
        sources: how many sources were compared with all others by this call.
        suspected: the pairs that were written down, each waiting for a ruling, in order of the sources.
        implied: how many further likenesses follow from those, so that no pair was written for them.
        failed: of how many pages the pictures could not be looked at.
        unread: how many pages of what is held were not read yet, so that nothing was compared with them.
        written: the record files of the pairs.
    """

    sources: int
    suspected: tuple[Suspected, ...] = ()
    implied: int = 0
    failed: int = 0
    unread: int = 0
    written: tuple[str, ...] = ()


def suspected_json(compared: Compared) -> list[dict[str, object]]:
    """The pairs as they stand in JSON answers."""
    return [
        {
            "source": pair.source,
            "other": pair.other,
            "kind": pair.method,
            "score": round(pair.score, 3),
            "why": pair.why,
        }
        for pair in compared.suspected
    ]


def not_compared_json(compared: Compared) -> dict[str, int]:
    """How many pages nothing was compared with, by the reason."""
    return {"unread": compared.unread, "failed": compared.failed}


def suspected_lines(compared: Compared, width: int) -> list[str]:
    """The pairs as they are told on a page; empty where there are none."""
    lines: list[str] = []
    for pair in compared.suspected[:MOST_NAMED]:
        lines += paragraph(f"Seen before? {pair.source} and {pair.other}: {pair.why}", width, hang="    ")
    more = len(compared.suspected) - MOST_NAMED
    if more > 0:
        lines += paragraph(f"… and {more} more pairs; `provenance copies` lists them all.", width)
    if compared.suspected:
        pairs = counted(len(compared.suspected), "pair waits", "pairs wait").capitalize()
        count = "it counts" if len(compared.suspected) == 1 else "each counts"
        lines += paragraph(f"{pairs} for a ruling; until then {count} as one witness: `provenance copies`.", width)
    if compared.unread:
        pages = counted(compared.unread, "page that is held has", "pages that are held have").capitalize()
        lines += paragraph(
            f"{pages} not been read yet, so that nothing was compared with them: `provenance rebuild` reads them.",
            width,
        )
    if compared.failed:
        pages = counted(compared.failed, "page").capitalize()
        lines += paragraph(
            f"{pages} could not be looked at, so that pictures there were compared with nothing; that is not tried "
            "again until `provenance rebuild`.",
            width,
        )
    return lines
