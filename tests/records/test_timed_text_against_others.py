"""What is said when, held against `webvtt-py` (MIT), which reads WebVTT as the W3C's standard does, and SubRip.

Where we differ, on purpose:
- what it drops (a cue without times, without text, or that ends before it begins) is kept here, and named;
- times without all their figures (`0:0:7.23`) are named and not used: `.23` can be read in two ways;
- escapes (`&lt;`) are taken off here, and tags that nobody knows are kept;
- a line of white space ends a cue of SubRip here, and text after it is named instead of added to the cue above;
- a file without its signature, or with no cue, is refused there and read here.
"""

import subprocess
import sys
import tarfile
from importlib.metadata import version
from pathlib import Path

import pytest
import webvtt
from records.test_timed_text_parsing import SUBRIP_TEXT, WHOLE
from webvtt.errors import MalformedFileError

from provenance.records.timed_text import BlockKind, TimedText
from provenance.records.timed_text_parsing import parse_subrip, parse_webvtt

Cue = tuple[str, tuple[str, ...]]

MADE = {
    "whole": WHOLE,
    "without identifiers": "WEBVTT\n\n00:01.000 --> 00:02.000\nOne\nTwo\n\n\n\n00:03.000 --> 00:04.000 line:0\nThree\n",
    "without empty lines": "WEBVTT\n00:01.000 --> 00:02.000\nOne\n00:03.000 --> 00:04.000\nTwo\n",
    "notes between cues": "WEBVTT\n\nNOTE a\n\n00:01.000 --> 00:02.000\nOne\n\nNOTE\nb\n\n00:03.000 --> 00:04.000\n2\n",
    "white space in a cue": "WEBVTT\n\n00:01.000 --> 00:02.000\nOne\n \nTwo\n\n00:03.000 --> 00:04.000\nThree\n",
    "tags": "WEBVTT\n\n00:01.000 --> 00:02.000\n<v.loud Guard>One <b>two</b> <00:01.500>three</v>\n<c.x>four</c>\n",
    "hours": "WEBVTT\n\n99:59:01.000 --> 100:00:02.000\nOne\n",
    "stray lines": "WEBVTT\n\n00:01.000 --> 00:02.000\nOne\n\nstray\n\nTwo\n00:03.000 --> 00:04.000\nThree\n",
}


def ours(text: TimedText) -> list[Cue]:
    cues = (block for block in text.blocks if block.kind is BlockKind.CUE)
    return [(str(cue.span).replace("/", " "), tuple(line.text for line in cue.lines)) for cue in cues]


def theirs(captions: webvtt.WebVTT) -> list[Cue]:
    return [
        (
            f"{caption.start} {caption.end}",
            tuple(" ".join(line.split()) for line in caption.text.split("\n") if line.strip()),
        )
        for caption in captions.captions
    ]


@pytest.mark.parametrize("name", MADE)
def test_the_same_is_said_at_the_same_time(name: str) -> None:
    read = webvtt.from_string(MADE[name])

    assert ours(parse_webvtt(MADE[name])) == theirs(read)


def test_the_same_is_said_in_a_subrip_file(tmp_path: Path) -> None:
    path = tmp_path / "made.srt"
    path.write_text(SUBRIP_TEXT.replace("{\\an8}", "").replace("\n \n", "\n\n"), encoding="utf-8")

    read = webvtt.from_srt(str(path))

    assert ours(parse_subrip(path.read_text(encoding="utf-8"))) == theirs(read)


def test_the_speaker_is_the_same() -> None:
    read = webvtt.from_string(WHOLE)

    speakers = [block.speakers[0] for block in parse_webvtt(WHOLE).blocks if block.kind is BlockKind.CUE]

    assert speakers == [caption.voice for caption in read.captions] == ["Interviewer", "Albert Fennick"]


DROPPED = {"invalid_timeframe.srt", "invalid_timeframe.vtt", "missing_caption_text.srt"}
"""A cue without times or text, which is dropped there."""
SHORT = {"non_padded_timestamps.vtt"}
JOINED = {"missing_timeframe.srt"}
ESCAPED = {"styles_colours.srt", "styles_colours.vtt"}
REFUSED = {"empty.vtt", "invalid.vtt"} | {f"invalid_format{number}.srt" for number in range(1, 5)}


@pytest.mark.long
def test_the_files_that_it_is_tested_with_are_read_alike(tmp_path: Path) -> None:
    """Source: `tests/samples` of its source package, fetched from the registry for the length of this test."""
    wanted = f"webvtt-py=={version('webvtt-py')}"
    command = [
        sys.executable,
        "-m",
        "pip",
        "download",
        "--no-binary",
        ":all:",
        "--no-deps",
        wanted,
        "-d",
        str(tmp_path),
    ]
    subprocess.run(command, check=True, capture_output=True)
    with tarfile.open(next(tmp_path.glob("*.tar.gz"))) as package:
        package.extractall(tmp_path, filter="data")
    samples = sorted(path for path in tmp_path.glob("*/tests/samples/*") if path.suffix in {".vtt", ".srt"})
    assert len(samples) >= 25

    alike = set()
    for path in samples:
        is_webvtt = path.suffix == ".vtt"
        text = path.read_bytes().decode("utf-8-sig")
        mine = ours((parse_webvtt if is_webvtt else parse_subrip)(text))
        if path.name in REFUSED:
            with pytest.raises(MalformedFileError):
                (webvtt.read if is_webvtt else webvtt.from_srt)(str(path))
            continue
        other = theirs((webvtt.read if is_webvtt else webvtt.from_srt)(str(path)))
        if path.name in DROPPED:
            assert [cue for cue in mine if cue[0] != "None" and cue[1]] == other, path.name
        elif path.name in SHORT:
            assert [words[-1:] for _, words in mine] == [words for _, words in other], path.name
        elif path.name in JOINED:
            assert [time for time, _ in mine] == [time for time, _ in other], path.name
        elif path.name in ESCAPED:
            assert mine == [(time, tuple(line.replace("&lt;", "<") for line in words)) for time, words in other]
        else:
            assert mine == other, path.name
            alike.add(path.name)
    assert len(alike) >= 15
