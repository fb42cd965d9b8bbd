"""What a builder and a curator do in a real browser, on the sample archive."""

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect
from web.test_browser import barriers, overhang

LAMP = "/fittings/headlamp/illuminant"


@pytest.mark.parametrize("address", ["/fittings", "/fittings/headlamp", LAMP, "/panels", "/panels/no-9-in-1934"])
def test_a_page_has_no_barrier_that_a_program_can_see_and_fits_a_telephone(address: str, page: Page) -> None:
    page.set_viewport_size({"width": 360, "height": 700})

    page.goto(address)

    assert barriers(page) == []
    assert overhang(page) <= 0


def test_a_builder_goes_from_the_part_to_the_cut_out_and_from_there_to_its_page(page: Page) -> None:
    page.goto("/fittings")
    page.get_by_role("link", name="What the head lamps burn").first.click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Head lamp: What the head lamps burn")

    cut = page.locator("figure.cut a").first
    expect(cut.locator("img")).not_to_have_js_property("naturalWidth", 0)
    cut.click()

    expect(page.get_by_role("heading", level=1)).to_contain_text("No. 9 at Carrowsea")
    assert "/sources/photo-no9-carrowsea-1934/pages/1" in page.url


def test_a_lead_asks_by_the_keyboard_what_would_stand_without_a_source(page: Page) -> None:
    page.goto(LAMP)

    page.get_by_label("No. 9 at Carrowsea, from the leading end").focus()
    page.keyboard.press("Space")
    page.get_by_role("button", name="Judge").focus()
    page.keyboard.press("Enter")

    # As the terminal says of this lamp: without that picture it would be probable.
    expect(page).to_have_url(page.url.split("/fittings")[0] + f"{LAMP}?without=photo-no9-carrowsea-1934#what-if")
    expect(page.locator("section", has=page.locator("#what-if"))).to_contain_text("probable")


def test_a_builder_takes_the_dossier_away_as_a_file(page: Page, tmp_path: Path) -> None:
    page.goto(LAMP)

    page.get_by_label("For whom").select_option("the workshop")
    with page.expect_download() as told:
        page.get_by_role("button", name="PDF").click()
    told.value.save_as(tmp_path / "lamp.pdf")

    assert (tmp_path / "lamp.pdf").read_bytes().startswith(b"%PDF-")


def test_a_curator_sees_what_the_appendix_says_and_takes_a_draft_away(page: Page, tmp_path: Path) -> None:
    page.goto("/panels")
    page.get_by_role("link", name="No. 9 as it ran in 1934").first.click()
    expect(page.get_by_role("heading", level=1)).to_have_text("No. 9 as it ran in 1934")
    expect(page.locator("main")).to_contain_text("What each statement rests on")

    with page.expect_download() as told:
        page.get_by_role("link", name="The draft as PDF").click()
    told.value.save_as(tmp_path / "draft.pdf")

    assert (tmp_path / "draft.pdf").read_bytes().startswith(b"%PDF-")
