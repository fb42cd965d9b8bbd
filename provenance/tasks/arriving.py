"""Files on their way in from elsewhere: written into a folder of the archive's derived data, and gone once taken in.

A file is written under a number. The name that it came under is kept beside it and is never used as a path; only a
plain ending of it, such as `.pdf`, stands behind the number, since some kinds are told by that. Whoever is at work
holds a lock of the operating system on the folder, so that what a stopped server left behind can be told from what
another is receiving at this moment.
"""

import fcntl
import hashlib
import io
import os
import re
import shutil
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from tempfile import mkdtemp
from types import TracebackType
from typing import Any, Self

from provenance.errors import UsageRefusedError, WriteRefusedError
from provenance.store.originals import ARRIVING

MOST_BYTES = 1_000_000_000
"""So large may one file be, and all that is sent at a time; a larger one is taken in from a folder of the machine."""

_SPARE_BYTES = 200_000_000
"""So much stays free on the disk: readings, pictures and the index want room beside the originals."""

_COPIES = 2
"""What arrives lies there until its original is written and read back: for a while it takes its room twice."""

_LONGEST_NAME = 1000
_ENDING = re.compile(r"\.[A-Za-z0-9]{1,12}")
_LOOKS_AFTER_BYTES = 50_000_000
_IDLE_SECONDS = 6 * 3600.0
_MOST_WAITING = 50
_OPEN_FOLDER = os.O_RDONLY | os.O_DIRECTORY | os.O_NOFOLLOW | os.O_CLOEXEC


class TooMuchError(UsageRefusedError):
    """More was sent than is taken at a time."""


class NoRoomError(WriteRefusedError):
    """The disk of the archive has no room for what is sent."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ArrivedFile:
    """A file that is here, and not taken in yet.

    Attributes:
        path: where its bytes lie for now.
        name: that it came under, with `/` after each folder that it lay in; never used as a path.
        size: in bytes.
        sha256: of its bytes, as they came.
    """

    path: Path
    name: str
    size: int
    sha256: str


class ArrivingFile(io.BufferedRandom):
    """A file that is being received: it is written from its beginning to its end, and can then be read."""

    def __init__(self, path: Path, name: str) -> None:
        """Begin a file that is not there yet, and that came under a name."""
        super().__init__(io.FileIO(path, "x+"))
        self.path = path
        self.came_as = name
        self.size = 0
        self._digest = hashlib.sha256()
        self._next_look = 0

    def write(self, data: Any, /) -> int:
        """Add bytes.

        Raises:
            TooMuchError: the file is larger than is taken at a time.
            NoRoomError: the disk is full, or is about to be.
        """
        self.size += len(data)
        if self.size > MOST_BYTES:
            raise too_much()
        if self.size >= self._next_look:
            require_room(self.path.parent, 0)
            self._next_look = self.size + _LOOKS_AFTER_BYTES
        self._digest.update(data)
        with _no_room_told():
            return super().write(data)

    def arrived(self) -> ArrivedFile:
        """What is here, once all of it is.

        Raises:
            UsageRefusedError: it came without a name, or under one that no file has.
            NoRoomError: the disk does not take the last of it.
        """
        name = self.came_as
        with _no_room_told():
            self.flush()
        if not name.strip("/. ") or len(name) > _LONGEST_NAME:
            raise UsageRefusedError(
                f"a file came under the name “{name[:60]}”, which no file has", "give it a name of its own"
            )
        return ArrivedFile(path=self.path, name=name, size=self.size, sha256=self._digest.hexdigest())


class Tray:
    """A folder for files that arrive together; with it goes all that still lies in it."""

    def __init__(self, folder: Path) -> None:
        """Make one in the archive.

        Args:
            folder: the archive's.

        Raises:
            NoRoomError: the disk does not take it.
        """
        home = folder.joinpath(*ARRIVING)
        with _no_room_told():
            home.mkdir(parents=True, exist_ok=True)
            with _locked(home):
                self.path = Path(mkdtemp(dir=home))
                self._lock = os.open(self.path, _OPEN_FOLDER)
                with suppress(OSError):  # a disk without locks: then nobody removes what is left there either
                    fcntl.flock(self._lock, fcntl.LOCK_EX)
        self.files: tuple[ArrivedFile, ...] = ()
        self.used = time.monotonic()
        self._begun: list[ArrivingFile] = []
        self._changing = threading.Lock()
        self._is_open = True

    def begin(self, name: str) -> ArrivingFile:
        """Begin to receive a file.

        Args:
            name: that it comes under, with `/` after each folder that it lay in.

        Raises:
            NoRoomError: the disk does not take it.
        """
        with self._changing, _no_room_told():
            ending = PurePosixPath(name).suffix
            place = self.path / f"{len(self._begun) + 1:06}{ending if _ENDING.fullmatch(ending) else ''}"
            self._begun.append(ArrivingFile(place, name))
            return self._begun[-1]

    def keep(self, file: ArrivingFile) -> ArrivedFile:
        """Count a file that has come whole among those that are here.

        Raises:
            UsageRefusedError: it came without a name.
            NoRoomError: the disk does not take it.
        """
        arrived = file.arrived()
        file.close()
        with self._changing:
            self.files = (*self.files, arrived)
            self.used = time.monotonic()
        return arrived

    def close(self) -> None:
        """Take away all that lies here."""
        with self._changing:
            if not self._is_open:
                return
            self._is_open = False
        for file in self._begun:
            with suppress(OSError):  # the rest of one that came in part, on a disk that is full
                file.close()
        shutil.rmtree(self.path, ignore_errors=True)
        os.close(self._lock)

    def __enter__(self) -> Self:
        """Use it for the length of a block."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Take away all that lies here."""
        self.close()


class Arrivals:
    """What has arrived for receipts that nobody has sent off yet, by the mark that each page gave its own.

    Attributes:
        folder: the archive's.
        home: where the trays lie; not there before the first is made.
    """

    def __init__(self, folder: Path) -> None:
        """Begin with nothing; what a stopped server left behind is taken away.

        Args:
            folder: the archive's.
        """
        self.folder = folder
        self.home = folder.joinpath(*ARRIVING)
        self._trays: dict[str, Tray] = {}
        self._lock = threading.Lock()
        clean_left(folder)

    def tray(self, mark: str) -> Tray:
        """The tray of a receipt, made where there is none yet; what others left lying for hours is taken away.

        Raises:
            NoRoomError: the disk does not take it.
        """
        with self._lock:
            if mark not in self._trays:
                self._let_go()
                self._trays[mark] = Tray(self.folder)
            return self._trays[mark]

    def files(self, mark: str) -> tuple[ArrivedFile, ...]:
        """What has arrived for a receipt; empty where nothing has, or no longer."""
        tray = self._trays.get(mark)
        return tray.files if tray is not None else ()

    def hand_over(self, mark: str) -> Tray | None:
        """Give the tray of a receipt to whoever takes its files in, and closes it; None where there is none."""
        with self._lock:
            return self._trays.pop(mark, None)

    def give_back(self, mark: str, tray: Tray | None) -> None:
        """Take the tray of a receipt back, whose files were not taken in after all."""
        if tray is not None:
            with self._lock:
                self._trays[mark] = tray

    def close(self) -> None:
        """Take away all that has arrived."""
        with self._lock:
            while self._trays:
                self._trays.popitem()[1].close()

    def _let_go(self) -> None:
        before = time.monotonic() - _IDLE_SECONDS
        idle = [mark for mark, tray in self._trays.items() if tray.used < before]
        longest = sorted(self._trays, key=lambda mark: self._trays[mark].used)[: len(self._trays) - _MOST_WAITING + 1]
        for mark in {*idle, *longest}:
            self._trays.pop(mark).close()


def clean_left(folder: Path) -> None:
    """Take away what servers that were stopped left behind; what cannot be taken away stays."""
    home = folder.joinpath(*ARRIVING)
    with suppress(OSError), _locked(home), os.scandir(home) as entries:
        for entry in entries:
            if entry.is_dir(follow_symlinks=False):
                _remove_unless_held(Path(entry.path))


def require_room(folder: Path, size: int) -> None:
    """See that the disk has room for what is about to come.

    Args:
        folder: on that disk.
        size: in bytes.

    Raises:
        NoRoomError: it has not.
    """
    free = shutil.disk_usage(folder).free
    if free < _COPIES * size + _SPARE_BYTES:
        raise NoRoomError(
            f"the disk of the archive has {free // 1_000_000:,} MB left, which is too little for what is sent",
            "make room on the disk of the archive, then send it again",
        )


def too_much() -> TooMuchError:
    """The refusal of what is larger than is taken at a time."""
    return TooMuchError(
        f"more than {MOST_BYTES // 1_000_000:,} MB are not taken at a time",
        "send fewer at a time; a larger file is taken in from a folder of the machine that serves these pages, or by "
        "`provenance ingest` there",
    )


def _remove_unless_held(tray: Path) -> None:
    with suppress(OSError):
        lock = os.open(tray, _OPEN_FOLDER)
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
            shutil.rmtree(tray, ignore_errors=True)
        finally:
            os.close(lock)


@contextmanager
def _locked(home: Path) -> Iterator[None]:
    """Hold the folder of all trays: between making a tray and locking it, nobody takes it for one that was left."""
    lock = os.open(home, _OPEN_FOLDER)
    try:
        with suppress(OSError):
            fcntl.flock(lock, fcntl.LOCK_EX)
        yield
    finally:
        os.close(lock)


@contextmanager
def _no_room_told() -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise NoRoomError(
            f"what is sent cannot be written on the disk of the archive: {error.strerror or error}",
            "make room there, or put right what the system says, then send it again",
        ) from error
