"""Photographs one after another in a real browser: by keys alone, by pointer, without a script, and off the line."""

import json
import socket
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect
from tasks.photographs import a_photograph, photographs
from web.browsing import Seen, Served, barriers, looked_at, overhang, serving

from provenance.records.archive import Archive
from provenance.tasks.opening import open_folder

LOTS = {"keys": 3, "mouse": 2, "plain": 3, "line": 3, "other": 2, "lack": 1}
"""A lot of finds for each test, with how many there are."""


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The real server on a few photographs."""
    folder = photographs(tmp_path_factory.mktemp("look"), names=())
    for lot, count in LOTS.items():
        a_lot(folder, lot, count)
    with serving(folder) as server:
        yield server


@pytest.fixture
def page(chromium: Browser, served: Served, seen: Seen) -> Iterator[Page]:
    """An empty page; a sheet that is refused once and sent again by itself is no fault of it: the records are read."""
    with looked_at(chromium, served, seen) as opened:
        yield opened
        seen.faults[:] = [fault for fault in seen.faults if "409 (CONFLICT)" not in fault or "/look/" not in fault]


def a_lot(folder: Path, lot: str, count: int) -> None:
    """Add finds that came as a lot."""
    for item in range(1, count + 1):
        acquired = [{"date": "2026-01-12", "note": f"lot: {lot}\nitem {item}"}]
        a_photograph(folder, f"{lot}-{item}", kind=None, state="untagged", acquired=acquired)


def records(folder: Path) -> Archive:
    return open_folder(folder).archive


def title(page: Page, words: str) -> None:
    expect(page.get_by_role("heading", level=1)).to_have_text(words)


def row(page: Page, key: str) -> None:
    expect(page.locator(f"fieldset.row[data-key='{key}']")).to_be_focused()


def press(page: Page, *keys: str) -> None:
    for key in keys:
        page.keyboard.press(key)


def left(page: Page, count: int) -> None:
    """How many sheets are not written down yet."""
    expect(page.locator("#queue")).to_have_attribute("data-left", str(count))


def say_who(page: Page) -> None:
    page.get_by_label("Who writes").focus()
    page.keyboard.type("M.")
    expect(page.get_by_label("Who writes")).to_have_value("mh")


def test_photographs_are_looked_at_by_keys_alone(page: Page, served: Served) -> None:
    page.goto("/look?lot=keys")
    page.get_by_role("link", name="Begin: keys-1").focus()
    press(page, "Enter")
    title(page, "keys-1")
    row(page, "headlamp/sign:conduit")
    say_who(page)
    page.locator("fieldset.row").first.focus()
    press(page, "s", "ArrowDown", "2", "ArrowDown", "n")
    press(page, "m")
    page.keyboard.type("10")
    press(page, "Escape")
    row(page, "headlamp/hood")
    press(page, "r")
    expect(page.locator(".layer")).to_be_focused()
    press(page, "ArrowLeft", "Shift+ArrowDown", "Enter")
    row(page, "headlamp/hood")

    press(page, "j")

    title(page, "keys-2")
    row(page, "headlamp/sign:conduit")
    assert page.url.endswith("/look/keys-2?lot=keys&after=keys-1")
    press(page, "c", "s", "s", "ArrowDown", "o", "Enter")
    title(page, "keys-3")
    press(page, "k")
    title(page, "keys-2")
    left(page, 0)
    archive = records(served.folder)
    assert [shown.example for shown in archive.sources["keys-1"].shows] == ["10"]
    (hood,) = archive.claims["headlamp-hood-absent"].evidence
    assert str(hood.at.region) == "percent:34,40,30,21"
    (lamp,) = archive.claims["headlamp-kind-electric"].evidence
    assert (lamp.how.value, [sign for sign, _ in lamp.signs]) == ("shows", ["conduit"])
    assert [shown.example for shown in archive.sources["keys-2"].shows] == ["10", None]
    assert archive.sources["keys-2"].shows[1].note == "looked for: kind out of view"


def test_a_photograph_is_answered_by_pointer_alone(page: Page, served: Served) -> None:
    page.goto("/look?lot=mouse")
    page.get_by_role("link", name="Begin: mouse-1").click()
    expect(page.locator("form.sheet")).to_have_attribute("data-ready", "yes")
    page.get_by_label("Who writes").select_option("mh")
    page.locator("[name=example]").fill("11")
    page.locator("fieldset[data-key='headlamp/hood']").get_by_label("present").click()
    expect(page.locator("#looked")).not_to_have_js_property("naturalWidth", 0)
    frame = page.locator("#laid").bounding_box()
    assert frame is not None
    page.mouse.move(frame["x"] + frame["width"] * 0.25, frame["y"] + frame["height"] * 0.5)
    page.mouse.down()
    page.mouse.move(frame["x"] + frame["width"] * 0.75, frame["y"] + frame["height"] * 0.75, steps=3)
    page.mouse.up()

    page.get_by_role("button", name="Write down and next").click()

    title(page, "mouse-2")
    left(page, 0)
    (item,) = [
        item for claim in records(served.folder).claims.values() for item in claim.evidence if item.source == "mouse-1"
    ]
    region = item.at.region
    assert region is not None
    drawn = [float(side) for side in (region.x, region.y, region.w, region.h)]
    assert drawn == pytest.approx([25, 50, 50, 25], abs=0.7)


def test_without_a_script_each_sheet_is_a_form(chromium: Browser, served: Served) -> None:
    with looked_at(chromium, served, Seen(), java_script_enabled=False) as page:
        page.goto("/look?lot=plain")
        page.get_by_role("link", name="Begin: plain-1").click()
        page.get_by_label("Who writes").select_option("mh")
        page.locator("[name=example]").fill("9")
        page.locator("fieldset[data-key='wheel/spokes']").get_by_label("curved").check()
        page.get_by_role("button", name="Write down and next").click()

        title(page, "plain-2")
        expect(page.locator("#written")).to_contain_text("sources/plain-1.yaml")
        page.get_by_label("The same as in the photograph before").check()
        page.locator("fieldset[data-key='wheel/spokes']").get_by_label("straight").check()
        page.get_by_role("button", name="Write down and next").click()

        title(page, "plain-3")
    values = {claim.value for claim in records(served.folder).claims.values() if claim.about == "wheel/spokes"}
    assert values == {"curved", "straight"}


def test_off_the_line_one_goes_on_and_nothing_is_lost_by_a_reload(page: Page, served: Served, seen: Seen) -> None:
    page.goto("/look/line-1?lot=line")
    say_who(page)
    expect(page.locator("form.sheet")).to_have_attribute("data-ready", "yes")
    page.context.set_offline(True)
    page.locator("fieldset.row").first.focus()
    press(page, "m")
    page.keyboard.type("5")
    press(page, "Escape", "s", "j")

    title(page, "line-2")
    expect(page.locator("#queue")).to_contain_text("1 not written down yet")
    press(page, "ArrowDown", "2")
    page.context.set_offline(False)
    page.reload()

    expect(page.locator("fieldset[data-key='headlamp/kind']").get_by_label("electric")).to_be_checked()
    left(page, 0)
    expect(page.locator("#queue")).to_be_hidden()
    assert [shown.example for shown in records(served.folder).sources["line-1"].shows] == ["5"]
    assert not records(served.folder).sources["line-2"].shows
    seen.faults[:] = [fault for fault in seen.faults if "ERR_INTERNET_DISCONNECTED" not in fault]


def test_what_is_refused_stays_with_the_way_back_to_it(page: Page, served: Served, seen: Seen) -> None:
    page.goto("/look/other-1?lot=other")
    say_who(page)
    file = served.folder / "sources" / "other-1.yaml"
    record = json.loads(file.read_text(encoding="utf-8"))
    file.write_text(json.dumps({**record, "note": "somebody else was here"}, indent=1), encoding="utf-8")
    page.locator("fieldset.row").first.focus()
    press(page, "m")
    page.keyboard.type("7")
    press(page, "Escape", "s", "j")
    title(page, "other-2")

    told = page.locator("#queue")
    expect(told).to_contain_text("changed by somebody else")
    assert "number" not in file.read_text(encoding="utf-8")
    told.get_by_role("link", name="other-1").click()

    title(page, "other-1")
    expect(page.locator("[name=example]")).to_have_value("7")
    press(page, "j")
    title(page, "other-2")
    left(page, 0)
    source = records(served.folder).sources["other-1"]
    assert [shown.example for shown in source.shows] == ["7"]
    assert source.note == "somebody else was here"
    seen.faults[:] = [fault for fault in seen.faults if "409" not in fault]


def test_letters_do_nothing_in_a_field_nor_once_they_are_turned_off(page: Page) -> None:
    page.goto("/look/number-nine")
    press(page, "m")
    page.keyboard.type("sno1")
    expect(page.locator("[name=example]")).to_have_value("sno1")
    assert page.locator("fieldset.row input:checked").count() == 0
    press(page, "Escape", "?")
    expect(page.get_by_role("dialog")).to_be_visible()
    assert barriers(page) == []
    page.get_by_label("Keys of a single letter work").uncheck()
    press(page, "Escape", "s")

    assert page.locator("fieldset.row input:checked").count() == 0
    press(page, "ArrowDown")
    row(page, "headlamp/kind")
    page.evaluate("localStorage.clear()")


def test_what_cannot_be_written_is_said_before_one_goes_on(page: Page) -> None:
    page.goto("/look/lack-1?lot=lack")
    say_who(page)
    page.locator("fieldset.row").first.focus()
    press(page, "s", "j")

    title(page, "lack-1")
    expect(page.locator("[name=example]")).to_be_focused()
    page.keyboard.type("3")
    press(page, "Enter")
    title(page, "Look at photographs")
    left(page, 0)


@pytest.mark.long
@pytest.mark.parametrize(("width", "scheme"), [(360, "dark"), pytest.param(2560, "light", marks=pytest.mark.long)])
def test_nothing_keeps_anybody_out_of_a_sheet(chromium: Browser, served: Served, width: int, scheme: str) -> None:
    options = {"viewport": {"width": width, "height": 900}, "color_scheme": scheme}
    with looked_at(chromium, served, Seen(), **options) as page:
        for address in ("/look", "/look/number-nine", "/sources/number-nine/tag"):
            page.goto(address)
            assert barriers(page) == []
            assert overhang(page) == 0


@pytest.mark.long
def test_answers_survive_a_new_start_of_the_pages(chromium: Browser, tmp_path: Path) -> None:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = str(free.getsockname()[1])
    folder = photographs(tmp_path)
    seen = Seen()
    with serving(folder, "--port", port) as first:
        context = looked_at(chromium, first, seen)
        page = context.__enter__()
        page.goto("/look/find-1")
        say_who(page)
        page.locator("fieldset.row").first.focus()
        press(page, "m")
        page.keyboard.type("9")
        press(page, "Escape", "s")
    press(page, "j")
    left(page, 1)
    with serving(folder, "--port", port):
        left(page, 0)
        assert [shown.example for shown in records(folder).sources["find-1"].shows] == ["9"]
        seen.faults.clear()
        context.__exit__(None, None, None)
