"""Which characters can be printed, known before a page is set."""

import unicodedata
from pathlib import Path

import pytest
from reports.made_typefaces import a_typeface
from reports.pdf_reading import named as tagged
from reports.pdf_reading import typefaces
from reports.printed_documents import a_document, a_figure, a_paragraph, a_table

from provenance.reports.document import Boxed, Document, Entry, Heading, Listing, Quotation, Terms, Together, words
from provenance.reports.document_pdf import document_pdf
from provenance.reports.typefaces import Faces, MissingCharacterError, named, require_characters

# What the trade writes: diameters, minutes and seconds of arc, fractions, limits, boxes to tick.
SIGNS = "⌀Ø±×°′″½¼¾⅛⅜≤≥≈→←↑↓µΩ√№©™€£✓☐☑…–—“”„«»•■□\u00ad\u2060\u202f\u2009"  # noqa: RUF001  # signs that look like letters


def test_the_signs_of_the_trade_can_be_printed() -> None:
    data = document_pdf(a_document(a_paragraph(SIGNS)))

    (text,) = tagged(data, "P")
    assert set(SIGNS) - set(text) <= set("\u00ad\u2060\u202f\u2009")  # spaces and what has no shape
    assert all(typefaces(data).values())


@pytest.mark.parametrize(
    "document",
    [
        a_document(a_paragraph("a 漢 b")),
        a_document(Heading(text="漢", level=2)),
        a_document(Boxed(name="漢", text="x")),
        a_document(Boxed(name="x", text="漢")),
        a_document(Quotation(text="漢")),
        a_document(Listing(entries=(Entry(words=words("漢")),))),
        a_document(Terms(pairs=(("x", words("漢")),))),
        a_document(Terms(pairs=(("漢", words("x")),))),
        a_document(a_table(1, caption="漢")),
        a_document(a_figure("漢")),
        a_document(a_figure("&#x6F22;")),
        a_document(a_figure(caption="漢")),
        a_document(Together(blocks=(a_paragraph("漢"),))),
        a_document(running="漢"),
    ],
)
def test_a_character_that_no_typeface_has_is_named_wherever_it_stands(document: Document) -> None:
    with pytest.raises(MissingCharacterError) as caught:
        document_pdf(document)

    assert caught.value.character == "漢"
    assert "漢" in caught.value.around


def test_a_missing_character_is_told_with_its_words_and_with_those_that_are_missing_too() -> None:
    text = f"{'before ' * 9}the sign 漢 and 字 and 漢 again {'after ' * 9}"

    with pytest.raises(MissingCharacterError) as caught:
        require_characters(a_document(a_paragraph(text)))

    assert caught.value.others == ("字",)
    assert "the sign 漢 and" in caught.value.around
    assert len(caught.value.around) < 60
    assert named("漢") == "漢 (U+6F22, CJK UNIFIED IDEOGRAPH-6F22)"


def test_a_character_of_private_use_counts_only_where_people_brought_its_typeface(tmp_path: Path) -> None:
    document = a_document(a_paragraph("a \ue000 b"))
    a_typeface(tmp_path / "own.ttf", "\ue000")

    with pytest.raises(MissingCharacterError):
        require_characters(document)
    require_characters(document, [str(tmp_path)])


def test_a_typeface_that_people_bring_is_used_where_ours_lack_a_character(tmp_path: Path) -> None:
    a_typeface(tmp_path / "own.ttf", "漢字")

    data = document_pdf(a_document(a_paragraph("a 漢字 b"), a_figure("漢")), [str(tmp_path)])

    assert tagged(data, "P") == ["a 漢字 b"]
    assert {name.partition("+")[2] for name in typefaces(data)} >= {"TestSquares-Regular"}


def test_a_typeface_that_people_bring_changes_no_other_letter(tmp_path: Path) -> None:
    a_typeface(tmp_path / "own.ttf", "abc漢", family="Aaa First")
    document = a_document(a_paragraph("abc"))

    assert document_pdf(document, [str(tmp_path)]) == document_pdf(document)


@pytest.mark.parametrize("text", ["a\u20dd b", "a\u20d4\u064e \u20eb\ufe0f", "\u2610\u0e31"])
def test_a_mark_that_its_letter_cannot_carry_is_named(text: str) -> None:
    with pytest.raises(MissingCharacterError) as caught:
        document_pdf(a_document(a_paragraph(f"before {text} after")))

    assert caught.value.character in text


@pytest.mark.parametrize("text", ["e\u0301", "\u2713\u0301", "\u0628\u064e", "\u05d1\u05bc", "i\ufe0f"])
def test_a_mark_that_its_letter_can_carry_is_printed(text: str) -> None:
    data = document_pdf(a_document(a_paragraph(f"before {text} after"), a_table(1, caption=text)))

    assert all(typefaces(data).values())


@pytest.mark.long
def test_every_character_that_is_let_through_can_be_set() -> None:
    """Whatever there is but the letters of scripts that no face has, looked through as documents are."""
    faces = Faces()
    known = faces.characters - set("\n\r\t")
    others = [
        chr(code)
        for code in range(0x20, 0x3000)
        if unicodedata.category(chr(code)) not in {"Cs", "Cn", "Co", "Lo", "Mn", "Me", "Mc"} and chr(code) not in known
    ]
    shown = [*sorted(known), *(each for each in others if faces.can_show(each))]

    assert len(shown) > 5000
    for start in range(0, len(shown), 500):
        document_pdf(a_document(a_paragraph("".join(f"{each} a" for each in shown[start : start + 500]))))
