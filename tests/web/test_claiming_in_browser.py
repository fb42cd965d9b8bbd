"""A claim from a page in a real browser: by pointer, by keys alone, and kept while it is typed."""

from collections.abc import Iterator
from typing import Any

import pytest
import yaml
from playwright.sync_api import Browser, Page, Route, expect
from web.browsing import Seen, Served, barriers, looked_at, overhang, serving
from web.claiming_archive import a_claiming_archive

PAGE = "/sources/drawing/pages/1/claim"


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with serving(a_claiming_archive(tmp_path_factory.mktemp("claiming"))) as served:
        yield served


@pytest.fixture
def page(chromium: Browser, server: Served, seen: Seen) -> Iterator[Page]:
    with looked_at(chromium, server, seen) as opened:
        yield opened


def claim(server: Served, name: str) -> dict[str, Any]:
    record: dict[str, Any] = yaml.safe_load((server.folder / "claims" / f"{name}.yaml").read_text(encoding="utf-8"))
    return record


def draw(page: Page, start: tuple[float, float], end: tuple[float, float]) -> None:
    """Draw a region with the mouse, from a point of the page in hundredths to another."""
    frame = page.locator(".region-sheet").bounding_box()
    assert frame is not None
    points = [(frame["x"] + frame["width"] * x / 100, frame["y"] + frame["height"] * y / 100) for x, y in (start, end)]
    page.mouse.move(*points[0])
    page.mouse.down()
    page.mouse.move(*points[1], steps=2)
    page.mouse.up()


def test_a_claim_is_drawn_chosen_looked_at_and_written_with_the_mouse(page: Page, server: Served) -> None:
    page.goto(PAGE)
    draw(page, (8, 7), (46, 18))
    expect(page.get_by_label("Quotation")).to_have_value("Bracket H-204")

    page.get_by_label("The feature").fill("Headlamp: Kind of lamp")
    page.get_by_role("radio", name="electric lamp").check()
    page.get_by_label("What it covers").select_option("all")
    told = page.get_by_role("heading", name="What this would change")
    expect(told).to_be_visible()
    expect(page.locator("#tried")).to_contain_text("contested")
    page.get_by_label("Who writes").select_option("mh")
    page.get_by_role("button", name="Write it down").click()

    expect(page.locator("#written")).to_contain_text("claims/headlamp-kind-electric.yaml")
    expect(page.locator("rect.asked")).to_have_count(1)
    (item,) = claim(server, "headlamp-kind-electric")["evidence"]
    assert item["quote"] == "Bracket H-204"
    assert item["at"]["region"].startswith("percent:")
    page.get_by_role("link", name="Enter the next thing it says").click()
    expect(page.get_by_label("What it covers")).to_have_value("all")
    expect(page.locator(".claimed")).to_contain_text("electric lamp")
    expect(page.get_by_label("The feature")).to_have_value("")  # what was typed is written, and no draft any more


def test_a_claim_is_made_by_keys_alone(page: Page, server: Served) -> None:
    page.goto(PAGE)
    keys = page.keyboard
    page.locator("body").press("Tab")
    reach(page, ".region-sheet")
    keys.press("Enter")
    for _ in range(6):
        keys.press("Shift+ArrowUp")
    reach(page, "[name=feature]")
    keys.type("bracket/height")
    reach(page, "[name=value]")
    keys.type("3 ft 4 1/2 in")
    reach(page, "[name=applies-to]")
    keys.type("all")
    expect(page.locator(".understood")).to_contain_text("that is 1028.7 mm, give or take 0.4 mm")
    reach(page, "[name=by]")
    keys.press("ArrowDown")
    reach(page, ".send button")
    keys.press("Enter")

    expect(page.locator("#written")).to_be_visible()
    (item,) = claim(server, "bracket-height-3-ft-4-1-2-in")["evidence"]
    assert item["at"] == {"page": 1, "region": "percent:35,40,30,14"}


def reach(page: Page, selector: str) -> None:
    """Go on with the Tab key until something is reached."""
    for _ in range(60):
        if page.evaluate("selector => document.activeElement.matches(selector)", selector):
            return
        page.keyboard.press("Tab")
    pytest.fail(f"the Tab key does not reach {selector}")


def test_what_was_typed_stands_there_again_after_a_reload(page: Page) -> None:
    page.goto(PAGE)
    draw(page, (8, 38), (40, 48))
    expect(page.get_by_label("Quotation")).to_have_value("above rail")
    page.get_by_label("The feature").fill("headlamp/hood")
    page.get_by_role("radio", name="absent").check()

    page.reload()

    expect(page.get_by_role("radio", name="absent")).to_be_checked()
    expect(page.get_by_label("Quotation")).to_have_value("above rail")
    expect(page.locator(".region-box")).to_be_visible()


def test_what_is_typed_while_an_answer_is_on_its_way_stays(page: Page) -> None:
    held: list[Route] = []
    page.route("**/claim/asked", lambda route: held.append(route))  # noqa: PLW0108  playwright takes no built-in
    page.goto(PAGE)
    with page.expect_request("**/claim/asked"):
        page.get_by_label("The feature").fill("bracket/steel")
    page.get_by_label("The value").focus()
    page.keyboard.type("mild ")

    with page.expect_response("**/claim/asked"):
        held[0].continue_()
    expect(page.locator("#asked")).to_have_attribute("data-feature", "bracket/steel")
    page.keyboard.type("steel")

    expect(page.get_by_label("The value")).to_have_value("mild steel")


def test_words_that_somebody_typed_are_not_replaced_by_those_under_a_region(page: Page) -> None:
    page.goto(PAGE)
    page.get_by_label("Quotation").fill("H-204, the bracket")

    with page.expect_response("**/claim/tried"):
        draw(page, (8, 7), (46, 18))
    expect(page.get_by_label("Quotation")).to_have_value("H-204, the bracket")

    page.get_by_role("button", name="Take the words under the region").click()
    expect(page.get_by_label("Quotation")).to_have_value("Bracket H-204")


def test_a_figure_that_can_be_two_is_refused_while_it_is_typed_and_what_makes_no_sense_is_not_asked(page: Page) -> None:
    page.goto(PAGE)
    page.get_by_label("The feature").fill("bracket/height")
    page.get_by_label("The value").fill("16 gauge")

    expect(page.locator(".not-yet")).to_contain_text("16 SWG")
    expect(page.get_by_label("Give or take")).to_be_visible()
    page.get_by_label("The feature").fill("headlamp/kind")
    expect(page.get_by_role("radio", name="electric lamp")).to_be_visible()
    expect(page.get_by_label("Give or take")).to_have_count(0)


def test_the_player_says_when_a_passage_begins_and_ends(page: Page) -> None:
    page.goto("/sources/tape/claim")
    player = page.locator("audio")
    expect(player).to_have_js_property("readyState", 4)
    page.get_by_role("button", name="It begins here").click()
    player.evaluate("each => { each.currentTime = 1.5; }")
    expect(player).to_have_js_property("seeking", value=False)
    page.get_by_role("button", name="It ends here").click()

    expect(page.get_by_label("When it is said")).to_have_value("00:00:00/00:00:01.5")


def test_without_a_script_a_claim_is_looked_at_and_written(chromium: Browser, server: Served, seen: Seen) -> None:
    with looked_at(chromium, server, seen, java_script_enabled=False) as page:
        page.goto(PAGE)
        page.get_by_label("The feature").fill("headlamp/hood")
        page.get_by_role("button", name="Show what can be said of it").click()
        page.get_by_role("radio", name="present").check()
        for label, figure in {"% from the left": "8", "% from the top": "7", "% wide": "40", "% high": "11"}.items():
            page.get_by_label(label).fill(figure)
        page.get_by_role("button", name="Take the words under the region").click()
        expect(page.get_by_label("Quotation")).to_have_value("Bracket H-204")
        page.get_by_label("What it covers").select_option("9")
        page.get_by_role("button", name="See what it changes").click()
        expect(page.get_by_role("heading", name="What this would change")).to_be_visible()
        page.get_by_label("Who writes").select_option("mh")
        page.get_by_role("button", name="Write it down").click()
        expect(page.locator("#written")).to_be_visible()

    (item,) = claim(server, "headlamp-hood-present")["evidence"]
    assert item["at"] == {"page": 1, "region": "percent:8,7,40,11"}


@pytest.mark.long
def test_it_can_be_used_on_a_telephone_and_has_no_barrier_that_a_program_can_see(
    chromium: Browser, server: Served, seen: Seen
) -> None:
    with looked_at(chromium, server, seen, viewport={"width": 360, "height": 740}) as page:
        for address in (f"{PAGE}?feature=headlamp/kind", "/claim?feature=headlamp/kind", "/sources/sight/claim"):
            page.goto(address)
            assert overhang(page) <= 0
            assert barriers(page) == []
