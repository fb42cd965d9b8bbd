"""Print the dossier of a component or a feature: its evidence with a picture of every place that is cited."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace

from provenance.records.archive import Archive
from provenance.reports.descended import Descended
from provenance.reports.document import Picture
from provenance.reports.dossier import Pictured, Pictures, Shown, compose_dossier, compose_public_dossier, places_shown
from provenance.reports.dossier_document import dossier_document
from provenance.reports.evidence import Evidence
from provenance.rules.public_values import PublicArchive
from provenance.rules.weights import weights_of
from provenance.tasks.comparing import silent
from provenance.tasks.cutting_out import NoCutOut, Wanted, cut_outs
from provenance.tasks.descending import feature_descended
from provenance.tasks.opening import Opened
from provenance.tasks.printing_documents import printed

NOT_SHOWN = "it cannot be shown here"
"""Why there is no picture, to all but the team: the true reason may name a file of something that is withheld."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedDossier:
    """A dossier as a file.

    Attributes:
        data: of the file.
        unpictured: of which places there is no picture, each with why; a sentence each.
    """

    data: bytes
    unpictured: tuple[str, ...]


def print_dossier(
    opened: Opened,
    evidence: Evidence,
    wanted: str,
    *,
    view: PublicArchive | None = None,
    draft: bool = False,
    on_progress: Callable[[str, int, int], None] = silent,
) -> PrintedDossier:
    """Print it.

    Args:
        opened: the archive.
        evidence: what `evidence` answers to whom it is for.
        wanted: `html`, `pdf` or `docx`.
        view: what the public may be shown, on which the evidence was judged; None for the team and the workshop.
        draft: whether it is marked as a draft.
        on_progress: told how far it is.

    Raises:
        WriteRefusedError: a letter stands in it that no typeface has.
    """
    archive = view.archive if view else opened.archive
    pictures = _pictures(opened, archive, places_shown(evidence), on_progress)
    descents = descents_behind(archive, evidence)
    if view is None:
        dossier = compose_dossier(evidence, archive, pictures, descents)
    else:
        dossier = compose_public_dossier(evidence, view, _without_reasons(pictures), descents)
    document = dossier_document(dossier, weights_of(archive), draft=draft)
    return PrintedDossier(
        data=printed(opened, document, wanted, on_progress=on_progress),
        unpictured=tuple(_unpictured(archive, pictures)),
    )


def _pictures(
    opened: Opened, archive: Archive, places: tuple[Shown, ...], on_progress: Callable[[str, int, int], None]
) -> Pictures:
    wanted = {place: Wanted(source=place[0], at=place[1], quote=place[2]) for place in places}
    withheld = opened.archive.sources.keys() - archive.sources.keys()
    cut = cut_outs(opened, wanted.values(), withheld=withheld, on_progress=on_progress)
    found = {}
    for place, each in wanted.items():
        piece = cut[each]
        if isinstance(piece, NoCutOut):
            found[place] = Pictured(said=piece.why)
        else:
            picture = Picture(
                data=piece.data,
                media_type=piece.media_type,
                says=_says(archive, place),
                width=piece.width_mm,
                height=piece.height_mm,
            )
            found[place] = Pictured(picture=picture, said=piece.note)
    return found


def _without_reasons(pictures: Pictures) -> Pictures:
    return {place: replace(shown, said=shown.said if shown.picture else NOT_SHOWN) for place, shown in pictures.items()}


def _unpictured(archive: Archive, pictures: Pictures) -> Iterator[str]:
    """A sentence for each source and each reason; whoever prints it may know the reason."""
    told = [(place[0], shown.said) for place, shown in pictures.items() if shown.picture is None]
    for source, why in dict.fromkeys(told):
        yield f"No picture of “{archive.sources[source].title}”: {why.rstrip('.')}."


def _says(archive: Archive, place: Shown) -> str:
    source, at, quote = place
    page = f"Page {at.page}" if at.page else "A picture"
    reads = f", where it reads: {quote}" if quote else ""
    return f"{page} of “{archive.sources[source].title}”{reads}"


def descents_behind(archive: Archive, evidence: Evidence) -> Mapping[str, Descended]:
    """What is worth drawing of what the evidence goes back to: where that is more than one source.

    Args:
        archive: on which it was judged.
        evidence: the answer.

    Returns:
        By `component/feature`.
    """
    all_drawn = {
        feature.verdict.feature: feature_descended(archive, evidence.standing, feature.verdict)
        for feature in evidence.features
    }
    return {name: descended for name, descended in all_drawn.items() if len(descended.tree.members) > 1}
