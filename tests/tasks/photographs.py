"""A small archive with photographs to be looked at: a lot of three finds, and one of No. 9 that is tagged."""

import hashlib
import io
import json
import shutil
from pathlib import Path
from typing import Any

from PIL import Image
from tasks.team import SOUND, a_text

LOT = "tin of Mrs. Abbot"
HEADLAMP = """name: Headlamp
by: mh
date: 2026-01-10
needed_by: 2027-03
prominence: focal
signs:
  - {id: conduit, name: a conduit along the cantrail}
  - {id: box, name: a box on the step}
features:
  - id: kind
    name: Kind of lamp
    aspect: form
    kind: choice
    options:
      - id: acetylene
        name: acetylene lamp
        also: [gas lamp]
        signs:
          - {sign: conduit, expect: never, source: handbook}
      - id: electric
        name: electric lamp
        signs:
          - {sign: conduit, expect: always, source: handbook}
  - id: hood
    name: Hood over the lamp
    aspect: presence
    kind: presence
  - id: height
    name: Height above the rail
    aspect: dimension
    kind: quantity
    unit: mm
  - id: stuff
    name: What it is made of
    aspect: material
    kind: text
"""
WHEEL = """name: Wheel
by: mh
date: 2026-01-10
features:
  - id: spokes
    name: Spokes
    aspect: form
    kind: choice
    options:
      - {id: straight, name: straight}
      - {id: curved, name: curved}
  - id: mark
    name: Mark on the rim
    aspect: marking
    kind: text
"""


def photographs(scratch: Path, names: tuple[str, ...] = ("find-1", "find-2", "find-3")) -> Path:
    """The sound archive with a headlamp told by signs, a wheel, a lot of finds and the photograph `number-nine`."""
    folder = Path(shutil.copytree(SOUND, scratch / "archive"))
    a_text(folder / "components" / "headlamp.yaml", HEADLAMP)
    a_text(folder / "components" / "wheel.yaml", WHEEL)
    for item, name in enumerate(names, start=1):
        lot = {"date": "2026-01-12", "note": f"lot: {LOT}\nitem {item}"}
        a_photograph(folder, name, kind=None, state="untagged", acquired=[lot])
    shows = [{"example": "9", "when": "1934-06", "known_by": "number"}]
    a_photograph(folder, "number-nine", shows=shows, topics=["headlamp"], title="No. 9 in the yard")
    return folder


def a_photograph(folder: Path, name: str, **fields: Any) -> str:
    """Add a photograph of 240 by 160 pixels, told from others by its shade; its id comes back."""
    data = io.BytesIO()
    shade = hashlib.sha256(name.encode()).digest()[0]
    Image.linear_gradient("L").resize((240, 160)).point(lambda value: (value + shade) % 256).save(data, "PNG")
    path = folder / "originals" / name / "view.png"
    path.parent.mkdir(parents=True)
    path.write_bytes(data.getvalue())
    told = {
        "path": f"originals/{name}/view.png",
        "sha256": hashlib.sha256(data.getvalue()).hexdigest(),
        "bytes": len(data.getvalue()),
        "media_type": "image/png",
        "pages": 1,
    }
    record = {"title": name, "kind": "photograph", "files": [told], "by": "mh", "date": "2026-01-10", **fields}
    text = json.dumps({key: value for key, value in record.items() if value is not None}, indent=1)
    a_text(folder / "sources" / f"{name}.yaml", text)
    return name
