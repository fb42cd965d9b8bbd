"""An archive in which whatever people write tries to run in a browser, and tells when it did."""

import hashlib
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from tasks.likenesses import a_photograph, a_rescan
from web.small_archives import a_tape
from web.tiled_archive import as_file

from provenance.records.readings import Box, Origin, PageReading, Word
from provenance.store.readings_store import ReadingsStore

MARKUP = (
    "\"'>]]></title></text></svg></script><script>window.canary=1</script>"
    "<img class=canary src=x onerror=window.canary=1><svg class=canary onload=alert(7)>"
    "<a class=canary href=javascript:alert(7)>{{7*7}}</a>&lt;"
)
"""What ends the text, attribute or element that it stands in, and then tries to run in several ways."""

ADDRESS = "javascript:window.canary=1//"
"""What runs where it is taken for an address."""

WORD = '<img/class="canary"/src="x"/onerror="window.canary=1">'
"""The same as one word, as a recogniser may give it."""

FILE = "\"'><img class=canary src=x onerror=window.canary=1>.png"
"""The same as the name of a file."""

_WORDS = (
    Word(text="bracket", line=1, box=Box(x=10, y=10, w=20, h=5), confidence=95),
    Word(text=WORD, line=1, box=Box(x=32, y=10, w=30, h=5), confidence=30),
    Word(text=f"{ADDRESS}word", line=2, box=Box(x=10, y=40, w=15, h=5), confidence=90),
)
_ENTERED = {"by": "mh", "date": "2026-01-10"}
_EVERYBODY = {"examples": "all"}
_CLEARED = {"statement": "CNE", "publish": "allowed"}


def bad(field: str) -> str:
    """A text for a field, with the field's name before it, so that each is told from every other."""
    return f"{field} {MARKUP}"


EXAMPLE = bad("9")
"""The machine represented."""


def a_hostile_archive(scratch: Path) -> Path:
    """Make the archive: one part with three features, five sources, and one record at least of every other kind."""
    folder = scratch / "archive"
    records = {**_of_the_archive(), **_of_the_parts(), **_of_the_sources(), **_claimed(), **_decided(), **_told()}
    for name, record in records.items():
        place = folder / name
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_text(json.dumps({**record, **({} if name == "archive.yaml" else _ENTERED)}), encoding="utf-8")
    _lay_down(folder, "picture", as_file(a_photograph()), _pictured())
    _lay_down(folder, "print", as_file(a_rescan(a_photograph())), _printed())
    a_tape(folder, "tape", **_fields("tape"))
    spoken = folder / "transcripts/tape/t01.vtt"
    note, time = "NOTE\nby: mh\ndate: 2026-01-10", "00:00:00.000 --> 00:00:01.000"
    spoken.write_text(f"WEBVTT\n\n{note}\n\n{time}\n<v Guard>{WORD} &lt;script&gt;said\n", encoding="utf-8")
    typed = folder / "transcripts/print/p0001.txt"
    typed.parent.mkdir(parents=True)
    typed.write_text(f"by: mh\ndate: 2026-01-10\n\nbracket typed {MARKUP}\n", encoding="utf-8")
    return folder


def _of_the_archive() -> dict[str, Any]:
    return {
        "archive.yaml": {
            "format": 1,
            "title": bad("archive"),
            "subject": {"name": bad("subject"), "kind": bad("machine"), "claims_to_be": "replica"},
            "production": [
                {"batch": bad("batch"), "examples": ["8", EXAMPLE], "built": "1930", "note": bad("production-note")},
                {"batch": "second", "examples": ["10", "11"], "built": "1932"},
            ],
            "target": {"example": EXAMPLE, "as_at": "1934-06", "why": bad("target-why"), "note": bad("target-note")},
            "events": [{"example": "8", "date": "1932", "what": bad("event"), "note": bad("event-note")}],
            "related": [{"name": bad("related"), "note": bad("related-note")}],
            "people": [{"id": "mh", "name": bad("person"), "credited_as": bad("credited"), "note": bad("person-note")}],
            "cautions": [
                {
                    "hazard": "old-gas",
                    "text": bad("caution"),
                    "consult": bad("consult"),
                    "jurisdiction": bad("jurisdiction"),
                }
            ],
            "note": bad("archive-note"),
        }
    }


def _of_the_parts() -> dict[str, Any]:
    expected = [{"sign": "tube", "expect": "always", "source": "book"}]
    kind = {
        "id": "kind",
        "name": bad("feature"),
        "aspect": "form",
        "kind": "choice",
        "datum": bad("datum"),
        "note": bad("feature-note"),
        "options": [
            {"id": "gas", "name": bad("option"), "also": [bad("also")], "signs": expected},
            {"id": "oil", "name": bad("rival-option")},
        ],
    }
    wording = {
        "id": "wording",
        "name": bad("wording"),
        "aspect": "marking",
        "kind": "text",
        "same": [[bad("same"), bad("same-too")]],
    }
    width = {"id": "width", "name": bad("width"), "aspect": "dimension", "kind": "quantity", "unit": "mm"}
    return {
        "components/car.yaml": {"name": bad("whole")},
        "components/lamp.yaml": {
            "name": bad("component"),
            "part_of": "car",
            "references": [bad("number")],
            "also_called": [bad("nickname")],
            "common_to": [{"examples": ["8", EXAMPLE], "source": "book"}],
            "needed_by": "2027-01",
            "prominence": "visible",
            "made_as": "reproduction",
            "hazards": ["old-gas"],
            "note": bad("component-note"),
            "features": [kind, wording, width],
            "signs": [{"id": "tube", "name": bad("sign")}],
        },
    }


def _fields(what: str) -> dict[str, Any]:
    """The fields that any source may have."""
    said = {each: bad(f"{what}-{each}") for each in ("title", "creator", "holder", "place", "reference", "occasion")}
    return {
        **said,
        "note": bad(f"{what}-note"),
        "acquired": [
            {"date": "2020", "from": bad(f"{what}-donor"), "received_as": FILE, "note": bad(f"{what}-came-note")}
        ],
        "rights": {
            **_CLEARED,
            "holder": bad(f"{what}-rights"),
            "credit": bad(f"{what}-credit"),
            "permission": {"from": bad(f"{what}-permission"), "date": "2020", "scope": ["panel", "web"]},
        },
        "topics": ["lamp"],
        "access": "open",
        "state": "tagged",
    }


def _pictured() -> dict[str, Any]:
    return {
        **_fields("picture"),
        "kind": "photograph",
        "created": "1934",
        "shows": [{"example": EXAMPLE, "when": "1934", "known_by": "number", "note": bad("shows-note")}],
        "loan": {"owner": bad("owner"), "due": "2020-01"},
        "reliability": "B",
        "reliability_why": bad("reliability"),
    }


def _printed() -> dict[str, Any]:
    return {
        **_fields("print"),
        "title": f"{ADDRESS}print",
        "kind": "photograph",
        "holder": f"{ADDRESS}holder",
        "created": "1935",
        "shows": [{"example": EXAMPLE, "when": "1934", "known_by": "number"}],
        "derives_from": [{"source": "book", "how": "print", "note": bad("derived-note")}],
    }


def _of_the_sources() -> dict[str, Any]:
    gone = {"why": bad("withdrawn"), "by": "mh", "date": "2026-01-11"}
    return {
        "sources/book.yaml": {
            **_fields("book"),
            "kind": "manual",
            "created": "1931",
            "issue": bad("issue"),
            "hazards": ["old-gas"],
        },
        "sources/album.yaml": {**_fields("album"), "kind": "photograph", "access": "team"},
        "sources/kept.yaml": {
            **_fields("kept"),
            "kind": "letter",
            "created": "1930",
            "within": {"source": "album"},
            "rights": {**_CLEARED, "publish": "ask", "holder": bad("kept-rights")},
        },
        "sources/gone.yaml": {**_fields("gone"), "kind": "letter", "created": "1930", "withdrawn": gone},
        "sources/found.yaml": {"title": bad("untagged"), "state": "untagged"},
    }


def _item(source: str, what: str, **more: Any) -> dict[str, Any]:
    at = {"page": 1, "page_label": bad(f"{what}-label"), "who": bad(f"{what}-who")}
    said = {"quote": bad(f"{what}-quote"), "note": bad(f"{what}-note")}
    return {"source": source, "at": at, "stance": "supports", "how": "states", **said, **more}


def _claimed() -> dict[str, Any]:
    seen = {"example": "8", "when": "1933", "known_by": "likeness", "signs": ["tube"], "why": bad("seen-why")}
    gone = {"why": bad("item-withdrawn"), "by": "mh", "date": "2026-01-11"}
    here = {"page": 1, "region": "percent:10,10,30,30"}
    width = {"about": "lamp/width", "applies_to": _EVERYBODY, "reasoning": bad("width-reasoning")}
    return {
        "claims/gas.yaml": {
            "about": "lamp/kind",
            "value": "gas",
            "applies_to": {"batch": bad("batch")},
            "reasoning": bad("reasoning"),
            "note": bad("claim-note"),
            "evidence": [
                _item("book", "book"),
                _item("picture", "picture", at=here, how="shows"),
                _item("print", "print", how="shows", seen=seen),
                _item("gone", "gone", withdrawn=gone),
            ],
        },
        "claims/oil.yaml": {
            "about": "lamp/kind",
            "value": "oil",
            "applies_to": {"examples": [EXAMPLE]},
            "reasoning": bad("rival-reasoning"),
            "evidence": [_item("kept", "rival")],
        },
        "claims/says.yaml": {
            "about": "lamp/wording",
            "value": bad("value"),
            "applies_to": _EVERYBODY,
            "evidence": [_item("book", "wording")],
        },
        "claims/wide.yaml": {**width, "value": "120 mm", "evidence": [_item("book", "wide")]},
        "claims/wider.yaml": {**width, "value": "121 mm", "evidence": [_item("kept", "wider")]},
    }


def _decided() -> dict[str, Any]:
    made = {
        "date": "2026-01-12",
        "by": bad("maker"),
        "value": bad("made"),
        "fits": "badly",
        "inspected_by": bad("inspector"),
        "photo": "picture",
        "note": bad("made-note"),
    }
    return {
        "decisions/build.yaml": {
            "about": "lamp/kind",
            "status": "released",
            "build": "gas",
            "tolerance": bad("tolerance"),
            "basis": ["gas"],
            "set_aside": [{"claim": "oil", "why": bad("set-aside")}],
            "modern_change": {"reason": "safety", "note": bad("change")},
            "drawings": [{"number": bad("drawing"), "issue": bad("drawing-issue")}],
            "stamp": bad("stamp"),
            "why": bad("decided"),
            "note": bad("decision-note"),
            "released": {"by": "mh", "date": "2026-01-11"},
            "made": [made],
        },
        "decisions/mark.yaml": {
            "about": "lamp/wording",
            "status": "proposed",
            "build": bad("value"),
            "basis": ["says"],
            "why": bad("proposed"),
        },
    }


def _told() -> dict[str, Any]:
    lead = {"place": bad("lead-place"), "reference": bad("lead-reference"), "hoped_for": ["lamp/kind", "lamp/width"]}
    more = {"effort": "small", "chance": "0.4", "note": bad("lead-note")}
    asked = {"grounds": bad("grounds"), "would_settle": bad("settle"), "note": bad("query-note")}
    answered = {"answer": bad("answer"), "answered_by": bad("answerer"), "answered_date": "2026-01-12"}
    found = {"method": bad("method"), "version": bad("version"), "settings": bad("settings")}
    statements = [
        {"text": bad("statement"), "features": ["lamp/kind", "lamp/wording", "lamp/width"]},
        {"text": bad("bare-statement"), "features": []},
    ]
    return {
        "leads/open.yaml": {
            "what": bad("lead"),
            "holder": bad("lead-holder"),
            "state": "open",
            "cost": "5",
            **lead,
            **more,
        },
        "leads/done.yaml": {
            "what": bad("done"),
            "holder": bad("done-holder"),
            "state": "searched",
            "outcome": bad("outcome"),
            **lead,
        },
        "queries/open.yaml": {"about": "lamp/kind", "raised_by": bad("visitor"), "state": "open", **asked},
        "queries/done.yaml": {"about": "lamp/kind", "state": "answered", **asked, **answered},
        "copies/picture--print.yaml": {
            "between": ["picture", "print"],
            "found_by": found,
            "why": bad("alike"),
            "ruling": "open",
            "note": bad("pair-note"),
        },
        "panels/wall.yaml": {
            "title": bad("panel"),
            "statements": statements,
            "components": ["lamp"],
            "note": bad("panel-note"),
        },
    }


def _lay_down(folder: Path, source: str, data: bytes, fields: dict[str, Any]) -> None:
    """Add a source of one picture under the hostile name, with what was read on it."""
    place = folder / "originals" / source / FILE
    place.parent.mkdir(parents=True)
    place.write_bytes(data)
    sha256 = hashlib.sha256(data).hexdigest()
    file = {"path": f"originals/{source}/{FILE}", "received_as": FILE, "sha256": sha256, "bytes": len(data)}
    record = {**fields, "files": [{**file, "media_type": "image/png", "pages": 1}], **_ENTERED}
    (folder / f"sources/{source}.yaml").write_text(json.dumps(record), encoding="utf-8")
    reading = PageReading(page=1, words=_WORDS, origin=Origin.RECOGNISED, engine=bad("engine"))
    ReadingsStore(folder).put(sha256, "k1", reading)


def texts_in(record: Mapping[str, Any]) -> set[str]:
    """Every hostile text of a record."""
    found: set[str] = set()
    for value in record.values():
        for each in value if isinstance(value, list) else [value]:
            if isinstance(each, dict):
                found |= texts_in(each)
            elif isinstance(each, list):
                found |= {text for text in each if MARKUP in text}
            elif isinstance(each, str) and MARKUP in each:
                found.add(each)
    return found
