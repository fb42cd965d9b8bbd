import datetime as dt
import threading
from pathlib import Path

import pytest
from tasks.team import a_team_archive

from provenance.errors import ArchiveNotFoundError
from provenance.records.readings import Origin, PageReading, Word
from provenance.rules.judging import judge_all
from provenance.store.readings_store import ReadingsStore
from provenance.store.watching import ArchiveState, state_of
from provenance.tasks import living
from provenance.tasks.flagging import raise_flags
from provenance.tasks.living import Current, Living
from provenance.tasks.opening import open_folder


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


def test_who_has_just_written_need_not_wait_for_the_next_look(folder: Path) -> None:
    kept = Living(folder)
    before = looked_again(kept)
    (folder / "sources/handbook.yaml").unlink()

    kept.look_again()

    assert kept.now() is not before
    assert "handbook" not in kept.now().archive.sources


def test_a_look_that_began_before_the_writing_is_waited_for_and_another_follows(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept = Living(folder)
    begun, written = threading.Event(), threading.Event()

    def seen_before_the_writing(of: Path) -> ArchiveState:
        state = state_of(of)
        if threading.current_thread().name == "early":
            begun.set()
            assert written.wait(20)
        return state

    monkeypatch.setattr(living, "state_of", seen_before_the_writing)  # really looked, and held up after it
    kept._looked -= living.LOOKS_AGAIN
    early = threading.Thread(target=kept.now, name="early")
    early.start()
    assert begun.wait(20)
    (folder / "sources/handbook.yaml").unlink()
    threading.Timer(0.05, written.set).start()

    kept.look_again()

    early.join(20)
    assert "handbook" not in kept.now().archive.sources


def a_reading(folder: Path, page: int) -> None:
    """Another page of the handbook is read, as `rebuild` reads it in a process of its own."""
    reading = PageReading(
        page=page, words=(Word(text="whistle", line=1),), origin=Origin.RECOGNISED, engine="a machine"
    )
    ReadingsStore(folder).put("0" * 64, "k1", reading)


def test_what_is_read_elsewhere_is_taken_up_once_nothing_more_comes_and_the_verdicts_stay(folder: Path) -> None:
    kept = Living(folder)
    before, verdicts = looked_again(kept), kept.now().verdicts
    a_reading(folder, 1)

    during = looked_again(kept)
    a_reading(folder, 2)
    still_going_on = looked_again(kept)
    after = looked_again(kept)

    assert during is still_going_on is before
    assert after is not before
    assert after.readings is not before.readings
    assert after.opened is before.opened
    assert after.verdicts is verdicts
    assert looked_again(kept) is after


def test_while_reading_goes_on_for_long_it_is_taken_up_now_and_then(folder: Path) -> None:
    kept = Living(folder)
    before = looked_again(kept)
    a_reading(folder, 1)
    kept._taken_up -= living.READS_ON  # as if it had been going on for so long

    assert looked_again(kept) is not before


def test_who_has_just_had_a_page_read_need_not_wait_either(folder: Path) -> None:
    kept = Living(folder)
    before = looked_again(kept)
    a_reading(folder, 1)

    kept.look_again()

    assert kept.now() is not before


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


def test_after_a_change_the_verdicts_are_those_of_the_commands_again(folder: Path) -> None:
    kept = Living(folder)
    before = kept.now()
    known = before.verdicts
    claim = folder / "claims/headlamp-kind-acetylene.yaml"
    claim.write_text(claim.read_text(encoding="utf-8").replace("value: acetylene", "value: electric"), encoding="utf-8")

    kept.look_again()

    now = kept.now()
    assert now.verdicts == judge_all(open_folder(folder).archive)
    assert (known["headlamp/kind"].value, now.verdicts["headlamp/kind"].value) == ("acetylene", "electric")
    assert now.archive.sources["handbook"] is before.archive.sources["handbook"]


def test_verdicts_that_nobody_asked_for_between_two_changes_are_those_of_the_last(folder: Path) -> None:
    kept = Living(folder)
    known = kept.now().verdicts
    lead = folder / "leads/tins.yaml"
    lead.parent.mkdir()
    claim = folder / "claims/headlamp-kind-acetylene.yaml"
    text = claim.read_text(encoding="utf-8")

    claim.write_text(text.replace("value: acetylene", "value: electric"), encoding="utf-8")
    kept.look_again()
    lead.write_text("what: tins of photographs\nby: mh\ndate: 2026-01-10\n", encoding="utf-8")
    kept.look_again()
    electric = kept.now().verdicts
    claim.write_text(text, encoding="utf-8")
    kept.look_again()

    assert electric["headlamp/kind"].value == "electric"
    assert electric["headlamp/hood"] is known["headlamp/hood"]
    assert kept.now().verdicts == known


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
