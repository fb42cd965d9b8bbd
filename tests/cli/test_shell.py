"""Errors become exit codes, answers become what is printed."""

import contextlib
import errno
import io
import json
import logging
import re
import subprocess
import sys
from pathlib import Path

import click
import pytest
from cli.command_line import PROGRAM, SOUND, a_copy_of, ask, read_answer, run, run_really
from cli.terminal import Terminal
from reports.pages import HOSTILE, obeyed, overlong
from tasks.team import a_text

from provenance import __version__
from provenance.cli import main
from provenance.cli.shell import _listen, _tell, page_width, show_json, today

HEAVY = {
    "whoosh",
    "pdfplumber",
    "pdfminer",
    "pypdfium2",
    "PIL",
    "pytesseract",
    "numpy",
    "yaml",
    "jsonschema_rs",
    "filelock",
}
ROOMS = {"provenance.store", "provenance.search", "provenance.tasks", "provenance.pages", "provenance.workers"}
COLOUR = re.compile(r"\x1b\[[0-9;]*m")


@pytest.fixture
def archive(tmp_path: Path) -> Path:
    return a_copy_of(SOUND, tmp_path)


def test_help_is_quick_because_it_brings_in_nothing_heavy() -> None:
    code = (
        "import sys; from provenance.cli import main; main(['--help'], standalone_mode=False); "
        "print(*sys.modules, sep='\\n', file=sys.stderr)"
    )

    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True, text=True)

    modules = set(done.stderr.split())
    assert "click" in modules
    assert (HEAVY | ROOMS) & modules == set()
    assert "Commands:" in done.stdout


@pytest.mark.parametrize("command", sorted(main.commands))
def test_every_command_has_a_help_that_ends_with_its_example(command: str) -> None:
    lines = run(None, command, "--help").stdout.split("\n")

    example = lines.index("  Example:")
    assert lines[example + 1].startswith(f"    provenance {command}")
    assert max(map(len, lines)) <= 100


def test_the_version_is_told() -> None:
    assert run(None, "--version").stdout == f"provenance, version {__version__}\n"


def test_without_a_command_the_help_is_shown() -> None:
    result = run(None)

    assert result.exit_code == 2
    assert "Commands:" in result.output


def test_the_nearest_archive_above_is_used(archive: Path) -> None:
    done = run_really("check", cwd=archive / "sources")

    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith("5 records: no errors")


@pytest.mark.parametrize(
    "words",
    [["search", "lamp"], ["evidence", "headlamp"], ["flags"], ["check"], ["rebuild"], ["upgrade"], ["ingest", "x"]],
)
def test_a_folder_that_is_no_archive_ends_with_3(tmp_path: Path, words: list[str]) -> None:
    result = run(tmp_path, *words)

    assert (result.exit_code, result.stdout) == (3, "")
    assert result.stderr.startswith("error: there is no archive.yaml in ")
    assert "\n  mend: " in result.stderr
    assert ask(tmp_path, *words, code=3)["answer"] == "error"


@pytest.mark.parametrize(
    ("words", "what"),
    [
        (["search"], "Missing argument 'QUERY'."),
        (["search", "lamp", "--limit", "0"], "Invalid value for '--limit'"),
        (["evidence", "headlamp", "--fro"], "No such option"),
        (["flags", "headlamp"], "unexpected extra argument"),
        (["evidnce", "headlamp"], "No such command 'evidnce'."),
        ([], "No such option"),
    ],
)
def test_a_usage_fault_is_an_answer_where_json_was_asked_for(words: list[str], what: str) -> None:
    as_text = run(None, *words)
    result = run(None, *words, "--json")

    answer = read_answer(result.stdout)
    assert (as_text.exit_code, result.exit_code) == (2, 2)
    assert as_text.stdout == ""
    assert result.stderr == ""
    assert answer["answer"] == "error"
    assert what in answer["what"]
    assert answer["mend"].startswith("Usage: ")


def test_a_folder_that_is_a_file_is_a_usage_fault_of_the_shell_itself(archive: Path) -> None:
    result = run(archive / "archive.yaml", "check", "--json")

    assert result.exit_code == 2
    assert read_answer(result.stdout)["answer"] == "error"
    assert "is a file" in run(archive / "archive.yaml", "check").stderr


def test_derived_data_that_cannot_be_used_ends_with_6(archive: Path) -> None:
    a_text(archive / ".derived" / "search", "no folder\n")

    result = run(archive, "rebuild")
    answered = run(archive, "search", "lamp")

    assert result.exit_code == 6
    assert "the search index cannot be written" in result.stderr
    assert ask(archive, "rebuild", code=6)["answer"] == "error"
    assert answered.exit_code == 0
    assert "made for this answer alone" in answered.stdout
    assert run(archive, "evidence", "headlamp").exit_code == 0


def test_names_from_outside_are_only_text_in_what_is_printed(tmp_path: Path) -> None:
    name = "a\x1b[31m\x9b2J\u202e"
    (tmp_path / name).mkdir()

    told = run(tmp_path / name, "check")
    answered = run(tmp_path / name, "check", "--json")

    assert obeyed(told.stderr) == []
    assert r"\x1b[31m\x9b2J\u202e" in told.stderr
    assert obeyed(answered.stdout) == []
    assert name in read_answer(answered.stdout)["what"]


def test_an_answer_in_json_is_whole_though_nothing_in_it_can_reach_the_terminal(
    capsys: pytest.CaptureFixture[str],
) -> None:
    show_json({"title": HOSTILE, "grüße": "ограда ½ “so”"})

    printed = capsys.readouterr().out
    assert obeyed(printed) == []
    assert json.loads(printed) == {"title": HOSTILE, "grüße": "ограда ½ “so”"}
    assert "ограда ½ “so”" in printed


def test_an_answer_never_holds_what_json_has_no_word_for() -> None:
    with pytest.raises(ValueError, match="JSON"):
        show_json({"weight": float("inf")})


def test_a_pipe_is_given_pages_of_a_hundred_columns(archive: Path) -> None:
    done = run_really("--archive", archive, "evidence", "headlamp", env={"COLUMNS": "200"})

    longest = max(map(len, done.stdout.split("\n")))
    assert 90 < longest <= 100


@pytest.mark.parametrize(("columns", "width"), [("70", 70), ("20", 60), ("300", 120)])
def test_a_terminal_is_given_pages_as_wide_as_it_is_within_reason(archive: Path, columns: str, width: int) -> None:
    with Terminal("--archive", archive, "evidence", "headlamp", env={"COLUMNS": columns}) as terminal:
        code = terminal.finish()

    assert code == 0
    assert overlong(terminal.shown, width) == []
    assert width - 15 < max(map(len, terminal.shown.split("\n"))) <= width


def test_under_test_there_is_no_terminal() -> None:
    assert page_width() == 100


@pytest.mark.parametrize(
    "words", [["evidence", "headlamp"], ["flags"], ["check"], ["rebuild"], ["search", "lamp"], ["--help"]]
)
def test_no_colour_is_used_where_none_is_wanted(archive: Path, words: list[str]) -> None:
    """By the convention of no-color.org: NO_COLOR set, to whatever value."""
    with Terminal("--archive", archive, *words, env={"NO_COLOR": "1"}) as terminal:
        code = terminal.finish()

    assert code == 0
    assert not COLOUR.search(terminal.shown)


def test_answers_are_utf_8_whatever_the_locale(archive: Path) -> None:
    for encoding in ("ascii", "latin-1"):
        done = run_really("--archive", archive, "evidence", "headlamp/kind", env={"PYTHONIOENCODING": encoding})

        assert done.returncode == 0, done.stderr
        assert "“acetylene lamp”" in done.stdout


def test_a_reader_who_has_seen_enough_is_no_fault_to_be_explained(archive: Path) -> None:
    """As `provenance flags | head -n 1`: the pipe is closed before all is written."""
    process = subprocess.Popen(
        [str(PROGRAM), "--archive", str(archive), "flags"], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    assert process.stdout is not None
    assert process.stderr is not None
    process.stdout.close()

    told = process.stderr.read()
    process.wait(60)
    process.stderr.close()

    assert "Traceback" not in told


@pytest.mark.parametrize("words", [["evidence", "headlamp"], ["evidence", "headlamp", "--json"]])
def test_an_answer_for_which_there_is_no_room_is_told_to_be_lost(archive: Path, words: list[str]) -> None:
    # full(4): "writes to the /dev/full device fail with an ENOSPC error".
    with Path("/dev/full").open("w", encoding="utf-8") as full:
        command = [str(PROGRAM), "--archive", str(archive), *words]
        done = subprocess.run(command, stdout=full, stderr=subprocess.PIPE, check=False, text=True)

    assert done.returncode == 4
    assert done.stderr.startswith("error: the answer could not be printed: No space left on device\n  mend: ")
    assert done.stderr.count("\n") == 2


def test_a_fault_of_a_disk_that_nobody_foresaw_is_not_taken_for_one_of_printing(archive: Path) -> None:
    @click.command()
    def broken() -> None:
        raise OSError(errno.EIO, "somewhere else")

    main.add_command(broken)
    try:
        with pytest.raises(OSError, match="somewhere else"):
            run(archive, "broken")
    finally:
        del main.commands["broken"]


def test_what_is_logged_is_told_only_where_it_is_wanted() -> None:
    for verbose, told in ((True, "indexing \\x1b[31m\n"), (False, "")):
        stream = io.StringIO()
        with contextlib.redirect_stderr(stream), click.Context(main) as ctx:
            _listen(ctx, verbose=verbose)
            logging.getLogger("provenance.search").info("indexing %s", "\x1b[31m")

        assert stream.getvalue() == told


def test_once_the_command_is_over_nobody_listens() -> None:
    before = list(logging.getLogger().handlers)

    with click.Context(main) as ctx:
        _listen(ctx, verbose=False)
        assert len(logging.getLogger().handlers) == len(before) + 1

    assert logging.getLogger().handlers == before


def test_a_stream_that_has_no_encoding_is_left_as_it_is() -> None:
    """As within a program that gathers the output in memory."""
    gathered = io.StringIO()

    with contextlib.redirect_stdout(gathered), contextlib.redirect_stderr(gathered):
        main(["new", "--help"], standalone_mode=False)

    assert "Begin an archive in DIR." in gathered.getvalue()


def test_a_failure_without_a_mend_is_one_line(capsys: pytest.CaptureFixture[str]) -> None:
    _tell("the disk is full", "", wants_json=False)

    assert capsys.readouterr().err == "error: the disk is full\n"


def test_verbose_changes_no_answer(archive: Path) -> None:
    quiet = run_really("--archive", archive, "check")
    verbose = run_really("--archive", archive, "--verbose", "check")

    assert (verbose.returncode, verbose.stdout) == (quiet.returncode, quiet.stdout)


def test_today_is_a_date_as_records_write_it() -> None:
    assert re.fullmatch(r"\d{4}-\d{2}-\d{2}", today())
