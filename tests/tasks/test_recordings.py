from pathlib import Path

import pytest
from tasks.heard import INTERVIEW, SUBTITLES, a_sound, a_source_of, a_transcript
from tasks.team import TODAY, a_team_archive, a_text

from provenance.records.timed_text import BlockKind
from provenance.rules.findings import Untranscribed
from provenance.tasks.checking import check_folder
from provenance.tasks.findings import look
from provenance.tasks.finds import look_over_finds
from provenance.tasks.ingest import ingest
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.page_readings import Readings, pages_of
from provenance.tasks.recordings import CUES_TO_A_PASSAGE, passages_of, spoken_texts, transcripts_of
from provenance.tasks.withdrawing import withdraw


def due(opened: Opened) -> list[Untranscribed]:
    return list(look(open_folder(opened.folder)).untranscribed or ())


def of_source(opened: Opened, source: str) -> list[str]:
    readings = Readings(opened.folder, opened.archive)
    return [spoken.name for spoken in spoken_texts(readings, opened.archive.sources[source])]


def many_cues(count: int) -> str:
    cues = (f"00:{n // 60:02}:{n % 60:02}.000 --> 00:{n // 60:02}:{n % 60:02}.900\nword{n}\n" for n in range(count))
    return "WEBVTT\n\nNOTE above all\n\n" + "\n".join(cues)


def test_a_recording_is_kept_as_it_is_and_named_until_somebody_transcribes_it(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    done = ingest(opened, [a_sound(tmp_path / "in" / "tape.wav")], by="mh", today=TODAY, workers=1)
    (file,) = done.files
    assert file.source is not None

    transcript = f"transcripts/{file.source}/t01.vtt"
    assert (file.state, file.pages, done.has_unread) == ("registered", None, False)
    assert file.why == f"a recording, kept as it is; what is said on it belongs in {transcript}"
    assert due(opened) == [Untranscribed(source=file.source, recording="tape.wav", transcript=transcript)]
    assert [page.source for page in look(open_folder(opened.folder)).unread or ()] == ["handbook"]

    a_transcript(opened, file.source)

    assert due(opened) == []
    again = ingest(open_folder(opened.folder), [tmp_path / "in"], by="mh", today=TODAY, workers=1)
    assert again.files[0].why == ""


def test_the_second_recording_of_a_source_needs_the_second_transcript(tmp_path: Path) -> None:
    opened, source = a_source_of(
        a_team_archive(tmp_path), a_sound(tmp_path / "a.wav"), a_sound(tmp_path / "b.wav", seconds=0.2)
    )

    a_transcript(opened, source)

    assert [(each.recording, each.transcript) for each in due(opened)] == [("b.wav", f"transcripts/{source}/t02.vtt")]
    a_transcript(opened, source, number=2)
    assert due(opened) == []


@pytest.mark.parametrize(("name", "text"), [("a.vtt", INTERVIEW), ("a.srt", SUBTITLES)])
def test_a_subtitle_file_beside_a_recording_will_do(tmp_path: Path, name: str, text: str) -> None:
    opened, source = a_source_of(
        a_team_archive(tmp_path), a_sound(tmp_path / "a.wav"), a_text(tmp_path / name, text), kind="film"
    )

    assert due(opened) == []
    assert of_source(opened, source) == ["p0001"]


def test_a_recording_that_was_withdrawn_is_not_asked_about(tmp_path: Path) -> None:
    opened, source = a_source_of(a_team_archive(tmp_path), a_sound(tmp_path / "a.wav"))

    withdraw(opened.folder, source, why="somebody else's tape", by="mh", today=TODAY)

    assert due(opened) == []


def test_a_text_is_cut_into_passages_and_each_cue_is_in_one_of_them(tmp_path: Path) -> None:
    opened, source = a_source_of(a_team_archive(tmp_path), a_sound(tmp_path / "a.wav"))
    a_transcript(opened, source, many_cues(2 * CUES_TO_A_PASSAGE + 1))

    (spoken,) = transcripts_of(opened.folder, opened.archive.sources[source])
    passages = list(passages_of(spoken))

    assert [passage.key for passage in passages] == [f"{source}/t01-{number:04}" for number in (1, 2, 3)]
    counts = [sum(block.kind is BlockKind.CUE for block in passage.blocks) for passage in passages]
    assert counts == [CUES_TO_A_PASSAGE, CUES_TO_A_PASSAGE, 1]
    assert [block for passage in passages for block in passage.blocks] == list(spoken.timed.blocks)
    assert passages[0].blocks[0].kind is BlockKind.NOTE


def test_a_text_without_a_cue_is_one_passage(tmp_path: Path) -> None:
    opened, source = a_source_of(a_team_archive(tmp_path), a_sound(tmp_path / "a.wav"))
    a_transcript(opened, source, "WEBVTT\n\nNOTE nothing is said\n")

    (spoken,) = transcripts_of(opened.folder, opened.archive.sources[source])

    assert [[block.kind for block in passage.blocks] for passage in passages_of(spoken)] == [[BlockKind.NOTE]]


def test_a_transcript_that_is_no_text_is_passed_over_and_named_by_check(tmp_path: Path) -> None:
    opened, source = a_source_of(a_team_archive(tmp_path), a_sound(tmp_path / "a.wav"))
    a_transcript(opened, source).write_bytes(b"WEBVTT\n\n\0\0\1")

    problems = check_folder(opened.folder).problems

    assert of_source(opened, source) == []
    assert [(problem.place.file, problem.rule) for problem in problems] == [
        (f"transcripts/{source}/t01.vtt", "transcript")
    ]


def test_a_transcript_in_another_encoding_is_read_and_named_by_check(tmp_path: Path) -> None:
    opened, source = a_source_of(a_team_archive(tmp_path), a_sound(tmp_path / "a.wav"))
    a_transcript(opened, source).write_text(INTERVIEW, encoding="utf-16")

    (problem,) = check_folder(opened.folder).problems

    assert of_source(opened, source) == ["t01"]
    assert problem.what == "it is not UTF-8 text, as WebVTT is; it was read as utf-16"


def test_a_page_that_a_person_transcribed_is_read_from_that(tmp_path: Path) -> None:
    opened, source = a_source_of(a_team_archive(tmp_path), a_text(tmp_path / "a.vtt", INTERVIEW))
    a_text(opened.folder / "transcripts" / source / "p0001.txt", "by: mh\ndate: 2026-01-10\n\nWINDOVER\n")

    readings = Readings(opened.folder, opened.archive)
    (page,) = pages_of(opened.archive.sources[source])

    assert of_source(opened, source) == []
    words = readings.words_of(page)
    assert words is not None
    assert words.text == "WINDOVER"


def test_what_is_said_suggests_what_a_find_speaks_of(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    files = [a_sound(tmp_path / "in" / "tape.wav"), a_text(tmp_path / "in" / "film.srt", SUBTITLES)]
    done = ingest(opened, files, by="mh", today=TODAY, workers=1)
    film, tape = (file.source or "" for file in done.files)
    a_transcript(opened, tape)

    finds = {find.source: find.suggested_components for find in look_over_finds(open_folder(opened.folder)).finds}

    assert [(each.component, each.why) for each in finds[tape]] == [("headlamp", "“headlamp” in the transcript t01")]
    assert [(each.component, each.why) for each in finds[film]] == [("headlamp", "“headlamp” in page 1")]
