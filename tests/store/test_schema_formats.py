"""The formats that the schemas name."""

import pytest

from provenance.store.schema_formats import FORMATS, fault_of_format


@pytest.mark.parametrize(
    ("name", "sound", "faulty"),
    [
        ("edtf", "1934-06", "June 1934"),
        ("examples", "all", "5.."),
        ("examples-term", "5..8", "all"),
        ("page-range", "3..7", "7..3"),
        ("region", "percent:1,2,3,4", "1,2,3,4"),
        ("time-span", "00:12:31", "12:31"),
    ],
)
def test_a_format_takes_what_the_records_can_read_and_mends_the_rest(name: str, sound: str, faulty: str) -> None:
    assert fault_of_format(name, sound) is None
    assert FORMATS[name](sound)
    assert not FORMATS[name](faulty)

    fault = fault_of_format(name, faulty)
    assert fault is not None
    what, mend = fault
    assert what
    assert mend


def test_what_is_no_text_has_every_format() -> None:
    assert all(test(3) and test([]) for test in FORMATS.values())
