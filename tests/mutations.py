"""Are the tests of the judgement awake? One line of `rules/` or `records/` is changed, and a test must fail.

    python tests/mutations.py [NAME...]

Works on a copy; exits 1 when a change goes unnoticed, and 2 when one no longer fits the source.
"""

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

from changed_lines import MUTATIONS, Mutation
from checkout import copy_checkout

LONGEST_RUN = 300.0
_TESTS_FAILED = 1


class UnfitError(Exception):
    """A change no longer fits the source that it was written for."""


def apply(mutation: Mutation, source: str) -> str:
    """Make the change in the text of the module.

    Raises:
        UnfitError: the old text does not stand exactly once, spans lines, or what comes of it is no Python.
    """
    if "\n" in mutation.old + mutation.new:
        raise UnfitError(f"{mutation.name}: changes more than one line")
    if source.count(mutation.old) != 1:
        raise UnfitError(f"{mutation.name}: {mutation.old!r} stands {source.count(mutation.old)} times")
    changed = source.replace(mutation.old, mutation.new)
    try:
        compile(changed, mutation.file, "exec")
    except SyntaxError as error:
        raise UnfitError(f"{mutation.name}: {error}") from error
    return changed


def run_tests(copy: Path, tests: str) -> int:
    """Run some tests in a copy of the checkout, on the package of that copy; pytest's exit code.

    Args:
        copy: the copy.
        tests: a file or a folder of tests, such as `tests/rules`.

    Raises:
        UnfitError: the tests would run on another package, or do not end.
    """
    program = (
        "import pathlib, sys, provenance, pytest\n"
        f"assert pathlib.Path(provenance.__file__).is_relative_to({str(copy)!r}), provenance.__file__\n"
        f"sys.exit(pytest.main(['{tests}', '-x', '-q', '-p', 'no:cacheprovider', '--hypothesis-seed=0']))\n"
    )
    environment = {name: value for name, value in os.environ.items() if not name.startswith("COVERAGE_")}
    # Changed within one second and equally long, a module would be taken for its old bytecode.
    environment |= {"PYTHONPATH": str(copy), "PYTHONDONTWRITEBYTECODE": "1"}
    command = [sys.executable, "-c", program]
    try:
        ended = subprocess.run(
            command, cwd=copy, env=environment, capture_output=True, check=False, text=True, timeout=LONGEST_RUN
        )
    except subprocess.TimeoutExpired as error:
        raise UnfitError(f"the tests did not end within {LONGEST_RUN:.0f} s") from error
    if ended.returncode not in {0, _TESTS_FAILED}:
        raise UnfitError(f"pytest ended with {ended.returncode}:\n{ended.stdout}{ended.stderr}")
    return ended.returncode


def is_noticed(mutation: Mutation, copy: Path) -> bool:
    """Whether a test fails with the change made; the copy is as before afterwards."""
    module = mutation.module(copy)
    source = module.read_text(encoding="utf-8")
    module.write_text(apply(mutation, source), encoding="utf-8")
    room = f"tests/{mutation.room}"
    own = f"{room}/test_{mutation.file}"
    # The module's own tests first: most changes are noticed there, within seconds.
    tests = [own, room] if (copy / own).is_file() else [room]
    try:
        return any(run_tests(copy, each) == _TESTS_FAILED for each in tests)
    finally:
        module.write_text(source, encoding="utf-8")


def survive(mutations: Sequence[Mutation]) -> tuple[str, ...]:
    """Make each change in turn and print what became of it; the names of those that no test noticed.

    Raises:
        UnfitError: a change no longer fits, or the tests fail without any.
    """
    unnoticed = []
    with tempfile.TemporaryDirectory() as folder:
        copy = copy_checkout(Path(folder).resolve() / "checkout")
        for room in sorted({mutation.room for mutation in mutations}):
            if run_tests(copy, f"tests/{room}"):
                raise UnfitError(f"the tests of {room} fail before anything is changed")
        for mutation in mutations:
            began = time.monotonic()
            noticed = is_noticed(mutation, copy)
            verdict = "noticed  " if noticed else "UNNOTICED"
            print(f"{verdict} {time.monotonic() - began:6.1f} s  {mutation.file:<18} {mutation.name}", flush=True)
            if not noticed:
                unnoticed.append(mutation.name)
    return tuple(unnoticed)


def main(names: Sequence[str]) -> int:
    """Make the changes named, or all of them; the exit code."""
    chosen = [mutation for mutation in MUTATIONS if not names or mutation.name in names]
    try:
        unnoticed = survive(chosen)
    except UnfitError as error:
        print(f"unfit: {error}", file=sys.stderr)
        return 2
    print(f"{len(chosen) - len(unnoticed)} of {len(chosen)} changes noticed")
    return 1 if unnoticed or not chosen else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
