from pathlib import Path

import pytest
from builders import a_source

from provenance.records.sources import OriginalFile
from provenance.store.transcripts import (
    check_transcripts,
    recording_file,
    recording_transcripts,
    transcribed_sources,
)


def write(folder: Path, *names: str) -> None:
    for name in names:
        (folder / "transcripts" / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / "transcripts" / name).write_text("WEBVTT\n", encoding="utf-8")


def a_file(name: str, media_type: str = "audio/vnd.wave") -> OriginalFile:
    return OriginalFile(path=f"originals/tape/{name}", sha256="0" * 64, size=1, media_type=media_type)


def test_the_transcripts_of_recordings_are_found_by_their_number(tmp_path: Path) -> None:
    write(tmp_path, "tape/t02.vtt", "tape/t01.vtt", "tape/t10.vtt", "tape/t1.vtt", "tape/t03.txt", "tape/p0001.txt")
    write(tmp_path, "tape/t00.vtt")
    (tmp_path / "transcripts" / "tape" / "t04.vtt").symlink_to(tmp_path / "transcripts" / "tape" / "t01.vtt")

    found = recording_transcripts(tmp_path, "tape")

    assert [(number, path.name) for number, path in found] == [(1, "t01.vtt"), (2, "t02.vtt"), (10, "t10.vtt")]
    assert [tmp_path / recording_file("tape", number) for number, _ in found] == [path for _, path in found]


def test_where_nothing_was_written_down_there_is_nothing(tmp_path: Path) -> None:
    assert recording_transcripts(tmp_path, "tape") == ()
    assert transcribed_sources(tmp_path) == frozenset()


def test_the_sources_of_which_something_was_written_down_are_known(tmp_path: Path) -> None:
    write(tmp_path, "tape/t01.vtt", "letter/p0001.txt")

    assert transcribed_sources(tmp_path) == {"tape", "letter"}


@pytest.mark.parametrize(
    ("name", "files", "what"),
    [
        ("t01.vtt", (), None),
        ("t02.vtt", (), None),
        ("t02.vtt", (a_file("a.wav"), a_file("notes.txt", "text/plain"), a_file("b.wav")), None),
        ("t02.vtt", (a_file("a.wav"), a_file("b.txt", "text/plain")), "there is no recording 2 of tape, which has 1"),
        ("t00.vtt", (a_file("a.wav"),), "there is no recording 0 of tape, which has 1"),
        ("t00.vtt", (), "there is no recording 0 of tape"),
    ],
)
def test_a_transcript_of_a_recording_that_is_not_there_is_named(
    tmp_path: Path, name: str, files: tuple[OriginalFile, ...], what: str | None
) -> None:
    write(tmp_path, f"tape/{name}")

    problems = list(check_transcripts(tmp_path, {"tape": a_source("tape", "oral-history", files=files)}))

    assert [problem.what for problem in problems] == ([what] if what else [])


def test_a_link_to_a_transcript_is_named(tmp_path: Path) -> None:
    write(tmp_path, "tape/t01.vtt")
    (tmp_path / "transcripts" / "tape" / "t02.vtt").symlink_to(tmp_path / "transcripts" / "tape" / "t01.vtt")

    problems = list(check_transcripts(tmp_path, {"tape": a_source("tape", "oral-history")}))

    assert [problem.what for problem in problems] == ["it is a link, which is not followed"]
