"""A limit of processor time for a part of a job, where overrunning costs that part only and not the job."""

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager

_AGAIN_AFTER = 1.0


class OutOfTimeError(BaseException):
    """A part of a job took longer than it may.

    It is no `Exception`: libraries that go on after any of those would go on after this one too.
    """


@contextmanager
def at_most(seconds: float) -> Iterator[None]:
    """Stop what is done within after so many seconds of processor time.

    It is asked again every second, should what is done within have swallowed the first. A call into a library that
    never comes back is not stopped by it, but by the limit of the worker. Signals reach the main thread alone: in any
    other there is no limit here.

    Raises:
        OutOfTimeError: it was stopped.
    """
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGPROF, _stop)
    signal.setitimer(signal.ITIMER_PROF, seconds, _AGAIN_AFTER)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


def _stop(_signal: int, _frame: object) -> None:
    raise OutOfTimeError
