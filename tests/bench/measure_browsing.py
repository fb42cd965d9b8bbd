"""How long a page takes on an archive of 10,000 sources while four people read at once, all on the same two cores.

Every reader goes through the pages in an order of his own, from a fixed seed: the first page, searches, sources,
fittings, the machine, flags, copies, panels. The first round, in which verdicts are worked out, is told beside it.
"""

import random
import re
import subprocess
import sys
import time
import urllib.parse
import urllib.request
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from bench.figures import Figure
from bench.made_archives import SEED
from bench.measure_registers import FEW, SOURCES, make_large

_PROGRAM = Path(sys.executable).with_name("provenance")
_READERS = 4
_PAGES_EACH = 60


def measure(folder: Path) -> Iterator[Figure]:
    """Start the server, go through every sort of page once, then read with four readers."""
    archive = make_large(folder / "archive", FEW)
    subprocess.run([_PROGRAM, "--archive", archive, "rebuild"], check=False, capture_output=True)
    server = subprocess.Popen(
        [_PROGRAM, "--archive", archive, "serve", "--port", "0"], stdout=subprocess.PIPE, text=True
    )
    try:
        assert server.stdout is not None
        address = _address(server.stdout.readline())
        first = {page: _took(address + page) for page in _sorts(random.Random(SEED))}
        yield Figure(
            name=f"the slowest page of {SOURCES:,} sources when it is first asked for",
            value=max(first.values()),
            unit="s",
        )
        with ThreadPoolExecutor(_READERS) as readers:
            took = sorted(
                each for one in readers.map(lambda seed: _read(address, seed), range(_READERS)) for each in one
            )
        yield Figure(
            name=f"a page, {_READERS} readers at once, median",
            value=took[len(took) // 2] * 1000,
            unit="ms",
            promised=100.0,
        )
        slow = took[int(len(took) * 0.95)] * 1000
        yield Figure(name=f"a page, {_READERS} readers at once, p95", value=slow, unit="ms", promised=300.0)
    finally:
        server.terminate()
        server.wait(timeout=30)


def _address(line: str) -> str:
    found = re.search(r"http://[^\s/]+", line)
    assert found, line
    return found[0]


def _sorts(chance: random.Random) -> list[str]:
    """One address of each sort of page, as a reader would come by it."""
    source, part = f"s{chance.randrange(SOURCES):05}", f"c{chance.randrange(FEW):04}"
    word = chance.choice(("bracket", "lamp", "Further", "fittings", "No. 9"))
    return [
        "/",
        f"/search?q={urllib.parse.quote(word)}",
        f"/sources/{source}",
        f"/fittings/{part}",
        f"/fittings/{part}/f{chance.randrange(3)}",
        "/fittings",
        "/machine",
        "/flags",
        "/copies",
        "/panels",
    ]


def _read(address: str, seed: int) -> list[float]:
    chance = random.Random(SEED + seed)
    return [_took(address + chance.choice(_sorts(chance))) for _ in range(_PAGES_EACH)]


def _took(address: str) -> float:
    began = time.perf_counter()
    with urllib.request.urlopen(address) as answer:  # an address of this machine, made here
        answer.read()
    return time.perf_counter() - began
