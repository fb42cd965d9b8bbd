"""An A0 sheet at 300 dpi, 139 million pixels, read whole: time of the processors, and the memory of each process."""

import json
import random
import sys
from collections.abc import Iterator
from pathlib import Path

from bench.figures import Figure, run_program
from PIL import Image, ImageDraw, ImageFont

_SIZE = (9933, 14043)
_PARTS = 240
_READ = """
import json, resource, sys
from pathlib import Path
from provenance.pages.identifying import identify
from provenance.reading.page_reading import PageJob, read_page
path = Path(sys.argv[1])
reading = read_page(PageJob(path=path, media_type=identify(path).media_type, page=1))
own, others = resource.getrusage(resource.RUSAGE_SELF), resource.getrusage(resource.RUSAGE_CHILDREN)
spent = [usage.ru_utime + usage.ru_stime for usage in (own, others)]
# Not ru_maxrss: a process begins with the peak of whoever started it (getrusage(2) on Linux); proc(5) VmHWM does not.
status = Path("/proc/self/status").read_text().splitlines()
peak = next(int(line.split()[1]) for line in status if line.startswith("VmHWM:"))
print(json.dumps({"text": reading.text, "own": spent[0], "others": spent[1],
                  "megabytes": max(peak, others.ru_maxrss) * 1024 / 1e6}))
"""


def measure(folder: Path) -> Iterator[Figure]:
    """Draw the sheet, keep it as scanners do, and read each in a Python of its own."""
    sheet, numbers = _draw()
    sheet.save(folder / "sheet.tif", dpi=(300, 300), compression="group4")
    sheet.convert("L").save(folder / "sheet.png", dpi=(300, 300))
    sheet.convert("L").save(folder / "sheet.jpg", dpi=(300, 300), quality=85)
    for path in sorted(folder.glob("sheet.*")):
        told = json.loads(run_program([sys.executable, "-c", _READ, path], cwd=folder))
        found = sum(number in told["text"] for number in numbers) / len(numbers)
        of = f"an A0 sheet of {_PARTS} part numbers, {path.suffix[1:].upper()}"
        yield Figure(name=of, value=told["own"] + told["others"], unit="CPU s", promised=3.0)
        yield Figure(name=f"{of}, the recogniser's share", value=told["others"], unit="CPU s")
        yield Figure(name=f"{of}, largest process", value=told["megabytes"], unit="MB", promised=300.0)
        yield Figure(name=f"{of}, numbers read", value=found, unit="share", promised=0.97, more_is_better=True)


def _draw() -> tuple[Image.Image, list[str]]:
    """A sheet of rules and circles, each with its part number beside it, a tenth of an inch high and more."""
    chance = random.Random(30921)
    sheet = Image.new("1", _SIZE, 1)
    draw, face = ImageDraw.Draw(sheet), ImageFont.load_default(56)
    numbers = [f"H-{number}" for number in chance.sample(range(1000, 9999), _PARTS)]
    for place, number in enumerate(numbers):
        x, y = 300 + 780 * (place % 12), 300 + 660 * (place // 12)
        draw.rectangle((x, y + 120, x + 420, y + 480), outline=0, width=4)
        draw.ellipse((x + 80, y + 200, x + 300, y + 420), outline=0, width=3)
        draw.text((x, y), number, font=face, fill=0)
    return sheet, numbers
