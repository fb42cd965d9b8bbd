"""The register of sources: each one that may be shown, with where it comes from and how far it is to be trusted."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping

from provenance.records.kinds import Access, Derivation, KnownBy, Publish, SourceKind
from provenance.records.sources import Shows, Source
from provenance.reports.date_words import date_words
from provenance.reports.layout import counted
from provenance.reports.registers import (
    NOT_LOOKED_AT,
    Occasion,
    RegisterHead,
    SourceRegister,
    SourceRow,
    meaning_of_the_object,
    meaning_of_what_is_struck_out,
    sentences_about,
)
from provenance.rules.cautions import cautions_for
from provenance.rules.public_values import HELD_PRIVATELY, PublicArchive
from provenance.rules.rights_statements import statement_words
from provenance.rules.source_words import derivation_in_words, kind_in_words

RELIABILITY = {
    "A": "completely reliable",
    "B": "usually reliable",
    "C": "fairly reliable",
    "D": "not usually reliable",
    "E": "unreliable",
    "F": "its reliability cannot be judged",
}
"""What each letter means in AJP-2.1, as public taxonomies of it give them."""

_MEANINGS = (
    (
        "Cleared for print",
        "whether the source itself may be published beside a panel; here nothing of it is quoted or shown",
    ),
    ("Features that cite it", "how many of the features of the register of features rest on it, or have it against"),
    ("Reliability", "how far the source is to be trusted by itself, from A, completely, to E, not at all; F: unknown"),
    ("Record", "the name of its record in the archive; numbers change when sources are added, that name does not"),
    ("Language", "a tag of BCP 47, such as en for English or de for German"),
    ("An empty cell", "nothing is recorded"),
)
_ALTERED = {
    "retouched": "retouched",
    "censored": "parts of it were made unreadable by a censor",
    "reversed": "printed the wrong way round",
    "coloured": "coloured later",
}
_KNOWN_BY = {
    KnownBy.NUMBER: "known by its number",
    KnownBy.CAPTION: "known by a caption",
    KnownBy.LIKENESS: "known by likeness",
}
_SECONDARY = frozenset({SourceKind.BOOK, SourceKind.WEBSITE, SourceKind.NOTES, SourceKind.NEWSPAPER})
_PUBLISH = {
    None: "no: nothing is settled yet",
    Publish.ASK: "no: permission has still to be asked for",
    Publish.REFUSED: "no: its publication was refused",
}


def compose_source_register(view: PublicArchive, occasion: Occasion, *, judged: bool = True) -> SourceRegister:
    """Compose the register of sources.

    Args:
        view: the archive as the public sees it.
        occasion: for what it is made.
        judged: whether the archive says what it represents, so that evidence could be judged.
    """
    listed = [view.archive.sources[each] for each in sorted(view.archive.sources) if _is_listed(view, each)]
    cited = _citing(view)
    rows = tuple(_row(view, number, source, cited, judged=judged) for number, source in enumerate(listed, 1))
    head = RegisterHead(
        title=f"Register of sources: {view.archive.title}",
        day=view.date,
        draft=occasion.draft,
        about=(*sentences_about(view, occasion), *_sentences(rows, listed, judged=judged)),
        cautions=cautions_for(view.archive, (hazard for source in listed for hazard in source.hazards)),
        meanings=(*meaning_of_the_object(view), *_MEANINGS, *meaning_of_what_is_struck_out(rows)),
        held_privately=occasion.held_privately,
    )
    return SourceRegister(head=head, rows=rows)


def _is_listed(view: PublicArchive, source_id: str) -> bool:
    """Whether it is a source that may be shown; what stands without a name behind one is not."""
    return view.archive.sources[source_id].access is Access.OPEN


def _sentences(rows: tuple[SourceRow, ...], listed: Iterable[Source], *, judged: bool) -> Iterator[str]:
    yield f"It lists {counted(len(rows), 'source')}, in the order of the records' names."
    untagged = sum(not source.tagged for source in listed)
    if untagged:
        finds = "One of them is a find" if untagged == 1 else f"{untagged} of them are finds"
        yield f"{finds} that nobody has looked at yet."
    if not judged:
        yield "The archive does not say yet what it represents, so nothing is judged, and no citing is counted."


def _citing(view: PublicArchive) -> Counter[str]:
    """How many features have evidence from each source."""
    cited: Counter[str] = Counter()
    for verdict in view.verdicts.values():
        cited.update({item.source for candidate in verdict.candidates for item in candidate.items})
    return cited


def _row(view: PublicArchive, number: int, source: Source, cited: Mapping[str, int], *, judged: bool) -> SourceRow:
    rights = source.rights
    return SourceRow(
        number=number,
        record=source.id,
        title=source.title,
        kind=_kind(source),
        created=date_words(source.created) if source.created else "",
        creator=view.creators.get(source.id, ""),
        holder=source.holder or "",
        reference=source.reference or "",
        language=", ".join(source.language),
        issue=source.issue or "",
        replaces=_named(view, source.replaces) if source.replaces else "",
        made_from="; ".join(_made_from(view, source)),
        within=_within(view, source),
        shows="; ".join(_shown(view, each) for each in source.shows if not _tells_only_of_a_look(each)),
        reliability=_reliability(source),
        statement=statement_words(rights.statement) if rights and rights.statement else "",
        credit=(rights.credit if rights else None) or "",
        cleared=_cleared(view, source),
        cited_by=str(cited[source.id]) if judged else "",
        hazards=", ".join(source.hazards),
        remarks="; ".join(_remarks(source)),
        entered=date_words(source.date),
    )


def _kind(source: Source) -> str:
    if not source.tagged:
        return NOT_LOOKED_AT if source.kind is None else f"{kind_in_words(source.kind)}, {NOT_LOOKED_AT}"
    return kind_in_words(source.kind) if source.kind else ""


def _named(view: PublicArchive, source_id: str) -> str:
    """Another source by its title and record, where it may be shown."""
    if not _is_listed(view, source_id):
        return HELD_PRIVATELY
    return f"“{view.archive.sources[source_id].title}” ({source_id})"


def _made_from(view: PublicArchive, source: Source) -> Iterator[str]:
    for each in source.derives_from:
        how = "cites" if each.how is Derivation.CITES else derivation_in_words(each.how)
        yield f"{how} {_named(view, each.source)}"


def _within(view: PublicArchive, source: Source) -> str:
    within = source.within
    if within is None:
        return ""
    pages = within.pages
    where = "" if pages is None else f", page {pages}" if pages.first == pages.last else f", pages {pages}"
    return f"{_named(view, within.source)}{where}"


def _tells_only_of_a_look(shown: Shows) -> bool:
    """Whether an entry names no machine but a component: by its note, which is the team's, somebody looked for it."""
    return shown.component is not None and shown.example is None and shown.when is None


def _shown(view: PublicArchive, shown: Shows) -> str:
    part = view.archive.components.get(shown.component or "")
    told = [
        f"No. {shown.example}" if shown.example is not None else "a machine, it is not known which",
        f"its {part.name[:1].lower()}{part.name[1:]}" if part else "",
        date_words(shown.when) if shown.when else "",
        _KNOWN_BY[shown.known_by] if shown.known_by else "",
    ]
    return ", ".join(each for each in told if each)


def _reliability(source: Source) -> str:
    if source.reliability is None:
        return ""
    why = f": {source.reliability_why}" if source.reliability_why else ""
    return f"{source.reliability}, {RELIABILITY[source.reliability]}{why}"


def _cleared(view: PublicArchive, source: Source) -> str:
    missing = view.not_cleared.get(source.id)
    if missing is None:
        return "yes"
    publish = source.rights.publish if source.rights else None
    return f"no: {missing.why}" if publish is Publish.ALLOWED else _PUBLISH[publish]


def _remarks(source: Source) -> Iterator[str]:
    if source.executed is False:
        yield "a design that was never built"
    if source.altered:
        yield _ALTERED.get(source.altered, source.altered)
    if source.process:
        yield f"in {source.process}"
    if source.occasion:
        yield f"taken on the occasion of: {source.occasion}"
    if source.kind in _SECONDARY:
        yield "says where its facts come from" if source.origin_stated else "does not say where its facts come from"
