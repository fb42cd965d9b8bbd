"""What a command did to files, read from what strace saw of it: whether each was written so that a power cut spares it.

A file is written safely when its bytes go to a file beside it, are flushed (fsync), take the name in one step (link or
rename), and the folder is flushed last: fsync(2) says that flushing a file does not flush its entry in the folder.
"""

import os
import re
import subprocess
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

CALLS = "/^(open|creat|p?write|fsync|fdatasync|rename|link|symlink|unlink|mkdir|truncate|copy_file_range|sendfile)"
_LINE = re.compile(r"(?P<process>\d+) +(?P<rest>.*)")
_CALL = re.compile(r"(?P<name>\w+)\((?P<arguments>.*)\) += (?P<result>-?\d+).*")
_RESUMED = re.compile(r"<\.\.\. \w+ resumed>(.*)")
_UNFINISHED = " <unfinished ...>"
_NAMED = re.compile(r'(?:(?:\d+|AT_FDCWD)<([^>]*)>, )?"((?:[^"\\]|\\.)*)"')
_OPEN_FILE = re.compile(r"\d+<([^>]*)>")


class Did(StrEnum):
    """What one call did."""

    OPENED = "opened for writing"
    WROTE = "wrote"
    FLUSHED = "flushed"
    NAMED = "named"
    REMOVED = "removed"
    MADE_FOLDER = "made a folder"


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """One call that succeeded.

    Attributes:
        path: of the file or folder; of a naming the new name.
        before: of a naming the name that the file had.
        size: of a write how many bytes.
    """

    did: Did
    path: str
    before: str = ""
    size: int = 0


def strace(
    line: Sequence[str], *options: str, log: Path, environment: Mapping[str, str], cwd: Path | None = None
) -> "subprocess.CompletedProcess[str]":
    """Run a command and all that it starts under strace, with the paths of open files in the log."""
    # The quick way of stopping at system calls sends no signals at them.
    quick = [] if any("signal=KILL" in option for option in options) else ["--seccomp-bpf"]
    command = ["strace", "-f", "-qq", *quick, "-y", "-s", "0", "-e", "signal=none", *options, "-o", str(log)]
    return subprocess.run(
        [*command, *line], capture_output=True, text=True, check=False, env=dict(environment), timeout=300, cwd=cwd
    )


def whole_calls(log: str) -> Iterator[tuple[str, str, int]]:
    """Each call in the order in which they ended: its name, its arguments, and what it gave back."""
    waiting: dict[str, str] = {}
    for text in log.splitlines():
        line = _LINE.fullmatch(text)
        if line is None:
            continue
        process, rest = line["process"], line["rest"]
        if rest.endswith(_UNFINISHED):
            waiting[process] = rest.removesuffix(_UNFINISHED)
            continue
        resumed = _RESUMED.fullmatch(rest)
        call = _CALL.fullmatch(waiting.pop(process, "") + resumed[1] if resumed else rest)
        if call is not None:
            yield call["name"], call["arguments"], int(call["result"])


def events(log: str, *, folder: Path) -> list[Event]:
    """What was done to files, in order; paths that are not whole begin at `folder`, where the command was run."""
    return [event for name, arguments, result in whole_calls(log) for event in _event(name, arguments, result, folder)]


def _event(name: str, arguments: str, result: int, folder: Path) -> Iterator[Event]:
    if result < 0:
        return
    paths = [os.path.join(base or folder, named) for base, named in _NAMED.findall(arguments)]  # noqa: PTH118  as texts
    open_file = _OPEN_FILE.match(arguments)
    if name.startswith(("write", "pwrite")) and open_file:
        yield Event(did=Did.WROTE, path=open_file[1], size=result)
    elif name in {"fsync", "fdatasync"} and open_file:
        yield Event(did=Did.FLUSHED, path=open_file[1])
    elif name.startswith(("rename", "link")):
        yield Event(did=Did.NAMED, path=paths[1], before=paths[0])
    elif name.startswith("unlink"):
        yield Event(did=Did.REMOVED, path=paths[0])
    elif name.startswith("mkdir"):
        yield Event(did=Did.MADE_FOLDER, path=paths[0])
    elif re.search(r"O_(WRONLY|RDWR|TRUNC|CREAT)|^\"", arguments) and name.startswith(("open", "creat")):
        yield Event(did=Did.OPENED, path=paths[0])
    elif name.startswith(("copy_file_range", "sendfile", "truncate", "symlink")):
        yield Event(did=Did.OPENED, path=(paths or [arguments])[-1])


def unsafe_writes(
    done: Sequence[Event], before: Mapping[str, bytes], after: Mapping[str, bytes], *, top: Path
) -> list[str]:
    """Name everything that a power cut in the middle could have spoilt; empty when all was written safely.

    Args:
        done: what the command did, in order.
        before: the files as they were, by path below `top`.
        after: the files as they are.
        top: the folder that holds them.
    """
    changed = [name for name in after if after[name] != before.get(name)]
    faults = [fault for name in changed for fault in _unsafe_file(done, str(top / name), len(after[name]))]
    safe_from = max((_named_at(done, str(top / name)) for name in changed), default=-1)
    for name in before.keys() - after.keys():
        faults += _unsafe_removal(done, str(top / name), safe_from)
    return sorted([*faults, *_unsafe_folders(done, {str(top / name) for name in changed})])


def _named_at(done: Sequence[Event], path: str) -> int:
    """When a file last got its name; -1 when it was never given one."""
    return max((at for at, each in enumerate(done) if each.did is Did.NAMED and each.path == path), default=-1)


def _flushed(done: Sequence[Event], path: str, *, after: int, until: int | None = None) -> bool:
    return any(each.did is Did.FLUSHED and each.path == path for each in done[after + 1 : until])


def _unsafe_file(done: Sequence[Event], path: str, size: int) -> Iterator[str]:
    if any(each.did is Did.OPENED and each.path == path for each in done):
        yield f"{path} was written where it stands"
    named = _named_at(done, path)
    if named < 0:
        yield f"{path} did not get its name in one step"
        return
    aside = done[named].before
    writes = [at for at, each in enumerate(done[:named]) if each.did is Did.WROTE and each.path == aside]
    if sum(done[at].size for at in writes) != size:
        yield f"{path} got its name before it was whole"
    if not _flushed(done, aside, after=max(writes, default=-1), until=named):
        yield f"{path} got its name before its bytes were flushed"
    if not _flushed(done, _folder(path), after=named):
        yield f"the folder of {path} was not flushed after it got its name"


def _unsafe_removal(done: Sequence[Event], path: str, safe_from: int) -> Iterator[str]:
    removed = max((at for at, each in enumerate(done) if each.did is Did.REMOVED and each.path == path), default=-1)
    if removed < safe_from:
        yield f"{path} was removed before all was written that takes its place"
    if not _flushed(done, _folder(path), after=removed):
        yield f"the folder of {path} was not flushed after it went"


def _unsafe_folders(done: Sequence[Event], changed: set[str]) -> Iterator[str]:
    """New folders on the way to a file that was written: each must be on the disk before the file gets its name."""
    for at, each in enumerate(done):
        inside = [path for path in changed if path.startswith(f"{each.path}/")]
        if each.did is Did.MADE_FOLDER and inside:
            first = min(_named_at(done, path) for path in inside)
            if not _flushed(done, _folder(each.path), after=at, until=max(first, 0)):
                yield f"the folder {each.path} was not flushed into the one above it"


def _folder(path: str) -> str:
    return path.rpartition("/")[0]
