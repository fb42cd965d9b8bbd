"""How long it takes from the key to the next photograph, in a real browser, on an archive of 10,000 claims.

Twenty photographs of 2,000 by 1,500 pixels came as a lot. Each is answered by two keys, and the next is asked for as
soon as it was fetched beforehand; how long that takes after a photograph is shown, with what was answered before being
written meanwhile, is told beside it. The time is the browser's own, from the key until the frame after the one in which
the next photograph was painted.
"""

import hashlib
import json
import statistics
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
from bench.figures import Figure
from bench.made_archives import SEED, make_archive
from PIL import Image
from playwright.sync_api import Page, expect, sync_playwright
from web.browsing import CHROMIUM, serving

COMPONENTS = 1_000
PHOTOGRAPHS = 20
_LOT = "measured"
_LIMIT_MS = 150.0
_SURELY = 120_000
_LAMP = """name: Lamp
by: mh
date: 2020-01-01
signs: [{id: tube, name: a tube along the cantrail}]
features:
  - id: kind
    name: Kind of lamp
    aspect: form
    kind: choice
    options:
      - {id: gas, name: gas lamp, signs: [{sign: tube, expect: never}]}
      - {id: electric, name: electric lamp, signs: [{sign: tube, expect: always}]}
  - {id: hood, name: Hood over the lamp, aspect: presence, kind: presence}
"""


def measure(folder: Path) -> Iterator[Figure]:
    """Look at one photograph after another."""
    archive = make_archive(folder / "archive", COMPONENTS)
    (archive / "components" / "lamp.yaml").write_text(_LAMP, encoding="utf-8")
    chance = np.random.default_rng(SEED)
    for number in range(1, PHOTOGRAPHS + 1):
        _add(archive, number, chance)
    with serving(archive) as server, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=str(CHROMIUM), args=["--no-sandbox"])
        page = browser.new_page(base_url=server.address, viewport={"width": 1200, "height": 900})
        page.set_default_timeout(_SURELY)
        expect.set_options(timeout=_SURELY)
        waited = _look_at_all(page)
        browser.close()
    took, ready = zip(*waited, strict=True)
    yield Figure(name="from key to next photograph, median", value=statistics.median(took), unit="ms")
    yield Figure(name="from key to next photograph, slowest", value=max(took), unit="ms", promised=_LIMIT_MS)
    yield Figure(name="until the next one is fetched beforehand, median", value=statistics.median(ready), unit="s")


def _look_at_all(page: Page) -> list[tuple[float, float]]:
    """The milliseconds from each key to the next photograph, and the seconds until the one after is at hand."""
    page.goto(f"/look/p01?lot={_LOT}")
    page.get_by_label("Who writes").select_option("mh")
    found = []
    for number in range(1, PHOTOGRAPHS):
        began = time.perf_counter()
        expect(page.locator("form.sheet")).to_have_attribute("data-ready", "yes")
        ready = time.perf_counter() - began
        page.locator("fieldset.row").first.focus()
        for key in ("s", "ArrowDown", "2", "j"):
            page.keyboard.press(key)
        expect(page.get_by_role("heading", level=1)).to_have_text(f"Photograph {number + 1}")
        expect(page.locator("fieldset.row").first).to_be_focused()
        took = page.evaluate(_LAST_TOOK)
        found.append((took, ready))
    return found


_LAST_TOOK = """(number) => new Promise((done) => {
  const look = () => {
    const all = performance.getEntriesByName("next photograph");
    if (all.length) { performance.clearMeasures(); done(all.at(-1).duration); } else requestAnimationFrame(look);
  };
  look();
})"""


def _add(archive: Path, number: int, chance: np.random.Generator) -> None:
    name = f"p{number:02}"
    grain = chance.integers(0, 60, (1500, 2000), dtype=np.uint8)
    slope = np.linspace(0, 190, 2000, dtype=np.uint8)
    path = archive / "originals" / name / "view.jpg"
    path.parent.mkdir(parents=True)
    Image.fromarray(grain + slope).save(path, quality=85)
    data = path.read_bytes()
    told = {
        "path": f"originals/{name}/view.jpg",
        "sha256": hashlib.sha256(data).hexdigest(),
        "bytes": len(data),
        "media_type": "image/jpeg",
        "pages": 1,
    }
    record = {
        "title": f"Photograph {number}",
        "kind": "photograph",
        "topics": ["lamp"],
        "shows": [{"example": str(1 + number % 11), "known_by": "number"}],
        "acquired": [{"date": "2020-01-01", "note": f"lot: {_LOT}\nitem {number}"}],
        "files": [told],
        "by": "mh",
        "date": "2020-01-01",
    }
    (archive / "sources" / f"{name}.yaml").write_text(json.dumps(record), encoding="utf-8")
