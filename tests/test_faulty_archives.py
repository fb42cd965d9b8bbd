"""Every folder under archives/faulty is a test: what a command says of one fault, and the code it exits with.

A case lays its `archive` folder over a sound archive, puts its `incoming` folder beside it, and runs its `command.txt`
(else `check`). `expected.txt` holds the exit code, then lines that must be printed, whole and in that order.
"""

import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from provenance.cli import main

ARCHIVES = Path(__file__).parent / "archives"
CASES = sorted(path.name for path in (ARCHIVES / "faulty").iterdir())


def run_case(name: str, scratch: Path) -> tuple[int, list[str]]:
    case = ARCHIVES / "faulty" / name
    shutil.copytree(ARCHIVES / "sound", scratch / "archive")
    if (case / "archive").is_dir():
        shutil.copytree(case / "archive", scratch / "archive", dirs_exist_ok=True)
    if (case / "incoming").is_dir():
        shutil.copytree(case / "incoming", scratch / "incoming")
    command = case / "command.txt"
    words = command.read_text(encoding="utf-8").split() if command.is_file() else ["check"]
    result = CliRunner().invoke(main, ["--archive", "archive", *words], catch_exceptions=False)
    return result.exit_code, result.output.splitlines()


def missing_lines(expected: list[str], printed: list[str]) -> list[str]:
    rest = iter(printed)
    return [line for line in expected if line not in rest]


@pytest.mark.parametrize("name", CASES)
def test_a_fault_is_named_with_its_place_and_mend(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    code, *expected = (ARCHIVES / "faulty" / name / "expected.txt").read_text(encoding="utf-8").splitlines()
    monkeypatch.chdir(tmp_path)

    exit_code, printed = run_case(name, tmp_path)

    assert f"exit {exit_code}" == code, printed
    assert not missing_lines(expected, printed), printed


def test_the_archive_that_the_cases_spoil_is_sound() -> None:
    result = CliRunner().invoke(main, ["--archive", str(ARCHIVES / "sound"), "check", "--fixity"])

    assert result.exit_code == 0, result.output


def test_there_are_at_least_forty_cases() -> None:
    assert len(CASES) >= 40
