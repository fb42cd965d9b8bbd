"""What people come to the pages for, done in a real browser on the sample archive, from the first click to the last."""

import io
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytesseract
import pytest
import yaml
from PIL import Image
from playwright.sync_api import Locator, Page, expect
from web.browsing import Served, serving
from web.sample_at_work import a_sample_at_work

LAMP = "/fittings/headlamp/illuminant"
PHOTOGRAPH = "No. 9 at Carrowsea, from the leading end"


pytestmark = pytest.mark.long  # most of a minute; the kinds of pages are opened in the short run too


@pytest.fixture(scope="module")
def served(prepared: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The real server on the sample, with what a team enters beside it."""
    with serving(a_sample_at_work(prepared, tmp_path_factory.mktemp("at-work"))) as server:
        yield server


def records(served: Served, kind: str) -> dict[str, dict[str, Any]]:
    """The records of a kind as they lie on the disk, by id."""
    files = (served.folder / kind).glob("*.yaml")
    return {file.stem: yaml.load(file.read_text("utf-8"), yaml.BaseLoader) for file in files}


def see(picture: Locator) -> None:
    """Wait until a picture is there, and more than an empty frame."""
    picture.scroll_into_view_if_needed()
    expect(picture).not_to_have_js_property("naturalWidth", 0)


def part_of(inner: Locator, outer: Locator) -> tuple[float, float, float, float]:
    """Where the one stands on the other, in hundredths: from the left, from the top, wide, high."""
    one, all_of_it = inner.bounding_box(), outer.bounding_box()
    assert one is not None
    assert all_of_it is not None
    across, down = all_of_it["width"] / 100, all_of_it["height"] / 100
    corner = (one["x"] - all_of_it["x"]) / across, (one["y"] - all_of_it["y"]) / down
    return *corner, one["width"] / across, one["height"] / down


def the_window(page: Page) -> Locator:
    """The window onto a page of a source, once all of it is there that is to be seen."""
    expect(page.locator('figure.zoom[data-sharp]:not([data-sharp=""])')).to_be_visible()
    return page.locator(".zoom-window")


def heading(page: Page) -> Locator:
    """What the page calls itself."""
    return page.get_by_role("heading", level=1)


def test_somebody_new_sees_how_the_archive_stands_and_asks_from_the_first_page(page: Page, served: Served) -> None:
    features = [each for part in records(served, "components").values() for each in part.get("features", ())]
    doubts = [query for query in records(served, "queries").values() if query["state"] == "open"]
    finds = [source["title"] for source in records(served, "sources").values() if source.get("state") == "untagged"]
    page.goto("/")

    counted = [int(re.sub(r"\D.*", "", each)) for each in page.locator(".legend a").all_text_contents()]
    assert sum(counted) == len(features)
    for told in (*(query["grounds"] for query in doubts), *finds):
        expect(page.get_by_role("main")).to_contain_text(str(told))
    expect(page.get_by_role("main")).to_contain_text(f"{len(doubts)} queries are open")
    page.locator(".legend").get_by_role("link", name="1 contested").click()
    expect(page.get_by_role("main").get_by_role("link", name="Form of the coupling")).to_be_visible()
    page.go_back()
    page.get_by_label("Look for words, numbers, names").fill("carbide")
    page.keyboard.press("Enter")

    expect(page.get_by_role("status").first).to_contain_text("for “carbide”")
    assert {each.casefold().strip(".,") for each in page.locator(".hits mark").all_text_contents()} == {"carbide"}


def test_a_researcher_narrows_a_search_and_goes_by_the_strip_to_the_words_on_the_page(
    page: Page, served: Served
) -> None:
    page.goto("/search?q=headstock")
    before = page.locator(".hits > ol > li").count()

    page.get_by_role("navigation", name="Narrow it").get_by_role("link", name="drawings").click()
    expect(page.get_by_role("status").first).to_contain_text("narrowed")
    assert 0 < page.locator(".hits > ol > li").count() < before
    strip = page.get_by_role("link", name="The place on page 1 of Drawing 30921 issue C").first
    see(strip.locator("img"))
    assert strip.locator("rect").count() >= 1
    strip.click()

    expect(heading(page)).to_contain_text("Drawing 30921 issue C")
    expect(page.locator(".read mark").first).to_have_text(re.compile("headstock", re.IGNORECASE))
    framed = part_of(the_window(page).locator(".found-here").first, page.locator(".zoom-window > svg"))
    assert "HEADSTOCK" in words_at(served.folder / "originals/drawing-30921-c/30921-C.png", framed)


def words_at(original: Path, part: tuple[float, float, float, float]) -> str:
    """What a recogniser reads on a part of a picture, given in hundredths, and a little around it."""
    with Image.open(original) as picture:
        left, top, wide, high = part
        across, down = picture.width / 100, picture.height / 100
        corner = round((left - 0.5) * across), round((top - 0.5) * down)
        cut = picture.convert("L").crop(
            (*corner, round((left + wide + 0.5) * across), round((top + high + 0.5) * down))
        )
    text: str = pytesseract.image_to_string(cut, config="--psm 7")
    return text


def test_a_researcher_looks_closely_at_a_drawing_and_takes_words_from_it(page: Page) -> None:
    page.goto("/sources/drawing-30921-b")
    page.get_by_role("main").get_by_role("link", name="Page 1").click()
    page.get_by_role("button", name="Select text").click()
    word = the_window(page).locator("svg text", has_text="BRACKET").first
    word.dblclick()
    assert page.evaluate("getSelection().toString()").strip(" ,") == "BRACKET"
    page.locator(".zoom-window").focus()
    for _ in range(4):
        page.keyboard.press("+")
    expect(page.locator('figure.zoom[data-sharp="1"]')).to_be_visible()
    assert page.locator(".zoom-tile:visible").count() > 0

    doubtful = page.locator(".read .doubt")
    expect(page.get_by_role("main")).to_contain_text(f"{doubtful.count()} words are doubtful")
    assert page.locator(".zoom-window line.doubt").count() == doubtful.count() > 0


def test_a_researcher_hears_a_recording_beside_what_was_written_down_of_it(page: Page) -> None:
    page.goto("/sources/oral-marrowby-1969")
    player = page.locator("audio")
    expect(player).to_have_js_property("duration", 2)
    said = page.locator(".cues li", has_text="I sold the tickets at Carrowsea.")

    said.get_by_role("link").click()

    page.wait_for_function("() => document.querySelector('audio').currentTime >= 1")
    assert page.url.endswith("/sources/oral-marrowby-1969")
    player.evaluate("each => each.play()")
    expect(said).to_have_class(re.compile(r"\bnow\b"))


def test_a_curator_sees_what_a_source_goes_back_to_what_may_be_done_with_it_and_what_rests_on_it(page: Page) -> None:
    page.goto("/sources/album-starrick")
    expect(page.get_by_role("main")).to_contain_text("belongs to the owner of the album")
    page.goto("/sources")
    page.get_by_role("link", name=PHOTOGRAPH, exact=True).click()
    main = page.get_by_role("main")

    see(main.get_by_role("img", name=re.compile("Descent of")))
    expect(main).to_contain_text("a print of it: “Second print of No. 9 at Carrowsea”")
    expect(main).to_contain_text("permission from his granddaughter, 15 January 2018")
    expect(main.locator("section", has=page.locator("#resting"))).to_contain_text(
        "Head lamp: What the head lamps burn: claims “electric”"
    )
    main.get_by_role("link", name="Side by side").click()

    expect(heading(page)).to_contain_text("Seen before?")
    expect(heading(page)).to_contain_text("Postcard, The Rail Car at Carrowsea Station")


def test_a_builder_goes_from_a_part_to_the_cut_out_and_from_there_to_its_place_on_the_page(page: Page) -> None:
    page.goto("/fittings")
    page.get_by_role("link", name="What the head lamps burn").first.click()
    expect(heading(page)).to_have_text("Head lamp: What the head lamps burn")
    main = page.get_by_role("main")
    expect(main.get_by_role("heading", name="“acetylene”")).to_be_visible()
    expect(main).to_contain_text("R9-104 issue A")
    for drawing in main.locator("figure.drawn img").all():
        see(drawing)

    cut = main.locator("figure.cut a").first
    see(cut.locator("img"))
    cut.click()

    expect(heading(page)).to_contain_text(PHOTOGRAPH)
    # The claim names this region of the page, in hundredths of its width and height.
    outlined = part_of(the_window(page).locator(".asked"), page.locator(".zoom-window > svg"))
    assert outlined == pytest.approx((71, 58, 20.5, 16.5), abs=1)
    page.go_back()
    main.locator("figure.cut a", has=page.get_by_role("img", name=re.compile("will have electric"))).click()
    expect(heading(page)).to_contain_text("Orrinshaw & Tebb to the Superintendent")
    outline = the_window(page).locator(".asked")
    outline.scroll_into_view_if_needed()
    assert "electric head lamps" in read_aloud(page, outline)


def test_a_lead_asks_by_the_keyboard_what_would_stand_without_a_source_and_sees_what_was_made(page: Page) -> None:
    page.goto(LAMP)

    page.get_by_label(PHOTOGRAPH).focus()
    page.keyboard.press("Space")
    page.get_by_role("button", name="Judge").focus()
    page.keyboard.press("Enter")

    # As the terminal says of this lamp: without that picture it would be probable.
    expect(page).to_have_url(re.compile(r"\?without=photo-no9-carrowsea-1934#what-if$"))
    expect(page.locator('[data-without="grade"]')).to_have_text("probable")
    page.goto("/fittings/end-window/opening")
    main = page.get_by_role("main")
    assert main.locator("figure.drawn img").count() == 3
    expect(main).to_contain_text("A glass cut to the fitters' report of 1934 does not go into the rebates.")
    see(main.get_by_role("img", name="What was made, piece 1"))


def test_a_lead_sees_where_evidence_is_thin_and_what_to_do_about_it(page: Page) -> None:
    page.goto("/machine")
    told = page.locator("#told")
    page.get_by_role("link", name="Past the picture").focus()
    page.keyboard.press("Tab")  # the region that scrolls
    page.keyboard.press("Tab")  # the first cell
    first = told.text_content() or ""
    page.keyboard.press("ArrowDown")
    expect(told).not_to_have_text(first)
    page.get_by_role("navigation", name="Ways to show the machine").get_by_role("link", name="date needed").click()
    expect(page.locator("svg.machine")).to_contain_text("needed by March 2027")
    page.locator("svg.machine a[href='/fittings/coupling/form']").click()
    expect(heading(page)).to_have_text("Coupling: Form of the coupling")

    page.get_by_role("link", name="Flags", exact=True).click()
    page.get_by_label("Level").select_option("stop")
    page.get_by_role("button", name="Show").click()
    page.get_by_role("link", name="Needed by").click()
    expect(page.get_by_role("columnheader", name="Needed by")).to_have_attribute("aria-sort", "ascending")
    assert {each.strip() for each in page.locator("tbody td:first-child").all_text_contents()} == {"stop"}

    page.get_by_role("link", name="What to look for", exact=True).click()
    page.get_by_label("Money to spend").fill("50")
    page.get_by_label("put together").check()
    page.get_by_role("button", name="Reckon").click()
    # Of the three leads the film of the works' drawings costs 45, the account books 15, the returns nothing.
    within = page.get_by_role("heading", name="Within 50").locator("xpath=following-sibling::ul[1]")
    expect(within).to_contain_text("Microfilm of the works' drawings")
    expect(within).not_to_contain_text("Account books")


def test_a_researcher_lays_a_likely_copy_on_its_original_and_lets_it_blink(page: Page) -> None:
    page.goto("/copies")
    page.get_by_role("link", name=re.compile(f"^{PHOTOGRAPH} and Postcard")).click()
    for name in ("Page 1 of No. 9 at Carrowsea", "Page 1 of Postcard"):
        see(page.get_by_role("img", name=re.compile(f"^{name}.*with what both have in common outlined")))
    part = page.locator("section.laid")
    expect(part).to_be_visible()
    over, stage = part.locator(".over"), part.locator(".stage")

    stage.focus()
    page.keyboard.press(" ")
    expect(part.get_by_role("status")).to_have_text("A is seen.")
    under = pixels(stage)
    part.get_by_label("How much of B").fill("100")
    expect(over).to_have_css("opacity", "1")
    laid = pixels(stage)
    assert np.abs(under - laid).max() > 0
    assert np.corrcoef(under.ravel(), laid.ravel())[0, 1] > 0.8  # what is laid on it fits it
    blink = part.get_by_role("button", name="Blink")
    blink.click()
    for state in ("0", "1"):  # looked at in every frame: who looks once a second may see the same one for ever
        page.wait_for_function(
            f"() => getComputedStyle(document.querySelector('section.laid .over')).opacity === '{state}'"
        )
    blink.click()

    expect(blink).to_have_attribute("aria-pressed", "false")


def pixels(seen: Locator) -> "np.ndarray[tuple[int, ...], np.dtype[np.float64]]":
    """What is seen in the middle of a part of the page, in greys, its fine grain smoothed away."""
    with Image.open(io.BytesIO(seen.screenshot())) as picture:
        wide, high = picture.size
        middle = picture.convert("L").crop((wide // 3, high // 3, 2 * wide // 3, 2 * high // 3))
        return np.asarray(middle.resize((40, 30)), dtype=np.float64)


def read_aloud(page: Page, part: Locator) -> str:
    """What a recogniser reads on a part of the page as it is seen."""
    clip = part.bounding_box()
    assert clip is not None
    with Image.open(io.BytesIO(page.screenshot(clip=clip))) as picture:
        text: str = pytesseract.image_to_string(picture.resize((picture.width * 2, picture.height * 2)))
    return " ".join(text.split())


ZIP = b"PK\x03\x04"
DRAFTS = {"one page of HTML": b"<!DOCTYPE html>", "PDF": b"%PDF-", "DOCX": ZIP, "Markdown": b"*DRAFT, not for display"}
REGISTERS = {"one page of HTML": b"<!DOCTYPE html>", "PDF": b"%PDF-", "CSV": b"\xef\xbb\xbf", "XLSX": ZIP}
"""What stands first in a file of each format; of PDF in ISO 32000-1, section 7.5.2, of ZIP in its note, 4.3.7."""


def test_a_curator_sees_what_stops_a_panel_and_takes_drafts_away_in_every_format(page: Page, tmp_path: Path) -> None:
    page.goto("/panels")
    page.get_by_role("link", name="How the roof of No. 9 was aired").click()
    stops = page.get_by_role("heading", name="What still stops it").locator("xpath=following-sibling::ul[1]")
    expect(stops).to_contain_text("Rail Car Nine Group")
    page.get_by_role("link", name="Panels", exact=True).click()
    page.get_by_role("link", name="No. 9 as it ran in 1934").click()
    expect(page.locator(".preview")).to_contain_text("What each statement rests on")

    got = {name: taken(page, page.get_by_role("link", name=f"The draft as {name}"), tmp_path) for name in DRAFTS}
    page.goto(LAMP)
    page.get_by_label("For whom").select_option("the workshop")
    dossier = taken(page, page.get_by_role("button", name="PDF"), tmp_path)

    assert {name: data[: len(DRAFTS[name])] for name, data in got.items()} == DRAFTS
    assert dossier.startswith(b"%PDF-")


@pytest.mark.long
def test_a_curator_takes_the_registers_away_in_every_format(page: Page, tmp_path: Path) -> None:
    page.goto("/panels")

    links = page.get_by_role("heading", name="All sources").locator("xpath=following-sibling::ul[1]")
    got = {
        name: taken(page, links.get_by_role("link", name=re.compile(f"^{name}.*marked as a draft")), tmp_path)
        for name in REGISTERS
    }

    assert {name: data[: len(REGISTERS[name])] for name, data in got.items()} == REGISTERS


def taken(page: Page, pressed: Locator, folder: Path) -> bytes:
    """The file that comes down when something is pressed."""
    with page.expect_download() as told:
        pressed.click()
    told.value.save_as(folder / "taken")
    return (folder / "taken").read_bytes()
