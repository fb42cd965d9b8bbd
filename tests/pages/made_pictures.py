"""Pictures written byte by byte, for what no honest program writes; and one that every kind can hold."""

import io
import struct
import subprocess
import sys
import zlib
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from provenance.errors import UnreadableOriginalError
from provenance.pages.identifying import identify
from provenance.pages.pictures import upright

WIDTH, HEIGHT, BITS, COMPRESSION, PHOTOMETRIC, STRIPS, ROWS, STRIP_BYTES = 256, 257, 258, 259, 262, 273, 278, 279
SUBFILE, ORIENTATION, TILE_WIDTH, TILE_HEIGHT, TILES, TILE_BYTES, INNER = 254, 274, 322, 323, 324, 325, 330
BESIDE_A_HEADER = 8

PEAK_OF = """
import sys
from pathlib import Path
from provenance.pages.identifying import identify
from provenance.pages.pictures import upright
path = Path(sys.argv[1])
try:
    facts = identify(path)
    for page in range(1, facts.pages + 1):
        picture = upright(path, facts.media_type, page)
    said = f"{facts.pages} {picture.image.size} {picture.note}"
except Exception as error:
    said = f"{type(error).__name__} {error}"
peak = next(line for line in open("/proc/self/status") if line.startswith("VmHWM"))
print(int(peak.split()[1]) // 1000, said)
"""


def marked(size: tuple[int, int] = (300, 200), colour: int = 0) -> Image.Image:
    """A white picture with its upper left corner dark."""
    image = Image.new("L", size, 255)
    image.paste(colour, (0, 0, size[0] // 3, size[1] // 4))
    return image


def corner_marked(image: Image.Image) -> list[tuple[int, int]]:
    """In which corners a picture is dark: (0, 0) is the upper left one, (1, 0) the upper right one."""
    width, height = image.size
    places = {(i, j): (5 + i * (width - 10), 5 + j * (height - 10)) for i in (0, 1) for j in (0, 1)}
    return [corner for corner, place in places.items() if level_at(image, *place) < 50]


def level_at(image: Image.Image, across: int, down: int) -> float:
    level = image.getpixel((across, down))
    assert isinstance(level, (int, float))
    return level


def bytes_of(image: Image.Image, kind: str, **options: Any) -> bytes:
    """What Pillow writes of a picture."""
    written = io.BytesIO()
    image.save(written, kind, **options)
    return written.getvalue()


def grey_tiff(
    path: Path,
    frames: Sequence[Mapping[int, int]] = ({},),
    *,
    order: str = "<",
    is_big: bool = False,
    last_next: int = 0,
) -> Path:
    """Write a TIFF of grey frames of 4 by 2 pixels, levels 0 to 7; its directories lie one behind the other.

    Args:
        path: to write.
        frames: for each frame the fields that differ; a number for each.
        order: `<` for II, `>` for MM.
        is_big: whether a BigTIFF.
        last_next: where the last directory says that the next one is.
    """
    count, offset = ("Q", "Q") if is_big else ("H", "I")
    content = (b"II" if order == "<" else b"MM") + struct.pack(f"{order}H", 43 if is_big else 42)
    content += struct.pack(f"{order}HHQ", 8, 0, 24) if is_big else struct.pack(f"{order}I", 16)
    content += bytes(range(8))
    data = 16 if is_big else BESIDE_A_HEADER
    for number, more in enumerate(frames, start=1):
        fields = {WIDTH: 4, HEIGHT: 2, BITS: 8, COMPRESSION: 1, PHOTOMETRIC: 1, STRIPS: data, ROWS: 2, STRIP_BYTES: 8}
        fields = {tag: value for tag, value in sorted({**fields, **more}.items()) if value >= 0}
        directory = struct.pack(order + count, len(fields))
        for tag, value in fields.items():
            directory += struct.pack(f"{order}HH{offset}{offset}", tag, 16 if is_big else 4, 1, value)
        after = len(content) + len(directory) + struct.calcsize(f"={offset}")
        content += directory + struct.pack(order + offset, after if number < len(frames) else last_next)
    path.write_bytes(content)
    return path


def huge_png(path: Path, size: tuple[int, int], *, rows: int, is_colour: bool = False) -> Path:
    """Write a white PNG by hand: a few kilobytes for many megapixels."""

    def chunk(kind: bytes, content: bytes) -> bytes:
        return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", zlib.crc32(kind + content))

    packer = zlib.compressobj(1)
    row = b"\0" + b"\xff" * size[0] * (3 if is_colour else 1)
    packed = b"".join(packer.compress(row) for _ in range(rows)) + packer.flush()
    header = struct.pack(">IIBBBBB", *size, 8, 2 if is_colour else 0, 0, 0, 0)
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", packed) + chunk(b"IEND", b""))
    return path


def refusal(path: Path, media_type: str | None = None, page: int = 1) -> UnreadableOriginalError:
    """What is said of a file that cannot be identified; or, where its kind is given, of a page that cannot be read."""
    with pytest.raises(UnreadableOriginalError) as caught:
        identify(path) if media_type is None else upright(path, media_type, page)
    assert path.name in caught.value.what
    assert caught.value.mend
    return caught.value


def peak_of(path: Path) -> tuple[int, str]:
    """Read every page of a picture file in a process of its own: its peak of memory in megabytes, and what came of it.

    The mark of the process image itself (VmHWM, proc(5)) is taken: what getrusage(2) tells of a child counts what its
    parent held when it was started.
    """
    run = subprocess.run([sys.executable, "-c", PEAK_OF, str(path)], capture_output=True, text=True, check=True)
    peak, _, said = run.stdout.strip().partition(" ")
    return int(peak), said
