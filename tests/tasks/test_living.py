import datetime as dt
from pathlib import Path

import pytest
from tasks.team import a_team_archive

from provenance.errors import ArchiveNotFoundError
from provenance.rules.judging import judge_all
from provenance.tasks import living
from provenance.tasks.flagging import raise_flags
from provenance.tasks.living import Current, Living


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return a_team_archive(tmp_path).folder


def looked_again(kept: Living) -> Current:
    """As it stands once it is time to look again."""
    kept._looked -= living.LOOKS_AGAIN  # as if that time had passed
    return kept.now()


def test_an_archive_that_does_not_change_is_read_once(folder: Path) -> None:
    kept = Living(folder)

    assert looked_again(kept) is kept.now()


def test_a_record_that_changed_is_read_anew(folder: Path) -> None:
    kept = Living(folder)
    source = folder / "sources/handbook.yaml"
    source.write_text(source.read_text(encoding="utf-8").replace("Working", "New working"), encoding="utf-8")

    assert looked_again(kept).archive.sources["handbook"].title == "New working instructions"


def test_between_two_looks_nothing_is_read(folder: Path) -> None:
    kept = Living(folder)
    before = looked_again(kept)
    (folder / "sources/handbook.yaml").unlink()

    assert kept.now() is before


def test_a_new_day_is_another_standing(folder: Path) -> None:
    kept = Living(folder)
    before = kept.now()
    before.today -= dt.timedelta(days=1)

    assert looked_again(kept) is not before


def test_verdicts_and_flags_are_those_of_the_commands(folder: Path) -> None:
    now = Living(folder).now()

    assert now.verdicts == judge_all(now.archive)
    assert now.flagged == raise_flags(now.opened, today=now.today)
    assert now.verdicts is now.verdicts


def test_while_nothing_is_represented_nothing_is_judged(folder: Path) -> None:
    head = folder / "archive.yaml"
    lines = [line for line in head.read_text(encoding="utf-8").splitlines() if not line.startswith("target")]
    head.write_text("\n".join(lines), encoding="utf-8")

    assert Living(folder).now().verdicts == {}


def test_what_was_worked_out_is_remembered_and_the_oldest_is_forgotten_where_it_is_too_much(folder: Path) -> None:
    now = Living(folder).now()
    made: list[int] = []

    def make(number: int) -> int:
        made.append(number)
        return number

    for number in [*range(501), 500, 0]:
        assert now.remembered(str(number), lambda number=number: make(number)) == number  # type: ignore[misc]  # at once

    assert made == [*range(501), 0]


def test_a_folder_without_an_archive_is_refused(tmp_path: Path) -> None:
    with pytest.raises(ArchiveNotFoundError):
        Living(tmp_path)
