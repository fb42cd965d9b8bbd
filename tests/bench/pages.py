"""Pages a minute: workers against as many bare recogniser processes; and the memory of a long born-digital PDF.

    .venv/bin/python tests/bench/pages.py [--pages 24] [--rounds 3] [--workers N]

Prints one JSON line for each of the two. The pictures are made from known text with a fixed seed, in a folder that is
removed again. Both sides read the same upright grey pictures, in turns, one recognition a page and one thread each.
"""

import argparse
import json
import os
import random
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path

from PIL import Image, ImageDraw, ImageFont
from reportlab.pdfgen.canvas import Canvas

from provenance.pages.signatures import PDF, PNG
from provenance.reading.engine import recogniser
from provenance.reading.page_reading import PageJob, read_page
from provenance.records.readings import Origin
from provenance.workers.limits import usable_cores
from provenance.workers.running import run_in_workers

_WORDS = [
    "bracket",
    "lamp",
    "frame",
    "bolt",
    "stud",
    "rivet",
    "door",
    "panel",
    "roof",
    "seat",
    "axle",
    "spring",
    "buffer",
    "cab",
    "pillar",
    "floor",
    "plate",
    "steel",
    "brass",
    "oak",
    "ash",
    "canvas",
    "painted",
    "fitted",
    "measured",
    "drawing",
    "sheet",
    "issue",
    "works",
    "order",
    "number",
    "batch",
    "third",
    "second",
    "first",
    "the",
    "of",
    "and",
    "to",
    "in",
    "with",
    "from",
    "under",
    "over",
    "between",
    "after",
    "before",
    "each",
    "both",
    "upper",
    "lower",
    "inner",
    "outer",
]
_SECONDS_EACH = 300.0
_MEGABYTE = 1_000_000


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    options.add_argument("--pages", type=int, default=24)
    options.add_argument("--rounds", type=int, default=3)
    options.add_argument("--workers", type=int, default=usable_cores())
    options.add_argument("--long-pdf", type=int, default=500, help="pages of the long PDF; 0 to leave it out")
    chosen = options.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        if chosen.long_pdf:  # first: the system tells the size of the largest child so far
            print(json.dumps(measure_long_pdf(Path(folder), chosen.long_pdf)), flush=True)
        if chosen.pages:
            print(json.dumps(compare(Path(folder), chosen.pages, chosen.rounds, chosen.workers)), flush=True)


def compare(folder: Path, pages: int, rounds: int, workers: int) -> dict[str, object]:
    """Time both sides in turns over the same pictures."""
    pictures = [make_picture(folder / f"page{number:02}.png", number) for number in range(pages)]
    bare, ours, bare_processor, our_processor = [], [], [], []
    for _ in range(rounds):
        wall, processor = timed(lambda: run_bare(pictures, workers))
        bare.append(wall)
        bare_processor.append(processor)
        wall, processor = timed(lambda: run_ours(pictures, workers))
        ours.append(wall)
        our_processor.append(processor)
    return {
        "bench": "pages",
        "engine": recogniser().name,
        "cores": usable_cores(),
        "workers": workers,
        "pages": pages,
        "bare_seconds": round(statistics.median(bare), 2),
        "our_seconds": round(statistics.median(ours), 2),
        "our_pages_a_minute": round(60 * pages / statistics.median(ours), 1),
        "speed_of_bare": round(statistics.median(bare) / statistics.median(ours), 3),
        "processor_of_bare": round(statistics.median(bare_processor) / statistics.median(our_processor), 3),
    }


def timed(work: Callable[[], None]) -> tuple[float, float]:
    """Give the seconds by the wall and of the processors (children and theirs) that some work takes."""
    begun, spent = time.perf_counter(), processor_seconds()
    work()
    return time.perf_counter() - begun, processor_seconds() - spent


def processor_seconds() -> float:
    own, children = (resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return own.ru_utime + own.ru_stime + children.ru_utime + children.ru_stime


def make_picture(path: Path, seed: int) -> Path:
    """Draw a page of 48 lines, as a scan at 300 dpi of a sheet A4."""
    chosen = random.Random(seed)
    image = Image.new("L", (2480, 3508), 248)
    draw, font = ImageDraw.Draw(image), ImageFont.load_default(42)
    for line in range(48):
        words = [*chosen.choices(_WORDS, k=9), f"H-{chosen.randrange(100, 999)}"]
        draw.text((220, 200 + 64 * line), " ".join(words), fill=25, font=font)
    image.save(path, dpi=(300, 300), compress_level=1)
    return path


def run_bare(pictures: list[Path], workers: int) -> None:
    """Recognise with bare processes, so many at a time: text and table of words in one call."""
    alone = {**os.environ, "OMP_THREAD_LIMIT": "1"}

    def recognise(picture: Path) -> None:
        command = ["tesseract", str(picture), str(picture.with_suffix("")), "-l", "eng", "--psm", "3", "txt", "tsv"]
        subprocess.run(command, check=True, env=alone, capture_output=True)

    with ThreadPoolExecutor(workers) as pool:
        list(pool.map(recognise, pictures))


def run_ours(pictures: list[Path], workers: int) -> None:
    jobs = [PageJob(path=picture, media_type=PNG, page=1) for picture in pictures]
    with closing(run_in_workers(read_page, jobs, workers=workers, seconds_each=_SECONDS_EACH)) as outcomes:
        readings = [outcome.value for outcome in outcomes]
    if not all(reading and len(reading.words) > 400 for reading in readings):
        sys.exit("a page was not read")


def measure_long_pdf(folder: Path, pages: int) -> dict[str, object]:
    """Read a born-digital PDF from end to end in one worker; give the worker's largest resident size."""
    path, chosen = folder / "long.pdf", random.Random(7)
    canvas = Canvas(str(path))
    for _ in range(pages):
        for line in range(50):
            canvas.drawString(60, 780 - 15 * line, " ".join(chosen.choices(_WORDS, k=14)))
        canvas.showPage()
    canvas.save()
    jobs = [PageJob(path=path, media_type=PDF, page=page) for page in range(1, pages + 1)]
    begun = time.perf_counter()
    with closing(run_in_workers(read_page, jobs, workers=1, seconds_each=_SECONDS_EACH)) as outcomes:
        if not all(outcome.value and outcome.value.origin is Origin.TEXT_LAYER for outcome in outcomes):
            sys.exit("a page was not read by its text layer")
    largest = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss * (1 if sys.platform == "darwin" else 1024)
    return {
        "bench": "long PDF",
        "pages": pages,
        "milliseconds_a_page": round(1000 * (time.perf_counter() - begun) / pages, 1),
        "worker_megabytes": round(largest / _MEGABYTE),
    }


if __name__ == "__main__":
    main()
