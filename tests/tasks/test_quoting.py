"""Quotations from recordings: their times are found, and what is not said is refused with the nearest shown."""

from pathlib import Path

import pytest
from tasks.heard import INTERVIEW, SUBTITLES, a_sound, a_source_of, a_transcript
from tasks.team import TODAY, a_team_archive, a_text

from provenance.errors import UsageRefusedError
from provenance.records.claims import At
from provenance.tasks.claiming import add_evidence
from provenance.tasks.evidence_items import Evidence
from provenance.tasks.opening import Opened, open_folder

QUOTED = "The head lamp was acetylene in my time"
AT = "00:00:15.000/00:00:29.000"


def a_tape(tmp_path: Path, text: str = INTERVIEW) -> tuple[Opened, str]:
    opened, source = a_source_of(a_team_archive(tmp_path), a_sound(tmp_path / "tape.wav"))
    a_transcript(opened, source, text)
    return open_folder(opened.folder), source


def claim(opened: Opened, source: str, quote: str, **at: object) -> tuple[At, tuple[str, ...]]:
    """Where the record says that it stands, and what the person is told."""
    evidence = Evidence(
        feature="headlamp/kind", value="acetylene", source=source, applies_to="all", quote=quote, at=at,
        item={"how": "states"},
    )  # fmt: skip
    written = add_evidence(opened.folder, evidence, by="mh", today=TODAY)
    return open_folder(opened.folder).archive.claims[written.record].evidence[-1].at, written.said


def refusal(opened: Opened, source: str, quote: str, **at: object) -> UsageRefusedError:
    with pytest.raises(UsageRefusedError) as refused:
        claim(opened, source, quote, **at)
    return refused.value


def test_a_quotation_finds_the_time_of_the_cues_that_hold_it(tmp_path: Path) -> None:
    opened, source = a_tape(tmp_path)

    at, said = claim(opened, source, QUOTED)

    assert (at.page, str(at.time), at.region, at.file) == (None, AT, None, None)
    assert said[0] == f"The quotation is said at {AT}, by Albert Fennick."


def test_the_source_need_not_hold_the_recording_itself(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    a_transcript(opened, "photograph")

    at, _ = claim(opened, "photograph", "a bell with a cord")

    assert (at.page, str(at.time)) == (None, "00:00:29.500/00:00:41.000")


def test_a_quotation_that_is_not_said_is_refused_and_the_nearest_shown(tmp_path: Path) -> None:
    opened, source = a_tape(tmp_path)

    refused = refusal(opened, source, "The head lamp was electric in his time")

    assert refused.what == (
        f"the quotation does not stand in the transcript t01 of {source}; "
        f"the nearest is at {AT}: “The head lamp was acetylene in my time,”"
    )
    assert f"transcripts/{source}/t01.vtt" in refused.mend


def test_what_a_note_says_is_not_said_on_the_recording(tmp_path: Path) -> None:
    opened, source = a_tape(tmp_path)

    assert "nor anything like it" in refusal(opened, source, "written down by M. H. at Orrin").what


def test_a_name_of_a_speaker_is_no_word_of_theirs(tmp_path: Path) -> None:
    opened, source = a_tape(tmp_path)

    at, _ = claim(opened, source, "Mr. Fennick? Nine years.")

    assert str(at.time) == "00:00:08.000/00:00:24.000"


def test_a_quotation_that_differs_a_little_is_taken_and_the_difference_told(tmp_path: Path) -> None:
    opened, source = a_tape(tmp_path)

    _, said = claim(opened, source, "There was a bell with a chord")

    # one letter more than was written down; 23 in all
    assert said[1].startswith(
        "The transcript has it a little differently (one letter of 23): “There was a bell with a cord,”."
    )


def test_who_speaks_is_asked_for_where_it_is_not_the_creator(tmp_path: Path) -> None:
    opened, source = a_tape(tmp_path)
    record = opened.folder / "sources" / f"{source}.yaml"
    a_text(record, record.read_text(encoding="utf-8") + "creator: albert  Fennick\n")
    opened = open_folder(opened.folder)

    _, by_the_creator = claim(opened, source, QUOTED)
    _, by_another = claim(opened, source, "You were guard on the cars")

    assert not any("--who" in sentence for sentence in by_the_creator)
    assert any("--who" in sentence for sentence in by_another)


def test_what_is_said_twice_asks_for_the_time(tmp_path: Path) -> None:
    again = "\n00:01:00.000 --> 00:01:02.000\nnever electric\n\n01:00:00.000 --> 01:00:02.000\nnever electric.\n"
    opened, source = a_tape(tmp_path, INTERVIEW + again)

    refused = refusal(opened, source, "never electric")
    at, said = claim(opened, source, "never electric", time="00:01:01")

    assert refused.what == (
        f"the quotation is said more than once in the transcript t01 of {source}: at 00:00:24.500/00:00:29.000, "
        "00:01:00.000/00:01:02.000 and 01:00:00.000/01:00:02.000"
    )
    assert "--time" in refused.mend
    assert str(at.time) == "00:01:01"
    assert said[0].startswith("The quotation is said at 00:01:00.000/00:01:02.000")


@pytest.mark.parametrize(
    ("quote", "time"),
    [
        ("acetylene", "00:00:14"),
        ("in my time", "00:00:30"),
        ("acetylene", "00:00:20/00:00:21"),
        ("acetylene in my", "00:00:10/00:00:35.5"),
    ],
)
def test_a_time_that_is_given_stays_as_typed_within_a_second_of_the_cue(tmp_path: Path, quote: str, time: str) -> None:
    opened, source = a_tape(tmp_path)

    at, _ = claim(opened, source, quote, time=time)

    assert str(at.time) == time


def test_a_quotation_that_is_said_at_another_time_is_refused_with_that_time(tmp_path: Path) -> None:
    opened, source = a_tape(tmp_path)

    refused = refusal(opened, source, "a bell with a cord", time="00:00:10")

    assert refused.what == (
        f"the quotation does not stand in the transcript t01 of {source} at 00:00:10; "
        "the nearest is at 00:00:29.500/00:00:41.000: “a bell with a cord,”"
    )


def test_a_time_that_is_none_is_refused_before_anything_is_looked_up(tmp_path: Path) -> None:
    opened, source = a_tape(tmp_path)

    assert refusal(opened, source, QUOTED, time="12 minutes").mend.startswith("write hours, minutes and seconds")


def test_a_recording_without_a_transcript_says_that_nothing_was_compared(tmp_path: Path) -> None:
    opened, source = a_source_of(a_team_archive(tmp_path), a_sound(tmp_path / "tape.wav"))

    at, said = claim(opened, source, QUOTED, time="00:12:31")

    assert str(at.time) == "00:12:31"
    assert said[0] == f"The quotation could not be compared: there is no transcript of {source} with its times."


def test_of_two_recordings_the_file_is_told_too(tmp_path: Path) -> None:
    opened, source = a_source_of(
        a_team_archive(tmp_path),
        a_sound(tmp_path / "a.wav"),
        a_text(tmp_path / "b.txt", "Tape 7, both sides\n"),
        a_sound(tmp_path / "c.wav", seconds=0.2),
    )
    a_transcript(opened, source, "WEBVTT\n\n00:01.000 --> 00:02.000\nTwo pulls\n")
    a_transcript(opened, source, INTERVIEW, number=2)

    at, _ = claim(opened, source, QUOTED)

    assert (at.file, at.page, str(at.time)) == (3, None, AT)
    refused = refusal(opened, source, QUOTED, file=1)
    assert "nor anything like it" in refused.what


def test_what_is_said_on_both_recordings_asks_for_the_file(tmp_path: Path) -> None:
    opened, source = a_source_of(
        a_team_archive(tmp_path), a_sound(tmp_path / "a.wav"), a_sound(tmp_path / "b.wav", seconds=0.2)
    )
    a_transcript(opened, source)
    a_transcript(opened, source, number=2)

    refused = refusal(opened, source, QUOTED)
    at, _ = claim(opened, source, QUOTED, file=2)

    assert refused.what == f"the quotation is said in the transcript t01 and the transcript t02 of {source}"
    assert "--file" in refused.mend
    assert (at.file, str(at.time)) == (2, AT)


def test_a_subtitle_file_is_cited_by_its_page_and_the_time(tmp_path: Path) -> None:
    opened, source = a_source_of(a_team_archive(tmp_path), a_text(tmp_path / "film.srt", SUBTITLES), kind="film")

    at, said = claim(opened, source, "electric from the very first day")
    again, _ = claim(opened, source, "electric from the", page=1)

    assert (at.page, str(at.time)) == (1, "00:00:01.000/00:00:06.000")
    assert (again.page, str(again.time)) == (1, "00:00:01.000/00:00:06.000")
    assert said[0] == "The quotation is said at 00:00:01.000/00:00:06.000."
    refused = refusal(opened, source, "electric from the very last week")
    assert f"page 1 of {source}; the nearest is at 00:00:01.000/00:00:06.000" in refused.what
    assert f"transcripts/{source}/t01.vtt" in refused.mend


def test_a_person_s_transcript_stands_before_the_subtitles_that_came_with_the_film(tmp_path: Path) -> None:
    opened, source = a_source_of(
        a_team_archive(tmp_path), a_sound(tmp_path / "a.wav"), a_text(tmp_path / "b.srt", SUBTITLES), kind="film"
    )
    a_transcript(opened, source, "WEBVTT\n\n00:02.000 --> 00:03.000\nThe head lamp was electric\n")

    at, _ = claim(opened, source, "The head lamp was electric")

    assert (at.page, str(at.time)) == (None, "00:00:02.000/00:00:03.000")


def test_words_without_a_time_are_found_and_the_time_is_asked_for(tmp_path: Path) -> None:
    opened, source = a_tape(tmp_path, "WEBVTT\n\n00:09.000 --> 00:08.000\nThe head lamp was acetylene\n")

    at, said = claim(opened, source, "The head lamp was acetylene")

    assert at == At()
    assert "line 4 of the transcript t01" in said[0]
    assert "--time" in said[0]


def test_a_quotation_on_a_page_of_a_source_with_a_recording_is_found_there(tmp_path: Path) -> None:
    opened, source = a_source_of(
        a_team_archive(tmp_path), a_sound(tmp_path / "a.wav"), a_text(tmp_path / "b.txt", "Tape 7, side A, of 1991\n")
    )
    a_transcript(opened, source)

    at, said = claim(opened, source, "Tape 7, side A")
    refused = refusal(opened, source, "never of brass at all")

    assert (at.page, at.time) == (1, None)
    assert said[0] == "The quotation stands on page 1."
    assert f"on any page of {source} that was read or written down" in refused.what
