"""Pages to be looked at closely: cut into tiles by a worker when somebody first opens them, and kept."""

import hashlib
import re
import threading
import time
from collections import OrderedDict
from collections.abc import Iterator
from contextlib import closing, contextmanager
from math import inf
from pathlib import Path
from typing import Any

from provenance.errors import DerivedDataError, ProvenanceError, UnknownRecordError, WriteRefusedError
from provenance.exchange.iiif_image import PictureRequest
from provenance.pages.cut_outs import CutJob
from provenance.pages.tile_files import (
    ROWS,
    TILE,
    Band,
    DamagedTilesError,
    PageTiles,
    TileFile,
    bands_of,
    coarse_from,
    levels_of,
    size_at,
    tiles_key,
)
from provenance.records.claims import At
from provenance.records.regions import Region, RegionUnit
from provenance.store.tiles_store import TilesStore
from provenance.tasks.awaited_tiles import AwaitedTiles, PagePlace
from provenance.tasks.cutting_out import PAGE_BYTES
from provenance.tasks.page_readings import Readings
from provenance.tasks.places_to_show import NothingToShowError, PlacesToShow, ShownPlace
from provenance.workers.outcomes import Fault, FaultKind
from provenance.workers.running import run_in_workers

TILES_SECONDS = 120.0
"""What cutting one page into tiles may take; 70 million pixels take about three seconds."""

TRIES_AGAIN = 300.0
"""After how many seconds a page is tried again that could not be cut for want of time or memory."""

_MOST_OPEN, _MOST_UNKEPT = 400, 24
_TAG_LENGTH = 16
_COARSE = "coarse"
_PARTS = re.compile(rf"{_COARSE}|l[0-9]{{1,2}}b[0-9]{{1,6}}")


class Tiling:
    """The pages of one archive that are cut into tiles, for several readers at once.

    One page is cut at a time: a worker may need much memory. Of that page the parts that somebody waits for are cut
    first; the rest follows as long as no other page is asked for.
    """

    def __init__(self, folder: Path) -> None:
        """Look after the tiles of the archive in `folder`; nothing is read or made yet."""
        self._folder = folder
        self._store = TilesStore(folder)
        self._lock = threading.Lock()
        self._cutting, self._waiting = threading.Lock(), 0
        self._open: OrderedDict[tuple[PagePlace, str], TileFile] = OrderedDict()
        self._unkept: OrderedDict[tuple[PagePlace, str], TileFile] = OrderedDict()
        self._making: dict[PagePlace, AwaitedTiles] = {}

    def find(self, readings: Readings, source: str, page: int) -> "TiledPage":
        """Find a page of a source; it is not opened yet.

        Args:
            readings: of the archive as it stands.
            source: its id.
            page: counted from 1 over the files of the source.

        Raises:
            UnknownRecordError: there is no such source.
            NothingToShowError: there is no picture of it, or its file is not here or not as it was received.
        """
        if source not in readings.archive.sources:
            raise UnknownRecordError(f"there is no source {source}", "look for it by searching")
        return TiledPage(self, PlacesToShow(readings).find(source, At(page=page), None), self._folder)

    def file_of(self, place: PagePlace, part: str) -> TileFile:
        """Give the file of the small sizes or of a band; where there is none, it is made, and waited for."""
        return self._held(place, part) or self._made(place, part)

    def forget(self, place: PagePlace, part: str) -> None:
        """Have a file made anew that turned out to be damaged."""
        with self._lock:
            self._open.pop((place, part), None)
            self._unkept.pop((place, part), None)
            making = self._making.get(place)
        if making is not None:
            making.lose(part)
        self._store.place(place.sha256, place.page, _key(part)).unlink(missing_ok=True)

    def _remember(self, place: PagePlace, part: str, file: TileFile, *, is_kept: bool = True) -> TileFile:
        known, most = (self._open, _MOST_OPEN) if is_kept else (self._unkept, _MOST_UNKEPT)
        with self._lock:
            known[place, part] = file
            while len(known) > most:
                known.popitem(last=False)
        return file

    def _known(self, place: PagePlace, part: str) -> TileFile | None:
        for known in (self._open, self._unkept):
            if found := known.get((place, part)):
                known.move_to_end((place, part))
                return found
        return None

    def try_again(self, place: PagePlace) -> None:
        """Have a page that could not be cut tried anew by whoever asks for it next."""
        with self._lock:
            if (making := self._making.get(place)) and making.is_over:
                del self._making[place]

    def _made(self, place: PagePlace, part: str) -> TileFile:
        while True:
            with self._lock:
                if found := self._known(place, part):  # it was made meanwhile
                    return found
                making = self._making.get(place)
                if making is None or making.is_to_be_tried:
                    making = self._making[place] = AwaitedTiles()
                    threading.Thread(target=self._make, args=(place, making), name="tiles", daemon=True).start()
            if found := making.wait_for(part):
                return found
            if making.error is not None:
                raise making.error
            if making.why:
                raise NothingToShowError(making.why)
            # It had ended, or made way for another page, just when it was asked: it begins anew.

    def _make(self, place: PagePlace, making: AwaitedTiles) -> None:
        """Cut a page into tiles; whatever happens, nobody is left waiting."""
        try:
            with self._turn():
                self._cut(place, making)
        except ProvenanceError as error:
            making.error = error
        except BaseException:
            making.why = "it could not be cut into tiles"
            raise
        finally:
            with self._lock:
                if not making.why and self._making.get(place) is making:
                    del self._making[place]
            making.end()

    @contextmanager
    def _turn(self) -> Iterator[None]:
        """Wait until no other page is being cut; whoever cuts is told that somebody waits."""
        with self._lock:
            self._waiting += 1
        try:
            self._cutting.acquire()
        finally:
            with self._lock:
                self._waiting -= 1
        try:
            yield
        finally:
            self._cutting.release()

    def _cut(self, place: PagePlace, making: AwaitedTiles) -> None:
        # What opens pages takes a fifth of a second to import: not where everything is kept.
        from provenance.pages.tiles import make_tiles  # noqa: PLC0415  what opens pages is brought in where it is needed

        self._store.clean(place.sha256)
        outcomes = run_in_workers(
            make_tiles, self._jobs(place, making), workers=1, seconds_each=TILES_SECONDS, memory_bytes=PAGE_BYTES
        )
        with closing(outcomes):
            for outcome in outcomes:
                if outcome.value is None:
                    making.why, making.tried_again = _why(outcome.fault), _tried_again(outcome.fault)
                    return
                if outcome.value:
                    part = _part_of(outcome.job.wanted)
                    making.give(part, self._keep(place, part, outcome.value))

    def _jobs(self, place: PagePlace, making: AwaitedTiles) -> Iterator[Any]:
        """What is to be cut, each told when the one before it is done: what somebody waits for, then the rest.

        Where another page waits, the rest is left until it is asked for.
        """
        from provenance.pages.tiles import TileJob  # noqa: PLC0415  what opens pages is brought in where it is needed

        page = CutJob(path=place.path, media_type=place.media_type, page=place.page, parts=(), sha256=place.sha256)
        small = self._held(place, _COARSE)
        if small is None:
            yield TileJob(page=page, wanted=None)
        # What comes of a job is known here one job later; while the page is decoded, somebody may ask for a part.
        yield TileJob(page=page, wanted=())
        about = (small or making.files[_COARSE]).page
        bands = {_part_of((band,)): band for band in bands_of(about.width, about.height)}
        left = [part for part in bands if not self._held(place, part)]
        given: set[str] = set()
        while True:
            with making.changed:
                asked = [part for part in reversed(making.asked) if part in bands and part not in given]
            left = [part for part in left if part not in given]
            if not asked and (self._waiting or not left):
                return
            part = (asked or left)[0]
            given.add(part)
            yield TileJob(page=page, wanted=(bands[part],))

    def _held(self, place: PagePlace, part: str) -> TileFile | None:
        """A file as it is known or kept; None where it is not there, or damaged."""
        with self._lock:
            found = self._known(place, part)
        if found is not None:
            return found
        try:
            return self._remember(place, part, TileFile(self._store.place(place.sha256, place.page, _key(part))))
        except DamagedTilesError:
            return None

    def _keep(self, place: PagePlace, part: str, data: bytes) -> TileFile:
        """Keep a file; where the disk refuses, a few are held in memory."""
        try:
            kept = self._store.put(place.sha256, place.page, _key(part), data)
        except WriteRefusedError:
            return self._remember(place, part, TileFile(data), is_kept=False)
        return self._remember(place, part, TileFile(kept))


class TiledPage:
    """A page of a source, to be looked at at any size; of a page that is shared, the source's part alone."""

    def __init__(self, tiling: Tiling, place: ShownPlace, folder: Path) -> None:
        """Say where the page is; nothing is opened yet."""
        file = place.page.file
        self._tiling = tiling
        self._within = place.part.within
        self._place = PagePlace(folder / file.path, file.media_type, file.sha256, place.page.in_file)

    @property
    def tag(self) -> str:
        """What tells this picture from any other: the same tag, the same pixels."""
        told = f"{self._place.sha256} {self._place.page} {tiles_key()} {self._within or ''}"
        return hashlib.sha256(told.encode("ascii")).hexdigest()[:_TAG_LENGTH]

    @property
    def tile(self) -> int:
        """Width and height of the tiles in which it is kept, in pixels."""
        return TILE

    @property
    def about(self) -> PageTiles:
        """What is known of the whole page; where it was never opened, it is now, and waited for.

        Raises:
            NothingToShowError: it cannot be opened.
        """
        return self._tiling.file_of(self._place, _COARSE).page

    @property
    def size(self) -> tuple[int, int]:
        """Width and height of what is shown, in pixels."""
        left, top, right, bottom = self._box()
        return right - left, bottom - top

    @property
    def levels(self) -> int:
        """How often what is shown is halved until it fits into one tile, and once more for its full size."""
        return levels_of(*self.size)

    def try_again(self) -> None:
        """Have the page tried anew, where it could not be cut."""
        self._tiling.try_again(self._place)

    def draw(self, wanted: PictureRequest) -> bytes:
        """Draw a part of it, as a file of the form that is asked for.

        Raises:
            NothingToShowError: the page cannot be opened.
            DerivedDataError: its tiles are damaged, and those made anew as well.
        """
        from provenance.pages.tile_drawing import drawn, level_for  # noqa: PLC0415  what opens pages is brought in where it is needed

        left, top, _, _ = self._box()
        x, y, wide, high = wanted.region
        box = left + x, top + y, left + x + wide, top + y + high
        about = self.about
        level, page = level_for(box, wanted.size, about.levels), (about.width, about.height)
        try:
            if wanted.form == ("png" if about.is_lossless else "jpg"):
                tile = _tile_at(page, level, box, wanted.size)
                if tile is not None:
                    return self._read(level, *tile)
            return drawn(
                lambda column, row: self._read(level, column, row),
                page,
                level,
                box,
                size=wanted.size,
                kind=wanted.form,
            )
        except DamagedTilesError as error:
            raise DerivedDataError(
                "the tiles of a page are damaged as soon as they are made", "see whether the disk is sound"
            ) from error

    def _read(self, level: int, column: int, row: int) -> bytes:
        """Read a tile; where it is damaged, it is made anew once."""
        about = self.about
        is_small = level >= coarse_from(about.width, about.height)
        part = _COARSE if is_small else _part_of((Band(level, row // ROWS),))
        try:
            return self._tiling.file_of(self._place, part).read(level, column, row)
        except DamagedTilesError:
            self._tiling.forget(self._place, part)
        return self._tiling.file_of(self._place, part).read(level, column, row)

    def _box(self) -> tuple[int, int, int, int]:
        """The part of the page that is shown."""
        about = self.about
        if self._within is None:
            return 0, 0, about.width, about.height
        box = _in_pixels(self._within, about)
        if box[0] >= box[2] or box[1] >= box[3]:
            raise NothingToShowError(f"the region {self._within} lies off the page")
        return box


def _in_pixels(region: Region, about: PageTiles) -> tuple[int, int, int, int]:
    """The pixels of a region, as the page is kept."""
    of_page = (100, 100) if region.unit is RegionUnit.PERCENT else about.of_page
    if of_page is None:
        raise NothingToShowError(f"the region {region} is measured in pixels, and a page of a PDF has none")
    across, down = about.width / of_page[0], about.height / of_page[1]
    left, top = max(0, round(float(region.x) * across)), max(0, round(float(region.y) * down))
    right, bottom = round(float(region.x + region.w) * across), round(float(region.y + region.h) * down)
    return left, top, min(about.width, right), min(about.height, bottom)


def _tile_at(
    page: tuple[int, int], level: int, box: tuple[int, int, int, int], size: tuple[int, int]
) -> tuple[int, int] | None:
    """Column and row of the tile that shows just this part of a page at this size; None where none does."""
    side = TILE << level
    column, row = box[0] // side, box[1] // side
    own = column * side, row * side, min(page[0], (column + 1) * side), min(page[1], (row + 1) * side)
    whole = size_at(page, level)
    shown = min(TILE, whole[0] - column * TILE), min(TILE, whole[1] - row * TILE)
    return (column, row) if box == own and size == shown else None


def is_kept(key: str) -> bool:
    """Whether tiles of a key are those of today."""
    return key.startswith(tiles_key()) and _PARTS.fullmatch(key.removeprefix(tiles_key())) is not None


def _key(part: str) -> str:
    return f"{tiles_key()}{part}"


def _part_of(wanted: tuple[Band, ...] | None) -> str:
    """Under which name the small sizes are kept, or a band."""
    return "".join(f"l{band.level}b{band.number}" for band in wanted) if wanted else _COARSE


def _tried_again(fault: Fault | None) -> float | None:
    """When a page that failed is tried again: at its next asking after a while; never where the page is at fault."""
    is_its_own = fault is not None and fault.kind is FaultKind.REFUSED
    return inf if is_its_own else time.monotonic() + TRIES_AGAIN


def _why(fault: Fault | None) -> str:
    if fault is None:
        return "nothing came of opening it"
    return fault.what if fault.kind is FaultKind.REFUSED else f"it could not be opened: {fault.what}"
