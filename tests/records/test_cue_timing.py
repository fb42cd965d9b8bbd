"""When a cue is said. WebVTT: W3C, "WebVTT: The Web Video Text Tracks Format", sections "WebVTT timestamp" and "WebVTT
cue timings", from memory. SubRip: common practice, no source."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from provenance.records.cue_timing import FORM_SUBRIP, FORM_WEBVTT, read_timing
from provenance.records.regions import parse_time_span


@pytest.mark.parametrize(
    ("line", "span", "settings"),
    [
        ("00:00:29.500 --> 00:00:41.000", "00:00:29.500/00:00:41.000", ""),
        ("00:29.500 --> 00:41.000", "00:00:29.500/00:00:41.000", ""),
        ("00:59.000 --> 01:00:01.000", "00:00:59.000/01:00:01.000", ""),
        ("00:29.500\t-->\t00:41.000 align:start line:0", "00:00:29.500/00:00:41.000", "align:start line:0"),
        ("00:29.500 --> 00:41.000 vertical:rl position:10%,line-left size:35% region:a", None, None),
    ],
)
def test_times_as_the_standard_has_them_are_read(line: str, span: str | None, settings: str | None) -> None:
    timing = read_timing(line, FORM_WEBVTT)

    assert timing.faults == ()
    assert str(timing.span) == (span or "00:00:29.500/00:00:41.000")
    assert timing.settings == (settings if settings is not None else line.split("41.000 ")[1])
    assert timing.beyond == ""


def test_times_as_subrip_has_them_are_read() -> None:
    timing = read_timing("00:00:29,500 --> 00:00:41,000 X1:10 X2:20 Y1:30 Y2:40", FORM_SUBRIP)

    assert (str(timing.span), timing.faults) == ("00:00:29.500/00:00:41.000", ())
    assert timing.settings == "X1:10 X2:20 Y1:30 Y2:40"


@pytest.mark.parametrize(
    "line",
    [
        "00:00:29,500 --> 00:00:41,000",
        "0:00:29.500 --> 0:00:41.000",
        "0:0:29.500 --> 0:0:41.000",
        "00:00:29.500-->00:00:41.000",
        "  00:00:29.500 --> 00:00:41.000",
        "00:00:29.500 --> 00:00:41.000align:start",
    ],
)
def test_times_that_are_only_written_otherwise_are_named_and_used(line: str) -> None:
    timing = read_timing(line, FORM_WEBVTT)

    assert str(timing.span) == "00:00:29.500/00:00:41.000"
    assert [what for what, _ in timing.faults] == ["the times are not as WebVTT has them"]
    assert "00:00:08.000 --> 00:00:14.500" in timing.faults[0][1]


def test_a_point_in_subrip_is_named_and_used() -> None:
    timing = read_timing("00:00:29.500 --> 00:00:41.000", FORM_SUBRIP)

    assert str(timing.span) == "00:00:29.500/00:00:41.000"
    assert [what for what, _ in timing.faults] == ["the times are not as SubRip has them"]


@pytest.mark.parametrize(
    "line",
    [
        "00:00:29.500 -->",
        "--> 00:00:41.000",
        "then --> now",
        "00:60:29.500 --> 01:00:41.000",
        "00:00:29.500 --> 00:00:60.000",
        "00:00:29.5 --> 00:00:41.0",
        "00:00:29.5000 --> 00:00:41.0000",
        "00:00:29.500 --> 00:00:41.0001",
        "29.500 --> 41.000",
        "1000:00:29.500 --> 1000:00:41.000",
        "٠٠:٠٠:٢٩.٥٠٠ --> 00:00:41.000",  # noqa: RUF001 -- figures of another script are none here
    ],
)
def test_times_that_could_be_read_in_two_ways_or_are_none_are_not_used(line: str) -> None:
    timing = read_timing(line, FORM_WEBVTT)

    assert timing.span is None
    assert timing.beyond == line.strip()
    ((what, mend),) = timing.faults
    assert "does not say from when to when" in what
    assert "00:00:08.000 --> 00:00:14.500" in mend


def test_a_cue_that_ends_before_it_begins_has_no_time() -> None:
    timing = read_timing("00:00:41.000 --> 00:00:29.500", FORM_WEBVTT)

    assert timing.span is None
    assert [what for what, _ in timing.faults] == ["the cue ends before it begins, so its times are not used"]


def test_a_cue_that_ends_where_it_begins_is_an_instant() -> None:
    timing = read_timing("00:00:41.000 --> 00:00:41.000", FORM_WEBVTT)

    assert str(timing.span) == "00:00:41.000"
    assert [what for what, _ in timing.faults] == ["the cue ends where it begins"]


@pytest.mark.parametrize(
    ("line", "named"), [("99:59:58.000 --> 99:59:59.999", 0), ("99:59:58.000 --> 100:00:00.000", 1)]
)
def test_a_hundred_hours_are_used_and_doubted(line: str, named: int) -> None:
    timing = read_timing(line, FORM_WEBVTT)

    assert timing.span is not None
    assert [what for what, _ in timing.faults] == ["the cue lies a hundred hours or more into the recording"][:named]


def test_words_behind_the_times_are_kept() -> None:
    timing = read_timing("00:29.500 --> 00:41.000 There was a bell", FORM_WEBVTT)

    assert (timing.settings, timing.beyond) == ("", "There was a bell")
    assert "`There was a bell` follows the times" in timing.faults[0][0]
    assert str(timing.span) == "00:00:29.500/00:00:41.000"


MILLISECONDS = st.integers(0, 999 * 3_600_000)


def written(milliseconds: int, mark: str) -> str:
    seconds, thousandths = divmod(milliseconds, 1000)
    return f"{seconds // 3600:02}:{seconds // 60 % 60:02}:{seconds % 60:02}{mark}{thousandths:03}"


@given(MILLISECONDS, MILLISECONDS)
def test_every_time_is_one_that_a_record_may_hold(one: int, other: int) -> None:
    start, end = sorted((one, other))
    for form, mark in ((FORM_WEBVTT, "."), (FORM_SUBRIP, ",")):
        span = read_timing(f"{written(start, mark)} --> {written(end, mark)}", form).span

        assert span is not None
        assert parse_time_span(str(span)) == span
        assert (span.start, span.end) == (Decimal(start) / 1000, Decimal(end) / 1000)
