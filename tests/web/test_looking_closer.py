"""A page of a source in a real browser: its picture is the window onto it, with words and marks at every size."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Locator, Page, expect
from web.browsing import Seen, Served, barriers, looked_at, overhang, serving
from web.small_archives import a_small_archive
from web.test_source_pages import a_claim
from web.tiled_archive import add_source

HERE = "/sources/drawing/pages/1"


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The real server on a small archive: of its drawing a claim cites a part, and one file of it is cut short."""
    folder = a_small_archive(tmp_path_factory.mktemp("small"))
    a_claim(folder, "hood", "drawing", at={"page": 1, "region": "percent:60,20,25,30"})
    add_source(folder, "broken", "image/png", (folder / "originals" / "drawing" / "page.png").read_bytes()[:200])
    with serving(folder) as server:
        yield server


@pytest.fixture
def window(page: Page) -> Locator:
    page.goto(HERE)
    page.wait_for_selector('figure.zoom[data-sharp]:not([data-sharp=""])')
    return page.locator(".zoom-window")


def selected(page: Page) -> str:
    return str(page.evaluate("getSelection().toString()")).strip()


def middle(of: Locator) -> tuple[float, float]:
    box = of.bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def share_of(inner: Locator, whole: Locator) -> list[float]:
    """Where something begins on the page that the window shows, and how wide it is, in shares of the whole page."""
    found = inner.evaluate(
        "(each, whole) => { const [at, of] = [each.getBoundingClientRect(), whole.getBoundingClientRect()];"
        " return [(at.x - of.x) / of.width, (at.y - of.y) / of.height, at.width / of.width]; }",
        whole.element_handle(),
    )
    assert isinstance(found, list)
    return found


def test_the_picture_stands_once_and_is_the_window(window: Locator) -> None:
    page = window.page

    expect(page.locator("figure")).to_have_count(1)
    expect(page.locator("main img:visible:not(.zoom-tile)")).to_have_count(1)
    expect(window.locator("svg text")).to_have_count(4)
    assert barriers(page) == []
    page.set_viewport_size({"width": 360, "height": 700})
    assert overhang(page) <= 0


def test_marks_and_words_lie_where_they_stand_on_the_page_at_every_size(window: Locator) -> None:
    page, whole = window.page, window.locator(".zoom-whole")
    cited, word = window.locator("rect.cited"), window.locator("text").first

    for presses in (0, 3):
        for _ in range(presses):
            page.get_by_role("button", name="Larger").click()
        expect(page.locator(".zoom-window.zoom-is-whole")).to_have_count(0 if presses else 1)
        # the claim names from 60 % across and 20 % down, 25 % wide; the word was read from 10 % across, 20 % wide
        assert share_of(cited, whole) == pytest.approx([0.60, 0.20, 0.25], abs=0.01)
        begin, _, wide = share_of(word, whole)
        assert (begin, wide) == pytest.approx((0.10, 0.20), abs=0.01)


def test_dragging_moves_the_page_and_selects_nothing(window: Locator) -> None:
    page = window.page
    for _ in range(2):
        page.get_by_role("button", name="Larger").click()
    expect(page.locator(".zoom-window.zoom-is-whole")).to_have_count(0)
    view = page.locator("figure.zoom").get_attribute("data-view") or ""

    begin = middle(window.locator("text").last)  # on a word
    page.mouse.move(*begin)
    page.mouse.down()
    page.mouse.move(begin[0] + 250, begin[1] + 30, steps=5)
    page.mouse.up()

    expect(page.locator("figure.zoom")).not_to_have_attribute("data-view", view)
    assert selected(page) == ""
    window.locator("text").last.dblclick()
    assert selected(page) == ""
    expect(window).to_be_focused()


def test_with_shift_held_dragging_selects_words_and_leaves_the_page_where_it_is(window: Locator) -> None:
    page, text = window.page, window.locator("text")
    view = page.locator("figure.zoom").get_attribute("data-view") or ""
    first, last = text.nth(0).bounding_box(), text.nth(1).bounding_box()
    assert first is not None
    assert last is not None

    page.keyboard.down("Shift")
    page.mouse.move(first["x"] + 2, first["y"] + first["height"] / 2)
    page.mouse.down()
    page.mouse.move(last["x"] + last["width"] - 1, last["y"] + last["height"] / 2, steps=6)
    page.mouse.up()
    page.keyboard.up("Shift")

    assert selected(page).split() == ["Bracket", "H-204"]
    expect(page.locator("figure.zoom")).to_have_attribute("data-view", view)


def test_a_button_changes_from_moving_to_selecting_and_back_by_keyboard_too(window: Locator) -> None:
    page = window.page
    page.get_by_role("button", name="Select text").focus()
    page.keyboard.press("Enter")
    view = page.locator("figure.zoom").get_attribute("data-view") or ""

    window.locator("text").first.dblclick()

    assert selected(page) == "Bracket"
    expect(page.locator("figure.zoom")).to_have_attribute("data-view", view)
    page.get_by_role("button", name="Move the page").focus()
    page.keyboard.press("Space")
    window.locator("text").first.dblclick()
    expect(page.locator("figure.zoom")).not_to_have_attribute("data-view", view)


def test_a_finger_moves_the_page_but_not_after_the_button_that_has_it_select(
    chromium: Browser, served: Served, seen: Seen
) -> None:
    with looked_at(chromium, served, seen, has_touch=True, viewport={"width": 360, "height": 640}) as page:
        page.goto(HERE)
        page.wait_for_selector('figure.zoom[data-sharp]:not([data-sharp=""])')
        page.locator(".zoom-window").focus()
        for _ in range(3):
            page.keyboard.press("+")
        expect(page.locator(".zoom-is-whole")).to_have_count(0)
        page.locator(".zoom-window").scroll_into_view_if_needed()
        page.get_by_role("button", name="Select text").tap()
        expect(page.get_by_role("button", name="Move the page")).to_be_visible()
        selecting = [where_it_stands_after_a_drag(page) for _ in range(2)]

        page.get_by_role("button", name="Move the page").click()  # a tap at once after a swipe only ends the swipe

        expect(page.get_by_role("button", name="Select text")).to_be_visible()
        where_it_stands_after_a_drag(page)
        expect(page.locator("figure.zoom")).not_to_have_attribute("data-view", selecting[0])
        assert selecting[0] == selecting[1]
        assert selected(page) == ""


def where_it_stands_after_a_drag(page: Page) -> str:
    """Drag a finger across the window, and tell where the window stands then."""
    fingers = page.context.new_cdp_session(page)
    x, y = middle(page.locator(".zoom-window"))
    for step in range(5):
        point = {"x": x - 12 * step, "y": y - 4 * step}
        fingers.send(
            "Input.dispatchTouchEvent", {"type": "touchMove" if step else "touchStart", "touchPoints": [point]}
        )
    fingers.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    fingers.detach()
    return page.locator("figure.zoom").get_attribute("data-view") or ""


def test_all_words_of_the_page_are_selected_by_the_keyboard(window: Locator) -> None:
    window.focus()
    window.page.keyboard.press("Control+a")

    assert selected(window.page).split() == ["Bracket", "H-204", "above", "rail"]


def test_a_place_that_a_claim_cites_is_shown_large_at_once(window: Locator) -> None:
    page = window.page

    page.get_by_role("link", name="its place on the page").click()

    asked = page.locator(".zoom-window rect.asked")
    expect(asked).to_be_in_viewport()
    box, shown = asked.bounding_box(), page.locator(".zoom-window").bounding_box()
    assert box is not None
    assert shown is not None
    assert max(box["width"] / shown["width"], box["height"] / shown["height"]) > 0.5
    expect(page.locator(".zoom-is-whole")).to_have_count(0)


def test_without_a_script_the_picture_has_its_words_over_it(chromium: Browser, served: Served, seen: Seen) -> None:
    with looked_at(chromium, served, seen, java_script_enabled=False) as page:
        page.goto(HERE)
        picture, over = page.locator(".laid img").bounding_box(), page.locator(".laid svg").bounding_box()

    assert picture is not None
    assert over is not None
    assert [over[side] for side in ("x", "y", "width", "height")] == pytest.approx(
        [picture[side] for side in ("x", "y", "width", "height")], abs=1
    )


def test_on_paper_the_whole_page_stands_with_its_marks(window: Locator) -> None:
    page = window.page
    for _ in range(2):
        page.get_by_role("button", name="Larger").click()
    expect(page.locator(".zoom-window.zoom-is-whole")).to_have_count(0)

    page.emulate_media(media="print")

    expect(page.locator(".zoom-tools")).to_be_hidden()
    assert share_of(window.locator("rect.cited"), window.locator(".zoom-whole")) == pytest.approx(
        [0.60, 0.20, 0.25], abs=0.02
    )


def test_a_page_that_cannot_be_opened_says_so_and_may_be_tried_again(page: Page, seen: Seen) -> None:
    page.goto("/sources/broken/pages/1")
    told = page.locator(".zoom-none")
    expect(told).to_contain_text("It cannot be shown more closely.")

    with page.expect_response("**/info.json?again=1"):
        told.get_by_role("button", name="Try again").click()

    expect(told).to_have_count(1)
    seen.faults[:] = [each for each in seen.faults if "404" not in each]
