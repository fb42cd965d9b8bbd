"""Jobs that misbehave in every way that a page can."""

import ctypes
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


def _ignore_signals(seconds: str) -> str:
    for number in (signal.SIGTERM, signal.SIGINT, signal.SIGHUP, signal.SIGALRM):
        signal.signal(number, signal.SIG_IGN)
    return _hang_with_grandchild(seconds)


def _hold_the_interpreter(seconds: str) -> str:
    """Wait in a library that lets no other thread of this process run meanwhile, as a stuck one may."""
    ctypes.PyDLL(None).usleep(int(float(seconds) * 1_000_000))
    return "late"


def _write_one_large_file(size: str) -> str:
    with Path(tempfile.gettempdir(), "large").open("wb") as file:
        file.writelines(bytes(1_000_000) for _ in range(int(size) // 1_000_000))
    return "written"


def _have_a_program_write_one_large_file(size: str) -> str:
    file = Path(tempfile.gettempdir(), "large")
    command = ["dd", "if=/dev/zero", f"of={file}", "bs=1000000", f"count={int(size) // 1_000_000}"]
    return str(subprocess.run(command, check=False, capture_output=True).returncode)


def _write_many_files(size: str) -> str:
    for number in range(100_000):
        Path(tempfile.gettempdir(), str(number)).write_bytes(bytes(int(size)))
        time.sleep(0.01)
    return "written"


def _chatter(size: str) -> str:
    """Write to the error output; in pieces, as libraries do."""
    for _ in range(int(size) // 1000):
        os.write(2, b"a warning " * 100)
    return "said"


def _fall_silent(_: str) -> str:
    """Begin an answer, and never end it."""
    os.write(int(sys.argv[2]), bytes(3))
    time.sleep(600)
    return "late"


def _announce(length: str) -> str:
    """Announce an answer of such a length."""
    os.write(int(sys.argv[2]), int(length).to_bytes(8, "big"))
    time.sleep(600)
    return "late"


def _full_disk(_: str) -> str:
    with Path("/dev/full").open("wb", buffering=0) as file:  # full(4): every write fails for want of room
        file.write(b"a page")
    return "written"


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
    "ignore-signals": _ignore_signals,
    "hold": _hold_the_interpreter,
    "large-file": _write_one_large_file,
    "large-file-of-a-program": _have_a_program_write_one_large_file,
    "many-files": _write_many_files,
    "chatter": _chatter,
    "fall-silent": _fall_silent,
    "announce": _announce,
    "long-answer": lambda size: "x" * int(size),
    "full-disk": _full_disk,
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


def seconds_left(_: int) -> float:
    return signal.getitimer(signal.ITIMER_REAL)[0]


def process_number(_: int) -> int:
    time.sleep(0.05)
    return os.getpid()
