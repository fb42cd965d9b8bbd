import struct
from pathlib import Path

import pytest
from pages.made_pictures import (
    BITS,
    HEIGHT,
    INNER,
    ORIENTATION,
    PHOTOMETRIC,
    ROWS,
    STRIP_BYTES,
    STRIPS,
    SUBFILE,
    TILE_BYTES,
    TILE_HEIGHT,
    TILE_WIDTH,
    TILES,
    WIDTH,
    grey_tiff,
)

from provenance.pages import tiff_frames
from provenance.pages.plain_files import open_plain
from provenance.pages.tiff_frames import BrokenChainError, Frame, FrameFile, read_frames

OLD_SUBFILE, SAMPLES, PLANAR = 255, 277, 284
ABSENT = -1


def frames_in(path: Path) -> tuple[Frame, ...]:
    with open_plain(path) as file:
        return read_frames(file)


@pytest.mark.parametrize("order", ["<", ">"])
@pytest.mark.parametrize("is_big", [False, True])
def test_frames_are_counted_in_both_orders_of_bytes_and_in_both_sizes_of_offsets(
    tmp_path: Path, *, order: str, is_big: bool
) -> None:
    path = grey_tiff(tmp_path / "a.tif", [{}, {ORIENTATION: 6}, {PHOTOMETRIC: 0}], order=order, is_big=is_big)

    frames = frames_in(path)

    assert [frame.size for frame in frames] == [(4, 2)] * 3
    assert [frame.orientation for frame in frames] == [1, 6, 1]
    assert [frame.is_white_zero for frame in frames] == [False, False, True]
    assert all(frame.is_whole and not frame.is_reduced and frame.piece_bytes == 8 for frame in frames)


def test_a_frame_is_seen_as_the_only_one_and_stored_upright(tmp_path: Path) -> None:
    path = grey_tiff(tmp_path / "a.tif", [{}, {ORIENTATION: 6}, {}])
    second = frames_in(path)[1]

    with open_plain(path) as file, FrameFile(file, second) as alone:
        whole = alone.read()
        alone.seek(3)
        piece = alone.read(3)

    assert piece == whole[3:6]
    assert len(whole) == path.stat().st_size
    (tmp_path / "alone.tif").write_bytes(whole)
    frames = frames_in(tmp_path / "alone.tif")
    assert [(frame.size, frame.orientation) for frame in frames] == [((4, 2), 1)]


@pytest.mark.parametrize(
    ("fields", "is_reduced"),
    [
        *(({SUBFILE: 0}, False), ({SUBFILE: 1}, True), ({SUBFILE: 2}, False), ({SUBFILE: 4}, True)),
        *(({OLD_SUBFILE: 1}, False), ({OLD_SUBFILE: 2}, True), ({OLD_SUBFILE: 3}, False)),
    ],
)
def test_a_smaller_copy_and_a_mask_are_told_from_a_page(
    tmp_path: Path, *, fields: dict[int, int], is_reduced: bool
) -> None:
    """Source: TIFF 6.0, section 8, NewSubfileType (bit 0 reduced, 1 one page of many, 2 mask) and SubfileType."""
    assert frames_in(grey_tiff(tmp_path / "a.tif", [fields]))[0].is_reduced is is_reduced


def test_a_frame_that_points_to_inner_pictures_says_so(tmp_path: Path) -> None:
    assert frames_in(grey_tiff(tmp_path / "a.tif", [{INNER: 8}]))[0].has_inner


@pytest.mark.parametrize(
    ("fields", "is_whole"),
    [
        ({}, True),
        ({STRIPS: 5000}, False),
        ({STRIP_BYTES: 5000}, False),
        ({STRIP_BYTES: ABSENT}, True),  # left out by old writers of one uncompressed strip
        ({STRIPS: ABSENT}, False),
        ({HEIGHT: 3}, False),  # two strips of two rows are needed, and one is listed
        ({HEIGHT: 2, ROWS: ABSENT}, True),
        ({ROWS: 0xFFFFFFFF}, True),
        ({SAMPLES: 3, PLANAR: 2}, False),  # a strip for each colour
        ({TILE_WIDTH: 4, TILE_HEIGHT: 2, TILES: 8, TILE_BYTES: 8, STRIPS: ABSENT}, True),
        ({TILE_WIDTH: 2, TILE_HEIGHT: 2, TILES: 8, TILE_BYTES: 8, STRIPS: ABSENT}, False),
    ],
)
def test_a_frame_is_whole_when_all_its_strips_or_tiles_are_listed_and_lie_in_the_file(
    tmp_path: Path, *, fields: dict[int, int], is_whole: bool
) -> None:
    assert frames_in(grey_tiff(tmp_path / "a.tif", [fields]))[0].is_whole is is_whole


@pytest.mark.parametrize(
    ("fields", "piece_bytes"),
    [
        ({BITS: 1, WIDTH: 9}, 4),  # two rows of nine bits
        ({BITS: 16}, 16),
        ({SAMPLES: 3}, 24),
        ({PHOTOMETRIC: 6}, 32),
        ({TILE_WIDTH: 1000, TILE_HEIGHT: 500, TILES: 8}, 500_000),
        ({TILE_WIDTH: 0, TILE_HEIGHT: 0, TILES: 8}, 1),
    ],
)
def test_the_largest_piece_is_known_before_it_is_unfolded(
    tmp_path: Path, fields: dict[int, int], piece_bytes: int
) -> None:
    assert frames_in(grey_tiff(tmp_path / "a.tif", [fields]))[0].piece_bytes == piece_bytes


def test_an_orientation_that_is_none_counts_as_upright(tmp_path: Path) -> None:
    assert frames_in(grey_tiff(tmp_path / "a.tif", [{ORIENTATION: 9}]))[0].orientation == 1


def test_a_chain_that_runs_in_a_circle_is_refused(tmp_path: Path) -> None:
    path = grey_tiff(tmp_path / "a.tif", [{}, {}, {}], last_next=16)

    with pytest.raises(BrokenChainError, match="runs in a circle"):
        frames_in(path)


@pytest.mark.parametrize("last_next", [5000, 0xFFFFFFFF])
def test_a_chain_that_leaves_the_file_is_refused(tmp_path: Path, last_next: int) -> None:
    path = grey_tiff(tmp_path / "a.tif", last_next=last_next)

    with pytest.raises(BrokenChainError, match="points beyond its end"):
        frames_in(path)


def test_a_frame_without_a_size_is_refused(tmp_path: Path) -> None:
    for fields in ({WIDTH: 0}, {HEIGHT: ABSENT}):
        with pytest.raises(BrokenChainError, match="without a size"):
            frames_in(grey_tiff(tmp_path / "a.tif", [fields]))


def test_a_tiff_without_a_frame_is_refused(tmp_path: Path) -> None:
    (tmp_path / "a.tif").write_bytes(b"II*\0" + bytes(20))

    with pytest.raises(BrokenChainError, match="holds no picture"):
        frames_in(tmp_path / "a.tif")


def test_a_field_that_claims_a_billion_numbers_is_refused_before_they_are_read(tmp_path: Path) -> None:
    path = grey_tiff(tmp_path / "a.tif")
    content = bytearray(path.read_bytes())
    strips = content.index(struct.pack("<HHI", STRIPS, 4, 1))
    content[strips + 4 : strips + 8] = struct.pack("<I", 1_000_000_000)
    path.write_bytes(content)

    with pytest.raises(BrokenChainError, match="points beyond its end"):
        frames_in(path)


def test_the_same_numbers_cannot_be_listed_by_frame_after_frame(tmp_path: Path) -> None:
    path = grey_tiff(tmp_path / "a.tif", [{}] * 50)
    content = path.read_bytes()
    many = len(content) // 8
    content = content.replace(struct.pack("<HHII", STRIPS, 4, 1, 8), struct.pack("<HHII", STRIPS, 4, many, 8))
    path.write_bytes(content)

    with pytest.raises(BrokenChainError, match="the same bytes again and again"):
        frames_in(path)


def long_chain(path: Path, many: int) -> Path:
    content = bytearray(b"II*\0\x08\0\0\0")
    for _ in range(many):
        fields = struct.pack("<HHIIHHII", WIDTH, 4, 1, 1, HEIGHT, 4, 1, 1)
        content += struct.pack("<H", 2) + fields + struct.pack("<I", len(content) + 30)
    content[-4:] = bytes(4)
    path.write_bytes(content)
    return path


def test_a_chain_may_be_as_long_as_a_page_number_can_be_and_no_longer(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(tiff_frames, "MOST_FRAMES", 10)  # as a file of thousands would be, and quick

    assert len(frames_in(long_chain(tmp_path / "a.tif", 10))) == 10
    with pytest.raises(BrokenChainError, match="longer than 10 pictures"):
        frames_in(long_chain(tmp_path / "a.tif", 11))


@pytest.mark.long
def test_a_chain_of_a_hundred_thousand_frames_is_refused(tmp_path: Path) -> None:
    with pytest.raises(BrokenChainError, match="longer than 65535 pictures"):
        frames_in(long_chain(tmp_path / "a.tif", 100_000))
