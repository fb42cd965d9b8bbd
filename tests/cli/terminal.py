"""A terminal of our own: a pseudo-terminal that a program is started on, as somebody at a keyboard would."""

import os
import pty
import select
import signal
import subprocess
import time
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import Self

from cli.command_line import PROGRAM

_PATIENCE = 60.0


class Terminal:
    """A program on a terminal; what it writes is gathered."""

    def __init__(self, *words: str | Path, env: Mapping[str, str] | None = None) -> None:
        self._ours, theirs = pty.openpty()
        whole = {name: value for name, value in os.environ.items() if name != "PROVENANCE_BY"} | dict(env or {})
        command = [str(PROGRAM), *map(str, words)]
        self.process = subprocess.Popen(command, stdin=theirs, stdout=theirs, stderr=theirs, env=whole)
        os.close(theirs)
        self.shown = ""

    def wait_for(self, words: str) -> None:
        """Read until these words are shown."""
        deadline = time.monotonic() + _PATIENCE
        while words not in self.shown:
            assert time.monotonic() < deadline, self.shown
            assert self._read_some(), self.shown

    def enter(self, keys: str) -> None:
        """Type at the keyboard."""
        os.write(self._ours, keys.encode())

    def interrupt(self) -> None:
        """Press Ctrl-C, and again where it was missed: Python may just have turned to the keyboard."""
        deadline = time.monotonic() + _PATIENCE
        while self.process.poll() is None:
            assert time.monotonic() < deadline, self.shown
            self.process.send_signal(signal.SIGINT)
            with suppress(subprocess.TimeoutExpired):
                self.process.wait(1)

    def finish(self) -> int:
        """Read until the program ends; the code that it exits with."""
        while self._read_some():
            pass
        return self.process.wait(_PATIENCE)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Switch it off, whatever is still running on it."""
        self.process.kill()
        self.process.wait()
        os.close(self._ours)

    def _read_some(self) -> bool:
        if not select.select([self._ours], [], [], _PATIENCE)[0]:
            return False
        try:
            read = os.read(self._ours, 4096)
        except OSError:  # how Linux says that the other end is closed
            return False
        self.shown += read.decode("utf-8", "replace").replace("\r\n", "\n")
        return bool(read)
