"""Running many jobs in child processes, each job within limits of its own."""

import tempfile
import time
from collections import deque
from collections.abc import Callable, Generator, Iterable, Sized
from itertools import islice
from multiprocessing.connection import wait
from typing import Any

from provenance.errors import DerivedDataError, ProvenanceError, WriteRefusedError
from provenance.workers.child import Limits, Reply
from provenance.workers.crew import Child, start_child
from provenance.workers.limits import usable_cores
from provenance.workers.messages import TooLongError
from provenance.workers.outcomes import Fault, FaultKind, Job, Outcome, Value
from provenance.workers.scratch import FULL_OR_SHUT, remove_leftovers

OUTPUT_BYTES = 512 * 1024**2
"""What the temporary files of one job and its log may hold together: the largest page picture takes a third of it."""

_STARTS_TO_TRY = 3
_SECONDS_BETWEEN_LOOKS = 1.0


def run_in_workers(
    function: Callable[[Job], Value],
    jobs: Iterable[Job],
    *,
    workers: int | None = None,
    seconds_each: float,
    memory_bytes: int | None = None,
    output_bytes: int | None = OUTPUT_BYTES,
    on_progress: Callable[[int, int], None] | None = None,
    on_wait: Callable[[], None] | None = None,
) -> Generator[Outcome[Job, Value], None, None]:
    """Call a function with each job in child processes, and give the outcomes as they come.

    The children live as long as there are jobs. One that overruns its time is killed with every program that it
    started, and replaced; so is one that dies, or that fills the disk. That costs its own job and no other. Whatever
    ends this generator (its last outcome, Ctrl-C, `close`) ends the children; wrap it in `contextlib.closing` where
    the loop over it may be left early. Should the parent be killed, its children end by themselves.

    Args:
        function: takes one job; a top-level function of an importable module (it is handed over by its name).
        jobs: picklable; taken up in their order, one at a time as children become free, so that they need not all be
            there at once.
        workers: how many children at most; None for as many as there are usable cores.
        seconds_each: what a job may take by the clock on the wall; starting a child is not counted.
        memory_bytes: private memory of a child, and of each program that it starts; None for no limit.
        output_bytes: what a job may have in temporary files and write to its error output, together, and the largest
            single file; None for no limit.
        on_progress: called after each outcome with the number of jobs done and of all; jobs that cannot be counted
            beforehand cannot be told of.
        on_wait: called about once a second while jobs are at work and none ends; what it raises ends the run.

    Raises:
        RuntimeError: children die before they take a job (their last words are in the message).
        WriteRefusedError: no child can be started, because the disk of the temporary files is full.
        DerivedDataError: no child can be started, because the system has no room for another process.
    """
    limits = Limits(seconds=seconds_each, memory_bytes=memory_bytes, output_bytes=output_bytes)
    remove_leftovers()
    crew = _Crew(function, _Waiting(jobs), workers or usable_cores(), limits)
    crew.on_wait = on_wait
    total = len(jobs) if isinstance(jobs, Sized) else None
    done = 0
    try:
        while (outcome := crew.next_outcome()) is not None:
            done += 1
            crew.give_out()
            if on_progress is not None and total is not None:
                on_progress(done, total)
            yield outcome
    finally:
        crew.end()


class _Waiting:
    """The jobs that are still to be given out; few of them are held at a time."""

    def __init__(self, jobs: Iterable[Any]) -> None:
        self._jobs = iter(jobs)
        self._held: deque[Any] = deque()

    def count(self, at_most: int) -> int:
        """How many there are, counted no further than asked."""
        self._held.extend(islice(self._jobs, max(0, at_most - len(self._held))))
        return min(len(self._held), at_most)

    def pop(self) -> Any:
        """Take the next job, once it is known that there is one."""
        return self._held.popleft()


class _Crew:
    """The children of one run."""

    def __init__(self, function: Callable[[Any], Any], waiting: _Waiting, size: int, limits: Limits) -> None:
        self._function = function
        self._waiting = waiting
        self._size = size
        self._limits = limits
        self._children: list[Child] = []
        self._finished: deque[Outcome[Any, Any]] = deque()
        self._failed_starts = 0
        self._next_look = 0.0
        self.on_wait: Callable[[], None] | None = None
        self._next_word = time.monotonic() + _SECONDS_BETWEEN_LOOKS

    def give_out(self) -> None:
        """Give a job to each child that has none, while there are jobs."""
        for child in self._children:
            if child.is_ready and not child.is_busy and self._waiting.count(1):
                child.take(self._waiting.pop())

    def next_outcome(self) -> Outcome[Any, Any] | None:
        """Wait until a job has ended one way or the other; None when all have."""
        while not self._finished:
            self._fill()
            self.give_out()
            # While a child is at work no job is looked for: which one comes next may hang on what was done meanwhile.
            if not any(child.is_busy for child in self._children) and not self._waiting.count(1):
                return None
            spoken = wait([child.connection for child in self._children], self._pause())
            for child in [child for child in self._children if child.connection in spoken]:
                self._hear(child)
            for child in [child for child in self._children if child.deadline <= time.monotonic()]:
                self._stop_late(child)
            self._look_at_output()
            self._tell_of_waiting()
        return self._finished.popleft()

    def _tell_of_waiting(self) -> None:
        """Say that nothing has ended, once in a while."""
        if self.on_wait is not None and time.monotonic() >= self._next_word:
            self._next_word = time.monotonic() + _SECONDS_BETWEEN_LOOKS
            if not self._finished:
                self.on_wait()

    def end(self) -> None:
        """End every child and every program that they started."""
        while self._children:
            self._children.pop().end()

    def _fill(self) -> None:
        """Start the children that are missing, as far as there is something for them to do."""
        busy = sum(child.is_busy for child in self._children)
        wanted = busy + self._waiting.count(self._size - busy)
        while len(self._children) < wanted:
            try:
                self._children.append(start_child(self._function, self._limits))
            except OSError as error:
                if not self._children:
                    raise _no_worker(error) from error
                return  # those that are there go on alone

    def _pause(self) -> float | None:
        """How long to wait for a word: until somebody is late, or until the next look at what they write."""
        times = [child.deadline for child in self._children]
        if self.on_wait is not None:
            times.append(self._next_word)
        if self._limits.output_bytes is not None and any(child.is_busy for child in self._children):
            times.append(self._next_look)
        nearest = min(times, default=float("inf"))
        return max(0.0, nearest - time.monotonic()) if nearest < float("inf") else None

    def _hear(self, child: Child) -> None:
        """Take in what a child sends, or its death."""
        was_ready = child.is_ready
        try:
            reply = child.answer()
        except TooLongError:
            self._give_up(child, FaultKind.OUTPUT, "its reading is longer than any may be")
        except (EOFError, OSError):
            self._bury(child)
        else:
            if reply is not None:
                self._take(reply, child, was_ready=was_ready)

    def _take(self, reply: Reply, child: Child, *, was_ready: bool) -> None:
        if not was_ready:
            self._failed_starts = 0
            return
        self._finished.append(Outcome(job=child.job, value=reply.value, fault=reply.fault))
        if reply.fault is not None and reply.fault.kind is FaultKind.MEMORY:
            self._dismiss(child)  # what is left of its memory is in pieces

    def _bury(self, child: Child) -> None:
        """Note how a child died; its job, if it had one, is lost."""
        fault = child.explain_death()
        if child.is_busy:
            self._finished.append(Outcome(job=child.job, fault=fault))
        elif not child.is_ready:
            self._note_failed_start(f"{fault.what}\n{fault.detail}")
        self._dismiss(child)

    def _stop_late(self, child: Child) -> None:
        """Kill a child that overran its time."""
        if child.is_ready:
            self._give_up(child, FaultKind.TIME, f"it was stopped after {self._limits.seconds:g} seconds")
        else:
            self._note_failed_start(f"it was not ready in time\n{child.last_words()}")
            self._dismiss(child)

    def _look_at_output(self) -> None:
        """Kill a child whose temporary files or log have grown too large; looked at once in a while."""
        if time.monotonic() < self._next_look:
            return
        self._next_look = time.monotonic() + _SECONDS_BETWEEN_LOOKS
        for child in [child for child in self._children if child.is_busy and child.writes_too_much()]:
            self._give_up(child, FaultKind.OUTPUT, "it was stopped: it writes more to the disk than one job may")

    def _note_failed_start(self, why: str) -> None:
        self._failed_starts += 1
        if self._failed_starts >= _STARTS_TO_TRY:
            raise RuntimeError(f"no worker could be started: {why}")

    def _give_up(self, child: Child, kind: FaultKind, what: str) -> None:
        """End a child together with the job that it is on."""
        self._finished.append(Outcome(job=child.job, fault=Fault(kind=kind, what=what, detail=child.last_words())))
        self._dismiss(child)

    def _dismiss(self, child: Child) -> None:
        """End a child; another is started in its place when there is something to do."""
        self._children.remove(child)
        child.end()


def _no_worker(error: OSError) -> ProvenanceError:
    """Why nothing can be read at all: without a process, or without room for its temporary files."""
    where = tempfile.gettempdir()
    if error.errno in FULL_OR_SHUT:
        return WriteRefusedError(
            f"no temporary files can be written in {where}: {error.strerror}",
            "make room there, or name a folder on another disk in the variable TMPDIR, then run the command again",
        )
    return DerivedDataError(
        f"no process can be started to read with: {error.strerror or error}",
        "end other programs, or read fewer pages at a time with --workers 1, then run the command again",
    )
