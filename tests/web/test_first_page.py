"""The first page: how the archive stands, every number as the commands answer it, and what is said of an empty one."""

import json
import shutil
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from builders import BY, TODAY, a_component, a_feature, a_source, an_archive
from cli.command_line import ask, read_answer, run
from flask.testing import FlaskClient
from reports.read_html import Element, read_html
from tasks.team import SOUND

from provenance.records.archive import Archive
from provenance.records.decisions import Panel, Query
from provenance.reports.evidence_json import evidence_json
from provenance.tasks.evidence import evidence_for
from provenance.tasks.living import Current
from provenance.tasks.opening import Opened, open_folder
from provenance.web.app import create_app
from provenance.web.asking import LIVING
from provenance.web.first_page import LONGEST

SAMPLE = Path(__file__).parents[2] / "sample_archive" / "archive"


class Still:
    """An archive made for a test, as the pages are given it."""

    def __init__(self, archive: Archive) -> None:
        self._current = Current(Opened(folder=SOUND, archive=archive, left_out=()), date(2026, 11, 27))

    def now(self) -> Current:
        """The archive, which does not change."""
        return self._current


def flat(text: str) -> str:
    return " ".join(text.split())


def page_of(archive: Archive) -> Element:
    app = create_app(SOUND)
    app.extensions[LIVING] = Still(archive)
    return read(app.test_client())


def read(client: FlaskClient) -> Element:
    answer = client.get("/")
    assert answer.status_code == 200
    (main,) = read_html(answer.text).all("main")
    return main


def under(page: Element, heading: str) -> Element:
    """What stands under a heading, up to the next or to the end of the section that it names."""
    page = next((each for each in page.all("section") if each.all("h2")[0].text == heading), page)
    begin = next(n for n, each in enumerate(page.inside) if isinstance(each, Element) and each.text == heading)
    found = Element("", {})
    for each in page.inside[begin + 1 :]:
        if isinstance(each, Element) and each.tag == "h2":
            break
        found.inside.append(each)
    return found


def led(part: Element, beginning: str) -> list[str]:
    links = (each.attributes["href"] for each in part.all("a"))
    return [each.removeprefix(beginning) for each in links if each.startswith(beginning)]


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("first") / "archive"
    return Path(shutil.copytree(SAMPLE, folder, ignore=shutil.ignore_patterns(".derived")))


@pytest.fixture(scope="module")
def first(sample: Path) -> Iterator[Element]:
    with create_app(sample).test_client() as client:
        yield read(client)


@pytest.fixture(scope="module")
def grades(sample: Path) -> dict[str, str]:
    """The grade of every feature as the command answers it."""
    opened = open_folder(sample)
    found: dict[str, str] = {}
    for component, told in opened.archive.components.items():
        answer: dict[str, Any] = evidence_json(evidence_for(opened, component)) if told.features else {"features": ()}
        found |= {each["feature"]: each["grade"] for each in answer["features"]}
    return found


def test_it_says_what_the_archive_is_about(first: Element) -> None:
    told = flat(first.text)

    assert first.all("h1")[0].text == "Rail Car Nine Group, evidence archive"
    assert "Represented is No. 9 as it was in June 1934." in told
    assert "What is made claims to be: reproduction." in told


def test_features_are_counted_by_grade_as_the_command_grades_them(first: Element, grades: dict[str, str]) -> None:
    part = under(first, "How sure we are")

    told = {flat(each.text).partition(":")[0]: int(each.all("a")[0].text.split()[0]) for each in part.all("li")}
    assert told == Counter(grades.values())
    assert flat(part.all("p")[0].text).startswith(f"{len(grades)} features, 30 of them on thin evidence")
    assert sum(grade not in {"established", "probable"} for grade in grades.values()) == 30
    assert led(part, "/fittings?grade=") == list(told)
    assert "/machine" in led(part, "")


def test_the_bar_is_parted_as_the_features_are_and_is_not_all_that_tells_it(
    first: Element, grades: dict[str, str]
) -> None:
    (bar,) = [each for each in first.all("svg") if each.attributes["class"] == "bar"]

    widths = [float(each.attributes["width"]) for each in bar.all("rect") if each.attributes["class"] == "cell"]
    counts = [number for _, number in sorted(Counter(grades.values()).items(), key=lambda each: _RANK[each[0]])]
    assert [round(width / sum(widths) * 42, 2) for width in widths] == counts
    assert bar.attributes["aria-hidden"] == "true"


_RANK = {
    grade: number
    for number, grade in enumerate(
        ("established", "probable", "possible", "uncorroborated", "inferred", "contested", "unsupported")
    )
}


def test_what_is_needed_soonest_is_what_look_next_names_with_a_date(
    sample: Path, first: Element, grades: dict[str, str]
) -> None:
    weak = {each["feature"]: each["needed_by"] for each in ask(sample, "look-next")["features"] if each["needed_by"]}
    part = under(first, "Needed soonest, on thin evidence")

    named = led(part, "/fittings/")

    assert len(weak) == 12
    assert set(named) == weak.keys()
    assert [weak[each] for each in named] == sorted(weak.values())
    for each, item in zip(named, part.all("li"), strict=True):
        assert flat(item.text).endswith(f": {grades[each]}")


def test_finds_are_those_of_the_command(sample: Path, first: Element) -> None:
    answer: dict[str, Any] = ask(sample, "finds")

    part = under(first, "Finds that nobody has looked at")

    assert led(part, "/sources/") == [each["source"] for each in answer["finds"]]
    assert flat(part.all("p")[0].text) == f"{len(answer['finds'])} source:"


def test_open_queries_are_those_that_are_flagged(sample: Path, first: Element) -> None:
    flags = read_answer(run(sample, "flags", "--rule", "query-open", "--json").stdout)["flags"]

    part = under(first, "In doubt")

    assert len(flags) == 3
    assert sorted(led(part, "/fittings/")) == sorted(flag["about"] for flag in flags)
    assert flat(part.all("p")[0].text) == "3 queries are open:"


def test_flags_and_pairs_are_counted_as_the_commands_count_them(sample: Path, first: Element) -> None:
    levels = Counter(flag["severity"] for flag in json.loads(run(sample, "flags", "--json").stdout)["flags"])
    open_pairs = ask(sample, "copies")["pairs"]

    part = under(first, "What needs attention")

    told = {
        led(each, "/flags?level=")[0]: each.all("a")[0].text for each in part.all("li") if led(each, "/flags?level=")
    }
    assert {level: int(text.split()[0]) for level, text in told.items()} == levels
    assert list(told) == [level for level in ("stop", "warn", "note") if level in levels]
    (pairs,) = [each.all("a")[0].text for each in part.all("li") if led(each, "/copies")]
    assert pairs == f"{len(open_pairs)} pair of sources"


def test_how_to_ask_is_said(first: Element) -> None:
    assert "To ask: the field above looks through everything" in flat(first.text)


def test_an_empty_archive_says_how_to_begin() -> None:
    told = flat(page_of(replace(an_archive(), components={})).text)

    assert "Nothing is entered yet. provenance ingest FILE takes a find in" in told
    assert "No feature is entered yet." in told
    assert "No source is entered yet." in told
    assert "No query is open." in told
    assert "No flag is raised." in told


@pytest.mark.parametrize("example", [None, "99"])
def test_an_archive_without_a_machine_to_represent_says_so_and_judges_nothing(example: str | None) -> None:
    archive = an_archive(a_component(needed_by="2027"))
    assert archive.target
    target = replace(archive.target, example=example) if example else None

    told = flat(page_of(replace(archive, target=target)).text)

    assert "so nothing can be judged. What to do: " in told
    assert "1 feature is entered; none is judged yet." in told
    assert "Nothing can be flagged until the archive says which machine is represented." in told


def test_long_lists_are_cut_and_the_rest_is_counted_with_a_way_to_it() -> None:
    parts = [a_component(f"c{each:02}", a_feature("f"), needed_by="2027") for each in range(LONGEST + 3)]
    sources = [a_source(f"s{each:02}", None) for each in range(LONGEST + 2)]
    queries = {
        f"q{each:02}": Query(id=f"q{each:02}", about="c00/f", by=BY, date=TODAY, grounds="Odd.")
        for each in range(LONGEST + 1)
    }

    page = page_of(replace(an_archive(*parts, *sources), queries=queries))

    told = flat(page.text)
    assert "3 more are in the picture by date needed" in told
    assert "2 more are among the sources" in told
    assert "1 more are among the flags" in told
    assert len(led(page, "/sources/")) == LONGEST


def test_a_query_names_what_it_is_about_whatever_that_is() -> None:
    about = {"a": "headlamp/type", "b": "welcome", "c": "nothing-known"}
    queries = {each: Query(id=each, about=what, by=BY, date=TODAY, grounds="Odd.") for each, what in about.items()}
    panel = Panel(id="welcome", title="Welcome aboard", by=BY, date=TODAY)

    part = under(page_of(replace(an_archive(), queries=queries, panels={"welcome": panel})), "In doubt")

    assert [flat(each.text) for each in part.all("li")] == [
        "Headlamp: Headlamp type: Odd.", "Welcome aboard: Odd.", "nothing-known: Odd.",
    ]  # fmt: skip
    assert led(part, "/panels/") == ["welcome"]
