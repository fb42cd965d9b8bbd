"""A secret of one person on one machine: made once, read by nobody else, never half there."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from provenance.store.own_key import own_key, state_folder


@pytest.fixture
def state(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    return tmp_path / "state" / "provenance"


def test_the_secret_is_made_once_and_is_the_owner_s_alone(state: Path) -> None:
    first = own_key()
    again = own_key()

    assert first is not None
    assert len(first) == 32
    assert again == first
    assert (state / "own.key").stat().st_mode & 0o777 == 0o600
    assert state.stat().st_mode & 0o777 == 0o700
    assert [path.name for path in state.iterdir()] == ["own.key"]


def test_two_people_have_two_secrets(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    keys = set()
    for person in ("one", "other"):
        monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / person))
        keys.add(own_key())

    assert len(keys) == 2


@pytest.mark.parametrize("mode", [0o640, 0o604, 0o660, 0o606])
def test_a_secret_that_others_could_read_or_write_is_none(mode: int, state: Path) -> None:
    own_key()
    (state / "own.key").chmod(mode)

    assert own_key() is None


def test_a_link_a_pipe_or_a_folder_in_its_place_is_none(state: Path) -> None:
    state.mkdir(parents=True)
    place = state / "own.key"

    place.symlink_to("/dev/zero")
    assert own_key() is None
    place.unlink()
    os.mkfifo(place, 0o600)
    assert own_key() is None
    place.unlink()
    place.mkdir()
    assert own_key() is None


@pytest.mark.parametrize("content", [b"", b"short", bytes(33)])
def test_a_secret_of_another_length_is_none(content: bytes, state: Path) -> None:
    state.mkdir(parents=True)
    (state / "own.key").write_bytes(content)
    (state / "own.key").chmod(0o600)

    assert own_key() is None


def test_where_it_cannot_be_kept_there_is_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "file"))

    assert own_key() is None


def test_a_place_that_is_not_absolute_is_passed_over(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_STATE_HOME", "state")

    assert state_folder() == tmp_path / ".local" / "state" / "provenance"


def test_many_that_ask_at_once_are_given_the_same(state: Path) -> None:
    program = "from provenance.store.own_key import own_key; print(own_key().hex())"
    asking = [subprocess.Popen([sys.executable, "-c", program], stdout=subprocess.PIPE) for _ in range(8)]

    answers = {one.communicate()[0] for one in asking}

    assert len(answers) == 1
    assert [path.name for path in state.iterdir()] == ["own.key"]
