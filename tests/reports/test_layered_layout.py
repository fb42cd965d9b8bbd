"""Where boxes and lines of a drawing stand: looked at as figures on paper."""

from itertools import combinations, pairwise

import pytest
from reports.made_graphs import a_family

from provenance.reports.layered_layout import Layout, Place, Size, lay_out


def a_drawing(boxes: int, seed: int, most: int = 4) -> tuple[Layout, list[tuple[str, str]]]:
    """Boxes of several heights."""
    lines = [(f"b{upper}", f"b{lower}") for upper, lower in a_family(boxes, seed, second=0.3)]
    sizes = {f"b{box}": Size(width=100 + 10 * (box % 3), height=40 + 7 * (box % 5), head=13) for box in range(boxes)}
    return lay_out(sizes, lines, most=most), lines


def test_a_box_stands_below_the_one_that_leads_to_it_with_room_for_words() -> None:
    layout = lay_out({"a": Size(width=100, height=40), "b": Size(width=60, height=30, head=13)}, [("a", "b")], most=4)

    assert layout.boxes["a"] == Place(x=0, y=0, width=100, height=40)
    below = layout.boxes["b"]
    assert (below.x, below.width, below.height) == (20, 60, 30)
    assert below.y > 40 + 13
    assert list(layout.routes[0]) == [(50, 40), (50, 40), (50, below.y - 13), (50, below.y)]
    assert (layout.width, layout.height, layout.crossings) == (100, below.y + 30, 0)


def test_nothing_to_draw_takes_no_room() -> None:
    assert lay_out({}, [], most=4) == Layout(width=0, height=0, boxes={}, routes=(), crossings=0)


@pytest.mark.parametrize("line", [("b", "a"), ("a", "a")])
def test_a_line_that_does_not_lead_on_is_refused(line: tuple[str, str]) -> None:
    with pytest.raises(ValueError, match="does not stand after it"):
        lay_out({"a": Size(width=1, height=1), "b": Size(width=1, height=1)}, [line], most=4)


@pytest.mark.parametrize("seed", range(8))
def test_no_box_covers_another(seed: int) -> None:
    layout, _ = a_drawing(40, seed)

    for one, other in combinations(layout.boxes.values(), 2):
        beside = one.x + one.width <= other.x or other.x + other.width <= one.x
        above = one.y + one.height <= other.y or other.y + other.height <= one.y
        assert beside or above


@pytest.mark.parametrize("seed", range(8))
def test_no_line_runs_through_a_box(seed: int) -> None:
    """Lines change their side only between rows, where no box is; beside boxes they run straight down."""
    layout, lines = a_drawing(40, seed)

    for (upper, lower), route in zip(lines, layout.routes, strict=True):
        top, bottom = layout.boxes[upper], layout.boxes[lower]
        assert route[0][1] == top.y + top.height
        assert top.x < route[0][0] < top.x + top.width
        assert route[-1][1] == bottom.y
        assert bottom.x < route[-1][0] < bottom.x + bottom.width
        for (x, y), (to_x, to_y) in pairwise(route):
            left, right = sorted((x, to_x))
            assert y <= to_y
            for name, box in layout.boxes.items():
                touches = y < box.y + box.height and to_y > box.y and left < box.x + box.width and right > box.x
                assert not touches, (upper, lower, name)


@pytest.mark.parametrize("seed", range(8))
def test_as_many_lines_cross_as_is_said(seed: int) -> None:
    layout, _ = a_drawing(40, seed)
    slopes: dict[float, list[tuple[float, float]]] = {}
    for route in layout.routes:
        for (x, y), (to_x, _) in list(pairwise(route))[1::2]:
            slopes.setdefault(y, []).append((x, to_x))

    crossed = sum(
        (one[0] - other[0]) * (one[1] - other[1]) < 0
        for between in slopes.values()
        for one, other in combinations(between, 2)
    )

    assert crossed == layout.crossings


def test_the_same_boxes_and_lines_give_the_same_places() -> None:
    assert a_drawing(60, 3) == a_drawing(60, 3)


def test_of_a_hundred_prints_no_more_than_four_stand_side_by_side() -> None:
    sizes = {name: Size(width=100, height=40) for name in ("negative", *(f"print-{number}" for number in range(100)))}

    layout = lay_out(sizes, [("negative", name) for name in sizes if name != "negative"], most=4)

    rows: dict[float, int] = {}
    for box in layout.boxes.values():
        rows[box.y] = rows.get(box.y, 0) + 1
    assert max(rows.values()) == 4
    assert layout.crossings == 0
