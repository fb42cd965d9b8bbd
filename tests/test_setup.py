"""Setting up a checkout: once, completely, and never twice; each test makes an environment, so all of them are long."""

import os
import subprocess
from pathlib import Path

import pytest
from checkout import bare_environment, copy_checkout

pytestmark = pytest.mark.long


@pytest.fixture(scope="module")
def checkout(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of this checkout in which the set-up has run once, in an empty home and with a bare PATH."""
    folder = tmp_path_factory.mktemp("set-up") / "checkout"
    copy_checkout(folder)
    first = _set_up(folder)
    assert first.returncode == 0, first.stderr
    return folder


def _start(checkout: Path) -> subprocess.Popen[str]:
    return subprocess.Popen(
        ["/bin/sh", ".ci/setup.sh"],
        cwd=checkout,
        env=bare_environment(checkout.parent / "home"),
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def _set_up(checkout: Path) -> subprocess.CompletedProcess[str]:
    started = _start(checkout)
    out, err = started.communicate()
    return subprocess.CompletedProcess(started.args, started.returncode, out, err)


def test_the_second_set_up_does_and_says_nothing(checkout: Path) -> None:
    before = (checkout / ".venv" / "ready").stat()

    second = _set_up(checkout)

    assert (second.returncode, second.stdout, second.stderr) == (0, "", "")
    assert (checkout / ".venv" / "ready").stat() == before


def test_the_command_is_there_after_the_set_up(checkout: Path) -> None:
    asked = [str(checkout / ".venv" / "bin" / "provenance"), "--help"]

    answered = subprocess.run(asked, env=bare_environment(checkout.parent / "home"), capture_output=True, check=False)

    assert answered.returncode == 0


def test_a_change_of_the_package_alone_installs_the_package_alone(checkout: Path) -> None:
    kept = checkout / ".venv" / "kept-by-the-test"
    kept.touch()
    with (checkout / "pyproject.toml").open("a", encoding="utf-8") as project:
        project.write("# changed\n")

    again = _set_up(checkout)

    assert again.returncode == 0, again.stderr
    assert again.stdout == "setup: ready\n"
    assert kept.exists()


def test_a_half_built_environment_is_made_anew_once_though_two_ask_for_it(checkout: Path) -> None:
    (checkout / ".venv" / "ready").unlink()
    (checkout / ".venv" / "bin" / "python").unlink()

    started = [_start(checkout), _start(checkout)]
    said = [process.communicate()[0] for process in started]

    assert [process.returncode for process in started] == [0, 0]
    assert sum("making .venv" in text for text in said) == 1
    assert sum("waiting for another set-up" in text for text in said) == 1
    assert not os.path.lexists(checkout / ".venv.lock")


def test_the_lock_of_a_set_up_that_was_killed_holds_nobody_up(checkout: Path) -> None:
    ended = subprocess.Popen(["/bin/true"])
    ended.wait()
    (checkout / ".venv.lock").symlink_to(str(ended.pid))
    (checkout / ".venv" / "ready").unlink()

    again = _set_up(checkout)

    assert again.returncode == 0, again.stderr
    assert not os.path.lexists(checkout / ".venv.lock")


def test_a_package_that_is_not_what_was_locked_is_refused(checkout: Path) -> None:
    lock = checkout / ".ci" / "requirements-test.txt"
    sound = lock.read_text(encoding="utf-8")
    requirement, _, hashes = sound.partition("--hash=sha256:")
    lock.write_text(f"{requirement}--hash=sha256:{'0' * 64}\n", encoding="utf-8")

    refused = _set_up(checkout)
    lock.write_text(sound, encoding="utf-8")

    assert hashes
    assert refused.returncode == 1
    assert "FAILED: installing the packages of .ci/requirements-test.txt" in refused.stderr
    assert not (checkout / ".venv" / "ready").exists()
