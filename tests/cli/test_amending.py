"""The commands that change one's mind: withdraw, rename."""

from pathlib import Path

import pytest
from cli.command_line import SOUND, a_copy_of, ask, run

from provenance.store.loading import load


@pytest.fixture
def archive(tmp_path: Path) -> Path:
    return a_copy_of(SOUND, tmp_path)


def test_a_source_is_withdrawn_with_its_reason_and_what_that_changes_is_said(archive: Path) -> None:
    page = run(archive, "withdraw", "handbook", "--why", "a later reprint", "--by", "mh", "--date", "2026-02-01")

    assert page.exit_code == 0, page.output
    assert page.stdout.splitlines()[0] == "handbook is out of judgement; it stays in the archive, with the reason."
    assert "nothing supports any value" in page.stdout
    withdrawn = load(archive).archive.sources["handbook"].withdrawn
    assert withdrawn is not None
    assert (withdrawn.why, withdrawn.by, str(withdrawn.date)) == ("a later reprint", "mh", "2026-02-01")


def test_an_item_of_evidence_is_withdrawn_by_number_and_by_source(archive: Path) -> None:
    first = ask(archive, "withdraw", "headlamp-kind-acetylene#1", "--why", "misread", "--by", "mh")
    again = ask(
        archive, "withdraw", "headlamp-kind-acetylene", "--source", "handbook", "--why", "misread", "--by", "mh"
    )

    assert first["written"] == ["claims/headlamp-kind-acetylene.yaml"]
    assert (again["written"], again["said"]) == (
        [],
        ["item 1 of headlamp-kind-acetylene is withdrawn already: misread"],
    )


def test_what_is_not_there_is_not_withdrawn(archive: Path) -> None:
    result = run(archive, "withdraw", "hand-book", "--why", "a later reprint", "--by", "mh")

    assert (result.exit_code, result.stdout) == (3, "")
    assert "did you mean `handbook`?" in result.stderr


def test_a_record_is_renamed_with_every_reference_to_it(archive: Path) -> None:
    page = run(archive, "rename", "sources/handbook", "working-instructions")
    answer = ask(archive, "rename", "headlamp", "lamp-in-front")

    assert page.exit_code == 0, page.output
    assert page.stdout.endswith(
        "Its originals stay where they are: they are never moved.\n"
        "written: sources/working-instructions.yaml\nwritten: claims/headlamp-kind-acetylene.yaml\n"
    )
    assert answer["written"] == ["components/lamp-in-front.yaml", "claims/headlamp-kind-acetylene.yaml"]
    claim = load(archive).archive.claims["headlamp-kind-acetylene"]
    assert (claim.about, claim.evidence[0].source) == ("lamp-in-front/kind", "working-instructions")
    assert ask(archive, "check")["problems"] == []


def test_an_id_that_is_taken_is_refused(archive: Path) -> None:
    result = run(archive, "rename", "handbook", "photograph")

    assert (result.exit_code, result.stdout) == (2, "")
    assert "there is a record sources/photograph.yaml already" in result.stderr
