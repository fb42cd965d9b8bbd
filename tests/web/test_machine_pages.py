"""The machine, the flags and what to look for next in a browser: the same as the commands answer, and nothing live."""

import shutil
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any
from urllib.parse import quote

import pytest
from builders import BY, TODAY, a_claim, a_component, a_feature, a_source, an_archive
from cli.command_line import read_answer, run
from flask import Flask
from flask.testing import FlaskClient
from leads import a_lead
from reports.hostile import HOSTILE
from reports.read_html import Element, read_html
from tasks.team import SOUND

from provenance.records.archive import Archive
from provenance.records.dates import parse_edtf
from provenance.records.decisions import Query
from provenance.reports.date_words import date_words
from provenance.reports.evidence_json import evidence_json
from provenance.reports.fit_text import shown as fit
from provenance.tasks.evidence import evidence_for
from provenance.tasks.living import Current
from provenance.tasks.opening import Opened, open_folder
from provenance.web.app import create_app
from provenance.web.asking import LIVING
from provenance.web.machine_pages import ROWS

SAMPLE = Path(__file__).parents[2] / "sample_archive" / "archive"


class Still:
    """An archive made for a test, as the pages are given it."""

    def __init__(self, archive: Archive) -> None:
        self._current = Current(Opened(folder=SOUND, archive=archive, left_out=()), date(2026, 11, 27))

    def now(self) -> Current:
        """The archive, which does not change."""
        return self._current


@cache
def pages_of_any_archive() -> Flask:
    return create_app(SOUND)


def client_of(archive: Archive) -> FlaskClient:
    app = pages_of_any_archive()
    app.extensions[LIVING] = Still(archive)
    return app.test_client()


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("pages") / "archive"
    return Path(shutil.copytree(SAMPLE, folder, ignore=shutil.ignore_patterns(".derived")))


@pytest.fixture(scope="module")
def client(sample: Path) -> Iterator[FlaskClient]:
    with create_app(sample).test_client() as asking:
        yield asking


def page(client: FlaskClient, address: str, code: int = 200) -> Element:
    answer = client.get(address)
    assert answer.status_code == code, answer.text
    return read_html(answer.text)


@cache
def answered(folder: Path, *words: str) -> dict[str, Any]:
    return read_answer(run(folder, *words, "--json").stdout)


def flat(text: str) -> str:
    return " ".join(text.split())


def main_of(read: Element) -> Element:
    (main,) = read.all("main")
    return main


def rows_of(read: Element, number: int = -1) -> list[list[Element]]:
    """The cells of each row of a table, the last one unless another is meant, without its head."""
    body = main_of(read).all("tbody")[number]
    return [row.all("th", "td") for row in body.all("tr")]


def leading(read: Element, beginning: str) -> list[str]:
    return [each.attributes["href"] for each in main_of(read).all("a") if each.attributes["href"].startswith(beginning)]


# The machine


def test_every_feature_stands_in_the_picture_and_in_the_table_with_the_grade_that_the_command_answers(
    sample: Path, client: FlaskClient
) -> None:
    read = page(client, "/machine")

    (picture,) = [each for each in read.all("svg") if each.attributes.get("class") == "machine"]
    drawn = {each.attributes["href"].removeprefix("/fittings/"): each.all("title")[0].text for each in picture.all("a")}
    rows = {cells[0].all("a")[0].attributes["href"].removeprefix("/fittings/"): cells for cells in rows_of(read)}
    assert len(rows) == 42
    assert rows.keys() == {about for about in drawn if "/" in about}
    opened = open_folder(sample)
    for component in ("coupling", "seat", "headlamp", "floor", "maker-plate"):
        answer: dict[str, Any] = evidence_json(evidence_for(opened, component))
        for feature in answer["features"]:
            cells = rows[feature["feature"]]
            assert flat(cells[0].text).endswith(f": {feature['name']}")
            assert flat(cells[2].text) == feature["grade"]
            assert f"{flat(cells[1].text)}; {feature['grade']}" in flat(drawn[feature["feature"]])
            if feature["kind"] in {"text", "presence"}:
                assert flat(cells[1].text) == (feature["value"] or "no value")


def test_the_legend_counts_as_the_table_does(client: FlaskClient) -> None:
    read = page(client, "/machine")

    (legend,) = [each for each in read.all("ul") if each.attributes.get("class") == "legend"]
    told = dict(flat(each.text).split(": ") for each in legend.all("li"))
    grades = [flat(cells[2].text) for cells in rows_of(read)]
    assert {grade: int(number) for grade, number in told.items()} == {each: grades.count(each) for each in grades}
    assemblies = rows_of(read, 0)
    assert [flat(cells[0].text) for cells in assemblies] == ["Body", "Underframe"]
    assert sum(int(cells[1].text) for cells in assemblies) == len(grades)


@pytest.mark.parametrize("by", ["needed", "prominence"])
def test_other_ways_to_show_it_are_links_and_count_every_feature(client: FlaskClient, by: str) -> None:
    assert f"/machine?by={by}" in leading(page(client, "/machine"), "/machine?by=")

    read = page(client, f"/machine?by={by}")

    (legend,) = [each for each in read.all("ul") if each.attributes.get("class") == "legend"]
    assert sum(int(flat(each.text).rpartition(": ")[2]) for each in legend.all("li")) == 42


def test_one_assembly_is_shown_alone_with_the_way_to_it(client: FlaskClient) -> None:
    read = page(client, "/machine?of=coupling&by=needed")

    assert read.all("h1")[0].text == "Coupling"
    (way,) = [each for each in read.all("nav") if each.attributes["aria-label"] == "What it is part of"]
    assert [flat(each.text) for each in way.all("a")] == ["The whole machine", "Rail car", "Underframe", "its own page"]
    assert [cells[0].all("a")[0].attributes["href"] for cells in rows_of(read)] == [
        "/fittings/coupling/form", "/fittings/coupling/height", "/fittings/coupling/pin-diameter",
    ]  # fmt: skip


@pytest.mark.parametrize(
    "address", ["/machine?by=colour", "/machine?of=nothing", "/machine?of=..%2F..", "/machine?by="]
)
def test_what_is_not_there_is_said_with_a_way_back(client: FlaskClient, address: str) -> None:
    read = page(client, address, 404)

    assert "What to do" in read.text


def test_an_archive_that_does_not_say_what_it_is_for_shows_what_there_is_to_decide() -> None:
    read = page(client_of(replace(an_archive(), target=None)), "/machine")

    assert "nothing can be judged" in main_of(read).text
    assert [flat(cells[2].text) for cells in rows_of(read)] == ["not judged"]


def test_an_archive_without_components_says_so() -> None:
    read = page(client_of(replace(an_archive(), components={})), "/machine")

    assert "No component is entered yet." in flat(main_of(read).text)
    assert main_of(read).all("svg") == []


def test_a_long_table_goes_on_on_pages_that_together_hold_every_feature() -> None:
    features = [a_feature(f"f{each:03}") for each in range(ROWS + 30)]
    client = client_of(an_archive(a_component("lamp", *features)))

    first, second = page(client, "/machine"), page(client, "/machine?page=2")

    found = [cells[0].all("a")[0].attributes["href"] for read in (first, second) for cells in rows_of(read)]
    assert found == [f"/fittings/lamp/f{each:03}" for each in range(ROWS + 30)]
    assert "/machine?page=2" in leading(first, "/machine?page")
    assert page(client, "/machine?page=99999999").text == first.text
    assert page(client, "/machine?page=999").text == second.text


# The flags


def told_flags(read: Element) -> list[dict[str, Any]]:
    found = []
    for level, about, rule, needed, sentence in rows_of(read):
        said, mend = sentence.all("p")[:2]
        found.append(
            {
                "severity": flat(level.text),
                "about": about.all("a")[0].attributes["href"].split("/", 2)[2],
                "flag": flat(rule.text).replace(" ", "-"),
                "needed_by": flat(needed.text),
                "sentence": flat(said.text),
                "mend": flat(mend.text).removeprefix("Mend: "),
                "sources": [each.attributes["href"].removeprefix("/sources/") for each in sentence.all("a")],
            }
        )
    return found


def as_told(flag: dict[str, Any]) -> dict[str, Any]:
    """A flag of the JSON answer as the page has to show it."""
    return {
        **{key: flag[key] for key in ("severity", "about", "flag")},
        "sentence": flat(flag["sentence"]),
        "mend": flat(flag["mend"]),
        "needed_by": date_words(parse_edtf(flag["needed_by"])) if flag["needed_by"] else "",
        "sources": [] if flag["sources"] == [flag["about"]] else flag["sources"],
    }


@pytest.mark.parametrize(
    ("address", "words"),
    [
        ("/flags", ()),
        ("/flags?rule=single-source", ("--rule", "single-source")),
        ("/flags?component=coupling", ("--component", "coupling")),
        ("/flags?component=coupling&rule=query-open", ("--component", "coupling", "--rule", "query-open")),
    ],
)
def test_the_flags_are_those_of_the_command_in_its_order(
    sample: Path, client: FlaskClient, address: str, words: tuple[str, ...]
) -> None:
    answer = answered(sample, "flags", *words)

    read = page(client, address)

    assert answer["flags"]
    assert told_flags(read) == [as_told(flag) for flag in answer["flags"]][:ROWS]
    cautions = [flat(each.text) for each in read.all("div") if each.attributes.get("role") == "note"]
    assert len(cautions) == len(answer["cautions"])
    for told, caution in zip(cautions, answer["cautions"], strict=True):
        assert flat(caution["text"]) in told
        assert flat(caution["consult"]) in told


def test_what_was_not_looked_for_is_said_as_the_command_says_it(sample: Path, client: FlaskClient) -> None:
    not_looked_for = answered(sample, "flags")["not_looked_for"]

    text = flat(page(client, "/flags").text)

    assert not_looked_for
    assert all(f"Note: {sentence}" in text for sentence in not_looked_for)


def test_cautions_stand_before_everything_else(client: FlaskClient) -> None:
    told = [each.tag for each in main_of(page(client, "/flags")).all("h1", "div", "table")]

    assert told[:2] == ["h1", "div"]
    first = main_of(page(client, "/flags")).all("div")[0]
    assert first.attributes["class"] == "cautions"
    assert {each.attributes["role"] for each in first.all("div")} == {"note"}


def test_a_flag_that_is_known_and_not_raised_is_no_fault_and_what_was_not_looked_for_stays_said(
    client: FlaskClient,
) -> None:
    told = flat(page(client, "/flags?rule=fixity-broken").text)

    assert "There is no such flag." in told
    assert "Note: Files that are not as they were received were not looked for." in told


def test_narrowed_flags_keep_the_cautions_of_what_they_are_about_and_no_others(client: FlaskClient) -> None:
    # of the components of the sample the lagging names asbestos, the coupling no hazard
    assert "Caution, asbestos." in page(client, "/flags?component=exhaust-lagging").text
    assert "Caution, " not in page(client, "/flags?component=coupling").text


@pytest.mark.parametrize("level", ["stop", "warn", "note"])
def test_one_level_alone_is_shown(sample: Path, client: FlaskClient, level: str) -> None:
    read = page(client, f"/flags?level={level}")

    wanted = [flag for flag in answered(sample, "flags")["flags"] if flag["severity"] == level]
    assert told_flags(read) == [as_told(flag) for flag in wanted]


@pytest.mark.parametrize("sort", ["needed", "component", "rule"])
def test_the_heads_of_the_table_put_the_flags_in_another_order_and_lose_none(client: FlaskClient, sort: str) -> None:
    first = page(client, "/flags?level=warn")
    assert f"/flags?level=warn&sort={sort}" in leading(first, "/flags?")

    read = page(client, f"/flags?level=warn&sort={sort}")

    (marked,) = [each for each in read.all("th") if "aria-sort" in each.attributes]
    assert f"sort={sort}" in marked.all("a")[0].attributes["href"]
    assert sorted(map(repr, told_flags(read))) == sorted(map(repr, told_flags(first)))
    if sort == "rule":
        rules = [each["flag"] for each in told_flags(read)]
        assert rules == sorted(rules)


def test_the_ways_to_narrow_say_how_many_flags_they_leave(sample: Path, client: FlaskClient) -> None:
    flags = answered(sample, "flags")["flags"]
    read = page(client, "/flags")

    for name, key in (("level", "severity"), ("rule", "flag")):
        (choice,) = [each for each in read.all("select") if each.attributes["name"] == name]
        told = {each.attributes["value"]: each.text for each in choice.all("option") if each.attributes["value"]}
        kinds = {flag[key] for flag in flags}
        assert told.keys() == kinds
        for kind in kinds:
            assert told[kind].endswith(f"({sum(flag[key] == kind for flag in flags)})")


@pytest.mark.parametrize("asked", ["level=loud", "rule=no-such", "component=no-such", "sort=colour", "rule=%00"])
def test_a_way_to_narrow_that_is_not_known_is_refused_with_a_way_back(client: FlaskClient, asked: str) -> None:
    assert "What to do" in page(client, f"/flags?{asked}", 404).text


@pytest.mark.parametrize("address", ["/flags", "/next"])
def test_without_a_machine_to_represent_the_pages_say_what_is_missing(address: str) -> None:
    for archive in (
        replace(an_archive(), target=None),
        replace(an_archive(), target=replace(an_archive().target, example="99")),  # type: ignore[type-var]
    ):
        text = flat(page(client_of(archive), address).text)

        assert "nothing can be judged" in text
        assert "What to do" in text


def test_an_archive_with_nothing_to_flag_says_so() -> None:
    read = page(client_of(replace(an_archive(), components={})), "/flags")

    assert "There is no such flag." in flat(main_of(read).text)


# What to look for next


def test_what_would_lift_each_grade_and_the_leads_are_those_of_the_command(sample: Path, client: FlaskClient) -> None:
    answer = answered(sample, "look-next")

    read = page(client, "/next")

    rows = rows_of(read)
    assert [cells[0].all("a")[0].attributes["href"] for cells in rows] == [
        f"/fittings/{each['feature']}" for each in answer["features"]
    ]
    for cells, each in zip(rows, answer["features"], strict=True):
        assert flat(cells[1].text) == each["grade"]
        assert not each["would_lift"] or flat(each["would_lift"])[1:] in flat(cells[3].text)
        assert len(cells[4].all("li")) == len(each["leads"])
        for lift in each["lifts"]:
            assert flat(lift["what"])[1:] in flat(cells[3].text)
            assert f"would make it {lift['becomes']}" in flat(cells[3].text)
    useful = [each for each in answer["leads"] if each["gain"] > 0]
    (listed,) = main_of(read).all("ol")
    items = [each for each in listed.inside if isinstance(each, Element)]
    assert len(items) == len(useful)
    for item, lead in zip(items, useful, strict=True):
        assert item.all("strong")[0].text == lead["what"]
        assert f"score {round(lead['score'], 2):g}" in flat(item.text)
        assert [link.attributes["href"] for link in item.all("a")] == [f"/fittings/{each}" for each in lead["covers"]]


def test_money_is_spent_as_the_command_spends_it_and_visits_are_put_together(sample: Path, client: FlaskClient) -> None:
    answer = answered(sample, "look-next", "--money", "250 GBP", "--by", "holder")

    read = page(client, f"/next?money={quote('250 GBP')}&by=holder")

    text, spending = flat(main_of(read).text), answer["spending"]
    assert f"Together {spending['spent']};" in text
    whats = {lead["lead"]: lead["what"] for lead in answer["leads"]}
    for visit in spending["visits"]:
        assert f"{visit['place']}, " in text
        assert "; ".join(whats[lead] for lead in visit["leads"]) in text
    for each in spending["not_reckoned"]:
        assert f"{whats[each['lead']]}: {each['why']}." in text
    (listed,) = main_of(read).all("ol")
    items = [each for each in listed.inside if isinstance(each, Element)]
    visits = [visit for visit in answer["visits"] if visit["gain"] > 0]
    assert [item.all("strong")[0].text for item in items] == [visit["holder"] for visit in visits]


def test_one_component_alone_is_asked_about_as_the_command_asks(sample: Path, client: FlaskClient) -> None:
    answer = answered(sample, "look-next", "--component", "coupling")

    read = page(client, "/next?component=coupling")

    assert [cells[0].all("a")[0].attributes["href"].removeprefix("/fittings/") for cells in rows_of(read)] == [
        each["feature"] for each in answer["features"]
    ]
    page(client, "/next?component=no-such", 404)


@pytest.mark.parametrize("money", ["a lot", "12 GBP EUR", "9" * 100])
def test_what_is_no_sum_is_said_beside_the_field_and_the_rest_is_answered(client: FlaskClient, money: str) -> None:
    read = page(client, f"/next?money={quote(money)}")

    (alert,) = [each for each in read.all("p") if each.attributes.get("role") == "alert"]
    assert "is no sum of money" in alert.text
    (field,) = [each for each in read.all("input") if each.attributes.get("id") == "money"]
    assert field.attributes["aria-describedby"] == alert.attributes["id"]
    assert rows_of(read)


# What others wrote


SHOWN = {
    "html", "head", "meta", "title", "link", "body", "a", "header", "p", "form", "label", "input", "button", "nav",
    "ul", "li", "main", "h1", "h2", "div", "strong", "table", "caption", "thead", "tbody", "tr", "th", "td", "span",
    "footer",
    "ol", "select", "option", "figure", "figcaption", "svg", "desc", "defs", "pattern", "rect", "path", "circle",
    "text", "script", "bdi", "details", "summary", "code", "br", "section",
}  # fmt: skip


def require_harmless(read: Element) -> None:
    for each in read.all():
        assert each.tag in SHOWN, each.tag
        assert not [name for name in each.attributes if name.startswith("on") or name == "style"], each.attributes
        for name in ("href", "src", "action"):
            assert each.attributes.get(name, "/").startswith(("/", "#", "data:,"))
        assert each.tag != "script" or each.attributes["src"].startswith("/static/")


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE.keys())
def test_nothing_that_others_wrote_gets_a_life_of_its_own(text: str) -> None:
    archive = an_archive(
        a_component("lamp", a_feature("rim", "text", name=text), name=text, hazards=("asbestos",), needed_by="2027"),
        replace(a_component("crate", name=text), features=()),
        a_source("letter", "letter", title=text),
        a_source("scan", None, title=text),
        a_claim(text, "letter", about="lamp/rim", claim_id="c"),
    )
    lead = a_lead("tins", "lamp/rim", what=text, holder=text, place=text, reference=text, cost=text, chance=text)
    found = a_lead("tin", "lamp/rim", what=text, outcome=text, searched=True)
    query = Query(id="q", about="lamp/rim", by=BY, date=TODAY, grounds=text, raised_by=text, would_settle=text)
    client = client_of(
        replace(archive, title=text, leads={"tins": lead, "tin": found}, queries={"q": query}, people=())
    )

    pages = ["/", "/machine", "/flags", "/next?by=holder&money=5", f"/next?money={quote(text, errors='replace')}"]
    for address in pages:
        read = page(client, address)
        require_harmless(read)
        assert flat(fit(text))[:40] in flat(read.text)
