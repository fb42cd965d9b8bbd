"""Pieces that are shown without anything beside them, and small ones."""

import io
from pathlib import Path

import numpy as np
import pytest
from pages.coded_pages import coded_page, colour_of
from PIL import Image
from tasks.shown_originals import a_source_of, an_archive_of, an_original, want

from provenance.pages.cut_outs import CutOut, Part, cut_key
from provenance.records.claims import At
from provenance.records.regions import PageRange, parse_region
from provenance.records.sources import Within
from provenance.tasks.cutting_out import NoCutOut, Wanted, cut_before, cut_outs
from provenance.tasks.opening import Opened


def an_album(folder: Path) -> Opened:
    written = io.BytesIO()
    coded_page().save(written, "PNG")
    album = a_source_of("album", an_original(folder, "album.png", written.getvalue()))
    within = Within(source="album", pages=PageRange(1, 1), region=parse_region("percent:50,0,50,50"))
    inches = Within(source="album", pages=PageRange(1, 1), region=parse_region("pixel:200,0,200,100"))
    return an_archive_of(folder, album, a_source_of("photo", within=within), a_source_of("print", within=inches))


def a_bare(source: str, region: str) -> Wanted:
    return Wanted(source, At(page=1, region=parse_region(region)), is_bare=True)


def shown(opened: Opened, wanted: Wanted) -> np.ndarray:
    piece = cut_outs(opened, [wanted], workers=1)[wanted]
    assert isinstance(piece, CutOut), piece
    return np.asarray(Image.open(io.BytesIO(piece.data)).convert("RGB"))


def test_a_bare_piece_is_the_region_alone_without_angles(tmp_path: Path) -> None:
    opened = an_album(tmp_path)

    # 40 % to 80 % of 400 pixels, 20 % to 60 % of 200: 160 by 80 pixels; few pixels are enlarged, up to twice
    piece = shown(opened, a_bare("album", "percent:40,20,40,40"))

    height, width, _ = piece.shape
    assert (width, height) == (300, 150)
    for across, down in ((0, 0), (7, 0), (0, 3), (7, 3)):
        x, y = int((across + 0.5) * width / 8), int((down + 0.5) * height / 4)
        assert abs(piece[y, x].astype(int) - colour_of(8 + across, 2 + down)).max() <= 2
    assert not (piece.reshape(-1, 3) == 255).all(axis=1).any()


def test_a_bare_piece_shows_nothing_beside_the_part_of_the_page_that_the_source_is(tmp_path: Path) -> None:
    opened = an_album(tmp_path)

    piece = shown(opened, a_bare("photo", "percent:40,20,40,60"))

    # of the photograph, which is the upper right quarter, 50 % to 80 % across and 20 % to 50 % down: 120 by 60 pixels
    assert piece.shape[:2] == (120, 240)
    assert abs(piece[5, 5].astype(int) - colour_of(10, 2)).max() <= 2


@pytest.mark.parametrize(("source", "region"), [("photo", "percent:0,0,40,40"), ("print", "percent:60,10,10,10")])
def test_where_nothing_of_the_region_is_the_source_s_or_nobody_can_say_there_is_no_bare_piece(
    source: str, region: str, tmp_path: Path
) -> None:
    opened, wanted = an_album(tmp_path), a_bare(source, region)

    piece = cut_outs(opened, [wanted], workers=1)[wanted]

    assert piece == NoCutOut(why="that part of the page is none of the source")


def test_a_small_picture_is_small_and_kept_apart_from_the_large_one(tmp_path: Path) -> None:
    opened = an_album(tmp_path)
    small, large = Wanted("album", At(page=1), most=100), want("album")

    assert shown(opened, large).shape[:2] == (200, 400)
    assert shown(opened, small).shape[:2] == (50, 100)
    assert shown(opened, large).shape[:2] == (200, 400)


def test_the_key_of_a_piece_of_the_usual_size_is_what_it_was(tmp_path: Path) -> None:
    del tmp_path
    region = parse_region("percent:1,2,3,4")

    assert cut_key(Part(region=region)) == cut_key(Part(region=region, most=1200))
    assert len({cut_key(Part(region=region, most=most)) for most in (1200, 240, 100)}) == 3


def test_what_was_cut_before_is_told_without_cutting_and_so_is_why_nothing_can_be(tmp_path: Path) -> None:
    opened, wanted = an_album(tmp_path), a_bare("album", "percent:40,20,40,40")

    before = cut_before(opened, wanted)
    cut = cut_outs(opened, [wanted], workers=1)[wanted]

    assert before is None
    assert cut_before(opened, wanted) == cut
    assert cut_before(opened, want("nothing")) == NoCutOut(why="the record of the source cannot be read")
