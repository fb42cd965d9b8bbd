"""An archive that stays open for as long as somebody looks at its pages, read anew when a file of it changes."""

import threading
import time
from collections.abc import Callable, Mapping
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import Any, TypeVar

from provenance.records.archive import Archive
from provenance.reports.flagged import Flagged
from provenance.rules.verdicts import Verdict
from provenance.store.loading import find_archive
from provenance.store.watching import ArchiveState, state_of
from provenance.tasks.flagging import raise_flags
from provenance.tasks.judging_again import Judged, judge_again
from provenance.tasks.opening import Opened, open_folder, opened_at
from provenance.tasks.page_readings import Readings

T = TypeVar("T")

LOOKS_AGAIN = 1.0
"""After how many seconds it is looked whether a file changed: looking at ten thousand takes some hundredths of one."""

READS_ON = 30.0
"""While pages are being read, what was read is taken up once in so many seconds, and as soon as nothing more comes."""

_MOST_REMEMBERED = 500
_VERDICTS = "verdicts"
_NOTHING = object()


class Current:
    """An archive as it stood when it was last read, with what was worked out from it since.

    Attributes:
        opened: the archive.
        today: the day on which it was read; what hangs on the day is worked out anew on the next.
    """

    def __init__(self, opened: Opened, today: date, *, earlier: Judged | None = None) -> None:
        """Work out nothing yet.

        Args:
            opened: the archive.
            today: the day on which it was read.
            earlier: the archive as it was before, with its verdicts: those that no change since reaches are taken over;
                None where none were worked out.
        """
        self.opened = opened
        self.today = today
        self._earlier = earlier
        self._lock = threading.Lock()
        self._making: dict[str, threading.RLock] = {}
        self._remembered: dict[str, Any] = {}

    def with_new_readings(self) -> "Current":
        """The same records on the same day, after more was read on their pages; no verdict hangs on that."""
        return self.followed_by(self.opened, self.today)

    def followed_by(self, opened: Opened, today: date) -> "Current":
        """The archive as it stands after this; of the verdicts only those are worked out again that changes reach."""
        known = self._known(_VERDICTS)
        return Current(opened, today, earlier=self._earlier if known is _NOTHING else Judged(self.archive, known))

    @property
    def archive(self) -> Archive:
        """The records that can be judged on."""
        return self.opened.archive

    @property
    def verdicts(self) -> Mapping[str, Verdict]:
        """The verdict on every feature, by `component/feature`; empty while the archive does not say what it is for."""
        return self.remembered(_VERDICTS, self._judged)

    @property
    def flagged(self) -> Flagged:
        """Everything that needs attention on that day."""
        return self.remembered("flagged", lambda: raise_flags(self.opened, today=self.today, verdicts=self.verdicts))

    @cached_property
    def readings(self) -> Readings:
        """What was read on each page."""
        return Readings(self.opened.folder, self.archive)

    def _judged(self) -> Mapping[str, Verdict]:
        judged = judge_again(self.archive, self._earlier) if self.archive.target else {}
        self._earlier = None  # one archive is enough to keep
        return judged

    def remembered(self, key: str, make: Callable[[], T]) -> T:
        """Work something out once, for as long as nothing changes.

        Args:
            key: what it is, with all that it hangs on beside the archive.
            make: works it out.
        """
        known = self._known(key)
        if known is _NOTHING:
            with self._lock:
                making = self._making.setdefault(key, threading.RLock())
            # Who asks for the same waits for it; who asks for something else does not.
            with making:
                known = self._known(key)
                if known is _NOTHING:
                    known = make()
                    self._keep(key, known)
        found: T = known
        return found

    def _known(self, key: str) -> Any:
        with self._lock:
            return self._remembered.get(key, _NOTHING)

    def _keep(self, key: str, made: object) -> None:
        with self._lock:
            while len(self._remembered) >= _MOST_REMEMBERED:
                del self._remembered[next(iter(self._remembered))]
            self._remembered[key] = made
            self._making.pop(key, None)


class Living:
    """The archive of a folder, for several readers at once."""

    def __init__(self, folder: Path) -> None:
        """Read it.

        Args:
            folder: the archive's, or one inside it.

        Raises:
            ArchiveError: it cannot be read.
        """
        self.folder = find_archive(folder)
        self._lock = threading.Lock()
        self._state = self._seen = state_of(self.folder)
        self._current = Current(open_folder(self.folder), _today())
        self._looked = self._taken_up = time.monotonic()

    def now(self) -> Current:
        """Give the archive as it stands; read anew where a file changed, or another day has begun.

        Raises:
            ArchiveError: it cannot be read any more.
        """
        if time.monotonic() - self._looked >= LOOKS_AGAIN and self._lock.acquire(blocking=False):
            # One reader looks; the others go on with what was read before, which is a second old at most.
            try:
                self._look()
            finally:
                self._lock.release()
        return self._current

    def look_again(self) -> None:
        """Look at once whether a file changed, whoever looks besides; for who has just written.

        What was written before the call is in what `now` gives after it, to every reader.

        Raises:
            ArchiveError: it cannot be read any more.
        """
        with self._lock:
            # A reader may have begun to look before the writing was done; the lock is free once it has ended.
            self._look(at_once=True)

    def _look(self, *, at_once: bool = False) -> None:
        state, today = state_of(self.folder), _today()
        if (state.records, today) != (self._state.records, self._current.today):
            self._take_up(self._current.followed_by(opened_at(self._current.opened), today), state)
        elif state.readings != self._state.readings:
            is_still = state.readings == self._seen.readings
            if at_once or is_still or time.monotonic() - self._taken_up >= READS_ON:
                self._take_up(self._current.with_new_readings(), state)
        self._seen = state
        self._looked = time.monotonic()

    def _take_up(self, current: Current, state: ArchiveState) -> None:
        self._current, self._state, self._taken_up = current, state, time.monotonic()


def _today() -> date:
    return date.today()  # noqa: DTZ011  loans are due and permissions end by the local calendar
