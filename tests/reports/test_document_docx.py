import re
from io import BytesIO
from xml.etree import ElementTree as ET

import docx
import mammoth
import pytest
from reports.documents import a_document, a_photograph, a_whole_document, jpeg
from reports.hostile import HOSTILE, hostile_document, on_one_line
from reports.read_docx import SPACES, attribute, fields_of, local_name, paragraphs_of, text_of, xml_of
from reports.read_html import Element, read_html

from provenance.reports.document import (
    Column,
    Entry,
    Figure,
    Heading,
    Listing,
    Paragraph,
    Picture,
    Table,
    Together,
    words,
)
from provenance.reports.document_docx import document_docx
from provenance.reports.fit_text import shown, shown_lines

_FOR_MAMMOTH = """
p[style-name='Title'] => h1:fresh
p[style-name='heading 1'] => h2:fresh
p[style-name='heading 2'] => h3:fresh
p[style-name='Quote'] => blockquote:fresh
p[style-name='caption'] => figcaption:fresh
p[style-name='Caution'] => div.caution:fresh
p[style-name='Defined Word'] => dt:fresh
p[style-name='Definition'] => dd:fresh
"""


def _by_another_reader(written: bytes) -> Element:
    """The file as mammoth reads it, which shares no code with what wrote it."""
    return read_html(mammoth.convert_to_html(BytesIO(written), style_map=_FOR_MAMMOTH).value)


def test_another_reader_finds_headings_lists_tables_and_quotations() -> None:
    page = _by_another_reader(document_docx(a_whole_document()))

    assert [(each.tag, each.text) for each in page.all("h1", "h2", "h3")] == [
        ("h1", "Headlamp"),
        ("h2", "What to make"),
        ("h3", "What was seen"),
        ("h2", "Pictures"),
        ("h3", "As photographed"),
        ("h2", "Sources"),
    ]
    assert [(each.tag, [item.text for item in each.all("li")]) for each in page.all("ul", "ol")] == [
        ("ul", ["by number", "by likeness"]),
        ("ol", ["measure", "drill"]),
        ("ol", ["Tamlin Works. Drawing 4471.", "Handbook. Tamlin Works, 1933."]),
    ]
    (table,) = page.all("table")
    assert [each.text for each in table.all("thead")[0].all("th")] == ["Where", "Value", "Note"]
    assert [each.text for each in table.all("td")] == ["Handbook", "7.0", "", "Photograph", "6.9", "a | b"]
    assert [each.text for each in page.all("blockquote")] == [
        "Die Lampe ist schwarz.\n  Der Ring ist blank.",
        "Zweiter Absatz.",
    ]
    assert [each.text for each in page.all("dt", "dd")] == [
        "Bore",
        "7 in, between 6.9 in and 7.1 in ",
        "Finish",
        "black, [1]",
    ]
    (caution,) = (each for each in page.all("div") if each.attributes.get("class") == "caution")
    assert caution.text == "Asbestos. May be present in the lagging. Stop, and ask the safety officer."


def test_another_reader_finds_what_each_picture_shows_before_its_caption() -> None:
    page = _by_another_reader(document_docx(a_whole_document()))

    told = [each.attributes["alt"] if each.tag == "img" else each.text for each in page.all("img", "figcaption")]

    assert told == [
        "Readings of the bore",
        "A rectangle with hatching beside a dashed circle",
        "The lens as drawn.",
        "The lamp seen from the front",
        "The lamp of No. 9 [2]",
    ]


def test_another_reader_finds_manners_and_links() -> None:
    page = _by_another_reader(document_docx(a_whole_document()))

    assert [(each.text, each.attributes["href"]) for each in page.all("a") if "href" in each.attributes] == [
        ("[2, page 14]", "#source_2"),
        ("What to make", "#to_make"),
        ("[1]", "#source_1"),
        ("[2]", "#source_2"),
    ]
    assert [each.text for each in page.all("em")] == ["Handbook", "Scheinwerfer", "Handbook"]
    assert [each.text for each in page.all("strong")][:2] == ["Asbestos.", "1933"]


def test_the_library_that_wrote_the_file_reads_its_own_styles_sizes_and_title() -> None:
    read = docx.Document(BytesIO(document_docx(a_whole_document())))

    assert {"Title", "Heading 1", "Heading 2", "Caption", "Quote", "List Bullet", "List Number"} <= {
        str(paragraph.style.name) for paragraph in read.paragraphs if paragraph.style
    }
    assert [(round(each.width.mm), round(each.height.mm)) for each in read.inline_shapes] == [(80, 30), (100, 75)]
    assert read.core_properties.title == "Headlamp"
    assert read.core_properties.language == "en"
    assert [cell.text for cell in read.tables[0].rows[2].cells] == ["Photograph", "6.9", "a | b"]


def _number_of(paragraph: ET.Element) -> str:
    found = paragraph.find("w:pPr/w:numPr/w:numId", SPACES)
    return "" if found is None else attribute(found, "w:val")


def test_every_numbered_list_begins_at_one() -> None:
    listing = Listing(entries=(Entry(words=words("a")), Entry(words=words("b"))), numbered=True)
    written = document_docx(a_document(listing, listing, Paragraph(words=words("c")), listing))

    used = [number for each in xml_of(written).iter(f"{{{SPACES['w']}}}p") if (number := _number_of(each))]
    starts = {
        attribute(each, "w:numId"): attribute(start, "w:val")
        for each in xml_of(written, "word/numbering.xml").findall("w:num", SPACES)
        if (start := each.find("w:lvlOverride/w:startOverride", SPACES)) is not None
    }

    assert used == ["3", "3", "4", "4", "5", "5"]
    assert starts == {"3": "1", "4": "1", "5": "1"}


def test_every_page_says_what_the_object_is_and_how_many_pages_there_are() -> None:
    written = document_docx(a_whole_document())

    header, footer = xml_of(written, "word/header1.xml"), xml_of(written, "word/footer1.xml")

    assert text_of(header) == "A modern re-creation · Railcar No. 9"
    assert re.sub(r"\d+", "n", text_of(footer)) == "page n of n"
    assert [instruction.strip() for instruction, _ in fields_of(footer)] == ["PAGE", "NUMPAGES"]
    section = xml_of(written).find("w:body/w:sectPr", SPACES)
    assert section is not None
    assert [local_name(each) for each in section][:2] == ["headerReference", "footerReference"]


def _style_of_header(written: bytes) -> str:
    style = xml_of(written, "word/header1.xml").find("w:p/w:pPr/w:pStyle", SPACES)
    return "" if style is None else attribute(style, "w:val")


def test_a_draft_is_marked_on_every_page() -> None:
    draft = document_docx(a_whole_document(draft=True, running="DRAFT, not for display"))

    assert text_of(xml_of(draft, "word/header1.xml")) == "DRAFT, not for display"
    assert _style_of_header(draft) == "DraftHeader"
    assert _style_of_header(document_docx(a_whole_document())) == "Header"


@pytest.mark.parametrize(("lying", "millimetres"), [(False, (210, 297)), (True, (297, 210))])
def test_the_paper_is_a4_and_lies_where_that_is_asked_for(*, lying: bool, millimetres: tuple[int, int]) -> None:
    """ISO 216: A4 is 210 by 297 mm."""
    (section,) = docx.Document(BytesIO(document_docx(a_whole_document(lying=lying)))).sections

    assert section.page_width is not None
    assert section.page_height is not None
    assert (round(section.page_width.mm), round(section.page_height.mm)) == millimetres


def test_a_picture_that_is_larger_than_the_page_is_made_smaller_in_proportion() -> None:
    large = Picture(data=jpeg(), media_type="image/jpeg", says="a", width=340, height=170)

    (shape,) = docx.Document(BytesIO(document_docx(a_document(Figure(picture=large, caption=()))))).inline_shapes

    assert (shape.width.mm, shape.height.mm) == (170, 85)


def test_the_headings_of_a_table_stand_on_each_page_again_and_a_short_row_is_not_cut() -> None:
    table = Table(caption="a", columns=(Column(heading="b"),), rows=(("c",), ("d" * 2000,)))
    rows = xml_of(document_docx(a_document(table))).findall(".//w:tr", SPACES)

    assert [row.find("w:trPr/w:tblHeader", SPACES) is not None for row in rows] == [True, False, False]
    assert [row.find("w:trPr/w:cantSplit", SPACES) is not None for row in rows] == [True, True, False]


def test_what_belongs_together_is_kept_with_what_follows_but_for_the_last_of_it() -> None:
    figure = Figure(picture=a_photograph(), caption=words("c"))
    blocks = Together(blocks=(Heading(text="a", level=2), Paragraph(words=words("b")), figure))
    written = document_docx(a_document(blocks, Paragraph(words=words("d"))))

    kept = [
        paragraph.find("w:pPr/w:keepNext", SPACES) is not None
        for paragraph in xml_of(written).iter(f"{{{SPACES['w']}}}p")
    ]

    # The title, then the heading, the paragraph, the picture and its caption, then what follows.
    assert kept == [False, True, True, True, False, False]


@pytest.mark.parametrize(("language", "turned"), [("he", True), ("en", False), ("?", False)])
def test_a_document_in_a_language_from_the_right_has_its_paragraphs_from_the_right(
    language: str, *, turned: bool
) -> None:
    styles = xml_of(document_docx(a_document(language=language)), "word/styles.xml")

    assert (styles.find("w:docDefaults/w:pPrDefault/w:pPr/w:bidi", SPACES) is not None) is turned


def _told_by_hand(text: str) -> list[str]:
    one = on_one_line(shown(text))
    many = on_one_line(shown(f"a{text}b{text}{text}{text}"))
    box = on_one_line(f"{shown(text).rstrip('.:')}. {shown(text)}")
    quoted = [on_one_line("\n".join(lines)) for lines in shown_lines(text)]
    return [
        *(one, one, one, many, box, *quoted),
        *(one, many, one, one),
        *(one, one, one, many),
        *(one, one, "b", one, "", "", one, ""),
        *(one, "", one, one),
    ]


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_texts_of_others_are_read_back_whole_and_add_nothing(text: str) -> None:
    written = document_docx(hostile_document(text))

    assert [on_one_line(said) for _, said in paragraphs_of(written)] == _told_by_hand(text)
    assert [on_one_line(each.get("descr", "")) for each in xml_of(written).iter(f"{{{SPACES['wp']}}}docPr")] == [
        on_one_line(shown(text))
    ]
    assert on_one_line(text_of(xml_of(written, "word/header1.xml"))) == on_one_line(shown(text))
    harmless = document_docx(hostile_document("any word"))
    assert {each.tag for each in xml_of(written).iter()} - {each.tag for each in xml_of(harmless).iter()} <= {
        f"{{{SPACES['w']}}}{name}" for name in ("br", "rtl", "bidi", "fldChar", "instrText")
    }
    assert all(instruction.startswith(" REF a") for instruction, _ in fields_of(xml_of(written)))


@pytest.mark.parametrize(
    "kind", ["a script", "control characters", "a field of a word processor", "character references"]
)
def test_another_reader_reads_hostile_texts_as_text(kind: str) -> None:
    page = _by_another_reader(document_docx(hostile_document(HOSTILE[kind])))

    assert on_one_line(page.all("h1")[0].text) == on_one_line(shown(HOSTILE[kind]))
    assert page.all("script", "iframe", "object") == []


def test_a_table_and_a_picture_without_a_caption_have_none() -> None:
    table = Table(caption=" ", columns=(Column(heading="b"),), rows=())
    written = document_docx(a_document(table, Figure(picture=a_photograph(), caption=())))

    assert [style for style, _ in paragraphs_of(written)] == ["Title", "TableHeading", "TableEnd", "Picture"]
