import re

import pytest
from reports.documents import a_document, a_whole_document
from reports.hostile import ARABIC, HEBREW
from reports.read_docx import SPACES, attribute, fields_of, paragraphs_of, text_of, xml_of

from provenance.reports.document import (
    Entry,
    Listing,
    Paragraph,
    Quotation,
    Run,
    words,
)
from provenance.reports.document_docx import document_docx


def test_every_link_leads_to_a_bookmark_and_no_bookmark_stands_twice() -> None:
    blocks = (
        Paragraph(words=words("a"), anchor="9-x"),
        Paragraph(words=words("b"), anchor="a-b"),
        Paragraph(words=words("c"), anchor=f"{'long-' * 12}one"),
        Paragraph(words=words("d"), anchor=f"{'long-' * 12}two"),
    )
    links = Paragraph(words=tuple(Run(text="to", to=block.anchor) for block in blocks))
    text = xml_of(document_docx(a_document(*blocks, links)))

    starts = text.findall(".//w:bookmarkStart", SPACES)
    names = [attribute(each, "w:name") for each in starts]

    assert [attribute(each, "w:anchor") for each in text.findall(".//w:hyperlink", SPACES)] == names
    assert names[:2] == ["at_9_x", "a_b"]
    assert len({name.lower() for name in names}) == 4
    assert all(re.fullmatch(r"[A-Za-z]\w{0,39}", name) for name in names)
    ends = [attribute(each, "w:id") for each in text.findall(".//w:bookmarkEnd", SPACES)]
    assert [attribute(each, "w:id") for each in starts] == ends == ["1", "2", "3", "4"]


@pytest.mark.parametrize(
    ("text", "fields"),
    [
        ("[2, page 14]", [(" REF source_2 \\r \\h ", "2")]),
        ("2", [(" REF source_2 \\r \\h ", "2")]),
        ("[page 2]", [(" REF source_2 \\r \\h ", "2")]),
        ("[12, page 2]", []),
        ("the handbook", []),
    ],
)
def test_the_number_of_an_entry_in_words_that_lead_to_it_is_a_field(text: str, fields: list[tuple[str, str]]) -> None:
    sources = tuple(Entry(words=words(f"Source {number}."), anchor=f"source-{number}") for number in (1, 2))
    cited = Paragraph(words=(Run(text="See "), Run(text=text, to="source-2"), Run(text=".")))
    written = document_docx(a_document(cited, Listing(entries=sources, numbered=True)))

    assert ("", f"See {text}.") in paragraphs_of(written)
    assert fields_of(xml_of(written)) == fields


def test_languages_stand_on_words_and_on_the_whole() -> None:
    written = document_docx(a_whole_document(language="en-GB"))

    spoken = {
        text_of(run): attribute(language, "w:val")
        for run in xml_of(written).iter(f"{{{SPACES['w']}}}r")
        if (language := run.find("w:rPr/w:lang", SPACES)) is not None
    }
    whole = xml_of(written, "word/styles.xml").find("w:docDefaults/w:rPrDefault/w:rPr/w:lang", SPACES)

    assert spoken == {
        "Scheinwerfer": "de",
        "Die Lampe ist schwarz.": "de",
        "  Der Ring ist blank.": "de",
        "Zweiter Absatz.": "de",
    }
    assert whole is not None
    assert attribute(whole, "w:val") == "en-GB"


def test_names_that_run_from_the_right_are_marked_and_the_year_beside_them_is_not() -> None:
    written = document_docx(a_document(Paragraph(words=words(f"By {ARABIC}, 1934"))))

    (_, paragraph) = xml_of(written).iter(f"{{{SPACES['w']}}}p")

    assert [
        (text_of(run), run.find("w:rPr/w:rtl", SPACES) is not None) for run in paragraph.findall("w:r", SPACES)
    ] == [
        ("By ", False),
        (ARABIC, True),
        (", 1934", False),
    ]


def test_a_quotation_from_the_right_is_a_paragraph_from_the_right() -> None:
    written = document_docx(a_document(Quotation(text=f"{HEBREW} 1934", language="he"), Quotation(text="a")))

    turned = [
        paragraph.find("w:pPr/w:bidi", SPACES) is not None for paragraph in xml_of(written).iter(f"{{{SPACES['w']}}}p")
    ]
    languages = [attribute(each, "w:bidi") for each in xml_of(written).findall(".//w:rPr/w:lang", SPACES)]

    assert turned == [False, True, False]
    assert languages == ["he"]


def test_a_language_of_east_asia_is_named_so() -> None:
    written = document_docx(a_document(Paragraph(words=(Run(text="前照灯", language="ja"),))))

    (language,) = xml_of(written).findall(".//w:rPr/w:lang", SPACES)

    assert attribute(language, "w:eastAsia") == "ja"
