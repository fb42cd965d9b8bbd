from pathlib import Path

from tasks.heard import INTERVIEW, SUBTITLES, a_sound, a_source_of, a_transcript
from tasks.team import a_team_archive, a_text

from provenance.reports.found import FoundPage
from provenance.tasks.claiming import add_evidence
from provenance.tasks.evidence_items import Evidence
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.recordings import CUES_TO_A_PASSAGE
from provenance.tasks.searching import search


def a_tape(tmp_path: Path, text: str = INTERVIEW) -> tuple[Opened, str]:
    opened, source = a_source_of(a_team_archive(tmp_path), a_sound(tmp_path / "tape.wav"))
    a_transcript(opened, source, text)
    return open_folder(opened.folder), source


def heard(opened: Opened, query: str, source: str) -> list[FoundPage]:
    return [hit for hit in search(opened, query).hits if hit.source == source and hit.what == "page"]


def test_what_is_said_is_found_with_its_time_and_the_cues_around(tmp_path: Path) -> None:
    opened, source = a_tape(tmp_path)

    (hit,) = heard(opened, '"bell with a cord"', source)

    assert (hit.record, hit.page, hit.regions) == (f"{source}/t01", None, ())
    assert hit.time == "00:00:29.500/00:00:41.000"
    assert hit.original == f"originals/{source}/tape.wav"
    assert "in my time, and never electric. Albert Fennick: There was a bell with a cord" in hit.snippet


def test_words_that_run_over_two_cues_are_told_with_both(tmp_path: Path) -> None:
    opened, source = a_tape(tmp_path)

    (phrase,) = heard(opened, '"acetylene in my time"', source)
    (words,) = heard(opened, "acetylene electric", source)

    assert phrase.time == words.time == "00:00:15.000/00:00:29.000"


def test_of_several_places_the_one_that_says_most_is_told(tmp_path: Path) -> None:
    opened, source = a_tape(tmp_path)

    (hit,) = heard(opened, "time bell cord", source)

    assert hit.time == "00:00:24.500/00:00:41.000"


def test_a_speaker_and_a_number_are_found(tmp_path: Path) -> None:
    opened, source = a_tape(tmp_path)

    (speaker,) = heard(opened, "interviewer", source)
    (number,) = heard(opened, "H-204", source)
    (misread,) = heard(opened, "H-2O4", source)

    assert (speaker.time, number.time, number.tier) == (
        "00:00:08.000/00:00:14.500",
        "00:00:29.500/00:00:41.000",
        "exact",
    )
    assert misread.time == number.time


def test_what_a_note_says_is_found_and_has_no_time(tmp_path: Path) -> None:
    opened, source = a_tape(tmp_path)

    (hit,) = heard(opened, '"written down by M. H."', source)

    assert hit.time is None
    assert "written down by M. H. at Orrin" in hit.snippet


def test_far_into_a_long_recording_the_time_is_that_of_the_cue(tmp_path: Path) -> None:
    cues = (f"00:{n // 60:02}:{n % 60:02}.000 --> 00:{n // 60:02}:{n % 60:02}.900\nword w{n}x\n" for n in range(100))
    opened, source = a_tape(tmp_path, "WEBVTT\n\n" + "\n".join(cues))

    (hit,) = heard(opened, "w77x", source)
    everywhere = heard(opened, "word", source)

    assert hit.time == "00:01:17.000/00:01:17.900"
    assert len(everywhere) == 100 / CUES_TO_A_PASSAGE


def test_a_subtitle_file_is_found_by_what_it_says_with_page_and_time(tmp_path: Path) -> None:
    opened, source = a_source_of(a_team_archive(tmp_path), a_text(tmp_path / "film.srt", SUBTITLES), kind="film")

    (hit,) = heard(opened, '"first day"', source)

    assert (hit.record, hit.page, hit.time) == (f"{source}/p0001", 1, "00:00:04.000/00:00:06.000")
    assert hit.original == f"originals/{source}/film.srt"
    assert not any("not read yet" in note and "2 pages" in note for note in search(opened, "lamp").notes)


def test_a_subtitle_file_that_is_not_here_is_found_by_its_reading_without_a_time(tmp_path: Path) -> None:
    opened, source = a_source_of(a_team_archive(tmp_path), a_text(tmp_path / "film.srt", SUBTITLES), kind="film")
    (opened.folder / "originals" / source / "film.srt").unlink()

    (hit,) = heard(opened, '"first day"', source)

    assert (hit.record, hit.page, hit.time) == (f"{source}/p0001", 1, None)


def test_a_transcript_that_was_mended_is_found_by_its_new_words_only(tmp_path: Path) -> None:
    opened, source = a_tape(tmp_path)
    assert heard(opened, "cord", source)

    a_transcript(opened, source, INTERVIEW.replace("cord", "windover"))

    assert heard(opened, "cord", source) == []
    assert [hit.time for hit in heard(opened, "windover", source)] == ["00:00:29.500/00:00:41.000"]


def test_a_page_of_writing_has_no_time_and_a_claim_the_one_that_it_cites(tmp_path: Path) -> None:
    opened, source = a_tape(tmp_path)
    evidence = Evidence(
        feature="headlamp/kind", value="electric", source=source, applies_to="all", quote="never electric"
    )
    add_evidence(opened.folder, evidence, by="mh", today="2026-02-01")

    hits = {hit.record: hit for hit in search(open_folder(opened.folder), "electric acetylene").hits}

    assert hits["claims/headlamp-kind-electric"].time == "00:00:24.500/00:00:29.000"
    assert hits["claims/headlamp-kind-acetylene"].time is None
