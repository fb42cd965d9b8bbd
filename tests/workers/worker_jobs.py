"""Jobs that misbehave in every way that a page can."""

import os
import resource
import signal
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable
from pathlib import Path
from typing import Never, cast

from provenance.errors import ToolMissingError, UnreadableOriginalError


def double(number: int) -> int:
    return number * 2


def misbehave(job: tuple[str, str]) -> str:
    how, argument = job
    return _WAYS[how](argument)


def _kill_this_process(_: str) -> str:
    os.kill(os.getpid(), signal.SIGKILL)
    return "never"


def _abort(_: str) -> str:
    print("the library is beside itself", file=sys.stderr, flush=True)
    os.abort()


def _leave(_: str) -> str:
    os._exit(7)


def _hang(_: str) -> str:
    time.sleep(600)
    return "late"


def _hang_with_grandchild(seconds: str) -> str:
    subprocess.run(["sleep", seconds], check=True)
    return "late"


def _cut_short(name: str) -> str:
    raise UnreadableOriginalError(f"{name} is cut short", "get it again")


def _no_tool(_: str) -> str:
    raise ToolMissingError("no recogniser", "install it")


def _bug(what: str) -> str:
    raise ZeroDivisionError(what)


def _litter(name: str) -> str:
    Path(tempfile.gettempdir(), name).write_text("left behind", encoding="utf-8")
    return tempfile.gettempdir()


_WAYS: dict[str, Callable[[str], str]] = {
    "echo": str,
    "hang": _hang,
    "hang-with-grandchild": _hang_with_grandchild,
    "die": _kill_this_process,
    "abort": _abort,
    "leave": _leave,
    "eat": lambda size: str(len(bytearray(int(size)))),
    "unreadable": _cut_short,
    "tool": _no_tool,
    "bug": _bug,
    "litter": _litter,
    "unpicklable": lambda _: cast("str", threading.Lock()),
}


class NeverArrives:
    """A function whose process ends as soon as it is unpacked there."""

    def __call__(self, job: int) -> int:
        return job

    def __reduce__(self) -> tuple[Callable[[int], Never], tuple[int]]:
        return os._exit, (3,)


def slow_echo(seconds: float) -> float:
    time.sleep(seconds)
    return seconds


def processor_limit(_: int) -> int:
    return resource.getrlimit(resource.RLIMIT_CPU)[0]


def process_number(_: int) -> int:
    time.sleep(0.05)
    return os.getpid()
