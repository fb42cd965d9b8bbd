import pytest
from reports.documents import a_document, a_drawing, a_whole_document
from reports.hostile import HOSTILE, hostile_document

from provenance.reports.document import (
    Boxed,
    Entry,
    Figure,
    Heading,
    Listing,
    Paragraph,
    Quotation,
    Run,
    Terms,
    Together,
    flat,
    words,
)
from provenance.reports.document_settled import name_of_box, settled


def test_a_sound_document_stays_as_it_is() -> None:
    assert settled(a_whole_document()) == a_whole_document()


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_what_is_settled_once_is_settled(text: str) -> None:
    once = settled(hostile_document(text))

    assert settled(once) == once


def test_what_says_nothing_is_left_out() -> None:
    document = a_document(
        Heading(text=" ", level=2),
        Paragraph(words=()),
        Paragraph(words=words("\n")),
        Boxed(name="", text=""),
        Quotation(text=" \n"),
        Listing(entries=()),
        Terms(pairs=(("", ()),)),
        Together(blocks=(Paragraph(words=()),)),
        Figure(picture=a_drawing(), caption=words(" ")),
    )

    assert settled(document).blocks == (Heading(text="Headlamp", level=1), Figure(picture=a_drawing(), caption=()))


def test_an_entry_that_says_nothing_keeps_its_number_and_a_word_without_a_meaning_its_place() -> None:
    document = a_document(
        Listing(entries=(Entry(words=()), Entry(words=words("b"))), numbered=True), Terms(pairs=(("word", ()),))
    )

    _, listing, terms = settled(document).blocks

    assert listing == Listing(entries=(Entry(words=words("—")), Entry(words=words("b"))), numbered=True)
    assert terms == Terms(pairs=(("word", words("—")),))


def test_a_link_that_leads_nowhere_is_plain_words() -> None:
    document = a_document(
        Heading(text=" ", level=2, anchor="gone"),
        Paragraph(words=(Run(text="a", to="gone"), Run(text="b", to="never"), Run(text="c", to="here")), anchor="here"),
    )

    (_, paragraph) = settled(document).blocks

    assert paragraph == Paragraph(words=(Run(text="a"), Run(text="b"), Run(text="c", to="here")), anchor="here")


def test_anchors_are_safe_and_each_is_given_once() -> None:
    document = a_document(
        Paragraph(words=(Run(text="to it", to="javascript:x"),), anchor="javascript:x"),
        Paragraph(words=words("again"), anchor="javascript:x"),
        Paragraph(words=words("like it"), anchor="javascript-3a-x"),
        Paragraph(words=words("in capitals"), anchor="JAVASCRIPT:X"),
    )

    blocks = [block for block in flat(settled(document).blocks) if isinstance(block, Paragraph)]

    assert [block.anchor for block in blocks] == ["javascript-3a-x", "", "javascript-3a-x-2", "JAVASCRIPT-3a-X-3"]
    assert blocks[0].words == (Run(text="to it", to="javascript-3a-x"),)


def test_a_language_that_is_no_language_is_left_out() -> None:
    document = a_document(Quotation(text="a", language="no such one"), Paragraph(words=(Run(text="b", language="?"),)))

    ready = settled(document)

    assert ready.blocks[1:] == (Quotation(text="a"), Paragraph(words=words("b")))
    assert settled(a_document(language="<b>")).language == ""


def test_the_first_word_of_a_box_ends_in_one_full_stop() -> None:
    assert [name_of_box(name) for name in ("Asbestos", "Asbestos.", "Asbestos:", "")] == [*["Asbestos."] * 3, ""]
