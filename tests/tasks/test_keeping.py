from pathlib import Path

import pytest
from tasks.team import TODAY, a_scan, a_team_archive, a_text

from provenance.errors import NewerFormatError, WriteRefusedError
from provenance.tasks.checking import check_folder
from provenance.tasks.ingest import ingest
from provenance.tasks.new import begin
from provenance.tasks.opening import open_folder
from provenance.tasks.rebuilding import rebuild
from provenance.tasks.searching import search
from provenance.tasks.upgrading import upgrade_folder


def test_a_new_archive_opens_and_names_its_gaps_one_by_one(tmp_path: Path) -> None:
    begun = begin(tmp_path / "ours", title="Railcar No. 9", by="mh", name="M. Hollin")

    checked = check_folder(tmp_path / "ours")

    assert "archive.yaml" in begun.written
    assert {problem.place.field for problem in checked.problems} >= {"production", "subject", "target"}
    assert {problem.rule for problem in checked.problems} == {"archive-gap"}
    assert open_folder(tmp_path / "ours").archive.person_ids == {"mh"}


def test_an_archive_is_never_begun_over_another(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    before = (opened.folder / "archive.yaml").read_bytes()

    with pytest.raises(WriteRefusedError):
        begin(opened.folder, title="again", by="mh", name=None)

    assert (opened.folder / "archive.yaml").read_bytes() == before


def test_rebuild_reads_what_is_unread_and_indexes_all(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    rebuilt = rebuild(opened, workers=1)

    # One page, two sources and one claim.
    assert (rebuilt.pages_read, rebuilt.indexed, rebuilt.pruned, rebuilt.unread) == (1, 4, None, ())
    assert search(opened, "acetylene").total == 2


def test_rebuild_names_the_pages_that_cannot_be_read(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    ingest(opened, [a_scan(tmp_path / "scans" / "page.png")], by="mh", today=TODAY, workers=1)
    opened = open_folder(opened.folder)
    source = next(name for name in opened.archive.sources if name.startswith("page-"))
    (opened.folder / opened.archive.sources[source].files[0].path).write_bytes(b"spoilt")
    for reading in (opened.folder / ".derived" / "readings").rglob("*.json"):
        reading.unlink()

    rebuilt = rebuild(opened, workers=1)

    assert [(page.source, page.page) for page in rebuilt.unread] == [(source, 1)]


def test_pruning_removes_readings_that_no_source_has(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    rebuild(opened, workers=1)
    kept = list((opened.folder / ".derived" / "readings").rglob("p*.json"))
    strange = a_text(opened.folder / ".derived" / "readings" / ("0" * 64) / "p0001-0123456789abcdef.json", "{}")

    rebuilt = rebuild(opened, prune=True, workers=1)

    assert rebuilt.pruned == 1
    assert not strange.exists()
    assert list((opened.folder / ".derived" / "readings").rglob("p*.json")) == kept


def test_an_archive_of_today_is_left_as_it_is(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    upgraded = upgrade_folder(opened.folder)

    assert (upgraded.before, upgraded.after, upgraded.written) == (1, 1, ())


def test_an_archive_from_before_the_number_gets_it_and_keeps_all_else(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    file = opened.folder / "archive.yaml"
    old = file.read_text(encoding="utf-8").replace("format: 1\n", "# our archive\n")
    file.write_text(old, encoding="utf-8")

    upgraded = upgrade_folder(opened.folder)

    assert (upgraded.before, upgraded.after, upgraded.written) == (0, 1, ("archive.yaml",))
    assert sorted(file.read_text(encoding="utf-8").splitlines()) == sorted(["format: 1", *old.splitlines()])


def test_a_newer_archive_is_refused(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    file = opened.folder / "archive.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("format: 1\n", "format: 2\n"), encoding="utf-8")

    with pytest.raises(NewerFormatError):
        upgrade_folder(opened.folder)
    with pytest.raises(NewerFormatError):
        open_folder(opened.folder)
