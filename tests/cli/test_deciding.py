"""The commands of the workshop: decide, made, query, used."""

from pathlib import Path

import pytest
from cli.command_line import SOUND, a_copy_of, ask, run
from click.shell_completion import ShellComplete

from provenance.cli import main
from provenance.cli.shell import today
from provenance.records.dates import parse_edtf
from provenance.records.decisions import Release
from provenance.store.loading import load

CLAIM = "headlamp-kind-acetylene"
DECIDE = ["decide", "headlamp/kind", "--build", "acetylene", "--basis", CLAIM, "--why", "as the handbook says"]
BY = ["--by", "mh"]


@pytest.fixture
def archive(tmp_path: Path) -> Path:
    return a_copy_of(SOUND, tmp_path)


def test_a_fitting_is_decided_made_found_not_to_fit_and_looked_up_again(archive: Path) -> None:
    proposed = ask(archive, *DECIDE, *BY, "--id", "lamp", "--drawing", "R9-104:A", "--date", "2026-02-01")
    released = ask(archive, "decide", "lamp", "--release", *BY, "--date", "2026-03-01")
    made = ask(archive, "made", "headlamp/kind", "--as-made", "acetylene", "--fits", "badly", "--note", "tight", *BY)
    rests = ask(archive, "used", "handbook")
    flags = ask(archive, "flags", "--component", "headlamp")

    assert (proposed["record"], proposed["written"]) == ("lamp", ["decisions/lamp.yaml"])
    assert released["written"] == ["decisions/lamp.yaml"]
    assert made["written"] == [f"queries/headlamp-kind-misfit-{today()}.yaml", "decisions/lamp.yaml"]
    assert {entry["record"] for entry in rests["rests"]} == {f"claims/{CLAIM}.yaml", "decisions/lamp.yaml"}
    assert {"built-on-thin-evidence", "does-not-mate", "query-open"} <= {flag["flag"] for flag in flags["flags"]}
    assert run(archive, "check").exit_code == 0
    decision = load(archive).archive.decisions["lamp"]
    assert decision.released == Release(by="mh", date=parse_edtf("2026-03-01"))
    assert (str(decision.date), decision.drawings[0].issue, decision.made[0].note) == ("2026-02-01", "A", "tight")


def test_what_is_thin_about_a_decision_is_printed_before_what_was_written(archive: Path) -> None:
    page = run(archive, *DECIDE, *BY)

    assert page.exit_code == 0
    assert page.stdout.index("built on thin evidence") < page.stdout.index(f"written: decisions/{CLAIM}.yaml")


def test_what_was_made_otherwise_than_decided_is_printed(archive: Path) -> None:
    run(archive, *DECIDE, *BY, "--release")

    page = run(archive, "made", "headlamp/kind", "--as-made", "electric", *BY)

    assert page.exit_code == 0
    assert page.stdout.startswith("Decided was “acetylene”, made was “electric”.")
    assert page.stdout.endswith(f"written: decisions/{CLAIM}.yaml\n")


def test_the_tab_key_offers_features_and_records(archive: Path) -> None:
    run(archive, *DECIDE, *BY, "--id", "head-one")
    complete = ShellComplete(main, {}, "provenance", "_PROVENANCE_COMPLETE")
    at = ["--archive", str(archive)]

    def offered(*words: str, typed: str) -> list[str]:
        return [item.value for item in complete.get_completions([*at, *words], typed)]

    assert {"headlamp/kind", "headlamp/hood"} <= set(offered("decide", typed="headlamp/"))
    assert "head-one" in offered("query", typed="head-")
    assert offered("decide", "headlamp/kind", "--basis", typed="headlamp-k") == [CLAIM]
    assert "handbook" in offered("used", typed="hand")


def test_a_doubt_is_raised_and_answered(archive: Path) -> None:
    raised = ask(archive, "query", "headlamp/kind", "--grounds", "a driver says oil", "--raised-by", "J. Marl", *BY)
    page = run(archive, "query", raised["record"], "--answer", "the burner was found", *BY)

    query = load(archive).archive.queries[raised["record"]]
    assert page.stdout == f"written: queries/{query.id}.yaml\n"
    assert (query.raised_by, query.answer, query.answered_by) == ("J. Marl", "the burner was found", "mh")


def test_a_page_of_what_rests_on_a_source(archive: Path) -> None:
    page = run(archive, "used", "handbook")

    assert page.stdout.startswith(f"One record rests on sources/handbook.yaml:\n  claims/{CLAIM}.yaml claims")


@pytest.mark.parametrize(
    ("words", "code", "mend"),
    [
        (["decide", "headlamp/kind", "--build", "acetylene"], 2, "--why"),
        (["decide", "headlamp/kind", "--why", "so it is"], 2, "--build"),
        (["decide", "headlamp", "--build", "acetylene", "--why", "x"], 2, "COMPONENT/FEATURE"),
        (["decide", "lamp", "--release", "--why", "x"], 2, "alone"),
        (["decide", "lamp", "--release"], 3, "--build"),
        (["query", "headlamp/kind"], 2, "--why"),
        (["query", "headlamp/kind", "--why", "x", "--answer", "y"], 2, "--answer"),
        (["query", "headlamp/kind", "--why", "x", "--answered-by", "y"], 2, "leave out"),
        (["query", "doubt", "--answer", "x", "--would-settle", "y"], 2, "leave out"),
        (["made", "headlamp/kind", "--as-made", "gas"], 2, "--release"),
        (["used", "handbok"], 3, "handbook"),
        (["decide", "headlamp/kind", "--build", "x", "--why", "y", "--by", "nobody"], 2, "people"),
    ],
)
def test_what_cannot_be_done_is_refused_with_the_mend(archive: Path, words: list[str], code: int, mend: str) -> None:
    by = [] if "--by" in words or words[0] == "used" else BY

    answer = ask(archive, *words, *by, code=code)

    assert (answer["answer"], mend in answer["mend"]) == ("error", True)
    assert not (archive / "decisions").exists()
    assert not (archive / "queries").exists()


def test_nobody_writes_without_a_name(archive: Path) -> None:
    assert run(archive, *DECIDE).exit_code == 2


@pytest.mark.parametrize(("written", "choice"), [("16 gauge", "16 SWG"), ("3.4½", "3 ft 4 1/2 in")])
def test_a_doubtful_figure_is_neither_decided_on_nor_written_down_as_made(
    archive: Path, written: str, choice: str
) -> None:
    lamp = archive / "components" / "headlamp.yaml"
    height = "  - {id: height, name: Height, aspect: dimension, kind: quantity, unit: mm}\n"
    lamp.write_text(lamp.read_text(encoding="utf-8") + height, encoding="utf-8")
    ask(archive, "decide", "headlamp/height", "--build", "40 in", "--why", "Conjecture.", "--release", *BY)
    before = {path: path.read_bytes() for path in archive.rglob("*.yaml")}

    decided = ask(archive, "decide", "headlamp/height", "--build", written, "--why", "Conjecture.", *BY, code=2)
    made = ask(archive, "made", "headlamp/height", "--as-made", written, *BY, code=2)

    assert choice in decided["mend"]
    assert choice in made["mend"]
    assert {path: path.read_bytes() for path in archive.rglob("*.yaml")} == before
