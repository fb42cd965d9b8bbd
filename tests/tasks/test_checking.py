from pathlib import Path

from tasks.team import a_team_archive, a_text

from provenance.errors import Severity
from provenance.tasks.checking import check_folder


def rules(folder: Path, *, fixity: bool = False) -> list[str]:
    return [problem.rule for problem in check_folder(folder, fixity=fixity).problems]


def test_a_sound_archive_has_no_fault(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    checked = check_folder(opened.folder, fixity=True)

    assert (checked.problems, checked.is_faulty, checked.digests_compared) == ((), False, True)
    assert checked.records == 5


def test_one_turned_bit_in_an_original_is_found_when_it_is_read(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    original = opened.folder / "originals" / "handbook" / "handbook.txt"
    content = bytearray(original.read_bytes())
    content[10] ^= 1
    original.write_bytes(content)

    assert rules(opened.folder) == []
    assert rules(opened.folder, fixity=True) == ["fixity-broken"]


def test_an_original_that_is_not_here_is_a_note(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    (opened.folder / "originals" / "handbook" / "handbook.txt").unlink()

    checked = check_folder(opened.folder, fixity=True)

    assert [(problem.rule, problem.severity) for problem in checked.problems] == [("not-here", Severity.NOTE)]
    assert not checked.is_faulty


def test_a_record_that_cannot_be_read_is_left_out_and_named_with_its_line(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    a_text(opened.folder / "sources" / "photograph.yaml", "title: a\ntitle: b\n")

    checked = check_folder(opened.folder)

    assert [record.file for record in checked.standing.left_out] == ["sources/photograph.yaml"]
    assert ("sources/photograph.yaml", 2) in [(problem.place.file, problem.place.line) for problem in checked.problems]


def test_an_unreadable_archive_file_does_not_hide_the_faults_of_the_records(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    a_text(opened.folder / "archive.yaml", "format: 2\ntitle: from the future\n")
    a_text(opened.folder / "sources" / "photograph.yaml", "title: a\ntitle: b\n")

    checked = check_folder(opened.folder)

    assert {problem.place.file for problem in checked.problems} >= {"archive.yaml", "sources/photograph.yaml"}


def test_transcripts_are_looked_at_too(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    transcripts = opened.folder / "transcripts"
    a_text(transcripts / "handbook" / "p0001.txt", "by: mh\ndate: 2026-01-10\n\nThe lamp\n")
    a_text(transcripts / "handbook" / "t01.vtt", "WEBVTT\n")
    a_text(transcripts / "handbook" / "p0002.txt", "by: mh\ndate: 2026-01-10\n\nbeyond the end\n")
    a_text(transcripts / "nobody" / "p0001.txt", "by: mh\ndate: 2026-01-10\n\nof no source\n")
    a_text(transcripts / "photograph" / "p0001.txt", "no header\n")
    (transcripts / "photograph" / "p0002.txt").write_bytes(b"\xff\xfe\xfd")
    (transcripts / "photograph" / "p0003.txt").symlink_to(transcripts / "handbook" / "p0001.txt")
    a_text(transcripts / "photograph" / "page4.txt", "a name without a page\n")

    faulty = [problem.place.file for problem in check_folder(opened.folder).problems]

    assert faulty == [
        "transcripts/handbook/p0002.txt",
        "transcripts/nobody/p0001.txt",
        "transcripts/photograph/p0001.txt",
        "transcripts/photograph/p0002.txt",
        "transcripts/photograph/p0003.txt",
        "transcripts/photograph/page4.txt",
    ]
