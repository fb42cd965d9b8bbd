"""Search and sources in a real browser, on a small archive."""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Page, expect
from web.browsing import Served, serving
from web.small_archives import a_small_archive


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The real server on a small archive."""
    with serving(a_small_archive(tmp_path_factory.mktemp("small"))) as server:
        yield server


def test_somebody_asks_and_goes_by_the_strip_to_the_words_on_the_page(page: Page) -> None:
    page.goto("/")
    page.get_by_label("Look for words, numbers, names").fill("bracket")
    page.keyboard.press("Enter")

    strip = page.get_by_role("link", name="The place on page 1 of A drawing")
    expect(strip.locator("img")).to_have_js_property("naturalWidth", 400)
    strip.click()

    expect(page.get_by_role("heading", level=1)).to_have_text("A drawing, page 1")
    expect(page.locator(".read mark")).to_have_text("Bracket")
    expect(page.locator("figure.zoom")).to_have_attribute("data-view", re.compile(r"\d"))
    mark, picture = page.locator(".zoom-layer rect").bounding_box(), page.locator(".zoom-whole").bounding_box()
    assert mark is not None
    assert picture is not None
    # it stands from 10 to 30 % of the page, as it was read
    assert (mark["x"] - picture["x"]) / picture["width"] == pytest.approx(0.10, abs=0.01)
    assert mark["width"] / picture["width"] == pytest.approx(0.20, abs=0.01)


def test_the_text_over_the_picture_can_be_selected(page: Page) -> None:
    page.goto("/sources/drawing/pages/1")
    page.get_by_role("button", name="Select text").click()
    page.locator(".zoom-layer text").first.dblclick()

    assert page.evaluate("getSelection().toString().trim()") == "Bracket"


def test_a_time_beside_what_is_said_sets_the_player_to_it(page: Page) -> None:
    page.goto("/sources/tape")
    page.wait_for_function("() => document.querySelector('audio').readyState > 0")

    page.get_by_role("link", name="00:00:01.000").click()

    page.wait_for_function("() => document.querySelector('audio').currentTime >= 1")
    assert page.url.endswith("/sources/tape")


def test_sources_are_narrowed_and_widened_again_by_the_keyboard(page: Page) -> None:
    page.goto("/sources")
    page.get_by_role("link", name="drawings").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("status")).to_contain_text("1 source, narrowed")

    page.get_by_role("link", name="leave this out").focus()
    page.keyboard.press("Enter")

    expect(page.get_by_role("status")).to_contain_text("4 sources")
