"""The window onto a page in a real browser: wheel, pointer, fingers, keys and buttons, on a page of coloured blocks."""

import math
from collections.abc import Iterator

import pytest
from pages.coded_pages import colour_of, is_near
from playwright.sync_api import Browser, Route, expect
from web.browsing import Seen, Served, barriers, looked_at, overhang, serving
from web.tiled_archive import an_archive
from web.zooming import BLOCK, View, Window

WHEEL = math.exp(150 / 400)
"""How much larger a page becomes when the wheel is turned by 150 pixels."""


@pytest.fixture(scope="module")
def coded(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The real server on an archive with a page of coloured blocks."""
    with serving(an_archive(tmp_path_factory.mktemp("coded"))) as server:
        yield server


@pytest.fixture
def window(chromium: Browser, coded: Served, seen: Seen) -> Iterator[Window]:
    """A window onto the page of coloured blocks, in which the whole page is seen."""
    with looked_at(chromium, coded, seen) as page:
        opened = Window(page, coded)
        opened.wait_sharp()
        yield opened


def middle_of(view: View, across: int, down: int) -> tuple[float, float]:
    """Where the middle of a block is seen in the window."""
    return ((across + 0.5) * BLOCK - view.x) * view.scale, ((down + 0.5) * BLOCK - view.y) * view.scale


def test_the_whole_page_is_seen_first(window: Window) -> None:
    view = window.view()

    assert all(
        is_near(window.colour_at(*middle_of(view, *block)), colour_of(*block), by=8)
        for block in ((0, 0), (19, 0), (10, 5), (0, 9), (19, 9))
    )


def test_the_wheel_zooms_about_the_pointer_and_sharper_tiles_come(window: Window) -> None:
    before = window.view()
    at = window.rounded(middle_of(before, 14, 3))
    window.page.mouse.move(*window.place(*at))

    for _ in range(5):
        window.page.mouse.wheel(0, -150)
    after = window.wait_for(before.scale * WHEEL**5)
    window.page.wait_for_selector('figure.zoom[data-sharp="1"]')

    assert after.scale > 2 * before.scale
    assert after.under(*at) == pytest.approx(before.under(*at), abs=0.01 / after.scale)
    assert before.under(*at) == pytest.approx((14.5 * BLOCK, 3.5 * BLOCK), abs=2)
    assert is_near(window.colour_at(*at), colour_of(14, 3), by=8)
    left = at[0] - BLOCK * after.scale, at[1]  # the block beside it, computed
    assert is_near(window.colour_at(*left), colour_of(13, 3), by=8)


def test_a_double_click_zooms_where_it_falls(window: Window) -> None:
    before = window.view()
    at = window.rounded(middle_of(before, 8, 4))

    window.page.mouse.dblclick(*window.place(*at))

    after = window.wait_for(2 * before.scale)
    assert after.under(*at) == pytest.approx(before.under(*at), abs=0.01 / after.scale)


def test_dragging_takes_the_page_along(window: Window) -> None:
    whole = window.view()
    window.page.mouse.dblclick(*window.place(*middle_of(whole, 10, 5)))
    before = window.wait_for(2 * whole.scale)
    start = window.place(*window.rounded(middle_of(before, 10, 5)))

    window.page.mouse.move(*start)
    window.page.mouse.down()
    window.page.mouse.move(start[0] - 90, start[1] + 40, steps=4)
    window.page.mouse.up()

    after = window.view()
    assert ((before.x - after.x) * after.scale, (before.y - after.y) * after.scale) == pytest.approx((-90, 40), abs=0.1)
    window.wait_sharp()
    assert is_near(window.colour_at(*middle_of(after, 10, 5)), colour_of(10, 5), by=8)


def test_everything_is_reached_by_keys(window: Window) -> None:
    window.page.keyboard.press("Tab")
    assert window.frame.evaluate("each => each === document.activeElement")
    assert window.frame.evaluate("each => getComputedStyle(each).outlineStyle") == "solid"
    whole = window.view()

    window.page.keyboard.press("+")
    window.wait_for(1.5 * whole.scale)
    window.page.keyboard.press("+")
    largest = window.wait_for(1.5**2 * whole.scale)
    window.page.keyboard.press("ArrowRight")
    window.page.keyboard.press("ArrowDown")
    moved = window.view()
    window.page.keyboard.press("-")
    window.wait_for(1.5 * whole.scale)
    window.page.keyboard.press("0")

    assert window.wait_for(whole.scale) == whole
    assert moved.x > largest.x
    assert moved.y > largest.y


def test_each_button_says_what_it_does(window: Window) -> None:
    whole = window.view()
    told = window.page.locator("output")

    for name, times in (("Larger", 1.5), ("Smaller", 1.0), ("Larger", 1.5), ("Whole page", 1.0)):
        window.page.get_by_role("button", name=name).click()

        expect(told).to_have_text(f"{round(whole.scale * times * 100)} %")


def test_two_fingers_take_the_place_between_them_along(chromium: Browser, coded: Served, seen: Seen) -> None:
    with looked_at(chromium, coded, seen, has_touch=True) as page:
        window = Window(page, coded)
        window.wait_sharp()
        before = window.view()
        x, y = middle_of(before, 12, 4)
        touches = page.context.new_cdp_session(page)

        def touch(kind: str, apart: float) -> None:
            points = [window.place(x - apart, y), window.place(x + apart, y)] if apart else []
            told = [{"x": left, "y": top, "id": number} for number, (left, top) in enumerate(points)]
            touches.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": told})

        touch("touchStart", 30)
        for apart in (45, 60, 75, 90):
            touch("touchMove", apart)
        touch("touchEnd", 0)
        after = window.wait_for(3 * before.scale, within=0.02)

        assert after.under(x, y) == pytest.approx(before.under(x, y), abs=2 / after.scale)


def test_what_is_there_stays_until_something_sharper_has_come(window: Window) -> None:
    held: list[Route] = []

    def hold(route: Route) -> None:
        held.append(route)

    window.page.route("**/512,512/0/default.*", hold)
    before = window.view()
    at = window.rounded(middle_of(before, 14, 3))
    window.page.mouse.move(*window.place(*at))

    for _ in range(5):
        window.page.mouse.wheel(0, -150)
    window.wait_for(before.scale * WHEEL**5)
    window.page.wait_for_selector('figure.zoom[data-sharp=""]')

    assert is_near(window.colour_at(*at), colour_of(14, 3), by=8)
    window.page.unroute("**/512,512/0/default.*")
    for route in held:
        route.continue_()
    assert window.wait_sharp() == 1
    assert held
    assert is_near(window.colour_at(*at), colour_of(14, 3), by=8)


def test_what_is_pointed_out_stays_outlined_at_every_size(chromium: Browser, coded: Served, seen: Seen) -> None:
    regions = 'data-regions="percent:50,20,10,20 percent:0,0,5,10" data-at="percent:50,20,10,20"'
    with looked_at(chromium, coded, seen) as page:
        window = Window(page, coded, more=regions)
        window.wait_sharp()
        first = window.view()

        def outlined(view: View) -> None:
            corner = window.place((1200 - view.x) * view.scale, (240 - view.y) * view.scale)
            box = page.locator(".zoom-region").first.bounding_box()
            assert box is not None
            wanted = (*corner, 240 * view.scale, 240 * view.scale)
            assert (box["x"], box["y"], box["width"], box["height"]) == pytest.approx(wanted, abs=0.6)

        assert first.scale > 1200 / 2400
        outlined(first)
        window.frame.focus()
        page.keyboard.press("-")
        outlined(window.wait_for(first.scale / 1.5))
        assert page.locator(".zoom-region").count() == 2


def test_a_part_of_a_page_has_its_regions_where_they_are_on_the_page(
    chromium: Browser, coded: Served, seen: Seen
) -> None:
    more = 'data-within="percent:50,0,50,50" data-regions="percent:75,25,5,10"'
    with looked_at(chromium, coded, seen) as page:
        window = Window(page, coded, source="part", more=more)
        window.wait_sharp()
        view = window.view()

        box = page.locator(".zoom-region").bounding_box()

        assert box is not None
        corner = window.place((600 - view.x) * view.scale, (300 - view.y) * view.scale)
        assert (box["x"], box["y"], box["width"]) == pytest.approx((*corner, 120 * view.scale), abs=0.6)


def test_whoever_wants_no_motion_sees_none(chromium: Browser, coded: Served, seen: Seen) -> None:
    with looked_at(chromium, coded, seen, reduced_motion="reduce") as page:
        window = Window(page, coded)
        window.wait_sharp()
        whole = window.view()
        window.frame.focus()

        page.keyboard.press("+")

        assert window.view().scale == pytest.approx(whole.scale * 1.5)


def test_without_scripts_the_plain_picture_is_there(chromium: Browser, coded: Served, seen: Seen) -> None:
    with looked_at(chromium, coded, seen, java_script_enabled=False) as page:
        Window(page, coded)

        picture = page.get_by_role("img", name="The drawing")

        assert picture.is_visible()
        box = picture.bounding_box()
        assert box is not None
        assert box["width"] / box["height"] == pytest.approx(2, abs=0.02)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_window_has_no_barrier_and_fits_a_telephone(
    chromium: Browser, coded: Served, seen: Seen, scheme: str
) -> None:
    with looked_at(chromium, coded, seen, viewport={"width": 360, "height": 640}, color_scheme=scheme) as page:
        Window(page, coded).wait_sharp()

        assert overhang(page) <= 0
        assert barriers(page) == []
