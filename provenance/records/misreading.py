"""How far one key of a reference number is from another, counted in likely misreadings.

The distance is the cheapest way of changing, adding and leaving out characters that makes one key of the other
(Wagner and Fischer, "The string-to-string correction problem", JACM 21, 1974). A change that recognisers often make
costs less than one:

    0.7     a letter for a figure, or the other way round, where it was counted often: 1 T, 4 A, 1 E, 1 J, 7 T, 0 D
    0.85    a figure for another, counted often: 0 9, 2 7, 6 8, 1 4, 0 6, 3 9; and a 1, a 7 or a J too many or lost,
            since strokes and hyphens are read as these, and these as nothing
    1       everything else

Often is five times or more (fifteen for what is too many or lost) in 49,188 characters: what Tesseract 5.3.0 made of
4,000 numbers on 100 made pages in DejaVu Sans and Serif, blurred, speckled and faded (`tests/bench/confusions.py`; the
counts lie beside it). Of 1,055 misread characters 537 make no difference to a key; of the rest 1 and T 23 times, 0 and
9 22, 4 and A 15, 2 and 7 11, 6 and 8 11, 1 and 4 9, 1 and E 9, 0 and 6 7, 1 and J 6, 3 and 9 5, 7 and T 5, 0 and D 5;
too many or lost 1 80 times, 7 18, J 15. What each of them costs is our own choice: such that nothing that changes one
figure into another, or the count of figures, is ever within `FOUND_WITHIN`, and two of them still are near.
"""

from itertools import accumulate
from math import inf

FOUND_WITHIN = 0.7
"""Two keys that are no further apart are taken as the same number, misread."""
_NEAR_WITHIN = {4: 1.0, 5: 1.0, 6: 1.7}
NEAR_WITHIN = 2.0
"""Two keys of seven characters and more that are no further apart may be the same number; they are as often two.

Shorter ones have to be nearer, or too little is left to know them by: our own choice, by the benchmark `numbers`.
"""

_WHOLE = 100
_BEYOND = 100_000
_OFTEN_LETTERS = ("1T", "4A", "1E", "1J", "7T", "0D")
_OFTEN_FIGURES = ("09", "27", "68", "14", "06", "39")
_COSTS = {
    **{(pair[at], pair[1 - at]): 70 for pair in _OFTEN_LETTERS for at in (0, 1)},
    **{(pair[at], pair[1 - at]): 85 for pair in _OFTEN_FIGURES for at in (0, 1)},
}
_GAPS = dict.fromkeys("17J", 85)
_CHEAPEST_GAP = min(_GAPS.values())
_CHEAPEST = min(*_COSTS.values(), _CHEAPEST_GAP)


def misreading_distance(one: str, other: str, most: float = NEAR_WITHIN) -> float:
    """Give the distance of two keys, to two decimals; infinite where it is more than `most`.

    It is the same from either side, and 0 only for equal keys.
    """
    limit = round(most * _WHOLE)
    band = limit // _CHEAPEST_GAP
    if abs(len(one) - len(other)) > band or len(set(one).difference(other)) > limit // _CHEAPEST:
        return inf  # most pairs: seen without the table
    added = [_GAPS.get(b, _WHOLE) for b in other]
    above = [0, *accumulate(added)]
    for n, a in enumerate(one, start=1):
        lost = _GAPS.get(a, _WHOLE)
        before = above[0] + lost if n <= band else _BEYOND
        row = [before] + [_BEYOND] * len(other)
        least = before
        for m in range(max(1, n - band), min(len(other), n + band) + 1):
            b = other[m - 1]
            cost = above[m - 1] + (0 if a == b else _COSTS.get((a, b), _WHOLE))
            before = row[m] = min(cost, above[m] + lost, before + added[m - 1])
            least = min(least, before)
        if least > limit:
            return inf
        above = row
    return above[-1] / _WHOLE if above[-1] <= limit else inf


def near_within(one: str, other: str) -> float:
    """How far two keys may be apart to be near one another: less where one of them is short."""
    return _NEAR_WITHIN.get(min(len(one), len(other)), NEAR_WITHIN)


def boundary_trigrams(key: str) -> tuple[str, ...]:
    """The runs of three characters in a key between its marked ends, such as `^H2`, `H20`, `204` and `04$` of H204.

    In their order, from the first character of the marked key on; keys that are near one another have some in common.
    """
    marked = f"^{key}$"
    return tuple(marked[at : at + 3] for at in range(len(marked) - 2))
