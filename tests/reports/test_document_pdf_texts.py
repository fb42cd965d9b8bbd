"""Texts of others in a PDF: whatever they hold, they are printed as text and break nothing."""

import re
from dataclasses import replace
from io import BytesIO

import pdfplumber
import pikepdf
import pytest
from reports.pdf_reading import (
    boxes,
    marks_on_pages,
    named,
    reached_marks,
    tags,
    texts_by_pdfium,
)
from reports.printed_documents import a_document, a_figure, a_paragraph, a_table

from provenance.reports.document import (
    Document,
    Entry,
    Heading,
    Listing,
    Paragraph,
    Quotation,
    Run,
    Terms,
    words,
)
from provenance.reports.document_pdf import document_pdf

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


def test_the_sign_that_the_standard_forbids_in_a_text_is_taken_for_the_one_in_its_place() -> None:
    """ISO 14289-1, 7.21.7: no letter of a typeface stands for U+FEFF."""
    data = document_pdf(a_document(a_paragraph("a\ufeffb"), a_figure("c\ufeffd"), title="e\ufefff"))

    assert named(data, "P") == ["a\u2060b"]


def test_a_picture_of_which_nothing_is_said_has_its_caption_for_that() -> None:
    figure = a_figure(caption="The lamp.")

    data = document_pdf(a_document(replace(figure, picture=replace(figure.picture, says=" "))))

    assert named(data, "Figure") == ["The lamp."]


@pytest.mark.parametrize("text", ["e\u0301", "\u2713\ufe0f", "a\u200db", "a\ufeffb", "\u034f"])
def test_words_in_a_drawing_keep_the_file_to_the_standard(text: str) -> None:
    assert b"pdfuaid" in _about(document_pdf(a_document(a_figure(text))))


@pytest.mark.parametrize("text", ["محمد علي", "e\u0301\u0302", "x\u0301", "\u05e9\u05b8\u05c1"])
def test_words_in_a_drawing_that_cannot_be_told_are_printed_and_the_file_does_not_claim_the_standard(
    text: str,
) -> None:
    data = document_pdf(a_document(a_figure(text), a_paragraph(text)))

    assert named(data, "Figure") == ["A lamp in a frame"]
    assert b"pdfuaid" not in _about(data)
    assert reached_marks(data) == marks_on_pages(data)


def _about(data: bytes) -> bytes:
    with pikepdf.open(BytesIO(data)) as pdf:
        return bytes(pdf.Root.Metadata.read_bytes())


def test_the_number_of_a_page_reads_from_left_to_right_in_a_document_that_does_not() -> None:
    with pdfplumber.open(BytesIO(document_pdf(a_document(a_paragraph("שלום"), language="he")))) as pdf:
        letters = sorted((each["x0"], each["text"]) for each in pdf.pages[0].chars if each["top"] > 780)

    assert "".join(text for _, text in letters).replace(" ", "") == "page1of1"
