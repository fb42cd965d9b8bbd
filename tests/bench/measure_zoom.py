"""How long somebody waits to see a page of 10,000 by 7,000 pixels closely, and what memory that takes.

It is asked of the real server as a browser asks for it, once as a photograph (JPEG) and once as a scan in line (PNG):
the description when nobody has opened the page before, a tile of its full size as soon as that is there, and until all
of it is cut and kept. Then, of a server started anew, tiles of the full size that it was never asked for, of a page
that was opened before (cold; what takes seconds of a page that nobody has ever opened is told apart), and the same ones
again (warm).
"""

import hashlib
import json
import shutil
import statistics
import time
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TypeVar

import numpy as np
import yaml
from bench.figures import Figure
from PIL import Image, ImageDraw
from web.browsing import Served, serving

from provenance.pages.tile_files import bands_of
from provenance.store.tiles_store import TILES as TILES_OF_ALL

T = TypeVar("T")

SIZE = 10_000, 7_000
TILES = [(left, top) for left in range(0, 9_216, 1024) for top in range(0, 6_144, 1536)]
_COLD_MS, _WARM_MS = 100.0, 10.0
_SURELY_DONE = 120.0


def measure(folder: Path) -> Iterator[Figure]:
    """Look closely at both."""
    archive = folder / "archive"
    (archive / "sources").mkdir(parents=True)
    (archive / "archive.yaml").write_text(
        "format: 1\ntitle: Measured\npeople: [{id: mh, name: M. H.}]\n", encoding="utf-8"
    )
    _add(archive, "photograph", "image/jpeg", _draw_photograph)
    _add(archive, "line-drawing", "image/png", _draw_lines)
    for source, what in (("photograph", "JPEG"), ("line-drawing", "PNG in line")):
        yield from _measured(archive, source, f"{what} of 10,000 x 7,000")


def _measured(archive: Path, source: str, what: str) -> Iterator[Figure]:
    with serving(archive) as server:
        waited, described = _timed(lambda: json.loads(_get(f"{server.address}iiif/{source}/p1/info.json")))
        yield Figure(name=f"{what}, never opened: until its small sizes are there", value=waited, unit="s")
        kind = (described.get("preferredFormats") or ["jpg"])[0]
        base = described["id"].partition("/iiif/")[2]
        waited, _ = _timed(lambda: _tile(server, base, TILES[-1], kind))
        yield Figure(name=f"{what}, never opened: from then to its full size", value=waited, unit="s")
        waited, _ = _timed(lambda: _wait_for_all(archive, 1 + len(bands_of(*SIZE))))
        yield Figure(name=f"{what}, never opened: from then until all of it is kept", value=waited, unit="s")
    with serving(archive) as server:
        _get(f"{server.address}iiif/{source}/p1/info.json")
        for word, promised in (("cold", _COLD_MS), ("warm", _WARM_MS)):
            took = [1000 * _timed(lambda at=at: _tile(server, base, at, kind))[0] for at in TILES]  # type: ignore[misc]  # bound at once
            median = statistics.median(took)
            yield Figure(name=f"tile of a {what}, {word}, median", value=median, unit="ms", promised=promised)
            yield Figure(name=f"tile of a {what}, {word}, slowest of {len(TILES)}", value=max(took), unit="ms")
        yield Figure(name=f"memory of the server, {what}", value=_memory(server.process.pid), unit="MB")
    tiles = archive / TILES_OF_ALL
    yield Figure(
        name=f"tiles kept of a {what}", value=sum(file.stat().st_size for file in _kept(tiles)) / 1e6, unit="MB"
    )
    shutil.rmtree(tiles)


def _wait_for_all(archive: Path, files: int) -> None:
    until = time.monotonic() + _SURELY_DONE
    while len(_kept(archive / TILES_OF_ALL)) < files:
        if time.monotonic() > until:
            raise TimeoutError(f"the page was not cut into {files} files")
        time.sleep(0.05)


def _kept(tiles: Path) -> list[Path]:
    return list(tiles.rglob("*.tiles"))


def _tile(server: Served, base: str, at: tuple[int, int], kind: str) -> bytes:
    left, top = at[0] // 512 * 512, at[1] // 512 * 512
    return _get(f"{server.address}iiif/{base}/{left},{top},512,512/512,512/0/default.{kind}")


def _get(address: str) -> bytes:
    with urllib.request.urlopen(address, timeout=120) as answer:
        data: bytes = answer.read()
        return data


def _timed(act: Callable[[], T]) -> tuple[float, T]:
    begin = time.perf_counter()
    found = act()
    return time.perf_counter() - begin, found


def _memory(process: int) -> float:
    for line in Path(f"/proc/{process}/status").read_text(encoding="ascii").splitlines():
        if line.startswith("VmHWM"):
            return int(line.split()[1]) / 1024
    return 0.0


def _draw_photograph(path: Path) -> None:
    chance = np.random.default_rng(1)
    tones = chance.integers(150, 230, (SIZE[1] // 8, SIZE[0] // 8, 3), dtype=np.uint8)
    Image.fromarray(tones).resize(SIZE, Image.Resampling.BICUBIC).save(path, "JPEG", quality=90)


def _draw_lines(path: Path) -> None:
    chance = np.random.default_rng(2)
    drawing = Image.new("L", SIZE, 255)
    pen = ImageDraw.Draw(drawing)
    for _ in range(2500):
        ends = [int(chance.integers(0, side)) for side in (*SIZE, *SIZE)]
        pen.line(ends, fill=0, width=4)
    drawing.save(path, "PNG")


def _add(folder: Path, source: str, media_type: str, write: Callable[[Path], None]) -> None:
    place = folder / "originals" / source / "page"
    place.parent.mkdir(parents=True)
    write(place)
    data = place.read_bytes()
    file = {"path": f"originals/{source}/page", "sha256": hashlib.sha256(data).hexdigest(), "bytes": len(data)}
    record = {
        "title": source,
        "kind": "drawing",
        "files": [file | {"media_type": media_type, "pages": 1}],
        "by": "mh",
        "date": "2026-01-20",
    }
    (folder / "sources" / f"{source}.yaml").write_text(yaml.safe_dump(record), encoding="utf-8")
