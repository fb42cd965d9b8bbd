"""What a whole collection of scans costs the process that takes it in: memory from the 1,000th file to the last, pace.

By hand with the number of files (a real night is 20,000):

    PYTHONPATH=tests .venv/bin/python -m bench.measure_long_night 20000
"""

import io
import random
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from bench.figures import Figure, run_program, seconds
from PIL import Image, ImageDraw

PROVENANCE = Path(sys.executable).with_name("provenance")
FILES = 2000
SETTLED = 1000
"""From this file on memory is to stay as it is; before it, libraries are still being loaded."""

_GROWTH_MB = 50.0
_EACH = 0.25  # seconds between two looks
_WORDS = ("lamp", "bracket", "cantrail", "buffer", "spring", "axle", "window", "handle", "brass", "oak")


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """What was seen of the ingesting process at one moment: its memory in MB, and how far it is."""

    at: float
    memory: float
    registered: int
    read: int


def measure(folder: Path, files: int = FILES) -> Iterator[Figure]:
    """Take in so many pictures as far as registering goes, then as many texts the whole way, then those again."""
    yield from _of_pictures(folder / "pictures", files)
    yield from _of_texts(folder / "texts", files)


def _of_pictures(folder: Path, files: int) -> Iterator[Figure]:
    """Recognising 20,000 pictures takes hours, so Ctrl-C ends it when the first few are read."""
    command = _prepare(folder, files, "png", _picture)
    looks = _watch(command, folder / "archive", stop=lambda look: look.read >= 3)
    registering = [look for look in looks if 0 < look.registered < files]
    yield from _pace(f"registering {files} pictures", registering, lambda look: look.registered)
    yield from _growth(f"registering {files} pictures", registering, lambda look: look.registered)
    opened = [look.memory for look in looks if look.registered == files]
    yield Figure(name=f"opening {files} records, memory", value=max(opened) - registering[-1].memory, unit="MB")


def _of_texts(folder: Path, files: int) -> Iterator[Figure]:
    command = _prepare(folder, files, "txt", _text)
    looks = _watch(command, folder / "archive", stop=lambda _: False)
    reading = [look for look in looks if look.read and look.read < files]
    yield from _pace(f"reading {files} texts", reading, lambda look: look.read)
    yield from _growth(f"reading {files} texts", reading, lambda look: look.read)
    yield Figure(name=f"ingest of {files} texts, largest memory", value=max(x.memory for x in looks), unit="MB")
    yield Figure(name=f"ingest of {files} texts", value=looks[-1].at - looks[0].at, unit="s")
    again = seconds(lambda: run_program(command, cwd=folder))
    yield Figure(name=f"ingest of the same {files} texts again", value=again, unit="s")


def _pace(what: str, looks: list[Look], count: Callable[[Look], int]) -> Iterator[Figure]:
    first, last = looks[0], looks[-1]
    pace = (count(last) - count(first)) / max(last.at - first.at, _EACH)
    yield Figure(name=f"{what}, pace", value=pace, unit="files/s", more_is_better=True)


def _growth(what: str, looks: list[Look], count: Callable[[Look], int]) -> Iterator[Figure]:
    settled = [look.memory for look in looks if count(look) >= SETTLED] or [looks[-1].memory]
    yield Figure(name=f"{what}, memory at number {SETTLED}", value=settled[0], unit="MB")
    growth = max(settled) - settled[0]
    yield Figure(name=f"{what}, memory beyond that at number {SETTLED}", value=growth, unit="MB", promised=_GROWTH_MB)


def _prepare(folder: Path, files: int, ending: str, make: Callable[[int], bytes]) -> list[str]:
    received, archive = folder / "received", folder / "archive"
    received.mkdir(parents=True)
    for number in range(files):
        (received / f"scan-{number:05}.{ending}").write_bytes(make(number))
    run_program([PROVENANCE, "new", archive, "--by", "mh"], cwd=folder)
    return [str(PROVENANCE), "--archive", str(archive), "ingest", str(received), "--by", "mh"]


def _picture(number: int) -> bytes:
    page = Image.new("1", (160, 40), 1)
    ImageDraw.Draw(page).text((8, 8), f"No. {number}", fill=0)
    written = io.BytesIO()
    page.save(written, "PNG")
    return written.getvalue()


def _text(number: int) -> bytes:
    chance = random.Random(number)
    return f"{number}\n{' '.join(chance.choice(_WORDS) for _ in range(200))}\n".encode()


def _watch(command: list[str], archive: Path, *, stop: Callable[[Look], bool]) -> list[Look]:
    """Run a command and look at its process until it ends; Ctrl-C it as soon as a look says so."""
    looks = []
    with tempfile.TemporaryFile() as said:
        process = subprocess.Popen(command, stdout=said, stderr=said)
        while process.poll() is None:
            memory = _resident(process.pid)
            if memory:
                read = _count(archive / ".derived" / "readings")
                looks.append(
                    Look(at=time.monotonic(), memory=memory, registered=_count(archive / "sources"), read=read)
                )
                if stop(looks[-1]):
                    process.send_signal(signal.SIGINT)
                    process.wait()
            time.sleep(_EACH)
        said.seek(0)
        if process.returncode not in {0, 130}:
            raise ValueError(f"ingest ended with {process.returncode}: {said.read()[-2000:]!r}")
    return looks


def _resident(process: int) -> float:
    """The memory of a process itself, without its children, in MB; 0 when it has just ended (proc(5), VmRSS)."""
    try:
        status = Path(f"/proc/{process}/status").read_text(encoding="utf-8").splitlines()
    except OSError:
        return 0.0
    return next((int(line.split()[1]) * 1024 / 1e6 for line in status if line.startswith("VmRSS:")), 0.0)


def _count(folder: Path) -> int:
    try:
        return sum(1 for _ in folder.iterdir())
    except OSError:
        return 0


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as scratch:
        for figure in measure(Path(scratch), int(sys.argv[1]) if sys.argv[1:] else FILES):
            print(figure, flush=True)
