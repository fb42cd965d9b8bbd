import os
import shutil
import subprocess
from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from pages.coded_pages import coded_page, lying_png, part_of
from pages.hostile_pdfs import bomb
from PIL import Image
from tasks.shown_originals import PNG, a_source_of, an_archive_of, an_original, keep_reading, want

from provenance.pages.cut_outs import CutOut, cut_key
from provenance.records.readings import Box
from provenance.records.regions import PageRange, parse_region
from provenance.records.sources import Within
from provenance.store.cut_outs_store import CUT_OUTS, CutOutsStore, KeptCut
from provenance.tasks import cutting_out
from provenance.tasks.cutting_out import NoCutOut, Wanted, cut_outs, from_kept, to_kept
from provenance.tasks.opening import Opened
from provenance.tasks.rebuilding import rebuild

MIDDLE = "percent:25,25,50,50"


def png_of(image: Image.Image) -> bytes:
    written = BytesIO()
    image.save(written, "PNG")
    return written.getvalue()


def a_photo_archive(folder: Path) -> Opened:
    return an_archive_of(folder, a_source_of("photo", an_original(folder, "photo.png", png_of(coded_page()))))


def a_shown(opened: Opened, wanted: Wanted) -> CutOut:
    shown = cut_outs(opened, [wanted], workers=1)[wanted]
    assert isinstance(shown, CutOut), shown
    return shown


def kept_files(folder: Path) -> list[Path]:
    return sorted((folder / CUT_OUTS).rglob("*.cut"))


def test_each_place_is_answered_in_the_order_asked_and_one_bad_file_costs_no_other(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(cutting_out, "PAGE_BYTES", 400_000_000)  # reached sooner than the limit that people have
    photo = an_original(tmp_path, "photo.png", png_of(coded_page()))
    damaged = an_original(tmp_path, "damaged.png", png_of(coded_page())[:300])
    text = an_original(tmp_path, "notes.txt", b"notes", "text/plain")
    hostile = bomb(tmp_path / "bomb.pdf", total=1_000_000_000).read_bytes()
    unfolding = an_original(tmp_path, "unfolding.pdf", hostile, "application/pdf")
    of = {"photo": photo, "damaged": damaged, "text": text, "unfolding": unfolding}
    opened = an_archive_of(tmp_path, *(a_source_of(name, file) for name, file in of.items()))
    wanted = [want("damaged"), want("photo", MIDDLE), want("unfolding"), want("text"), want("gone"), want("photo")]

    shown = cut_outs(opened, [*wanted, wanted[0]])

    assert list(shown) == wanted
    whys = [each.why if isinstance(each, NoCutOut) else "" for each in shown.values()]
    assert "damaged.png is a damaged or cut-short picture" in whys[0]
    assert "the process at work on it broke off" in whys[2] or "memory" in whys[2]
    assert whys[3:5] == ["it is a text, of which there is no picture", "the record of the source cannot be read"]
    assert [isinstance(shown[each], CutOut) for each in wanted] == [False, True, False, False, False, True]


def test_what_was_cut_before_is_not_cut_again(tmp_path: Path) -> None:
    opened, wanted, told = a_photo_archive(tmp_path), want("photo", MIDDLE), list[tuple[str, int, int]]()

    first = a_shown(opened, wanted)
    again = cut_outs(opened, [wanted], on_progress=lambda *step: told.append(step))[wanted]

    assert again == first
    assert told == []
    (file,) = kept_files(tmp_path)
    assert file.name == f"p0001-{cut_key(part_of(MIDDLE))}.cut"


def test_where_what_is_kept_is_damaged_or_gone_the_answer_is_the_same(tmp_path: Path) -> None:
    opened, wanted = a_photo_archive(tmp_path), want("photo", MIDDLE)
    first = a_shown(opened, wanted)
    (file,) = kept_files(tmp_path)
    whole = file.read_bytes()

    file.write_bytes(whole[:-1] + b"?")
    anew = a_shown(opened, wanted)
    is_mended = file.read_bytes() == whole
    shutil.rmtree(tmp_path / ".derived")

    assert (anew, is_mended) == (first, True)
    assert a_shown(opened, wanted) == first


def test_where_derived_data_cannot_be_written_the_piece_is_made_all_the_same(tmp_path: Path) -> None:
    opened = a_photo_archive(tmp_path)
    (tmp_path / ".derived").write_text("a file in the place of the folder", encoding="utf-8")

    shown = cut_outs(opened, [want("photo", MIDDLE), want("photo")])

    assert all(isinstance(each, CutOut) for each in shown.values())
    assert (tmp_path / ".derived").is_file()


def test_changed_bytes_of_the_same_length_are_not_shown_in_the_place_of_those_received(tmp_path: Path) -> None:
    opened, wanted = a_photo_archive(tmp_path), want("photo", MIDDLE)
    file = tmp_path / "originals" / "photo.png"
    file.write_bytes(file.read_bytes()[:-1] + b"\0")

    shown = cut_outs(opened, [wanted])[wanted]

    assert shown == NoCutOut(why="photo.png is not as it was received: its bytes have changed")
    assert kept_files(tmp_path) == []


def test_a_region_off_the_page_is_refused_and_one_that_is_partly_on_it_says_so(tmp_path: Path) -> None:
    opened, off, partly = (
        a_photo_archive(tmp_path),
        want("photo", "pixel:400,0,9,9"),
        want("photo", "pixel:390,0,99,99"),
    )

    shown = cut_outs(opened, [off, partly])

    assert shown[off] == NoCutOut(why="the region pixel:400,0,9,9 lies off the page")
    clipped = shown[partly]
    assert isinstance(clipped, CutOut)
    assert "runs beyond what can be shown" in clipped.note


def test_the_lines_that_are_quoted_are_shown_and_it_is_said_how_they_were_found(tmp_path: Path) -> None:
    opened = a_photo_archive(tmp_path)
    keep_reading(tmp_path, opened.archive.sources["photo"].files[0], [("lamp", Box(25, 25, 50, 50))])

    quoted, named = a_shown(opened, want("photo", quote="lamp")), a_shown(opened, want("photo", MIDDLE))

    lost = a_shown(opened, want("photo", quote="an axle of steel"))
    assert lost.note.endswith("; where on it the quoted words stand is not known")
    assert quoted.data == named.data
    assert quoted.note == f"the lines that are quoted, found by their words, {named.note}"


def test_nothing_of_a_withheld_photograph_is_seen_beside_another_on_its_page(tmp_path: Path) -> None:
    page = Image.new("RGB", (1000, 500), (255, 255, 255))
    page.paste((255, 0, 0), (500, 0, 1000, 500))
    album = a_source_of("album", an_original(tmp_path, "album.png", png_of(page)))
    halves = {"left": "percent:0,0,50,100", "right": "percent:50,0,50,100"}
    photos = [
        a_source_of(name, within=Within(source="album", pages=PageRange(1, 1), region=parse_region(region)))
        for name, region in halves.items()
    ]
    opened = an_archive_of(tmp_path, album, *photos)
    wanted = [want("left", "percent:20,20,29.5,40"), want("left"), want("album", "percent:20,20,29.5,40")]
    refused = [want("album"), want("album", "percent:40,20,20,20")]

    shown = cut_outs(opened, [*wanted, *refused], withheld=["right"])

    for each in wanted:
        piece = shown[each]
        assert isinstance(piece, CutOut), piece
        levels = np.asarray(Image.open(BytesIO(piece.data)).convert("RGB")).astype(int)
        assert (levels[..., 0] - levels[..., 1]).max() <= 2
    assert {shown[each] for each in refused} == {NoCutOut(why="something else that lies there is not to be shown")}
    assert isinstance(cut_outs(opened, refused)[refused[0]], CutOut)


def test_a_page_that_takes_too_long_is_given_up(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    even = png_of(Image.new("L", (6000, 6000)))
    opened = an_archive_of(tmp_path, a_source_of("photo", an_original(tmp_path, "photo.png", even)))
    monkeypatch.setattr(cutting_out, "PAGE_SECONDS", 0.01)

    shown = cut_outs(opened, [want("photo")])[want("photo")]

    assert isinstance(shown, NoCutOut)
    assert "it was stopped after 0.01 seconds" in shown.why


def test_a_page_that_needs_too_much_memory_is_given_up(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    lying = lying_png("RGBA", (8000, 8000))  # 64 million pixels of four bytes
    photo, large = an_original(tmp_path, "photo.png", png_of(coded_page())), an_original(tmp_path, "large.png", lying)
    opened = an_archive_of(tmp_path, a_source_of("photo", photo), a_source_of("large", large))
    monkeypatch.setattr(cutting_out, "PAGE_BYTES", 200_000_000)

    shown = cut_outs(opened, [want("large"), want("photo")], workers=1)

    assert isinstance(shown[want("photo")], CutOut)
    assert shown[want("large")] == NoCutOut(why="it could not be cut out: it needs more memory than one job may have")


def test_ctrl_c_ends_the_processes_at_work(tmp_path: Path) -> None:
    opened = an_archive_of(
        tmp_path,
        *(
            a_source_of(name, an_original(tmp_path, f"{name}.png", png_of(coded_page()) + name.encode()))
            for name in "abcd"
        ),
    )

    def interrupt(_step: str, _done: int, _total: int) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        cut_outs(opened, [want(name) for name in "abcd"], on_progress=interrupt)

    children = subprocess.run(["pgrep", "-P", str(os.getpid())], capture_output=True, check=False, text=True)
    left = [child for child in children.stdout.split() if "provenance.workers" in command_of(child)]
    assert left == []


def command_of(process: str) -> str:
    said = subprocess.run(["ps", "-o", "args=", "-p", process], capture_output=True, check=False, text=True)
    return said.stdout


def test_progress_is_told_by_page(tmp_path: Path) -> None:
    opened, told = a_photo_archive(tmp_path), list[tuple[str, int, int]]()

    cut_outs(opened, [want("photo"), want("photo", MIDDLE)], on_progress=lambda *step: told.append(step))

    assert told == [("cutting out", 1, 1)]


def test_nothing_asked_is_nothing_cut(tmp_path: Path) -> None:
    assert cut_outs(a_photo_archive(tmp_path), []) == {}


def test_pruning_drops_the_pieces_of_files_that_are_gone(tmp_path: Path) -> None:
    opened = a_photo_archive(tmp_path)
    a_shown(opened, want("photo", MIDDLE))
    CutOutsStore(tmp_path).put("a" * 64, 1, "k1", KeptCut(said={}, data=b""))
    CutOutsStore(tmp_path).put(opened.archive.sources["photo"].files[0].sha256, 2, "k1", KeptCut(said={}, data=b""))

    rebuilt = rebuild(opened, prune=True, workers=1)

    assert rebuilt.pruned == 2
    assert [file.name for file in kept_files(tmp_path)] == [f"p0001-{cut_key(part_of(MIDDLE))}.cut"]


def test_what_is_kept_gives_the_same_piece_again() -> None:
    piece = CutOut(data=b"\n\0data", media_type=PNG, width=3, height=4, width_mm=5.5, note="a “note”")

    assert from_kept(to_kept(piece)) == piece
    others: tuple[Any, ...] = ({}, {"media_type": PNG, "width": "wide", "height": 4, "width_mm": 5.5, "note": ""}, [])
    assert [from_kept(KeptCut(said=said, data=b"")) for said in others] == [None] * 3
