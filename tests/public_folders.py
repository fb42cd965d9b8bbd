"""An archive on disk that holds something back, with a canary in every field of what is withheld."""

import re
import shutil
from html import unescape
from pathlib import Path
from urllib.parse import quote, unquote

SOUND = Path(__file__).parent / "archives" / "sound"
TODAY = "2026-02-01"

PANEL = """title: How No. 9 was lit
statements:
  - {text: "No. 9 had a gas lamp, as its sisters had.", features: [headlamp/kind]}
  - {text: "Its hood is not known.", features: [headlamp/hood]}
components: [headlamp]
by: mh
date: 2026-01-20
"""

CLEARED = """access: open
rights: {statement: CNE, credit: "Orrin Library", publish: allowed}
"""

# The letters & < é % are written otherwise in HTML, in an address and in JSON: the search has to see through that.
SECRET = """title: "Canary<KIND>title & <leaf> é%"
kind: photograph
creator: Canary<KIND>creator
holder: Canary<KIND>holder
reference: Canary<KIND>reference
place: Canary<KIND>address
acquired:
  - {date: 2020, from: Canary<KIND>donor, note: Canary<KIND>acquirednote}
within: {source: album}
shows:
  - {example: "9", when: 1934-05, known_by: number}
rights: {holder: Canary<KIND>rightsholder, credit: Canary<KIND>credit, publish: allowed}
access: <KIND>
by: mh
date: 2026-01-10
note: Canary<KIND>note
"""

ITEM = """  - source: canary<KIND>id
    at: {page: 1, page_label: Canary<KIND>label, who: Canary<KIND>speaker}
    stance: supports
    how: shows
    quote: Canary<KIND>quote
    note: Canary<KIND>itemnote
"""

KINDS = ("team", "closed")
CANARY = "canary"


def a_folder_that_holds_back(scratch: Path) -> Path:
    """A copy of the sound archive with a panel, cleared sources, and one source of the team's and one closed."""
    folder = Path(shutil.copytree(SOUND, scratch / "archive", ignore=shutil.ignore_patterns(".derived")))
    for name in ("handbook", "photograph"):
        _append(folder / f"sources/{name}.yaml", CLEARED)
    _put(folder / "panels/lamp.yaml", PANEL)
    _put(
        folder / "sources/album.yaml",
        "title: Album of Canaryalbum\nkind: photograph\naccess: closed\nby: mh\ndate: 2026-01-10\n",
    )
    for kind in KINDS:
        _put(folder / f"sources/canary{kind}id.yaml", SECRET.replace("<KIND>", kind))
        _append_item(folder, ITEM.replace("<KIND>", kind))
        _put(folder / f"claims/canary{kind}claim.yaml", _own_claim(kind))
    return folder


def _own_claim(kind: str) -> str:
    head = 'about: headlamp/kind\nvalue: electric\napplies_to: {examples: "9"}\nevidence:\n'
    coverage = head.replace('"9"', '"9"' if kind == "team" else '"10"')
    return f"{coverage}{ITEM.replace('<KIND>', kind)}by: mh\ndate: 2026-01-10\nreasoning: Canary{kind}reasoning\n"


def _append_item(folder: Path, item: str) -> None:
    claim = folder / "claims/headlamp-kind-acetylene.yaml"
    text = claim.read_text(encoding="utf-8")
    claim.write_text(text.replace("by: mh", f"{item}by: mh"), encoding="utf-8")


def _append(path: Path, text: str) -> None:
    path.write_text(path.read_text(encoding="utf-8") + text, encoding="utf-8")


def _put(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")


def canaries_in(data: bytes) -> list[str]:
    """The lines in which a canary can be seen: as written, or once addresses and character references are read."""
    text = data.decode("utf-8")
    json_read = re.sub(r"\\u([0-9a-f]{4})", lambda found: chr(int(found[1], 16)), text)
    read = [text, unescape(text), unquote(text), text.replace("\\", ""), json_read]
    return [line for each in read for line in each.splitlines() if CANARY in line.casefold()]


def is_seen_through(text: str) -> bool:
    """Whether a text is found however it is written: the search itself has to be trusted."""
    hidden = [
        text,
        quote(text),
        "".join(f"&#{ord(letter)};" for letter in text),
        "".join(f"%{ord(x):02x}" for x in text),
    ]
    return all(canaries_in(each.encode()) for each in hidden)
