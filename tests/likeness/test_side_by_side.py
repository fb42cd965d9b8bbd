"""Two pages drawn side by side: both are there, the matched area is outlined on each, in black and white."""

from dataclasses import replace

import numpy as np
from likeness.carried_pictures import carried
from PIL import Image

from provenance.likeness.side_by_side import draw_pair
from provenance.likeness.values import Corners, Form, Likeness, PictureMatch

AREA: Corners = ((10.0, 10.0), (60.0, 10.0), (60.0, 60.0), (10.0, 60.0))
MATCH = PictureMatch(
    likeness=Likeness.COPY, score=0.9, inliers=40, overlap=1, correlation=0.9, form=Form.PLAIN, one=AREA,
    other=(AREA[2], AREA[3], AREA[0], AREA[1]), why="40 points agree; the whole of it lies there",
)  # fmt: skip
GREY = Image.new("L", (900, 900), 128)


def test_the_outline_runs_where_the_area_is_on_both_pages() -> None:
    drawn = np.asarray(draw_pair(GREY, GREY, MATCH, ("first", "second")))

    tops = [row for row in range(drawn.shape[0]) if (drawn[row] == 128).sum() > 600]
    upper, columns = tops[0] - 1, np.flatnonzero(drawn[tops[0] + 5] == 128)
    starts = [columns[0] - 1, columns[np.flatnonzero(np.diff(columns) > 20)[0] + 1] - 1]
    for start in starts:
        line = drawn[upper + 90, start : start + 900]  # 10 % of 900 down
        assert (line[150:480] == 0).all()  # between the letters
        assert (line[600:880] == 128).all()  # nothing beyond 60 %
        assert (drawn[upper + 85, start + 150 : start + 480] == 255).all()  # white about the black


def test_the_letters_stand_at_other_corners_where_the_picture_is_turned() -> None:
    plain = draw_pair(GREY, GREY, replace(MATCH, other=AREA), ("a", "b"))
    turned = draw_pair(GREY, GREY, MATCH, ("a", "b"))

    left, right = (0, 0, 940, plain.height), (960, 0, plain.width, plain.height)
    assert plain.crop(left).tobytes() == turned.crop(left).tobytes()
    assert plain.crop(right).tobytes() != turned.crop(right).tobytes()


def test_pages_of_any_shape_and_kind_fit_on_the_sheet() -> None:
    tall, tiny = carried("camera.png").resize((100, 3000)), Image.new("1", (3, 2), 1)

    drawn = draw_pair(tall, tiny.convert("RGB"), MATCH, ("a name that is far longer than the page is wide", ""))

    assert drawn.mode == "L"
    assert drawn.width <= 1890
    assert 900 < drawn.height < 1200


def test_a_pair_without_an_area_is_drawn_without_an_outline() -> None:
    bare = draw_pair(GREY, GREY, replace(MATCH, one=(), other=()), ("a", "b"))

    assert (np.asarray(bare)[60:900, 40:900] == 128).mean() > 0.99


def test_a_long_reason_is_broken_into_lines_and_makes_the_sheet_taller() -> None:
    longer = replace(MATCH, why=" ".join([MATCH.why] * 8))

    short, tall = (draw_pair(GREY, GREY, match, ("a", "b")) for match in (MATCH, longer))

    assert tall.height > short.height
    assert tall.width == short.width
