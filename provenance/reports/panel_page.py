"""What is shown of a panel: its appendix as it would be printed, what stops it, and what became of it in print."""

from collections.abc import Collection
from dataclasses import dataclass

from provenance.records.archive import Archive
from provenance.records.decisions import Panel
from provenance.reports.document import Document
from provenance.reports.registered import Asking
from provenance.rules.cautions import StandingCaution


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedPanel:
    """A panel in the list of all.

    Attributes:
        bare: how many of its statements name no feature, so that no evidence is cited for them.
        is_overtaken: whether it is flagged, since it does not say any more what it said when it was printed last.
    """

    panel: Panel
    bare: int
    is_overtaken: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelPage:
    """A panel.

    Attributes:
        archive: whose panel it is, as the team sees it.
        panel: as the team wrote it.
        document: the draft of its appendix, as the public may read it; None where none can be made.
        why_not: why none can be made, and what to do, a sentence each; empty where there is one.
        stops: what stops its printing, a sentence each, but for what is not cleared.
        askings: what has to be asked whom before it is printed, since it shows what is not cleared.
        overtaken: a sentence; empty where it was never printed, or still says what it said then.
        said: what the curator should know, a sentence each; they may name what is withheld.
        cautions: for what it shows.
    """

    archive: Archive
    panel: Panel
    document: Document | None = None
    why_not: tuple[str, ...] = ()
    stops: tuple[str, ...] = ()
    askings: tuple[Asking, ...] = ()
    overtaken: str = ""
    said: tuple[str, ...] = ()
    cautions: tuple[StandingCaution, ...] = ()

    @property
    def is_stopped(self) -> bool:
        """Whether it cannot be printed but as a draft."""
        return bool(self.stops or self.askings)


def listed_panels(archive: Archive, overtaken: Collection[str]) -> tuple[ListedPanel, ...]:
    """All panels in order of their titles.

    Args:
        archive: the archive.
        overtaken: the ids of the panels that are flagged as overtaken.
    """
    panels = sorted(archive.panels.values(), key=lambda panel: (panel.title.casefold(), panel.id))
    return tuple(
        ListedPanel(
            panel=panel,
            bare=sum(not statement.features for statement in panel.statements),
            is_overtaken=panel.id in overtaken,
        )
        for panel in panels
    )
