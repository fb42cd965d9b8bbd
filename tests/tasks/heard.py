"""Recordings for tests: sound as a recorder delivers it, and what is said on it."""

import wave
from pathlib import Path

from tasks.team import TODAY, a_text

from provenance.tasks.batches import Batch
from provenance.tasks.ingest import ingest
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.tagging import Tags, tag_source

INTERVIEW = """\
WEBVTT

NOTE written down by M. H. at Orrin

00:00:08.000 --> 00:00:14.500
<v Interviewer>You were guard on the cars, Mr. Fennick?

00:00:15.000 --> 00:00:24.000
<v Albert Fennick>Nine years. The head lamp was acetylene

00:00:24.500 --> 00:00:29.000
in my time, and never electric.

00:00:29.500 --> 00:00:41.000
<v Albert Fennick>There was a bell with a cord, No. H-204.
"""
SUBTITLES = """\
1
00:00:01,000 --> 00:00:03,500
The head lamp was electric

2
00:00:04,000 --> 00:00:06,000
from the very first day.
"""


def a_sound(path: Path, seconds: float = 0.1) -> Path:
    """A WAVE file of silence, as Python's own library writes it; another length is another file."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with wave.open(str(path), "wb") as sound:
        sound.setnchannels(1)
        sound.setsampwidth(2)
        sound.setframerate(8000)
        sound.writeframes(b"\0\0" * int(8000 * seconds))
    return path


def a_source_of(opened: Opened, *files: Path, kind: str = "oral-history") -> tuple[Opened, str]:
    """These files taken in as one source, tagged; the archive opened again, and the source's id."""
    done = ingest(opened, list(files), by="mh", today=TODAY, batch=Batch(together=len(files) > 1), workers=1)
    source = done.files[0].source
    assert source is not None
    tag_source(opened.folder, source, Tags(words={"kind": kind}), None)
    return open_folder(opened.folder), source


def a_transcript(opened: Opened, source: str, text: str = INTERVIEW, number: int = 1) -> Path:
    """What a person wrote down of a recording."""
    return a_text(opened.folder / "transcripts" / source / f"t{number:02}.vtt", text)
