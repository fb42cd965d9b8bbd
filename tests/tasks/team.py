"""What the tests of the tasks share: a sound archive to work in, and scans to hand in."""

import shutil
from pathlib import Path

from PIL import Image, ImageDraw, ImageFont

from provenance.tasks.opening import Opened, open_folder

SOUND = Path(__file__).parents[1] / "archives" / "sound"
TODAY = "2026-02-01"
HANDBOOK_LINES = (
    "WORKING INSTRUCTIONS",
    "The headlamp bracket No. H-204 is fixed",
    "3 ft 4 1/2 in above the rail, on the cab front.",
    "The lamp is of the acetylene pattern.",
)


def a_team_archive(scratch: Path) -> Opened:
    """A copy of the sound archive, opened."""
    return open_folder(Path(shutil.copytree(SOUND, scratch / "archive")))


def a_scan(path: Path, lines: tuple[str, ...] = HANDBOOK_LINES) -> Path:
    """A page of print as a scanner at 150 dpi would deliver it."""
    page = Image.new("L", (1240, 600), 255)
    draw = ImageDraw.Draw(page)
    for number, line in enumerate(lines):
        draw.text((100, 80 + 60 * number), line, font=ImageFont.load_default(36), fill=20)
    path.parent.mkdir(parents=True, exist_ok=True)
    page.save(path, dpi=(150, 150))
    return path


def a_text(path: Path, text: str) -> Path:
    """A text file."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return path
