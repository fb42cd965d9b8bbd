"""A dossier of the sample archive, the whole command: first with every cut-out to be made, then with all of them kept.

The head lamps of the sample archive have five features, and more than twelve places are shown of them.
"""

import shutil
import sys
from collections.abc import Iterator
from pathlib import Path

from bench.figures import Figure, peak_memory, run_program, seconds

_SAMPLE = Path(__file__).parents[2] / "sample_archive" / "archive"
_ASKING = ["-m", "provenance", "evidence", "headlamp", "--for", "workshop", "--output"]


def measure(folder: Path) -> Iterator[Figure]:
    """Print the dossier in each format."""
    archive = shutil.copytree(_SAMPLE, folder / "archive")
    run_program([sys.executable, "-m", "provenance", "rebuild"], cwd=archive)

    def write(ending: str) -> None:
        run_program([sys.executable, *_ASKING, folder / f"headlamp.{ending}"], cwd=archive)

    for ending in ("html", "pdf", "docx"):
        shutil.rmtree(archive / ".derived" / "cut-outs", ignore_errors=True)
        of = f"dossier as {ending.upper()}, whole command"
        yield Figure(name=of, value=seconds(lambda: write(ending)), unit="s", promised=3.0)  # noqa: B023  runs at once
        yield Figure(name=f"{of}, cut-outs kept", value=seconds(lambda: write(ending), times=3), unit="s")  # noqa: B023
    page = (folder / "headlamp.html").read_text(encoding="utf-8")
    pieces = page.count('src="data:image/jpeg') + page.count('src="data:image/png')
    yield Figure(name="the cut-outs in it", value=pieces, unit="pieces", promised=12, more_is_better=True)
    memory = peak_memory(sys.executable, [sys.executable, *_ASKING, folder / "again.pdf"], cwd=archive)
    yield Figure(name="dossier as PDF, largest process", value=memory, unit="MB", promised=150)
