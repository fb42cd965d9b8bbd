from itertools import permutations

from builders import FEATURE, a_claim, a_source, an_archive, an_item, seen_on

from provenance.records.claims import At, EvidenceItem
from provenance.records.regions import parse_region, parse_time_span
from provenance.rules.judging import judge_feature
from provenance.rules.verdicts import JudgedItem


def judged(*items: EvidenceItem) -> tuple[JudgedItem, ...]:
    claim = a_claim("acetylene", *items)
    return judge_feature(an_archive(a_source("view"), claim), FEATURE).candidates[0].items


def test_items_stand_in_order_of_page_then_region_then_time_and_absent_comes_first() -> None:
    upper, lower = parse_region("percent:1,1,10,10"), parse_region("percent:1,50,10,10")
    places = [
        At(),
        At(time=parse_time_span("00:01:00")),
        At(page=2),
        At(page=2, region=upper),
        At(page=2, region=lower),
        At(page=10),
    ]

    found = judged(*(an_item("manual", at=place) for place in reversed(places)))

    assert [item.at for item in found] == places


def test_items_of_one_place_stand_in_the_same_order_whichever_was_entered_first() -> None:
    """The three weigh the same and are of the same category, so nothing but their records tells them apart."""
    items = [
        an_item("view", "shows"),
        an_item("view", "shows", seen=seen_on("9", "1934")),
        an_item("view", "shows", note="a second look"),
    ]

    orders = {judged(*order) for order in permutations(items)}

    assert len(orders) == 1
