"""Every folder under archives/flags is a test: two archives that differ in one thing, and the flag that it raises.

To add one, make a folder named after the flag. Its `sound` and `faulty` are each laid over archives/unflagged, a small
archive in which nothing is flagged, so that `diff -r sound faulty` shows what is wrong and nothing else. What has to
lie under `.derived` stands in `derived`, since git passes over the other. `expected.yaml` beside them holds:

- `flag`: the name of the folder;
- `raised`: one entry for each time that the flag is raised on `faulty`, with `severity`, `about`, `claims`, `sources`,
  and `says`, words that its sentence holds, where the wording matters;
- `besides`: the flags that both archives have for good reason, as `FLAG ABOUT`; best none.

Write it from what the flag means, before anything is run, and say in a comment why it is due.
"""

import filecmp
import shutil
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from difflib import ndiff
from pathlib import Path

import pytest
import yaml

from provenance.errors import Severity
from provenance.rules.flags import ALL_FLAGS, Flag
from provenance.tasks.checking import check_folder
from provenance.tasks.flagging import FIXITY, raise_flags
from provenance.tasks.opening import open_folder

ARCHIVES = Path(__file__).parent / "archives"
PAIRS = sorted(path.name for path in (ARCHIVES / "flags").iterdir())
TODAY = date(2026, 2, 1)


@dataclass(frozen=True, kw_only=True)
class Raised:
    """One flag as a pair expects it; `says` is part of its sentence."""

    severity: str
    about: str
    claims: list[str]
    sources: list[str]
    says: str = ""


@dataclass(frozen=True, kw_only=True)
class Expected:
    """What stands in an `expected.yaml`."""

    flag: str
    raised: tuple[Raised, ...]
    besides: tuple[str, ...]


def expected_of(name: str) -> Expected:
    written = yaml.safe_load((ARCHIVES / "flags" / name / "expected.yaml").read_text(encoding="utf-8"))
    raised = tuple(Raised(**each) for each in written["raised"])
    return Expected(flag=written["flag"], raised=raised, besides=tuple(written["besides"]))


def lay(name: str, side: str, scratch: Path) -> Path:
    folder = scratch / side
    shutil.copytree(ARCHIVES / "unflagged", folder)
    shutil.copytree(ARCHIVES / "flags" / name / side, folder, dirs_exist_ok=True)
    if (folder / "derived").is_dir():
        (folder / "derived").rename(folder / ".derived")
    return folder


def flags_in(folder: Path) -> list[Flag]:
    """All flags of an archive; whether originals are as they were received is looked at when it is asked for."""
    opened = open_folder(folder)
    assert opened.left_out == ()
    return [*raise_flags(opened, today=TODAY).flags, *raise_flags(opened, today=TODAY, rule=FIXITY).flags]


def faults_in(folder: Path) -> list[str]:
    problems = check_folder(folder).problems
    return [f"{each.place.file}: {each.what}" for each in problems if each.severity is not Severity.NOTE]


def what_differs(name: str) -> list[str]:
    """The files of a pair that are not the same on both sides, or lie on one side alone."""
    sound, faulty = (ARCHIVES / "flags" / name / side for side in ("sound", "faulty"))
    files = {
        path.relative_to(side).as_posix() for side in (sound, faulty) for path in side.rglob("*") if path.is_file()
    }
    alike, _, _ = filecmp.cmpfiles(sound, faulty, files, shallow=False)
    return sorted(files - set(alike))


@pytest.mark.parametrize("name", PAIRS)
def test_the_flag_is_raised_where_it_is_due_and_nowhere_else(name: str, tmp_path: Path) -> None:
    expected = expected_of(name)

    sound = flags_in(lay(name, "sound", tmp_path))
    faulty = flags_in(lay(name, "faulty", tmp_path))

    raised = [flag for flag in faulty if flag.flag == name]
    assert named(sound) == sorted(expected.besides)
    assert named(flag for flag in faulty if flag.flag != name) == sorted(expected.besides)
    assert sorted(map(facts_of, raised)) == sorted(map(facts_of, expected.raised))
    assert all(any(each.says in flag.sentence for flag in raised) for each in expected.raised), raised


def named(flags: Iterable[Flag]) -> list[str]:
    return sorted(f"{flag.flag} {flag.about}" for flag in flags)


def facts_of(flag: Flag | Raised) -> tuple[str, str, list[str], list[str]]:
    return flag.about, str(flag.severity), list(flag.claims), list(flag.sources)


@pytest.mark.parametrize("name", PAIRS)
@pytest.mark.parametrize("side", ["sound", "faulty"])
def test_both_archives_of_a_pair_are_free_of_faults_of_form(name: str, side: str, tmp_path: Path) -> None:
    assert faults_in(lay(name, side, tmp_path)) == []


@pytest.mark.parametrize("name", PAIRS)
def test_the_archives_of_a_pair_differ_in_one_file_and_there_in_little(name: str) -> None:
    (differs,) = what_differs(name)

    assert len(list(_changed_lines(name, differs))) <= 3


def _changed_lines(name: str, file: str) -> Iterator[str]:
    sound, faulty = (ARCHIVES / "flags" / name / side / file for side in ("sound", "faulty"))
    if sound.is_file() and faulty.is_file():
        before, after = (path.read_text(encoding="utf-8").splitlines() for path in (sound, faulty))
        yield from (line for line in ndiff(before, after) if line[0] in "+-")


def test_every_flag_has_a_pair_and_every_pair_its_flag() -> None:
    assert sorted(ALL_FLAGS) == PAIRS
    assert [expected_of(name).flag for name in PAIRS] == PAIRS


def test_nothing_is_flagged_in_the_archive_that_the_pairs_are_laid_over(tmp_path: Path) -> None:
    folder = Path(shutil.copytree(ARCHIVES / "unflagged", tmp_path / "archive"))

    assert flags_in(folder) == []
    assert check_folder(folder, fixity=True).problems == ()
