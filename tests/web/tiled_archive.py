"""A small archive on disk whose pages are looked at closely."""

import hashlib
import io
from pathlib import Path

import yaml
from cli.command_line import SOUND, a_copy_of
from pages.tiled import large_page
from PIL import Image

PNG, JPEG = "image/png", "image/jpeg"


def an_archive(scratch: Path) -> Path:
    """The sound archive with a large coded page (`coded`), a part of it (`part`), a broken file and a recording."""
    folder = a_copy_of(SOUND, scratch)
    add_source(folder, "coded", PNG, as_file(large_page()))
    (folder / "sources" / "part.yaml").write_text(
        "title: Part\nkind: photograph\nwithin: {source: coded, pages: '1', region: 'percent:50,0,50,50'}\n"
        "by: mh\ndate: 2026-01-20\n",
        encoding="utf-8",
    )
    add_source(folder, "broken", PNG, as_file(large_page())[:400])
    add_source(folder, "talk", "audio/mpeg", b"ID3" + bytes(100), pages=None)
    return folder


def add_source(folder: Path, source: str, media_type: str, data: bytes, pages: int | None = 1) -> None:
    """Add a source of one file."""
    place = folder / "originals" / source / "file"
    place.parent.mkdir(parents=True)
    place.write_bytes(data)
    file = {
        "path": f"originals/{source}/file",
        "sha256": hashlib.sha256(data).hexdigest(),
        "bytes": len(data),
        "media_type": media_type,
    } | ({"pages": pages} if pages else {})
    kind = "oral-history" if pages is None else "drawing"
    record = {"title": source, "kind": kind, "files": [file], "by": "mh", "date": "2026-01-20"}
    (folder / "sources" / f"{source}.yaml").write_text(yaml.safe_dump(record), encoding="utf-8")


def as_file(picture: Image.Image, kind: str = "PNG") -> bytes:
    """A picture's own file."""
    data = io.BytesIO()
    picture.save(data, kind)
    return data.getvalue()
