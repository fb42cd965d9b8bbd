"""A dossier of twelve cut-outs, the whole command: first with every piece to be cut out, then with all of them kept.

Ten pages of the sample archive's handbook are cited for one feature, and two of its photographs.
"""

import shutil
import sys
from collections.abc import Iterator
from functools import partial
from pathlib import Path

from bench.figures import Figure, peak_memory, run_program, seconds

_SAMPLE = Path(__file__).parents[2] / "sample_archive" / "archive"
_PROGRAM = Path(sys.executable).with_name("provenance")
_COMPONENT = """name: Measured part
features: [{id: form, name: Form of the part, aspect: form, kind: text}]
by: mh
date: 2026-01-10
"""
_CLAIM = """about: measured-part/form
value: as drawn
applies_to: {{examples: "9"}}
evidence:
{items}by: mh
date: 2026-01-10
"""
_ITEM = '  - {{source: {0}, at: {{page: {1}, region: "percent:10,{2},80,15"}}, stance: supports, how: {3}}}\n'
_PIECES = 12


def measure(folder: Path) -> Iterator[Figure]:
    """Print the dossier in each format."""
    archive = shutil.copytree(_SAMPLE, folder / "archive")
    _cite(archive)
    run_program([_PROGRAM, "rebuild"], cwd=archive)
    for ending in ("html", "pdf", "docx"):
        command: list[str | Path] = [
            _PROGRAM,
            "evidence",
            "measured-part",
            "--for",
            "workshop",
            "--output",
            folder / f"part.{ending}",
        ]
        shutil.rmtree(archive / ".derived" / "cut-outs", ignore_errors=True)
        of = f"dossier of {_PIECES} cut-outs, .{ending}"
        yield Figure(name=of, value=seconds(partial(run_program, command, cwd=archive)), unit="s", promised=3.0)
        kept = seconds(partial(run_program, command, cwd=archive), times=3)
        yield Figure(name=f"{of}, cut before", value=kept, unit="s")
        memory = peak_memory(sys.executable, command, cwd=archive)
        yield Figure(name=f"{of}, largest process", value=memory, unit="MB")
    page = (folder / "part.html").read_text(encoding="utf-8")
    pieces = page.count('src="data:image/jpeg') + page.count('src="data:image/png')
    yield Figure(name="cut-outs that stand in it", value=pieces, unit="pieces", promised=_PIECES, more_is_better=True)


def _cite(archive: Path) -> None:
    items = [_ITEM.format("handbook-1933", page, 5 * page, "states") for page in range(3, 13)]
    items += [_ITEM.format(each, 1, 40, "shows") for each in ("photo-no9-carrowsea-1934", "photo-no9-rear-1934")]
    (archive / "components/measured-part.yaml").write_text(_COMPONENT, encoding="utf-8")
    (archive / "claims/measured-part-form-as-drawn.yaml").write_text(
        _CLAIM.format(items="".join(items)), encoding="utf-8"
    )
