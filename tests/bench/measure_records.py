"""How answers grow with the archive: checking, judging, building the index, asking, and entering evidence."""

import json
import shutil
import sys
from collections.abc import Iterator
from pathlib import Path

from bench.figures import Figure, run_program, seconds
from bench.made_archives import make_archive

PROVENANCE = Path(sys.executable).with_name("provenance")
SIZES = (10, 100, 1000)
PROMISED_FOR = 1000


def measure(folder: Path) -> Iterator[Figure]:
    """Time each command in archives of 10, 100 and 1,000 components, with ten claims to a component."""
    for size in SIZES:
        yield from _measure_size(make_archive(folder / str(size), size), size)
        shutil.rmtree(folder / str(size))


def _measure_size(archive: Path, size: int) -> Iterator[Figure]:
    of = f"{size} components, {size * 10} claims"

    def ask(*words: str, times: int = 1) -> float:
        return seconds(lambda: run_program([PROVENANCE, *words], cwd=archive), times=times)

    sound = json.loads(run_program([PROVENANCE, "check", "--json"], cwd=archive))
    faults = [problem for problem in sound["problems"] if problem["severity"] != "note"]
    if faults:
        raise ValueError(f"the made archive is not sound: {faults[0]}")
    shutil.rmtree(archive / ".derived", ignore_errors=True)
    yield Figure(name=f"evidence, first load ({of})", value=ask("evidence", "c0003"), unit="s")
    again = ask("evidence", "c0003", times=3)
    promised = 2.0 if size == PROMISED_FOR else None
    yield Figure(name=f"evidence, nothing changed ({of})", value=again, unit="s", promised=promised)
    yield Figure(name=f"flags, every feature judged ({of})", value=ask("flags"), unit="s")
    yield Figure(name=f"check ({of})", value=ask("check"), unit="s")
    yield Figure(name=f"rebuild ({of})", value=ask("rebuild"), unit="s")
    yield Figure(name=f"search, nothing changed ({of})", value=ask("search", "brass", times=3), unit="s")
    evidence = ("claim", "c0003/f1", "brass", "--source", "s00003", "--applies-to", "all", "--by", "mh")
    promised = 2.0 if size == PROMISED_FOR else None
    yield Figure(name=f"claim --try ({of})", value=ask(*evidence, "--try", times=3), unit="s", promised=promised)
    promised = 1.0 if size == PROMISED_FOR else None
    yield Figure(name=f"claim ({of})", value=ask(*evidence), unit="s", promised=promised)
    tags = ("tag", "s00003", "--holder", "County record office")
    yield Figure(name=f"tag ({of})", value=ask(*tags), unit="s", promised=promised)
