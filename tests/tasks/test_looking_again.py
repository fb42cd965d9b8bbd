"""Files that could not be opened when they came in are looked at once more when they are handed in again."""

from pathlib import Path

import pytest
from PIL import Image
from tasks.team import HANDBOOK_LINES, TODAY, a_scan, a_team_archive, a_text

from provenance.reports.ingested import Ingested, IngestState
from provenance.store.fixity import sha256_of
from provenance.tasks.ingest import ingest
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.searching import search


def cards(path: Path) -> Path:
    """Two pages of print in one TIFF file."""
    pages = []
    for number in (1, 2):
        pages.append(Image.open(a_scan(path.with_name(f"page{number}.png"), (*HANDBOOK_LINES, f"CARD {number}"))))
        path.with_name(f"page{number}.png").unlink()
    pages[0].save(path, save_all=True, append_images=pages[1:])
    return path


def registered_by_an_earlier_version(opened: Opened, file: Path, media_type: str, *, more: str = "") -> Opened:
    """A source whose file was kept and not opened, in words that people added to."""
    stored = opened.folder / "originals" / "cards" / file.name
    stored.parent.mkdir()
    stored.write_bytes(file.read_bytes())
    record = (
        f"title: Cards  # as the office calls them\nkind: report\nfiles:\n  - path: originals/cards/{file.name}\n"
        f"    sha256: {sha256_of(file)}\n    bytes: {file.stat().st_size}\n    media_type: {media_type}\n{more}"
        "by: mh\ndate: 2026-01-10\n"
    )
    a_text(opened.folder / "sources" / "cards.yaml", record)
    return open_folder(opened.folder)


def hand_in(opened: Opened, file: Path) -> Ingested:
    return ingest(opened, [file], by="mh", today=TODAY, workers=1)


@pytest.mark.parametrize("media_type", ["image/tiff", "application/octet-stream"])
def test_a_file_that_can_be_opened_by_now_is_read_and_its_record_says_how_many_pages_it_has(
    media_type: str, tmp_path: Path
) -> None:
    file = cards(tmp_path / "cards.tif")
    opened = registered_by_an_earlier_version(a_team_archive(tmp_path), file, media_type)
    before = (opened.folder / "sources" / "cards.yaml").read_text(encoding="utf-8")

    done = hand_in(opened, file)

    (handed_in,) = done.files
    assert (handed_in.state, handed_in.source, handed_in.pages, handed_in.read) == (IngestState.KNOWN, "cards", 2, 2)
    assert handed_in.why == "it can be opened now: image/tiff of 2 pages"
    assert done.written == ("sources/cards.yaml",)
    after = (opened.folder / "sources" / "cards.yaml").read_text(encoding="utf-8")
    assert after == before.replace(f"media_type: {media_type}\n", "media_type: image/tiff\n    pages: 2\n")
    assert [hit.page for hit in search(open_folder(opened.folder), '"CARD 2"').hits if hit.source == "cards"] == [2]


def test_the_next_time_there_is_nothing_to_look_at(tmp_path: Path) -> None:
    file = cards(tmp_path / "cards.tif")
    opened = registered_by_an_earlier_version(a_team_archive(tmp_path), file, "image/tiff")
    hand_in(opened, file)

    again = hand_in(open_folder(opened.folder), file)

    assert again.written == ()
    assert again.pages_read == 0


def test_a_file_that_still_cannot_be_opened_stays_as_it_is(tmp_path: Path) -> None:
    file = cards(tmp_path / "cards.tif")
    file.write_bytes(file.read_bytes()[:200])
    opened = registered_by_an_earlier_version(a_team_archive(tmp_path), file, "application/octet-stream")
    before = (opened.folder / "sources" / "cards.yaml").read_bytes()

    done = hand_in(opened, file)

    assert done.files[0].state is IngestState.UNREAD
    assert done.written == ()
    assert (opened.folder / "sources" / "cards.yaml").read_bytes() == before


def test_pages_are_not_put_before_others_that_are_cited_by_their_number(tmp_path: Path) -> None:
    file, later = cards(tmp_path / "cards.tif"), a_text(tmp_path / "cards.txt", "typed out\n")
    typed = (
        f"  - path: originals/cards/cards.txt\n    sha256: {sha256_of(later)}\n    bytes: {later.stat().st_size}\n"
        "    media_type: text/plain\n    pages: 1\n"
    )
    opened = registered_by_an_earlier_version(a_team_archive(tmp_path), file, "image/tiff", more=typed)
    (opened.folder / "originals" / "cards" / "cards.txt").write_bytes(later.read_bytes())
    before = (opened.folder / "sources" / "cards.yaml").read_bytes()

    done = hand_in(opened, file)

    assert done.written == ()
    assert (opened.folder / "sources" / "cards.yaml").read_bytes() == before
