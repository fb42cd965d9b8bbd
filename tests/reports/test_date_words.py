import pytest
from builders import a_date

from provenance.reports.date_words import date_words


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ("1934", "1934"),
        ("1934-06", "June 1934"),
        ("1934-06-02", "2 June 1934"),
        ("1934~", "about 1934"),
        ("1934-06?", "perhaps June 1934"),
        ("1934%", "perhaps about 1934"),
        ("193X", "the 1930s"),
        ("1927/1928", "1927 to 1928"),
        ("1927-05~/1928", "about May 1927 to 1928"),
        ("1927/..", "from 1927"),
        ("../1928-12", "until December 1928"),
        ("/1928", "until 1928"),
        ("[1931,1933]", "[1931,1933]"),
        ("19XX", "19XX"),
    ],
)
def test_a_date_is_read_as_visitors_say_it_or_stays_as_it_was_written(written: str, read: str) -> None:
    assert date_words(a_date(written)) == read
