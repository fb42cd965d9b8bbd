"""Who is writing: --by, else PROVENANCE_BY, else the local settings file, else asked at a terminal."""

from pathlib import Path

import pytest
from cli.command_line import SOUND, a_copy_of, ask, run
from cli.terminal import Terminal
from tasks.team import a_text

from provenance.store.loading import load

PEOPLE = "people:\n  - {id: mh, name: M. Hollin}\n  - {id: tw, name: T. Wenlark}\n  - {id: jk, name: J. Kell}\n"


@pytest.fixture
def archive(tmp_path: Path) -> Path:
    """An archive that three people work on, and a letter that somebody hands in."""
    folder = a_copy_of(SOUND, tmp_path)
    head = (folder / "archive.yaml").read_text(encoding="utf-8")
    a_text(folder / "archive.yaml", head.partition("people:")[0] + PEOPLE)
    a_text(tmp_path / "letter.txt", "The bracket is of steel.\n")
    return folder


def letter_of(archive: Path) -> str:
    return str(archive.parent / "letter.txt")


def writer_of(archive: Path) -> str:
    (record,) = (source for key, source in load(archive).archive.sources.items() if key.startswith("letter-"))
    return record.by


@pytest.mark.parametrize(
    ("option", "variable", "settings", "writes"),
    [
        (["--by", "mh"], "tw", "by: jk\n", "mh"),
        ([], "tw", "by: jk\n", "tw"),
        ([], None, "by: jk\n", "jk"),
    ],
)
def test_the_option_comes_before_the_variable_and_that_before_the_local_settings(
    archive: Path, option: list[str], variable: str | None, settings: str, writes: str
) -> None:
    a_text(archive / ".provenance.local.yaml", settings)

    result = run(archive, "ingest", letter_of(archive), *option, env={"PROVENANCE_BY": variable})

    assert result.exit_code == 0, result.output
    assert writer_of(archive) == writes


def test_where_nobody_is_named_and_nobody_can_be_asked_that_is_a_usage_error(archive: Path) -> None:
    result = run(archive, "ingest", letter_of(archive))

    assert result.exit_code == 2
    assert all(way in result.stderr for way in ("--by", "PROVENANCE_BY", ".provenance.local.yaml"))
    assert ask(archive, "ingest", letter_of(archive), code=2)["what"] == "it is not said who is writing"
    assert set(load(archive).archive.sources) == {"handbook", "photograph"}


def test_settings_that_name_nobody_are_passed_over(archive: Path) -> None:
    a_text(archive / ".provenance.local.yaml", "# nothing yet\n")

    assert run(archive, "ingest", letter_of(archive)).exit_code == 2


def test_whoever_is_named_has_to_be_among_the_people(archive: Path) -> None:
    result = run(archive, "ingest", letter_of(archive), "--by", "zz")

    assert result.exit_code == 2
    assert "(jk, mh, tw)" in result.stderr


def test_at_a_terminal_it_is_asked(archive: Path) -> None:
    with Terminal("--archive", archive, "ingest", letter_of(archive), "--workers", "1") as terminal:
        terminal.wait_for("Who is writing")
        terminal.enter("tw\n")
        code = terminal.finish()

    assert code == 0, terminal.shown
    assert writer_of(archive) == "tw"


def test_whoever_would_rather_not_say_stops_the_command_and_nothing_is_written(tmp_path: Path) -> None:
    with Terminal("new", tmp_path / "ours") as terminal:
        terminal.wait_for("Who is writing")
        terminal.interrupt()
        code = terminal.finish()

    assert code == 130
    assert "stopped; the same command can be given again" in terminal.shown
    assert not (tmp_path / "ours").exists()


@pytest.mark.parametrize(("option", "variable", "first"), [(["--by", "mh"], "tw", "mh"), ([], "tw", "tw")])
def test_a_new_archive_has_its_first_person_from_the_option_or_the_variable(
    tmp_path: Path, option: list[str], variable: str, first: str
) -> None:
    result = run(None, "new", str(tmp_path / "ours"), *option, env={"PROVENANCE_BY": variable})

    assert result.exit_code == 0
    assert load(tmp_path / "ours").archive.person_ids == {first}


def test_a_new_archive_needs_somebody(tmp_path: Path) -> None:
    assert run(None, "new", str(tmp_path / "ours")).exit_code == 2
    assert not (tmp_path / "ours").exists()
