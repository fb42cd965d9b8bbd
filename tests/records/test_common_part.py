"""What two regions of a page have in common."""

import pytest

from provenance.records.regions import common_part, parse_region


@pytest.mark.parametrize(
    ("one", "other", "common"),
    [
        ("percent:10,10,20,20", "percent:20,15,40,5", "percent:20,15,10,5"),
        ("percent:10,10,20,20", "percent:0,0,100,100", "percent:10,10,20,20"),
        ("percent:12.5,0,10,10", "percent:0,2.25,20,30", "percent:12.5,2.25,7.5,7.75"),
        ("pixel:0,0,100,100", "pixel:50,60,100,100", "pixel:50,60,50,40"),
    ],
)
def test_the_common_part_is_what_lies_in_both(one: str, other: str, common: str) -> None:
    assert common_part(parse_region(one), parse_region(other)) == parse_region(common)
    assert common_part(parse_region(other), parse_region(one)) == parse_region(common)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("percent:10,10,20,20", "percent:30,10,20,20"),  # they touch
        ("percent:10,10,20,20", "percent:10,30,20,20"),
        ("percent:0,0,5,5", "percent:50,50,5,5"),
        ("percent:10,10,20,20", "pixel:10,10,20,20"),  # nobody can say without the page
    ],
)
def test_regions_that_share_nothing_or_are_measured_otherwise_have_no_common_part(one: str, other: str) -> None:
    assert common_part(parse_region(one), parse_region(other)) is None
