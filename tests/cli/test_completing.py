"""What the Tab key offers, asked as the shell asks it."""

import os
from pathlib import Path

import pytest
from cli.command_line import PROGRAM, SOUND, a_copy_of, run, run_really
from click.shell_completion import BashComplete
from tasks.team import a_text

from provenance.cli import main


@pytest.fixture
def archive(tmp_path: Path) -> Path:
    folder = a_copy_of(SOUND, tmp_path)
    a_text(folder / "panels" / "lamp.yaml", "title: How it was lit\nby: mh\ndate: 2026-01-20\n")
    return folder


def offered(archive: Path, *words: str) -> list[str]:
    """What is offered for the last of these words, by the archive named before the command."""
    before = ["--archive", str(archive), *words[:-1]]
    found = BashComplete(main, {}, "provenance", "_PROVENANCE_COMPLETE").get_completions(before, words[-1])
    return [each.value for each in found]


def really_offered(folder: Path, *words: str) -> list[str]:
    """The same of the installed program, called in that folder by click's own script for bash."""
    asked = {
        "_PROVENANCE_COMPLETE": "bash_complete",
        "COMP_WORDS": " ".join(["provenance", *words]),
        "COMP_CWORD": str(len(words)),
    }
    done = run_really(env=asked, cwd=folder)
    assert (done.returncode, done.stderr) == (0, "")
    return [line.partition(",")[2] for line in done.stdout.splitlines() if line]


@pytest.mark.parametrize(
    ("words", "ids"),
    [
        (("claim", "head"), ["headlamp/"]),
        (("claim", "headlamp/"), ["headlamp/hood", "headlamp/kind"]),
        (("claim", "headlamp/kind", "x", "--source", "p"), ["photograph"]),
        (("tag", "h"), ["handbook"]),
        (("tag", "handbook", "--component", "h"), ["headlamp"]),
        (("tag", "handbook", "--replaces", "ph"), ["photograph"]),
        (("evidence", "head"), ["headlamp/"]),
        (("evidence", "headlamp/k"), ["headlamp/kind"]),
        (("evidence", "headlamp", "--without", "ph"), ["photograph"]),
        (("evidence", "headlamp", "--for", "con"), ["contractor"]),
        (("search", "lamp", "--component", "h"), ["headlamp"]),
        (("search", "lamp", "--kind", "ph"), ["photograph"]),
        (("search", "lamp", "--state", "un"), ["untagged"]),
        (("flags", "--component", "h"), ["headlamp"]),
        (("flags", "--rule", "no-"), ["no-datum", "no-evidence"]),
        (("appendix", "lam"), ["lamp"]),
        (("decide", "headlamp/kind", "--basis", "hea"), ["headlamp-kind-acetylene"]),
        (("withdraw", "hea"), ["headlamp-kind-acetylene"]),
        (("rename", "claims/"), ["claims/headlamp-kind-acetylene"]),
        (("rename", "h"), ["handbook", "headlamp", "headlamp-kind-acetylene"]),
    ],
)
def test_ids_are_offered_where_an_id_is_due(archive: Path, words: tuple[str, ...], ids: list[str]) -> None:
    assert offered(archive, *words) == ids


def test_the_installed_program_offers_the_ids_of_the_archive_that_it_is_called_in_or_that_is_named(
    archive: Path, tmp_path: Path
) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()

    assert really_offered(archive, "tag", "h") == ["handbook"]
    assert really_offered(elsewhere, "tag", "h") == []
    assert really_offered(elsewhere, "--archive", str(archive), "tag", "h") == ["handbook"]


def test_holders_are_offered_by_name_as_each_shell_takes_them(archive: Path) -> None:
    for number, holder in enumerate(["Orrin Library & Archive", '"Orrin: the museum"', "Pell"]):
        a_text(archive / "sources" / f"s-{number}.yaml", f"title: A\nholder: {holder}\nby: mh\ndate: 2026-01-20\n")

    assert offered(archive, "search", "x", "--holder", "Orr") == ["Orrin Library & Archive", "Orrin: the museum"]
    assert really_offered(archive, "search", "x", "--holder", "Orr") == [
        r"Orrin\ Library\ \&\ Archive",
        r"Orrin:\ the\ museum",
    ]
    assert really_offered(archive, "search", "x", "--holder", r"Orrin\ L") == [r"Orrin\ Library\ \&\ Archive"]


def test_the_help_says_how_completion_is_switched_on() -> None:
    text = run(None, "--help").stdout

    assert 'eval "$(_PROVENANCE_COMPLETE=bash_source provenance)"\n' in text
    script = run_really(env={"_PROVENANCE_COMPLETE": "bash_source"})
    assert "complete" in script.stdout
    assert os.access(PROGRAM, os.X_OK)
