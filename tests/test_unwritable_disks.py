"""An archive that cannot be written to is read all the same, and a disk that is full costs nothing that was there."""

import json
import shutil
import subprocess
import tempfile
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from mounts import as_nobody, run_read_only, small_disk, why_no_mounts
from writing_commands import (
    BY_NAME,
    PROGRAM,
    WRITINGS,
    Workplace,
    a_workplace,
    environment,
    neither_old_nor_new,
)

needs_mounts = pytest.mark.skipif(bool(why_no_mounts()), reason=f"nothing can be mounted here: {why_no_mounts()}")

READING = {
    "evidence": ("evidence", "headlamp"),
    "evidence in JSON": ("evidence", "bracket", "--json"),
    "evidence for the public": ("evidence", "headlamp", "--for", "public", "--date", "2026-02-01"),
    "evidence without a source": ("evidence", "headlamp", "--without", "handbook"),
    "copies": ("copies", "--ruling", "all"),
    "copies rule-out, only tried": ("copies", "rule-out", "handbook", "photograph", "--why", "no", "--try"),
    "descent": ("descent", "handbook"),
    "flags": ("flags",),
    "check": ("check",),
    "check of every original": ("check", "--fixity"),
    "used": ("used", "sources/handbook"),
    "finds": ("finds",),
    "claim, only tried": ("claim", "headlamp/kind", "electric", "--source", "photograph", "--applies-to", "9", "--try"),
    "tag, only tried": ("tag", "photograph", "--creator", "the stationmaster", "--try"),
}
ELSEWHERE = {"new", "evidence to a file", "register to a file", "descent to a file", "copies shown to a file"}
"""What writes beside the archive alone."""
INTO_THE_ARCHIVE = [writing for writing in WRITINGS if writing.name not in ELSEWHERE]

PAGE = 4096  # bytes; the least that a file takes up on a disk in memory


def some(names: Iterable[str], *short: str) -> list[Any]:
    """The names as cases of a test, of which the short run takes those that are named."""
    return [pytest.param(name, marks=() if name in short else pytest.mark.long) for name in names]


def asked(words: tuple[str, ...], place: Workplace) -> list[str]:
    """A question as it is typed."""
    return [str(PROGRAM), "--archive", str(place.archive), *words]


@pytest.fixture
def open_scratch() -> Iterator[Path]:
    """A folder that everybody may look into; pytest's own is its owner's alone."""
    folder = Path(tempfile.mkdtemp(prefix="provenance-test-"))
    folder.chmod(0o755)
    yield folder
    for path in (folder, *folder.rglob("*")):
        if path.is_dir():
            path.chmod(0o755)
    shutil.rmtree(folder)


def protect(place: Workplace) -> None:
    """Let nobody but root write there, and everybody read."""
    for path in (place.top, *place.top.rglob("*")):
        path.chmod(0o555 if path.is_dir() else 0o444)


def as_another(line: list[str]) -> "subprocess.CompletedProcess[str]":
    """Run a command as somebody who owns nothing of the archive, and has no home."""
    return subprocess.run(
        [*as_nobody(), *line],
        capture_output=True,
        text=True,
        check=False,
        env=environment(HOME="/nonexistent"),
        timeout=300,
    )


@cache
def why_nobody_runs_nothing() -> str:
    """Why an account without rights cannot run the program here; empty where it can."""
    try:
        done = as_another([str(PROGRAM), "--version"])
    except OSError as error:
        return str(error)
    return done.stderr


@needs_mounts
@pytest.mark.parametrize("name", some(READING, "evidence for the public", "check of every original"))
def test_an_archive_on_a_disk_that_is_mounted_read_only_answers_as_ever(tmp_path: Path, name: str) -> None:
    place = a_workplace(tmp_path / "place")
    line = asked(READING[name], place)

    answered = run_read_only(place.archive, line, environment())

    assert (answered.returncode, answered.stderr) == (0, "")
    assert not (place.archive / ".derived").exists()
    as_ever = subprocess.run(line, capture_output=True, text=True, check=False, env=environment())
    assert answered.stdout == as_ever.stdout


@needs_mounts
@pytest.mark.parametrize("name", some((each.name for each in INTO_THE_ARCHIVE), "claim new", "appendix"))
def test_nothing_is_written_to_a_disk_that_is_mounted_read_only(tmp_path: Path, name: str) -> None:
    writing = BY_NAME[name]
    place = a_workplace(tmp_path / "place", formatted=writing.formatted)
    before = place.files()

    refused = run_read_only(place.archive, writing.line(place), environment())

    require_refusal(refused, place)
    assert "mounted read-only" in refused.stderr or writing.name == "rebuild"
    assert place.files() == before


@needs_mounts
@pytest.mark.parametrize("before", some(("nothing", "rebuild", "rebuild and tag"), "rebuild and tag"))
def test_a_search_on_a_disk_that_is_mounted_read_only_says_when_its_index_is_not_kept(
    tmp_path: Path, before: str
) -> None:
    place = a_workplace(tmp_path / "place")
    for name in before.split(" and "):
        if name != "nothing":
            subprocess.run(BY_NAME[name].line(place), capture_output=True, check=True, env=environment())

    found = run_read_only(place.archive, asked(("search", "acetylene"), place), environment())

    assert (found.returncode, found.stderr) == (0, "")
    assert "headlamp-kind-acetylene" in found.stdout
    assert ("search index cannot be written" in found.stdout) == (before != "rebuild")


def require_refusal(refused: "subprocess.CompletedProcess[str]", place: Workplace) -> None:
    """See that a command was refused in words that name the place, and a mend."""
    is_of_derived_data = refused.returncode == 6 and "search index" in refused.stderr
    assert refused.returncode == 4 or is_of_derived_data, refused
    what, mend, *_ = refused.stderr.split("\n")
    assert what.startswith("error: ")
    assert str(place.top) in what
    assert mend.startswith("  mend: ")


@needs_mounts
def test_no_archive_is_begun_on_a_disk_that_is_mounted_read_only(tmp_path: Path) -> None:
    (tmp_path / "stick").mkdir()
    line = [str(PROGRAM), "new", str(tmp_path / "stick" / "deeper" / "archive"), "--title", "Another"]

    refused = run_read_only(tmp_path / "stick", line, environment())

    assert (refused.returncode, list((tmp_path / "stick").iterdir())) == (4, [])
    assert "mounted read-only" in refused.stderr


@pytest.mark.skipif(bool(why_nobody_runs_nothing()), reason=why_nobody_runs_nothing())
@pytest.mark.parametrize("name", some(READING, "evidence"))
def test_somebody_who_may_only_read_is_answered(open_scratch: Path, name: str) -> None:
    place = a_workplace(open_scratch / "place")
    line = asked(READING[name], place)
    as_ever = subprocess.run(line, capture_output=True, text=True, check=False, env=environment())
    protect(place)

    answered = as_another(line)

    assert (answered.returncode, answered.stderr) == (0, "")
    assert answered.stdout == as_ever.stdout


@pytest.mark.skipif(bool(why_nobody_runs_nothing()), reason=why_nobody_runs_nothing())
@pytest.mark.parametrize("name", some(("claim new", "tag", "rename", "decide", "appendix", "upgrade"), "tag"))
def test_somebody_who_may_only_read_is_told_whom_to_ask(open_scratch: Path, name: str) -> None:
    place = a_workplace(open_scratch / "place", formatted=BY_NAME[name].formatted)
    protect(place)
    before = place.files()

    refused = as_another(BY_NAME[name].line(place))

    require_refusal(refused, place)
    assert "ask the owner of the folder" in refused.stderr
    assert place.files() == before


@needs_mounts
@pytest.mark.parametrize("spare", [0, *(pytest.param(pages * PAGE, marks=pytest.mark.long) for pages in (1, 2, 3))])
@pytest.mark.parametrize(
    "name", some(("claim new", "claim once more", "tag with a transcript", "ingest"), "tag with a transcript")
)
def test_a_full_disk_costs_nothing_and_the_same_command_works_when_there_is_room(
    tmp_path: Path, name: str, spare: int
) -> None:
    writing = BY_NAME[name]
    alone = a_workplace(tmp_path / "alone")
    before = alone.files()
    subprocess.run(writing.line(alone), capture_output=True, check=True, env=environment())
    after = alone.files()
    with small_disk(tmp_path / "disk", size=1 << 20) as disk:
        a_workplace(disk.seen / "place")
        place, seen = Workplace(top=disk.folder / "place"), Workplace(top=disk.seen / "place")
        filler = disk.fill(but=spare)

        first = disk.run(writing.line(place), environment())

        assert neither_old_nor_new(seen.whole_files(), before, after) == []
        if first.returncode != 0:
            require_refusal(first, place)
            assert "disk is full" in first.stderr
        else:
            assert spare
            assert seen.files() == after
        filler.unlink()
        second = disk.run(writing.line(place), environment())
        assert second.returncode == 0, second.stderr
        assert seen.files() == after
        checked = disk.run(asked(("check", "--fixity", "--json"), place), environment())
        assert json.loads(checked.stdout)["problems"] == []
