"""Limits that the operating system holds a child process to, whatever happens to its parent."""

import math
import os
import resource
import shutil
import signal
import threading
import time
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


def limit_processor_time(seconds: float) -> None:
    """Give this process so many seconds of processor time from now, and some to spare.

    The parent keeps the clock of the wall; this one still ticks when the parent is gone and the child is stuck in a
    library that never lets its other threads run.
    """
    _set_soft(resource.RLIMIT_CPU, math.ceil(time.process_time() + seconds) + _SPARE_SECONDS)


def die_with_parent(lifeline: int, scratch: Path) -> None:
    """End this process and every program it started as soon as the parent is gone, and remove their temporary files.

    Args:
        lifeline: the reading end of a pipe whose writing end is held by the parent alone; nothing is ever written to
            it, so that reading ends only with the parent.
        scratch: the folder of this process's temporary files, made for it by its parent.
    """

    def watch() -> None:
        os.read(lifeline, 1)
        shutil.rmtree(scratch, ignore_errors=True)
        os.killpg(0, signal.SIGKILL)

    threading.Thread(target=watch, name="lifeline", daemon=True).start()


def _set_soft(limit: int, wanted: int) -> None:
    """Set the soft limit, at most to the hard one."""
    _, hard = resource.getrlimit(limit)
    soft = wanted if hard == resource.RLIM_INFINITY else min(wanted, hard)
    try:
        resource.setrlimit(limit, (soft, hard))
    except (ValueError, OSError):  # a system that does not keep this limit
        return
