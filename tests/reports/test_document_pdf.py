"""A document as a PDF: what two readers find in it, what its tags say, and how its pages are laid out."""

import os
import re
import subprocess
import sys
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pdfplumber
import pikepdf
import pypdfium2
import pytest
from PIL import Image
from reports.pdf_reading import (
    bookmarks,
    boxes,
    links,
    marks_on_pages,
    marks_told_back,
    named,
    reached_marks,
    strays,
    tags,
    texts_by_pdfium,
    texts_by_plumber,
    typefaces,
    unmarked,
)
from reports.printed_documents import a_document, a_figure, a_paragraph, a_table

from provenance.reports.document import (
    Boxed,
    Document,
    Entry,
    Figure,
    Heading,
    Listing,
    Paragraph,
    Picture,
    Quotation,
    Run,
    Terms,
    Together,
    words,
)
from provenance.reports.document_pdf import document_pdf
from provenance.reports.pdf_parts import pdf_parts

ALL = a_document(
    Boxed(name="Asbestos", text="Old lagging may hold fibres."),
    Paragraph(words=(Run(text="See "), Run(text="what was found", to="found", strong=True), Run(text=" below."))),
    Heading(text="What the sources say", level=2),
    Quotation(text="The lamp is of\nthe acetylene pattern.", language="en-GB"),
    Listing(entries=(Entry(words=words("a letter")), Entry(words=words("a drawing"))), numbered=True),
    Listing(entries=(Entry(words=words("a bolt")),)),
    Terms(pairs=(("Bore", words("32 mm")), ("Stuff", (Run(text="brass", slanted=True),)))),
    a_figure(),
    Heading(text="What was found", level=2, anchor="found"),
    a_table(60),
    Paragraph(words=(Run(text="Back to the "), Run(text="top", to="top"))),
    draft=True,
)


@pytest.fixture(scope="module")
def everything() -> bytes:
    return document_pdf(ALL)


def test_two_readers_find_the_words_in_the_order_in_which_they_were_written(everything: bytes) -> None:
    due = ["headlamp bracket", "Asbestos. Old lagging", "See what was found below", "What the sources say", "acetylene"]
    due += ["1. a letter", "2. a drawing", "a bolt", "Bore", "32 mm", "brass", "The lamp."]

    for read in (texts_by_plumber, texts_by_pdfium):
        text = " ".join(" ".join(read(everything)).split())
        places = [text.index(each) for each in due]
        assert places == sorted(places)


def test_each_kind_of_block_has_its_own_tag(everything: bytes) -> None:
    found = {tag.name for tag in tags(everything)}

    assert {"H1", "H2", "P", "BlockQuote", "L", "LI", "Lbl", "LBody", "Figure", "Caption", "Table", "THead"} <= found
    assert named(everything, "H2") == ["What the sources say", "What was found"]
    assert named(everything, "Lbl")[:4] == ["1.", "2.", "•", "Bore"]
    assert named(everything, "Caption") == ["The lamp.", "What was found"]
    assert named(everything, "Em") == ["brass"]


def test_a_picture_says_what_it_shows_to_those_who_cannot_see_it(everything: bytes) -> None:
    assert named(everything, "Figure") == ["A lamp in a frame"]


def test_a_table_has_its_headings_on_each_page_and_once_in_what_is_read_aloud(everything: bytes) -> None:
    pages = [text for text in texts_by_pdfium(everything) if re.search(r"r\d+c0", text)]

    assert len(pages) > 1
    assert all("Column 0" in page for page in pages)
    assert named(everything, "TH") == ["Column 0", "Column 1", "Column 2"]
    assert named(everything, "TD") == [f"r{row}c{column}" for row in range(60) for column in range(3)]


def test_every_mark_on_a_page_is_reached_from_the_tags_and_leads_back_to_them(everything: bytes) -> None:
    marks = marks_on_pages(everything)

    assert marks
    assert reached_marks(everything) == marks
    assert marks_told_back(everything) == marks
    assert unmarked(everything) == []
    assert strays(everything) == []


def test_headings_are_bookmarks_and_links_lead_to_their_anchors(everything: bytes) -> None:
    last = len(texts_by_pdfium(everything))
    (_, title, first), (_, sources, _), (level, found, page) = bookmarks(everything)

    assert (title, first, sources) == ("The headlamp bracket", 1, "What the sources say")
    assert (level, found) == (2, "What was found")
    assert links(everything) == [(1, page), (last, 1)]
    assert named(everything, "Link") == ["what was found", "top"]


def test_each_page_has_its_number_of_how_many_and_says_what_it_is(everything: bytes) -> None:
    pages = texts_by_pdfium(everything)

    for number, page in enumerate(pages, start=1):
        assert f"page {number} of {len(pages)}" in page
        assert "DRAFT" in page
        assert "Made for the workshop" in page


def test_the_running_lines_are_not_read_aloud_with_the_text(everything: bytes) -> None:
    told = tags(everything)[0].text

    assert not {"page 1 of", "Made for the workshop", "DRAFT"} & {
        each for each in ("page 1 of", "DRAFT") if each in told
    }
    assert "Made for the workshop" not in told


def test_what_is_no_draft_is_not_marked_as_one() -> None:
    assert "DRAFT" not in "".join(texts_by_pdfium(document_pdf(a_document(a_paragraph()))))


def test_only_typefaces_whose_letters_are_in_the_file_are_used(everything: bytes) -> None:
    found = typefaces(everything)

    assert found
    assert all(found.values())
    assert {name.partition("+")[2].partition("-")[0] for name in found} == {"Arimo"}


def test_the_file_says_its_title_its_language_and_which_standard_it_keeps() -> None:
    data = document_pdf(a_document(a_paragraph(), language="de-AT"))

    with pikepdf.open(BytesIO(data)) as pdf, pdf.open_metadata() as about:
        assert str(pdf.Root.Lang) == "de-AT"
        assert pdf.Root.MarkInfo.Marked
        assert pdf.Root.ViewerPreferences.DisplayDocTitle
        assert about["dc:title"] == "The headlamp bracket"
        assert about["pdfuaid:part"] == "1"  # ISO 14289-1, clause 5


def test_no_time_and_no_place_is_in_the_file(everything: bytes) -> None:
    with pikepdf.open(BytesIO(everything)) as pdf:
        whole = b"".join(bytes(each.read_bytes()) for each in pdf.objects if isinstance(each, pikepdf.Stream))
        assert "/CreationDate" not in pdf.docinfo
        assert "/ModDate" not in pdf.docinfo

    for place in (str(Path.home()), str(Path.cwd()), "site-packages", "CreateDate", "ModifyDate"):
        assert place.encode() not in everything + whole


def test_another_process_elsewhere_with_another_clock_and_language_writes_the_same_bytes(
    everything: bytes, tmp_path: Path
) -> None:
    asked = (
        "import sys, hashlib; sys.path[:0] = sys.argv[1:]; from reports.test_document_pdf import ALL; "
        "from provenance.reports.document_pdf import document_pdf; sys.stdout.buffer.write(document_pdf(ALL))"
    )
    tests = Path(__file__).parents[1]
    elsewhere = os.environ | {"TZ": "Pacific/Auckland", "LC_ALL": "C", "HOME": str(tmp_path), "PYTHONHASHSEED": "7"}

    made = subprocess.run(
        [sys.executable, "-c", asked, str(tests), str(tests.parent)],
        cwd=tmp_path,
        env=elsewhere,
        check=True,
        capture_output=True,
    ).stdout

    assert made == everything


def test_a_quotation_of_twenty_thousand_letters_runs_over_pages_and_loses_none() -> None:
    lines = [f"line {number} of the letter, as it stands in the source" for number in range(400)]

    data = document_pdf(a_document(Quotation(text="\n".join(lines))))

    (text,) = named(data, "BlockQuote")
    assert len(texts_by_pdfium(data)) > 3
    assert text == "".join(lines)


def test_what_belongs_together_stands_on_one_page_where_it_has_room() -> None:
    filler = [a_paragraph("Filling. " * 60) for _ in range(6)]
    kept = Together(blocks=(Heading(text="Kept", level=2), *[a_paragraph(f"kept {n} " * 40) for n in range(5)]))

    pages = texts_by_pdfium(document_pdf(a_document(*filler, kept)))

    holding = [number for number, page in enumerate(pages) if re.search(r"Kept|kept \d", page)]
    assert len(pages) == 2
    assert holding == [1]


def test_a_heading_or_a_line_that_ends_in_a_colon_does_not_stand_alone_at_the_foot_of_a_page() -> None:
    for leading in (a_paragraph("Leading on:"), Heading(text="Leading on", level=2)):
        for lines in range(36, 48):
            filler = [Quotation(text="\n".join(["filling"] * lines))]

            pages = texts_by_pdfium(document_pdf(a_document(*filler, leading, a_paragraph("what follows"))))

            assert [number for number, page in enumerate(pages) if "Leading on" in page] == [
                number for number, page in enumerate(pages) if "what follows" in page
            ]


def test_what_belongs_together_and_is_longer_than_a_page_loses_nothing() -> None:
    kept = Together(blocks=(Heading(text="Kept", level=2), *[a_paragraph(f"kept {n} " * 40) for n in range(25)]))

    data = document_pdf(a_document(kept))

    pages = texts_by_pdfium(data)
    assert len(pages) > 2
    assert all(f"kept {n} " in "".join(pages).replace("\r\n", " ") for n in range(25))
    assert max(box[3] for box in boxes(data)) < 1


@pytest.mark.parametrize(
    ("width", "height", "lying"), [(600.0, 100.0, False), (50.0, 900.0, False), (500.0, 700.0, True)]
)
def test_a_picture_is_never_larger_than_what_a_page_holds(width: float, height: float, *, lying: bool) -> None:
    data = document_pdf(a_document(a_figure(width=width, height=height, caption="A word. " * 60), lying=lying))

    assert len(texts_by_pdfium(data)) <= 2
    shapes = _shapes(data)
    assert shapes
    assert all(x0 >= 0.07 and x1 <= 0.93 and top >= 0.05 and bottom <= 0.95 for x0, top, x1, bottom in shapes)
    (caption,) = named(data, "Caption")
    assert caption.strip() == ("A word. " * 60).strip()


def _shapes(data: bytes) -> list[tuple[float, float, float, float]]:
    """The frames that are drawn, as shares of the page; those of clipping and of a draft are left out."""
    with pdfplumber.open(BytesIO(data)) as pdf:
        return [
            (each["x0"] / page.width, each["top"] / page.height, each["x1"] / page.width, each["bottom"] / page.height)
            for page in pdf.pages
            for each in page.rects
        ]


def test_a_picture_and_its_caption_stand_on_one_page() -> None:
    filler = [a_paragraph("Filling. " * 60) for _ in range(8)]

    pages = texts_by_pdfium(document_pdf(a_document(*filler, a_figure(text="drawn", height=60))))

    assert [number for number, page in enumerate(pages) if "drawn" in page] == [
        number for number, page in enumerate(pages) if "The lamp." in page
    ]


def test_a_row_of_a_table_stands_on_one_page_where_it_has_room() -> None:
    rows = tuple((f"first{n}", f"of {n} " * 60 + f"last{n}", "x") for n in range(30))

    pages = texts_by_pdfium(document_pdf(a_document(replace(a_table(0), rows=rows))))

    assert len(pages) > 2
    for n in range(30):
        assert [number for number, page in enumerate(pages) if f"first{n}\r" in page or f"first{n} " in page] == [
            number for number, page in enumerate(pages) if f"last{n}" in page.replace("\r\n", "\n").split()
        ]


def test_a_row_of_a_table_higher_than_a_page_runs_over_and_loses_nothing() -> None:
    text = " ".join(f"word{n}" for n in range(1500))

    data = document_pdf(a_document(replace(a_table(0, columns=4), rows=((text, "b", "c", "d"),))))

    assert named(data, "TD")[0] == text
    assert max(box[3] for box in boxes(data)) < 0.98


def test_a_table_without_rows_still_has_its_headings() -> None:
    data = document_pdf(a_document(a_table(0)))

    assert named(data, "TH") == ["Column 0", "Column 1", "Column 2"]
    assert named(data, "TD") == []


@pytest.mark.parametrize("kind", ["PNG", "JPEG"])
@pytest.mark.parametrize("mode", ["RGB", "L"])
def test_a_photograph_is_printed_with_its_colours_at_its_size(kind: str, mode: str) -> None:
    written = BytesIO()
    Image.new(mode, (400, 200), (200, 30, 30) if mode == "RGB" else 90).save(written, kind)
    picture = Picture(
        data=written.getvalue(), media_type=f"image/{kind.lower()}", says="a red plate", width=100, height=50
    )

    data = document_pdf(a_document(Figure(picture=picture, caption=words("The plate."))))

    assert named(data, "Figure") == ["a red plate"]
    with pdfplumber.open(BytesIO(data)) as pdf:
        (image,) = pdf.pages[0].images
        assert image["width"] * 25.4 / 72 == pytest.approx(100, abs=0.1)
        assert image["height"] * 25.4 / 72 == pytest.approx(50, abs=0.1)
    pixel = _middle_of(data, (image["x0"] + image["x1"]) / 2, (image["top"] + image["bottom"]) / 2)
    due = (200, 30, 30) if mode == "RGB" else (90, 90, 90)
    assert all(abs(found - wanted) < 6 for found, wanted in zip(pixel, due, strict=True))


def _middle_of(data: bytes, x: float, y: float) -> tuple[int, int, int]:
    pdf = pypdfium2.PdfDocument(data)
    page = pdf[0]
    drawn = page.render().to_pil().convert("RGB")
    page.close()
    pdf.close()
    pixel = drawn.getpixel((round(x), round(y)))
    assert isinstance(pixel, tuple)
    return pixel[0], pixel[1], pixel[2]


def test_a_caption_longer_than_a_page_loses_nothing() -> None:
    data = document_pdf(a_document(a_figure(height=200, caption="A word of it. " * 500)))

    (caption,) = named(data, "Caption")
    assert caption.strip() == ("A word of it. " * 500).strip()
    assert max(box[3] for box in boxes(data)) < 0.98


def test_a_short_document_is_one_part() -> None:
    assert len(pdf_parts(ALL)) == 1


def test_a_document_on_its_side_is_wider_than_high() -> None:
    data = document_pdf(Document(title="t", running="r", blocks=ALL.blocks, lying=True))

    with pikepdf.open(BytesIO(data)) as pdf:
        sizes = {tuple(round(float(each) * 25.4 / 72) for each in page.mediabox[2:]) for page in pdf.pages}
    assert sizes == {(297, 210)}  # ISO 216, A4
