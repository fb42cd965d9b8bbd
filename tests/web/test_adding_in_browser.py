"""Adding in a real browser: by the keyboard alone, by the pointer, and a parts tree looked over before it is added."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from cli.command_line import SOUND, a_copy_of
from playwright.sync_api import Browser, Page, expect
from tasks.team import a_text
from web.browsing import Seen, Served, barriers, looked_at, overhang, serving


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The real server on the sound archive."""
    with serving(a_copy_of(SOUND, tmp_path_factory.mktemp("sound"))) as server:
        yield server


def test_a_part_and_what_is_to_be_decided_of_it_are_added_by_the_keyboard_alone(page: Page, served: Served) -> None:
    page.goto("/add")
    page.get_by_role("link", name="Add a component").focus()
    page.keyboard.press("Enter")
    page.get_by_label("What it is called").focus()
    page.keyboard.type("Lamp hood")
    page.keyboard.press("Tab")
    page.keyboard.type("Head")  # a list is chosen from by its first letters
    page.keyboard.press("Tab")
    page.keyboard.type("H-205")
    page.get_by_label("Who writes").focus()
    page.keyboard.type("M")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")

    expect(page.locator("#written")).to_contain_text("components/lamp-hood.yaml")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Lamp hood")
    record = (served.folder / "components" / "lamp-hood.yaml").read_text(encoding="utf-8")
    assert "part_of: headlamp" in record
    assert "H-205" in record
    page.get_by_role("link", name="Add a feature").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_label("Of which part")).to_have_value("lamp-hood")
    page.get_by_label("What is to be decided").focus()
    page.keyboard.type("Metal")
    page.keyboard.press("Tab")
    page.keyboard.type("material")
    page.keyboard.press("Tab")
    page.keyboard.type("a text")
    page.get_by_role("button", name="Add it").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#written")).to_contain_text("components/lamp-hood.yaml")
    expect(page.get_by_role("main")).to_contain_text("Metal")


def test_a_panel_and_its_statement_are_added_by_the_pointer(page: Page, served: Served) -> None:
    page.goto("/add/panel")
    page.get_by_label("Its title").fill("How she was lit")
    page.get_by_label("Headlamp").check()
    page.get_by_label("Who writes").select_option("mh")
    page.get_by_role("button", name="Add it").click()
    page.get_by_role("link", name="Add a statement").click()
    page.get_by_label("The sentence as it is to be printed").fill("She burnt gas.")
    page.get_by_role("checkbox").first.check()
    page.get_by_role("button", name="Add it").click()

    expect(page.get_by_role("main")).to_contain_text("She burnt gas.")
    record = (served.folder / "panels" / "how-she-was-lit.yaml").read_text(encoding="utf-8")
    assert "text: She burnt gas." in record
    assert "headlamp/" in record


def test_the_rows_of_a_parts_tree_are_seen_and_then_added(page: Page, served: Served, tmp_path: Path) -> None:
    sheet = a_text(tmp_path / "parts.csv", "number,name,part of\nH-300,Cab,\nH-301,<b>Door</b>,Cab\n,Headlamp,Cab\n")
    page.goto("/add/sheet")
    page.get_by_label("The sheet").set_input_files(sheet)
    page.get_by_label("Who writes").select_option("mh")
    page.get_by_role("button", name="Look at its rows").click()

    expect(page.get_by_role("status").first).to_contain_text("3 rows: 2 to be added, 1 known already, 0 refused")
    expect(page.get_by_role("cell", name="<b>Door</b>")).to_be_visible()
    assert not (served.folder / "components" / "cab.yaml").exists()
    assert barriers(page) == []
    page.get_by_role("button", name="Add 2 parts").click()
    expect(page.locator("#written")).to_contain_text("components/cab.yaml")
    assert (served.folder / "components" / "cab.yaml").exists()


@pytest.mark.long
@pytest.mark.parametrize("what", ["component", "feature", "lead", "sheet"])
def test_a_form_has_no_barrier_and_fits_a_telephone_in_the_dark(
    chromium: Browser, served: Served, seen: Seen, what: str
) -> None:
    size = {"width": 360, "height": 740}
    with looked_at(chromium, served, seen, viewport=size, color_scheme="dark") as page:
        page.goto(f"/add/{what}")
        for more in page.locator("summary").all():
            more.click()

        assert barriers(page) == []
        assert overhang(page) <= 0
