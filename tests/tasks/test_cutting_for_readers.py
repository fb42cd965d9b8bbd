"""Pieces of pages that several readers ask for at once."""

import threading
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any

import pytest
from web.small_archives import a_drawing, a_small_archive

from provenance.pages.cut_outs import CutOut
from provenance.records.claims import At
from provenance.tasks import cutting_for_readers
from provenance.tasks.cutting_for_readers import CuttingOut
from provenance.tasks.cutting_out import NoCutOut, Wanted, cut_outs
from provenance.tasks.opening import Opened, open_folder

PAGE = Wanted("drawing", At(page=1), most=100)
OTHERS = [Wanted(name, At(page=1), most=100) for name in ("second", "third")]


@pytest.fixture
def opened(tmp_path: Path) -> Opened:
    folder = a_small_archive(tmp_path)
    for other in OTHERS:
        a_drawing(folder, other.source)
    return open_folder(folder)


def held_up(
    monkeypatch: pytest.MonkeyPatch, until: threading.Event, begun: threading.Semaphore
) -> Callable[[], list[Wanted]]:
    """Have every cutting wait for a sign; what was really cut is told afterwards."""
    cut: list[Wanted] = []

    def late(opened: Opened, wanted: Iterable[Wanted], **more: Any) -> Mapping[Wanted, CutOut | NoCutOut]:
        cut.extend(wanted := list(wanted))
        begun.release()
        assert until.wait(30)
        return cut_outs(opened, wanted, **more)

    monkeypatch.setattr(cutting_for_readers, "cut_outs", late)  # really cut, once others have asked
    return lambda: cut


def asking(cutting: CuttingOut, opened: Opened, wanted: Wanted, found: list[CutOut | NoCutOut]) -> threading.Thread:
    reader = threading.Thread(target=lambda: found.append(cutting.give(opened, wanted)))
    reader.start()
    return reader


def test_a_piece_that_two_ask_for_at_once_is_cut_once_and_given_to_both(
    opened: Opened, monkeypatch: pytest.MonkeyPatch
) -> None:
    sign, begun = threading.Event(), threading.Semaphore(0)
    cut, cutting = held_up(monkeypatch, sign, begun), CuttingOut()
    found: list[CutOut | NoCutOut] = []

    readers = [asking(cutting, opened, PAGE, found) for _ in range(3)]
    assert begun.acquire(timeout=30)
    sign.set()
    for reader in readers:
        reader.join(30)

    assert cut() == [PAGE]
    assert len(found) == 3
    assert len({each.data for each in found if isinstance(each, CutOut)}) == 1


def test_a_piece_that_is_kept_is_given_while_others_are_being_cut(
    opened: Opened, monkeypatch: pytest.MonkeyPatch
) -> None:
    cutting, found = CuttingOut(), list[CutOut | NoCutOut]()
    kept = cutting.give(opened, PAGE)
    sign, begun = threading.Event(), threading.Semaphore(0)
    held_up(monkeypatch, sign, begun)
    readers = [asking(cutting, opened, wanted, found) for wanted in OTHERS]
    for _ in OTHERS:
        assert begun.acquire(timeout=30)

    assert cutting.give(opened, PAGE) == kept

    assert found == []
    sign.set()
    for reader in readers:
        reader.join(30)
    assert [type(each) for each in found] == [CutOut, CutOut]


def test_where_cutting_fails_everybody_who_waits_is_told_and_it_may_be_asked_for_again(
    opened: Opened, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object, **__: object) -> Mapping[Wanted, CutOut | NoCutOut]:
        raise MemoryError

    cutting = CuttingOut()
    with monkeypatch.context() as patch:
        patch.setattr(cutting_for_readers, "cut_outs", fails)
        with pytest.raises(MemoryError):
            cutting.give(opened, PAGE)

    assert isinstance(cutting.give(opened, PAGE), CutOut)


def test_a_page_that_is_not_there_is_none_at_once(opened: Opened) -> None:
    found = CuttingOut().give(opened, Wanted("drawing", At(page=2)))

    assert isinstance(found, NoCutOut)
    assert "no page 2" in found.why
