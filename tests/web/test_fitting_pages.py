"""The pages of the fittings: every figure is that of the command, and nothing that others wrote is alive on them."""

import itertools
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient
from reports.hostile import on_one_line
from reports.read_html import Element
from web.fitting_archives import (
    HANDED,
    a_claim,
    a_client,
    a_sample,
    a_source,
    an_archive_of,
    give_picture,
    the_page,
    write_records,
)

from provenance.reports.evidence_json import evidence_json
from provenance.reports.evidence_text import chance
from provenance.reports.fit_text import shown
from provenance.reports.signs import signs_json
from provenance.tasks.evidence import evidence_for
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.signs import signs_for
from provenance.web.fitting_pages import OPEN_AT_FIRST


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Opened:
    return open_folder(a_sample(tmp_path_factory.mktemp("fittings")))


@pytest.fixture(scope="module")
def client(sample: Opened) -> FlaskClient:
    return a_client(sample.folder)


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> FlaskClient:
    folder = an_archive_of(tmp_path_factory.mktemp("hostile"), list(HANDED.values()))
    for number in range(len(HANDED)):
        give_picture(folder, f"s{number}")
    return a_client(folder)


def the_answer(opened: Opened, feature: str, *without: str) -> dict[str, Any]:
    """What `provenance evidence FEATURE --json` says of a feature."""
    answer: Any = evidence_json(evidence_for(opened, feature, without=without))
    (said,) = answer["features"]
    return dict(said)


def having(page: Element, attribute: str) -> list[Element]:
    return [each for each in page.all() if attribute in each.attributes]


def headings(page: Element) -> list[tuple[int, str]]:
    return [(int(each.tag[1]), on_one_line(each.text)) for each in page.all("h1", "h2", "h3", "h4", "h5", "h6")]


def number(text: str) -> float | None:
    return float(text) if text else None


def test_every_figure_on_the_page_of_a_feature_is_that_of_the_answer_in_json(
    sample: Opened, client: FlaskClient
) -> None:
    for feature in sample.archive.features:
        said, page = the_answer(sample, feature), the_page(client, f"/fittings/{feature}")

        (verdict,) = having(page, "data-feature")
        assert verdict.attributes["data-grade"] == said["grade"]
        assert verdict.attributes["data-value"] == (said["value"] or "")
        assert float(verdict.attributes["data-posterior"]) == said["posterior"]
        assert int(verdict.attributes["data-lines"]) == said["lines"]
        rivals = {each.attributes["data-value"]: each.attributes for each in having(page, "data-posterior")[1:]}
        others = {each["value"]: each for each in said["candidates"] if each["value"] != said["value"]}
        assert rivals.keys() == others.keys()
        for value, rival in rivals.items():
            assert (rival["data-grade"], float(rival["data-posterior"])) == (
                others[value]["grade"],
                others[value]["posterior"],
            )
        shown_items = Counter(
            (
                each.attributes["data-claim"],
                each.attributes["data-source"],
                float(each.attributes["data-weight"]),
                each.attributes["data-counted"] == "yes",
            )
            for each in having(page, "data-weight")
        )
        items = [item for candidate in said["candidates"] for item in candidate["items"]]
        assert shown_items == Counter(
            (each["claim"], each["source"], each["weight"], each["counted"]) for each in items
        )
        assert {each.attributes["data-flag"] for each in having(page, "data-flag")} == set(said["flags"])


def test_the_figures_of_a_measure_are_those_of_the_answer_in_json(sample: Opened, client: FlaskClient) -> None:
    measures = [each for each in sample.archive.features if the_answer(sample, each)["quantity"]]
    assert len(measures) > 5
    for feature in measures:
        said = the_answer(sample, feature)["quantity"]

        (measured,) = having(the_page(client, f"/fittings/{feature}"), "data-mean")

        told = measured.attributes
        assert (told["data-unit"], number(told["data-mean"])) == (said["unit"], said["mean"])
        assert (number(told["data-expanded"]), number(told["data-nominal"])) == (said["expanded"], said["nominal"])


def test_what_is_read_are_the_same_figures_in_words(sample: Opened, client: FlaskClient) -> None:
    page = the_page(client, "/fittings/coupling/form")

    said = the_answer(sample, "coupling/form")
    terms = [each.text for each in page.all("dt", "dd")]
    assert terms[terms.index("Chance") + 1] == chance(said["posterior"])
    assert terms[terms.index("Independent witnesses") + 1] == str(said["lines"])
    for item in (item for candidate in said["candidates"] for item in candidate["items"]):
        if item["weight"] > 0:
            counted = "Counted" if item["counted"] else "Not counted beside the others"
            assert f"{counted}, {item['weight']:.1f} points." in page.text


def test_a_measure_to_be_made_stands_there_in_both_units(client: FlaskClient) -> None:
    page = the_page(client, "/fittings/end-window/opening")

    terms = [each.text for each in page.all("dt", "dd")]
    assert terms[terms.index("Make") + 1] == "1 ft 7 3/4 in (501.65 mm)"  # 19.75 x 25.4 = 501.65
    assert terms[terms.index("To limits") + 1] == "plus 1/16 in (1.59 mm), minus nothing"


def test_the_list_has_every_component_and_feature_with_its_value_and_grade(sample: Opened, client: FlaskClient) -> None:
    page = the_page(client, "/fittings")

    linked = {each.attributes["href"] for each in page.all("a")}
    assert {f"/fittings/{each}" for each in (*sample.archive.components, *sample.archive.features)} <= linked
    grades = Counter(the_answer(sample, each)["grade"] for each in sample.archive.features)
    counts = {
        each.attributes["href"].rpartition("=")[2]: int(each.text.split()[0])
        for each in page.all("a")
        if each.attributes["href"].startswith("/fittings?grade=")
    }
    assert counts == grades
    for line in (each for each in page.all("li") if "/" in _place(each)):
        said = the_answer(sample, _place(line))
        assert said["grade"] in line.text
        assert said["value"] is None or said["kind"] == "choice" or said["value"] in line.text


def _place(line: Element) -> str:
    """The feature that a line of a list leads to; empty where it leads to none."""
    found = [each for each in line.all("a") if each.attributes.get("class") == "what"]
    return found[0].attributes["href"].removeprefix("/fittings/") if len(found) == 1 else ""


@pytest.mark.parametrize(
    ("asked", "features"),
    [
        ("grade=contested", {"coupling/form"}),
        ("text=rim", {"headlamp/rim"}),
        ("text=H-241", {"end-window/opening", "end-window/glass"}),
        ("needed=2027-03", {"headlamp/illuminant", "headlamp/bracket-height", "headlamp/rim"}),
        ("needed=2027-03&grade=established", {"headlamp/illuminant"}),
        ("text=no+such+thing", set()),
    ],
)
def test_the_list_is_narrowed(client: FlaskClient, asked: str, features: set[str]) -> None:
    page = the_page(client, f"/fittings?{asked}")

    assert {place for each in page.all("li") if (place := _place(each))} == features
    assert ("Nothing has all of that." in page.text) == (not features)


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ("grade=certain", "the grades are: established"),
        ("needed=soon", "write a date such as 2027-03"),
        ("needed=2027/..", "has no last day"),
    ],
)
def test_what_cannot_be_narrowed_by_is_said_and_everything_is_shown(
    sample: Opened, client: FlaskClient, asked: str, told: str
) -> None:
    page = the_page(client, f"/fittings?{asked}")

    (alert,) = (each for each in page.all("p") if each.attributes.get("role") == "alert")
    assert told in alert.text
    assert f"{len(sample.archive.components)} components" in page.text


def test_a_component_names_the_way_up_its_parts_and_its_features(client: FlaskClient) -> None:
    page = the_page(client, "/fittings/body")

    way = next(each for each in page.all("nav") if each.attributes.get("class") == "way")
    assert [each.text for each in way.all("a")] == ["Fittings", "Rail car"]
    linked = {each.attributes["href"] for each in page.all("a")}
    assert {"/fittings/headlamp", "/fittings/seat", "/fittings/body/width"} <= linked
    assert "/fittings/axle" not in linked


@pytest.mark.parametrize("address", ["/fittings/exhaust-lagging", "/fittings/exhaust-lagging/material"])
def test_a_caution_stands_before_everything_else(client: FlaskClient, address: str) -> None:
    page = the_page(client, address)

    (main,) = page.all("main")
    told = list(main.all("h1", "h2", "strong"))[1].text
    assert told == "Caution, asbestos."
    assert "is not evidence that it is safe to make or use today" in page.text


@pytest.mark.parametrize(
    ("address", "nearest"),
    [("headlmap", "headlamp"), ("headlamp/rimm", "headlamp/rim"), ("headlmap/rim", "headlamp")],
)
def test_an_unknown_name_is_answered_with_the_nearest(client: FlaskClient, address: str, nearest: str) -> None:
    page = the_page(client, f"/fittings/{address}", 404)

    assert f"`{nearest}`" in page.text


@pytest.mark.parametrize(
    ("feature", "without"),
    [
        ("coupling/form", ("letter-1933-06-20",)),
        ("coupling/form", ("letter-1933-06-20", "photo-no9-carrowsea-1934")),
        ("headlamp/illuminant", ("photo-no9-carrowsea-1934",)),
        ("exhaust-lagging/material", ("handbook-1933",)),
    ],
)
def test_without_a_source_stands_what_the_answer_says_without_it(
    sample: Opened, client: FlaskClient, feature: str, without: tuple[str, ...]
) -> None:
    asked = "&".join(f"without={each}" for each in without)

    page = the_page(client, f"/fittings/{feature}?{asked}")

    said, whole = the_answer(sample, feature, *without), the_answer(sample, feature)
    told = {each.attributes["data-without"]: each.attributes["data-value"] for each in having(page, "data-without")}
    assert told["value"] == (said["value"] or "")
    assert told["grade"] == said["grade"]
    assert float(told["posterior"]) == said["posterior"]
    assert int(told["lines"]) == said["lines"]
    assert having(page, "data-feature")[0].attributes["data-grade"] == whole["grade"]
    assert (said["grade"], said["posterior"]) != (whole["grade"], whole["posterior"])
    checked = {each.attributes["value"] for each in page.all("input") if "checked" in each.attributes}
    assert checked == set(without)


def test_without_a_source_that_there_is_not_is_said(client: FlaskClient) -> None:
    page = the_page(client, "/fittings/coupling/form?without=letter-1933-06-21")

    (alert,) = (each for each in page.all("p") if each.attributes.get("role") == "alert")
    assert "`letter-1933-06-20`" in alert.text
    assert having(page, "data-without") == []


def test_every_source_of_the_evidence_can_be_left_out_by_a_form(sample: Opened, client: FlaskClient) -> None:
    page = the_page(client, "/fittings/headlamp/illuminant")

    offered = {each.attributes["value"] for each in page.all("input") if each.attributes["name"] == "without"}
    named = the_answer(sample, "headlamp/illuminant")["candidates"]
    assert offered == {item["source"] for candidate in named for item in candidate["items"]}


def test_each_piece_of_evidence_leads_to_its_place_in_the_source(sample: Opened, client: FlaskClient) -> None:
    page = the_page(client, "/fittings/coupling/form")

    linked = {each.attributes["href"] for each in page.all("a")}
    items = [item for each in the_answer(sample, "coupling/form")["candidates"] for item in each["items"]]
    assert len(items) == 5
    for item in items:
        beginning = f"/sources/{item['source']}/pages/{item['at']['page']}"
        wanted = f"{beginning}?region={item['at']['region'].replace(':', '%3A').replace(',', '%2C')}"
        assert wanted in linked
        assert f"/sources/{item['source']}" in linked


def test_a_picture_says_what_it_shows_to_who_cannot_see_it(client: FlaskClient) -> None:
    page = the_page(client, "/fittings/coupling/form")

    said = [each.attributes["alt"] for each in page.all("img")]
    title = "Petrol Rail Cars: working instructions and list of parts, second issue"
    reads = "Both ends of the car carry link and pin couplings of the Company's standard."
    assert f"Page 7 of “{title}”, where it reads: {reads}" in said
    assert "" not in said


def test_signs_are_those_of_the_looking_list(sample: Opened, client: FlaskClient) -> None:
    page = the_page(client, "/fittings/headlamp/illuminant")

    signs: Any = signs_json(signs_for(sample, "headlamp/illuminant"))["signs"]
    told = [(each.attributes["data-sign"], float(each.attributes["data-bits"])) for each in having(page, "data-sign")]
    assert told == [(each["sign"], each["bits"]) for each in signs]
    assert having(the_page(client, "/fittings/headlamp/rim"), "data-sign") == []


def test_headings_go_down_one_at_a_time_and_no_script_or_style_stands_on_a_page(
    sample: Opened, client: FlaskClient
) -> None:
    addresses = ["/fittings", *(f"/fittings/{each}" for each in (*sample.archive.components, *sample.archive.features))]
    for address in [*addresses, "/fittings/coupling/form?without=letter-1933-06-20&without=x"]:
        page = the_page(client, address)

        levels = [level for level, _ in headings(page)]
        assert levels[0] == 1
        assert levels.count(1) == 1
        assert all(after <= before + 1 for before, after in itertools.pairwise(levels)), address
        assert page.all("style") == []
        assert [each.attributes["src"] for each in page.all("script")] == ["/static/drafts.js"]  # keeps what is typed
        assert [each.tag for each in page.all() if "style" in each.attributes] == []
        named = [each.attributes["id"] for each in page.all() if "id" in each.attributes]
        assert len(named) == len(set(named))


def test_what_others_wrote_is_read_and_never_alive(hostile: FlaskClient) -> None:
    for address in (
        "/fittings",
        "/fittings/lamp",
        "/fittings/lamp/kind",
        "/fittings/lamp/kind?without=s1&without=%3Cb%3E",
    ):
        page = the_page(hostile, address)

        assert [each.attributes["src"] for each in page.all("script")] == ["/static/drafts.js"]
        assert page.all("style", "iframe", "object", "embed", "svg", "base", "math") == []
        for each in page.all():
            assert not [name for name in each.attributes if name.startswith("on") or name in {"style", "srcdoc"}]
            assert each.attributes.get("href", "/").startswith(("/", "#", "data:,"))
            if each.tag != "script":
                assert each.attributes.get("src", "/cut-outs/").startswith(("/cut-outs/", "/figures/"))
        assert address.count("/") < 3 or len(page.all("img")) == len(HANDED)


@pytest.mark.parametrize("text", HANDED.values(), ids=HANDED.keys())
def test_what_others_wrote_stands_on_the_page_letter_for_letter(hostile: FlaskClient, text: str) -> None:
    read = on_one_line(_everything(hostile))

    assert read.count(on_one_line(shown(text))) >= 3  # as a title, as an option, as a reason at least


_kept: dict[int, str] = {}


def _everything(client: FlaskClient) -> str:
    if id(client) not in _kept:
        _kept[id(client)] = the_page(client, "/fittings/lamp/kind").text
    return _kept[id(client)]


def test_words_asked_for_stand_in_the_form_and_are_no_markup(client: FlaskClient) -> None:
    page = the_page(client, "/fittings?text=%22%3E%3Cscript%3Ealert(1)%3C/script%3E")

    (words,) = (each for each in page.all("input") if each.attributes["name"] == "text")
    assert words.attributes["value"] == '"><script>alert(1)</script>'


def test_a_page_with_sixty_pieces_of_evidence_shows_the_first_and_folds_the_rest(tmp_path: Path) -> None:
    folder = an_archive_of(tmp_path, ["lamp"])
    sources = [f"t{number:02}" for number in range(60)]
    records = {f"sources/{each}.yaml": a_source(each) for each in sources}
    write_records(folder, {**records, "claims/c0.yaml": a_claim("o0", sources, "lit by gas")})

    page = the_page(a_client(folder), "/fittings/lamp/kind")

    exhibits = list(page.all("article"))
    folded = [each for details in page.all("details") for each in details.all("article")]
    assert (len(exhibits), len(folded)) == (60, 60 - OPEN_AT_FIRST)
    assert "52 more" in page.text


def test_before_a_machine_is_named_the_list_is_shown_and_a_feature_says_what_is_missing(tmp_path: Path) -> None:
    folder = an_archive_of(tmp_path, ["lamp"])
    archive = (folder / "archive.yaml").read_text(encoding="utf-8")
    (folder / "archive.yaml").write_text(archive.replace('"target"', '"x-target"'), encoding="utf-8")
    client = a_client(folder)

    assert "not judged yet" in the_page(client, "/fittings").text
    assert "not judged yet" in the_page(client, "/fittings/lamp").text
    assert "which example is represented" in the_page(client, "/fittings/lamp/kind", 500).text


def test_a_page_says_anew_what_a_changed_record_changes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = an_archive_of(tmp_path, ["lamp"])
    client = a_client(folder)
    before = the_page(client, "/fittings/lamp/kind")
    monkeypatch.setattr("provenance.tasks.living.LOOKS_AGAIN", 0.0)
    claim = (folder / "claims/c0.yaml").read_text(encoding="utf-8")
    (folder / "claims/c0.yaml").write_text(claim.replace('"supports"', '"contradicts"'), encoding="utf-8")

    after = the_page(client, "/fittings/lamp/kind")

    grades = [having(page, "data-feature")[0].attributes["data-grade"] for page in (before, after)]
    assert grades == ["uncorroborated", "unsupported"]
