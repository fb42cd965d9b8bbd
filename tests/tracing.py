"""Run a few lines of Python under strace: see the system calls in order, or make one of them fail."""

import os
import subprocess
import sys
from pathlib import Path


def trace(code: str, *arguments: str | Path, calls: str, log: Path) -> "subprocess.CompletedProcess[str]":
    """Run code in a Python of its own; the named system calls are written to `log`, one a line.

    Args:
        code: what to run; `sys.argv[1:]` are the arguments.
        arguments: for the code.
        calls: names of system calls, with commas; `/` before a regular expression.
        log: the file that strace writes.
    """
    return _under_strace(code, arguments, ["-e", f"trace={calls}"], log, unmeasured())


def run_with_fault(code: str, *arguments: str | Path, fault: str, log: Path) -> "subprocess.CompletedProcess[str]":
    """Run code in a Python of its own while a system call fails as it would on a bad disk.

    Args:
        code: what to run; `sys.argv[1:]` are the arguments.
        arguments: for the code.
        fault: what strace does to which call, such as `fsync:error=EIO:when=2`.
        log: the file that strace writes.
    """
    done = _under_strace(
        code, arguments, ["-e", f"trace={fault.partition(':')[0]}", "-e", f"inject={fault}"], log, dict(os.environ)
    )
    marks = ("(INJECTED)", "(DELAYED)")
    assert any(mark in log.read_text() for mark in marks), f"{fault} never happened: {done.stderr}"
    return done


def unmeasured() -> dict[str, str]:
    """The environment without what measures coverage in children, which writes files of its own and takes its time."""
    return {name: value for name, value in os.environ.items() if not name.startswith("COVERAGE_")}


def _under_strace(
    code: str, arguments: tuple[str | Path, ...], options: list[str], log: Path, environment: dict[str, str]
) -> "subprocess.CompletedProcess[str]":
    command = ["strace", "-f", "-qq", "-e", "signal=none", *options, "-o", str(log), sys.executable, "-c", code]
    return subprocess.run(
        [*command, *map(str, arguments)], capture_output=True, text=True, check=False, env=environment
    )


def named_calls(log: Path) -> list[str]:
    """The names of the traced calls, in order."""
    lines = [line.split(maxsplit=1)[1] for line in log.read_text().splitlines()]
    return [line.partition("(")[0] for line in lines if "(" in line]
