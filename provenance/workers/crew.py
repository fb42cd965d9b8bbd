"""The parent's side: one child process, started, given a job, watched and ended."""

import json
import os
import pickle
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from multiprocessing.connection import Connection, Pipe
from pathlib import Path
from typing import IO, Any

from provenance.workers.child import BOOTSTRAP, Orders, Reply
from provenance.workers.outcomes import Fault, FaultKind

_SECONDS_TO_START = 60.0
_SECONDS_TO_DIE = 5.0
_LAST_BYTES = 4000


@dataclass(slots=True, kw_only=True)
class Child:
    """One child process and the job that it is on.

    It leads a process group of its own, so that the programs it starts end with it, and so that Ctrl-C at the
    terminal reaches the parent alone. Its temporary files lie in a folder that the parent removes.

    Attributes:
        is_ready: it has taken its orders and can be given a job.
        is_busy: it was given a job and has not answered.
        job: the job that it is on.
        deadline: on the monotonic clock, when it has to have answered.
    """

    process: subprocess.Popen[bytes]
    connection: "Connection[Any, Any]"
    lifeline: int
    log: IO[bytes]
    scratch: Path
    deadline: float
    is_ready: bool = False
    is_busy: bool = False
    job: Any = field(default=None)

    def take(self, job: Any, seconds: float) -> None:
        """Give it a job and start its clock."""
        self.job, self.is_busy, self.deadline = job, True, time.monotonic() + seconds
        with suppress(BrokenPipeError, ConnectionResetError):  # it has just died: `answer` will say so
            self.connection.send_bytes(pickle.dumps(job))

    def answer(self) -> Reply | None:
        """Read what it sent; None when it died instead."""
        try:
            reply: Reply = pickle.loads(self.connection.recv_bytes())  # noqa: S301  # packed by our own child
        except (EOFError, OSError):
            return None
        self.deadline = float("inf")
        if self.is_ready:
            self.is_busy = False
        self.is_ready = True
        return reply

    def end(self) -> None:
        """Kill it with every program that it started, and remove what it left behind."""
        self._kill()
        self.process.wait()
        self.connection.close()
        os.close(self.lifeline)
        self.log.close()
        shutil.rmtree(self.scratch, ignore_errors=True)

    def explain_death(self) -> Fault:
        """Say how it died, once it has."""
        try:
            self.process.wait(_SECONDS_TO_DIE)
        except subprocess.TimeoutExpired:
            self._kill()
        code = self.process.wait()
        how = f"signal {_signal_name(-code)}" if code < 0 else f"exit code {code}"
        what = f"the process at work on it broke off ({how}): it may be damaged, or need more memory than is allowed"
        return Fault(kind=FaultKind.DIED, what=what, detail=self.last_words())

    def _kill(self) -> None:
        with suppress(ProcessLookupError, PermissionError):  # macOS says the latter of a group that is dying
            os.killpg(self.process.pid, signal.SIGKILL)

    def last_words(self) -> str:
        """Give the last lines that it, or a program of its, wrote."""
        self.log.seek(max(0, self.log.seek(0, os.SEEK_END) - _LAST_BYTES))
        return self.log.read().decode(errors="replace")


def start_child(function: Callable[[Any], Any], seconds_each: float, memory_bytes: int | None) -> Child:
    """Start a child process that will call `function`; it says itself when it is ready."""
    ours, theirs = Pipe()
    reading_end, writing_end = os.pipe()
    log = tempfile.TemporaryFile(prefix="provenance-")  # noqa: SIM115  # closed by `Child.end`
    scratch = Path(tempfile.mkdtemp(prefix="provenance-"))
    arguments = [json.dumps(sys.path), str(theirs.fileno()), str(reading_end), str(scratch)]
    process = subprocess.Popen(  # noqa: S603  # our own interpreter and our own program
        [sys.executable, "-c", BOOTSTRAP, *arguments],
        stdin=subprocess.DEVNULL,
        stdout=log,
        stderr=log,
        pass_fds=(theirs.fileno(), reading_end),
        env={**os.environ, "TMPDIR": str(scratch)},
        start_new_session=True,
    )
    theirs.close()
    os.close(reading_end)
    child = Child(
        process=process,
        connection=ours,
        lifeline=writing_end,
        log=log,
        scratch=scratch,
        deadline=time.monotonic() + max(_SECONDS_TO_START, seconds_each),
    )
    with suppress(BrokenPipeError, ConnectionResetError):  # it has died already: `answer` will say so
        ours.send(memory_bytes)
        ours.send(Orders(function=function, seconds_each=seconds_each))
    return child


def _signal_name(number: int) -> str:
    try:
        return signal.Signals(number).name
    except ValueError:
        return str(number)
