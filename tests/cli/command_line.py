"""The command line as people and programs use it: in this process, or really in a process of its own."""

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from answers import faults_of
from click.testing import CliRunner, Result

from provenance.cli import main

ROOT = Path(__file__).parents[2]
SOUND = ROOT / "tests" / "archives" / "sound"
PROGRAM = Path(sys.executable).with_name("provenance")


def a_copy_of(archive: Path, scratch: Path) -> Path:
    """A copy to work in, without what was derived."""
    return Path(shutil.copytree(archive, scratch / "archive", ignore=shutil.ignore_patterns(".derived")))


def run(
    folder: Path | None, *words: str, given: str | None = None, env: Mapping[str, str | None] | None = None
) -> Result:
    """Run a command in this process, on that archive; nobody is said to be writing unless `env` says so."""
    options = [] if folder is None else ["--archive", str(folder)]
    said = {"PROVENANCE_BY": None, **(env or {})}
    return CliRunner().invoke(main, [*options, *words], input=given, env=said, catch_exceptions=False)


def ask(folder: Path | None, *words: str, code: int = 0) -> dict[str, Any]:
    """Run a command with `--json`; the answer is held against its schema."""
    result = run(folder, *words, "--json")
    assert result.exit_code == code, result.output
    assert result.stderr == ""
    return read_answer(result.stdout)


def read_answer(printed: str) -> dict[str, Any]:
    """The answer that was printed, once it was held against its schema."""
    answer: dict[str, Any] = json.loads(printed)
    assert faults_of(answer) == []
    return answer


def run_really(
    *words: str | Path, env: Mapping[str, str] | None = None, cwd: Path | None = None
) -> "subprocess.CompletedProcess[str]":
    """Run the installed program in a process of its own, with the environment changed as `env` says."""
    command = [str(PROGRAM), *map(str, words)]
    whole = {name: value for name, value in os.environ.items() if name != "PROVENANCE_BY"} | dict(env or {})
    return subprocess.run(
        command, capture_output=True, check=False, text=True, encoding="utf-8", env=whole, cwd=cwd, timeout=120
    )
