"""Archives on disk for the pages of the fittings: hostile ones, long ones, and what a browser is handed of them."""

import hashlib
import json
import shutil
from pathlib import Path
from typing import Any

from checkout import ROOT
from flask.testing import FlaskClient
from PIL import Image
from reports.hostile import HOSTILE
from reports.read_html import Element, read_html

from provenance.web.app import create_app

_REFUSED = ("\ud800", "\x00", "\ufffe", "\u2028", "\ufeff")
HANDED = {name: text for name, text in HOSTILE.items() if not any(each in text for each in _REFUSED)}
"""Texts that a record may hold; those that it may not never get as far as a page."""

_ENTERED = {"by": "mh", "date": "2026-01-10"}


def a_client(folder: Path) -> FlaskClient:
    """A browser without a window, at the pages of an archive."""
    return create_app(folder).test_client()


def the_page(client: FlaskClient, address: str, code: int = 200) -> Element:
    """What a browser is handed, taken apart; a page that is not well formed fails."""
    answer = client.get(address)
    assert answer.status_code == code, answer.text[-2000:]
    assert answer.content_type == "text/html; charset=utf-8"
    return read_html(answer.text)


def a_sample(scratch: Path) -> Path:
    """A copy of the sample archive, without readings."""
    source = ROOT / "sample_archive" / "archive"
    return Path(shutil.copytree(source, scratch / "sample", ignore=shutil.ignore_patterns(".derived")))


def write_records(folder: Path, records: dict[str, Any]) -> Path:
    """Write records as JSON, which is YAML too."""
    for file, content in records.items():
        (folder / file).parent.mkdir(parents=True, exist_ok=True)
        (folder / file).write_text(json.dumps(content), encoding="utf-8")
    return folder


def an_archive_of(folder: Path, texts: list[str]) -> Path:
    """An archive in which each text stands wherever people may write what they like; the first one names things too."""
    word = texts[0]
    records: dict[str, Any] = {
        "archive.yaml": {
            "format": 1,
            "title": word,
            "production": [{"batch": "first", "examples": ["8", "9"], "built": "1930"}],
            "target": {"example": "9", "as_at": "1934-06", "why": word},
            "people": [{"id": "mh", "name": word}],
            "cautions": [{"hazard": "asbestos", "text": word, "consult": word}],
        },
        "components/car.yaml": {"name": word, **_ENTERED},
        "components/lamp.yaml": {
            "name": word,
            "part_of": "car",
            "references": texts,
            "also_called": texts,
            "hazards": ["asbestos"],
            "note": word,
            "features": [
                {
                    "id": "kind",
                    "name": word,
                    "aspect": "form",
                    "kind": "choice",
                    "datum": word,
                    "options": [
                        {
                            "id": f"o{number}",
                            "name": text,
                            "signs": [{"sign": "tube", "expect": "always", "source": "s0"}] if number == 0 else [],
                        }
                        for number, text in enumerate(texts)
                    ],
                }
            ],
            "signs": [{"id": "tube", "name": word}],
            **_ENTERED,
        },
        "decisions/build.yaml": {
            "about": "lamp/kind",
            "status": "released",
            "build": "o0",
            "basis": ["c0"],
            "set_aside": [{"claim": f"c{number}", "why": text} for number, text in enumerate(texts) if number],
            "why": word,
            "stamp": word,
            "made": [{"date": "2025", "by": "mh", "value": word, "fits": "badly", "note": word}],
            **_ENTERED,
        },
        "queries/doubt.yaml": {"about": "lamp/kind", "grounds": word, "would_settle": word, **_ENTERED},
    }
    for number, text in enumerate(texts):
        records[f"sources/s{number}.yaml"] = a_source(text)
        records[f"claims/c{number}.yaml"] = a_claim(f"o{number}", [f"s{number}"], text)
    return write_records(folder, records)


def a_source(text: str) -> dict[str, Any]:
    """A record of a source with the text wherever one may stand."""
    said = dict.fromkeys(("title", "creator", "holder", "place", "reference"), text)
    return {**said, "kind": "manual", "created": "1931", **_ENTERED}


def a_claim(value: str, sources: list[str], text: str) -> dict[str, Any]:
    """A record of a claim that each of the sources states, with the text wherever one may stand."""
    item = {"stance": "supports", "how": "states", "quote": text}
    return {
        "about": "lamp/kind",
        "value": value,
        "applies_to": {"examples": "all"},
        "reasoning": text,
        "evidence": [{**item, "source": each, "at": {"page": 1, "page_label": text, "who": text}} for each in sources],
        **_ENTERED,
    }


def give_picture(folder: Path, source: str) -> None:
    """Register a picture as the file of a source."""
    path = folder / f"originals/{source}/seen.png"
    path.parent.mkdir(parents=True)
    Image.new("RGB", (300, 200), (200, 30, 30)).save(path)
    data = path.read_bytes()
    file = {
        "path": f"originals/{source}/seen.png",
        "sha256": hashlib.sha256(data).hexdigest(),
        "bytes": len(data),
        "media_type": "image/png",
        "pages": 1,
    }
    record = folder / f"sources/{source}.yaml"
    record.write_text(json.dumps({**json.loads(record.read_text(encoding="utf-8")), "files": [file]}), "utf-8")
