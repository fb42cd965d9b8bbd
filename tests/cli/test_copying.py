"""The commands on likely copies: copies, copies confirm, copies rule-out."""

from pathlib import Path

import pytest
from cli.command_line import SOUND, a_copy_of, ask, run
from click.shell_completion import ShellComplete
from tasks.team import a_text

from provenance.cli import main
from provenance.cli.copying import RULINGS
from provenance.records.kinds import Ruling
from provenance.store.loading import load
from provenance.tasks.listing_copies import RULINGS as LISTED

PAIR = "copies/handbook--photograph.yaml"
OPEN = "between: [handbook, photograph]\nfound_by: {method: by eye}\nruling: open\nby: mh\ndate: 2026-01-20\n"
BY = ("--by", "mh", "--date", "1 February 2026")
CONFIRM = ("copies", "confirm", "photograph", "handbook", "--how", "print", "--why", "the same crack")
RULE_OUT = ("copies", "rule-out", "photograph", "handbook", "--why", "the driver has moved")


@pytest.fixture
def archive(tmp_path: Path) -> Path:
    folder = a_copy_of(SOUND, tmp_path)
    a_text(folder / PAIR, OPEN)
    return folder


def test_a_pair_is_listed_tried_ruled_on_and_listed_no_more(archive: Path) -> None:
    waiting = ask(archive, "copies")
    tried = ask(archive, *CONFIRM, *BY, "--try")
    ruled = ask(archive, *CONFIRM, *BY)
    left = ask(archive, "copies")
    all_pairs = ask(archive, "copies", "--ruling", "all", "--component", "headlamp", "--source", "photograph")

    assert [pair["between"] for pair in waiting["pairs"]] == [["handbook", "photograph"]]
    assert (tried["answer"], tried["written"]) == ("copies-confirm", [])
    assert (ruled["record"], ruled["written"]) == ("handbook--photograph", ["sources/photograph.yaml", PAIR])
    assert (left["pairs"], left["open"], left["copy"]) == ([], 0, 1)
    (pair,) = all_pairs["pairs"]
    assert (pair["ruling"], pair["ruled_by"], pair["ruled_date"]) == ("copy", "mh", "2026-02-01")
    assert run(archive, "check").exit_code == 0


def test_a_pair_that_is_ruled_out_stays_so_and_is_printed(archive: Path) -> None:
    tried = run(archive, *RULE_OUT, *BY, "--try")
    page = run(archive, *RULE_OUT, *BY)
    again = ask(archive, *RULE_OUT, *BY)

    assert tried.stdout.startswith(f"Only tried: nothing was written. It would write {PAIR}.\n")
    assert page.stdout == (
        f"Ruled: neither handbook nor photograph is a copy of the other.\nNo verdict changes.\nwritten: {PAIR}\n"
    )
    assert (again["answer"], again["written"]) == ("copies-rule-out", [])
    assert load(archive).archive.copies["handbook--photograph"].ruling is Ruling.DISTINCT


def test_the_list_is_printed_with_the_commands_to_rule_by(archive: Path) -> None:
    page = run(archive, "copies")

    assert page.exit_code == 0
    assert page.stdout.startswith("One pair of sources waits for a ruling.")
    assert '  provenance copies confirm handbook photograph --how print --why "…"\n' in page.stdout


@pytest.mark.parametrize(
    ("words", "code", "mend"),
    [
        (("copies", "--component", "headlmp"), 3, "headlamp"),
        (("copies", "--source", "handbok"), 3, "handbook"),
        ((*CONFIRM[:4], "--how", "prnt", "--why", "x", *BY), 2, "print"),
        (("copies", "confirm", "photograph", "handbok", "--how", "print", "--why", "x", *BY), 3, "handbook"),
        ((*RULE_OUT, "--by", "nobody"), 2, "people"),
        (RULE_OUT, 2, "--by"),
    ],
)
def test_what_cannot_be_done_is_refused_with_the_mend(
    archive: Path, words: tuple[str, ...], code: int, mend: str
) -> None:
    answer = ask(archive, *words, code=code)

    assert (answer["answer"], mend in answer["mend"]) == ("error", True)
    assert (archive / PAIR).read_text(encoding="utf-8") == OPEN


@pytest.mark.parametrize("before", [("--json",), ("--ruling", "all"), ("--source", "handbook")])
def test_options_of_the_list_are_not_taken_for_those_of_a_ruling(archive: Path, before: tuple[str, ...]) -> None:
    refused = run(archive, "copies", *before, *RULE_OUT[1:], *BY)

    assert refused.exit_code == 2
    assert "given after its word" in refused.output
    assert (archive / PAIR).read_text(encoding="utf-8") == OPEN


def test_a_ruling_without_a_reason_is_a_usage_error(archive: Path) -> None:
    assert run(archive, *RULE_OUT[:4], *BY).exit_code == 2


def test_the_rulings_that_may_be_asked_for_are_those_of_the_records() -> None:
    assert RULINGS == LISTED


def test_the_tab_key_offers_sources_and_the_ways_of_copying(archive: Path) -> None:
    complete = ShellComplete(main, {}, "provenance", "_PROVENANCE_COMPLETE")

    def offered(*words: str, typed: str) -> list[str]:
        return [item.value for item in complete.get_completions(["--archive", str(archive), *words], typed)]

    assert offered("copies", typed="") == ["confirm", "rule-out", "show"]
    assert offered("copies", "confirm", typed="h") == ["handbook"]
    assert offered("copies", "rule-out", "handbook", typed="p") == ["photograph"]
    assert offered("copies", "confirm", "--how", typed="tran") == ["transcription", "translation"]
    assert offered("copies", "--ruling", typed="o") == ["open"]


def test_what_two_sources_have_in_common_is_shown_and_written_where_it_is_asked_for(
    archive: Path, tmp_path: Path
) -> None:
    output = tmp_path / "shown.txt"

    page = run(archive, "copies", "show", "photograph", "handbook", "--output", str(output))
    answer = ask(archive, "copies", "show", "photograph", "handbook")

    assert page.exit_code == 0
    assert page.stdout == f"{output.read_text(encoding='utf-8')}\nwritten: {output}\n"
    assert page.stdout.startswith("A: handbook, “Working instructions” (manual, 1931)\n")
    assert (answer["answer"], answer["between"], answer["output"]) == (
        "copies-show",
        ["handbook", "photograph"],
        None,
    )
