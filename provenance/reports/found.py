"""The answer of `search`: pages, recordings, sources and claims that say what was asked for."""

from dataclasses import dataclass

from provenance.reports.layout import counted, paragraph
from provenance.reports.standing import Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundPage:
    """One hit.

    Attributes:
        what: `page` (what is said on a recording too), `source` or `claim`.
        record: the record or page that was found, such as `claims/id`, a source id, or `source-id/p0003`.
        source: the source that the hit leads to; empty for a claim without evidence.
        page: counted from 1; None where the hit is no page.
        regions: where the matched words stand, as percent fragments; empty where the page has no picture.
        original: the file that holds the page, relative to the archive; None where there is none.
        tier: how well a number that was asked for stands there: `exact`, `folded` (what recognisers confuse taken as
            one) or `near` (a character or two apart, perhaps another number); None where no number was.
        read_as: the numbers that are not exact, as they stand there.
        time: from when to when it is said on a recording, as a record cites it; None for what has no time.
    """

    what: str
    record: str
    source: str
    title: str
    page: int | None
    score: float
    snippet: str
    regions: tuple[str, ...]
    original: str | None
    components: tuple[str, ...]
    tier: str | None = None
    read_as: tuple[str, ...] = ()
    time: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What was found.

    Attributes:
        total: how many hits there are, also beyond the limit.
        hits: the best first.
        notes: what the reader should know: what of the query was not understood, what was done to the index.
    """

    standing: Standing
    query: str
    total: int
    hits: tuple[FoundPage, ...]
    notes: tuple[str, ...]


def found_json(found: Found) -> dict[str, object]:
    """The JSON answer `search`."""
    return {
        **found.standing.as_json("search"),
        "query": found.query,
        "total": found.total,
        "notes": list(found.notes),
        "hits": [
            {
                "what": hit.what,
                "record": hit.record,
                "source": hit.source,
                "title": hit.title,
                "page": hit.page,
                "score": hit.score,
                "snippet": hit.snippet,
                "regions": list(hit.regions),
                "original": hit.original,
                "components": list(hit.components),
                "tier": hit.tier,
                "read_as": list(hit.read_as),
                "time": hit.time,
            }
            for hit in found.hits
        ],
    }


def found_text(found: Found, width: int) -> str:
    """The page that people read."""
    lines = found.standing.as_lines(width)
    for note in found.notes:
        lines += paragraph(f"note: {note}", width, hang="  ")
    lines += paragraph(_heading(found), width)
    for number, hit in enumerate(found.hits, start=1):
        lines += ["", *_hit_lines(number, hit, width)]
    return "\n".join(lines)


def _heading(found: Found) -> str:
    if not found.total:
        return f"Nothing was found for “{found.query}”."
    best = "the best" if len(found.hits) == 1 else f"the best {len(found.hits)}"
    shown = f", {best} of them here" if len(found.hits) < found.total else ""
    return f"{counted(found.total, 'hit').capitalize()} for “{found.query}”{shown}:"


def _hit_lines(number: int, hit: FoundPage, width: int) -> list[str]:
    mark = f"{number:>3}. "
    margin = " " * len(mark)
    if hit.what == "claim":
        lines = paragraph(f"claim {hit.title}", width, indent=mark, hang=margin)
    else:
        page = f", page {hit.page}" if hit.page is not None else ""
        time = f", at {hit.time}" if hit.time is not None else ""
        lines = paragraph(f"{hit.title}{page}{time}", width, indent=mark, hang=margin)
    if hit.snippet:
        lines += paragraph(f"“{hit.snippet}”", width, indent=margin)
    facts = [hit.record]
    if hit.read_as:
        near = " (near, not the same: perhaps another number)" if hit.tier == "near" else ""
        facts.append(f"read as {', '.join(hit.read_as)}{near}")
    if hit.regions:
        more = f" and {len(hit.regions) - 1} more" if len(hit.regions) > 1 else ""
        facts.append(f"at {hit.regions[0]}{more}")
    if hit.components:
        facts.append(f"speaks of {', '.join(hit.components)}")
    return [*lines, *paragraph("; ".join(facts), width, indent=margin)]
