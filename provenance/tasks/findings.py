"""Look at what only the disk knows: pages not read, recordings not transcribed, doubtful words, changed originals."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path

from provenance.records.archive import Archive
from provenance.records.claims import EvidenceItem
from provenance.records.readings import IN_PART_FROM, Origin, Word, doubtful_words
from provenance.records.recordings import is_recording
from provenance.records.regions import RegionUnit
from provenance.records.sources import Source
from provenance.rules.findings import DoubtfulWords, Findings, FixityFault, UnreadPage
from provenance.store.fixity import FixityState, check_fixity
from provenance.tasks.opening import Opened
from provenance.tasks.page_readings import Readings, SourcePage, pages_of
from provenance.tasks.recordings import untranscribed

LEFT_OUT = "a quarter of what looks like text, or more, is not among the words that were read"
NOT_OPENED = "the file could not be opened, or is of a kind that is not read"


def look(opened: Opened, *, digests: bool = False, on_progress: Callable[[int, int], None] | None = None) -> Findings:
    """Look at everything that judgement cannot know by itself.

    Args:
        opened: the archive.
        digests: read every original and compare its digest; without it fixity counts as not looked for.
        on_progress: told how many originals are done, and of how many.
    """
    readings = Readings(opened.folder, opened.archive)
    return Findings(
        unread=tuple(_unread(readings)),
        untranscribed=tuple(untranscribed(opened.folder, opened.archive.sources.values())),
        doubtful=look_at_quotes(readings, opened.archive.features),
        fixity=_changed(opened.folder, opened.archive, on_progress) if digests else None,
    )


def _unread(readings: Readings) -> Iterator[UnreadPage]:
    for source in readings.archive.sources.values():
        yield from _unopened(source)
        for page in pages_of(source):
            key = readings.key_of(page)
            if key is None and readings.transcript_of(page) is None:
                yield UnreadPage(source=source.id, page=page.page, why=why_unread(readings, page))
            elif key is not None and _is_in_part(readings, page, key) and readings.transcript_of(page) is None:
                yield UnreadPage(source=source.id, page=page.page, why=LEFT_OUT, is_in_part=True)


def _is_in_part(readings: Readings, page: SourcePage, key: str) -> bool:
    uncovered = readings.store.uncovered(page.file.sha256, page.in_file, key)
    return uncovered is not None and uncovered >= IN_PART_FROM


def why_unread(readings: Readings, page: SourcePage) -> str:
    """Why a page has no reading: what became of it when it was tried, else that it was not."""
    failed = readings.failure_of(page)
    if failed is not None:
        return failed.why
    here = (readings.folder / page.file.path).exists()
    return "no reading of it is kept" if here else "its original is not here"


def _unopened(source: Source) -> Iterator[UnreadPage]:
    for file in source.files:
        if file.pages is None and not is_recording(file.media_type):
            yield UnreadPage(source=source.id, page=None, why=f"{Path(file.path).name}: {NOT_OPENED}")


def look_at_quotes(readings: Readings, features: Iterable[str]) -> tuple[DoubtfulWords, ...]:
    """The words of quotations about these features that the recogniser was not sure of.

    Only quotations are looked at: no claim rests on the other words of a page. A page with a person's transcript has
    no doubtful words.
    """
    quotes: dict[tuple[str, int], list[EvidenceItem]] = defaultdict(list)
    for item in _items(readings.archive, features):
        if item.quote and item.at.page is not None:
            quotes[item.source, item.at.page].append(item)
    found = []
    for (source, page), items in sorted(quotes.items()):
        words = _doubtful_on(readings, source, page, items)
        if words:
            found.append(DoubtfulWords(source=source, page=page, words=words))
    return tuple(found)


def _items(archive: Archive, features: Iterable[str]) -> Iterator[EvidenceItem]:
    for feature in features:
        for claim in archive.claims_by_feature.get(feature, ()):
            yield from claim.evidence


def _doubtful_on(readings: Readings, source: str, number: int, items: Sequence[EvidenceItem]) -> tuple[str, ...]:
    record = readings.archive.sources.get(source)
    page = next((page for page in pages_of(record, readings.archive) if page.page == number), None) if record else None
    reading = readings.words_of(page) if page else None
    if reading is None or reading.origin is not Origin.RECOGNISED:
        return ()
    doubtful = (word for word in doubtful_words(reading) if any(_quotes(item, word) for item in items))
    return tuple(dict.fromkeys(word.text for word in doubtful))


def _quotes(item: EvidenceItem, word: Word) -> bool:
    """Whether a word as read belongs to an item's quotation: one of its words, in its region where it names one."""
    if _bare(word.text) not in {_bare(quoted) for quoted in (item.quote or "").split()}:
        return False
    region = item.at.region
    if region is None or region.unit is not RegionUnit.PERCENT or word.box is None:
        return True
    x, y = word.box.x + word.box.w / 2, word.box.y + word.box.h / 2
    return region.x <= x <= region.x + region.w and region.y <= y <= region.y + region.h


def _bare(word: str) -> str:
    return "".join(letter for letter in word.casefold() if letter.isalnum())


def _changed(folder: Path, archive: Archive, on_progress: Callable[[int, int], None] | None) -> tuple[FixityFault, ...]:
    findings = check_fixity(folder, archive.sources.values(), read=True, on_progress=on_progress)
    return tuple(
        FixityFault(source=finding.source, path=finding.path, why=finding.why)
        for finding in findings
        if finding.state not in {FixityState.PRESENT, FixityState.NOT_HERE}
    )
