from pathlib import Path

import pytest
from tasks.team import TODAY, a_scan, a_team_archive, a_text

from provenance.errors import UsageRefusedError
from provenance.records.regions import parse_region
from provenance.tasks.ingest import ingest
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.own_index import INDEX
from provenance.tasks.searching import Narrowing, search


def an_archive_with_a_scan(tmp_path: Path) -> Opened:
    opened = a_team_archive(tmp_path)
    ingest(opened, [a_scan(tmp_path / "scans" / "page.png")], by="mh", today=TODAY, workers=1)
    return open_folder(opened.folder)


def test_a_page_is_found_by_what_it_says_with_the_place_of_the_words(tmp_path: Path) -> None:
    opened = an_archive_with_a_scan(tmp_path)

    found = search(opened, "H-204")

    page = found.hits[0]
    assert (page.what, page.page) == ("page", 1)
    assert "H-204" in page.snippet
    region = parse_region(page.regions[0])
    # The words stand in the second line, 140 to 180 of 600 pixels down: 23 to 30 per cent.
    assert 22 < region.y < 26
    assert region.y + region.h < 31


@pytest.mark.parametrize("asked", ['"1/2 in"', '"3 ft 4 1/2 in"', "No. H-204", "acetylen*"])
def test_fractions_numbers_and_beginnings_are_found(tmp_path: Path, asked: str) -> None:
    opened = an_archive_with_a_scan(tmp_path)

    found = search(opened, asked)

    assert any(hit.what == "page" and hit.regions for hit in found.hits)


def test_a_record_added_by_hand_is_found_at_once(tmp_path: Path) -> None:
    opened = an_archive_with_a_scan(tmp_path)
    search(opened, "anything")
    text = 'title: Catalogue of lamps\nkind: catalogue\nreference: "BX/12/4"\nby: mh\ndate: 2026-01-10\n'
    a_text(opened.folder / "sources" / "catalogue.yaml", text)

    found = search(open_folder(opened.folder), "BX/12/4")

    assert [hit.source for hit in found.hits][:1] == ["catalogue"]


def test_a_transcript_takes_the_place_of_the_machine_s_reading(tmp_path: Path) -> None:
    opened = an_archive_with_a_scan(tmp_path)
    source = next(name for name in opened.archive.sources if name.startswith("page-"))
    transcript = opened.folder / "transcripts" / source / "p0001.txt"
    a_text(transcript, "by: mh\ndate: 2026-01-10\n\nThe bracket is marked WINDOVER.\n")

    found = search(open_folder(opened.folder), "windover")

    assert [hit.record for hit in found.hits] == [f"{source}/p0001"]
    assert search(open_folder(opened.folder), "acetylene bracket H-204").hits[0].record != f"{source}/p0002"


def test_a_claim_is_found_by_its_quotation(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    found = search(opened, '"acetylene pattern"')

    assert "claims/headlamp-kind-acetylene" in [hit.record for hit in found.hits]


def test_hits_are_narrowed_by_kind_and_date(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    kinds = search(opened, "working orrin", Narrowing(kind="photograph"))
    later = search(opened, "working orrin", Narrowing(since="1933"))

    assert {hit.source for hit in kinds.hits} == {"photograph"}
    assert {hit.source for hit in later.hits} == {"photograph"}


@pytest.mark.parametrize(
    "narrowing",
    [Narrowing(kind="phto"), Narrowing(since="1934-13"), Narrowing(components=("headlmap",))],
)
def test_a_narrowing_that_cannot_be_is_refused(tmp_path: Path, narrowing: Narrowing) -> None:
    opened = a_team_archive(tmp_path)

    with pytest.raises(UsageRefusedError) as refused:
        search(opened, "lamp", narrowing)

    assert refused.value.mend


def test_a_damaged_index_is_rebuilt_and_that_is_said(tmp_path: Path) -> None:
    opened = an_archive_with_a_scan(tmp_path)
    whole = search(opened, "H-204")
    segment = next(path for path in (opened.folder / INDEX).rglob("*.seg"))
    segment.write_bytes(b"\0" * segment.stat().st_size)

    found = search(opened, "H-204")

    assert [hit.record for hit in found.hits] == [hit.record for hit in whole.hits]
    assert any("rebuilt" in note for note in found.notes)


def test_without_anything_derived_the_answer_is_the_same_once_it_is_made_anew(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    before = search(opened, "acetylene")

    for path in sorted((opened.folder / ".derived").rglob("*"), reverse=True):
        path.rmdir() if path.is_dir() else path.unlink()

    assert search(opened, "acetylene") == before
