"""What is added in the pages is what the commands add; a parts tree is looked over row by row before it is written."""

from pathlib import Path
from typing import Any

import pytest
from cli.command_line import SOUND, a_copy_of, ask, run
from web.writing_client import ORIGIN, Desk, Typed, state_of_records

BY = ("--by", "mh")
PARTS = "number,name,part of\nH-300,Cab,\nH-301,Door,Cab\n,Headlamp,Cab\n"


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return Desk(a_copy_of(SOUND, tmp_path))


@pytest.mark.parametrize(
    ("what", "typed", "command"),
    [
        (
            "component",
            {
                "name": "Lamp hood",
                "part-of": "headlamp",
                "reference": "H-205\n drawing 7 \n",
                "also": "cowl",
                "hazard": "Stored energy\nradium",
                "needed-by": "June 2027",
                "prominence": "focal",
            },
            (
                *("component", "lamp-hood", "--name", "Lamp hood", "--part-of", "headlamp", "--reference", "H-205"),
                *("--reference", "drawing 7", "--also", "cowl", "--hazard", "stored-energy", "--hazard", "radium"),
                *("--needed-by", "June 2027", "--prominence", "focal", *BY),
            ),
        ),
        (
            "feature",
            {
                "component": "headlamp",
                "name": "Fuel",
                "aspect": "form",
                "kind": "choice",
                "option": "Oil lamp\ngas=Acetylene\n",
                "changes": "in-service",
            },
            (
                *("feature", "headlamp/fuel", "--name", "Fuel", "--aspect", "form", "--kind", "choice"),
                *("--option", "oil-lamp=Oil lamp", "--option", "gas=Acetylene", "--changes", "in-service"),
            ),
        ),
        (
            "feature",
            {
                "component": "headlamp",
                "name": "Height",
                "aspect": "position",
                "kind": "quantity",
                "unit": "mm",
                "needed": "10 mm",
                "datum": "the rail",
                "id": "height-over-rail",
            },
            (
                *("feature", "headlamp/height-over-rail", "--name", "Height", "--aspect", "position"),
                *("--kind", "quantity", "--unit", "mm", "--needed", "10 mm", "--datum", "the rail"),
            ),
        ),
        (
            "panel",
            {"title": "How she was lit", "component": ["headlamp"]},
            ("panel", "how-she-was-lit", "--title", "How she was lit", "--component", "headlamp", *BY),
        ),
        (
            "lead",
            {"what": "Albums", "place": "Orrin", "effort": "small", "hoped-for": "headlamp/kind", "chance": ".3"},
            (
                *("lead", "albums", "--what", "Albums", "--place", "Orrin", "--effort", "small"),
                *("--hoped-for", "headlamp/kind", "--chance", ".3", *BY),
            ),
        ),
        ("person", {"name": "T. Wenlark", "id": "tw"}, ("person", "tw", "--name", "T. Wenlark")),
    ],
)
def test_what_a_page_adds_is_what_the_command_adds(
    desk: Desk, tmp_path: Path, what: str, typed: Typed, command: tuple[str, ...]
) -> None:
    twin = a_copy_of(SOUND, tmp_path / "twin")

    answer = desk.send(desk.open(f"/add/{what}"), typed)

    assert answer.status_code == 303, answer.text
    ask(twin, "add", *command)
    assert state_of_records(desk.folder) == state_of_records(twin)
    assert desk.client.get(answer.location).status_code == 200


def test_a_name_that_is_taken_gets_a_number(desk: Desk) -> None:
    answer = desk.send(desk.open("/add/component"), name="Headlamp")

    assert answer.location == "/fittings/headlamp-2"
    assert "is headlamp-2 another part?" in desk.client.get(answer.location).text


@pytest.mark.parametrize(
    ("what", "typed", "said"),
    [
        ("component", {"name": ""}, "“What it is called” is not filled in"),
        ("component", {"name": "Hood", "id": "A Hood"}, "is no “Short name for its file”"),
        ("component", {"name": "Hood", "needed-by": "soonish"}, "“Needed by”: “soonish” is not read as a date"),
        ("feature", {"component": "headlamp", "name": "Kind", "id": "kind"}, "already"),
        ("lead", {"what": ""}, "“What is held there” is not filled in"),
        ("panel", {"title": ""}, "“Its title” is not filled in"),
        ("person", {"name": "Somebody", "id": "mh"}, "M. Hollin already"),
    ],
)
def test_what_cannot_be_added_is_said_and_what_was_typed_stays(
    desk: Desk, what: str, typed: dict[str, str], said: str
) -> None:
    before = state_of_records(desk.folder)

    answer = desk.send(desk.open(f"/add/{what}"), typed)

    assert answer.status_code == 400
    assert said in answer.text
    form = desk.form_of(answer)
    assert {name: form.fields[name] for name in typed} == {name: [value] for name, value in typed.items()}
    assert state_of_records(desk.folder) == before


def test_statements_are_added_to_a_panel_one_after_another(desk: Desk, tmp_path: Path) -> None:
    twin = a_copy_of(SOUND, tmp_path / "twin")
    for folder in (desk.folder, twin):
        ask(folder, "add", "panel", "lamps", "--title", "Lamps", "--component", "headlamp", *BY)

    first = desk.send(desk.open("/panels/lamps/statements"), {"text": "She burnt gas.", "feature": ["headlamp/kind"]})
    second = desk.send(desk.open("/panels/lamps/statements"), {"text": "The glass was red."})

    assert [first.status_code, second.status_code] == [303, 303]
    ask(twin, "add", "statement", "lamps", "--text", "She burnt gas.", "--feature", "headlamp/kind")
    ask(twin, "add", "statement", "lamps", "--text", "The glass was red.")
    assert state_of_records(desk.folder) == state_of_records(twin)
    shown = desk.client.get("/panels/lamps").text
    assert shown.index("She burnt gas.") < shown.index("The glass was red.")


@pytest.mark.parametrize(
    ("panel", "text", "feature", "code"),
    [("lamps", " ", "headlamp/kind", 400), ("lamps", "x", "headlamp/nosuch", 400), ("nosuch", "x", "", 404)],
)
def test_a_statement_that_cannot_be_is_refused(desk: Desk, panel: str, text: str, feature: str, code: int) -> None:
    ask(desk.folder, "add", "panel", "lamps", "--title", "Lamps", *BY)
    form = desk.open("/panels/lamps/statements")
    form.action = f"/panels/{panel}/statements"
    before = state_of_records(desk.folder)

    answer = desk.send(form, {"text": text, "feature": [feature] if feature else []})

    assert answer.status_code == code
    assert state_of_records(desk.folder) == before


def send_sheet(desk: Desk, name: str, data: bytes, **typed: str) -> Any:
    form = desk.open("/add/sheet")
    fields = {**{name: values[0] for name, values in form.fields.items()}, "by": "mh", **typed}
    parts = [_part(f'name="{key}"', value.encode()) for key, value in fields.items()]
    body = b"".join([*parts, _part(f'name="sheet"; filename="{name}"', data), b"--edge--\r\n"])
    sent = "multipart/form-data; boundary=edge"
    return desk.client.post("/add/sheet", data=body, content_type=sent, headers={"Origin": ORIGIN})


def _part(said: str, data: bytes) -> bytes:
    """A part of a form as RFC 7578 has it."""
    return f"--edge\r\nContent-Disposition: form-data; {said}\r\n\r\n".encode() + data + b"\r\n"


def test_each_row_of_a_sheet_is_seen_before_the_parts_are_added(desk: Desk, tmp_path: Path) -> None:
    twin = a_copy_of(SOUND, tmp_path / "twin")
    before = state_of_records(desk.folder)

    looked = send_sheet(desk, "parts.csv", PARTS.encode())

    assert looked.status_code == 200
    assert state_of_records(desk.folder) == before
    assert "3 rows: 2 to be added, 1 known already, 0 refused" in looked.text
    answer = desk.send(desk.form_of(looked))
    assert answer.status_code == 303, answer.text
    (tmp_path / "parts.csv").write_text(PARTS, encoding="utf-8")
    done = run(twin, "add", "--sheet", str(tmp_path / "parts.csv"), *BY)
    assert done.exit_code == 0, done.output
    assert state_of_records(desk.folder) == state_of_records(twin)


def test_a_sheet_may_have_as_long_a_name_as_a_disk_can_hold(desk: Desk) -> None:
    looked_over = send_sheet(desk, f"{'部' * 80}.csv", PARTS.encode())

    assert looked_over.status_code == 200
    assert desk.form_of(looked_over).fields["step"] == ["write"]


def test_where_a_row_is_refused_nothing_is_offered_to_be_added(desk: Desk) -> None:
    looked = send_sheet(desk, "parts.csv", b"number,name,part of\nH-300,Cab,\nH-301,Door,Cabin\n")

    assert "1 to be added, 0 known already, 1 refused" in looked.text
    assert "there is no part" in looked.text
    assert "held" not in desk.form_of(looked).fields


@pytest.mark.parametrize(
    ("name", "data", "code", "said"),
    [
        ("parts.csv", b"", 400, "parts.csv"),
        ("parts.xlsx", b"no sheet at all", 400, "parts.xlsx"),
        ("parts.pdf", b"%PDF-", 400, ".csv"),
        ("../../parts.csv", b"colour,shape\nred,round\n", 400, "columns"),
        ("parts.csv", b"x" * 1_100_000, 400, "larger than a page takes"),
    ],
)
def test_a_sheet_that_cannot_be_read_is_refused(desk: Desk, name: str, data: bytes, code: int, said: str) -> None:
    before = state_of_records(desk.folder)

    answer = send_sheet(desk, name, data)

    assert answer.status_code == code
    assert said in answer.text
    assert state_of_records(desk.folder) == before


@pytest.mark.parametrize("held", ["", "%%%", "AAAA"])
def test_a_sheet_that_was_not_looked_over_is_not_added(desk: Desk, held: str) -> None:
    before = state_of_records(desk.folder)

    answer = desk.send(desk.open("/add/sheet"), step="write", held=held, held_name="../parts.csv")

    assert answer.status_code == 400
    assert state_of_records(desk.folder) == before


@pytest.mark.parametrize("what", ["nosuch", "sources"])
def test_nothing_else_is_offered_to_be_added(desk: Desk, what: str) -> None:
    assert desk.client.get(f"/add/{what}").status_code == 404
    assert desk.client.post(f"/add/{what}", headers={"Origin": ORIGIN}).status_code == 404


def test_everything_that_can_be_added_is_listed(desk: Desk) -> None:
    page = desk.client.get("/add").text

    for what in ("component", "feature", "panel", "lead", "person", "sheet"):
        assert f'href="/add/{what}"' in page
        assert desk.client.get(f"/add/{what}").status_code == 200
