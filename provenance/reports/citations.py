"""Numbered citations of sources, in the order in which they are first cited, and the credit line of each.

The layout is our own plain one, with the elements that ISO 690 asks for in its numeric system: who made it, title, what
it is, date, who holds it and under which reference; the page stands where it is cited.
"""

from dataclasses import dataclass

from provenance.records.claims import At
from provenance.records.sources import Source
from provenance.reports.date_words import date_words
from provenance.rules.public_values import PublicArchive
from provenance.rules.rights_statements import statement_words
from provenance.rules.verdicts import JudgedItem


@dataclass(frozen=True, slots=True, kw_only=True)
class Citation:
    """One place in a numbered source.

    Attributes:
        number: of the source, counted from 1.
        place: the page or time in words; empty where none is named.
        quote: the words that stand there; None where none are given.
    """

    number: int
    place: str
    quote: str | None = None

    @property
    def mark(self) -> str:
        """The citation as it stands in the text: `[3, page 14]`."""
        return f"[{self.number}, {self.place}]" if self.place else f"[{self.number}]"


@dataclass(frozen=True, slots=True, kw_only=True)
class NumberedSource:
    """A source in the list at the end.

    Attributes:
        id: its id, which is not printed.
        text: the reference.
        credit: the credit line.
    """

    number: int
    id: str
    text: str
    credit: str


class Numbering:
    """Gives each source its number when it is first cited."""

    def __init__(self, view: PublicArchive) -> None:
        """Begin with no source cited."""
        self._view = view
        self._numbers: dict[str, int] = {}

    def cite(self, item: JudgedItem) -> Citation:
        """Cite the place of an item."""
        number = self._numbers.setdefault(item.source, len(self._numbers) + 1)
        return Citation(number=number, place=_place(item.at), quote=item.quote)

    def sources(self) -> tuple[NumberedSource, ...]:
        """Everything cited so far, in order of number."""
        return tuple(
            NumberedSource(number=number, id=source, text=self._reference(source), credit=self._credit(source))
            for source, number in self._numbers.items()
        )

    def _reference(self, source_id: str) -> str:
        source = self._view.archive.sources[source_id]
        parts = [self._view.creators.get(source_id), source.title, _what(source)]
        held = ", ".join(filter(None, (source.holder, source.reference)))
        parts += [f"Held by {held}" if source.holder else held]
        return " ".join(f"{part.rstrip('.')}." for part in parts if part)

    def _credit(self, source_id: str) -> str:
        source = self._view.archive.sources[source_id]
        rights = source.rights
        line = (
            (rights.credit if rights else None) or source.holder or self._view.creators.get(source_id) or source.title
        )
        statement = statement_words(rights.statement) if rights and rights.statement else ""
        return " ".join(f"{part.rstrip('.')}." for part in (line, statement) if part)


def _what(source: Source) -> str:
    kind = source.kind.value.replace("-", " ").capitalize() if source.kind else ""
    issue = f"issue {source.issue}" if source.issue else ""
    created = date_words(source.created) if source.created else "undated"
    return ", ".join(part for part in (kind, issue, created) if part)


def _place(at: At) -> str:
    said = []
    if at.page is not None:
        said.append(f"page {at.page_label or at.page}")
    if at.time is not None:
        said.append(f"at {at.time}")
    if at.who:
        said.append(f"{at.who} speaking")
    return ", ".join(said)
