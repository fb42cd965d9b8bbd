"""The picture of the machine in a real browser: by keyboard and pointer, with and without scripts, in any window."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect
from web.browsing import Seen, Served, looked_at

AXE = Axe()
_RULES = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}


def barriers(page: Page) -> list[str]:
    found = AXE.run(page, options=_RULES)
    return [f"{each['id']}: {node['html']}" for each in found.response["violations"] for node in each["nodes"]]


@pytest.mark.parametrize("address", ["/machine", "/flags", "/next?money=250&by=holder"])
def test_a_page_has_no_barrier_that_a_program_can_see_and_needs_no_scrolling_sideways(page: Page, address: str) -> None:
    page.goto(address)

    assert barriers(page) == []
    for width in (360, 2560):
        page.set_viewport_size({"width": width, "height": 800})
        assert page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth") <= 0


@pytest.mark.parametrize("scheme", ["dark", "light"])
def test_the_picture_takes_its_ink_from_light_and_dark(
    chromium: Browser, served: Served, seen: Seen, scheme: str
) -> None:
    with looked_at(chromium, served, seen, color_scheme=scheme) as page:
        page.goto("/machine")
        shades = page.evaluate(
            "['svg.machine text', '.plate', 'body'].map(each => {"
            "const style = getComputedStyle(document.querySelector(each));"
            "return each === 'body' ? style.color : style.fill; })"
        )
        lightness = [sum(int(part) for part in shade[4:-1].split(",")) / 3 for shade in shades]

        assert shades[0] == shades[2]
        assert (lightness[0] > 150, lightness[1] > 150) == ((True, False) if scheme == "dark" else (False, True))
        assert barriers(page) == []


def test_the_arrow_keys_go_from_cell_to_cell_and_what_each_is_stands_below(page: Page) -> None:
    page.goto("/machine")
    told = page.locator("#told")
    page.get_by_role("link", name="Past the picture").focus()

    page.keyboard.press("Tab")  # the region that scrolls
    page.keyboard.press("Tab")  # the first cell
    first = told.text_content() or ""
    page.keyboard.press("ArrowDown")

    assert first
    expect(told).not_to_have_text(first)
    second = page.evaluate("document.activeElement.querySelector('title').textContent")
    assert told.text_content() == second
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.closest('svg')") is None


def test_a_cell_leads_to_its_feature(page: Page) -> None:
    page.goto("/machine")

    with page.expect_navigation():
        page.locator("svg.machine a[href='/fittings/coupling/form']").click()

    assert page.url.endswith("/fittings/coupling/form")


def test_without_scripts_every_cell_is_a_link_and_nothing_is_missing(
    chromium: Browser, served: Served, seen: Seen
) -> None:
    with looked_at(chromium, served, seen, java_script_enabled=False) as page:
        page.goto("/machine?by=needed")

        assert page.locator("#told").is_hidden()
        assert page.locator("svg.machine a").count() >= 42
        assert page.locator("svg.machine a[tabindex]").count() == 0


def test_flags_are_narrowed_and_put_in_order_by_what_stands_on_the_page(page: Page) -> None:
    page.goto("/flags")

    page.get_by_label("Level").select_option("stop")
    page.get_by_role("button", name="Show").click()
    page.get_by_role("link", name="Needed by").click()

    assert "level=stop" in page.url
    assert "sort=needed" in page.url
    levels = page.locator("tbody td:first-child").all_text_contents()
    assert levels
    assert {each.strip() for each in levels} == {"stop"}


def test_money_is_reckoned_with_from_the_form(page: Page) -> None:
    page.goto("/next")

    page.get_by_label("Money to spend").fill("250")
    page.get_by_label("put together").check()
    page.get_by_role("button", name="Reckon").click()

    expect(page.get_by_role("heading", name="Within 250")).to_be_visible()
    expect(page.get_by_role("heading", name="Visits")).to_be_visible()
