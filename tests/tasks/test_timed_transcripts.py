from pathlib import Path

import pytest
from tasks.heard import INTERVIEW, SUBTITLES, a_sound, a_source_of
from tasks.team import a_scan, a_team_archive, a_text

from provenance.errors import UsageRefusedError
from provenance.records.timed_text_parsing import parse_webvtt
from provenance.tasks.checking import check_folder
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.searching import search
from provenance.tasks.tagging import Author, Tags, tag_source

AUTHOR = Author(by="mh", date="2026-02-01")


def store(opened: Opened, source: str, file: Path, page: int | None = None) -> tuple[str, ...]:
    return tag_source(opened.folder, source, Tags(transcript=file, page=page), AUTHOR).written


def test_a_transcript_with_times_is_stored_as_that_of_the_recording(tmp_path: Path) -> None:
    opened, source = a_source_of(a_team_archive(tmp_path), a_sound(tmp_path / "tape.wav"))
    file = a_text(tmp_path / "mine.vtt", INTERVIEW)

    written = store(opened, source, file)

    assert written == (f"transcripts/{source}/t01.vtt",)
    stored = (opened.folder / written[0]).read_text(encoding="utf-8")
    assert stored.startswith("WEBVTT\n\nNOTE\nby: mh\ndate: 2026-02-01\n\nNOTE written down by M. H. at Orrin\n")
    assert parse_webvtt(stored).words != ()
    assert [word.text for word in parse_webvtt(stored).words] == [word.text for word in parse_webvtt(INTERVIEW).words]
    assert check_folder(opened.folder).problems == ()
    assert search(open_folder(opened.folder), '"bell with a cord"').hits[0].time == "00:00:29.500/00:00:41.000"


def test_the_same_transcript_is_not_stored_twice_and_another_does_not_take_its_place(tmp_path: Path) -> None:
    opened, source = a_source_of(a_team_archive(tmp_path), a_sound(tmp_path / "tape.wav"))
    file = a_text(tmp_path / "mine.vtt", INTERVIEW.replace("\n", "\r\n"))
    store(opened, source, file)

    assert tag_source(opened.folder, source, Tags(transcript=file), Author(by="mh", date="2027-01-01")).written == ()
    with pytest.raises(UsageRefusedError, match="there is a transcript"):
        store(opened, source, a_text(file, INTERVIEW.replace("bell", "whistle")))


def test_a_source_whose_recording_is_elsewhere_may_have_its_transcript(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    written = store(opened, "photograph", a_text(tmp_path / "a.vtt", INTERVIEW))

    assert written == ("sources/photograph.yaml", "transcripts/photograph/t01.vtt")  # tagged, for the first time


def test_subtitles_may_be_corrected_by_a_transcript(tmp_path: Path) -> None:
    opened, source = a_source_of(a_team_archive(tmp_path), a_text(tmp_path / "film.srt", SUBTITLES), kind="film")

    assert store(opened, source, a_text(tmp_path / "mine.vtt", INTERVIEW)) == (f"transcripts/{source}/t01.vtt",)


def test_it_is_refused_where_it_is_not_plain_what_it_is_of(tmp_path: Path) -> None:
    opened, source = a_source_of(
        a_team_archive(tmp_path), a_sound(tmp_path / "a.wav"), a_sound(tmp_path / "b.wav", seconds=0.2)
    )
    file = a_text(tmp_path / "mine.vtt", INTERVIEW)

    with pytest.raises(UsageRefusedError, match="has 2 recordings") as several:
        store(opened, source, file)
    with pytest.raises(UsageRefusedError, match="handbook has none"):
        store(opened, "handbook", file)
    with pytest.raises(UsageRefusedError, match="a page has none"):
        store(opened, "photograph", file, page=1)

    assert f"transcripts/{source}/t01.vtt" in several.value.mend


def test_what_is_no_text_is_refused(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    broken = tmp_path / "broken.vtt"
    broken.write_bytes(b"WEBVTT\n" + b" " * 5000 + b"\0")

    with pytest.raises(UsageRefusedError, match="not text further on"):
        store(opened, "photograph", broken)
    with pytest.raises(UsageRefusedError, match="no text in UTF-8"):
        store(opened, "handbook", a_scan(tmp_path / "scan.png"), page=1)
    with pytest.raises(UsageRefusedError, match="cannot be read"):
        store(opened, "handbook", tmp_path / "nowhere.vtt", page=1)
