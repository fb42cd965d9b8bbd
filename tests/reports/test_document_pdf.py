"""A document as a PDF: what two readers find in it, what its tags say, and that nothing in it can break it."""

import os
import re
import subprocess
import sys
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pdfplumber
import pikepdf
import pytest
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
    Heading,
    Listing,
    Paragraph,
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


HOSTILE = {
    text: text
    for text in (
        '#panic() #read("/etc/passwd") $x$ *bold* _slanted_ @top <top> \\u{41} `raw` // no comment /* nor this */',
        "= no heading",
        "[content] {code} ]]}} #[",
        "https://example.org/~name 'single' \"double\" -- --- ... ~ \u00bd",
        "-0 -- 1. 2) + - / term: what",
    )
} | {
    "- no list\n+ nor this\n/ term: nor this": "- no list + nor this / term: nor this",
    "A\x00B\x07C\x1b[31mD\x7fE\x85F": r"A\x00B\x07C\x1b[31mD\x7fE\x85F",
    "half \ud800 and \udfff, none \ufffe \uffff \ufdd0 \U0001ffff": (
        r"half \ud800 and \udfff, none \ufffe \uffff \ufdd0 \U0001ffff"
    ),
    "turned \u202e and \u2066 isolate \u2069": r"turned \u202e and \u2066 isolate \u2069",
}


@pytest.mark.parametrize(("text", "due"), HOSTILE.items())
def test_no_text_is_anything_but_text(text: str, due: str) -> None:
    data = document_pdf(
        a_document(
            a_paragraph(text),
            Quotation(text=text.replace("\n", " "), language=text[:9]),
            Listing(entries=(Entry(words=words(text)),)),
            Terms(pairs=((text, words(text)),)),
            Paragraph(words=(Run(text=text, language="not a tag", to=text),)),
            replace(a_table(0, columns=1, caption=text), rows=((text,),)),
            title=text,
            running=text,
        )
    )

    for name in ("H1", "BlockQuote", "LBody", "Strong", "Caption", "TD"):
        assert named(data, name)[0].strip() == due
    assert [text.strip() for text in named(data, "P")] == [due, due]
    assert reached_marks(data) == marks_on_pages(data)


def test_a_year_beside_a_name_written_from_right_to_left_stays_in_its_place() -> None:
    data = document_pdf(a_document(a_paragraph("By שלום 1934, and by محمد 1935.")))

    (text,) = texts_by_pdfium(data)
    assert re.search("By \u2068?שלום\u2069? 1934, and by \u2068?محمد\u2069? 1935.", text)
    years = sorted((box[0], letter) for box, letter in _letters(data) if letter in "495")
    (first, *_), comma = years[0], min(box[0] for box, letter in _letters(data) if letter == ",")
    hebrew = [box[2] for box, letter in _letters(data) if "א" <= letter <= "ת"]
    assert max(hebrew) <= first <= comma


def _letters(data: bytes) -> list[tuple[tuple[float, float, float, float], str]]:
    with pdfplumber.open(BytesIO(data)) as pdf:
        return [((each["x0"], each["top"], each["x1"], each["bottom"]), each["text"]) for each in pdf.pages[0].chars]


@pytest.mark.parametrize("run", ["a-" * 150, "\u05e9" * 250, "\u0645" * 250, "W" * 250])
def test_a_run_without_a_space_stays_on_the_page_and_is_copied_whole(run: str) -> None:
    table = replace(a_table(0, columns=7), rows=((run, *"abcdef"),))

    data = document_pdf(a_document(a_paragraph(run), Quotation(text=run), table))

    found = boxes(data)
    assert min(box[0] for box in found) > 21 / 210
    assert max(box[2] for box in found) < 189 / 210
    assert max(box[3] for box in found) < 0.98
    for name in ("P", "BlockQuote", "TD"):
        assert named(data, name)[0].translate(dict.fromkeys(range(0x2067, 0x206A))) == run


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
    kept = Together(blocks=(Heading(text="Kept", level=2), *[a_paragraph(f"kept {n} " * 40) for n in range(40)]))

    data = document_pdf(a_document(kept))

    pages = texts_by_pdfium(data)
    assert len(pages) > 2
    assert all(f"kept {n} " in "".join(pages).replace("\r\n", " ") for n in range(40))
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


def test_a_table_without_rows_still_has_its_headings() -> None:
    data = document_pdf(a_document(a_table(0)))

    assert named(data, "TH") == ["Column 0", "Column 1", "Column 2"]
    assert named(data, "TD") == []


def test_words_in_another_language_say_which() -> None:
    data = document_pdf(
        a_document(
            Paragraph(words=(Run(text="It says "), Run(text="Lampenhalter", language="de"), Run(text=" there."))),
            Quotation(text="Support de phare", language="fr-CA"),
        )
    )

    with pikepdf.open(BytesIO(data)) as pdf:
        streams = b"".join(page.obj.Contents.read_bytes() for page in pdf.pages)
    languages = {tag.language for tag in tags(data)}
    assert "fr-CA" in languages
    assert "de" in languages or b"/Lang(de)" in streams.replace(b" ", b"")


@pytest.mark.parametrize("tag", ["", "english please", "de_DE", "x-own", "zh-Hant-TW", "i-klingon", "en-GB-oxendict"])
def test_no_tag_of_a_language_breaks_the_page(tag: str) -> None:
    data = document_pdf(
        a_document(Quotation(text="quoted", language=tag), Paragraph(words=(Run(text="run", language=tag),)))
    )

    assert named(data, "BlockQuote") == ["quoted"]


@pytest.mark.parametrize("title", ["", " ", "\n"])
def test_a_document_without_a_title_is_called_by_its_heading(title: str) -> None:
    data = document_pdf(replace(a_document(a_paragraph()), title=title))

    with pikepdf.open(BytesIO(data)) as pdf:
        assert str(pdf.docinfo.Title) == "The headlamp bracket"


def test_headings_that_say_nothing_or_leave_a_level_out_stop_nobody() -> None:
    for blocks in ((Heading(text=" ", level=1), Heading(text="Two", level=2)), (Heading(text="Four", level=4),), ()):
        data = document_pdf(Document(title="t", running="r", blocks=(*blocks, a_paragraph("said"))))

        assert named(data, "P") == ["said"]


def test_a_short_document_is_one_part() -> None:
    assert len(pdf_parts(ALL)) == 1


def test_a_document_on_its_side_is_wider_than_high() -> None:
    data = document_pdf(Document(title="t", running="r", blocks=ALL.blocks, lying=True))

    with pikepdf.open(BytesIO(data)) as pdf:
        sizes = {tuple(round(float(each) * 25.4 / 72) for each in page.mediabox[2:]) for page in pdf.pages}
    assert sizes == {(297, 210)}  # ISO 216, A4
