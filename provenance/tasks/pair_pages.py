"""The pairs of an archive as they are looked at: some at a time in a list, and two sources side by side."""

import threading
from collections.abc import Callable, Mapping
from contextlib import closing
from dataclasses import dataclass
from typing import Generic, TypeVar

from provenance.errors import ProvenanceError, UnknownRecordError, UsageRefusedError
from provenance.likeness.page_prints import PrintJob, has_pages
from provenance.likeness.pair_views import PairViews, ViewJob, view_pages
from provenance.likeness.values import Corners, Form, PictureMatch
from provenance.records.decisions import AlikePlace, CopyPair
from provenance.records.kinds import Ruling
from provenance.records.regions import Region, RegionUnit
from provenance.reports.pair_page import CopiesPage, PairPage, PairSide
from provenance.rules.cautions import cautions_for
from provenance.rules.verdicts import Verdict
from provenance.tasks.alike import Alike
from provenance.tasks.fingerprinting import PAGE_BYTES, PAGE_SECONDS
from provenance.tasks.listing_copies import Pairs, by_change
from provenance.tasks.looking_at_pairs import PairSeen, look_at_pair, page_job
from provenance.tasks.nearest import nearest_mend
from provenance.tasks.opening import Opened
from provenance.tasks.page_readings import SourcePage, pages_of
from provenance.tasks.showing_copies import compose_shown
from provenance.tasks.two_sources import TwoSources, find_two
from provenance.workers.running import run_in_workers

Made = TypeVar("Made")

ON_A_PAGE = 20
"""How many pairs stand on a page of the list."""

SOON_TRIED = 60
"""So many pairs are all looked at before they are listed, those first that would change most."""

SOON_COMPARED = 2000
"""In an archive of so many sources two are compared when they are shown; in a larger one when somebody asks for it."""

_DRAWN = 6
_SEEN = 200
_AROUND = 0.8  # of the page, in hundredths: so that the outline does not lie on the letters
_NEGATIVES = frozenset({Form.NEGATIVE, Form.MIRRORED_NEGATIVE})
_Areas = tuple[Corners, Corners]
_Sides = tuple[PairSide, PairSide]


class PairPages:
    """The pairs of an archive as it stands; several may ask at once, and what was worked out is kept for a while."""

    def __init__(self, opened: Opened, verdicts: Mapping[str, Verdict]) -> None:
        """Work out nothing yet.

        Args:
            opened: the archive.
            verdicts: on all its features, by `component/feature`; empty while it does not say what it is for.
        """
        self._opened = opened
        self._pairs = Pairs(opened, verdicts)
        self._seen: _Last[PairSeen] = _Last(_SEEN)
        self._drawn: _Last[PairViews] = _Last(_DRAWN)

    def listed(
        self, ruling: str = "all", *, component: str | None = None, source: str | None = None, page: int = 1
    ) -> CopiesPage:
        """A page of the list of pairs, open ones first.

        Args:
            ruling: as of `list_copies`, and so are the next two.
            component: None for all.
            source: None for all.
            page: which, counted from 1; one behind the last is the last.

        Raises:
            UnknownRecordError: there is no such component or source.
            UsageRefusedError: there is no such ruling.
        """
        asked = self._pairs.asked(ruling, component=component, source=source)
        page = max(1, min(page, -(-len(asked.pairs) // ON_A_PAGE)))
        first = (page - 1) * ON_A_PAGE
        is_by_change = len(asked.pairs) <= SOON_TRIED
        if is_by_change:
            shown = sorted(map(self._pairs.listed, asked.pairs), key=by_change)[first : first + ON_A_PAGE]
        else:
            in_order = sorted(asked.pairs, key=lambda pair: (pair.ruling is not Ruling.OPEN, pair.id))
            shown = [self._pairs.listed(pair) for pair in in_order[first : first + ON_A_PAGE]]
        return CopiesPage(
            copies=self._pairs.answer(asked, shown),
            total=len(asked.pairs),
            first=first + 1 if shown else 0,
            most=ON_A_PAGE,
            is_by_change=is_by_change,
        )

    def page(self, pair_id: str, *, is_asked: bool = False) -> PairPage:
        """Two sources side by side.

        Args:
            pair_id: of their record.
            is_asked: whether somebody asks for them to be compared now, though it takes some seconds.

        Raises:
            UnknownRecordError: there is no such pair; the nearest are named.
        """
        pair = self._pair(pair_id)
        two = find_two(self._opened, pair.between)
        compared = self._compared(two, pair, is_asked=is_asked)
        sides, _ = self._sides(pair, compared.seen)
        return PairPage(
            archive=self._opened.archive,
            listed=self._pairs.listed(pair),
            sides=sides,
            shown=compose_shown(two, compared.seen) if compared.seen else None,
            why_not=compared.why_not,
            is_put_off=compared.is_put_off,
            is_laid=_is_laid(compared.seen) and not any(side.why_not for side in sides),
            descent=tuple(link.words for link in two.links),
            cautions=cautions_for(self._opened.archive, {*two.one.hazards, *two.other.hazards}),
        )

    def views(self, pair_id: str) -> PairViews:
        """The pages of two sources, drawn.

        Raises:
            UnknownRecordError: there is no such pair; the nearest are named.
            ProvenanceError: the worker that draws them was stopped.
        """
        pair = self._pair(pair_id)
        seen = self._compared(find_two(self._opened, pair.between), pair).seen
        return self._drawn.get(f"{pair_id} {seen is not None}", lambda: self._draw(pair, seen))

    def _pair(self, pair_id: str) -> CopyPair:
        copies = self._opened.archive.copies
        if pair_id not in copies:
            mend = nearest_mend(pair_id, copies, "look for it among the pairs")
            raise UnknownRecordError(f"there is no pair `{pair_id}`", mend)
        return copies[pair_id]

    def _compared(self, two: TwoSources, pair: CopyPair, *, is_asked: bool = False) -> "_Compared":
        """Compare the two, unless there is a reason not to."""
        gone = [source for source in (two.one, two.other) if source.withdrawn is not None]
        if gone:
            withdrawn = " ".join(f"{each.id} is withdrawn: {each.withdrawn.why}." for each in gone if each.withdrawn)
            return _Compared(why_not=f"The two are not compared. {withdrawn}")
        is_soon = is_asked or len(self._opened.archive.sources) <= SOON_COMPARED
        if not is_soon and pair.id not in self._seen:
            return _Compared(is_put_off=True)
        try:
            return _Compared(seen=self._seen.get(pair.id, lambda: look_at_pair(self._opened, *pair.between, workers=1)))
        except ProvenanceError as error:
            return _Compared(why_not=f"The two could not be compared: {error.what}. What to do: {error.mend}.")

    def _draw(self, pair: CopyPair, seen: PairSeen | None) -> PairViews:
        sides, areas = self._sides(pair, seen)
        job = ViewJob(
            pages=(self._job(sides[0]), self._job(sides[1])),
            areas=areas,
            is_laid=_is_laid(seen),
            is_negative=_is_negative(seen),
        )
        outcomes = run_in_workers(view_pages, [job], workers=1, seconds_each=PAGE_SECONDS, memory_bytes=PAGE_BYTES)
        with closing(outcomes):
            outcome = next(outcomes)
        if outcome.value is None:
            what = outcome.fault.what if outcome.fault else "nothing came of drawing the two pages"
            raise ProvenanceError(what, "look at the two originals themselves")
        return outcome.value

    def _sides(self, pair: CopyPair, seen: PairSeen | None) -> tuple[_Sides, _Areas]:
        """What is shown of each, and the area that is outlined on each."""
        alike = (seen.picture or seen.text) if seen else None
        places: tuple[AlikePlace | None, AlikePlace | None] = (None, None)
        if alike is not None:
            places = alike.here, alike.there
        elif pair.found_by is not None and pair.found_by.places:
            places = pair.found_by.places[0], pair.found_by.places[1]
        areas: _Areas = _corners(places[0]), _corners(places[1])
        if alike is not None and isinstance(alike.match, PictureMatch) and alike.match.one:
            areas = alike.match.one, alike.match.other
        one, other = (
            self._side(source, place, is_outlined=bool(area))
            for source, place, area in zip(pair.between, places, areas, strict=True)
        )
        return (one, other), areas

    def _side(self, source: str, place: AlikePlace | None, *, is_outlined: bool) -> PairSide:
        page = self._page(source, place.page if place else None)
        if page is None or not has_pages(page.file.media_type):
            return PairSide(source=source, place=place, page=None, why_not="it has no page that can be shown")
        try:
            page_job(self._opened, page)
        except UsageRefusedError as error:
            return PairSide(source=source, place=place, page=None, why_not=error.what)
        return PairSide(source=source, place=place, page=page.page, is_outlined=is_outlined)

    def _page(self, source: str, number: int | None) -> SourcePage | None:
        """The page of that number; the first one for None."""
        pages = pages_of(self._opened.archive.sources[source], self._opened.archive)
        return next((page for page in pages if number is None or page.page == number), None)

    def _job(self, side: PairSide) -> PrintJob | None:
        page = self._page(side.source, side.page) if side.page is not None else None
        return page_job(self._opened, page) if page is not None else None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Compared:
    """What came of comparing two: what was seen, or why they are not compared, or that it waits to be asked for."""

    seen: PairSeen | None = None
    why_not: str = ""
    is_put_off: bool = False


class _Last(Generic[Made]):
    """The last few things that were made, each made once; who asks meanwhile waits."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._kept: dict[str, Made] = {}
        self._lock = threading.Lock()

    def __contains__(self, key: str) -> bool:
        return key in self._kept

    def get(self, key: str, make: Callable[[], Made]) -> Made:
        """What is kept under a key, made where nothing is."""
        with self._lock:
            made = self._kept.pop(key) if key in self._kept else make()
            self._kept[key] = made
            if len(self._kept) > self._most:
                del self._kept[next(iter(self._kept))]
            return made


def _picture(seen: PairSeen | None) -> Alike | None:
    return seen.picture if seen else None


def _is_laid(seen: PairSeen | None) -> bool:
    picture = _picture(seen)
    return picture is not None and isinstance(picture.match, PictureMatch) and bool(picture.match.one)


def _is_negative(seen: PairSeen | None) -> bool:
    picture = _picture(seen)
    return picture is not None and isinstance(picture.match, PictureMatch) and picture.match.form in _NEGATIVES


def _corners(place: AlikePlace | None) -> Corners:
    """The corners about a region that is given in hundredths of the page; none where it is not."""
    region: Region | None = place.region if place else None
    if region is None or region.unit is not RegionUnit.PERCENT:
        return ()
    left, top = max(0.0, float(region.x) - _AROUND), max(0.0, float(region.y) - _AROUND)
    right = min(100.0, float(region.x + region.w) + _AROUND)
    lower = min(100.0, float(region.y + region.h) + _AROUND)
    return (left, top), (right, top), (right, lower), (left, lower)
