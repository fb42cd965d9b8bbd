"""Of totals by category those are kept that no other ones reach in every category."""

from hypothesis import given, settings
from hypothesis import strategies as st

from provenance.rules.unbeaten import unbeaten

_TOTALS = st.integers(1, 4).flatmap(
    lambda categories: st.sets(st.tuples(*[st.integers(0, 5)] * categories), max_size=40)
)


def test_what_is_less_in_one_category_and_more_in_none_is_beaten() -> None:
    """30 and 0 is reached by 30 and 5; 20 and 9, and 10 and 10, have more of the second category than all before."""
    falling = [(30, 5), (30, 0), (20, 9), (20, 5), (10, 10), (10, 9)]

    assert unbeaten(falling) == [0, 2, 4]


def test_of_nothing_nothing_is_kept() -> None:
    assert unbeaten([]) == []


@settings(max_examples=300, deadline=None)
@given(_TOTALS, st.integers(1, 12))
def test_it_is_what_comparing_each_with_every_other_gives(totals: set[tuple[int, ...]], at_once: int) -> None:
    falling = sorted(totals, reverse=True)
    expected = [
        number
        for number, mine in enumerate(falling)
        if not any(other != mine and all(map(int.__ge__, other, mine)) for other in falling)
    ]

    assert unbeaten(falling, at_once=at_once) == expected
    assert unbeaten(falling) == expected
