"""What nobody has looked at yet, and what it may speak of."""

import re
from collections.abc import Iterator, Mapping
from statistics import fmean

from provenance.pages.cut_outs import has_pieces
from provenance.records.archive import Archive
from provenance.records.kinds import Ruling
from provenance.records.sources import Source
from provenance.reports.looked_over import Find, Finds, SuspectedCopy
from provenance.rules.mentions import dates_in, examples_in
from provenance.rules.suggesting import Namings, PageText
from provenance.tasks.batches import lots_in
from provenance.tasks.opening import Opened
from provenance.tasks.page_readings import Readings, pages_of
from provenance.tasks.recordings import shown_text, transcripts_of


def look_over_finds(opened: Opened) -> Finds:
    """Look over everything that is untagged and not withdrawn."""
    readings = Readings(opened.folder, opened.archive)
    namings = Namings(opened.archive)
    waiting = [source for source in opened.archive.sources.values() if not (source.tagged or source.withdrawn)]
    waiting.sort(key=lambda source: (sorted(_lots(source).items()), source.id))
    return Finds(standing=opened.standing, finds=tuple(_find(source, readings, namings) for source in waiting))


def _lots(source: Source) -> Mapping[str, int]:
    return lots_in(entry.note for entry in source.acquired)


def _find(source: Source, readings: Readings, namings: Namings) -> Find:
    archive = readings.archive
    pages = list(pages_of(source, archive))
    read = [words for page in pages if (words := readings.words_of(page)) is not None]
    texts = texts_of(source, readings)
    confidences = [words.confidence for words in read if words.confidence is not None]
    whole = "\n".join(page.text for page in texts)
    seen = pages[0] if pages and has_pieces(pages[0].file.media_type) else None
    kind = archive.subject.kind if archive.subject and archive.subject.kind else ""
    return Find(
        source=source.id,
        title=source.title,
        files=tuple(dict.fromkeys(file.path for file in (*source.files, *(page.file for page in pages)))),
        pages=len(pages) if source.within else source.pages,
        reading_confidence=round(fmean(confidences), 1) if confidences else None,
        lots=tuple(_lots(source)),
        suggested_components=namings.suggest(texts),
        suspected_copies=tuple(_suspected(source, archive)),
        dates=dates_in(whole),
        examples=examples_in(whole, archive.production, kind),
        pictured=seen.page if seen else None,
        digest=seen.file.sha256 if seen else "",
    )


def texts_of(source: Source, readings: Readings) -> list[PageText]:
    """All that is written of a source and read on it, for what it names: its title, its pages, what is said on it."""
    told = ((page.page, readings.words_of(page)) for page in pages_of(source, readings.archive))
    spoken = transcripts_of(readings.folder, source)
    return [
        PageText(None, f"{source.title}\n{source.note or ''}"),
        *(PageText(page, words.text) for page, words in told if words is not None),
        *(PageText(f"the transcript {each.name}", shown_text(each.timed.blocks)) for each in spoken),
    ]


def _suspected(source: Source, archive: Archive) -> Iterator[SuspectedCopy]:
    """The pairs with it that nobody has ruled on."""
    for pair in archive.copies.values():
        if source.id in pair.between and pair.ruling is Ruling.OPEN:
            other = next(each for each in pair.between if each != source.id)
            kind, score = (pair.found_by.method, _figure(pair.found_by.score)) if pair.found_by else ("", None)
            yield SuspectedCopy(source=other, kind=kind, score=score, why=pair.why or "somebody noted it")


def _figure(score: str | None) -> float | None:
    """A score that is a plain figure; None for another."""
    return float(score) if score and re.fullmatch(r"[0-9]+(\.[0-9]+)?", score) else None
