"""Pages cut into tiles: once, by one reader for all, and kept."""

import threading
import time
from pathlib import Path

import pytest
from pages.coded_pages import coded_page
from pages.tiled import large_page
from PIL import Image
from tasks.shown_originals import a_source_of, an_archive_of, an_original
from web.tiled_archive import as_file

from provenance.errors import UnknownRecordError
from provenance.exchange.iiif_image import read_request
from provenance.pages.tile_files import tiles_key
from provenance.records.regions import parse_region
from provenance.records.sources import Source, Within
from provenance.store.tiles_store import TILES
from provenance.tasks import tiling as tiling_task
from provenance.tasks.opening import Opened
from provenance.tasks.page_readings import Readings
from provenance.tasks.places_to_show import NothingToShowError
from provenance.tasks.rebuilding import rebuild
from provenance.tasks.tiling import TRIES_AGAIN, TiledPage, Tiling, is_kept


def an_opened(folder: Path, *sources: Source) -> tuple[Readings, Opened]:
    opened = an_archive_of(folder, *sources)
    return Readings(opened.folder, opened.archive), opened


def a_drawing(folder: Path, name: str = "drawing") -> Source:
    return a_source_of(name, an_original(folder, f"{name}.png", as_file(large_page())))


def kept_in(folder: Path) -> list[Path]:
    return sorted((folder / TILES).rglob("*.tiles"))


def see_all(page: TiledPage) -> None:
    """Look at both bands of the full size, so that nothing is left to be cut."""
    for top in (0, 1024):
        page.draw(read_request(f"0,{top},512,512/512,/0/default.jpg", page.size))


def test_a_page_is_cut_once_however_many_ask_for_it_at_once(tmp_path: Path) -> None:
    readings, _ = an_opened(tmp_path, a_drawing(tmp_path))
    tiling, sizes, at_work = Tiling(tmp_path), [], []

    def ask() -> None:
        sizes.append(tiling.find(readings, "drawing", 1).size)
        at_work.append(sum(each.name == "tiles" for each in threading.enumerate()))

    readers = [threading.Thread(target=ask) for _ in range(6)]
    for reader in readers:
        reader.start()
    for reader in readers:
        reader.join()
    page = tiling.find(readings, "drawing", 1)
    see_all(page)

    assert sizes == [(2400, 1200)] * 6
    assert max(at_work) <= 1
    names = [file.name for file in kept_in(tmp_path)]
    assert names == [f"p0001-{tiles_key()}{part}.tiles" for part in ("coarse", "l0b0", "l0b1")]
    times = [file.stat().st_mtime_ns for file in kept_in(tmp_path)]
    assert Tiling(tmp_path).find(readings, "drawing", 1).size == (2400, 1200)
    assert [file.stat().st_mtime_ns for file in kept_in(tmp_path)] == times


def test_a_small_page_is_kept_in_one_file(tmp_path: Path) -> None:
    small = a_source_of("small", an_original(tmp_path, "small.png", as_file(coded_page())))
    readings, _ = an_opened(tmp_path, small)
    page = Tiling(tmp_path).find(readings, "small", 1)

    drawn = page.draw(read_request("full/max/0/default.png", page.size))

    assert drawn.startswith(b"\x89PNG")
    assert page.about.note == "400 by 200 pixels"
    assert len(kept_in(tmp_path)) == 1


def test_where_nothing_can_be_kept_a_page_is_shown_all_the_same(tmp_path: Path) -> None:
    readings, _ = an_opened(tmp_path, a_drawing(tmp_path))
    (tmp_path / ".derived").write_text("no folder", encoding="utf-8")
    tiling = Tiling(tmp_path)
    page = tiling.find(readings, "drawing", 1)

    parts = [page.draw(read_request(f"{x},0,512,512/512,512/0/default.jpg", page.size)) for x in (0, 512)]

    assert all(part.startswith(b"\xff\xd8") for part in parts)


def test_a_page_that_cannot_be_opened_is_tried_once(tmp_path: Path) -> None:
    broken = a_source_of("broken", an_original(tmp_path, "broken.png", as_file(large_page())[:300]))
    readings, _ = an_opened(tmp_path, broken)
    tiling = Tiling(tmp_path)
    page = tiling.find(readings, "broken", 1)

    for _ in range(2):
        with pytest.raises(NothingToShowError, match="damaged or cut-short"):
            page.draw(read_request("full/max/0/default.jpg", (10, 10)))

    assert kept_in(tmp_path) == []


def a_scroll(folder: Path, name: str = "scroll") -> Source:
    """A tall page: 3 bands at a quarter of its size, 6 at a half, 12 in full."""
    scroll = Image.linear_gradient("L").resize((300, 12_000))
    return a_source_of(name, an_original(folder, f"{name}.png", as_file(scroll)))


def test_what_is_asked_for_is_cut_before_the_rest(tmp_path: Path) -> None:
    readings, _ = an_opened(tmp_path, a_scroll(tmp_path))
    page = Tiling(tmp_path).find(readings, "scroll", 1)

    page.draw(read_request("0,11776,300,224/300,/0/default.png", page.size))  # in the last band of all

    until = time.monotonic() + 60
    while len(kept_in(tmp_path)) < 22:
        assert time.monotonic() < until, "the rest does not follow"
        time.sleep(0.02)
    in_order = sorted(kept_in(tmp_path), key=lambda file: file.stat().st_mtime_ns)
    names = [file.name.removeprefix(f"p0001-{tiles_key()}") for file in in_order]
    assert names[0] == "coarse.tiles"
    assert names.index("l0b11.tiles") < 11


def test_a_page_that_somebody_waits_for_does_not_wait_for_the_rest_of_another(tmp_path: Path) -> None:
    readings, _ = an_opened(tmp_path, a_scroll(tmp_path), a_drawing(tmp_path))
    tiling = Tiling(tmp_path)
    scroll, drawing = (tiling.find(readings, name, 1) for name in ("scroll", "drawing"))

    with tiling._turn():  # the first is held up until the second waits as well
        readers = [threading.Thread(target=lambda page=page: page.size) for page in (scroll, drawing)]
        for number, reader in enumerate(readers, start=1):
            reader.start()
            while tiling._waiting < number:
                time.sleep(0.005)
    for reader in readers:
        reader.join(60)
    times = {file: file.stat().st_mtime_ns for file in kept_in(tmp_path)}
    (small,) = [file for file in times if file.parent.name == drawing._place.sha256 and "coarse" in file.name]

    before = [file for file in times if file.parent.name == scroll._place.sha256 and times[file] < times[small]]
    assert len(before) < 22


@pytest.mark.parametrize("how", ["after a while", "when asked"])
def test_a_page_that_failed_for_want_of_time_is_tried_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, how: str
) -> None:
    readings, _ = an_opened(tmp_path, a_drawing(tmp_path))
    page = Tiling(tmp_path).find(readings, "drawing", 1)
    with monkeypatch.context() as hurried:
        hurried.setattr(tiling_task, "TILES_SECONDS", 0.0)
        with pytest.raises(NothingToShowError, match="stopped after 0 seconds"):
            _ = page.size
    with pytest.raises(NothingToShowError, match="stopped after 0 seconds"):
        _ = page.size  # nobody tries it once a second

    if how == "when asked":
        page.try_again()
    else:
        (making,) = page._tiling._making.values()
        assert making.tried_again is not None
        making.tried_again -= TRIES_AGAIN  # as if that while had passed

    assert page.size == (2400, 1200)


def test_a_file_that_changed_or_went_is_not_shown_in_its_place(tmp_path: Path) -> None:
    readings, _ = an_opened(tmp_path, a_drawing(tmp_path))
    original = tmp_path / "originals" / "drawing.png"
    data = original.read_bytes()

    original.write_bytes(data[:-1] + b"x")
    with pytest.raises(NothingToShowError, match="is not as it was received"):
        _ = Tiling(tmp_path).find(readings, "drawing", 1).size
    original.write_bytes(data + b"x")
    with pytest.raises(NothingToShowError, match="is not as it was received"):
        Tiling(tmp_path).find(readings, "drawing", 1)
    original.unlink()
    with pytest.raises(NothingToShowError, match=r"drawing\.png cannot be shown"):
        Tiling(tmp_path).find(readings, "drawing", 1)
    with pytest.raises(UnknownRecordError, match="no source elsewhere"):
        Tiling(tmp_path).find(readings, "elsewhere", 1)


def test_a_part_measured_in_pixels_is_the_same_part(tmp_path: Path) -> None:
    def part(region: str) -> Source:
        return a_source_of("part", within=Within(source="drawing", pages=None, region=parse_region(region)))

    found = []
    for region in ("percent:25,50,25,50", "pixel:600,600,600,600"):
        readings, _ = an_opened(tmp_path, a_drawing(tmp_path), part(region))
        page = Tiling(tmp_path).find(readings, "part", 1)
        found.append((page.size, page.levels, page.draw(read_request("full/max/0/default.png", page.size))))

    assert found[0][:2] == ((600, 600), 2)
    assert found[0] == found[1]


def test_a_part_that_lies_off_the_page_is_none(tmp_path: Path) -> None:
    beyond = a_source_of("beyond", within=Within(source="drawing", pages=None, region=parse_region("pixel:9000,0,9,9")))
    readings, _ = an_opened(tmp_path, a_drawing(tmp_path), beyond)

    with pytest.raises(NothingToShowError, match="lies off the page"):
        _ = Tiling(tmp_path).find(readings, "beyond", 1).size


def test_tiles_that_no_source_needs_go_with_the_rest(tmp_path: Path) -> None:
    readings, opened = an_opened(tmp_path, a_drawing(tmp_path))
    page = Tiling(tmp_path).find(readings, "drawing", 1)
    see_all(page)
    store = kept_in(tmp_path)[0].parent
    for strange in (store / f"p0002-{tiles_key()}l0b0.tiles", store / "p0001-0123l0b0.tiles"):
        strange.write_bytes(b"tiles")
    other = store.with_name("f" * 64)
    other.mkdir()
    (other / f"p0001-{tiles_key()}l0b0.tiles").write_bytes(b"tiles")

    pruned = rebuild(opened, prune=True).pruned

    assert pruned == 3
    assert len(kept_in(tmp_path)) == 3
    assert not is_kept("0123l0b0")
