"""Every line of a subtitle file accounted for. The shapes follow the examples of the W3C's WebVTT standard (its
introduction, and the sections on comments, styling, regions and chapters), from memory; the words are our own."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from provenance.records.cue_timing import ARROW
from provenance.records.timed_text import BlockKind, LineKind, TimedText
from provenance.records.timed_text_parsing import lines_of, parse_subrip, parse_webvtt

WHOLE = """\
WEBVTT - Tape 7, side A
Kind: captions
Language: en

STYLE
::cue { color: papayawhip }

REGION
id:fred
width:40%

NOTE recorded at Carrowsea

NOTE
Written down by I. C.
in one sitting.

1
00:08.000 --> 00:14.500 align:start
<v Interviewer>You were guard
on the cars?

question two
01:00:15.000 --> 01:00:24.000
<v Albert Fennick>Nine years.
"""

H, N, S, R = LineKind.HEADER, LineKind.NOTE, LineKind.STYLE, LineKind.REGION
ID, TIME, TEXT, BLANK, STRAY = (
    LineKind.IDENTIFIER,
    LineKind.TIMING,
    LineKind.TEXT,
    LineKind.BLANK,
    LineKind.STRAY,
)


def cues(text: TimedText) -> list[tuple[str, str]]:
    return [
        (str(block.span), " / ".join(line.text for line in block.lines))
        for block in text.blocks
        if block.kind is BlockKind.CUE
    ]


def faults(text: TimedText) -> list[tuple[int, str]]:
    assert all(fault.mend for fault in text.faults)
    return [(fault.line, fault.what) for fault in text.faults]


def said(text: TimedText) -> str:
    return " ".join(word.text for word in text.words)


def test_every_line_of_a_whole_file_is_known_for_what_it_is() -> None:
    text = parse_webvtt(WHOLE)

    above = [H, H, H, BLANK, S, S, BLANK, R, R, R, BLANK, N, BLANK, N, N, N, BLANK]
    assert list(text.kinds) == [*above, ID, TIME, TEXT, TEXT, BLANK, ID, TIME, TEXT]
    assert faults(text) == []
    assert cues(text) == [
        ("00:00:08.000/00:00:14.500", "You were guard / on the cars?"),
        ("01:00:15.000/01:00:24.000", "Nine years."),
    ]


def test_a_cue_keeps_its_identifier_its_settings_its_speakers_and_the_lines_of_its_words() -> None:
    first, second = (block for block in parse_webvtt(WHOLE).blocks if block.kind is BlockKind.CUE)

    assert (first.line, first.identifier, first.settings, first.speakers) == (19, "1", "align:start", ("Interviewer",))
    assert [(line.number, line.shown) for line in first.lines] == [
        (20, "Interviewer: You were guard"),
        (21, "on the cars?"),
    ]
    assert (second.identifier, second.speakers) == ("question two", ("Albert Fennick",))


def test_what_a_note_says_is_kept_and_is_not_said_on_the_recording() -> None:
    text = parse_webvtt(WHOLE)

    notes = [[line.text for line in block.lines] for block in text.blocks if block.kind is BlockKind.NOTE]
    assert notes == [["Tape 7, side A"], ["recorded at Carrowsea"], ["Written down by I. C.", "in one sitting."]]
    assert said(text) == "You were guard on the cars? Nine years."
    assert [(word.text, word.line) for word in text.words][-2:] == [("Nine", 25), ("years.", 25)]


@pytest.mark.parametrize("end", ["\r\n", "\r", "\n"])
@pytest.mark.parametrize("mark", ["\ufeff", ""])
def test_line_ends_and_a_byte_order_mark_make_no_difference(end: str, mark: str) -> None:
    assert parse_webvtt(mark + WHOLE.replace("\n", end)) == parse_webvtt(WHOLE)


def test_a_file_without_a_last_line_end_is_whole() -> None:
    assert parse_webvtt(WHOLE.rstrip("\n")) == parse_webvtt(WHOLE)


@pytest.mark.parametrize("first", ["WEBVTT", "WEBVTT\t", "WEBVTT title"])
def test_the_first_line_is_the_signature_alone_or_with_a_title(first: str) -> None:
    assert faults(parse_webvtt(f"{first}\n")) == []


@pytest.mark.parametrize("text", ["", "WEBVTTX\n", "webvtt\n", " WEBVTT\n", "00:01.000 --> 00:02.000\nBell\n"])
def test_a_file_without_the_signature_is_named_and_read(text: str) -> None:
    read = parse_webvtt(text)

    assert faults(read)[0] == (1, "the file does not begin with WEBVTT")
    assert "Bell" not in text or cues(read) == [("00:00:01.000/00:00:02.000", "Bell")]


def test_a_line_that_belongs_to_nothing_is_named_and_its_words_are_kept() -> None:
    text = parse_webvtt(
        "WEBVTT\n\nThere was a bell\n\n00:01.000 --> 00:02.000\nwith a cord\n\nin <i>every</i> car\nthen\n"
    )

    assert list(text.kinds) == [H, BLANK, STRAY, BLANK, TIME, TEXT, BLANK, STRAY, STRAY]
    assert faults(text) == [
        (3, "a line that belongs to no cue: `There was a bell`"),
        (8, "2 lines that belong to no cue: `in <i>every</i> car`"),
    ]
    assert said(text) == "There was a bell with a cord in every car then"
    assert [block.span for block in text.blocks if block.kind is BlockKind.STRAY] == [None, None]


def test_words_directly_under_the_signature_are_named_and_kept() -> None:
    text = parse_webvtt("WEBVTT\nThere was a bell\nA note: nobody\n\n")

    assert list(text.kinds) == [H, STRAY, STRAY, BLANK]
    assert [line for line, _ in faults(text)] == [2, 3]
    assert said(text) == "There was a bell A note: nobody"


def test_a_cue_whose_times_are_broken_keeps_its_words_and_has_no_time() -> None:
    text = parse_webvtt("WEBVTT\n\n1\n00:00:01.000 --> 00:00:75.000\nThere was\na bell\n")

    assert list(text.kinds) == [H, BLANK, ID, STRAY, TEXT, TEXT]
    assert cues(text) == [("None", "There was / a bell")]
    assert [line for line, _ in faults(text)] == [4]


def test_a_line_of_words_with_an_arrow_is_kept_with_what_stands_above_it() -> None:
    text = parse_webvtt("WEBVTT\n\nthe cord ran\ncab --> van\nand back\n")

    assert said(text) == "the cord ran cab --> van and back"
    assert cues(text) == [("None", "the cord ran / cab --> van / and back")]
    assert [line for line, _ in faults(text)] == [4]


def test_a_cue_without_text_is_named() -> None:
    text = parse_webvtt("WEBVTT\n\n00:01.000 --> 00:02.000\n\n00:03.000 --> 00:04.000\n")

    assert faults(text) == [(3, "a cue without text"), (5, "a cue without text")]
    assert cues(text) == [("00:00:01.000/00:00:02.000", ""), ("00:00:03.000/00:00:04.000", "")]


def test_words_behind_the_times_are_said_at_that_time() -> None:
    text = parse_webvtt("WEBVTT\n\n00:01.000 --> 00:02.000 There was a bell\n")

    assert cues(text) == [("00:00:01.000/00:00:02.000", "There was a bell")]
    assert [line for line, _ in faults(text)] == [3]


def test_a_block_that_the_next_cue_cuts_short_is_named_at_that_cue() -> None:
    text = parse_webvtt("WEBVTT\n00:01.000 --> 00:02.000\nOne\n00:03.000 --> 00:04.000\nTwo\n")

    missing = "no empty line stands before this cue"
    assert faults(text) == [(2, missing), (4, missing)]
    assert cues(text) == [("00:00:01.000/00:00:02.000", "One"), ("00:00:03.000/00:00:04.000", "Two")]


def test_a_cue_that_begins_before_any_cue_above_it_is_named() -> None:
    starts = ("05", "04", "04", "05", "06")
    text = parse_webvtt("WEBVTT\n\n" + "\n".join(f"00:{start}.000 --> 00:07.000\nBell\n" for start in starts))

    # The standard asks that a start be no earlier than that of any cue above it, so that the third is early too.
    assert faults(text) == [(6, "it begins before a cue above it"), (9, "it begins before a cue above it")]


def test_faults_in_the_tags_of_a_cue_carry_the_line_that_they_are_in() -> None:
    text = parse_webvtt("WEBVTT\n\n00:05.000 --> 00:06.000\nTwo\npulls <laughs>\n")

    assert faults(text) == [(5, "`<laughs>` is no tag")]
    assert said(text) == "Two pulls <laughs>"


def test_styles_and_regions_stand_before_the_first_cue_and_else_may_be_words() -> None:
    text = parse_webvtt("WEBVTT\n\n00:05.000 --> 00:06.000\nBell\n\nSTYLE\nhe had\n\nREGION\nof the van\n")

    assert list(text.kinds)[5:] == [STRAY, STRAY, BLANK, STRAY, STRAY]
    assert [line for line, _ in faults(text)] == [6, 9]


def test_a_line_of_white_space_ends_no_cue_of_webvtt() -> None:
    text = parse_webvtt("WEBVTT\n\n00:05.000 --> 00:06.000\nBell\n  \ncord\n \n")

    assert cues(text) == [("00:00:05.000/00:00:06.000", "Bell / cord")]
    assert list(text.kinds)[3:] == [TEXT, TEXT, TEXT, TEXT]


def test_a_line_of_white_space_takes_the_identifier_of_no_cue() -> None:
    text = parse_webvtt("WEBVTT\n\n  \n7\n00:05.000 --> 00:06.000\nBell\n")

    assert faults(text) == []
    assert [block.identifier for block in text.blocks] == ["7"]


SUBRIP_TEXT = """\
1
00:00:08,000 --> 00:00:14,500
You were <i>guard</i>
on the cars?
\x20
2
00:00:15,000 --> 00:00:24,000
{\\an8}Nine years.

"""


def test_every_line_of_a_subrip_file_is_known_for_what_it_is() -> None:
    text = parse_subrip(SUBRIP_TEXT)

    assert list(text.kinds) == [ID, TIME, TEXT, TEXT, BLANK, ID, TIME, TEXT, BLANK]
    assert faults(text) == []
    assert cues(text) == [
        ("00:00:08.000/00:00:14.500", "You were guard / on the cars?"),
        ("00:00:15.000/00:00:24.000", "Nine years."),
    ]


def test_words_where_the_number_of_a_subrip_cue_is_due_are_kept() -> None:
    text = parse_subrip("1\n00:00:01,000 --> 00:00:02,000\nThere\n\nwas\n00:00:03,000 --> 00:00:04,000\na bell\n")

    assert list(text.kinds) == [ID, TIME, TEXT, BLANK, STRAY, TIME, TEXT]
    assert said(text) == "There was a bell"
    assert faults(text) == [(5, "a line that belongs to no cue: `was`")]


def test_subrip_knows_no_notes_and_no_signature() -> None:
    text = parse_subrip("WEBVTT\n\nNOTE this\n")

    assert said(text) == "WEBVTT NOTE this"
    assert [line for line, _ in faults(text)] == [1, 3]


PIECES = st.sampled_from(
    [
        *("WEBVTT", "NOTE", "NOTE so", "STYLE", "REGION", "Kind: x", "", " ", "\t", "7", "bell", "line:0", "&lt;"),
        *("00:01.000 --> 00:02.000", "00:00:02,000 --> 00:00:01,000", "a --> b", "-->", "<v Guard>cord", "<v"),
    ]
)


@given(st.lists(PIECES, max_size=12).map("\n".join))
def test_nothing_is_lost_whatever_the_order_of_lines(text: str) -> None:
    for parse in (parse_webvtt, parse_subrip):
        read = parse(text)
        lines = lines_of(text)

        # Each line is of one kind; each line with an arrow is a cue; every line of words is somewhere, and once.
        assert len(read.kinds) == len(lines)
        assert sum(block.kind is BlockKind.CUE for block in read.blocks) == sum(ARROW in line for line in lines)
        assert [kind for kind, line in zip(read.kinds, lines, strict=True) if not line] == [BLANK] * lines.count("")
        numbers = [line.number for block in read.blocks for line in block.lines]
        assert len(numbers) == len(set(numbers))
        for number, (kind, line) in enumerate(zip(read.kinds, lines, strict=True), start=1):
            if kind in {TEXT, STRAY} and line in {"bell", "<v Guard>cord", "<v"}:
                assert number in numbers
        # What is stray is named.
        named = {fault.line for fault in read.faults}
        for number, kind in enumerate(read.kinds, start=1):
            if kind is STRAY and (number == 1 or read.kinds[number - 2] is not STRAY):
                assert number in named


@given(st.text(max_size=200))
def test_any_text_can_be_read(text: str) -> None:
    for parse in (parse_webvtt, parse_subrip):
        assert len(parse(text).kinds) == len(lines_of(text))
