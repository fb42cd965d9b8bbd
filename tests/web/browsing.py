"""The pages as people see them: the real server in a process of its own, and a real browser without a window.

A test file that looks at pages in a browser takes the fixtures `served` and `page`; `seen` tells what the page did.
Whatever a page reports as an error, every box that a script opens, and every request that leaves this server fails
the test that met it.
"""

import re
import shutil
import signal
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from checkout import ROOT
from cli.command_line import PROGRAM, run_really
from filelock import FileLock
from playwright.sync_api import Browser, ConsoleMessage, Dialog, Error, Page, Request, expect, sync_playwright

CHROMIUM = Path("/usr/bin/chromium")
SAMPLE = ROOT / "sample_archive" / "archive"
_SWITCHES = ["--no-sandbox", "--disable-background-networking"]
_AXE = Axe()
_RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
_SURELY_UP = 60_000  # milliseconds; what a test waits for is there in a fraction of it


@dataclass(frozen=True, slots=True, kw_only=True)
class Served:
    """A server at work.

    Attributes:
        address: as it printed it, ending with `/`, or with a token.
        folder: the archive.
        process: the server.
    """

    address: str
    folder: Path
    process: "subprocess.Popen[str]"


@dataclass(slots=True)
class Seen:
    """What a page did while a test looked at it.

    Attributes:
        requests: the addresses that it asked for.
        faults: errors that it reported and boxes that it opened; a test that provokes some takes them out.
    """

    requests: list[str] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)


@contextmanager
def serving(folder: Path, *words: str) -> Iterator[Served]:
    """Serve an archive on a free port until the block ends; then it is stopped as people stop it."""
    command = [str(PROGRAM), "--archive", str(folder), "serve", "--port", "0", *words]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        try:
            address = process.stdout.readline().strip()
            if not address:
                told = process.communicate(timeout=30)[1]
                pytest.fail(f"the server did not come up: {told}")
            yield Served(address=address, folder=folder, process=process)
        finally:
            process.send_signal(signal.SIGINT)
            try:
                process.communicate(timeout=30)
            except subprocess.TimeoutExpired:
                process.kill()
                raise


@pytest.fixture(scope="session")
def prepared(tmp_path_factory: pytest.TempPathFactory, request: pytest.FixtureRequest) -> Path:
    """The sample archive with its pages read, once for a whole run of the tests; to be copied, not to be changed."""
    base = tmp_path_factory.getbasetemp()
    shared = base.parent if hasattr(request.config, "workerinput") else base
    folder = shared / "sample-with-its-readings"
    with FileLock(shared / "sample-with-its-readings.lock"):
        if not folder.exists():
            making = shared / "sample-in-the-making"
            shutil.rmtree(making, ignore_errors=True)
            shutil.copytree(SAMPLE, making, ignore=shutil.ignore_patterns(".derived"))
            done = run_really("--archive", making, "rebuild")
            assert done.returncode == 0, done.stderr
            making.rename(folder)
    return folder


@pytest.fixture(scope="module")
def served(prepared: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The real server on a copy of the sample archive, with its readings."""
    folder = Path(shutil.copytree(prepared, tmp_path_factory.mktemp("served") / "archive"))
    with serving(folder) as server:
        yield server


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    """The system's own Chromium, without a window."""
    if not CHROMIUM.exists():
        pytest.skip(f"there is no {CHROMIUM}: `apt-get install chromium` brings it")
    expect.set_options(timeout=_SURELY_UP)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=str(CHROMIUM), args=_SWITCHES)
        yield browser
        browser.close()


@pytest.fixture
def seen() -> Seen:
    """What the page of this test did."""
    return Seen()


@pytest.fixture
def page(chromium: Browser, served: Served, seen: Seen) -> Iterator[Page]:
    """An empty page of 1,200 by 900 pixels; relative addresses are the server's."""
    with looked_at(chromium, served, seen) as opened:
        yield opened


@contextmanager
def looked_at(browser: Browser, served: Served | str, seen: Seen, **options: object) -> Iterator[Page]:
    """Open a page in a browser of its own; when the block ends, it is held against what no page may do.

    Args:
        browser: the browser.
        served: whose pages; or the address of a folder whose files are opened.
        seen: where it is told what the page did.
        options: of the browser's context, such as `viewport`, `color_scheme`, `reduced_motion`, `java_script_enabled`.
    """
    address = served if isinstance(served, str) else served.address
    wanted = {"viewport": {"width": 1200, "height": 900}, "base_url": address, **options}
    context = browser.new_context(**wanted)  # type: ignore[arg-type]  # the names are the library's own
    context.set_default_timeout(_SURELY_UP)
    opened = context.new_page()

    def hear(message: ConsoleMessage) -> None:
        if message.type in {"error", "warning"}:
            seen.faults.append(f"{message.type}: {message.text} ({message.location.get('url', '')}, on {opened.url})")

    def fail(error: Error) -> None:
        seen.faults.append(f"script: {error}")

    def dismiss(dialog: Dialog) -> None:
        seen.faults.append(f"box: {dialog.message}")
        dialog.dismiss()

    def note(request: Request) -> None:
        seen.requests.append(request.url)

    opened.on("console", hear)
    opened.on("pageerror", fail)
    opened.on("dialog", dismiss)
    opened.on("request", note)
    try:
        yield opened
    finally:
        context.close()
    own = address.partition("?")[0]
    assert seen.faults == [], seen.faults
    assert [each for each in seen.requests if not each.startswith((own, "data:"))] == []


def leave_out_refusals(seen: Seen, page: Page) -> None:
    """Forget what the browser told of a page that was to refuse something: its status, and that it has no icon."""
    told = re.compile(rf"the server responded with a status of 4.*\((?:{re.escape(page.url)}|\S+/favicon\.ico), on")
    seen.faults[:] = [fault for fault in seen.faults if not told.search(fault)]


def barriers(page: Page, *rules: str) -> list[str]:
    """What keeps somebody out of a page by the rules that a program can see (axe-core, WCAG 2.2 AA and practice).

    Args:
        page: the page, as it stands.
        rules: the names of those that are looked for alone; none for all of them.
    """
    asked = {"type": "rule", "values": rules} if rules else {"type": "tag", "values": _RULES}
    found = _AXE.run(page, options={"runOnly": asked, "resultTypes": ["violations"]})
    return [f"{each['id']}: {node['html']}" for each in found.response["violations"] for node in each["nodes"]]


def overhang(page: Page) -> int:
    """By how many pixels a page is wider than its window."""
    wide: int = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    return wide
