"""What the pages of the fittings show and hand out: pieces of pages, figures of our own, and the printed dossier."""

from pathlib import Path

import pytest
from flask.testing import FlaskClient
from public_folders import a_folder_that_holds_back, canaries_in
from reports.read_html import Element
from unpacked import words_in
from web.fitting_archives import a_client, a_sample, an_archive_of, give_picture, the_page

from provenance.tasks.opening import Opened, open_folder

MAGIC = {"pdf": b"%PDF-", "html": b"<!DOCTYPE html>", "docx": b"PK\x03\x04"}


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Opened:
    return open_folder(a_sample(tmp_path_factory.mktemp("files")))


@pytest.fixture(scope="module")
def client(sample: Opened) -> FlaskClient:
    return a_client(sample.folder)


def pictures(page: Element, beginning: str) -> list[str]:
    return [each.attributes["src"] for each in page.all("img") if each.attributes["src"].startswith(beginning)]


def test_a_page_makes_no_picture_and_each_address_on_it_gives_one(sample: Opened, client: FlaskClient) -> None:
    page = the_page(client, "/fittings/headlamp/rim")
    kept = sample.folder / ".derived" / "cut-outs"

    addresses = pictures(page, "/cut-outs/claims/")
    assert addresses
    assert not kept.exists()
    assert {each.attributes["loading"] for each in page.all("img")} == {"lazy"}
    answer = client.get(addresses[0])
    assert answer.status_code == 200
    assert answer.content_type in {"image/jpeg", "image/png"}
    assert [each.name for each in kept.rglob("*.cut")]


def test_a_browser_that_has_a_picture_is_told_that_it_is_still_so(client: FlaskClient) -> None:
    (address, *_) = pictures(the_page(client, "/fittings/headlamp/rim"), "/cut-outs/claims/")
    first = client.get(address)

    again = client.get(address, headers={"If-None-Match": first.headers["ETag"]})

    assert (again.status_code, again.data) == (304, b"")
    assert first.headers["Cache-Control"] == "private, no-cache"


@pytest.mark.parametrize(
    ("address", "told"),
    [
        ("/cut-outs/claims/headlamp-rim-braod/1", "`headlamp-rim-broad`"),
        ("/cut-outs/claims/headlamp-rim-broad/0", "counted from 1"),
        ("/cut-outs/made/end-window/opening/1", "no photograph of piece 1"),
        ("/cut-outs/made/end-window/opnening/1", "`end-window/opening`"),
        ("/figures/axle/journal/plan.svg", "it has: sequence, measures, descent"),
        ("/figures/axle/jounral/descent.svg", "`axle/journal`"),
    ],
)
def test_a_picture_that_there_is_not_is_said_with_what_there_is(client: FlaskClient, address: str, told: str) -> None:
    assert told in the_page(client, address, 404).text


def test_why_there_is_no_picture_of_a_text_is_said_on_the_page_and_at_its_address(
    sample: Opened, client: FlaskClient
) -> None:
    page = the_page(client, "/fittings/axle/journal")
    claim = next(each.id for each in sample.archive.claims.values() if each.about == "axle/journal")

    answer = client.get(f"/cut-outs/claims/{claim}/1")

    assert pictures(page, "/cut-outs/") == []
    assert "No picture: it is a text, of which there is no picture." in page.text
    assert (answer.status_code, answer.content_type) == (404, "text/plain; charset=utf-8")
    assert "it is a text" in answer.text


def test_every_figure_on_a_page_is_a_drawing_that_can_do_nothing(client: FlaskClient) -> None:
    addresses = pictures(the_page(client, "/fittings/axle/journal"), "/figures/")

    assert [each.rpartition("/")[2] for each in addresses] == ["sequence.svg", "measures.svg", "descent.svg"]
    for address in addresses:
        answer = client.get(address)
        assert answer.content_type.startswith("image/svg+xml")
        assert b"</svg>" in answer.data
        assert answer.headers["Content-Security-Policy"] == "default-src 'none'; style-src 'unsafe-inline'; sandbox"


def test_a_photograph_of_what_was_made_is_shown(tmp_path: Path) -> None:
    folder = an_archive_of(tmp_path, ["lamp"])
    give_picture(folder, "s0")
    decision = folder / "decisions/build.yaml"
    made = decision.read_text(encoding="utf-8").replace('"fits"', '"photo": "s0", "fits"')
    decision.write_text(made, encoding="utf-8")
    client = a_client(folder)

    (address,) = pictures(the_page(client, "/fittings/lamp/kind"), "/cut-outs/made/")

    answer = client.get(address)
    assert answer.status_code == 200
    assert answer.content_type.startswith("image/")


@pytest.mark.parametrize("wanted", MAGIC)
def test_the_dossier_is_handed_out_in_each_format(client: FlaskClient, wanted: str) -> None:
    answer = client.get(f"/fittings/axle/journal/dossier.{wanted}?for=workshop")

    assert answer.status_code == 200
    assert answer.data.startswith(MAGIC[wanted])
    assert answer.headers["Content-Disposition"] == f'attachment; filename="axle-journal-workshop.{wanted}"'
    assert "for the workshop" in words_in(answer.data)


def test_the_dossier_of_a_component_has_all_its_features(sample: Opened, client: FlaskClient) -> None:
    answer = client.get("/fittings/coupling/dossier.html")

    for feature in sample.archive.components["coupling"].features:
        assert feature.name in words_in(answer.data)


def test_the_form_leads_to_every_format(client: FlaskClient) -> None:
    page = the_page(client, "/fittings/axle/journal")

    (form,) = (each for each in page.all("form") if each.attributes.get("class") == "download")
    actions = [form.attributes["action"], *(each.attributes.get("formaction", "") for each in form.all("button"))]
    assert {each.rpartition(".")[2] for each in actions if each} == set(MAGIC)
    assert [each.attributes["value"] for each in form.all("option")] == ["team", "workshop", "contractor", "public"]


@pytest.mark.parametrize(
    ("address", "code", "told"),
    [
        ("dossier.odt", 404, "the formats are: pdf, html, docx"),
        ("dossier.pdf?for=everybody", 400, "the readers are: team, workshop, contractor, public"),
        ("dossier.pdf?for=team&draft=on", 400, "a draft is for what a contractor or the public is shown"),
        ("dossier.html?without=letter-1933-06-21", 404, "`letter-1933-06-20`"),
    ],
)
def test_what_cannot_be_printed_is_said(client: FlaskClient, address: str, code: int, told: str) -> None:
    assert told in the_page(client, f"/fittings/coupling/form/{address}", code).text


@pytest.mark.parametrize("audience", ["contractor", "public"])
def test_nothing_that_is_withheld_leaves_by_the_pages(tmp_path: Path, audience: str) -> None:
    client = a_client(a_folder_that_holds_back(tmp_path))

    answer = client.get(f"/fittings/headlamp/dossier.html?for={audience}")

    assert answer.status_code == 200
    assert canaries_in(answer.data) == []
    assert canaries_in(client.get("/fittings/headlamp/dossier.html").data)


def test_where_something_is_not_cleared_it_is_said_whom_to_ask_and_a_draft_is_offered(tmp_path: Path) -> None:
    folder = a_folder_that_holds_back(tmp_path)
    record = folder / "sources/handbook.yaml"
    changed = record.read_text(encoding="utf-8").replace("publish: allowed", "publish: ask")
    record.write_text(changed, encoding="utf-8")
    client = a_client(folder)

    page = the_page(client, "/fittings/headlamp/dossier.html?for=contractor", 409)

    (asked,) = (each for each in page.all("li") if each.text.startswith("Ask "))
    assert [each.attributes["href"] for each in asked.all("a")] == ["/sources/handbook"]
    (draft,) = (each.attributes["href"] for each in page.all("a") if "draft" in each.attributes["href"])
    made = client.get(draft)
    assert made.status_code == 200
    assert "DRAFT" in words_in(made.data)


def test_where_records_are_left_out_nothing_leaves_and_it_is_said_why(tmp_path: Path) -> None:
    folder = a_folder_that_holds_back(tmp_path)
    (folder / "sources/odd.yaml").write_text("title: [\n", encoding="utf-8")

    page = the_page(a_client(folder), "/fittings/headlamp/dossier.pdf?for=contractor", 409)

    assert "sources/odd.yaml" in page.text
    assert "provenance check" in page.text


def test_a_letter_that_no_typeface_has_is_named_with_what_to_do(tmp_path: Path) -> None:
    folder = an_archive_of(tmp_path, ["lamp"])
    record = folder / "sources/s0.yaml"
    cuneiform = record.read_text(encoding="utf-8").replace("lamp", "lamp \U00012000")
    record.write_text(cuneiform, encoding="utf-8")

    page = the_page(a_client(folder), "/fittings/lamp/kind/dossier.pdf", 409)

    assert "U+12000" in page.text
    assert "put a font that has it" in page.text
