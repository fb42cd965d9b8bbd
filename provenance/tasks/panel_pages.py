"""The panels of an archive as they are looked at before they are printed; no record is written.

What is shown and handed out is composed from the public view alone, as what is printed is; but it is a draft, always:
what is hung on a wall is printed by `appendix`, which keeps in the panel's record what it said.
"""

import threading
from functools import cached_property

from provenance.errors import ProvenanceError
from provenance.exchange.csl_json import csl_items
from provenance.records.dates import parse_edtf
from provenance.reports.appendix import compose_appendix
from provenance.reports.appendix_document import appendix_document
from provenance.reports.appendix_values import Appendix
from provenance.reports.citations import Citing
from provenance.reports.date_words import date_words
from provenance.reports.flagged import Flagged
from provenance.reports.layout import counted
from provenance.reports.panel_page import ListedPanel, PanelPage, listed_panels
from provenance.reports.registered import askings
from provenance.rules.panel_flags import OVERTAKEN, panel_digest
from provenance.rules.public_values import PublicArchive
from provenance.tasks.citing_styles import DEFAULT, our_styles, style_sheet
from provenance.tasks.going_public import day_of, through_the_door
from provenance.tasks.opening import Opened
from provenance.tasks.printing import FORMATS, SAY_OTHERWISE, overtaken, panel_named, said_to_curator, unsayable
from provenance.tasks.printing_documents import printed
from provenance.tasks.printing_registers import FORMATS as REGISTER_FORMATS
from provenance.tasks.printing_registers import WHICH, make_register

STYLES = our_styles()
"""The styles in which citations can be written here, by name; a file of another is not taken from a browser."""

__all__ = ["DEFAULT", "FORMATS", "REGISTER_FORMATS", "STYLES", "WHICH", "PanelPages"]


class PanelPages:
    """The panels of an archive as it stands on a day; several may ask at once."""

    def __init__(self, opened: Opened, day: str) -> None:
        """Work out nothing yet.

        Args:
            opened: the archive.
            day: that what is made carries, on which closures and permissions are looked at.
        """
        self._opened = opened
        self._day = day
        self._lock = threading.Lock()

    def listed(self, flagged: Flagged) -> tuple[ListedPanel, ...]:
        """All panels, in order of their titles.

        Args:
            flagged: what was flagged in the archive on that day.
        """
        overtaken_ones = {flag.about for flag in flagged.flags if flag.flag == OVERTAKEN}
        return listed_panels(self._opened.archive, overtaken_ones)

    def page(self, panel_id: str, style: str = DEFAULT) -> PanelPage:
        """A panel with its appendix, as a draft.

        Args:
            panel_id: which.
            style: one of `STYLES`.

        Raises:
            UnknownRecordError: there is no such panel; the nearest are named.
        """
        opened, panel = self._opened, panel_named(self._opened.archive, panel_id)
        try:
            view, appendix = self._composed(panel_id, style)
        except ProvenanceError as error:
            why_not = f"{error.what}.", f"What to do: {error.mend}."
            return PanelPage(archive=opened.archive, panel=panel, why_not=why_not)
        return PanelPage(
            archive=opened.archive,
            panel=panel,
            document=appendix_document(appendix),
            stops=(*self._left_out(), *_sayings(unsayable(panel, view.archive.panels[panel_id]))),
            askings=askings(appendix.not_cleared),
            overtaken=" ".join(overtaken(panel, panel_digest(view, panel_id))),
            said=said_to_curator(opened.archive, view, panel),
            cautions=appendix.cautions,
        )

    def appendix(self, panel_id: str, wanted: str, style: str = DEFAULT) -> bytes:
        """The draft of an appendix, as a file.

        Args:
            panel_id: of which panel.
            wanted: one of `FORMATS`.
            style: one of `STYLES`.

        Raises:
            UnknownRecordError: there is no such panel; the nearest are named.
            ArchiveError: the archive does not say yet what it represents.
            WriteRefusedError: no typeface has a character of it.
            DerivedDataError: a page of it could not be set.
        """
        panel_named(self._opened.archive, panel_id)
        return printed(self._opened, appendix_document(self._composed(panel_id, style)[1]), wanted)

    def register(self, which: str, wanted: str, *, draft: bool) -> bytes:
        """A register, as a file.

        Args:
            which: one of `WHICH`.
            wanted: one of `REGISTER_FORMATS`.
            draft: whether it is marked as a draft; then it may be of an archive that is not whole.

        Raises:
            ArchiveError: features are asked for, and the archive does not say yet what it represents.
            WriteRefusedError: the archive is not whole, or no typeface has a character of it.
            DerivedDataError: a page of it could not be set.
        """
        return make_register(self._opened, which, wanted, day=self._day, draft=draft)[0]

    @cached_property
    def _view(self) -> PublicArchive:
        return through_the_door(self._opened, day_of(self._day), draft=True)

    def _composed(self, panel_id: str, style: str) -> tuple[PublicArchive, Appendix]:
        with self._lock:
            view = self._view
        citing = Citing(style=style_sheet(style), items=csl_items(view, date_words))
        return view, compose_appendix(view, panel_id, citing, printed=parse_edtf(self._day), draft=True)

    def _left_out(self) -> tuple[str, ...]:
        number = len(self._opened.left_out)
        if not number:
            return ()
        takes = counted(number, "record takes", "records take")
        return (f"{takes[:1].upper()}{takes[1:]} no part: mend what `provenance check` names.",)


def _sayings(clauses: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(f"{clause[:1].upper()}{clause[1:]}: {SAY_OTHERWISE}." for clause in clauses)
