"""Work that makes very many records or verdicts at once, without Python's search for circles among them."""

import gc
import threading
from collections.abc import Iterator
from contextlib import contextmanager


class _Going:
    """How many such works go on at once, in whatever threads: the last to end has the search go on, if it did before.

    If each went by what it found, one that began while another went on could leave the search off for good.
    """

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._works = 0
        self._was_on = False

    def begin(self) -> None:
        with self._lock:
            if not self._works:
                self._was_on = gc.isenabled()
                gc.disable()
            self._works += 1

    def end(self) -> None:
        with self._lock:
            self._works -= 1
            if not self._works and self._was_on:
                gc.enable()


_GOING = _Going()


@contextmanager
def uninterrupted() -> Iterator[None]:
    """Keep the search for unreachable circles away: frozen values make none, so in a large work it only costs time.

    It costs more than half of a large load, and a quarter of the judgement of 100,000 claims. Where it was off before,
    it stays off.
    """
    _GOING.begin()
    try:
        yield
    finally:
        _GOING.end()
