"""What a folder costs that was taken in before."""

import json
import random
import sys
from collections.abc import Iterator
from pathlib import Path

from bench.figures import Figure, run_program, seconds

PROVENANCE = Path(sys.executable).with_name("provenance")
FILES = 1000
WORDS = ("lamp", "bracket", "cantrail", "buffer", "spring", "axle", "window", "handle", "brass", "oak")


def measure(folder: Path) -> Iterator[Figure]:
    """Time `ingest` of a thousand files of text, and of the same again."""
    received, archive = folder / "received", folder / "archive"
    received.mkdir()
    chance = random.Random(1927)
    for number in range(FILES):
        words = " ".join(chance.choice(WORDS) for _ in range(200))
        (received / f"note-{number:04}.txt").write_text(f"{number}\n{words}\n", encoding="utf-8")
    run_program([PROVENANCE, "new", archive, "--by", "mh"], cwd=folder)
    command: list[str | Path] = [PROVENANCE, "--archive", archive, "ingest", received, "--by", "mh", "--json"]

    first = seconds(lambda: run_program(command, cwd=folder))
    yield Figure(name=f"ingest of {FILES} files of text", value=first, unit="s")
    again = seconds(lambda: _check_idle(run_program(command, cwd=folder)), times=3)
    yield Figure(name=f"ingest of the same {FILES} files again", value=again, unit="s", promised=1.0)


def _check_idle(answer: str) -> None:
    told = json.loads(answer)
    if told["pages_read"] or len(told["files"]) != FILES or {file["state"] for file in told["files"]} != {"known"}:
        raise ValueError("the second ingest did something")
