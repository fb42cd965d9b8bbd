"""Appendices with odd texts of others, in every format, read back by programs that did not write them."""

import re
from collections.abc import Callable
from functools import cache
from io import BytesIO

import mammoth
import pdfplumber
import pikepdf
import pytest
from reports.appendices import a_whole_archive, lines_of, the_appendix
from reports.pdf_reading import texts_by_pdfium
from reports.read_html import read_html

from provenance.reports.appendix_document import appendix_document
from provenance.reports.document import Document
from provenance.reports.document_docx import document_docx
from provenance.reports.document_html import document_html
from provenance.reports.document_markdown import document_markdown
from provenance.reports.document_pdf import document_pdf

LIVE_IN_MARKDOWN = re.compile(r"<\w+|(?<!\\)\]\((?!#)|(?<!\\)!\[")
HEBREW = "\u05d9\u05e9\u05e8\u05d0\u05dc"
ODD = {
    "markup": '</p><script>alert(1)</script> *b* [x](javascript:alert(1)) & "q" ]]> {{7*7}}',
    "control characters": "lamp\x1b[31m\x07\x00\u202ednal\u2028\udc80",
    "a quotation of 20,000 letters": "The lamp, as it was seen. " * 770,
    "a name from right to left": f"{HEBREW} 1934 (1935)",
    "a very long word": "x" * 1_000,
    "no words": "\u2014",
}


@cache
def the_document(odd: str) -> Document:
    return appendix_document(the_appendix(a_whole_archive(ODD[odd])))


def _live_in_html(page: str) -> list[str]:
    whole = read_html(page)
    called = [name for each in whole.all() for name in each.attributes if name.startswith("on")]
    led = [each.attributes["href"] for each in whole.all("a") if not each.attributes["href"].startswith("#")]
    return [each.tag for each in whole.all("script", "img", "iframe", "object")] + called + led


def _html(document: Document) -> tuple[str, list[str]]:
    page = document_html(document)
    return read_html(page).text, _live_in_html(page)


def _docx(document: Document) -> tuple[str, list[str]]:
    read = mammoth.convert_to_html(BytesIO(document_docx(document))).value
    tags = re.findall(r"<(script|img|iframe|object)\b", read)
    return mammoth.extract_raw_text(BytesIO(document_docx(document))).value, [
        *tags,
        *re.findall(r'href="(?!#)([^"]*)', read),
    ]


def _pdf(document: Document) -> tuple[str, list[str]]:
    data = document_pdf(document)
    # The signs that keep names of other directions apart may be read as letters, and are none.
    text = re.sub("[\u2066-\u2069]", "", "\n".join(texts_by_pdfium(data)))
    with pikepdf.open(BytesIO(data)) as pdf:
        told = [repr(each) for each in pdf.objects]
    return text, [each for each in told if re.search(r"/(JavaScript|JS|URI|Launch|EmbeddedFile)\b", each)]


def _markdown(document: Document) -> tuple[str, list[str]]:
    text = document_markdown(document)
    return text.replace("\\", ""), LIVE_IN_MARKDOWN.findall(text)


FORMATS: dict[str, Callable[[Document], tuple[str, list[str]]]] = {
    "html": _html,
    "docx": _docx,
    "pdf": _pdf,
    "md": _markdown,
}


@cache
def printed(odd: str, wanted: str) -> tuple[str, list[str]]:
    """What can be read in a printed appendix, and what in it would do something."""
    return FORMATS[wanted](the_document(odd))


@pytest.mark.parametrize("wanted", FORMATS)
@pytest.mark.parametrize("odd", ODD)
def test_no_text_of_others_breaks_an_appendix_or_is_obeyed(odd: str, wanted: str) -> None:
    text, live = printed(odd, wanted)

    assert live == []
    assert not set(text) & {"\x1b", "\x07", "\x00", "\udc80"}
    assert "Held by" in text
    assert "What each statement rests on" in text
    assert "modern re-creation" in " ".join(text.split())


@pytest.mark.parametrize("wanted", FORMATS)
@pytest.mark.parametrize(
    ("odd", "sought"), [("a quotation of 20,000 letters", "lamp,asitwasseen"), ("a very long word", "x")]
)
def test_a_long_quotation_and_a_long_word_are_there_to_the_end(odd: str, sought: str, wanted: str) -> None:
    text, _ = printed(odd, wanted)

    there = "".join("".join(lines_of(the_document(odd))).split()).count(sought)
    found = "".join(text.split()).count(sought)

    # Heads and feet of pages stand in the midst of a text that runs over several, and the title stands there again.
    assert there >= 10 * "".join(ODD[odd].split()).count(sought)
    assert found >= there - 40


def test_what_would_do_something_is_seen() -> None:
    assert _live_in_html('<p onclick="x"><script></script><a href="https://x.org">x</a></p>') == [
        "script",
        "onclick",
        "https://x.org",
    ]
    assert LIVE_IN_MARKDOWN.findall("[x](javascript:alert(1)) <b> ![y](z)") == ["](", "<b", "![", "]("]
    assert LIVE_IN_MARKDOWN.findall(r"\[x\](y) &lt;b&gt; [1](#source-1) \!\[y\](z)") == []


@pytest.mark.parametrize("wanted", FORMATS)
def test_titles_are_in_italics_and_marks_lead_to_their_sources(wanted: str) -> None:
    document = appendix_document(the_appendix(a_whole_archive()))
    if wanted == "html":
        page = document_html(document)
        assert '<a href="#source-1">' in page
        assert re.search(r"<(em|i|cite)>Handbook</", page)
    elif wanted == "docx":
        page = mammoth.convert_to_html(BytesIO(document_docx(document))).value
        assert "<em>Handbook</em>" in page
        assert re.search(r'<a href="#[^"]*source', page)
    elif wanted == "md":
        assert "*Handbook*" in document_markdown(document)
    else:
        with pdfplumber.open(BytesIO(document_pdf(document))) as read:
            letters = [each for page in read.pages for each in page.chars if "Italic" in each["fontname"]]
            assert "Handbook" in "".join(each["text"] for each in letters)
            assert sum(len(page.annots) for page in read.pages) >= 5
