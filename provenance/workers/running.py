"""Running many jobs in child processes, each job within limits of its own."""

import time
from collections import deque
from collections.abc import Callable, Generator, Iterable
from multiprocessing.connection import wait
from typing import Any

from provenance.workers.crew import Child, start_child
from provenance.workers.limits import usable_cores
from provenance.workers.outcomes import Fault, FaultKind, Job, Outcome, Value

_STARTS_TO_TRY = 3


def run_in_workers(
    function: Callable[[Job], Value],
    jobs: Iterable[Job],
    *,
    workers: int | None = None,
    seconds_each: float,
    memory_bytes: int | None = None,
    on_progress: Callable[[int, int], None] | None = None,
) -> Generator[Outcome[Job, Value], None, None]:
    """Call a function with each job in child processes, and give the outcomes as they come.

    The children live as long as there are jobs. One that overruns its time is killed with every program that it
    started, and replaced; so is one that dies. That costs its own job and no other. Whatever ends this generator
    (its last outcome, Ctrl-C, `close`) ends the children; wrap it in `contextlib.closing` where the loop over it may
    be left early. Should the parent be killed, its children end by themselves.

    Args:
        function: takes one job; a top-level function of an importable module (it is handed over by its name).
        jobs: picklable; taken up in their order.
        workers: how many children at most; None for as many as there are usable cores.
        seconds_each: what a job may take by the clock on the wall; starting a child is not counted.
        memory_bytes: private memory of a child, and of each program that it starts; None for no limit.
        on_progress: called after each outcome with the number of jobs done and of all.

    Raises:
        RuntimeError: children die before they take a job (their last words are in the message).
    """
    waiting = deque(jobs)
    crew = _Crew(function, workers or usable_cores(), seconds_each=seconds_each, memory_bytes=memory_bytes)
    total = len(waiting)
    try:
        for done in range(1, total + 1):
            outcome = crew.next_outcome(waiting)
            crew.give_out(waiting)
            if on_progress is not None:
                on_progress(done, total)
            yield outcome
    finally:
        crew.end()


class _Crew:
    """The children of one run."""

    def __init__(
        self, function: Callable[[Any], Any], size: int, *, seconds_each: float, memory_bytes: int | None
    ) -> None:
        self._function = function
        self._size = size
        self._seconds_each = seconds_each
        self._memory_bytes = memory_bytes
        self._children: list[Child] = []
        self._finished: deque[Outcome[Any, Any]] = deque()
        self._failed_starts = 0

    def fill(self, jobs_waiting: int) -> None:
        """Start the children that are missing, as far as there is something for them to do."""
        wanted = min(self._size, jobs_waiting + sum(child.is_busy for child in self._children))
        while len(self._children) < wanted:
            self._children.append(start_child(self._function, self._seconds_each, self._memory_bytes))

    def give_out(self, waiting: deque[Any]) -> None:
        """Give a job to each child that has none, while there are jobs."""
        for child in self._children:
            if child.is_ready and not child.is_busy and waiting:
                child.take(waiting.popleft(), self._seconds_each)

    def next_outcome(self, waiting: deque[Any]) -> Outcome[Any, Any]:
        """Wait until a job has ended one way or the other."""
        while not self._finished:
            self.fill(len(waiting))
            self.give_out(waiting)
            nearest = min(child.deadline for child in self._children)
            pause = max(0.0, nearest - time.monotonic()) if nearest < float("inf") else None
            spoken = wait([child.connection for child in self._children], pause)
            for child in [child for child in self._children if child.connection in spoken]:
                self._hear(child)
            for child in [child for child in self._children if child.deadline <= time.monotonic()]:
                self._stop_late(child)
        return self._finished.popleft()

    def end(self) -> None:
        """End every child and every program that they started."""
        while self._children:
            self._children.pop().end()

    def _hear(self, child: Child) -> None:
        """Take what a child sent, or its death."""
        was_ready = child.is_ready
        reply = child.answer()
        if reply is None:
            self._bury(child)
        elif was_ready:
            self._finished.append(Outcome(job=child.job, value=reply.value, fault=reply.fault))
            if reply.fault is not None and reply.fault.kind is FaultKind.MEMORY:
                self._dismiss(child)  # what is left of its memory is in pieces
        else:
            self._failed_starts = 0

    def _bury(self, child: Child) -> None:
        """Note how a child died; its job, if it had one, is lost."""
        fault = child.explain_death()
        if child.is_busy:
            self._finished.append(Outcome(job=child.job, fault=fault))
        elif not child.is_ready:
            self._failed_starts += 1
            if self._failed_starts >= _STARTS_TO_TRY:
                raise RuntimeError(f"no worker could be started: {fault.what}\n{fault.detail}")
        self._dismiss(child)

    def _stop_late(self, child: Child) -> None:
        """Kill a child that overran its time."""
        if not child.is_ready:
            raise RuntimeError(f"a worker did not start\n{child.last_words()}")
        what = f"it was stopped after {self._seconds_each:g} seconds"
        self._finished.append(Outcome(job=child.job, fault=Fault(kind=FaultKind.TIME, what=what)))
        self._dismiss(child)

    def _dismiss(self, child: Child) -> None:
        """End a child; another is started in its place when there is something to do."""
        self._children.remove(child)
        child.end()
