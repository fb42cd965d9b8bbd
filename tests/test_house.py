"""The house itself: what lies at its top level, what is locked, what is brought in before it is asked for."""

import ast
import json
import re
import subprocess
import sys
import tomllib
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest
from checkout import ROOT, bare_environment, list_files
from packaging.requirements import Requirement

TOP_LEVEL = {"README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", "provenance", "schemas", "tests"} | {
    "sample_archive"
}

# Each of these costs more than a tenth of a second, or belongs to commands that most calls do not use.
BROUGHT_WHEN_ASKED_FOR = {
    "PIL",
    "jsonschema_rs",
    "multiprocessing.connection",
    "numpy",
    "pdfminer",
    "pdfplumber",
    "pypdfium2",
    "pytesseract",
    "whoosh",
    "yaml",
}

LOCKS = ("requirements.txt", "requirements-test.txt")


def test_the_top_level_holds_only_what_the_plan_names() -> None:
    tops = {name.split("/")[0] for name in list_files()}

    assert {top for top in tops if not top.startswith(".")} <= TOP_LEVEL


@pytest.mark.parametrize("module", ["provenance", "provenance.cli"])
def test_importing_the_package_brings_in_no_library_before_it_is_needed(module: str, tmp_path: Path) -> None:
    asked = f"import json, sys, {module}; print(json.dumps(sorted(sys.modules)))"

    listed = subprocess.run(
        [sys.executable, "-c", asked], env=bare_environment(tmp_path), capture_output=True, check=True, text=True
    ).stdout

    assert module in json.loads(listed)
    assert BROUGHT_WHEN_ASKED_FOR & set(json.loads(listed)) == set()


def _pins(lock: str) -> dict[str, tuple[Requirement, int]]:
    """Each package of a lock file with its pin and the number of its hashes."""
    joined = (ROOT / ".ci" / lock).read_text(encoding="utf-8").replace("\\\n", " ")
    pins = {}
    for line in joined.splitlines():
        requirement, *hashes = re.split(r"\s+--hash=sha256:", line.strip())
        pin = Requirement(requirement)
        pins[_plain(pin.name)] = (pin, len(hashes))
    return pins


def _plain(name: str) -> str:
    """The name of a package as lock files write it."""
    return re.sub(r"[-_.]+", "-", name).lower()


def _asked(group: str) -> list[Requirement]:
    """What pyproject.toml asks for in a dependency group, the groups inside it taken in."""
    groups = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["dependency-groups"]
    asked: list[Requirement] = []
    for entry in groups[group]:
        asked += [Requirement(entry)] if isinstance(entry, str) else _asked(entry["include-group"])
    return asked


@pytest.mark.parametrize("lock", LOCKS)
def test_every_locked_package_has_one_version_and_its_hashes(lock: str) -> None:
    for name, (pin, hashes) in _pins(lock).items():
        assert [specifier.operator for specifier in pin.specifier] == ["=="], name
        assert hashes, name


@pytest.mark.parametrize("lock", LOCKS)
def test_a_lock_file_names_no_registry_and_no_folder(lock: str) -> None:
    text = (ROOT / ".ci" / lock).read_text(encoding="utf-8")

    assert not re.search(r"://|--index|--find-links|/\w+/", text)


def test_the_lock_file_for_tests_holds_what_the_groups_ask_for_and_the_versions_that_users_get() -> None:
    for_running, for_tests = _pins(LOCKS[0]), _pins(LOCKS[1])

    for requirement in _asked("test"):
        pin, _ = for_tests[_plain(requirement.name)]
        (version,) = pin.specifier
        assert requirement.specifier.contains(version.version), requirement

    assert for_running.items() <= for_tests.items()


def _imported_by_tests() -> set[str]:
    """The outside libraries that some module under `tests` imports, by the names under which they are imported."""
    own = {path.stem for path in (ROOT / "tests").iterdir()} | {"provenance"}
    imported = set()
    for path in (ROOT / "tests").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                imported |= {alias.name.split(".")[0] for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
                imported.add(node.module.split(".")[0])
    return imported - own - sys.stdlib_module_names


def test_every_library_that_the_tests_import_is_asked_for() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    asked = {_plain(requirement.name) for requirement in map(Requirement, project["dependencies"])}
    asked |= {_plain(requirement.name) for requirement in _asked("test")}
    carried_by = packages_distributions()

    unasked = {
        name
        for name in _imported_by_tests()
        if asked.isdisjoint(_plain(carrier) for carrier in carried_by.get(name, ()))
    }

    assert unasked == set()


def test_the_gates_refuse_a_word_that_they_do_not_know() -> None:
    asked = ["sh", str(ROOT / "tests" / "run.sh"), "quickly"]

    answered = subprocess.run(asked, capture_output=True, check=False, text=True)

    assert answered.returncode == 2
    assert answered.stderr == "usage: sh tests/run.sh [long]\n"
