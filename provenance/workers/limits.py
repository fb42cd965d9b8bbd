"""Limits that the operating system holds a child process to, whatever happens to its parent."""

import math
import os
import resource
import shutil
import signal
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

_SPARE_SECONDS = 30


def usable_cores() -> int:
    """Count the processor cores that this process may use; at least 1."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def limit_memory(memory_bytes: int | None) -> None:
    """Limit the private memory of this process, and of each program that it starts, to so many bytes.

    `RLIMIT_DATA` counts private writable memory alone (Linux 4.7 and later, setrlimit(2)); `RLIMIT_AS` would count
    shared libraries and mapped originals too. A system that does not know or keep the limit goes without it.

    Args:
        memory_bytes: None for no limit.
    """
    _set_soft(resource.RLIMIT_CORE, 0)
    if memory_bytes is not None:
        _set_soft(resource.RLIMIT_DATA, memory_bytes)


def limit_output(output_bytes: int | None) -> None:
    """Limit each file that this process, or a program that it starts, writes to so many bytes (setrlimit(2)).

    Python is told of a file that is full (EFBIG); a program that does not look at the signal is ended by it.

    Args:
        output_bytes: None for no limit.
    """
    if output_bytes is not None:
        _set_soft(resource.RLIMIT_FSIZE, output_bytes)


@contextmanager
def limited_time(seconds: float) -> Iterator[None]:
    """End this process when what is done here takes much longer than so many seconds, by either clock.

    The parent keeps the time; these two clocks still tick when the parent is gone and the child is stuck in a library
    that never lets its other threads run, be it at work or waiting. The system ends it then, without asking.
    """
    _set_soft(resource.RLIMIT_CPU, math.ceil(time.process_time() + seconds) + _SPARE_SECONDS)
    signal.setitimer(signal.ITIMER_REAL, seconds + _SPARE_SECONDS)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)


def die_with_parent(lifeline: int, scratch: Path) -> threading.Thread:
    """End this process and every program it started as soon as the parent is gone, and remove their temporary files.

    Args:
        lifeline: the reading end of a pipe whose writing end is held by the parent alone; nothing is ever written to
            it, so that reading ends only with the parent.
        scratch: the folder of this process's temporary files, made for it by its parent.

    Returns:
        What keeps watch; it ends with this process and not before.
    """

    def watch() -> None:
        os.read(lifeline, 1)
        shutil.rmtree(scratch, ignore_errors=True)
        os.killpg(0, signal.SIGKILL)

    thread = threading.Thread(target=watch, name="lifeline", daemon=True)
    thread.start()
    return thread


def _set_soft(limit: int, wanted: int) -> None:
    """Set the soft limit, at most to the hard one."""
    _, hard = resource.getrlimit(limit)
    soft = wanted if hard == resource.RLIM_INFINITY else min(wanted, hard)
    try:
        resource.setrlimit(limit, (soft, hard))
    except (ValueError, OSError):  # a system that does not keep this limit
        return
