import hashlib
import os
from pathlib import Path

import pytest
from pages.made_originals import canvas
from tasks.team import TODAY, a_scan, a_team_archive, a_text

from provenance.errors import UsageRefusedError
from provenance.reports.ingested import Ingested, IngestState
from provenance.tasks.ingest import ingest
from provenance.tasks.opening import Opened, open_folder


def take_in(opened: Opened, *paths: Path) -> Ingested:
    return ingest(opened, paths, by="mh", today=TODAY, workers=2)


def test_a_scan_is_copied_registered_and_read(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    scan = a_scan(tmp_path / "scans" / "Handbook p4.png")

    done = take_in(opened, scan)

    digest = hashlib.sha256(scan.read_bytes()).hexdigest()
    source = open_folder(opened.folder).archive.sources[f"handbook-p4-{digest[:8]}"]
    assert [(file.state, file.pages, file.read) for file in done.files] == [(IngestState.REGISTERED, 1, 1)]
    assert (opened.folder / source.files[0].path).read_bytes() == scan.read_bytes()
    assert (source.title, source.by, str(source.date), source.kind, source.tagged) == (
        "Handbook p4",
        "mh",
        TODAY,
        None,
        False,
    )


def test_what_was_read_is_never_read_again(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    a_scan(tmp_path / "scans" / "one.png")
    first = take_in(opened, tmp_path / "scans")

    second = take_in(open_folder(opened.folder), tmp_path / "scans")

    assert (first.pages_read, second.pages_read) == (1, 0)
    assert [file.state for file in second.files] == [IngestState.KNOWN]
    assert second.written == ()


def test_a_lost_reading_is_made_anew_by_the_next_call(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    a_scan(tmp_path / "scans" / "one.png")
    take_in(opened, tmp_path / "scans")
    for reading in (opened.folder / ".derived" / "readings").rglob("*.json"):
        reading.unlink()

    done = take_in(open_folder(opened.folder), tmp_path / "scans")

    assert done.pages_read == 1


def test_the_same_bytes_under_another_name_are_noted_not_registered_twice(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    a_text(tmp_path / "in" / "letter.txt", "The bracket is of steel.\n")
    a_text(tmp_path / "in" / "again" / "letter copy.txt", "The bracket is of steel.\n")

    done = take_in(opened, tmp_path / "in")

    after = open_folder(opened.folder).archive.sources
    holders = {file.source for file in done.files}
    assert len(holders) == 1
    assert len(after) == len(opened.archive.sources) + 1
    acquired = after[holders.pop() or ""].acquired
    names = {file.path.rpartition("/")[2] for file in done.files}
    assert {entry.received_as for entry in acquired} < names
    assert len(acquired) == 1


def test_the_same_name_is_noted_once_however_often_it_comes(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    a_text(tmp_path / "in" / "letter.txt", "The bracket is of steel.\n")
    take_in(opened, tmp_path / "in")
    a_text(tmp_path / "more" / "copy.txt", "The bracket is of steel.\n")

    for _ in range(2):
        done = take_in(open_folder(opened.folder), tmp_path / "more")

    source = open_folder(opened.folder).archive.sources[done.files[0].source or ""]
    assert [entry.received_as for entry in source.acquired] == ["copy.txt"]


def test_a_file_that_cannot_be_read_is_kept_and_the_rest_goes_on(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    scans = tmp_path / "scans"
    whole = a_scan(scans / "b.png").read_bytes()
    (scans / "a.png").write_bytes(whole[: len(whole) // 2])

    done = take_in(opened, scans)

    assert [file.state for file in done.files] == [IngestState.UNREAD, IngestState.REGISTERED]
    assert "cut-short" in done.files[0].why
    kept = open_folder(opened.folder).archive.sources[done.files[0].source or ""].files[0]
    assert (opened.folder / kept.path).stat().st_size == len(whole) // 2
    assert done.has_unread


def test_a_file_that_could_not_be_read_is_said_to_be_so_again(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    (tmp_path / "scan.jpg").write_bytes(b"")
    take_in(opened, tmp_path / "scan.jpg")

    done = take_in(open_folder(opened.folder), tmp_path / "scan.jpg")

    assert done.files[0].state is IngestState.UNREAD


def test_a_link_is_named_and_left_alone(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    secret = a_text(tmp_path / "secret.txt", "not for the archive\n")
    (tmp_path / "scans").mkdir()
    (tmp_path / "scans" / "link.txt").symlink_to(secret)

    done = take_in(opened, tmp_path / "scans")

    assert [(file.state, file.source) for file in done.files] == [(IngestState.REFUSED, None)]
    assert "link" in done.files[0].why
    assert not done.has_unread


def test_files_are_taken_in_order_of_their_names(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    for name in ("b.txt", "a.txt", "B.txt"):
        a_text(tmp_path / "in" / name, f"page {name}\n")

    done = take_in(opened, tmp_path / "in")

    assert [Path(file.path).name for file in done.files] == ["B.txt", "a.txt", "b.txt"]


def test_nobody_unknown_registers_anything(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    a_text(tmp_path / "in" / "a.txt", "text\n")

    with pytest.raises(UsageRefusedError, match="zz"):
        ingest(opened, [tmp_path / "in"], by="zz", today=TODAY)

    assert sorted(open_folder(opened.folder).archive.sources) == ["handbook", "photograph"]


def test_a_path_that_is_not_there_is_refused(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    with pytest.raises(UsageRefusedError, match="nowhere"):
        take_in(opened, tmp_path / "nowhere")


def test_every_step_of_the_work_is_told(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    for number in range(3):
        a_text(tmp_path / "in" / f"{number}.txt", f"page {number}\n")
    told: list[tuple[str, int, int]] = []

    ingest(
        opened,
        [tmp_path / "in"],
        by="mh",
        today=TODAY,
        workers=1,
        on_progress=lambda step, done, total: told.append((step, done, total)),
    )

    each = [call for call in dict.fromkeys(told) if call[1]]  # while it waits, it is told the same again
    assert [call for call in each if call[0] == "registering"] == [("registering", n, 3) for n in (1, 2, 3)]
    assert [call for call in each if call[0] == "reading"] == [("reading", n, 3) for n in (1, 2, 3)]
    assert any(step == "indexing" for step, _, _ in told)


def test_a_file_lying_in_its_place_already_is_registered_there(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    lying = a_text(opened.folder / "originals" / "letter-1933" / "letter.txt", "The bracket is of steel.\n")

    done = take_in(opened, lying)

    assert done.files[0].source == "letter-1933"
    assert [path.name for path in (opened.folder / "originals").iterdir()].count("letter-1933") == 1
    assert list((opened.folder / "originals" / "letter-1933").iterdir()) == [lying]


def test_a_name_in_an_old_encoding_stops_nothing(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    (tmp_path / "in").mkdir()
    odd = os.fsencode(tmp_path / "in") + b"/caf\xe9.txt"
    with open(odd, "wb") as file:  # noqa: PTH123  a name in bytes
        file.write(b"the lamp\n")

    done = take_in(opened, tmp_path / "in")

    source = open_folder(opened.folder).archive.sources[done.files[0].source or ""]
    assert (source.title, done.files[0].state) == ("caf\\xe9", IngestState.REGISTERED)
    assert done.files[0].path.endswith("caf\\xe9.txt")


def test_files_laid_together_in_one_folder_of_originals_are_one_source(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    for page in ("front.txt", "back.txt"):
        a_text(opened.folder / "originals" / "letter-1933" / page, f"the {page} of the letter\n")

    done = take_in(opened, opened.folder / "originals" / "letter-1933")

    assert {file.source for file in done.files} == {"letter-1933"}
    files = open_folder(opened.folder).archive.sources["letter-1933"].files
    assert sorted(Path(file.path).name for file in files) == ["back.txt", "front.txt"]


def test_a_folder_between_the_scans_is_walked_and_a_pipe_is_left_alone(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    a_text(tmp_path / "in" / "below" / "letter.txt", "the lamp\n")
    os.mkfifo(tmp_path / "in" / "pipe.txt")

    done = take_in(opened, tmp_path / "in")

    assert [file.state for file in done.files] == [IngestState.REGISTERED, IngestState.REFUSED]


def test_a_date_that_cannot_be_registers_nothing(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    letter = a_text(tmp_path / "letter.txt", "the lamp\n")

    with pytest.raises(UsageRefusedError, match="1934-13"):
        ingest(opened, [letter], by="mh", today="1934-13")

    assert sorted(open_folder(opened.folder).archive.sources) == ["handbook", "photograph"]


def test_what_was_found_while_reading_is_said_once_with_the_pages_that_it_holds_for(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    sheet = canvas(tmp_path / "notebook.pdf")
    for _ in range(3):
        sheet.showPage()
    sheet.save()

    done = take_in(opened, tmp_path / "notebook.pdf")

    assert [(file.state, file.why) for file in done.files] == [
        (IngestState.REGISTERED, "page 1 and 2 more: a blank page")
    ]


def test_what_was_said_when_the_file_came_in_is_not_said_again_of_its_page(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    (tmp_path / "letter.txt").write_bytes("The lamp costs \u00a3 3.\n".encode("cp1252"))

    done = take_in(opened, tmp_path / "letter.txt")

    assert done.files[0].why
    assert "page 1" not in done.files[0].why


def test_a_document_of_a_kind_that_is_not_opened_is_kept_and_never_passes_for_read(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    (tmp_path / "letter.rtf").write_bytes(b"{\\rtf1 The lamp is of the acetylene pattern.}")

    first = ingest(opened, [tmp_path / "letter.rtf"], by="mh", today=TODAY)
    again = ingest(open_folder(opened.folder), [tmp_path / "letter.rtf"], by="mh", today=TODAY)

    for done in (first, again):
        (file,) = done.files
        assert (file.state, file.pages, file.read) == (IngestState.UNREAD, None, 0)
        assert file.why.count("ingest a copy saved as PDF beside it") == 1
