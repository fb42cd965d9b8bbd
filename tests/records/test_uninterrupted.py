"""Within a large work Python does not search for circles; afterwards it does so again, if it did so before."""

import gc
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
