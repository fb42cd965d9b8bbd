import pytest

from provenance.pages.tile_files import (
    TILE,
    Band,
    CutTile,
    DamagedTilesError,
    PageTiles,
    TileFile,
    bands_of,
    coarse_from,
    levels_of,
    size_at,
    written,
)

PAGE = PageTiles(width=1000, height=600, of_page=(2000, 1200), is_lossless=False, note="shown at 50 % of its size")
TILES = [CutTile(0, 0, 0, b"one"), CutTile(0, 1, 0, b"two, longer"), CutTile(1, 0, 0, b"")]


@pytest.mark.parametrize(
    ("size", "levels"),
    [((1, 1), 1), ((512, 512), 1), ((513, 10), 2), ((1024, 9), 2), ((1025, 9), 3), ((10000, 7000), 6)],
)
def test_a_page_is_halved_until_it_fits_into_one_tile(size: tuple[int, int], levels: int) -> None:
    assert levels_of(*size) == levels
    assert max(size_at(size, levels - 1)) <= TILE


def test_halving_rounds_up_so_that_no_row_is_lost() -> None:
    assert [size_at((10001, 7), level) for level in range(4)] == [(10001, 7), (5001, 4), (2501, 2), (1251, 1)]


@pytest.mark.parametrize(("side", "level"), [(100, 0), (2048, 0), (2049, 1), (4097, 2), (10000, 3)])
def test_the_small_sizes_begin_where_a_window_is_filled(side: int, level: int) -> None:
    assert coarse_from(side, 10) == coarse_from(10, side) == level


def test_the_bands_of_a_page_hold_every_row_of_its_large_sizes_once_and_the_smaller_sizes_come_first() -> None:
    # 10,000 by 7,000 pixels: 14 rows of 512 in full, 7 at a half, 4 at a quarter (of 1,750 pixels); the rest is small
    bands = bands_of(10000, 7000)

    assert [band.level for band in bands] == [2] * 2 + [1] * 4 + [0] * 7
    for level, rows in ((0, 14), (1, 7), (2, 4)):
        holding = [[band for band in bands if band.has(level, row)] for row in range(rows)]
        assert [len(each) for each in holding] == [1] * rows
        assert {band for each in holding for band in each} == {band for band in bands if band.level == level}
    assert bands_of(2048, 2048) == ()
    assert bands_of(2049, 10) == (Band(0, 0),)


def test_each_tile_is_read_as_it_was_written() -> None:
    file = TileFile(written(PAGE, TILES))

    assert file.page == PAGE
    assert [file.read(tile.level, tile.column, tile.row) for tile in TILES] == [tile.data for tile in TILES]
    assert [file.has(level) for level in (0, 1, 2)] == [True, True, False]


def test_a_file_of_which_any_byte_changed_gives_no_wrong_tile() -> None:
    whole = written(PAGE, TILES)

    for place in range(len(whole)):
        changed = whole[:place] + bytes([whole[place] ^ 1]) + whole[place + 1 :]
        try:
            read = [TileFile(changed).read(tile.level, tile.column, tile.row) for tile in TILES]
        except DamagedTilesError:
            continue
        # The end of the line behind the digest is no part of what it vouches for.
        assert read == [tile.data for tile in TILES], place
        assert place == 64, place


@pytest.mark.parametrize("length", [0, 10, 65, 100, -1])
def test_a_file_that_was_cut_short_is_noticed(length: int) -> None:
    whole = written(PAGE, TILES[:2])[:length]

    with pytest.raises(DamagedTilesError):
        TileFile(whole).read(0, 1, 0)


def test_a_tile_that_is_not_in_the_file_is_none() -> None:
    with pytest.raises(DamagedTilesError):
        TileFile(written(PAGE, TILES)).read(0, 2, 0)
