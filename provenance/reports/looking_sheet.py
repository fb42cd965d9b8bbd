"""What somebody has before them who looks at photographs: which are to be looked at, and the sheet of each."""

from collections.abc import Mapping
from dataclasses import dataclass

from provenance.records.components import Component
from provenance.records.regions import Region
from provenance.records.sources import Source
from provenance.rules.cautions import StandingCaution
from provenance.rules.sheet_rows import RowKind, SheetRow
from provenance.rules.suggesting import Suggestion


@dataclass(frozen=True, slots=True, kw_only=True)
class Which:
    """Which pictures are to be looked at.

    Attributes:
        lot: those of this lot; empty for no lot in particular.
        component: those that may show this component; empty for none in particular.
        feature: of the component, `component/feature`; empty for all of it.
    """

    lot: str = ""
    component: str = ""
    feature: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class QueuedPicture:
    """A picture that is to be looked at; its first page, and whether somebody has looked at it for this."""

    source: str
    title: str
    page: int
    is_done: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class LookingQueue:
    """The pictures that are to be looked at.

    Attributes:
        which: as asked for.
        called: the same in words.
        pictures: in order, those that are done among them.
        unseen: how many more there are of which no picture can be shown.
    """

    which: Which
    called: str
    pictures: tuple[QueuedPicture, ...]
    unseen: int

    @property
    def done(self) -> int:
        """How many somebody has looked at."""
        return sum(picture.is_done for picture in self.pictures)

    @property
    def first(self) -> QueuedPicture | None:
        """The first that nobody has looked at; None where all are done."""
        return next((picture for picture in self.pictures if not picture.is_done), None)

    def after(self, source: str) -> QueuedPicture | None:
        """The next that nobody has looked at; None where there is none further on."""
        return next((picture for picture in self.pictures[self.place_of(source) :] if not picture.is_done), None)

    def before(self, source: str) -> QueuedPicture | None:
        """The one before; None for the first, and for one that is not among them."""
        place = self.place_of(source)
        return self.pictures[place - 2] if place > 1 else None

    def place_of(self, source: str) -> int:
        """Its place among them, counted from 1; 0 for one that is not among them."""
        return next((number for number, each in enumerate(self.pictures, 1) if each.source == source), 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class LookingSheet:
    """One picture with what it could answer.

    Attributes:
        source: the picture.
        page: which page of it.
        pages: the numbers of all its pages.
        digest: SHA-256 of its file.
        within: the part of the page that the picture is, in percent; None for all of it.
        is_placed: whether a part that is drawn on the picture can be told as a part of the page.
        no_picture: why there is no picture, in words that end a sentence; empty where there is one.
        components: those that are looked for, in order.
        why: of a component that nobody confirmed, why it is looked for.
        rows: the open rows, component by component: what nobody looked for in this picture.
        looked_for: the rows that are open still, though somebody looked for them in this picture.
        left_out: how many further open rows there are of components that are not named.
        shows: the machines that its record names, in words.
        names_machine: whether what is claimed from it is taken for a machine without its being said again.
        lots: the lots that it came with.
        carried: the machine that the picture before it shows, of the same lot, as `--shows` takes it; empty for none.
        carried_words: the same in words.
        examples: the machines that may be named, in the order of production, then the related types.
        cautions: of the picture itself.
    """

    source: Source
    page: int
    pages: tuple[int, ...]
    digest: str
    within: Region | None
    is_placed: bool
    no_picture: str
    components: tuple[Component, ...]
    why: Mapping[str, Suggestion]
    rows: tuple[SheetRow, ...]
    looked_for: tuple[SheetRow, ...]
    left_out: int
    shows: tuple[str, ...]
    names_machine: bool
    lots: tuple[str, ...]
    carried: str
    carried_words: str
    examples: tuple[str, ...]
    cautions: tuple[StandingCaution, ...]

    def rows_of(self, component: str, *, measured: bool) -> tuple[SheetRow, ...]:
        """The rows of a component, either those that are seen or those that have to be measured or counted."""
        return tuple(row for row in self.rows if row.component == component and row.is_measured is measured)

    @property
    def seen_at_a_glance(self) -> tuple[SheetRow, ...]:
        """The rows that are answered by looking alone."""
        return tuple(row for row in self.rows if not row.is_measured)


def choices_of(row: SheetRow) -> tuple[tuple[str, str], ...]:
    """What may be answered in a row, each with its words; empty for what is typed."""
    if row.kind is RowKind.SIGN:
        return (("seen", "seen"), ("not-seen", "not seen"), ("out-of-view", "out of view"))
    if row.kind is RowKind.PRESENCE:
        return (("present", "present"), ("absent", "absent"), ("out-of-view", "out of view"))
    if row.kind is RowKind.CHOICE and row.feature is not None:
        options = tuple((option.id, option.name) for option in row.feature.options)
        return (*options, ("out-of-view", "out of view"))
    return ()
