"""Correcting a reading in a real browser: by the keyboard alone, with the word at the cursor framed on the page."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect
from web.browsing import Seen, Served, barriers, looked_at, overhang, serving
from web.small_archives import a_small_archive

PAGE = "/sources/drawing/pages/1/correct"


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    """The real server on a small archive."""
    with serving(a_small_archive(tmp_path)) as server:
        yield server


def kept(served: Served) -> str:
    return (served.folder / "transcripts" / "drawing" / "p0001.txt").read_text(encoding="utf-8")


def test_a_reading_is_corrected_by_the_keyboard_and_survives_a_reload(page: Page, served: Served) -> None:
    page.goto(PAGE)
    assert barriers(page) == []
    first, second = page.get_by_label("Line 1"), page.get_by_label("Line 2")

    first.focus()
    page.keyboard.press("Home")
    framed = page.locator(".correcting rect")
    expect(framed).to_have_attribute("x", "100")  # the word stands from 10 % across
    page.keyboard.press("Alt+ArrowDown")
    assert page.evaluate("document.activeElement.value.slice(document.activeElement.selectionStart)") == "H-204"
    expect(framed).to_have_attribute("x", "320")
    page.keyboard.type("H-205")
    page.keyboard.press("Enter")
    expect(second).to_be_focused()
    page.keyboard.press("End")
    page.keyboard.type(", thrice")
    page.reload()

    expect(page.get_by_text("What you typed here before stands here again.")).to_be_visible()
    expect(page.get_by_label("Line 1")).to_have_value("Bracket H-205")
    page.get_by_label("Who writes").select_option("mh")
    page.get_by_role("button", name="Keep this reading").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#written")).to_contain_text("transcripts/drawing/p0001.txt")
    assert kept(served).endswith("\n\nBracket H-205\nabove rail, thrice\n")
    page.goto(PAGE)
    expect(page.get_by_label("Line 2")).to_have_value("above rail, thrice")
    assert page.get_by_text("What you typed here before").count() == 0


def test_without_a_script_the_lines_are_corrected_all_the_same(chromium: Browser, served: Served, seen: Seen) -> None:
    with looked_at(chromium, served, seen, java_script_enabled=False, viewport={"width": 360, "height": 740}) as page:
        page.goto(PAGE)
        page.get_by_label("Line 2").fill("above the rail")
        page.get_by_label("Who writes").select_option("mh")
        page.get_by_role("button", name="Keep this reading").click()

        expect(page.locator("#written")).to_be_visible()
    assert kept(served).endswith("\n\nBracket H-204\nabove the rail\n")


def test_the_page_fits_a_telephone(page: Page) -> None:
    page.set_viewport_size({"width": 360, "height": 740})

    page.goto(PAGE)

    assert overhang(page) <= 0
