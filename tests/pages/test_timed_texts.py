import codecs
from pathlib import Path

import pytest

from provenance.errors import UnreadableOriginalError
from provenance.pages.plain_text import MAX_TEXT_BYTES
from provenance.pages.timed_texts import note_on_faults, read_timed_text, timed_type
from provenance.records.recordings import SUBRIP, WEBVTT

CUES = "WEBVTT\n\n00:08.000 --> 00:14.500\n<v Guard>Façade of the car\n"
NUMBERED = "1\n00:00:08,000 --> 00:00:14,500\nFaçade of the car\n"


@pytest.mark.parametrize(
    "head",
    [
        b"WEBVTT",
        b"WEBVTT\r\n\r\n00:08.000 --> 00:14.500",
        b"WEBVTT - Tape 7\n",
        codecs.BOM_UTF8 + b"WEBVTT\n",
        codecs.BOM_UTF16_LE + "WEBVTT\n\nx".encode("utf-16-le"),
        codecs.BOM_UTF16_BE + "WEBVTT\n\nx".encode("utf-16-be"),
        CUES.encode()[:-1] + "ç".encode()[:1],
    ],
)
def test_webvtt_is_told_by_its_signature(head: bytes) -> None:
    assert timed_type(head) == WEBVTT


@pytest.mark.parametrize(
    "head",
    [
        NUMBERED.encode(),
        NUMBERED.replace("\n", "\r\n").encode(),
        b"\r\n\r\n" + NUMBERED.encode(),
        codecs.BOM_UTF8 + NUMBERED.encode(),
        codecs.BOM_UTF16_LE + NUMBERED.encode("utf-16-le"),
        b"0:00:08.000 --> 0:00:14.500\nwithout its number\n",
    ],
)
def test_subrip_is_told_by_its_first_cue(head: bytes) -> None:
    assert timed_type(head) == SUBRIP


@pytest.mark.parametrize(
    "head",
    [
        b"",
        b"WEBVTTX\n",
        b"webvtt\n",
        b"Dear Sir,\n",
        b"1\nThe lamp\n",
        b"At 00:00:08,000 --> 00:00:14,500\n",
        b"\xff\xfe",
    ],
)
def test_other_texts_have_no_times(head: bytes) -> None:
    assert timed_type(head) is None


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
@pytest.mark.parametrize(("text", "media_type"), [(CUES, WEBVTT), (NUMBERED, SUBRIP)])
def test_what_is_said_is_read_however_it_was_saved(tmp_path: Path, encoding: str, text: str, media_type: str) -> None:
    path = tmp_path / "tape"
    path.write_bytes(text.replace("\n", "\r\n").encode(encoding))

    timed, decoded = read_timed_text(path, media_type)

    assert [word.text for word in timed.words] == ["Façade", "of", "the", "car"]
    assert timed.faults == ()
    assert decoded.note == ("not UTF-8; read as Windows-1252" if encoding == "cp1252" else "")


def test_a_text_with_times_that_is_far_too_long_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "tape.vtt"
    path.write_bytes(b"WEBVTT\n" + b" " * MAX_TEXT_BYTES)

    with pytest.raises(UnreadableOriginalError, match="million bytes"):
        read_timed_text(path, WEBVTT)


@pytest.mark.parametrize(
    ("text", "note"),
    [
        (CUES, ""),
        ("WEBVTT\n\nstray\n", "line 3: a line that belongs to no cue: `stray`"),
        ("WEBVTT\n\na\n\nb\n\nc\n", "line 3: a line that belongs to no cue: `a`, and 2 more"),
    ],
)
def test_what_is_wrong_is_said_in_few_words(tmp_path: Path, text: str, note: str) -> None:
    path = tmp_path / "tape.vtt"
    path.write_text(text, encoding="utf-8")

    timed, _ = read_timed_text(path, WEBVTT)

    assert note_on_faults(timed) == note
