"""Deciding, making, ruling and withdrawing in a real browser: by keyboard alone, by pointer, and without script."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Browser, Locator, Page, expect
from web.browsing import Seen, Served, barriers, looked_at, overhang, serving
from web.deciding_archives import ACETYLENE, ELECTRIC, HEIGHT, KIND, PAIR, an_archive_to_decide_in

from provenance.records.archive import Archive
from provenance.records.kinds import Ruling
from provenance.tasks.opening import open_folder


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    """The real server on a small archive of its own."""
    with serving(an_archive_to_decide_in(tmp_path)) as server:
        yield server


def records(served: Served) -> Archive:
    return open_folder(served.folder).archive


def by_tab(page: Page, goal: Locator) -> None:
    """Go to something as somebody does who has no pointer."""
    for _ in range(80):
        if goal.evaluate("each => each === document.activeElement"):
            return
        page.keyboard.press("Tab")
    pytest.fail(f"the tab key never comes to {goal}")


def sign(page: Page) -> None:
    """Choose who writes, by the keyboard."""
    by_tab(page, page.get_by_label("Who writes"))
    page.keyboard.type("M. Hollin")


def written(page: Page) -> Locator:
    return page.locator("#written")


def test_a_fitting_is_decided_and_made_by_the_keyboard_alone(page: Page, served: Served) -> None:
    page.goto(f"/fittings/{KIND}")
    by_tab(page, page.get_by_role("link", name="Decide what to build"))
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Decide what to build")
    assert barriers(page) == []

    electric = page.get_by_role("radio", name="electric lamp")
    by_tab(page, electric)
    page.keyboard.press("ArrowDown")
    expect(page.get_by_role("radio", name="acetylene lamp")).to_be_checked()
    expect(page.locator(f'input[value="{ACETYLENE}"]')).to_be_checked()
    expect(page.locator(f'input[value="{ELECTRIC}"]')).not_to_be_checked()
    by_tab(page, page.get_by_label("Why", exact=True))
    page.keyboard.type("as the handbook says")
    by_tab(page, page.get_by_role("radio", name="propose it"))
    page.keyboard.press("ArrowRight")
    by_tab(page, page.get_by_role("button", name="See first what is to be said of it"))
    page.keyboard.press("Enter")
    expect(page.get_by_role("status")).to_contain_text("Not written yet.")
    assert records(served).decisions == {}

    sign(page)
    by_tab(page, page.get_by_role("button", name="Write the decision down"))
    page.keyboard.press("Enter")
    expect(written(page)).to_contain_text("decisions/headlamp-kind-acetylene.yaml")
    decision = records(served).decisions["headlamp-kind-acetylene"]
    assert (decision.status, decision.basis, decision.why) == ("released", (ACETYLENE,), "as the handbook says")

    by_tab(page, page.get_by_role("link", name="Write down what was made"))
    page.keyboard.press("Enter")
    by_tab(page, page.get_by_label("As made", exact=True))
    page.keyboard.type("acetylene")
    by_tab(page, page.get_by_role("radio", name="not tried yet"))
    page.keyboard.press("ArrowUp")
    by_tab(page, page.get_by_role("button", name="Write it down"))
    page.keyboard.press("Enter")
    expect(written(page)).to_contain_text("only itself is queried")
    (piece,) = records(served).decisions["headlamp-kind-acetylene"].made
    assert (piece.value, piece.fits) == ("acetylene", "badly")


def test_two_that_look_alike_are_ruled_on_and_an_item_is_withdrawn_by_the_keyboard_alone(
    page: Page, served: Served
) -> None:
    page.goto(f"/copies/{PAIR}")
    assert barriers(page) == []
    by_tab(page, page.get_by_role("radio", name="copies: B was made from A"))
    page.keyboard.press("ArrowUp")
    expect(page.get_by_role("radio", name="no copies")).to_be_checked()
    by_tab(page, page.get_by_role("button", name="See first what it would change"))
    page.keyboard.press("Enter")
    expect(page.get_by_role("status")).to_contain_text("Kind of lamp")
    assert records(served).copies[PAIR].ruling is Ruling.OPEN
    by_tab(page, page.get_by_label("Why", exact=True))
    page.keyboard.type("the driver has moved")
    sign(page)
    by_tab(page, page.get_by_role("button", name="Rule so"))
    page.keyboard.press("Enter")
    expect(written(page)).to_contain_text("“Headlamp: Kind of lamp”: before:")
    assert records(served).copies[PAIR].ruling is Ruling.DISTINCT

    page.goto(f"/withdraw/claims/{ELECTRIC}")
    by_tab(page, page.get_by_role("link", name="withdraw only this one").last)
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_contain_text("item 2")
    assert barriers(page) == []
    by_tab(page, page.get_by_label("Why"))
    page.keyboard.type("a hand lamp")
    by_tab(page, page.get_by_role("button", name="Withdraw it"))
    page.keyboard.press("Enter")
    expect(written(page)).to_contain_text(f"claims/{ELECTRIC}.yaml")
    first, second = records(served).claims[ELECTRIC].evidence
    assert (first.withdrawn, second.withdrawn is not None) == (None, True)


@pytest.mark.long
def test_by_pointer_a_proposal_is_made_released_built_and_photographed(
    page: Page, served: Served, tmp_path: Path
) -> None:
    Image.new("RGB", (60, 40), (20, 90, 40)).save(tmp_path / "bench.png")
    page.goto(f"/fittings/{HEIGHT}/decide")
    page.get_by_label("Something else, as the workshop reads it").fill("40.5 in")
    expect(page.get_by_role("radio", name="something else:")).to_be_checked()
    page.get_by_label("Why", exact=True).fill("Conjecture: between the two.")
    page.get_by_role("button", name="See first what is to be said of it").click()
    expect(page.locator(".read-back")).to_have_text("40.5 in (1028.70 mm)")
    page.get_by_label("Who writes").select_option("mh")
    page.get_by_role("button", name="Write the decision down").click()
    expect(written(page)).to_contain_text("decisions/headlamp-height-40-5-in.yaml")

    page.get_by_role("link", name="Write down what was made").click()
    page.get_by_role("link", name="Look at the proposal").click()
    assert barriers(page) == []
    page.get_by_role("button", name="Release it").click()
    expect(page.get_by_text("In force: 40.5 in (1028.70 mm)")).to_be_visible()
    page.get_by_role("link", name="Write down what was made").click()
    assert barriers(page) == []
    page.get_by_label("As made", exact=True).fill("1029 mm")
    page.get_by_role("radio", name="it fits well").click()
    page.get_by_label("A photograph of it").set_input_files(tmp_path / "bench.png")
    page.get_by_role("button", name="Write it down").click()
    expect(written(page)).to_contain_text("The picture is the source")
    archive = records(served)
    (piece,) = archive.decisions["headlamp-height-40-5-in"].made
    assert (piece.value, piece.fits) == ("1029 mm", "well")
    assert piece.photo in archive.sources


@pytest.mark.long
def test_by_pointer_two_that_look_alike_are_ruled_on_and_a_claim_is_withdrawn(page: Page, served: Served) -> None:
    page.goto(f"/copies/{PAIR}")
    page.get_by_role("radio", name="no copies").click()
    page.get_by_label("Why", exact=True).fill("the driver has moved")
    page.get_by_role("button", name="See first what it would change").click()
    expect(page.get_by_role("status")).to_contain_text("Kind of lamp")
    page.get_by_label("Who writes").select_option("mh")
    page.get_by_role("button", name="Rule so").click()
    expect(written(page)).to_contain_text("“Headlamp: Kind of lamp”: before:")
    assert records(served).copies[PAIR].ruling is Ruling.DISTINCT

    page.goto(f"/withdraw/claims/{ACETYLENE}")
    page.get_by_label("Why").fill("misread")
    page.get_by_role("button", name="Withdraw it").click()
    expect(written(page)).to_contain_text(f"claims/{ACETYLENE}.yaml")
    withdrawn = records(served).claims[ACETYLENE].withdrawn
    assert withdrawn is not None
    assert (withdrawn.why, withdrawn.by) == ("misread", "mh")


@pytest.mark.long
def test_without_a_script_on_a_telephone_all_of_it_is_done(chromium: Browser, served: Served, seen: Seen) -> None:
    window = {"width": 360, "height": 740}
    with looked_at(chromium, served, seen, java_script_enabled=False, viewport=window, color_scheme="dark") as page:
        page.goto(f"/fittings/{KIND}/decide?build=acetylene")
        assert page.locator('input[name="basis"]:checked').get_attribute("value") == ACETYLENE
        page.get_by_label("is set aside, because").first.fill("a later hoax")
        page.get_by_label("Why", exact=True).fill("as the handbook says")
        page.get_by_label("release it for building").check()
        page.get_by_label("Who writes").select_option("mh")
        page.get_by_role("button", name="Write the decision down").click()
        expect(written(page)).to_contain_text("decisions/headlamp-kind-acetylene.yaml")
        (aside,) = records(served).decisions["headlamp-kind-acetylene"].set_aside
        assert (aside.claim, aside.why) == (ELECTRIC, "a later hoax")
        page.goto("/withdraw/decisions/headlamp-kind-acetylene")
        page.get_by_label("Why").fill("a slip")
        page.get_by_role("button", name="Withdraw it").click()
        expect(written(page)).to_contain_text("nothing is released for building")
        assert overhang(page) == 0
