"""Writing in real browsers: two at once, a page of another origin, and what becomes of what was typed."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest
from cli.command_line import SOUND, a_copy_of, ask
from playwright.sync_api import Browser, Page, expect
from tasks.team import a_text
from web.browsing import Seen, Served, barriers, leave_out_refusals, looked_at, overhang, serving
from web.writing_client import state_of_records

ABOUT = "headlamp/kind"
GROUNDS = "the driver says that it burnt oil"


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The real server on the sound archive."""
    with serving(a_copy_of(SOUND, tmp_path_factory.mktemp("sound"))) as server:
        yield server


@pytest.fixture
def query(served: Served) -> str:
    return str(ask(served.folder, "query", ABOUT, "--why", GROUNDS, "--by", "mh")["record"])


def answering(page: Page, query: str, words: str) -> None:
    page.goto(f"/queries/{query}")
    page.get_by_label("The answer").fill(words)
    page.get_by_label("Who writes").select_option("mh")


def test_whoever_is_refused_is_at_the_reason_and_comes_to_the_first_field_next(page: Page, seen: Seen) -> None:
    page.goto("/queries")
    page.get_by_label("What is in doubt").fill("headlamp/knd")
    page.get_by_label("On what grounds").fill(GROUNDS)
    page.get_by_label("Who writes").select_option("mh")
    page.get_by_role("button", name="Raise the query").press("Enter")

    box = page.get_by_role("alert")
    expect(box).to_be_focused()
    expect(box).to_be_in_viewport()
    leave_out_refusals(seen, page)
    assert barriers(page) == []
    page.keyboard.press("Tab")
    expect(page.get_by_label("What is in doubt")).to_be_focused()
    expect(page.get_by_label("On what grounds")).to_have_value(GROUNDS)


def test_a_query_is_raised_and_answered_by_the_keyboard_alone(page: Page, served: Served) -> None:
    page.goto("/queries")
    assert barriers(page) == []
    page.get_by_label("What is in doubt").focus()
    page.keyboard.type(ABOUT)
    page.keyboard.press("Tab")
    page.keyboard.type(GROUNDS)
    for _ in range(3):
        page.keyboard.press("Tab")
    page.keyboard.type("M")  # a list is chosen from by the first letter
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")

    written = page.locator("#written")
    expect(written).to_contain_text("queries/headlamp-kind-query")
    file = served.folder / (written.locator("code").text_content() or "")
    assert GROUNDS in file.read_text(encoding="utf-8")
    expect(page.get_by_label("On what grounds")).to_have_value("")
    page.locator(f"a[href='/queries/{file.stem}']").focus()
    page.keyboard.press("Enter")
    page.get_by_label("The answer").focus()
    page.keyboard.type("no, gas")
    for _ in range(3):
        page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.locator("#written")).to_be_visible()
    assert "answer: no, gas" in file.read_text(encoding="utf-8")


def test_of_two_at_once_the_second_sees_both_versions_and_keeps_what_was_typed(
    chromium: Browser, served: Served, query: str
) -> None:
    with looked_at(chromium, served, Seen()) as one, looked_at(chromium, served, refusing := Seen()) as other:
        answering(one, query, "no, gas")
        answering(other, query, "yes, oil")
        one.get_by_role("button", name="Write the answer down").click()
        expect(one.locator("#written")).to_be_visible()

        other.get_by_role("button", name="Write the answer down").click()

        refused = other.get_by_role("alert")
        expect(refused).to_contain_text("changed by somebody else meanwhile")
        expect(refused.locator("mark").filter(has_text="no, gas")).to_have_count(1)
        assert barriers(other) == []
        assert overhang(other) <= 0
        record = (served.folder / "queries" / f"{query}.yaml").read_text(encoding="utf-8")
        assert "no, gas" in record
        assert "yes, oil" not in record
        other.goto(f"/queries/{query}")
        expect(other.get_by_text("no, gas")).to_be_visible()
        refusing.faults.clear()  # the browser reports the refusal, 409, as an error


def test_what_was_typed_outlives_a_reload_a_lost_connection_and_a_server_that_was_started_anew(
    chromium: Browser, tmp_path: Path
) -> None:
    folder = a_copy_of(SOUND, tmp_path)
    with serving(folder, "--port", "0") as first, looked_at(chromium, first, lost := Seen()) as page:
        port = first.address.rpartition(":")[2].rstrip("/")
        page.goto("/queries")
        page.get_by_label("What is in doubt").fill(ABOUT)
        page.get_by_label("On what grounds").fill(GROUNDS)
        page.reload()
        expect(page.get_by_label("On what grounds")).to_have_value(GROUNDS)
        page.get_by_label("Who writes").select_option("mh")

        page.context.set_offline(True)  # the workshop's network is gone
        page.get_by_role("button", name="Raise the query").click()
        page.wait_for_url("chrome-error://**")
        page.context.set_offline(False)
        page.goto("/queries")
        expect(page.get_by_label("On what grounds")).to_have_value(GROUNDS)
        page.get_by_label("Who writes").select_option("mh")
        lost.faults.clear()  # the browser reports that it reached nobody

        first.process.send_signal(2)
        first.process.wait(timeout=30)
        with serving(folder, "--port", port) as second:
            assert second.address == first.address
            page.get_by_role("button", name="Raise the query").click()
            expect(page.get_by_role("alert")).to_contain_text("before the pages were started anew")
            expect(page.get_by_label("On what grounds")).to_have_value(GROUNDS)
            page.get_by_role("button", name="Raise the query").click()
            expect(page.locator("#written")).to_be_visible()
            lost.faults.clear()
            page.goto("/queries")
            expect(page.get_by_label("On what grounds")).to_have_value("")
    assert len(list((folder / "queries").glob("*.yaml"))) == 1


def test_what_was_typed_comes_back_without_what_others_have_changed_since(page: Page, served: Served) -> None:
    page.goto("/sources/photograph/tag")
    page.get_by_label("Who made it").fill("J. Ardle")
    page.goto("/queries")
    ask(served.folder, "tag", "photograph", "--holder", "Orrin Museum")

    page.goto("/sources/photograph/tag")

    expect(page.get_by_label("Who made it")).to_have_value("J. Ardle")
    expect(page.get_by_label("Who holds it")).to_have_value("Orrin Museum")
    page.get_by_role("button", name="Begin anew").click()
    expect(page.get_by_label("Who made it")).not_to_have_value("J. Ardle")


@contextmanager
def elsewhere(folder: Path) -> Iterator[str]:
    """Another server of this machine: its pages are of the same site, and of another origin."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Quiet, directory=str(folder)))
    thread = threading.Thread(target=server.serve_forever)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}/"
    finally:
        server.shutdown()
        thread.join()
        server.server_close()


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, *_: object) -> None:
        """Say nothing."""


FORM = """<form id="f" method="post" action="{to}">
<input name="about" value="headlamp/kind"><input name="grounds" value="planted"><input name="by" value="mh">
<input name="token" value="{token}"><input name="shown" value="{{}}"></form>
<script>document.getElementById("f").submit()</script>"""
FETCH = """<p id="done"></p><script>
const tell = (what) => () => {{ document.getElementById("done").textContent = what; }};
const body = new URLSearchParams(
  {{about: "headlamp/kind", grounds: "planted", by: "mh", token: "{token}", shown: "{{}}"}}
);
fetch("{to}", {{method: "POST", mode: "no-cors", credentials: "include", body}}).then(tell("sent"), tell("refused"));
</script>"""


def trap(page: Page, served: Served, folder: Path, way: str) -> None:
    """Make ready a page elsewhere that tries to raise a query, with the very token of a page of ours."""
    page.goto(f"{served.address}queries")
    token = page.locator("form.write input[name=token]").input_value()
    a_text(folder / "trap.html", way.format(to=f"{served.address}queries", token=token))


def test_a_form_of_another_origin_changes_no_byte(chromium: Browser, served: Served, tmp_path: Path) -> None:
    with chromium.new_context() as context, elsewhere(tmp_path) as address:
        page = context.new_page()
        trap(page, served, tmp_path, FORM)
        before = state_of_records(served.folder)

        with page.expect_response(lambda each: each.request.method == "POST") as told:
            page.goto(f"{address}trap.html")

        assert told.value.status == 403
        assert state_of_records(served.folder) == before


def test_a_script_of_another_origin_changes_no_byte(chromium: Browser, served: Served, tmp_path: Path) -> None:
    with chromium.new_context() as context, elsewhere(tmp_path) as address:
        page = context.new_page()
        trap(page, served, tmp_path, FETCH)
        before = state_of_records(served.folder)

        with page.expect_request(lambda each: each.method == "POST"):
            page.goto(f"{address}trap.html")

        expect(page.locator("#done")).not_to_be_empty()
        assert state_of_records(served.folder) == before
