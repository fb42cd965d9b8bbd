"""Flags about sources: not tagged, not read, not transcribed, doubtfully read, damaged, due back, or not cleared."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from provenance.records.archive import Archive
from provenance.records.claims import Claim, EvidenceItem
from provenance.records.dates import Day
from provenance.records.kinds import Publish
from provenance.records.sources import Loan, Source
from provenance.records.wording import fold_wording
from provenance.rules.findings import DoubtfulWords, Findings, UnreadPage, Untranscribed
from provenance.rules.flag_values import Flag, Level
from provenance.rules.sentences import counted, listed

_SOON_DAYS = 30
"""How many days ahead a loan that falls due is named: common practice, no source."""

_UNREAD_MEND = (
    "`provenance rebuild` reads what was not read yet; where it cannot, type what stands there into a transcript, or "
    "get a better scan"
)
_IN_PART_MEND = "look at the page, and type what it says into a transcript, or get a better scan"

Cited = Mapping[str, tuple[tuple[Claim, EvidenceItem], ...]]


def source_flags(archive: Archive, findings: Findings, today: Day | None) -> Iterator[Flag]:
    """Raise the flags about all sources of an archive.

    Args:
        archive: the archive.
        findings: what was found on disk.
        today: None: neither loans nor permissions that run out are looked at.
    """
    cited = _cited(archive)
    shown = _sources_of_panels(archive)
    for source_id in sorted(archive.sources):
        source = archive.sources[source_id]
        if source.withdrawn is None:
            yield from _untagged(source)
            yield from _rights(source, cited, today, on_panel=source_id in shown)
        if source.loan is not None and today is not None:
            yield from _loan(source, source.loan, today)
    yield from _unread(archive, findings.unread or (), cited)
    yield from _untranscribed(archive, findings.untranscribed or (), cited)
    yield from _doubtful(archive, findings.doubtful or (), cited)
    yield from _broken(archive, findings, cited)


def _untagged(source: Source) -> Iterator[Flag]:
    if not source.tagged:
        yield Flag(
            flag="untagged-find",
            severity=Level.NOTE,
            about=source.id,
            sentence=f"Nobody has looked yet at what “{source.title}” is and speaks of.",
            mend=f"look at it, and tag {source.id}",
            sources=(source.id,),
        )


def _rights(source: Source, cited: Cited, today: Day | None, *, on_panel: bool) -> Iterator[Flag]:
    unclear = _why_rights_unclear(source, today)
    if source.id in cited and unclear:
        yield Flag(
            flag="rights-unclear",
            severity=Level.WARN if on_panel else Level.NOTE,
            about=source.id,
            sentence=f"“{source.title}” is used as evidence, but {unclear}"
            + (", and a panel speaks of what it shows." if on_panel else "."),
            mend=f"ask {_whom_to_ask(source)}, and enter the answer under rights",
            claims=_claims(cited, source.id),
            sources=(source.id,),
        )


def _why_rights_unclear(source: Source, today: Day | None) -> str:
    rights = source.rights
    if rights is None:
        return "nothing is entered about its rights"
    permission = rights.permission
    if permission is not None and permission.until is not None and permission.until.latest is not None:
        ended = today is not None and permission.until.latest < today
        if ended and rights.publish is not Publish.REFUSED:
            return f"the permission to publish it ended ({permission.until})"
    if rights.publish is None:
        return "it is not said whether it may be published"
    if rights.publish is Publish.ASK and permission is None:
        return "permission to publish it has still to be asked for"
    return ""


def _whom_to_ask(source: Source) -> str:
    return (source.rights.holder if source.rights else None) or source.holder or "whoever holds the rights"


def _loan(source: Source, loan: Loan, today: Day) -> Iterator[Flag]:
    if loan.returned is not None or loan.due is None or loan.due.earliest is None or loan.due.latest is None:
        return
    overdue = loan.due.latest < today
    if overdue or loan.due.earliest.ordinal - _SOON_DAYS <= today.ordinal:
        said = f"was due back on {loan.due}" if overdue else f"is due back on {loan.due}"
        yield Flag(
            flag="loan-due",
            severity=Level.WARN if overdue else Level.NOTE,
            about=source.id,
            sentence=f"“{source.title}” is on loan from {loan.owner} and {said}.",
            mend="send it back and enter the date under loan.returned, or agree on a later date",
            sources=(source.id,),
        )


def _unread(archive: Archive, unread: Iterable[UnreadPage], cited: Cited) -> Iterator[Flag]:
    alike: dict[tuple[str, bool], list[UnreadPage]] = defaultdict(list)
    for page in unread:
        alike[page.source, page.is_in_part].append(page)
    for (source_id, is_in_part), found in sorted(alike.items()):
        pages = sorted({page.page for page in found if page.page is not None})
        what = f"{listed([str(page) for page in pages], shown=8)} of " if pages else ""
        what = f"{'Page' if len(pages) == 1 else 'Pages'} {what}" if pages else ""
        reasons = list(dict.fromkeys(page.why for page in found))
        were = "was" if len(pages) == 1 else "were"
        outcome = f"{were} read only in part" if is_in_part else "could not be read"
        yield Flag(
            flag="unread-page",
            severity=Level.WARN,
            about=source_id,
            sentence=f"{what}{_title(archive, source_id)} {outcome}: {listed(reasons)}.",
            mend=_IN_PART_MEND if is_in_part else _UNREAD_MEND,
            claims=_claims(cited, source_id),
            sources=(source_id,),
        )


def _untranscribed(archive: Archive, found: Iterable[Untranscribed], cited: Cited) -> Iterator[Flag]:
    """Nobody can look up, or check, what is said on a recording; that presses once a claim rests on it."""
    by_source: dict[str, list[Untranscribed]] = defaultdict(list)
    for recording in found:
        by_source[recording.source].append(recording)
    for source_id in sorted(by_source):
        recordings = by_source[source_id]
        claims = _claims(cited, source_id)
        rests = f"; {counted(len(claims), 'claim rests', 'claims rest')} on it" if claims else ""
        yield Flag(
            flag="not-transcribed",
            severity=Level.WARN if claims else Level.NOTE,
            about=source_id,
            sentence=f"Nobody has written down yet what is said on {_title(archive, source_id)} "
            f"({listed([each.recording for each in recordings], shown=4)}){rests}.",
            mend=f"write down what is said, with its times, as WebVTT in {recordings[0].transcript}; "
            "where nothing is said, say so there in a NOTE",
            claims=claims,
            sources=(source_id,),
        )


@dataclass(frozen=True, slots=True)
class _Doubt:
    page: int
    words: tuple[str, ...]
    claims: tuple[str, ...]


def _doubtful(archive: Archive, doubtful: Iterable[DoubtfulWords], cited: Cited) -> Iterator[Flag]:
    by_source: dict[str, list[_Doubt]] = defaultdict(list)
    for found in doubtful:
        doubt = _doubt_that_matters(found, cited.get(found.source, ()))
        if doubt.words:
            by_source[found.source].append(doubt)
    for source_id in sorted(by_source):
        doubts = sorted(by_source[source_id], key=lambda doubt: doubt.page)
        claims = tuple(sorted({claim for doubt in doubts for claim in doubt.claims}))
        words = listed([f"“{word}”" for doubt in doubts for word in doubt.words], shown=6)
        pages = sorted({doubt.page for doubt in doubts})
        where = f"{'page' if len(pages) == 1 else 'pages'} {listed([str(page) for page in pages], shown=8)}"
        rests = f"; {counted(len(claims), 'claim rests', 'claims rest')} on what stands there" if claims else ""
        yield Flag(
            flag="doubtful-reading",
            severity=Level.WARN if claims else Level.NOTE,
            about=source_id,
            sentence=f"The reading of {_title(archive, source_id)}, {where}, is doubtful at {words}{rests}.",
            mend="compare it with the page, and type what it says into a transcript",
            claims=claims,
            sources=(source_id,),
        )


def _doubt_that_matters(found: DoubtfulWords, cited: Iterable[tuple[Claim, EvidenceItem]]) -> _Doubt:
    """Where a page is cited with its words, only the words of the quotations matter; else all of them do."""
    here = [(claim, item) for claim, item in cited if item.at.page == found.page]
    if not here or any(item.quote is None for _, item in here):
        return _Doubt(found.page, found.words, tuple(claim.id for claim, _ in here))
    quoted = {claim.id: set(fold_wording(item.quote or "").split()) for claim, item in here}
    words = tuple(word for word in found.words if any(fold_wording(word) in quote for quote in quoted.values()))
    touched = [claim for claim, quote in quoted.items() if any(fold_wording(word) in quote for word in words)]
    return _Doubt(found.page, words, tuple(touched))


def _broken(archive: Archive, findings: Findings, cited: Cited) -> Iterator[Flag]:
    for fault in findings.fixity or ():
        yield Flag(
            flag="fixity-broken",
            severity=Level.STOP,
            about=fault.source,
            sentence=f"{fault.path} of {_title(archive, fault.source)} is not as it was received: {fault.why}.",
            mend="put the file back from the copy in git or from a backup; never correct its checksum",
            claims=_claims(cited, fault.source),
            sources=(fault.source,),
        )


def _cited(archive: Archive) -> Cited:
    cited: dict[str, list[tuple[Claim, EvidenceItem]]] = defaultdict(list)
    for claim_id in sorted(archive.claims):
        claim = archive.claims[claim_id]
        for item in claim.evidence:
            if claim.withdrawn is None and item.withdrawn is None:
                cited[item.source].append((claim, item))
    return {source: tuple(items) for source, items in cited.items()}


def _sources_of_panels(archive: Archive) -> frozenset[str]:
    features = {
        feature for panel in archive.panels.values() for statement in panel.statements for feature in statement.features
    }
    claims = [claim for feature in features for claim in archive.claims_by_feature.get(feature, ())]
    return frozenset(item.source for claim in claims for item in claim.evidence)


def _claims(cited: Cited, source_id: str) -> tuple[str, ...]:
    return tuple(sorted({claim.id for claim, _ in cited.get(source_id, ())}))


def _title(archive: Archive, source_id: str) -> str:
    source = archive.sources.get(source_id)
    return f"“{source.title}”" if source else source_id
