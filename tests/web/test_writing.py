"""How a page writes: in whose name, on what it had before it, and what becomes of what was typed.

A form is sent as HTML's standard has it (WHATWG HTML, 4.10.21); 303 leads on by GET (RFC 9110, 15.4.4), 409 says that
the state of the record forbids it (15.5.10), and 413 that it is too large (15.5.14).
"""

import json
from pathlib import Path

import pytest
from cli.command_line import SOUND, a_copy_of, ask
from flask import Response
from web.writing_client import ORIGIN, Desk, state_of_records

from provenance.reports.written import Written
from provenance.tasks.querying import raise_query
from provenance.web.writing import WRITER, Writer, carry_out

ABOUT = "headlamp/kind"
GROUNDS = "a <b>driver</b> says that it burnt oil"


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return Desk(a_copy_of(SOUND, tmp_path))


def test_a_page_writes_the_record_that_the_command_writes(desk: Desk, tmp_path: Path) -> None:
    twin = a_copy_of(SOUND, tmp_path / "twin")

    answer = desk.send(desk.open("/queries"), about=ABOUT, grounds=GROUNDS, would_settle="a photograph")

    assert answer.status_code == 303
    done = ask(twin, "query", ABOUT, "--why", GROUNDS, "--would-settle", "a photograph", "--by", "mh")
    assert state_of_records(desk.folder) == state_of_records(twin)
    told = desk.client.get(answer.location).text
    assert all(file in told for file in done["written"])
    assert 'id="written"' not in desk.client.get(answer.location).text


def test_the_lines_of_a_text_are_those_of_the_record_though_browsers_end_them_otherwise(
    desk: Desk, tmp_path: Path
) -> None:
    twin = a_copy_of(SOUND, tmp_path / "twin")
    grounds, settles, said = "it burnt oil,\nsays a driver", "a photograph\nof the rear end", "It did not.\nSee page 2."

    asked = desk.send(desk.open("/queries"), about=ABOUT, grounds=grounds, would_settle=settles)
    done = ask(twin, "query", ABOUT, "--why", grounds, "--would-settle", settles, "--by", "mh")
    answered = desk.send(desk.open(f"/queries/{done['record']}"), answer=said)

    ask(twin, "query", str(done["record"]), "--answer", said, "--by", "mh")
    assert [asked.status_code, answered.status_code] == [303, 303]
    assert state_of_records(desk.folder) == state_of_records(twin)


def test_who_writes_is_kept_in_the_browser_and_nowhere_else_to_be_read(desk: Desk) -> None:
    first = desk.open("/queries")
    assert first.choices["by"] == ["", "mh"]

    answer = desk.send(first, about=ABOUT, grounds=GROUNDS)

    kept = next(each for each in answer.headers.getlist("Set-Cookie") if each.startswith(WRITER))
    assert "HttpOnly" in kept
    assert "SameSite=Strict" in kept
    assert desk.open("/queries").fields["by"] == ["mh"]


def test_two_archives_of_one_machine_keep_apart_what_a_browser_keeps_of_them(desk: Desk, tmp_path: Path) -> None:
    other = Desk(a_copy_of(SOUND, tmp_path / "other"))
    cookies = [
        {
            each.partition("=")[0]
            for each in at.send(at.open("/queries"), about=ABOUT, grounds=GROUNDS).headers.getlist("Set-Cookie")
        }
        for at in (desk, other)
    ]

    assert all(cookies)
    assert cookies[0].isdisjoint(cookies[1])  # a browser sends all cookies of a machine to each of its ports


@pytest.mark.parametrize(("by", "said"), [("", "not said who is writing"), ("nobody", "obody of this archive")])
def test_nothing_is_written_in_nobodys_name_and_what_was_typed_stays(desk: Desk, by: str, said: str) -> None:
    before = state_of_records(desk.folder)
    desk.by = by

    answer = desk.send(desk.open("/queries"), about=ABOUT, grounds=GROUNDS)

    assert answer.status_code == 400
    assert said in answer.text
    assert desk.form_of(answer).fields["grounds"] == [GROUNDS]
    assert state_of_records(desk.folder) == before


def test_what_a_task_refuses_is_said_on_the_page_with_what_was_typed(desk: Desk) -> None:
    before = state_of_records(desk.folder)

    answer = desk.send(desk.open("/queries"), about="headlamp/kindd", grounds=GROUNDS)

    assert answer.status_code == 404
    assert "headlamp/kind" in answer.text
    assert desk.form_of(answer).fields["about"] == ["headlamp/kindd"]
    assert state_of_records(desk.folder) == before


@pytest.mark.parametrize(
    "fields",
    [
        *({}, {"Origin": "null"}, {"Origin": "http://example.org"}, {"Origin": "http://localhost:9999"}),
        {"Origin": ORIGIN, "Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate"},
    ],
)
def test_a_page_of_another_origin_writes_nothing(desk: Desk, fields: dict[str, str]) -> None:
    form = desk.open("/queries")
    before = state_of_records(desk.folder)

    answer = desk.client.post(
        "/queries", data={**form.fields, "by": "mh", "about": ABOUT, "grounds": GROUNDS}, headers=fields
    )

    assert answer.status_code == 403
    assert state_of_records(desk.folder) == before


@pytest.mark.parametrize("token", ["", "wrong", "é"])
def test_a_form_that_no_page_of_this_run_made_is_given_back_with_what_was_typed(desk: Desk, token: str) -> None:
    before = state_of_records(desk.folder)

    refused = desk.send(desk.open("/queries"), about=ABOUT, grounds=GROUNDS, token=token)

    assert refused.status_code == 409
    assert state_of_records(desk.folder) == before
    again = desk.form_of(refused)
    assert again.fields["grounds"] == [GROUNDS]
    assert desk.send(again).status_code == 303
    assert state_of_records(desk.folder) != before


def test_the_token_of_another_browser_is_worth_nothing(desk: Desk) -> None:
    theirs = Desk(desk.folder).open("/queries")

    answer = desk.send(desk.open("/queries"), about=ABOUT, grounds=GROUNDS, token=theirs.fields["token"][0])

    assert answer.status_code == 409


@pytest.fixture
def queried(desk: Desk) -> str:
    done = ask(desk.folder, "query", ABOUT, "--why", GROUNDS, "--by", "mh")
    return str(done["record"])


def test_a_record_that_changed_underneath_is_not_written_over(desk: Desk, queried: str) -> None:
    form = desk.open(f"/queries/{queried}")
    file = desk.folder / "queries" / f"{queried}.yaml"
    file.write_text(file.read_text(encoding="utf-8") + "note: the driver was asked again\n", encoding="utf-8")
    before = state_of_records(desk.folder)

    refused = desk.send(form, answer="he was thinking of No. 4")

    assert refused.status_code == 409
    assert state_of_records(desk.folder) == before
    assert "<mark>note: the driver was asked again</mark>" in refused.text
    assert refused.text.index("As you saw") < refused.text.index("As it stands now")
    again = desk.form_of(refused)
    assert again.fields["answer"] == ["he was thinking of No. 4"]
    assert desk.send(again).status_code == 303
    written = file.read_text(encoding="utf-8")
    assert "he was thinking of No. 4" in written
    assert "the driver was asked again" in written


def test_a_record_that_came_meanwhile_is_a_change_too(desk: Desk, queried: str) -> None:
    form = desk.open(f"/queries/{queried}")
    (desk.folder / "queries" / f"{queried}.yaml").unlink()

    refused = desk.send(form, answer="yes")

    assert refused.status_code in {404, 409}
    assert not (desk.folder / "queries" / f"{queried}.yaml").exists()


@pytest.mark.parametrize(
    "shown", ["[", "[]", "7", '{"queries/x.yaml": 1}', '{"queries/x.yaml": {"sha256": "z", "text": ""}}', "[" * 5000]
)
def test_a_form_that_was_tampered_with_writes_nothing(desk: Desk, shown: str) -> None:
    before = state_of_records(desk.folder)

    answer = desk.send(desk.open("/queries"), about=ABOUT, grounds=GROUNDS, shown=shown)

    assert answer.status_code == 400
    assert state_of_records(desk.folder) == before


@pytest.mark.parametrize(
    "file", ["../secret.yaml", "/etc/passwd", "claims/../../secret.yaml", ".provenance.local.yaml"]
)
def test_no_form_brings_to_light_a_file_that_is_no_record(desk: Desk, file: str) -> None:
    (desk.folder.parent / "secret.yaml").write_text("the secret", encoding="utf-8")
    shown = json.dumps({file: {"sha256": "0" * 64, "text": ""}})

    answer = desk.send(desk.open("/queries"), about=ABOUT, grounds=GROUNDS, shown=shown)

    assert answer.status_code >= 400
    assert "the secret" not in answer.text
    assert "root:" not in answer.text


@pytest.mark.parametrize("name", ["x" * 300, "%00", "A", "a--b", "con"])
@pytest.mark.parametrize(
    "address",
    [
        *("/queries/{}", "/decisions/{}", "/panels/{}/statements", "/withdraw/claims/{}", "/sources/{}/tag"),
        *("/copies/{}", "/sources/{}/pages/1/correct", "/sources/{}/claim", "/fittings/{}/kind/decide"),
    ],
)
def test_what_no_record_can_be_called_is_found_nowhere(desk: Desk, address: str, name: str) -> None:
    assert desk.client.get(address.format(name)).status_code == 404


def test_a_record_that_became_unreadable_gives_back_what_was_typed(desk: Desk, queried: str, tmp_path: Path) -> None:
    form = desk.open(f"/queries/{queried}")
    elsewhere, file = tmp_path / "elsewhere", desk.folder / "queries" / f"{queried}.yaml"
    elsewhere.write_text("a secret of this machine", encoding="utf-8")
    file.unlink()
    file.symlink_to(elsewhere)

    answer = desk.send(form, answer=GROUNDS)

    assert answer.status_code == 409
    assert desk.form_of(answer).fields["answer"] == [GROUNDS]
    assert "a secret" not in answer.text
    assert elsewhere.read_text(encoding="utf-8") == "a secret of this machine"


def test_what_was_typed_while_the_archive_could_not_be_read_is_sent_again_once_it_can(desk: Desk) -> None:
    form, head = desk.open("/queries"), desk.folder / "archive.yaml"
    sound = head.read_bytes()
    head.write_text("title: [", encoding="utf-8")

    refused = desk.send(form, about=ABOUT, grounds=GROUNDS)
    before = state_of_records(desk.folder)
    again = desk.form_of(refused)
    head.write_bytes(sound)
    again.action = form.action

    assert refused.status_code == 500
    assert "archive.yaml cannot be used" in refused.text
    assert again.fields["grounds"] == [GROUNDS]
    assert "queries/headlamp-kind-query.yaml" not in before
    assert desk.send(again).status_code == 303
    assert (desk.folder / "queries" / "headlamp-kind-query.yaml").exists()


def test_what_was_written_is_not_called_refused_though_the_archive_cannot_be_read_just_after_it(desk: Desk) -> None:
    def write(writer: Writer) -> Written:
        done = raise_query(writer.opened, ABOUT, GROUNDS, by=writer.by, today=writer.today)
        (desk.folder / "archive.yaml").write_text("title: [", encoding="utf-8")
        return done

    def view() -> Response:
        return carry_out(write, again=lambda refused: refused.what, to=lambda _: "/queries")

    desk.client.application.add_url_rule("/spoiled", view_func=view, methods=["POST"])
    form = desk.open("/queries")
    form.action = "/spoiled"

    assert desk.send(form).status_code == 303
    assert (desk.folder / "queries" / "headlamp-kind-query.yaml").exists()


def test_a_mistake_of_the_pages_themselves_gives_back_what_was_typed(desk: Desk) -> None:
    desk.client.application.add_url_rule("/wrong", view_func=lambda: str(1 // 0), methods=["POST"])

    answer = desk.client.post("/wrong", data={"token": "t", "grounds": GROUNDS}, headers={"Origin": ORIGIN})

    assert answer.status_code == 500
    assert "made a mistake" in answer.text
    assert desk.form_of(answer).fields["grounds"] == [GROUNDS]


def test_more_than_a_person_types_is_refused(desk: Desk) -> None:
    answer = desk.send(desk.open("/queries"), about=ABOUT, grounds="x" * 3_000_000)

    assert answer.status_code == 413
    assert "more than these pages take" in answer.text


def test_nothing_of_a_query_stands_in_the_field_to_search_with(desk: Desk, queried: str) -> None:
    page = desk.client.get(f"/queries/{queried}").text

    assert '<input id="ask-all" name="q" type="search" autocomplete="off">' in page


def test_an_answered_query_stays_on_record_and_offers_no_second_answer(desk: Desk, queried: str) -> None:
    desk.send(desk.open(f"/queries/{queried}"), answer="no, gas")

    page = desk.client.get(f"/queries/{queried}").text

    assert "no, gas" in page
    assert "Answer it" not in page
    assert "answered" in desk.client.get("/queries").text


_NAMED = {
    "component": "headlamp",
    "feature": "kind",
    "source_id": "handbook",
    "record_id": "handbook",
    "source": "handbook",
    "what": "person",
    "folder": "sources",
}


def every_write(desk: Desk) -> list[str]:
    """Every address that takes a form, with names of the sound archive in it where it has such."""
    rules = [rule for rule in desk.client.application.url_map.iter_rules() if "POST" in (rule.methods or ())]
    return [
        rule.build({name: 1 if name == "number" else _NAMED.get(name, "x") for name in rule.arguments})[1]  # type: ignore[index]  # every name is given
        for rule in rules
    ]


def test_no_address_writes_for_a_page_of_another_origin_or_without_the_token_of_its_form(desk: Desk) -> None:
    addresses = every_write(desk)
    desk.client.get("/queries")
    typed = {"by": "mh", "name": "Somebody", "id": "sb", "about": ABOUT, "grounds": GROUNDS, "line": "x", "why": "x"}
    before = state_of_records(desk.folder)

    for address in addresses:
        foreign = desk.client.post(address, data=typed, headers={"Origin": "http://example.org"})
        silent = desk.client.post(address, data=typed)
        without = desk.client.post(address, data=typed, headers={"Origin": ORIGIN})

        assert (address, foreign.status_code, silent.status_code) == (address, 403, 403)
        assert without.status_code != 303, address
    assert state_of_records(desk.folder) == before
    assert {"/queries", "/add/person", "/sources/handbook/pages/1/correct"} <= set(addresses)
