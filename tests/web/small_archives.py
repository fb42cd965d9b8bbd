"""A small archive on disk with something of everything that pages show of sources, and a reader that trusts no page."""

import hashlib
import io
import json
import shutil
import struct
import wave
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

from flask.testing import FlaskClient
from pages.coded_pages import coded_page
from PIL.PngImagePlugin import PngInfo
from tasks.team import SOUND, a_text

from provenance.records.readings import Box, Origin, PageReading, Word
from provenance.store.readings_store import ReadingsStore
from provenance.web.app import create_app

WORDS = (
    Word(text="Bracket", line=1, box=Box(x=10, y=10, w=20, h=5), confidence=95),
    Word(text="H-204", line=1, box=Box(x=32, y=10, w=12, h=5), confidence=30),
    Word(text="above", line=2, box=Box(x=10, y=40, w=15, h=5), confidence=90),
    Word(text="rail", line=2, box=Box(x=27, y=40, w=10, h=5), confidence=90),
)
"""What was read on the drawing; of its number the recogniser was not sure."""

SPOKEN = """WEBVTT

NOTE
by: mh
date: 2026-01-10

00:00:00.000 --> 00:00:01.000
<v Guard>There was a bell.

00:00:01.000 --> 00:00:02.000
<v Guard>I gave it two pulls.
"""

_NAMES = (
    "html head meta title link body header form label input button nav main section aside footer script details "
    "summary a h1 h2 h3 h4 p ul ol li dl dt dd div span figure figcaption img strong small mark bdi br code pre "
    "table thead tbody tr th td svg rect line text audio video track"
    " select option datalist textarea fieldset legend output kbd"
)
_SHOWN = frozenset(_NAMES.split())


def a_drawing(folder: Path, name: str = "drawing", words: tuple[Word, ...] = WORDS, **fields: Any) -> str:
    """Add a drawing of one page, 400 by 200 pixels, with what was read on it; its id comes back."""
    data = io.BytesIO()
    told = PngInfo()
    told.add_text("name", name)  # no two have the same bytes, by which readings are kept
    coded_page().save(data, "PNG", pnginfo=told)
    sha256 = _original(folder / "originals" / name / "page.png", data.getvalue(), "image/png", fields, pages=1)
    reading = PageReading(page=1, words=words, origin=Origin.RECOGNISED, engine="a recogniser")
    ReadingsStore(folder).put(sha256, "k1", reading)
    return name


def a_tape(folder: Path, name: str = "tape", **fields: Any) -> str:
    """Add two seconds of silence with what is said on them; its id comes back."""
    data = io.BytesIO()
    with wave.open(data, "wb") as tape:
        tape.setparams((1, 1, 8000, 0, "NONE", "not compressed"))
        tape.writeframes(struct.pack("16000B", *[128] * 16000))
    told = {"kind": "oral-history", "title": "A tape", **fields}
    _original(folder / "originals" / name / "tape.wav", data.getvalue(), "audio/wav", told)
    a_text(folder / "transcripts" / name / "t01.vtt", SPOKEN)
    return name


def _original(place: Path, data: bytes, media_type: str, fields: dict[str, Any], *, pages: int | None = None) -> str:
    path, name, folder = place, place.parent.name, place.parents[2]
    path.parent.mkdir(parents=True)
    path.write_bytes(data)
    sha256 = hashlib.sha256(data).hexdigest()
    told = {"path": f"originals/{name}/{path.name}", "sha256": sha256, "bytes": len(data), "media_type": media_type}
    told |= {"pages": pages} if pages else {}
    record = {"title": "A drawing", "kind": "drawing", "files": [told], "by": "mh", "date": "2026-01-10", **fields}
    a_text(folder / "sources" / f"{name}.yaml", json.dumps(record))
    return sha256


def a_small_archive(tmp_path: Path) -> Path:
    """The sound archive with a drawing and a tape."""
    folder = Path(shutil.copytree(SOUND, tmp_path / "archive"))
    a_drawing(folder, holder="Orrin Museum", created="1932", topics=["headlamp"])
    a_tape(folder)
    return folder


def a_client(folder: Path) -> FlaskClient:
    """Somebody who asks for the pages of an archive."""
    return create_app(folder).test_client()


def asked(client: FlaskClient, address: str, **headers: str) -> Any:
    """What is answered; the browser stands on this machine."""
    return client.get(address, base_url="http://localhost", headers=headers, buffered=True)


class SeenPage(HTMLParser):
    """A page as its tags, their attributes and its words; whatever a text of others could set going fails at once."""

    def __init__(self, answer: Any) -> None:
        """Read a page."""
        super().__init__(convert_charrefs=True)
        self.tags: list[tuple[str, dict[str, str]]] = []
        self.words: list[str] = []
        self.feed(answer.get_data(as_text=True))
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Take an element that our own templates know."""
        assert tag in _SHOWN, tag
        assert len(dict(attrs)) == len(attrs), f"an attribute of {tag} stands twice"
        told = {name: value or "" for name, value in attrs}
        assert not [name for name in told if name.startswith("on") or name == "style"], told
        for name in ("href", "src", "action"):
            assert told.get(name, "/").startswith(("/", "#", "data:,")), told
        assert tag != "script" or told["src"].startswith("/static/")
        self.tags.append((tag, told))

    def handle_data(self, data: str) -> None:
        """Take words."""
        self.words.append(data)

    def handle_comment(self, data: str) -> None:
        """Refuse a comment: no template writes one."""
        raise AssertionError(data)

    @property
    def text(self) -> str:
        """All its words on one line."""
        return " ".join("".join(self.words).split())

    def all(self, tag: str) -> list[dict[str, str]]:
        """The attributes of every element of that name, in order."""
        return [told for each, told in self.tags if each == tag]

    def links(self, beginning: str) -> list[str]:
        """The addresses of all links that begin so, in order."""
        return [told["href"] for told in self.all("a") if told.get("href", "").startswith(beginning)]


def seen(client: FlaskClient, address: str, code: int = 200) -> SeenPage:
    """Ask for a page, and read it."""
    answer = asked(client, address)
    assert answer.status_code == code, answer.get_data(as_text=True)
    return SeenPage(answer)
