"""Places in a source against the grammars of others: W3C Media Fragments URI 1.0 and the Web Annotation Data Model.

The grammars below are those of Media Fragments URI 1.0 (W3C Recommendation, 25 September 2012), section 4.2.1 for time
in the form npt and 4.2.2 for a rectangle, written as regular expressions from memory; so are its examples. A Web
Annotation names them by a FragmentSelector (W3C Recommendation, 23 February 2017, 4.2.1) whose `conformsTo` is
http://www.w3.org/TR/media-frags/ and whose `value` is the fragment, such as `xywh=percent:25,25,50,50`.

A record takes less than that in some places and more in others:
- The unit of a rectangle is always written: what the grammar takes for pixels without it, people take for percent.
- Decimals are allowed in a rectangle, since a word on a page is smaller than a hundredth of it.
- A rectangle has some size and lies on the page.
- A time is hours, minutes and seconds, two figures each, and has a beginning. Its end stands behind a stroke, as in the
  intervals of ISO 8601, since a comma parts fields in YAML.
"""

import re
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from provenance.records.regions import (
    Region,
    RegionError,
    RegionUnit,
    TimeSpan,
    TimeSpanError,
    parse_region,
    parse_time_span,
)

_XYWH = re.compile(r"xywh=(?:(pixel|percent):)?([0-9]+),([0-9]+),([0-9]+),([0-9]+)")
_NPT = r"(?:[0-9]+:[0-5][0-9]:[0-5][0-9](?:\.[0-9]*)?|[0-5][0-9]:[0-5][0-9](?:\.[0-9]*)?|[0-9]+(?:\.[0-9]*)?)"
_T = re.compile(rf"t=(?:npt:)?(?:({_NPT})(?:,({_NPT}))?|,({_NPT}))")

MORE_THAN_THE_GRAMMAR = "decimals"
LESS = "a form that a record does not take"


def _seconds(npt: str) -> Decimal:
    """A time in npt form by the arithmetic of the clock."""
    total = Decimal(0)
    for part in npt.split(":"):
        total = total * 60 + Decimal(part)
    return total


@pytest.mark.parametrize(
    ("fragment", "in_grammar", "taken"),
    [
        # the recommendation's own examples
        ("xywh=160,120,320,240", True, LESS),
        ("xywh=pixel:160,120,320,240", True, True),
        ("xywh=percent:25,25,50,50", True, True),
        # the whole page, and the least that has a size
        ("xywh=percent:0,0,100,100", True, True),
        ("xywh=pixel:0,0,1,1", True, True),
        ("xywh=pixel:007,0,1,1", True, True),
        # in the grammar, and nowhere on a page: no size, or beyond the edge
        ("xywh=pixel:5,5,0,10", True, LESS),
        ("xywh=percent:60,0,50,10", True, LESS),
        ("xywh=percent:0,0,101,10", True, LESS),
        # our extension
        ("xywh=percent:12.5,40,30.25,8", False, MORE_THAN_THE_GRAMMAR),
        ("xywh=pixel:0.5,0,10,10", False, MORE_THAN_THE_GRAMMAR),
        # in neither
        ("xywh=percent:25,25,50", False, False),
        ("xywh=percent:25,25,50,50,1", False, False),
        ("xywh=percent: 25,25,50,50", False, False),
        ("xywh=percent:-5,25,50,50", False, False),
        ("xywh=percent:25%,25%,50%,50%", False, False),
        ("xywh=Percent:25,25,50,50", False, False),
        ("xywh=percent:+5,25,50,50", False, False),
        ("xywh=inch:1,1,2,2", False, False),
        ("xywh=percent:1.,1,2,2", False, False),
        ("xywh=", False, False),
    ],
)
def test_a_region_is_a_rectangle_of_media_fragments(fragment: str, *, in_grammar: bool, taken: bool | str) -> None:
    assert bool(_XYWH.fullmatch(fragment)) is in_grammar
    written = fragment.removeprefix("xywh=")
    if taken in (True, MORE_THAN_THE_GRAMMAR):
        assert Decimal(written.partition(":")[2].split(",")[0]) == parse_region(written).x
    else:
        with pytest.raises(RegionError):
            parse_region(written)


@given(st.sampled_from(RegionUnit), st.lists(st.integers(0, 130), min_size=4, max_size=4))
def test_every_rectangle_of_whole_figures_that_lies_on_a_page_is_a_region_and_the_other_way_round(
    unit: RegionUnit, sides: list[int]
) -> None:
    written = f"{unit}:{','.join(map(str, sides))}"
    x, y, w, h = sides
    on_page = w > 0 and h > 0 and (unit is RegionUnit.PIXEL or (x + w <= 100 and y + h <= 100))

    try:
        region: Region | None = parse_region(written)
    except RegionError:
        region = None

    assert (region is not None) is on_page
    if region is not None:
        matched = _XYWH.fullmatch(f"xywh={region}")
        assert matched is not None
        assert (matched[1], *map(int, matched.groups()[1:])) == (unit, *sides)


@pytest.mark.parametrize(
    ("fragment", "in_grammar", "written", "taken"),
    [
        # the recommendation's own examples
        ("t=10,20", True, "10/20", LESS),
        ("t=,20", True, "/20", LESS),
        ("t=10", True, "10", LESS),
        ("t=npt:10,20", True, "10/20", LESS),
        ("t=npt:120,", False, "120/", False),
        ("t=npt:,121.5", True, "/121.5", LESS),
        ("t=0:02:00,121.5", True, "0:02:00/121.5", LESS),
        ("t=npt:120,0:02:01.5", True, "120/0:02:01.5", LESS),
        # what a record takes
        ("t=00:02:00,00:02:01.5", True, "00:02:00/00:02:01.5", True),
        ("t=npt:00:12:31.000,00:12:44.000", True, "00:12:31.000/00:12:44.000", True),
        ("t=00:02:00", True, "00:02:00", True),
        ("t=100:00:00", True, "100:00:00", True),
        # minutes and seconds alone
        ("t=02:00,02:30", True, "02:00/02:30", LESS),
        # no decimals behind the point
        ("t=00:02:00.", True, "00:02:00.", LESS),
        # in neither: sixty of a minute or second, a comma for a point
        ("t=00:60:00", False, "00:60:00", False),
        ("t=00:00:60", False, "00:00:60", False),
        ("t=00:00:1", False, "00:00:1", False),
        ("t=00:02:00,5,00:03:00", False, "00:02:00,5/00:03:00", False),
        ("t=", False, "", False),
        # in the grammar, and no stretch of time: the recommendation has the end after the beginning (4.2.1)
        ("t=00:02:00,00:01:00", True, "00:02:00/00:01:00", LESS),
    ],
)
def test_a_time_is_one_of_media_fragments_in_the_form_of_a_clock(
    fragment: str, written: str, *, in_grammar: bool, taken: bool | str
) -> None:
    matched = _T.fullmatch(fragment)
    assert bool(matched) is in_grammar
    if taken is True:
        assert matched is not None
        start = _seconds(matched[1])
        assert parse_time_span(written) == TimeSpan(start, _seconds(matched[2]) if matched[2] else start)
    else:
        with pytest.raises(TimeSpanError):
            parse_time_span(written)


@given(st.integers(0, 400_000_000), st.integers(1, 400_000_000))
def test_every_stretch_of_time_in_a_record_is_one_of_media_fragments(start: int, length: int) -> None:
    span = TimeSpan(Decimal(start) / 1000, Decimal(start + length) / 1000)

    matched = _T.fullmatch(f"t=npt:{str(span).replace('/', ',')}")

    assert matched is not None
    assert (_seconds(matched[1]), _seconds(matched[2])) == (span.start, span.end)
