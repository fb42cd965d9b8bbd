"""Dates and examples in passing: what is named, and what only looks so."""

import pytest
from builders import a_date

from provenance.records.production import Batch, Production
from provenance.rules.mentions import dates_in, examples_in

ELEVEN = Production(
    batches=(
        Batch(batch="first", examples=("1", "2", "3", "4"), built=a_date("1927/1928")),
        Batch(batch="second", examples=("5", "6", "7", "8"), built=a_date("1930")),
        Batch(batch="third", examples=("9", "10", "11"), built=a_date("1933")),
    )
)


@pytest.mark.parametrize(
    ("text", "dates"),
    [
        ("Orrin, 3rd June, 1934.", ("1934-06-03",)),
        ("the 3rd of June 1934", ("1934-06-03",)),
        ("June 3, 1934", ("1934-06-03",)),
        ("in June 1934", ("1934-06",)),
        ("Sept. 1933 and OCTOBER\n1933", ("1933-09", "1933-10")),
        ("built in 1930 and 1927", ("1927", "1930")),
        ("taken 1934-06-03", ("1934-06-03",)),
        ("31 June 1934", ()),  # June has 30 days
        ("3.6.34, 3/6/1934", ()),  # which is the month?
        ("H-1934, 1934/2, No. 1934, 19345, 1934.5, 1634", ()),
        ("1934, 1934, 1934", ("1934",)),
        ("the Mayor 1934", ("1934",)),
    ],
)
def test_dates_are_found_as_they_are_written(text: str, dates: tuple[str, ...]) -> None:
    assert dates_in(text) == dates


@pytest.mark.parametrize(
    ("text", "examples"),
    [
        ("No. 9 at the shed", ("9",)),
        ("car 9 and No, 10", ("9", "10")),
        ("Cars Nos. 5 to 8 were delivered", ("5", "6", "7", "8")),
        ("cars 10 - 9", ("9", "10")),
        ("Nos. 5, 6 and 11", ("5", "6", "11")),
        ("the RAILCAR No. 9\nat Orrin", ("9",)),
        ("locomotive 3", ("3",)),
        ("No. 12, car 0", ()),
        ("No. 9-204, No. 4/2", ()),
        ("9 men and 10 cars", ()),
        ("casino 9", ()),
    ],
)
def test_examples_are_found_after_what_they_are_called(text: str, examples: tuple[str, ...]) -> None:
    assert examples_in(text, ELEVEN, "locomotive") == examples


def test_without_a_production_nothing_is_an_example() -> None:
    assert examples_in("No. 9", Production()) == ()
