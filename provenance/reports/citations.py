"""What is cited in a report: each place with its mark in the text, and the sources at the end with their credit lines.

Everything that is cited is gathered in order before the first mark is written, since a style may number sources as they
are first cited, or sort them by name.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from provenance.records.claims import At
from provenance.records.kinds import SourceKind
from provenance.records.regions import TimeSpan
from provenance.records.sources import Source
from provenance.reports.citing import Cite, cite
from provenance.reports.document import Words
from provenance.reports.style_sheets import StyleSheet
from provenance.rules.public_values import PublicArchive
from provenance.rules.rights_statements import statement_words
from provenance.rules.source_words import derivation_in_words
from provenance.rules.verdicts import JudgedItem

_WITHOUT_PAGES = frozenset(
    {SourceKind.PHOTOGRAPH, SourceKind.FILM, SourceKind.ARTEFACT, SourceKind.ARTWORK}
    | {SourceKind.SCALE_MODEL, SourceKind.MODEL_3D}
)
"""What a page 1 says nothing of: the scan has it, the thing does not."""


NAMELESS = "*"
"""With what the public id of a source begins that stands behind another one and may not be named itself."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Citing:
    """How sources are cited.

    Attributes:
        style: how citations and references are written.
        items: every source that may be shown, by id, as an item of CSL-JSON.
    """

    style: StyleSheet
    items: Mapping[str, Mapping[str, Any]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Citation:
    """One place in a source.

    Attributes:
        mark: what stands in the text, such as `[3, p. 14]`; it leads to the source.
        quote: the words that stand there; None where none are given.
        language: of those words, a BCP 47 tag; empty where it is not known, or may be one of several.
    """

    mark: Words
    quote: str | None = None
    language: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CitedSource:
    """A source in the list at the end.

    Attributes:
        number: its place in the list, counted from 1.
        id: its id, which is not printed.
        title: its title.
        reference: as the style writes it, without its number.
        lineage: what it was made from, where that may be shown, and what was done to it; a sentence each.
        credit: the credit line.
    """

    number: int
    id: str
    title: str
    reference: Words
    lineage: tuple[str, ...]
    credit: str

    @property
    def anchor(self) -> str:
        """By which citations lead to it."""
        return anchor_of(self.number)


def anchor_of(number: int) -> str:
    """The anchor of the source of that number."""
    return f"source-{number}"


class Citations:
    """The marks of everything that is cited, and the list of sources."""

    def __init__(self, view: PublicArchive, citing: Citing, items: Iterable[JudgedItem]) -> None:
        """Write all marks and references.

        Args:
            view: the archive as the public sees it.
            citing: how they are written.
            items: what is cited, in the order in which it stands in the text.

        Raises:
            UsageRefusedError: the style cannot be used.
        """
        places = [_place(view, item) for item in items]
        cited = cite(citing.style, citing.items, places)
        self._view = view
        self._marks = cited.marks
        self._anchors = {each.source: anchor_of(number) for number, each in enumerate(cited.references, 1)}
        self.numbered = cited.numbered
        self.names_pages = any(place.page for place in places)
        self.sources = tuple(
            CitedSource(
                number=number,
                id=each.source,
                title=view.archive.sources[each.source].title,
                reference=each.words,
                lineage=tuple(_lineage(view, view.archive.sources[each.source])),
                credit=_credit(view, view.archive.sources[each.source]),
            )
            for number, each in enumerate(cited.references, 1)
        )

    def of(self, item: JudgedItem) -> Citation:
        """The citation of the place of an item."""
        mark = self._marks[_place(self._view, item)]
        led = tuple(replace(run, to=self._anchors[item.source]) for run in mark)
        languages = self._view.archive.sources[item.source].language
        return Citation(mark=led, quote=item.quote, language=languages[0] if len(languages) == 1 else "")


def _lineage(view: PublicArchive, source: Source) -> Iterator[str]:
    for each in source.derives_from:
        if not each.source.startswith(NAMELESS):
            yield f"It {derivation_in_words(each.how)} “{view.archive.sources[each.source].title}”."
    if source.altered:
        yield f"The picture is {source.altered}."


def _credit(view: PublicArchive, source: Source) -> str:
    rights = source.rights
    line = (rights.credit if rights else None) or source.holder or view.creators.get(source.id) or source.title
    statement = statement_words(rights.statement) if rights and rights.statement else ""
    return " ".join(f"{part.rstrip('.')}." for part in (line, statement) if part)


def _place(view: PublicArchive, item: JudgedItem) -> Cite:
    at = item.at
    return Cite(
        source=item.source,
        page=_page(at, view.archive.sources[item.source].kind),
        time=_time(at.time) if at.time else "",
        who=at.who or "",
    )


def _page(at: At, kind: SourceKind | None) -> str:
    if at.page_label:
        return at.page_label
    return "" if at.page is None or (at.page == 1 and kind in _WITHOUT_PAGES) else str(at.page)


def _time(span: TimeSpan) -> str:
    """A time to the second, in which a listener finds the place: `00:12:31 to 00:12:44`."""
    begin, end = (_clock(int(seconds)) for seconds in (span.start, span.end))
    return begin if begin == end else f"{begin} to {end}"


def _clock(seconds: int) -> str:
    return f"{seconds // 3600:02}:{seconds // 60 % 60:02}:{seconds % 60:02}"
