"""Every file of the archive is written, flushed, named in one step, and its folder flushed: seen by strace."""

import sys
from pathlib import Path

import pytest
from write_paths import CALLS, events, strace, unsafe_writes
from writing_commands import WRITINGS, Workplace, Writing, a_workplace, environment


def traced(line: list[str], place: Workplace) -> list[str]:
    """Run a command under strace; what a power cut could have spoilt."""
    before, log = place.files(), place.top.with_suffix(".log")
    done = strace(line, "-e", f"trace={CALLS}", log=log, environment=environment(), cwd=place.top)
    assert done.returncode == 0, done.stderr
    seen = events(log.read_text(encoding="utf-8", errors="replace"), folder=place.top)
    return unsafe_writes(seen, before, place.files(), top=place.top)


@pytest.mark.parametrize("writing", WRITINGS, ids=lambda writing: writing.name)
def test_what_a_command_writes_survives_a_power_cut_at_any_moment(tmp_path: Path, writing: Writing) -> None:
    place = a_workplace(tmp_path / "place", formatted=writing.formatted)
    before = place.files()

    unsafe = traced(writing.line(place), place)

    after = place.files()
    assert unsafe == []
    assert {name for name in after if after[name] != before.get(name)} == set(writing.writes)
    assert before.keys() - after.keys() == set(writing.removes)
    assert place.leftovers() == []


def test_an_output_that_takes_the_place_of_an_earlier_one_survives_too(tmp_path: Path) -> None:
    place = a_workplace(tmp_path / "place")
    earlier = place.beside / "lamp.txt"
    earlier.write_text("what was known in January\n", encoding="utf-8")
    line = next(writing for writing in WRITINGS if writing.name == "evidence to a file").line(place)

    assert traced(line, place) == []

    assert "January" not in earlier.read_text(encoding="utf-8")


SAFELY = """
import os
def flush(path):
    opened = os.open(path, os.O_RDONLY)
    os.fsync(opened)
    os.close(opened)
def write(path, text):
    with open(path, "w") as file:
        file.write(text)
"""
UNSAFE = {
    'write("claims/a.yaml", "new")': "claims/a.yaml was written where it stands",
    'write("claims/b", "new"); os.rename("claims/b", "claims/a.yaml"); flush("claims")': (
        "claims/a.yaml got its name before its bytes were flushed"
    ),
    'write("claims/b", "new"); os.rename("claims/b", "claims/a.yaml"); flush("claims/a.yaml"); flush("claims")': (
        "claims/a.yaml got its name before its bytes were flushed"
    ),
    'write("claims/b", "new"); flush("claims/b"); os.rename("claims/b", "claims/a.yaml")': (
        "the folder of claims/a.yaml was not flushed after it got its name"
    ),
    'write("claims/b", "new"); flush("claims/b"); flush("claims"); os.rename("claims/b", "claims/a.yaml")': (
        "the folder of claims/a.yaml was not flushed after it got its name"
    ),
    'write("claims/b", "n"); flush("claims/b"); os.rename("claims/b", "claims/a.yaml"); flush("claims")\n'
    'file = open("claims/a.yaml", "a"); file.write("ew"); file.close(); flush("claims/a.yaml")': (
        "claims/a.yaml got its name before it was whole"
    ),
    'os.unlink("claims/old.yaml")': "the folder of claims/old.yaml was not flushed after it went",
    'os.unlink("claims/old.yaml"); write("claims/b", "new"); flush("claims/b")\n'
    'os.rename("claims/b", "claims/a.yaml"); flush("claims")': (
        "claims/old.yaml was removed before all was written that takes its place"
    ),
    'os.mkdir("leads"); write("leads/b", "new"); flush("leads/b"); os.rename("leads/b", "leads/a.yaml")\n'
    'flush("leads")': "the folder leads was not flushed into the one above it",
}


@pytest.mark.parametrize("code", UNSAFE, ids=[f"way {number}" for number in range(1, len(UNSAFE) + 1)])
def test_a_way_of_writing_that_a_power_cut_could_spoil_is_found_out(tmp_path: Path, code: str) -> None:
    place = Workplace(top=tmp_path / "place")
    (place.top / "claims").mkdir(parents=True)
    for name in ("a.yaml", "old.yaml"):
        (place.top / "claims" / name).write_text("old", encoding="utf-8")

    unsafe = traced([sys.executable, "-c", SAFELY + code], place)

    assert UNSAFE[code] in [fault.replace(f"{place.top}/", "") for fault in unsafe]
