"""Pages laid down aslant, sideways and upside down: errors beside those of plain recognition, and the time of one read.

Pages are printed from known words (`tests/reading/printed_pages.py`). Errors are edits as a share of the characters.
Time is that of the processors on pages that lie straight, beside one recogniser process that stays and is handed all of
them (Tesseract reads a list of files), one thread each.
"""

import os
import resource
import statistics
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path

import pytesseract
from bench.figures import Figure
from reading.printed_pages import Printed, book_page, character_errors, laid_down, parts_list, typescript

from provenance.pages.signatures import PNG
from provenance.reading.page_reading import PageJob, read_page

LEANS = (0.0, 1.0, -1.0, 3.0, -3.0, 5.0, -5.0, 7.0, -7.0, 90.0, 180.0, 270.0)
MAKERS: tuple[Callable[[int], Printed], ...] = (typescript, book_page, parts_list)
PROMISED_POINTS, PROMISED_TIME = 0.5, 1.35
PROMISED_FOR = frozenset({5.0, -5.0, 90.0, 180.0, 270.0})
ALONE = {**os.environ, "OMP_THREAD_LIMIT": "1"}


def measure(folder: Path) -> Iterator[Figure]:
    """Yield for each angle the errors in points, ours and plain; then the time."""
    pages = [make(seed) for make in MAKERS for seed in (31,)]
    straight = 0.0
    for lean in LEANS:
        ours, plain = _errors(folder, [laid_down(page, lean) if lean else page for page in pages])
        straight = straight if lean else ours
        yield Figure(
            name=f"character errors beyond those of the straight page, laid down at {lean:g} degrees",
            value=ours - straight,
            unit="points",
            promised=PROMISED_POINTS if lean in PROMISED_FOR else None,
        )
        yield Figure(name=f"errors at {lean:g} degrees", value=ours, unit="points")
        yield Figure(name=f"errors at {lean:g} degrees, plain recognition", value=plain, unit="points")
    yield Figure(
        name="processor time of a straight page, beside a recogniser that stays",
        value=_time_beside_bare(folder, [make(seed) for make in MAKERS for seed in (41, 42)]),
        unit="times",
        promised=PROMISED_TIME,
    )


def _errors(folder: Path, pages: list[Printed]) -> tuple[float, float]:
    """Give the mean character errors in points, ours and those of plain recognition of the same files."""
    ours, plain = [], []
    for number, page in enumerate(pages):
        path = _save(folder, number, page)
        ours.append(100 * character_errors(page.text, _read(path)))
        os.environ["OMP_THREAD_LIMIT"] = "1"
        told = pytesseract.image_to_string(str(path), lang="eng", config="--psm 3")
        plain.append(100 * character_errors(page.text, told))
    return statistics.mean(ours), statistics.mean(plain)


def _save(folder: Path, number: int, page: Printed) -> Path:
    path = folder / f"page{number:02}.png"
    page.image.save(path, compress_level=1, dpi=(200, 200))
    return path


def _read(path: Path) -> str:
    return read_page(PageJob(path=path, media_type=PNG, page=1)).text


def _time_beside_bare(folder: Path, pages: list[Printed]) -> float:
    paths = [_save(folder, number, page) for number, page in enumerate(pages)]
    (folder / "list.txt").write_text("".join(f"{path}\n" for path in paths), encoding="utf-8")
    bare, ours = [], []
    for _ in range(3):
        begun = _processor_seconds()
        command = ["tesseract", str(folder / "list.txt"), str(folder / "told"), "-l", "eng", "--psm", "3", "txt", "tsv"]
        subprocess.run(command, check=True, env=ALONE, capture_output=True)
        between = _processor_seconds()
        for path in paths:
            _read(path)
        bare.append(between - begun)
        ours.append(_processor_seconds() - between)
    return statistics.median(ours) / statistics.median(bare)


def _processor_seconds() -> float:
    used = map(resource.getrusage, (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return sum(one.ru_utime + one.ru_stime for one in used)
