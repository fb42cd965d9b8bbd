"""A long document set in parts and joined: one file, as if it had been set at once."""

import re
from dataclasses import replace
from io import BytesIO

import pikepdf
import pytest
from reports.pdf_reading import (
    bookmarks,
    boxes,
    links,
    links_in_words,
    marks_on_pages,
    marks_told_back,
    named,
    reached_marks,
    strays,
    tags,
    texts_by_pdfium,
    typefaces,
    unmarked,
)
from reports.printed_documents import a_document, a_figure, a_paragraph, a_table

from provenance.reports.document import (
    Document,
    Entry,
    Figure,
    Heading,
    Listing,
    Paragraph,
    Picture,
    Quotation,
    Run,
    Table,
    words,
)
from provenance.reports.document_pdf import document_pdf
from provenance.reports.pdf_joining import joined
from provenance.reports.pdf_parts import Part, pdf_parts, set_part

LONG = a_document(
    Paragraph(words=(Run(text="See "), Run(text="the end", to="end"), Run(text="."))),
    Heading(text="Sources", level=2, anchor="sources"),
    a_table(90, caption="All sources"),
    a_figure(),
    Quotation(text="after the table", language="de"),
    Heading(text="Features", level=2),
    Heading(text="By component", level=3),
    a_table(70, caption="All features"),
    Heading(text="The end", level=2, anchor="end"),
    Paragraph(
        words=(Run(text="Up to "), Run(text="the sources", to="sources"), Run(text=" or "), Run(text="top", to="top"))
    ),
    title="The register",
    draft=True,
    lying=True,
)


def in_parts(document: Document, most: float) -> tuple[tuple[Part, ...], bytes]:
    parts = pdf_parts(document, most=most)
    return parts, joined(parts, [set_part(part) for part in parts])


@pytest.fixture(scope="module")
def made() -> tuple[tuple[Part, ...], bytes]:
    return in_parts(LONG, 100)


def test_a_document_is_cut_between_rows_and_loses_none(made: tuple[tuple[Part, ...], bytes]) -> None:
    parts, _ = made

    blocks = [block for part in parts for block in part.document.blocks]
    tables = [block for block in blocks if isinstance(block, Table)]
    assert len(parts) >= 5
    assert [row for table in tables for row in table.rows] == [*a_table(90).rows, *a_table(70).rows]
    assert [block for block in blocks if not isinstance(block, Table)] == [
        block for block in LONG.blocks if not isinstance(block, Table)
    ]
    assert [part.number for part in parts] == list(range(1, len(parts) + 1))


def test_no_part_holds_much_more_than_it_may() -> None:
    parts = pdf_parts(a_document(a_table(1000)), most=300)

    rows = [len(block.rows) for part in parts for block in part.document.blocks if isinstance(block, Table)]
    assert sum(rows) == 1000
    assert max(rows) * 3 <= 300


def test_a_document_of_many_photographs_is_cut_at_its_headings() -> None:
    photograph = Picture(data=bytes(2_000_000), media_type="image/png", says="a lamp", width=80, height=50)
    features = [
        (Heading(text=f"Feature {n}", level=2), Figure(picture=photograph, caption=words("It."))) for n in range(30)
    ]

    parts = pdf_parts(a_document(*(block for feature in features for block in feature)))

    assert len(parts) > 2
    assert all(len(part.document.blocks) < 20 for part in parts)
    assert all(isinstance(part.document.blocks[0], Heading) for part in parts)


def test_the_joined_tags_are_those_of_the_document_set_at_once(made: tuple[tuple[Part, ...], bytes]) -> None:
    _, data = made

    at_once = [(tag.depth, tag.name, tag.text) for tag in tags(document_pdf(LONG)) if tag.name in COUNTED]
    in_turn = [(tag.depth, tag.name, tag.text) for tag in tags(data) if tag.name in COUNTED]

    assert in_turn == at_once
    assert [tag.name for tag in tags(data)].count("Document") == 1
    assert [tag.name for tag in tags(data)].count("Table") == 2


COUNTED = frozenset({"H1", "H2", "H3", "P", "Figure", "BlockQuote", "Caption", "TBody", "TD", "Link"} - {"TBody"})


def test_a_row_of_headings_stands_among_the_rows_where_a_part_begins(made: tuple[tuple[Part, ...], bytes]) -> None:
    parts, data = made

    cut = sum(part.continues for part in parts)
    assert cut
    assert len(named(data, "TH")) == 3 * (2 + cut)
    assert len(named(data, "TR")) == 90 + 70 + 2 + cut


def test_every_mark_of_the_joined_pages_is_reached_and_leads_back(made: tuple[tuple[Part, ...], bytes]) -> None:
    _, data = made

    marks = marks_on_pages(data)
    assert marks
    assert reached_marks(data) == marks
    assert marks_told_back(data) == marks
    assert unmarked(data) == []
    assert strays(data) == []


def test_pages_are_counted_over_the_whole_and_marked_as_a_draft(made: tuple[tuple[Part, ...], bytes]) -> None:
    _, data = made

    pages = texts_by_pdfium(data)
    assert len(pages) > 5
    for number, page in enumerate(pages, start=1):
        assert re.findall(r"page (\d+) of (\d+)", page) == [(str(number), str(len(pages)))]
        assert page.count("DRAFT") == 1
        assert page.count("Made for the workshop") == 1
    assert "page 1 of" not in tags(data)[0].text


def test_the_headers_lie_where_those_of_a_short_document_lie(made: tuple[tuple[Part, ...], bytes]) -> None:
    _, data = made
    short = document_pdf(replace(LONG, blocks=(*LONG.blocks[:1], a_paragraph())))

    found, due = boxes(data, pages=1), boxes(short, pages=1)

    assert min(box[1] for box in found) == pytest.approx(min(box[1] for box in due), abs=1e-4)
    assert max(box[3] for box in found) == pytest.approx(max(box[3] for box in due), abs=1e-4)
    assert max(box[2] for box in found) == pytest.approx(max(box[2] for box in due), abs=1e-4)


def test_bookmarks_lead_to_their_pages_in_their_order(made: tuple[tuple[Part, ...], bytes]) -> None:
    _, data = made
    pages = texts_by_pdfium(data)

    found = bookmarks(data)

    assert [(level, title) for level, title, _ in found] == [
        (1, "The register"),
        (2, "Sources"),
        (2, "Features"),
        (3, "By component"),
        (2, "The end"),
    ]
    for _, title, page in found:
        assert title in pages[page - 1]


def test_a_heading_without_a_visible_letter_takes_no_bookmark_from_the_others() -> None:
    document = a_document(a_table(40), Heading(text="\u200b", level=2), a_table(40), Heading(text="Last", level=2))

    _, data = in_parts(document, 60)

    assert {title for _, title, _ in bookmarks(data)} >= {"The headlamp bracket", "Last"}


def test_an_anchor_that_is_no_heading_is_led_to_by_the_heading_above_it() -> None:
    entry = Listing(entries=(Entry(words=words("a note"), anchor="note"),))
    far = Paragraph(words=(Run(text="see the note", to="note"),))
    document = a_document(far, a_table(40), Heading(text="Notes", level=2, anchor="notes"), a_table(40), entry)

    parts, data = in_parts(document, 60)

    ((_, page),) = links(data)
    assert len(parts) > 3
    assert "Notes" in texts_by_pdfium(data)[page - 1]


def test_links_lead_from_part_to_part(made: tuple[tuple[Part, ...], bytes]) -> None:
    _, data = made

    last = len(texts_by_pdfium(data))
    assert links(data) == [(1, last), (last, 1), (last, 1)]
    assert links_in_words(data) == [f"Section, page {page} /S" for page in (last, 1, 1)]


def test_the_names_of_cells_are_told_apart(made: tuple[tuple[Part, ...], bytes]) -> None:
    _, data = made

    with pikepdf.open(BytesIO(data)) as pdf:
        names = [bytes(each) for each in list(pdf.Root.StructTreeRoot.IDTree.Names)[::2]]
        cells = [pdf.Root.StructTreeRoot.IDTree.Names[place + 1] for place in range(0, 2 * len(names), 2)]
        assert [bytes(cell.ID) for cell in cells] == names
    assert names == sorted(set(names))
    assert len(names) == len(named(data, "TH"))


def test_the_joined_file_keeps_to_the_standard_that_its_first_part_keeps_to(
    made: tuple[tuple[Part, ...], bytes],
) -> None:
    _, data = made

    with pikepdf.open(BytesIO(data)) as pdf, pdf.open_metadata() as about:
        assert about["pdfuaid:part"] == "1"
        assert about["dc:title"] == "The register"
        assert f"<xmpTPg:NPages>{len(pdf.pages)}<".encode() in pdf.Root.Metadata.read_bytes()
        assert str(pdf.Root.Lang) == "en"
        assert pdf.Root.MarkInfo.Marked
        assert pdf.check_pdf_syntax() == []
    assert all(typefaces(data).values())
    assert {name.partition("+")[2].partition("-")[0] for name in typefaces(data)} == {"Arimo"}


def test_the_same_document_in_the_same_parts_is_the_same_file(made: tuple[tuple[Part, ...], bytes]) -> None:
    _, data = made

    assert in_parts(LONG, 100)[1] == data


def test_a_table_without_a_caption_at_the_start_of_a_part_is_a_table_of_its_own() -> None:
    bare = a_table(30, caption="")
    document = a_document(a_paragraph("word " * 3000), bare, a_paragraph("between"), bare)

    parts, data = in_parts(document, 40)

    assert sum(part.continues for part in parts) >= 2
    assert [tag.name for tag in tags(data) if tag.name == "Table"] == ["Table"] * 2
    assert reached_marks(data) == marks_on_pages(data)


@pytest.mark.long
def test_a_register_of_three_thousand_rows_is_read_back_whole() -> None:
    table = a_table(3000, columns=7)

    parts, data = in_parts(a_document(table, lying=True), 8500)

    assert len(parts) > 1
    assert named(data, "TD") == [cell for row in table.rows for cell in row]
    assert reached_marks(data) == marks_on_pages(data)
