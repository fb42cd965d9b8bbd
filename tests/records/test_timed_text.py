from decimal import Decimal

from provenance.records.regions import TimeSpan
from provenance.records.timed_text import Block, BlockKind, SaidLine, TimedText, spoken_between, words_of


def a_span(start: str, end: str) -> TimeSpan:
    return TimeSpan(Decimal(start), Decimal(end))


def a_block(number: int, words: str, span: TimeSpan | None = None, kind: BlockKind = BlockKind.CUE) -> Block:
    return Block(kind=kind, line=number, lines=(SaidLine(number=number, text=words, shown=words),), span=span)


CUES = (
    a_block(3, "There was a bell", a_span("1", "4")),
    a_block(5, "nobody says this", kind=BlockKind.NOTE),
    a_block(7, "with a cord", a_span("2", "3")),
    a_block(9, "in every car"),
)
TEXT = TimedText(kinds=(), blocks=CUES, faults=())


def test_words_carry_the_number_of_their_line_and_leave_out_the_notes() -> None:
    assert [(word.text, word.line) for word in TEXT.words][3:6] == [("bell", 3), ("with", 7), ("a", 7)]
    assert words_of(CUES[1:2])[0].text == "nobody"


def test_a_time_reaches_from_the_earliest_beginning_to_the_latest_end() -> None:
    assert spoken_between(CUES) == a_span("1", "4")
    assert spoken_between(CUES[2:]) == a_span("2", "3")


def test_what_has_no_time_is_said_at_none() -> None:
    assert spoken_between(CUES[3:]) is None
    assert spoken_between(()) is None


def test_the_cue_of_a_line_is_found() -> None:
    assert TEXT.said_on([9, 3]) == (CUES[0], CUES[3])
    assert TEXT.said_on([4]) == ()
