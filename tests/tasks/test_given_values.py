"""`KEY=VALUE,…` as people type it."""

import pytest

from provenance.errors import UsageRefusedError
from provenance.tasks.given_values import APPLIES_TO, SEEN, SHOWS, given_pairs


@pytest.mark.parametrize(
    ("text", "keys", "pairs"),
    [
        ("all", APPLIES_TO, {"examples": "all"}),
        ("9", APPLIES_TO, {"examples": "9"}),
        ("2, 5..8", APPLIES_TO, {"examples": ["2", "5..8"]}),
        ("2,5..8,from=June 1934", APPLIES_TO, {"examples": ["2", "5..8"], "from": "1934-06"}),
        ("batch=third, until=before 1934", APPLIES_TO, {"batch": "third", "until": "../1933"}),
        ("example=9,when=1931, 1932 or 1933", SEEN, {"example": "9", "when": "[1931,1932,1933]"}),
        ("9,signs=conduit", SEEN, {"example": "9", "signs": ["conduit"]}),
        ("9,note=left, behind No. 6", SHOWS, {"example": "9", "note": "left, behind No. 6"}),
        ("component=headlamp", SHOWS, {"component": "headlamp"}),
        ("No. 9 = spare", SHOWS, {"example": "No. 9 = spare"}),
    ],
)
def test_pairs_are_read_and_a_text_without_a_key_is_the_first(
    text: str, keys: tuple[str, ...], pairs: dict[str, object]
) -> None:
    assert given_pairs(text, "--shows", keys) == pairs


@pytest.mark.parametrize(
    ("text", "what", "mend"),
    [
        ("exampel=9", "--seen has no key `exampel`", "`example`"),
        ("9,colour=red", "--seen has no key `colour`", "its keys are example, when"),
        ("example=9,example=6", "--seen names example twice", "once"),
        ("example=", "has nothing behind example=", "once"),
        ("", "has nothing behind example=", "once"),
        ("9,when=some day", "--seen when: `some day` is not read as a date", "3 June 1934"),
    ],
)
def test_a_pair_that_cannot_be_read_is_refused(text: str, what: str, mend: str) -> None:
    with pytest.raises(UsageRefusedError) as refused:
        given_pairs(text, "--seen", SEEN)

    assert what in refused.value.what
    assert mend in refused.value.mend
