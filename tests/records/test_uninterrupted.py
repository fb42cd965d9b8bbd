"""Within a large work Python does not search for circles; afterwards it does so again, if it did so before."""

import gc
import threading
from collections.abc import Iterator

import pytest

from provenance.records.uninterrupted import uninterrupted


@pytest.fixture(autouse=True)
def _as_before() -> Iterator[None]:
    was_on = gc.isenabled()
    yield
    (gc.enable if was_on else gc.disable)()


@pytest.mark.parametrize("on", [True, False])
def test_the_search_is_off_within_and_as_it_was_afterwards(*, on: bool) -> None:
    (gc.enable if on else gc.disable)()

    with uninterrupted():
        within = gc.isenabled()

    assert not within
    assert gc.isenabled() is on


def test_the_search_comes_back_after_a_fault_too() -> None:
    gc.enable()

    with pytest.raises(ValueError, match="not sound"), uninterrupted():
        raise ValueError("not sound")

    assert gc.isenabled()


def test_one_large_work_within_another_ends_with_the_outer_one() -> None:
    gc.enable()

    with uninterrupted():
        with uninterrupted():
            pass
        between = gc.isenabled()

    assert not between
    assert gc.isenabled()


def test_of_two_large_works_in_two_threads_the_one_that_ends_last_brings_the_search_back() -> None:
    gc.enable()
    began, may_end = threading.Event(), threading.Event()

    def other() -> None:
        with uninterrupted():
            began.set()
            may_end.wait()

    thread = threading.Thread(target=other)
    with uninterrupted():
        thread.start()
        began.wait()
    while_the_other_goes_on = gc.isenabled()
    may_end.set()
    thread.join()

    assert not while_the_other_goes_on
    assert gc.isenabled()
