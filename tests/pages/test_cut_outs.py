from dataclasses import replace
from pathlib import Path

import pytest
from pages.coded_pages import part_of

from provenance.pages.cut_outs import (
    FRAME,
    MOST_PIXELS,
    CutJob,
    CutOut,
    NotShownError,
    cut_key,
    has_pieces,
    piece_of,
    width_in_print,
)

A_PIECE = CutOut(data=b"", media_type="image/png", width=600, height=300, width_mm=100.0)


def test_a_piece_shows_a_little_of_what_lies_round_its_region() -> None:
    piece = piece_of(part_of("percent:40,40,40,20"), (1000, 500), 1.0)

    # 400 by 100 pixels at 400, 200; 8 % of the longer side is 32.
    assert list(piece.region or ()) == [400, 200, 800, 300]
    assert list(piece.shown) == [368, 168, 832, 332]
    assert piece.scale == 1.0


def test_what_is_shown_ends_with_the_page() -> None:
    piece = piece_of(part_of("percent:0,0,100,50"), (1000, 500), 1.0)

    assert list(piece.shown) == [0, 0, 1000, 330]


def test_a_large_part_of_a_page_is_made_small_enough_to_be_printed() -> None:
    part, whole = (
        piece_of(part_of("percent:0,0,50,50"), (10_000, 7_000), 1.0),
        piece_of(part_of(None), (10_000, 7_000), 1),
    )

    # 5,000 pixels and twice 400 for the margin; and the whole page.
    assert part.scale == pytest.approx(1200 / 5800)
    assert whole.scale == pytest.approx(0.12)
    assert list(whole.shown) == [0, 0, 10_000, 7_000]
    assert whole.region is None


@pytest.mark.parametrize(("side", "scale"), [(10, 2.0), (150, 2.0), (200, 1.5), (300, 1.0), (900, 1.0)])
def test_a_small_part_is_enlarged_to_twice_its_own_pixels_at_most(side: int, scale: float) -> None:
    piece = piece_of(part_of(f"pixel:500,500,{side},{side}"), (2000, 2000), 1.0)

    assert piece.scale == scale


def test_the_smallest_part_has_room_beside_it_for_the_angles_that_mark_it() -> None:
    piece = piece_of(part_of("pixel:500,500,4,4"), (2000, 2000), 1.0)

    assert (500 - piece.shown[0]) * piece.scale >= FRAME


def test_of_a_region_in_pixels_that_runs_beyond_the_page_the_rest_is_shown_and_that_is_said() -> None:
    piece = piece_of(part_of("pixel:900,400,300,50"), (1000, 500), 1.0)

    assert list(piece.region or ()) == [900, 400, 1000, 450]
    assert piece.is_clipped


def test_percent_that_pass_the_edge_by_a_hair_are_not_worth_a_word() -> None:
    piece = piece_of(part_of("percent:50,50,50.01,50"), (1000, 500), 1.0)

    assert list(piece.region or ()) == [500, 250, 1000, 500]
    assert not piece.is_clipped


@pytest.mark.parametrize("region", ["pixel:1000,0,10,10", "pixel:0,500,10,10", "pixel:5000,5000,1,1"])
def test_a_region_off_the_page_is_refused_by_its_name(region: str) -> None:
    with pytest.raises(NotShownError, match=region):
        piece_of(part_of(region), (1000, 500), 1.0)


def test_of_a_photograph_in_an_album_nothing_beside_it_is_shown() -> None:
    whole = piece_of(part_of(None, within="percent:50,50,50,50"), (1000, 500), 1.0)
    part = piece_of(part_of("percent:50,60,30,20", within="percent:50,50,50,50"), (1000, 500), 1.0)

    assert whole.region is None
    assert list(whole.shown) == [500, 250, 1000, 500]
    # The margin of 24 ends at the left with the photograph.
    assert list(part.shown) == [500, 276, 824, 424]
    with pytest.raises(NotShownError, match="off the part of the page that the source is"):
        piece_of(part_of("percent:0,0,40,40", within="percent:50,50,50,50"), (1000, 500), 1.0)


def test_what_is_hidden_is_not_seen_in_a_margin_and_is_not_shown_where_it_is_asked_for() -> None:
    region, size = "percent:40,40,20,20", (1000, 500)  # 400, 200 to 600, 300; its margin is 16 pixels

    far, near = piece_of(part_of(region, "pixel:620,0,50,500"), size, 1.0), part_of(region, "pixel:610,0,50,500")

    assert list(far.shown) == [384, 184, 616, 316]
    assert list(piece_of(near, size, 1.0).shown) == [400, 200, 600, 300]
    for part in (part_of(region, "pixel:590,290,50,50"), part_of(None, "pixel:590,290,50,50")):
        with pytest.raises(NotShownError, match="not to be shown"):
            piece_of(part, size, 1.0)


def test_a_piece_is_printed_at_150_pixels_to_the_inch_where_nothing_else_is_known() -> None:
    # An inch is 25.4 mm: 300 pixels are two inches.
    assert width_in_print((300, 200), None) == 50.8


def test_no_piece_is_wider_or_higher_than_a_sheet_has_room_for() -> None:
    assert width_in_print((MOST_PIXELS, 300), None) == 165.0
    assert width_in_print((600, MOST_PIXELS), None) == 80.0  # half of 160 mm


def test_letters_are_not_printed_more_than_twice_as_large_as_they_are() -> None:
    # 1,200 pixels of a scan at 600 dpi are 50.8 mm of paper.
    assert width_in_print((1200, 100), 50.8) == 101.6
    assert width_in_print((1200, 100), 400.0) == 165.0


def test_a_detail_is_large_enough_to_be_seen_though_it_is_small_on_the_page() -> None:
    # 300 pixels of a scan at 1200 dpi are 6.35 mm: twice that would be lost on a page.
    assert width_in_print((300, 300), 6.35) == 40.0


def test_the_height_in_print_follows_from_the_width() -> None:
    assert A_PIECE.height_mm == 50.0


def test_another_region_is_kept_under_another_key() -> None:
    region = "percent:1,2,3,4"
    parts = [part_of(each) for each in (None, region, "percent:1,2,3,5", "pixel:1,2,3,4")]
    parts += [part_of(None, within=region), part_of(None, region), part_of(region, within=region)]

    assert len({cut_key(part) for part in parts}) == 7
    assert cut_key(part_of(region)) == cut_key(parts[1])


def test_a_text_and_a_recording_have_nothing_to_be_seen() -> None:
    kinds = ["application/pdf", "image/jpeg", "image/tiff", "text/plain", "text/vtt", "audio/mpeg"]

    assert [has_pieces(kind) for kind in kinds] == [True, True, True, False, False, False]


def test_a_job_can_be_told_from_another_by_its_regions() -> None:
    job = CutJob(path=Path("a.png"), media_type="image/png", page=1, parts=(part_of(None),))

    assert job != replace(job, parts=(part_of("percent:1,2,3,4"),))
