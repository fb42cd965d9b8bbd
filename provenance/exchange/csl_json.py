"""A source as an item of CSL-JSON, the form in which programs that set citations take what they cite.

Types and variables are those of the Citation Style Language 1.0.2 (https://docs.citationstyles.org/en/stable/
specification.html, Appendices III and IV). It has no type for things: pieces and scale models are a `document`, its
type for what belongs to no other. Nothing is filled in that the record does not say: there is no publisher, and a name
is one text, not parted into a family's and a given one. Texts stand in it as they came; whoever prints them makes them
harmless.
"""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

from provenance.records.dates import EdtfDate
from provenance.records.kinds import SourceKind
from provenance.records.regions import PageRange
from provenance.rules.public_values import PublicArchive
from provenance.rules.source_words import kind_in_words

TYPES: Mapping[SourceKind, str] = MappingProxyType(
    {
        SourceKind.PHOTOGRAPH: "graphic",
        SourceKind.FILM: "motion_picture",
        SourceKind.ARTEFACT: "document",
        SourceKind.SURVEY: "report",
        SourceKind.ANALYSIS: "report",
        SourceKind.DRAWING: "graphic",
        SourceKind.SPECIFICATION: "standard",
        SourceKind.MANUAL: "book",
        SourceKind.CATALOGUE: "book",
        SourceKind.LOGBOOK: "manuscript",
        SourceKind.REPORT: "report",
        SourceKind.LETTER: "personal_communication",
        SourceKind.NEWSPAPER: "article-newspaper",
        SourceKind.ORAL_HISTORY: "interview",
        SourceKind.BOOK: "book",
        SourceKind.OPINION: "personal_communication",
        SourceKind.ARTWORK: "graphic",
        SourceKind.NOTES: "manuscript",
        SourceKind.SCALE_MODEL: "document",
        SourceKind.MODEL_3D: "dataset",
        SourceKind.WEBSITE: "webpage",
    }
)
"""The type of each kind of source."""

_UNTAGGED = "document"
_PRINTED = frozenset({SourceKind.SPECIFICATION, SourceKind.MANUAL, SourceKind.CATALOGUE, SourceKind.BOOK})


def csl_items(view: PublicArchive, dated: Callable[[EdtfDate], str]) -> dict[str, dict[str, Any]]:
    """Every source that may be shown, by id.

    Args:
        view: the archive as the public sees it.
        dated: writes a date as the reader is to see it. Dates go in as a literal text: one in parts could not say
            "about", "perhaps" or "before".
    """
    return {source: csl_item(view, source, dated) for source in sorted(view.archive.sources)}


def csl_item(view: PublicArchive, source_id: str, dated: Callable[[EdtfDate], str]) -> dict[str, Any]:
    """One source as an item.

    The issue is an `edition` of what was printed for many, the `issue` of a newspaper, and else the `version`. The kind
    in words is the `genre`. What is kept in an album or a bundle that may be shown names it, and is held where that is.

    Args:
        view: the archive as the public sees it.
        source_id: the source.
        dated: as in `csl_items`.
    """
    source = view.archive.sources[source_id]
    container = view.archive.sources[source.within.source] if source.within else None
    author = view.creators.get(source_id)
    said = {
        "title": source.title,
        "author": [{"literal": author}] if author else None,
        "issued": {"literal": dated(source.created)} if source.created else None,
        "genre": kind_in_words(source.kind).capitalize() if source.kind else None,
        _issue_goes_to(source.kind): source.issue,
        "container-title": container.title if container else None,
        "page": _pages(source.within.pages) if source.within and source.within.pages else None,
        "archive": source.holder or (container.holder if container else None),
        "archive-place": source.place,
        "archive_location": source.reference or (container.reference if container else None),
        "language": source.language[0] if source.language else None,
    }
    kind = TYPES[source.kind] if source.kind else _UNTAGGED
    return {"id": source_id, "type": kind, **{name: value for name, value in said.items() if value}}


def _pages(pages: PageRange) -> str:
    return str(pages.first) if pages.first == pages.last else f"{pages.first}-{pages.last}"


def _issue_goes_to(kind: SourceKind | None) -> str:
    if kind is SourceKind.NEWSPAPER:
        return "issue"
    return "edition" if kind in _PRINTED else "version"
