"""Disks that are read-only or full, for one command: mounts in a name space of their own, gone with the process."""

import os
import subprocess
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from pathlib import Path

READ_ONLY = 'mount --bind "$1" "$1" && mount -o remount,bind,ro "$1" && shift && exec "$@"'
SMALL = 'mount -t tmpfs -o "size=$2" tmpfs "$1" && echo ready && exec cat'
NOBODY = 65534
"""The id of the account that owns nothing (as Linux has it in /proc/sys/kernel/overflowuid)."""


def _unshared() -> list[str]:
    """A name space of mounts; somebody who is not root is made so inside a name space of accounts."""
    return ["unshare", *(() if os.geteuid() == 0 else ("--map-root-user",)), "--mount", "--propagation", "private"]


@cache
def why_no_mounts() -> str:
    """Why nothing can be mounted here; empty where it can."""
    try:
        done = subprocess.run(
            [*_unshared(), "mount", "-t", "tmpfs", "tmpfs", "/mnt"], capture_output=True, text=True, check=False
        )
    except OSError as error:
        return f"unshare: {error.strerror}"
    return done.stderr.strip()


def run_read_only(
    folder: Path, line: Sequence[str], environment: Mapping[str, str]
) -> "subprocess.CompletedProcess[str]":
    """Run a command for which a folder lies on a disk that is mounted read-only."""
    command = [*_unshared(), "sh", "-c", READ_ONLY, "sh", str(folder), *line]
    return _run(command, environment)


def as_nobody() -> list[str]:
    """What stands before a command that an account without rights is to run; nothing where we are not root."""
    ids = [f"--reuid={NOBODY}", f"--regid={NOBODY}", "--clear-groups"]
    return ["setpriv", *ids] if os.geteuid() == 0 else []


@dataclass(frozen=True, slots=True, kw_only=True)
class SmallDisk:
    """A disk of a few pages of memory.

    Attributes:
        folder: where it is mounted for the commands that `run` runs.
        seen: the same folder as this process sees it.
        holder: the process whose name space has it.
    """

    folder: Path
    seen: Path
    holder: int

    def run(self, line: Sequence[str], environment: Mapping[str, str]) -> "subprocess.CompletedProcess[str]":
        """Run a command that sees the disk."""
        spaces = ["--mount"] if os.geteuid() == 0 else ["--user", "--preserve-credentials", "--mount"]
        return _run(["nsenter", "--target", str(self.holder), *spaces, "--", *line], environment)

    def fill(self, *, but: int = 0) -> Path:
        """Fill it with one file to the last page, but for so many bytes; that file."""
        filler = self.seen / "filler"
        with filler.open("wb", buffering=0) as file:
            try:
                while file.write(bytes(4096)):
                    pass
            except OSError:
                file.truncate(file.tell() - but)
        return filler


@contextmanager
def small_disk(folder: Path, *, size: int) -> Iterator[SmallDisk]:
    """Hold a disk of that many bytes, mounted at a folder."""
    folder.mkdir()
    command = [*_unshared(), "sh", "-c", SMALL, "sh", str(folder), str(size)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE) as holder:
        assert holder.stdout is not None
        assert holder.stdout.readline() == b"ready\n"
        yield SmallDisk(folder=folder, seen=Path(f"/proc/{holder.pid}/root{folder}"), holder=holder.pid)


def _run(command: Sequence[str], environment: Mapping[str, str]) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(command, capture_output=True, text=True, check=False, env=dict(environment), timeout=300)
