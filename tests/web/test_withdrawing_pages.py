"""Taken out of judgement from a page: what that would change is seen first, and the record is the command's."""

from collections.abc import Sequence
from pathlib import Path

import pytest
from cli.command_line import ask
from tasks.team import a_text
from web.deciding_archives import ACETYLENE, BY, ELECTRIC, KIND, an_archive_to_decide_in, told
from web.writing_client import Desk, state_of_records

WHY = "it is a later hoax"


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return Desk(an_archive_to_decide_in(tmp_path))


@pytest.fixture
def twin(tmp_path: Path) -> Path:
    return an_archive_to_decide_in(tmp_path / "twin")


@pytest.mark.parametrize(
    ("address", "words"),
    [
        ("sources/photograph", ["sources/photograph"]),
        (f"claims/{ELECTRIC}", [f"claims/{ELECTRIC}"]),
        (f"claims/{ELECTRIC}?item=2", [f"{ELECTRIC}#2"]),
    ],
)
def test_a_withdrawal_is_the_record_that_the_command_writes(
    desk: Desk, twin: Path, address: str, words: Sequence[str]
) -> None:
    answer = desk.send(desk.open(f"/withdraw/{address}"), why=WHY)

    assert answer.status_code == 303
    done = ask(twin, "withdraw", *words, "--why", WHY, *BY)
    assert state_of_records(desk.folder) == state_of_records(twin)
    page = told(desk.client.get(answer.location).text)
    for sentence in done["said"]:
        in_names = sentence.replace(ELECTRIC, "the claim of “electric”").replace(KIND, "“Headlamp: Kind of lamp”")
        assert in_names[1:] in page
    assert f": {WHY}" in page[page.index("Withdrawn ,") :]


def test_a_decision_is_withdrawn_and_what_is_in_force_then_is_said_before_and_after(desk: Desk, twin: Path) -> None:
    for folder in (desk.folder, twin):
        ask(folder, "decide", KIND, "--build", "acetylene", "--why", "so", "--release", "--id", "first", *BY)
        ask(folder, "decide", KIND, "--build", "electric", "--why", "so", "--release", "--id", "second", *BY)

    page = Desk(desk.folder).client.get("/withdraw/decisions/second").text
    answer = desk.send(desk.open("/withdraw/decisions/second"), why=WHY)

    again = "is in force again (build “acetylene”)"
    assert again in told(page)
    assert again in told(desk.client.get(answer.location).text)
    ask(twin, "withdraw", "decisions/second", "--why", WHY, *BY)
    assert state_of_records(desk.folder) == state_of_records(twin)


def test_what_it_would_change_is_seen_before_and_nothing_is_written(desk: Desk, twin: Path) -> None:
    before = state_of_records(desk.folder)

    page = told(desk.client.get(f"/withdraw/claims/{ELECTRIC}").text)

    assert state_of_records(desk.folder) == before
    done = ask(twin, "withdraw", ELECTRIC, "--why", WHY, *BY)
    (changed,) = (sentence for sentence in done["said"] if sentence.startswith(KIND))
    then = changed.partition("after: ")[2].partition(";")[0].rstrip(".")
    assert page.index("What this would change") < page.index(then) < page.index("Withdraw it", page.index(then))


def test_of_a_claim_each_item_may_be_withdrawn_alone(desk: Desk) -> None:
    page = desk.client.get(f"/withdraw/claims/{ELECTRIC}").text

    assert f'href="/withdraw/claims/{ELECTRIC}?item=1"' in page
    assert f'href="/withdraw/claims/{ELECTRIC}?item=2"' in page
    assert "this one" in told(desk.client.get(f"/withdraw/claims/{ELECTRIC}?item=2").text)
    assert desk.client.get(f"/withdraw/claims/{ELECTRIC}?item=3").status_code == 404


def test_without_a_reason_nothing_is_withdrawn(desk: Desk) -> None:
    before = state_of_records(desk.folder)

    answer = desk.send(desk.open(f"/withdraw/claims/{ELECTRIC}?item=2"), why=" ")

    assert answer.status_code == 400
    assert "not said why" in told(answer.text)
    assert "this one" in told(answer.text)
    assert state_of_records(desk.folder) == before


def test_a_record_that_changed_meanwhile_is_shown_as_it_was_and_as_it_is(desk: Desk) -> None:
    form = desk.open("/withdraw/sources/print")
    record = desk.folder / "sources" / "print.yaml"
    a_text(record, record.read_text(encoding="utf-8") + "note: its back is stamped\n")

    refused = desk.send(form, why=WHY)

    assert refused.status_code == 409
    assert "<mark>note: its back is stamped</mark>" in refused.text
    assert desk.form_of(refused).fields["why"] == [WHY]
    assert desk.send(desk.form_of(refused)).status_code == 303


def test_what_is_withdrawn_is_not_asked_about_again_and_what_is_not_there_is_missing(desk: Desk) -> None:
    ask(desk.folder, "withdraw", "sources/print", "--why", WHY, *BY)
    desk = Desk(desk.folder)

    assert "Withdraw it" not in desk.client.get("/withdraw/sources/print").text
    assert desk.client.get("/withdraw/sources/nothing").status_code == 404
    assert desk.client.get("/withdraw/panels/nothing").status_code == 404


def test_where_nothing_can_be_judged_yet_that_is_said_and_it_is_withdrawn_all_the_same(desk: Desk) -> None:
    head = desk.folder / "archive.yaml"
    lines = head.read_text(encoding="utf-8").splitlines(keepends=True)
    a_text(head, "".join(line for line in lines if not line.startswith("target:")))
    desk = Desk(desk.folder)

    page = desk.client.get("/withdraw/sources/print")

    assert "It could not be looked at what this would change" in told(page.text)
    assert desk.send(desk.form_of(page), why=WHY).status_code == 303


def test_one_gets_there_from_the_source_the_evidence_and_the_decision(desk: Desk) -> None:
    one = ask(desk.folder, "decide", KIND, "--build", "electric", "--why", "so", *BY)["record"]
    desk = Desk(desk.folder)

    assert 'href="/withdraw/sources/print"' in desk.client.get("/sources/print").text
    assert f'href="/withdraw/claims/{ACETYLENE}?item=1"' in desk.client.get(f"/fittings/{KIND}").text
    assert f'href="/withdraw/decisions/{one}"' in desk.client.get(f"/decisions/{one}").text
