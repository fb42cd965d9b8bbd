"""Whatever people write, in a record, on a page, in a query or an address, is shown in a browser and never obeyed."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import parse_qsl, quote, urlencode

import pytest
from flask import Flask
from playwright.sync_api import Browser, Page
from reports.hostile import on_one_line
from reports.read_markdown import blocks_of, cells_of, said
from web.browsing import Seen, Served, leave_out_refusals, looked_at, serving
from web.every_page import Answered, Examples, addresses, answers, parameters
from web.hostile_archive import ADDRESS, FILE, MARKUP, WORD, a_hostile_archive, texts_in

from provenance.web.app import create_app

ASKED = f"xyzzy {MARKUP}"
"""What is asked for everywhere; the first word tells whether a page says it again."""

HOSTILE = Examples(
    arguments={
        "asked": "full/!300,300/0/default.jpg",
        "claim": "gas",
        "component": "lamp",
        "decision_id": "build",
        "feature": "kind",
        "folder": "claims",
        "job": "none",
        "name": "sequence",
        "named": "p1",
        "number": 1,
        "pair_id": "picture--print",
        "panel": "wall",
        "panel_id": "wall",
        "query_id": "open",
        "record_id": "gas",
        "source": "picture",
        "source_id": "picture",
        "view": "laid",
        "wanted": "html",
        "what": "feature",
        "which": "sources",
    },
    own={
        "fitting_pages.fitting_files.cut_out_of_item": {"number": 2},
        "source_pages.captions": {"source_id": "tape", "name": "t01"},
        "source_pages.original": {"source_id": "tape"},
    },
    queries={
        "copies_pages.pair": ("", "?compare=now"),
        "fitting_pages.one_feature": ("", "?without=book"),
        "fitting_pages.fitting_files.dossier_of_component": (
            "?for=team",
            "?for=workshop",
            "?for=contractor",
            "?for=contractor&draft=on",
            "?for=public&draft=on",
        ),
        "machine_pages.machine": ("", "?by=needed&of=lamp"),
        "machine_pages.next_finds": ("", "?money=50&by=holder"),
        "panel_pages.appendix": ("?draft=1", "?draft=1&style=iso-690-author-date"),
        "panel_pages.register": ("?draft=1",),
        "search_page.search_page": ("?q=bracket+lamp+title&kind=photograph", "?q=claim:gas"),
        "search_page.strip": ("?source=picture&page=1&region=percent:10,10,30,10",),
        "source_pages.small_page": ("?source=picture&page=1",),
        "source_pages.source_page": ("?q=bracket",),
        "source_pages.whole_page": ("?source=picture&page=1",),
    },
)

ALSO = (
    *(f"/sources/{each}" for each in ("album", "book", "found", "gone", "kept", "print", "tape")),
    "/sources/tape?time=00:00:00/00:00:01",
    "/sources/print/pages/1?q=bracket",
    "/fittings/lamp/wording",
    "/fittings/lamp/width",
    "/fittings/car",
    "/fittings/lamp/wording/decide",
    "/add/component",
    "/add/lead",
    "/withdraw/sources/picture",
    "/withdraw/decisions/build",
    "/sources/found/tag",
)

REFUSING = {"/fittings/lamp/dossier.html?for=contractor": 409, "/receive/jobs/none": 404}
"""What is refused, since somebody has still to be asked, and what is not there; the page says so."""

NOT_SHOWN = frozenset({"also", "credited", "done-holder", "event", "machine", "related", "same", "same-too"})
NOT_SHOWN |= {"seen-why", "settings", "version"}
NOT_SHOWN |= {f"{each}-note" for each in ("archive", "event", "person", "production")}
NOT_SHOWN |= {f"{each}-note" for each in ("related", "target")}
"""The fields, by their first words, that a page need not show: notes to oneself, and what serves judgement alone."""


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The real server on the hostile archive."""
    with serving(a_hostile_archive(tmp_path_factory.mktemp("hostile"))) as server:
        yield server


@pytest.fixture(scope="module")
def app(served: Served) -> Flask:
    """The pages of the hostile archive, to be asked without a browser."""
    return create_app(served.folder)


@pytest.fixture(scope="module")
def all_answers(app: Flask) -> list[Answered]:
    """What is answered at every address."""
    return list(answers(app, [*addresses(app, HOSTILE), *(("also", each) for each in ALSO)]))


def what_ran(page: Page) -> list[str]:
    """What a text of others set going, or put into the page as markup, or made a link to a program."""
    told: list[str] = page.evaluate(
        """() => [
            ...(window.canary === undefined ? [] : ["a script ran"]),
            ...[...document.querySelectorAll(".canary, iframe, object, embed, base")].map(each => each.outerHTML),
            ...[...document.querySelectorAll("*")].flatMap(each => [...each.attributes]
                .filter(one => one.name.startsWith("on") || /^\\s*(javascript|vbscript):/i.test(one.value)
                    && /^(href|src|action|formaction|xlink:href|data|srcset|poster)$/.test(one.name))
                .map(one => `${each.tagName} ${one.name}=${one.value}`)),
        ]"""
    )
    return told


def text_of(page: Page) -> str:
    """All that a page says, in its text, its fields and what stands for its pictures, on one line."""
    said: list[str] = page.evaluate(
        """() => [document.documentElement.textContent, ...[...document.querySelectorAll("[alt], [value]")]
            .map(each => each.getAttribute("alt") ?? each.getAttribute("value"))]"""
    )
    return on_one_line(" ".join(said))


def test_no_text_of_the_records_runs_on_any_page_and_each_is_seen_as_it_was_written(
    chromium: Browser, served: Served, seen: Seen, all_answers: list[Answered]
) -> None:
    written = set().union(*(texts_in(json.loads(file.read_text("utf-8"))) for file in served.folder.rglob("*.yaml")))
    ran, read = {}, ""

    with looked_at(chromium, served, seen) as page:
        for each in all_answers:
            if each.is_page or each.kind == "image/svg+xml":
                page.goto(each.address)
                ran[each.address] = what_ran(page)
                read += f" {text_of(page)}"
                leave_out_refusals(seen, page)

    assert {address: what for address, what in ran.items() if what} == {}
    assert {each.address: each.code for each in all_answers if each.code >= 400} == REFUSING
    others = (WORD, FILE, f"{ADDRESS}print", "<script>said", f"typed {MARKUP}")
    assert [text for text in others if text not in read] == []
    unseen = {text.partition(" ")[0] for text in written if on_one_line(text) not in read}
    assert unseen <= NOT_SHOWN, ", ".join(sorted(unseen - NOT_SHOWN))


@pytest.mark.long
def test_no_query_and_no_address_runs_on_any_page(
    chromium: Browser, served: Served, seen: Seen, app: Flask, all_answers: list[Answered]
) -> None:
    names = parameters(app, [(each.view, each.address) for each in all_answers])
    firsts = {each.view: each.address for each in reversed(all_answers) if each.is_page and each.view != "also"}
    hostile = [with_query(address, name) for view, address in firsts.items() for name in sorted(names[view])]
    hostile += addresses_that_are_not_there(app)

    again = [each for each in answers(app, [("hostile", address) for address in hostile]) if b"xyzzy" in each.body]
    ran, repeating = {}, set()
    with looked_at(chromium, served, seen) as page:
        for each in again:
            page.goto(each.address)
            ran[each.address] = what_ran(page)
            repeating |= {each.address.partition("?")[0]} if "xyzzy" in text_of(page) else set()
            leave_out_refusals(seen, page)

    assert {address: what for address, what in ran.items() if what} == {}
    assert repeating >= {"/copies", "/fittings", "/next", "/panels/wall", "/search"}
    assert not [each for each in again if each.code >= 500]


def with_query(address: str, name: str) -> str:
    """The address with the hostile text behind it under a name, in the place of what was asked under that."""
    path, _, query = address.partition("?")
    return f"{path}?{urlencode([*((key, value) for key, value in parse_qsl(query) if key != name), (name, ASKED)])}"


def addresses_that_are_not_there(app: Flask) -> list[str]:
    """Every address with the hostile text in the place of each of its arguments in turn."""
    text = quote(f"xyzzy {FILE}", safe="")
    found = []
    for rule in app.url_map.iter_rules():
        if rule.endpoint != "static" and "GET" in (rule.methods or ()):
            there = {**HOSTILE.arguments, **HOSTILE.own.get(rule.endpoint, {})}
            for name in sorted(rule.arguments):
                pieces = re.split(r"<(?:[^:>]+:)?(\w+)>", rule.rule)  # every other one is the name of an argument
                pieces[1::2] = [text if each == name else str(there[each]) for each in pieces[1::2]]
                found.append("".join(pieces))
    return found


def test_no_document_that_is_handed_out_runs_anything_when_it_is_opened_from_the_disk(
    chromium: Browser, seen: Seen, app: Flask, all_answers: list[Answered], tmp_path: Path
) -> None:
    more = ("/registers/features.html?draft=1", "/fittings/lamp/kind/dossier.html", "/figures/lamp/width/measures.svg")
    handed = [*all_answers, *answers(app, [("more", each) for each in more])]
    documents = [each for each in handed if each.kind == "text/html" and each.code == 200 and not each.is_page]
    drawings = [each for each in handed if each.kind == "image/svg+xml" and each.code == 200]
    assert len(documents) >= 9
    assert len(drawings) >= 3
    ran = {}

    with looked_at(chromium, f"{tmp_path.as_uri()}/", seen) as page:
        for number, each in enumerate([*documents, *drawings]):
            file = tmp_path / f"{number}.{'html' if each in documents else 'svg'}"
            file.write_bytes(each.body)
            page.goto(file.as_uri())
            ran[each.address] = what_ran(page) + page.locator("parsererror").all_text_contents()
            assert "\"'>" in text_of(page), each.address

    assert {address: what for address, what in ran.items() if what} == {}


def test_no_markup_of_others_is_left_in_a_draft_written_as_markdown(app: Flask) -> None:
    """CommonMark 0.31, sections 4.6 and 6.6: HTML in Markdown is handed on as it is wherever a bare `<` begins it."""
    (answer,) = answers(app, [("", "/panels/wall/appendix.md?draft=1")])
    text = answer.body.decode("utf-8")

    seen = [
        said(line, begins=block.kind == "paragraph")
        for block in blocks_of(text)
        for row in block.lines
        for line in (cells_of(row) if block.kind == "table" else [row])
    ]

    assert "<" not in text
    assert f"panel {MARKUP}" in seen
    assert sum(MARKUP in each for each in seen) >= 10
