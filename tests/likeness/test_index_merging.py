"""When segments of the picture index become one."""

from collections import Counter

from provenance.likeness.index_merging import TOGETHER, due_together
from provenance.likeness.index_segments import MOST_PICTURES


def grown(added: int) -> tuple[list[int], Counter[int]]:
    """The sizes of segments after adding pictures one by one, and how often each size was written."""
    sizes: list[int] = []
    times: Counter[int] = Counter()
    for _ in range(added):
        sizes.append(1)
        times[1] += 1
        while due := due_together(sizes, sizes):
            together = sum(sizes[place] for place in due)
            sizes = [size for place, size in enumerate(sizes) if place not in due] + [together]
            times[together] += 1
    return sizes, times


def test_segments_grow_as_the_digits_of_a_number() -> None:
    """4,327 = 4096 + 3 * 64 + 2 * 16 + 1 * 4 + 3, in powers of four."""
    sizes, times = grown(4_327)

    assert TOGETHER == 4
    assert sorted(sizes) == [1, 1, 1, 4, 16, 16, 64, 64, 64, 4096]
    assert times == {1: 4327, 4: 1081, 16: 270, 64: 67, 256: 16, 1024: 4, 4096: 1}


def test_no_segment_grows_over_the_largest_size() -> None:
    uneven = [MOST_PICTURES - 1, 2000, 1500, 1200]

    assert due_together(uneven, uneven) == (2, 3)
    assert due_together([MOST_PICTURES] * 9, [MOST_PICTURES] * 9) == ()
    assert due_together([2100] * 9, [2100] * 9) == ()


def test_a_segment_of_which_most_is_dropped_is_written_anew() -> None:
    assert due_together([50, 49], [100, 100]) == (1,)
    assert due_together([50, 50], [100, 100]) == ()
