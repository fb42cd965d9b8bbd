"""The parent's side: one child process, started, given a job, watched and ended."""

import fcntl
import json
import os
import pickle
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from multiprocessing.connection import Connection, Pipe
from typing import IO, Any

from provenance.workers.child import BOOTSTRAP, Limits, Orders, Reply
from provenance.workers.messages import Incoming
from provenance.workers.outcomes import Fault, FaultKind
from provenance.workers.scratch import Scratch, bytes_under, make_scratch

_SECONDS_TO_START = 60.0
_SECONDS_TO_DIE = 5.0
_LAST_BYTES = 4000
_FROM_OUTSIDE = frozenset({signal.SIGKILL, signal.SIGTERM, signal.SIGINT, signal.SIGHUP, signal.SIGQUIT})
_OUT_OF_TIME = frozenset({signal.SIGXCPU, signal.SIGALRM})


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
    scratch: Scratch
    limits: Limits
    deadline: float
    is_ready: bool = False
    is_busy: bool = False
    job: Any = field(default=None)
    incoming: Incoming = field(default_factory=Incoming)

    def take(self, job: Any) -> None:
        """Give it a job, a log with nothing in it, and start its clock."""
        self.log.truncate(0)
        self.job, self.is_busy, self.deadline = job, True, time.monotonic() + self.limits.seconds
        with suppress(BrokenPipeError, ConnectionResetError):  # it has just died: `answer` will say so
            self.connection.send_bytes(pickle.dumps(job))

    def answer(self) -> Reply | None:
        """Take in what it sends; None until the answer is whole.

        Raises:
            EOFError: it died instead.
            OSError: it died instead.
            TooLongError: it is about to send more than it may.
        """
        whole = self.incoming.take_in(self.connection.fileno())
        if whole is None:
            return None
        reply: Reply = pickle.loads(whole)  # noqa: S301  # packed by our own child
        self.deadline = float("inf")
        if self.is_ready:
            self.is_busy = False
        self.is_ready = True
        return reply

    def writes_too_much(self) -> bool:
        """Whether its temporary files and what it wrote to its log are together more than it may have."""
        if self.limits.output_bytes is None:
            return False
        return bytes_under(self.scratch.path) + os.fstat(self.log.fileno()).st_size > self.limits.output_bytes

    def end(self) -> None:
        """Kill it with every program that it started, and remove what it left behind."""
        self._kill()
        self.process.wait()
        self.connection.close()
        os.close(self.lifeline)
        self.log.close()
        self.scratch.remove()

    def explain_death(self) -> Fault:
        """Say how it died, once it has."""
        try:
            self.process.wait(_SECONDS_TO_DIE)
        except subprocess.TimeoutExpired:
            self._kill()
        code = self.process.wait()
        kind, what = _how_it_died(code)
        return Fault(kind=kind, what=what, detail=self.last_words())

    def _kill(self) -> None:
        with suppress(ProcessLookupError, PermissionError):  # macOS says the latter of a group that is dying
            os.killpg(self.process.pid, signal.SIGKILL)

    def last_words(self) -> str:
        """Give the last lines that it, or a program of its, wrote."""
        self.log.seek(max(0, self.log.seek(0, os.SEEK_END) - _LAST_BYTES))
        return self.log.read(_LAST_BYTES).decode(errors="replace")


def start_child(function: Callable[[Any], Any], limits: Limits) -> Child:
    """Start a child process that will call `function`; it says itself when it is ready.

    Raises:
        OSError: the system starts no more processes, or the disk of the temporary files is full.
    """
    log = _begin_log()
    scratch = make_scratch()
    try:
        child = _started(log, scratch, limits)
    except OSError:
        log.close()
        scratch.remove()
        raise
    with suppress(BrokenPipeError, ConnectionResetError):  # it has died already: `answer` will say so
        child.connection.send(limits)
        child.connection.send(Orders(function=function, seconds_each=limits.seconds))
    return child


def _begin_log() -> IO[bytes]:
    """A file without a name, written at its end by all who have it, so that it can be emptied between two jobs."""
    log = tempfile.TemporaryFile(prefix="provenance-")  # noqa: SIM115  # closed by `Child.end`
    fcntl.fcntl(log.fileno(), fcntl.F_SETFL, fcntl.fcntl(log.fileno(), fcntl.F_GETFL) | os.O_APPEND)
    return log


def _started(log: IO[bytes], scratch: Scratch, limits: Limits) -> Child:
    ours, theirs = Pipe()
    reading_end, writing_end = os.pipe()
    arguments = [json.dumps(sys.path), str(theirs.fileno()), str(reading_end), str(scratch.path)]
    try:
        process = subprocess.Popen(  # noqa: S603  # our own interpreter and our own program
            [sys.executable, "-c", BOOTSTRAP, *arguments],
            stdin=subprocess.DEVNULL,
            stdout=log,
            stderr=log,
            pass_fds=(theirs.fileno(), reading_end, scratch.lock),
            env={**os.environ, "TMPDIR": str(scratch.path)},
            start_new_session=True,
        )
    except OSError:
        ours.close()
        os.close(writing_end)
        raise
    finally:
        theirs.close()
        os.close(reading_end)
    return Child(
        process=process,
        connection=ours,
        lifeline=writing_end,
        log=log,
        scratch=scratch,
        limits=limits,
        deadline=time.monotonic() + max(_SECONDS_TO_START, limits.seconds),
    )


def _how_it_died(code: int) -> tuple[FaultKind, str]:
    if -code in _OUT_OF_TIME:
        return FaultKind.TIME, "it took more time than one job may have"
    if -code in _FROM_OUTSIDE:
        how = f"the process at work on it was ended from outside (signal {_signal_name(-code)}): by somebody"
        return FaultKind.ENDED, f"{how}, or by a system that ran out of memory"
    how = f"signal {_signal_name(-code)}" if code < 0 else f"exit code {code}"
    what = f"the process at work on it broke off ({how}): it may be damaged, or need more memory than is allowed"
    return FaultKind.DIED, what


def _signal_name(number: int) -> str:
    try:
        return signal.Signals(number).name
    except ValueError:
        return str(number)
