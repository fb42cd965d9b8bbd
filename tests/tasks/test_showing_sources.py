"""A source and its pages as they are looked at."""

import json
from decimal import Decimal
from pathlib import Path

import pytest
from tasks.team import a_text
from web.small_archives import WORDS, a_drawing, a_small_archive, a_tape

from provenance.errors import UnknownRecordError, UnreadableOriginalError
from provenance.records.readings import Word
from provenance.records.regions import parse_region, parse_time_span
from provenance.reports.source_shown import PageShown, SourceShown, captions_of
from provenance.rules.judging import judge_all
from provenance.tasks.opening import open_folder
from provenance.tasks.page_readings import Readings
from provenance.tasks.showing_sources import SourcesShown, open_recording, show_page, show_source


def source_in(folder: Path, name: str, time: str | None = None) -> SourceShown:
    opened = open_folder(folder)
    return show_source(opened, Readings(folder, opened.archive), name, parse_time_span(time) if time else None)


def page_in(folder: Path, name: str, number: int = 1, query: str = "", region: str | None = None) -> PageShown:
    opened = open_folder(folder)
    part = parse_region(region) if region else None
    return show_page(opened, Readings(folder, opened.archive), name, number, query=query, region=part)


def test_the_words_of_a_page_stand_line_by_line_with_doubts_and_finds(tmp_path: Path) -> None:
    page = page_in(a_small_archive(tmp_path), "drawing", query='"above rail" H-204')

    assert [[word.text for word in line] for line in page.lines] == [["Bracket", "H-204"], ["above", "rail"]]
    assert [[word.is_doubtful for word in line] for line in page.lines] == [[False, True], [False, False]]
    assert [[word.is_found for word in line] for line in page.lines] == [[False, True], [True, True]]
    assert page.doubtful == 1
    found = [word.box.as_fragment() for word in page.over if word.box and word.is_found]
    assert found == ["percent:32,10,12,5", "percent:10,40,15,5", "percent:27,40,10,5"]
    assert page.origin == "read by a machine (a recogniser), on average 76 % sure"  # (95 + 30 + 90 + 90) / 4 = 76.25
    assert [word.box for word in page.over] == [word.box for word in WORDS]


def test_a_text_has_words_and_no_picture(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)

    page = page_in(folder, "handbook")

    assert page.no_picture == "it is a text, of which there is no picture"
    assert page.unread == "no reading of it is kept"
    assert page.lines == ()


def test_a_transcript_that_does_not_say_who_made_it_is_somebody_s_all_the_same(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    a_text(folder / "transcripts" / "drawing" / "p0001.txt", "Bracket H-205\n")

    page = page_in(folder, "drawing")

    assert page.is_by_a_person
    assert page.origin == "written down by somebody who is not named"
    assert page.doubtful == 0
    assert len(page.over) == len(WORDS)


def test_a_source_kept_on_part_of_a_page_shows_that_part_and_its_words_alone(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    within = {"source": "drawing", "pages": "1", "region": "percent:0,30,100,30"}
    record = {"title": "A note", "kind": "notes", "within": within, "by": "mh", "date": "2026-01-10"}
    a_text(folder / "sources" / "note.yaml", json.dumps(record))

    page = page_in(folder, "note", region="percent:1,31,5,5")

    assert [word.text for line in page.lines for word in line] == ["above", "rail"]
    assert (str(page.within), str(page.marked)) == ("percent:0,30,100,30", "percent:1,31,5,5")
    assert source_in(folder, "drawing").descended.holding == ("note",)


def test_what_is_not_there_is_refused_with_what_there_is(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)

    with pytest.raises(UnknownRecordError) as of_source:
        source_in(folder, "drawnig")
    with pytest.raises(UnknownRecordError) as of_page:
        page_in(folder, "drawing", 2)
    with pytest.raises(UnknownRecordError) as of_no_pages:
        page_in(folder, "tape", 1)

    assert "drawing" in of_source.value.mend
    assert of_page.value.mend == "its pages are 1 to 1"
    assert of_no_pages.value.mend == "it has no pages"


def test_what_is_said_stands_with_its_times_and_the_time_asked_for_is_marked(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)

    (heard,) = source_in(folder, "tape", "00:00:01.000/00:00:01.500").heard

    assert (heard.name, heard.file, heard.not_here, heard.is_by_a_person) == ("t01", 1, "", True)
    note, first, second = heard.cues
    assert (note.start, note.lines[0]) == (None, "by: mh")
    assert (first.start, first.end, first.lines) == (Decimal(0), Decimal(1), ("Guard: There was a bell.",))
    assert [cue.is_marked for cue in heard.cues] == [False, False, True]  # the first ends where the time begins
    (at_an_instant,) = source_in(folder, "tape", "00:00:01").heard
    assert [cue.is_marked for cue in at_an_instant.cues] == [False, True, True]
    assert second.time == "00:00:01.000/00:00:02.000"


def test_a_recording_that_nobody_wrote_down_and_a_transcript_without_its_recording_are_both_shown(
    tmp_path: Path,
) -> None:
    folder = a_small_archive(tmp_path)
    a_tape(folder, "silent")
    (folder / "transcripts" / "silent" / "t01.vtt").rename(folder / "spoken.vtt")
    a_text(folder / "transcripts" / "photograph" / "t01.vtt", (folder / "spoken.vtt").read_text(encoding="utf-8"))

    (silent,) = source_in(folder, "silent").heard
    (lost,) = source_in(folder, "photograph").heard

    assert (silent.name, silent.file, silent.cues) == ("", 1, ())
    assert (lost.file, lost.not_here) == (None, "the recording is not among the files of the source")
    assert len(lost.cues) == 3


def test_a_subtitle_file_belongs_to_the_only_recording_beside_it(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    record = json.loads((folder / "sources" / "tape.yaml").read_text(encoding="utf-8"))
    titles = "1\n00:00:00,000 --> 00:00:01,000\nThere was a bell.\n"
    a_text(folder / "originals" / "tape" / "tape.srt", titles)
    record["files"].append(
        {
            "path": "originals/tape/tape.srt",
            "sha256": "0" * 64,
            "bytes": len(titles),
            "media_type": "application/x-subrip",
            "pages": 1,
        }
    )
    a_text(folder / "sources" / "tape.yaml", json.dumps(record))

    person, subtitles = source_in(folder, "tape").heard

    assert (person.file, person.is_by_a_person) == (1, True)
    assert (subtitles.name, subtitles.file, subtitles.is_by_a_person) == ("p0001", 1, False)


def test_captions_are_webvtt_whatever_is_said(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    said = "WEBVTT\n\n01:02:03.004 --> 01:02:05.000\n1 &lt; 2 --&gt; &amp; so on\n\n00:00.000 --> 00:00.000\nnothing\n"
    a_text(folder / "transcripts" / "tape" / "t01.vtt", said)

    (heard,) = source_in(folder, "tape").heard

    # WebVTT (W3C), 4.1: times, an arrow, then text in which &, < and > are escaped
    assert captions_of(heard) == "WEBVTT\n\n01:02:03.004 --> 01:02:05.000\n1 &lt; 2 --&gt; &amp; so on\n"


def test_a_recording_is_opened_only_where_it_is_registered_and_lies_in_the_archive(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    opened = open_folder(folder)

    file, stream = open_recording(opened, "tape", 1)

    with stream:
        assert stream.read(4) == b"RIFF"
    assert file.media_type == "audio/wav"
    with pytest.raises(UnknownRecordError):
        open_recording(opened, "tape", 2)
    with pytest.raises(UnknownRecordError):
        open_recording(opened, "drawing", 1)
    (folder / "originals" / "tape").rename(tmp_path / "away")
    with pytest.raises(UnreadableOriginalError, match="is not here"):
        open_recording(opened, "tape", 1)
    (folder / "originals" / "tape").symlink_to(tmp_path / "away")
    with pytest.raises(UnreadableOriginalError, match="outside of the archive"):
        open_recording(opened, "tape", 1)


def test_a_page_on_which_no_word_was_read_is_read_all_the_same(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    a_drawing(folder, "blank", ())
    a_drawing(folder, "placeless", (Word(text="lamp", line=1),))

    blank, placeless = page_in(folder, "blank", query="lamp"), page_in(folder, "placeless")

    assert (blank.unread, blank.lines, blank.over) == ("", (), ())
    assert (placeless.over, placeless.origin) == ((), "read by a machine (a recogniser)")


@pytest.mark.parametrize("has_target", [True, False])
def test_sources_shown_one_after_another_are_as_when_each_is_asked_for_alone(
    has_target: bool,  # noqa: FBT001  a case of the table
    tmp_path: Path,
) -> None:
    folder = a_small_archive(tmp_path)
    a_drawing(folder, "tracing", derives_from=[{"source": "drawing", "how": "redrawn"}])
    if not has_target:
        told = (folder / "archive.yaml").read_text(encoding="utf-8")
        kept = [line for line in told.splitlines() if not line.startswith("target:")]
        (folder / "archive.yaml").write_text("\n".join(kept) + "\n", encoding="utf-8")
    opened = open_folder(folder)
    readings = Readings(folder, opened.archive)

    shelf = SourcesShown(opened, readings, judge_all(opened.archive) if opened.archive.target else {})

    shown = {name: shelf.show(name) for name in opened.archive.sources}
    assert shown == {name: show_source(opened, readings, name) for name in opened.archive.sources}
    assert (shown["handbook"].descended.resting is None) != has_target
    assert has_target is bool(shown["handbook"].descended.resting)
