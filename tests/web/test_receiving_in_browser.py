"""Receiving in a real browser: dropped, chosen, by keyboard alone, without script, by two at once, and cut off.

What is dropped comes as a `DataTransfer` (WHATWG HTML, 6.11.3), made here by a script, as the browser makes it of what
somebody drags in from another window.
"""

import base64
import re
import subprocess
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest
from cli.command_line import SOUND, a_copy_of, ask, run_really
from playwright.sync_api import Browser, Page, Route, expect
from tasks.team import a_scan, a_text
from web.browsing import Seen, Served, barriers, looked_at, overhang, serving

from provenance.tasks.opening import open_folder

_DROP = """(files) => {
  const dropped = new DataTransfer();
  for (const [name, data] of files)
    dropped.items.add(new File([Uint8Array.from(atob(data), (letter) => letter.charCodeAt(0))], name));
  document.querySelector("h1").dispatchEvent(
    new DragEvent("drop", { dataTransfer: dropped, bubbles: true, cancelable: true }));
}"""


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The real server on a small archive, since what is received is read by the real recogniser."""
    with serving(a_copy_of(SOUND, tmp_path_factory.mktemp("receiving"))) as server:
        yield server


def drop(page: Page, files: Mapping[str, bytes]) -> None:
    page.evaluate(_DROP, [[name, base64.b64encode(data).decode()] for name, data in files.items()])


def a_page_of_print(tmp_path: Path, words: str) -> bytes:
    return a_scan(tmp_path / f"{words}.png", (words,)).read_bytes()


def take_in(page: Page) -> None:
    page.get_by_label("Who writes").select_option("mh")
    page.get_by_role("button", name="Take them in").click()


def said(page: Page) -> None:
    """Wait until the page says that all of it is done."""
    expect(page.get_by_text("Done: what can be read is read")).to_be_visible()


def fate_of(page: Page, name: str) -> str:
    return page.get_by_role("row").filter(has=page.get_by_role("rowheader", name=name, exact=True)).inner_text()


def sources(served: Served) -> dict[str, str]:
    return {source.title: source.id for source in open_folder(served.folder).archive.sources.values()}


def staged(served: Served) -> list[Path]:
    return [path for path in (served.folder / ".derived" / "arriving").rglob("*") if path.is_file()]


def test_files_that_are_dropped_are_sent_one_by_one_and_read(page: Page, served: Served, tmp_path: Path) -> None:
    page.goto("/receive")
    drop(page, {"p10.txt": b"page ten\n", "p2.png": a_page_of_print(tmp_path, "SECOND PAGE"), "odd.txt": b"not this\n"})
    drop(page, {"p99.txt": b"page ten\n"})
    expect(page.locator(".chosen .name")).to_have_text(["odd.txt", "p2.png", "p10.txt", "p99.txt"])
    assert barriers(page) == []

    page.get_by_role("button", name="Leave out odd.txt").click()
    page.get_by_label("The lot").fill("A tin")
    take_in(page)

    said(page)
    assert barriers(page) == []
    assert "New, one page" in fate_of(page, "p2.png")
    assert "Held already" in fate_of(page, "p99.txt")
    assert "odd" not in sources(served)
    assert {"p2", "p10"} <= sources(served).keys()
    assert staged(served) == []
    expect(page.get_by_role("link", name="Look at them")).to_have_attribute("href", "/look?lot=A+tin")


@pytest.mark.long
def test_a_folder_is_chosen_with_all_that_is_in_it_but_what_systems_strew_about(
    page: Page, served: Served, tmp_path: Path
) -> None:
    for name in ("back 7.txt", "front 7.txt", ".DS_Store", ".git/config", "Thumbs.db"):
        a_text(tmp_path / "Card 7" / name, f"{name}\n")
    page.goto("/receive")
    page.get_by_label("Or a folder, with all that is in it").set_input_files(tmp_path / "Card 7")
    expect(page.locator(".chosen .name")).to_have_text(["Card 7/back 7.txt", "Card 7/front 7.txt"])

    page.get_by_label("They make one source").check()
    take_in(page)
    said(page)

    record = open_folder(served.folder).archive.sources[sources(served)["Card 7"]]
    assert [Path(file.path).name for file in record.files] == ["front 7.txt", "back 7.txt"]


def test_files_are_chosen_by_keyboard_alone(page: Page, served: Served, tmp_path: Path) -> None:
    letter = a_text(tmp_path / "letter by keys.txt", "the bracket\n")
    page.on("filechooser", lambda _: None)  # from now on no window of the system opens
    page.goto("/receive")
    expect(page.get_by_label("Or a folder, with all that is in it")).to_be_visible()
    page.get_by_role("link", name="Receive finds").focus()
    tab_to(page, "input[type=file]")
    with page.expect_file_chooser() as chooser:
        page.keyboard.press("Enter")
    chooser.value.set_files(letter)
    expect(page.locator(".chosen .name")).to_have_text(["letter by keys.txt"])
    tab_to(page, "select[name=by]")
    page.keyboard.type("M. Hollin" if page.locator("option", has_text="Hollin").count() else "m")
    tab_to(page, ".send button")
    page.keyboard.press("Enter")

    said(page)

    assert "letter by keys" in sources(served)


def tab_to(page: Page, place: str) -> None:
    for _ in range(80):
        page.keyboard.press("Tab")
        if page.evaluate("(place) => document.activeElement.matches(place)", place):
            return
    pytest.fail(f"{place} is not reached by the keyboard")


@pytest.mark.parametrize("width", [360, pytest.param(2560, marks=pytest.mark.long)])
def test_the_pages_fit_any_window_and_without_script_all_of_it_works(
    chromium: Browser, served: Served, seen: Seen, tmp_path: Path, width: int
) -> None:
    name = f"without script {width}.png"
    scan = tmp_path / name
    scan.write_bytes(a_page_of_print(tmp_path, f"PLAIN {width}"))
    size = {"width": width, "height": 800}
    with looked_at(chromium, served, seen, java_script_enabled=False, viewport=size, color_scheme="dark") as page:
        page.goto("/receive")
        page.get_by_label("Files", exact=True).set_input_files(scan)
        take_in(page)
        said(page)  # the page renews itself

        assert "New, one page" in fate_of(page, name)
    with looked_at(chromium, served, seen, viewport=size, color_scheme="dark") as page:
        page.goto("/receive")
        assert overhang(page) <= 0
        assert barriers(page) == []
        page.get_by_role("link", name=name).click()
        assert overhang(page) <= 0
        assert barriers(page) == []
    assert f"without script {width}" in sources(served)


@pytest.mark.long
def test_two_hand_files_in_at_once_and_each_sees_what_became_of_their_own(
    chromium: Browser, served: Served, seen: Seen
) -> None:
    with looked_at(chromium, served, seen) as one, looked_at(chromium, served, seen) as other:
        for page, name in ((one, "first of two.txt"), (other, "second of two.txt")):
            page.goto("/receive")
            drop(page, {name: name.encode()})
        for page in (one, other):
            take_in(page)
        for page, name in ((one, "first of two.txt"), (other, "second of two.txt")):
            said(page)
            assert "New" in fate_of(page, name)
            assert page.get_by_role("row").count() == 2

    assert {"first of two", "second of two"} <= sources(served).keys()


def test_a_file_that_does_not_arrive_is_sent_once_more_and_the_others_are_not(
    page: Page, served: Served, seen: Seen
) -> None:
    sent: list[str] = []

    def lose_the_second(route: Route) -> None:
        name = re.findall(rb'filename="([^"]*)"', route.request.post_data_buffer or b"")[0].decode()
        sent.append(name)
        if sent.count(name) == 1 and name == "two.txt":
            route.abort("connectionreset")
        else:
            route.continue_()

    page.goto("/receive")
    page.route("**/receive/files/*", lose_the_second)
    drop(page, {"one.txt": b"one\n", "two.txt": b"two\n"})
    take_in(page)
    expect(page.get_by_text("it did not arrive")).to_be_visible()
    seen.faults.clear()  # the browser tells of the connection that was lost
    page.get_by_role("button", name="Take them in").click()

    said(page)

    assert sent == ["one.txt", "two.txt", "two.txt"]
    assert {"one", "two"} <= sources(served).keys()


@pytest.mark.long
def test_a_page_that_shows_a_work_follows_it_and_can_end_it(page: Page, served: Served, tmp_path: Path) -> None:
    scans = {f"stop{n}.png": a_page_of_print(tmp_path, f"PAGE {n} OF THE BOOK") for n in range(5)}
    page.goto("/receive")
    drop(page, scans)
    take_in(page)
    expect(page.locator(".step")).to_contain_text("Reading pages")
    assert barriers(page) == []

    page.get_by_role("button", name="Stop it").click()

    expect(page.get_by_text("Stopped. What is registered stays.")).to_be_visible()
    assert {f"stop{n}" for n in range(5)} <= sources(served).keys()
    page.get_by_role("button", name="Go on with the reading").click()
    said(page)


@pytest.mark.long
def test_a_server_that_is_stopped_leaves_nothing_half_done_and_a_later_receipt_goes_on(
    chromium: Browser, tmp_path: Path
) -> None:
    folder = a_copy_of(SOUND, tmp_path)
    scans = {f"p{n}.png": a_page_of_print(tmp_path, f"PAGE {n} OF THE BOOK") for n in range(6)}
    with serving(folder) as served, looked_at(chromium, served, Seen()) as page:
        page.goto("/receive")
        drop(page, scans)
        take_in(page)
        expect(page.locator(".step")).to_contain_text("Reading pages")
        page.goto("about:blank")
        children = subprocess.run(
            ["pgrep", "-P", str(served.process.pid)], capture_output=True, text=True, check=False
        ).stdout.split()
        assert children

    assert served.process.returncode == 0
    assert not any(Path(f"/proc/{child}").exists() for child in children)
    assert staged(served) == []
    assert (
        ask(folder, "check", "--fixity", code=run_really("--archive", folder, "check").returncode)["problems"]
        == (ask(SOUND, "check", code=run_really("--archive", SOUND, "check").returncode)["problems"])
    )
    read_before = len(list((folder / ".derived" / "readings").rglob("p*.json")))
    with serving(folder) as served, looked_at(chromium, served, Seen()) as page:
        page.goto("/receive")
        drop(page, scans)
        take_in(page)
        said(page)
        assert "Held already" in fate_of(page, "p0.png")
        rest = {0: "6 held already", 1: "one page read now"}.get(6 - read_before, f"{6 - read_before} pages read now")
        expect(page.locator("#work")).to_contain_text(rest)
