"""What people call the kinds of source, and how one source was made from another."""

from collections.abc import Callable, Mapping

from provenance.records.kinds import Derivation, SourceKind
from provenance.records.sources import Source
from provenance.records.wording import fold_wording

_KINDS: Mapping[SourceKind, tuple[str, str]] = {
    SourceKind.PHOTOGRAPH: ("photograph", "photographs"),
    SourceKind.FILM: ("film", "films"),
    SourceKind.ARTEFACT: ("piece", "surviving pieces"),
    SourceKind.SURVEY: ("survey", "surveys"),
    SourceKind.ANALYSIS: ("analysis", "analyses"),
    SourceKind.DRAWING: ("drawing", "drawings"),
    SourceKind.SPECIFICATION: ("specification", "specifications"),
    SourceKind.MANUAL: ("manual", "manuals"),
    SourceKind.CATALOGUE: ("catalogue", "catalogues"),
    SourceKind.LOGBOOK: ("logbook", "logbooks"),
    SourceKind.REPORT: ("report", "reports"),
    SourceKind.LETTER: ("letter", "letters"),
    SourceKind.NEWSPAPER: ("newspaper", "newspapers"),
    SourceKind.ORAL_HISTORY: ("recollection", "recollections"),
    SourceKind.BOOK: ("book", "books"),
    SourceKind.OPINION: ("opinion", "opinions"),
    SourceKind.ARTWORK: ("work of art", "works of art"),
    SourceKind.NOTES: ("notes", "notes"),
    SourceKind.SCALE_MODEL: ("scale model", "scale models"),
    SourceKind.MODEL_3D: ("computer model", "computer models"),
    SourceKind.WEBSITE: ("website", "websites"),
}

_MADE: Mapping[Derivation, str] = {
    Derivation.FACSIMILE: "is a facsimile of",
    Derivation.PRINT: "is a print of",
    Derivation.CROP: "is a part of",
    Derivation.SCAN: "is a scan of",
    Derivation.RECORDING: "is a recording of",
    Derivation.TRANSCRIPTION: "is a transcription of",
    Derivation.TRANSLATION: "is a translation of",
    Derivation.EXTRACT: "is an extract from",
    Derivation.CITES: "takes it from",
    Derivation.REDRAWN: "was redrawn from",
    Derivation.CAST: "was cast from",
    Derivation.MEASURED_FROM: "was measured from",
    Derivation.SCALED_FROM: "was scaled from",
    Derivation.ENHANCED: "was made clearer from",
}


def kind_in_words(kind: SourceKind, *, several: bool = False) -> str:
    """Name a kind of source as people do: recollection, surviving pieces."""
    one, many = _KINDS[kind]
    return many if several else one


def made_in_words(source: Source, parent: str) -> str | None:
    """Say how a source was made from a parent, such as `is a print of`; None where it was not made from that one."""
    return next((derivation_in_words(each.how) for each in source.derives_from if each.source == parent), None)


def derivation_in_words(how: Derivation) -> str:
    """Say how one source was made from another, such as `is a print of`."""
    return _MADE[how]


def introducer(sources: Mapping[str, Source]) -> Callable[[str], str]:
    """Give what introduces a source: the photograph “No. 9 at the works”; its title alone where that names its kind."""

    def introduce(source_id: str) -> str:
        source = sources.get(source_id)
        if source is None:
            return f"“{source_id}”"
        kind = kind_in_words(source.kind) if source.kind is not None else ""
        said = kind in fold_wording(source.title)
        return f"“{source.title}”" if said else f"the {kind} “{source.title}”"

    return introduce
