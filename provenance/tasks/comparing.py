"""Compare what came in with all that is held, and write down the pairs that look like copies of one another.

Fingerprints are taken of pages that have none, the indexes of pictures and texts are brought up to date, and each
source that was not compared yet is compared with all others. A pair is written with `ruling: open`, and only where it
tells something: not for two that are known to be tied (one made from the other, or both tied to a third) or to be
issues of one drawing, not for a pair that is on record, whatever was ruled. All of it can be interrupted and goes on
where it stopped.
"""

import hashlib
from collections import Counter
from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import replace

from provenance.likeness.picture_index import PictureIndex
from provenance.likeness.text_likeness import TEXT_METHOD
from provenance.likeness.word_index import WordIndex
from provenance.records.sources import Source
from provenance.reports.compared import Compared, Suspected
from provenance.rules.copy_families import Ties, tied
from provenance.store.likeness_state import LikenessState, comparing_lock, load_state, save_state
from provenance.store.prints_store import LIKENESS
from provenance.store.staging import refused_cleanly
from provenance.tasks.alike import Alike, Seeker
from provenance.tasks.changing import NewRecord, Step, change
from provenance.tasks.fingerprinting import Prints, print_key
from provenance.tasks.held_pictures import HeldPictures
from provenance.tasks.held_texts import HeldTexts
from provenance.tasks.opening import Opened
from provenance.tasks.page_readings import Readings
from provenance.tasks.pair_records import pair_id, pair_record

PICTURES_INDEX = LIKENESS / "pictures"
TEXTS_INDEX = LIKENESS / "texts"

SOURCES_AT_A_TIME = 25
"""After so many sources what was found is written down and remembered."""

Progress = Callable[[str, int, int], None]


def silent(_step: str, _done: int, _total: int) -> None:
    """Say nothing."""


def compare(
    opened: Opened,
    readings: Readings,
    *,
    by: str,
    today: str,
    workers: int | None = None,
    afresh: Collection[str] = (),
    on_progress: Progress = silent,
) -> Compared:
    """Compare every source that was not compared yet, as it is now, with all others.

    Args:
        opened: the archive.
        readings: of its pages.
        by: an id of `people`, who stands in the records of the pairs.
        today: the date that they carry.
        workers: how many pages are looked at at a time; None for one a core.
        afresh: sources that are compared once more, and no others: what tied them to others may hold no longer.
        on_progress: told how far it is.

    Raises:
        WriteRefusedError: a record, or derived data, cannot be written; what was found so far stays.
    """
    prints = Prints(readings)
    looked_at = sorted(afresh) or sorted(readings.archive.sources)
    taken = prints.take_missing(looked_at, workers=workers, on_progress=on_progress)
    held = HeldPictures(readings, prints), HeldTexts(readings)
    with comparing_lock(opened.folder):
        run = _compared(opened, readings, held, signed=(by, today), afresh=afresh, on_progress=on_progress)
    return replace(run.compared, failed=taken.failed, unread=taken.unread)


def _compared(
    opened: Opened,
    readings: Readings,
    held: tuple[HeldPictures, HeldTexts],
    *,
    signed: tuple[str, str],
    afresh: Collection[str],
    on_progress: Progress,
) -> "_Run":
    """Bring the indexes up to date, compare what is due, and write down what is found as it goes."""
    state = load_state(opened.folder)
    indexes = update_indexes(opened, held, readings, state, on_progress)
    run = _Run(opened, state, by=signed[0], today=signed[1])
    seeker = Seeker(readings, held, indexes, run.ties.family)
    waiting = [source for source in _in_order(readings) if _is_due(source, held, state, afresh)]
    for done, source in enumerate(waiting, start=1):
        run.take_in(source, seeker.seek(source, run.is_settled(source.id)))
        state.compared[source.id] = _digest(source, held)
        if done % SOURCES_AT_A_TIME == 0 or done == len(waiting):
            run.write()
        on_progress("seeking", done, len(waiting))
    return run


def update_indexes(
    opened: Opened,
    held: tuple[HeldPictures, HeldTexts],
    readings: Readings,
    state: LikenessState,
    on_progress: Progress = silent,
) -> tuple[PictureIndex, WordIndex]:
    """Bring both indexes up to date with what is held now; only one may do so at a time.

    Raises:
        WriteRefusedError: the disk refuses.
    """
    pictures, words = PictureIndex(opened.folder / PICTURES_INDEX), WordIndex(opened.folder / TEXTS_INDEX)
    _update_pictures(pictures, held[0], state)
    with refused_cleanly(opened.folder / TEXTS_INDEX):
        _update_texts(words, held[1], readings, on_progress)
    save_state(opened.folder, state)
    return pictures, words


def _update_texts(index: WordIndex, held: HeldTexts, readings: Readings, on_progress: Progress) -> None:
    """Add the texts that the index lacks, and drop those that are held no longer or say something else now."""
    index.drop(index.keys - held.by_key.keys())
    missing = sorted(held.by_key.keys() - index.keys)
    if missing:
        index.add((key, held.by_key[key].text(readings)) for key in _told(missing, on_progress))


def _told(keys: Sequence[str], on_progress: Progress) -> Iterable[str]:
    for done, key in enumerate(keys, start=1):
        yield key
        on_progress("taking in", done, len(keys))


def _update_pictures(index: PictureIndex, held: HeldPictures, state: LikenessState) -> None:
    """Add the pictures of pages that the index lacks, and drop those of pages that are held no longer."""
    method, present = print_key(), index.keys
    sound = {
        page: entry
        for page, entry in state.pages.items()
        if page in held.pages and entry[0] == method and all(f"{page}/{n}" in present for n in range(entry[1]))
    }
    index.drop(key for key in present if key.rpartition("/")[0] not in sound)
    added = {page: held.on_page(page) for page in sorted(held.pages.keys() - sound.keys())}
    index.add(picture for pictures in added.values() for picture in pictures)
    state.pages = sound | {page: (method, len(pictures)) for page, pictures in added.items() if held.is_taken(page)}


def _in_order(readings: Readings) -> list[Source]:
    """The sources that are compared: those entered first come first."""
    sources = [source for source in readings.archive.sources.values() if source.withdrawn is None]
    return sorted(sources, key=lambda source: (str(source.date), source.id))


def _is_due(
    source: Source, held: tuple[HeldPictures, HeldTexts], state: LikenessState, afresh: Collection[str]
) -> bool:
    return source.id in afresh if afresh else state.compared.get(source.id) != _digest(source, held)


def _digest(source: Source, held: tuple[HeldPictures, HeldTexts]) -> str:
    """What a source consists of and how that is compared: when it changes, the source is compared again."""
    pictures, texts = held
    parts = [print_key(), TEXT_METHOD, *pictures.keys_of(source), *(text.key for text in texts.by_source[source.id])]
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()


class _Run:
    """What comes of comparing, source by source."""

    def __init__(self, opened: Opened, state: LikenessState, *, by: str, today: str) -> None:
        self._opened = opened
        self._state = state
        self._by, self._today = by, today
        self._on_record = set(opened.archive.copies)
        self._containers = {source.id: _containers(source, opened) for source in opened.archive.sources.values()}
        self._steps: dict[str, NewRecord] = {}
        self.ties: Ties = tied(opened.archive)
        self._suspected: list[Suspected] = []
        self._written: list[str] = []
        self._counts = Counter[str]()

    @property
    def compared(self) -> Compared:
        """What came of it so far."""
        return Compared(
            sources=self._counts["sources"],
            suspected=tuple(self._suspected),
            implied=self._counts["implied"],
            written=tuple(self._written),
        )

    def is_settled(self, source: str) -> Callable[[str], bool]:
        """Whether there is nothing to be asked about a source and another."""

        def settled(other: str) -> bool:
            return (
                other == source
                or pair_id(source, other) in self._on_record
                or other in self._containers.get(source, ())
                or source in self._containers.get(other, ())
                or self._are_issues_of_one(source, other)
                or self.ties.are_tied(source, other)
            )

        return settled

    def _are_issues_of_one(self, one: str, other: str) -> bool:
        """Whether the one is on record as the next issue of the other: that they look alike is no news."""
        sources = self._opened.archive.sources
        replaced = {sources[each].replaces for each in (one, other) if each in sources}
        return one in replaced or other in replaced

    def take_in(self, source: Source, found: Iterable[Alike]) -> None:
        """Note the pairs that tie a source to all that it looks like; the others follow from them."""
        settled = self.is_settled(source.id)
        self._counts["sources"] += 1
        for alike in found:
            if settled(alike.other if alike.source == source.id else alike.source):
                self._counts["implied"] += 1
                continue
            pair, pages = pair_id(alike.source, alike.other), (alike.here.page, alike.there.page)
            self._steps[pair] = pair_record(alike, by=self._by, today=self._today)
            self._on_record.add(pair)
            self.ties.tie(alike.source, alike.other, method=alike.method, pages=pages)
            match = alike.match
            self._suspected.append(
                Suspected(source=alike.source, other=alike.other, method=alike.method, score=match.score, why=match.why)
            )

    def write(self) -> None:
        """Write what was noted, and remember how far the comparing is."""
        steps, self._steps = self._steps, {}
        if steps:

            def plan(opened: Opened) -> Sequence[Step]:
                return [step for pair, step in sorted(steps.items()) if pair not in opened.archive.copies]

            self._written += change(self._opened.folder, plan)
        save_state(self._opened.folder, self._state)


def _containers(source: Source, opened: Opened) -> frozenset[str]:
    """The sources that one is kept within, and those within which they are kept."""
    found: set[str] = set()
    while source.within and source.within.source in opened.archive.sources and source.within.source not in found:
        found.add(source.within.source)
        source = opened.archive.sources[source.within.source]
    return frozenset(found)
