"""What is said in a line of a cue. The tags are those of the W3C's WebVTT standard, section "WebVTT cue text parsing
rules", from memory; those of SubRip are common practice, no source."""

import html

import pytest
from hypothesis import given
from hypothesis import strategies as st

from provenance.records.cue_text import SUBRIP_TAGS, WEBVTT_TAGS, read_cue_line


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("There was a bell.", "There was a bell."),
        ("<b>There</b> was <i>a</i> <u>bell</u>.", "There was a bell."),
        ("<c.yellow.bg_blue>There</c> was", "There was"),
        ("<lang en-GB>There</lang> was", "There was"),
        ("<ruby>bell<rt>ding</rt></ruby>", "bellding"),
        ("There <00:00:30.500>was <00:31.000>a bell", "There was a bell"),
        ("bell &amp; cord, 3 &lt; 4 &gt; 2", "bell & cord, 3 < 4 > 2"),
        ("bell&nbsp;cord &#8470; 9, &#x2116;9", "bell cord \N{NUMERO SIGN} 9, \N{NUMERO SIGN}9"),
        ("bell&lrm; cord&rlm;", "bell cord"),
        ("&lt;b&gt; is no tag", "<b> is no tag"),
        ("bell & cord, A&B; a&notes", "bell & cord, A&B; a&notes"),
        ("<b></b>", ""),
    ],
)
def test_tags_and_escapes_are_taken_off(line: str, said: str) -> None:
    read = read_cue_line(line, WEBVTT_TAGS)

    assert (read.text, read.faults) == (said, ())


@pytest.mark.parametrize(
    ("line", "shown", "speakers"),
    [
        ("<v Albert Fennick>Nine years.", "Albert Fennick: Nine years.", ("Albert Fennick",)),
        ("<v.loud  Albert  Fennick >Nine years.</v>", "Albert Fennick: Nine years.", ("Albert Fennick",)),
        ("<v Holt &amp; Son>Yes.</v><v Guard>No.", "Holt & Son: Yes. Guard: No.", ("Holt & Son", "Guard")),
    ],
)
def test_who_speaks_is_kept_and_is_no_part_of_what_is_said(line: str, shown: str, speakers: tuple[str, ...]) -> None:
    read = read_cue_line(line, WEBVTT_TAGS)

    assert (read.shown, read.speakers, read.faults) == (shown, speakers, ())
    assert not any(name in read.text for name in speakers)


def test_words_on_either_side_of_a_change_of_speaker_stay_apart() -> None:
    assert read_cue_line("<v A>Yes.</v><v B>No.", WEBVTT_TAGS).text == "Yes. No."


@pytest.mark.parametrize(
    ("line", "said", "what"),
    [
        ("Two pulls. <laughs> Get on.", "Two pulls. <laughs> Get on.", "`<laughs>` is no tag"),
        ("one <> two", "one <> two", "`<>` is no tag"),
        ("<font color=red>Two</font>", "<font color=red>Two</font>", "`<font color=red>` is no tag"),
        ("<v Albert There was a bell", "<v Albert There was a bell", "a `<` that is not closed on its line"),
        ("3 < 4", "3 < 4", "a `<` that is not closed on its line"),
        ("<v>Two pulls", "Two pulls", "a voice tag that names nobody"),
    ],
)
def test_what_is_no_tag_is_named_and_none_of_it_is_lost(line: str, said: str, what: str) -> None:
    read = read_cue_line(line, WEBVTT_TAGS)

    assert read.text == said
    assert what in [fault for fault, _ in read.faults]
    assert all(mend for _, mend in read.faults)


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ('<font color="#ff0000">Two</font> <B>pulls</B>', "Two pulls"),
        ("{\\an8}Two pulls", "Two pulls"),
        ("Two<br/>pulls<br>once", "Two pulls once"),
        ("{two} pulls", "{two} pulls"),
    ],
)
def test_the_tags_of_subrip_are_taken_off(line: str, said: str) -> None:
    read = read_cue_line(line, SUBRIP_TAGS)

    assert (read.text, read.speakers, read.faults) == (said, (), ())


@given(st.text(alphabet="ab <>&;/1", max_size=20))
def test_every_letter_is_kept_in_order_unless_a_known_tag_holds_it(line: str) -> None:
    read = read_cue_line(line, frozenset())

    # No tag is known, so that only escapes can change: `&…;` of these letters is none that HTML knows.
    assert "".join(read.text.split()) == "".join(line.replace("</>", "").split())


@given(st.text(alphabet=st.characters(exclude_categories=["C", "Z"]), max_size=30))
def test_what_another_writer_escaped_is_read_as_it_was(words: str) -> None:
    """Source: Python's `html.escape`, which writes the five characters of markup as HTML has them."""
    assert read_cue_line(html.escape(words), WEBVTT_TAGS).text == words.translate({0x200E: None, 0x200F: None})
