"""Pieces of pages for several readers at once: few pages are opened at a time, and no piece is cut twice."""

from concurrent.futures import Future
from threading import BoundedSemaphore, Lock

from provenance.pages.cut_outs import CutOut
from provenance.tasks.cutting_out import NoCutOut, Wanted, cut_before, cut_outs
from provenance.tasks.opening import Opened

_AT_A_TIME = 2
"""So many pages are opened at once, whatever browsers ask for: each may take a core and much memory."""


class CuttingOut:
    """What cuts pieces for all readers: few at a time, and each once, however many ask for it at once."""

    def __init__(self) -> None:
        """Cut nothing yet."""
        self._slots = BoundedSemaphore(_AT_A_TIME)
        self._lock = Lock()
        self._being_cut: dict[tuple[int, Wanted], Future[CutOut | NoCutOut]] = {}

    def give(self, opened: Opened, wanted: Wanted) -> CutOut | NoCutOut:
        """Give a piece, or say why there is none: what is kept at once, whatever is being cut; the rest when it is cut.

        Args:
            opened: the archive.
            wanted: what is to be shown.

        Raises:
            WriteRefusedError: there is no room for the temporary files of a worker.
            DerivedDataError: the system has no room for another process.
        """
        found = cut_before(opened, wanted)
        if found is not None:
            return found
        key = id(opened), wanted  # whoever cuts holds the archive, so that no other has its place in memory
        with self._lock:
            coming = self._being_cut.get(key)
            if coming is None:
                mine = self._being_cut[key] = Future[CutOut | NoCutOut]()
        return self._cut(opened, wanted, mine, key) if coming is None else coming.result()

    def _cut(
        self, opened: Opened, wanted: Wanted, mine: "Future[CutOut | NoCutOut]", key: tuple[int, Wanted]
    ) -> CutOut | NoCutOut:
        try:
            with self._slots:
                found = cut_outs(opened, [wanted], workers=1)[wanted]
            mine.set_result(found)
        except BaseException as error:
            mine.set_exception(error)  # whoever waits is told the same
            raise
        finally:
            with self._lock:
                del self._being_cut[key]
        return found
