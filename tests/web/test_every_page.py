"""Every page that there is, on the sample archive: nothing keeps somebody out of it, and it fits any window."""

from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect
from web.browsing import Seen, Served, barriers, leave_out_refusals, looked_at, overhang, serving
from web.every_page import Answered, Examples, addresses, answers
from web.sample_at_work import a_sample_at_work

import provenance.web
from provenance.web.app import create_app

PAIR = "photo-no9-carrowsea-1934--postcard-carrowsea"
TEMPLATES = Path(provenance.web.__file__).parent / "templates"
DRAWING = "source=drawing-30921-b&page=1"
SAMPLE = Examples(
    arguments={
        "asked": "full/!300,300/0/default.jpg",
        "claim": "headlamp-illuminant-electric-9",
        "component": "headlamp",
        "decision_id": "driver-seat-form",
        "feature": "illuminant",
        "folder": "claims",
        "job": "none",
        "name": "sequence",
        "named": "p1",
        "number": 1,
        "pair_id": PAIR,
        "panel": "no-9-in-1934",
        "panel_id": "no-9-in-1934",
        "query_id": "coupling-of-no-9",
        "record_id": "headlamp-illuminant-acetylene",
        "source": "drawing-30921-b",
        "source_id": "photo-no9-carrowsea-1934",
        "view": "laid",
        "wanted": "docx",
        "what": "component",
        "which": "sources",
    },
    own={
        "claiming_pages.from_page": {"source_id": "handbook-1933", "number": 5},
        "claiming_pages.from_source": {"source_id": "oral-marrowby-1969"},
        "fitting_pages.fitting_files.cut_out_of_made": {"component": "end-window", "feature": "opening"},
        "panel_pages.register": {"wanted": "csv"},
        "source_pages.captions": {"source_id": "oral-marrowby-1969", "name": "t01"},
        "source_pages.original": {"source_id": "oral-marrowby-1969"},
        "source_pages.source_page": {"source_id": "handbook-1933", "number": 5},
    },
    queries={
        "claiming_pages.from_page": ("", "?feature=headlamp/bracket-height&region=percent:10,10,30,10"),
        "claiming_pages.from_source": ("?feature=headlamp/illuminant",),
        "claiming_pages.where": ("?feature=headlamp/illuminant",),
        "fitting_pages.all_fittings": ("", "?grade=contested&text=coupling"),
        "fitting_pages.one_feature": ("?without=photo-no9-carrowsea-1934&without=nothing-of-that-name",),
        "machine_pages.flags": ("?sort=needed", "?level=stop"),
        "machine_pages.machine": ("?by=grade", "?by=needed", "?by=prominence&of=body"),
        "machine_pages.next_finds": ("?money=250&by=holder",),
        "panel_pages.appendix": ("?draft=1",),
        "panel_pages.register": ("?draft=1",),
        "search_page.search_page": ("", "?q=lamp+bracket", "?q=lamp&kind=manual&state=tagged"),
        "search_page.strip": (f"?{DRAWING}&region=percent:10,10,30,10",),
        "source_pages.small_page": (f"?{DRAWING}",),
        "source_pages.source_page": ("?q=generator&region=percent:10,10,30,10",),
        "source_pages.sources": ("", "?kind=photograph"),
        "source_pages.whole_page": (f"?{DRAWING}",),
    },
)

ALSO = (
    "/sources/oral-marrowby-1969",
    "/sources/oral-fennick-1991?time=00:00:00/00:00:10",
    "/sources/handbook-1928",
    "/fittings/end-window/opening",
    "/fittings/driver-seat/form/made",
    "/withdraw/decisions/headlamp-illuminant",
    "/panels/roof-of-no-9",
    "/add/feature?component=headlamp",
    "/add/lead",
    "/add/panel",
    "/add/person",
    "/sources/scan0042-053f1e3a/tag",
)
"""Pages of the same kinds that show what the others do not: a recording, a transcript, a loss, measures, a stop."""

AFTER_WRITING = {"claim_asked.html", "claim_tried.html"}
"""What is shown in answer to what somebody typed alone; the tests of those pages look at it."""

REFUSING = {
    "/nothing-here": 404,
    "/copies?ruling=odd": 400,
    "/fittings?grade=odd&needed=1934/..": 200,
    "/fittings/roof-ventilator/dossier.pdf?for=public": 409,
    "/flags?level=odd": 404,
    "/next?money=much": 200,
    "/receive/jobs/none": 404,
    "/search?q=zzzzzz": 200,
    "/search?q=lamp&from=odd": 400,
}
"""Pages that say that something is not there or cannot be done, each with its status."""


@pytest.fixture(scope="module")
def served(prepared: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The real server on the sample, with what a team enters beside it."""
    with serving(a_sample_at_work(prepared, tmp_path_factory.mktemp("at-work"))) as server:
        yield server


@pytest.fixture(scope="module")
def all_answers(served: Served) -> list[Answered]:
    """What is answered at every address, of the pages as of the files."""
    app = create_app(served.folder)
    asked = [*addresses(app, SAMPLE), *(("also", each) for each in ALSO), *(("refusing", each) for each in REFUSING)]
    return list(answers(app, asked))


def test_every_address_has_an_example_and_every_template_is_looked_at(all_answers: list[Answered]) -> None:
    odd = {each.address: each.code for each in all_answers if not is_as_it_should_be(each)}
    shown = {name for each in all_answers if each.is_page for name in each.templates}

    assert odd == {}
    wanted = {file.name for file in TEMPLATES.glob("*.html") if "{% extends" in file.read_text(encoding="utf-8")}
    assert wanted - shown - AFTER_WRITING == set(), "no address of the table of examples leads to these"


def is_as_it_should_be(answered: Answered) -> bool:
    refusing = REFUSING.get(answered.address)
    return answered.code < 400 if refusing is None else answered.code == refusing


def test_no_kind_of_page_has_a_barrier_that_a_program_can_see_and_each_fits_any_window(
    chromium: Browser, served: Served, seen: Seen, all_answers: list[Answered]
) -> None:
    firsts = {each.view: each for each in reversed(all_answers) if each.is_page}

    assert len(firsts) > 20
    assert "\n".join(faults_on(firsts.values(), chromium, served, seen)) == ""


@pytest.mark.long
def test_no_page_with_something_asked_refused_or_missing_has_a_barrier_either(
    chromium: Browser, served: Served, seen: Seen, all_answers: list[Answered]
) -> None:
    firsts = {each.view: each.address for each in reversed(all_answers) if each.is_page}
    others = [each for each in all_answers if each.is_page and each.address != firsts[each.view]]

    assert len(others) > 20
    assert "\n".join(faults_on(others, chromium, served, seen)) == ""


def faults_on(answered: Iterable[Answered], chromium: Browser, served: Served, seen: Seen) -> list[str]:
    """What is wrong with the pages, each with its address and how it was looked at."""
    found = []
    with looked_at(chromium, served, seen) as page:
        for each in answered:
            found += [f"{each.address}, {how}: {faults}" for how, faults in _faults_of(page, each) if faults]
            leave_out_refusals(seen, page)
    return found


def _faults_of(page: Page, answered: Answered) -> list[tuple[str, list[str] | int]]:
    """What is wrong with a page by light and in the dark, on a telephone and on a large screen."""
    page.set_viewport_size({"width": 360, "height": 800})
    page.emulate_media(color_scheme="light")
    page.goto(answered.address)
    settle(page)
    by_light, narrow = barriers(page), max(0, overhang(page))
    page.set_viewport_size({"width": 2560, "height": 1200})
    page.emulate_media(color_scheme="dark")
    in_the_dark, wide = barriers(page, "color-contrast"), max(0, overhang(page))
    return [("by light", by_light), ("360 pixels", narrow), ("in the dark", in_the_dark), ("2560 pixels", wide)]


def settle(page: Page) -> None:
    """Wait for what the scripts of a page add, and unfold what is folded."""
    page.evaluate("document.querySelectorAll('details').forEach(each => { each.open = true; })")
    if page.locator("figure.zoom[data-info]").count():
        expect(page.locator(".zoom-window")).to_be_visible()
    if page.locator("section.laid").count():
        expect(page.locator("section.laid")).to_be_visible()
