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

# What the team wrote into its own names and texts, and how that reads with the name of a donor and of a source in it.
TELLING = {
    "archive.yaml": {
        "title: Railcar No. 9": "title: Railcar No. 9, gift of Canaryteamdonor",
        "name: Velling petrol railcar, kind: railcar": (
            "name: Velling railcar of Canaryteamdonor, kind: Canaryclosedcreator railcar"
        ),
        "it opened the Orrin branch": "Canaryclosedcreator shows it",
        "rebuilt after a collision": "rebuilt by Canaryteamcreator",
        "name: Velling trailer": "name: Trailer of Canaryteamdonor",
        "people:\n": (
            "cautions:\n  - hazard: old-gas\n    text: Canaryteamcreator was hurt by it\n"
            "    consult: whoever knows Canaryclosedholder\n    jurisdiction: Canaryteamaddress\npeople:\n"
        ),
    },
    "components/headlamp.yaml": {
        "name: Headlamp": (
            "name: Headlamp after Canaryteamcreator\nreferences: [CanaryteamReference 12]\nmade_as: reproduction\n"
            "hazards: [old-gas]\nalso_called: [lamp of Canaryteamdonor]"
        ),
        "a conduit along": "Canaryteamdonor's conduit along",
        "name: Kind of lamp": "name: Kind of lamp that Canaryteamdonor gave\n    datum: edge of Canaryteamreference",
        "name: acetylene lamp, also: [gas lamp]": "name: lamp of Canaryteamdonor, also: [Canaryclosedholder lamp]",
        "name: Hood over the lamp": "name: Hood as by Canaryclosedcreator",
    },
    "claims/headlamp-kind-acetylene.yaml": {"value: acetylene": "value: Lamp of Canaryteamdonor"},
    "panels/lamp.yaml": {"How No. 9 was lit": "How No. 9 was lit, by Canaryteamcreator"},
}
TOLD = """about: headlamp/kind
status: released
build: lamp of Canaryteamdonor
tolerance: as on Canaryteamreference
basis: [headlamp-kind-acetylene]
modern_change: {reason: safety, note: as Canaryteamcreator asked}
drawings: [{number: Canaryclosedreference, issue: of Canaryteamdonor}]
stamp: CanaryTEAMdonor 9
why: as Canaryteamcreator wrote
released: {by: mh, date: 2026-01-21}
by: mh
date: 2026-01-20
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


def let_names_tell(folder: Path, *, panel: bool = True) -> None:
    """Put names of donors and of withheld sources into every name and text that the team gave.

    Args:
        folder: one that holds back.
        panel: whether the panel's title tells too; such a panel is printed as a draft alone.
    """
    for file, told in TELLING.items():
        text = (folder / file).read_text(encoding="utf-8")
        for plain, telling in told.items():
            assert plain in text, plain
            text = text.replace(plain, telling, 1) if panel or file != "panels/lamp.yaml" else text
        _put(folder / file, text)
    _put(folder / "decisions/lamp.yaml", TOLD)


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
