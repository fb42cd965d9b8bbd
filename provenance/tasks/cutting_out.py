"""The pieces of pages and photographs that show what items of evidence say: cut out in workers, and kept."""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import closing, suppress
from dataclasses import dataclass, field, replace
from typing import TypeAlias

from provenance.errors import WriteRefusedError
from provenance.pages.cut_outs import MOST_PIXELS, CutJob, CutOut, Part, cut_key
from provenance.records.claims import At
from provenance.records.regions import common_part
from provenance.store.cut_outs_store import CutOutsStore, KeptCut
from provenance.tasks.opening import Opened
from provenance.tasks.page_readings import Readings, SourcePage
from provenance.tasks.places_to_show import NothingToShowError, PlacesToShow, ShownPlace
from provenance.workers.outcomes import Fault, FaultKind, Outcome
from provenance.workers.running import run_in_workers

PAGE_SECONDS = 60.0
"""What cutting pieces out of one page may take; 70 million pixels take about a second."""

PAGE_BYTES = 1_500_000_000
"""The memory that it may take: a page decoded, which may have 850 million bytes, and room beside it."""

_BY_QUOTATION = "the lines that are quoted, found by their words"
_BESIDE = "that part of the page is none of the source"
_NOT_FOUND = "where on it the quoted words stand is not known"


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is to be shown.

    Attributes:
        source: the id of the source.
        at: the place in it, as the item of evidence names it.
        quote: what the item quotes: where no region is named, its lines are looked for; None for nothing quoted.
        is_bare: whether the region alone is shown, without angles and with nothing beside it, so that marks can be
            laid over it.
        most: the longer side of the picture at most, in pixels.
    """

    source: str
    at: At = field(default_factory=At)
    quote: str | None = None
    is_bare: bool = False
    most: int = MOST_PIXELS


@dataclass(frozen=True, slots=True, kw_only=True)
class NoCutOut:
    """That there is nothing to show.

    Attributes:
        why: for people; it ends a sentence, such as `it is a text, of which there is no picture`.
    """

    why: str


_Place: TypeAlias = tuple[str, int, Part]
"""What tells one piece from others: the digest of its file, the page in it, and the part of that."""


def cut_outs(
    opened: Opened,
    wanted: Iterable[Wanted],
    *,
    withheld: Collection[str] = (),
    workers: int | None = None,
    on_progress: Callable[[str, int, int], None] = lambda _step, _done, _total: None,
) -> Mapping[Wanted, CutOut | NoCutOut]:
    """Cut out what shows each place; what was cut before, of the same bytes in the same way, is taken as it is kept.

    Nothing that is wrong with one place or file costs another. Where derived data cannot be written, the pieces are
    made all the same and not kept.

    Args:
        opened: the archive.
        wanted: the places; one that is named twice is cut once.
        withheld: ids of sources of which nothing may be seen: a piece of a page that they too are kept on is shown
            only where it leaves them out.
        workers: how many pages are opened at a time; None for one a core.
        on_progress: told how many pages were cut from, and of how many.

    Returns:
        For each what shows it, or why nothing does; in the order asked.

    Raises:
        WriteRefusedError: there is no room for the temporary files of a worker.
        DerivedDataError: the system has no room for another process.
    """
    asked = list(dict.fromkeys(wanted))
    places = PlacesToShow(Readings(opened.folder, opened.archive), withheld)
    found = {each: _found(places, each) for each in asked}
    shown = [each for each in found.values() if isinstance(each, ShownPlace)]
    pieces = _Pieces(opened, workers, on_progress).of(shown)
    return {
        each: NoCutOut(why=place) if isinstance(place, str) else _answer(each, place, pieces[_place_of(place)])
        for each, place in found.items()
    }


def cut_before(opened: Opened, wanted: Wanted) -> CutOut | NoCutOut | None:
    """What shows a place, where it is kept, or why nothing can; None where it has first to be cut out.

    Args:
        opened: the archive.
        wanted: the place.
    """
    place = _found(PlacesToShow(Readings(opened.folder, opened.archive)), wanted)
    if isinstance(place, str):
        return NoCutOut(why=place)
    kept = CutOutsStore(opened.folder).get(place.page.file.sha256, place.page.in_file, cut_key(place.part))
    piece = from_kept(kept) if kept else None
    return _answer(wanted, place, piece) if piece else None


def _found(places: PlacesToShow, wanted: Wanted) -> ShownPlace | str:
    try:
        place = places.find(wanted.source, wanted.at, wanted.quote)
    except NothingToShowError as error:
        return str(error)
    part = replace(place.part, most=wanted.most)
    if not wanted.is_bare or part.region is None:
        return replace(place, part=part)
    bare = part.region if part.within is None else common_part(part.region, part.within)
    return replace(place, part=replace(part, region=None, within=bare)) if bare else _BESIDE


def _place_of(place: ShownPlace) -> _Place:
    return place.page.file.sha256, place.page.in_file, place.part


def _answer(wanted: Wanted, place: ShownPlace, piece: CutOut | str) -> CutOut | NoCutOut:
    if isinstance(piece, str):
        return NoCutOut(why=piece)
    if place.is_by_quotation:
        return replace(piece, note=f"{_BY_QUOTATION}, {piece.note}")
    if wanted.quote and place.part.region is None:
        return replace(piece, note=f"{piece.note}; {_NOT_FOUND}")
    return piece


class _Pieces:
    """The pieces of one call: those that are kept, and those that are cut out now."""

    def __init__(self, opened: Opened, workers: int | None, on_progress: Callable[[str, int, int], None]) -> None:
        self._folder = opened.folder
        self._store = CutOutsStore(opened.folder)
        self._workers = workers
        self._on_progress = on_progress
        self._is_kept = True

    def of(self, places: Iterable[ShownPlace]) -> dict[_Place, CutOut | str]:
        """The piece of each place, or why there is none."""
        pages = {_place_of(place): place.page for place in places}
        found: dict[_Place, CutOut | str] = {place: kept for place in pages if (kept := self.kept(place))}
        missing = {place: page for place, page in pages.items() if place not in found}
        return found | dict(self._cut(missing)) if missing else found

    def kept(self, place: _Place) -> CutOut | None:
        """The piece as it was kept; None where it was not."""
        sha256, page, part = place
        kept = self._store.get(sha256, page, cut_key(part))
        return from_kept(kept) if kept else None

    def _cut(self, missing: Mapping[_Place, SourcePage]) -> Iterator[tuple[_Place, CutOut | str]]:
        # What opens pages takes a fifth of a second to import: not where everything is kept.
        from provenance.pages.cutting import cut  # noqa: PLC0415  what opens pages is brought in where it is needed

        jobs = self._jobs(missing)
        for sha256 in {job.sha256 for job in jobs}:
            self._store.clean(sha256)
        outcomes = run_in_workers(cut, jobs, workers=self._workers, seconds_each=PAGE_SECONDS, memory_bytes=PAGE_BYTES)
        with closing(outcomes):
            for done, outcome in enumerate(outcomes, start=1):
                yield from self._taken(outcome)
                self._on_progress("cutting out", done, len(jobs))

    def _jobs(self, missing: Mapping[_Place, SourcePage]) -> list[CutJob]:
        """One job a page, so that each is opened once."""
        parts: dict[tuple[str, int], list[Part]] = {}
        for sha256, page, part in missing:
            parts.setdefault((sha256, page), []).append(part)
        pages = {(sha256, page): held for (sha256, page, _), held in missing.items()}
        return [
            CutJob(
                path=self._folder / pages[place].file.path,
                media_type=pages[place].file.media_type,
                page=pages[place].in_file,
                parts=tuple(of_page),
                sha256=pages[place].file.sha256,
            )
            for place, of_page in parts.items()
        ]

    def _taken(self, outcome: Outcome[CutJob, tuple[CutOut | str, ...]]) -> Iterator[tuple[_Place, CutOut | str]]:
        job = outcome.job
        pieces: Sequence[CutOut | str] = outcome.value or [_why(outcome.fault)] * len(job.parts)
        for part, piece in zip(job.parts, pieces, strict=True):
            if isinstance(piece, CutOut):
                self._keep((job.sha256, job.page, part), piece)
            yield (job.sha256, job.page, part), piece

    def _keep(self, place: _Place, piece: CutOut) -> None:
        """Keep a piece; a disk that has refused once is not asked again."""
        sha256, page, part = place
        if self._is_kept:
            self._is_kept = False
            with suppress(WriteRefusedError):
                self._store.put(sha256, page, cut_key(part), to_kept(piece))
                self._is_kept = True


def _why(fault: Fault | None) -> str:
    if fault is None:
        return "nothing came of cutting it out"
    return fault.what if fault.kind is FaultKind.REFUSED else f"it could not be cut out: {fault.what}"


def to_kept(piece: CutOut) -> KeptCut:
    """Make of a piece what is kept of it."""
    said: dict[str, str | int | float] = {
        "media_type": piece.media_type,
        "width": piece.width,
        "height": piece.height,
        "width_mm": piece.width_mm,
        "note": piece.note,
    }
    return KeptCut(said=said, data=piece.data)


def from_kept(kept: KeptCut) -> CutOut | None:
    """Make a piece again of what is kept; None where that is something else."""
    try:
        said = kept.said
        return CutOut(
            data=kept.data,
            media_type=str(said["media_type"]),
            width=int(said["width"]),
            height=int(said["height"]),
            width_mm=float(said["width_mm"]),
            note=str(said["note"]),
        )
    except (KeyError, TypeError, ValueError):
        return None
