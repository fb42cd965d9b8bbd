import re

import pytest
from reports.documents import a_document, a_whole_document
from reports.hostile import ARABIC, HEBREW, HOSTILE, hostile_document, on_one_line
from reports.read_markdown import blocks_of, cells_of, said

from provenance.reports.document import Column, Entry, Heading, Listing, Paragraph, Quotation, Run, Table, Terms, words
from provenance.reports.document_markdown import document_markdown, markdown_text
from provenance.reports.fit_text import shown, shown_lines


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("No. 9, at 3 ft 4 1/2 in", "No. 9, at 3 ft 4 1/2 in"),
        ("*bold* _and_ `code`", r"\*bold\* \_and\_ \`code\`"),
        ("[a](b) ![c](d)", r"\[a\](b) \!\[c\](d)"),
        ("<script> & &lt;", "&lt;script&gt; &amp; &amp;lt;"),
        ("https://x.org www.x.org me@x.org", r"https\://x.org www\.x.org me\@x.org"),
        ("a | b ~ c ^ d $ e", r"a \| b \~ c \^ d \$ e"),
        ("back\\slash", "back\\\\slash"),
        ("# not a heading", r"\# not a heading"),
        ("- not a list", r"\- not a list"),
        ("   - nor this", r"\- nor this"),
        ("+ nor this", r"\+ nor this"),
        ("1. nor this", r"1\. nor this"),
        ("12) nor this", r"12\) nor this"),
        ("=== nor this", r"\=== nor this"),
        ("     nor code", "nor code"),
        ("1934 was so", "1934 was so"),
        ("two\n\n# lines", "two # lines"),
        ("{{ 7*7 }}", r"\{\{ 7\*7 \}\}"),
    ],
)
def test_markdown_shows_a_text_as_it_is(text: str, written: str) -> None:
    """CommonMark 0.31: a backslash before ASCII punctuation (2.4), what begins a block (4.2, 4.3, 5.2)."""
    assert markdown_text(text) == written


def test_every_block_is_written_as_the_standard_has_it() -> None:
    assert document_markdown(a_whole_document()).split("\n") == [
        "*A modern re-creation · Railcar No. 9*",
        "",
        "# Headlamp",
        "",
        "**Asbestos.** May be present in the lagging. Stop, and ask the safety officer.",
        "",
        r"Made from the *Handbook* of **1933** \[2, page 14\], called *Scheinwerfer* there; see What to make.",
        "",
        "## What to make",
        "",
        "- **Bore**: **7 in**, between 6.9 in and 7.1 in",
        r"- **Finish**: black, \[1\]",
        "",
        "### What was seen",
        "",
        "> Die Lampe ist schwarz.\\",
        "> &nbsp;&nbsp;Der Ring ist blank.",
        ">",
        "> Zweiter Absatz.",
        "",
        "- by number",
        "- by likeness",
        "",
        "1) measure",
        "2) drill",
        "",
        "**Readings of the bore**",
        "",
        "| Where | Value | Note |",
        "| --- | ---: | --- |",
        "| Handbook | 7.0 |  |",
        r"| Photograph | 6.9 | a \| b |",
        "",
        "## Pictures",
        "",
        r"\[Picture, which a text file cannot show: A rectangle with hatching beside a dashed circle\]",
        "",
        "The lens as drawn.",
        "",
        "### As photographed",
        "",
        "In June 1934.",
        "",
        r"\[Picture, which a text file cannot show: The lamp seen from the front\]",
        "",
        r"The lamp of No. 9 \[2\]",
        "",
        "## Sources",
        "",
        "1. Tamlin Works. Drawing 4471.",
        "2. *Handbook*. Tamlin Works, 1933.",
        "",
        "*A modern re-creation · Railcar No. 9*",
        "",
    ]


def test_two_lists_one_after_the_other_do_not_run_into_one() -> None:
    """CommonMark 0.31, section 5.3: another bullet or another sign after the number begins a new list."""
    numbered = Listing(entries=(Entry(words=words("a")), Entry(words=words("b"))), numbered=True)
    bullets = Listing(entries=(Entry(words=words("c")),))
    document = a_document(numbered, numbered, numbered, bullets, Terms(pairs=(("d", words("e")),)))

    kinds = [block.kind for block in blocks_of(document_markdown(document))]

    assert kinds[2:-1] == ["number .", "number )", "number .", "bullet +", "bullet -"]


@pytest.mark.parametrize(
    ("runs", "written"),
    [
        ((Run(text="Lamp:", strong=True), Run(text=" seen")), "**Lamp:** seen"),
        ((Run(text="Lamp: ", strong=True), Run(text="seen")), "**Lamp:** seen"),
        ((Run(text="Lamp:", strong=True), Run(text="seen")), "Lamp:seen"),
        ((Run(text="see"), Run(text="“it”", slanted=True), Run(text=" now")), "see“it” now"),
        ((Run(text="a", strong=True), Run(text="b", slanted=True)), "**a**b"),
        ((Run(text="a", strong=True, slanted=True),), "***a***"),
        ((Run(text="1", strong=False), Run(text=". first")), r"1\. first"),
        ((Run(text="a*", strong=False), Run(text="b", strong=True)), r"a\*b"),
        ((Run(text=" ", strong=True), Run(text="b")), "b"),
    ],
)
def test_words_stand_out_only_where_that_cannot_be_misread(runs: tuple[Run, ...], written: str) -> None:
    """CommonMark 0.31, section 6.2: what may open and close emphasis."""
    lines = document_markdown(a_document(Paragraph(words=runs))).split("\n")

    assert lines[4] == written


@pytest.mark.parametrize(("text", "written"), [("No. #", r"## No. \#"), ("a ##", r"## a #\#"), ("#9", "## #9")])
def test_the_last_sign_of_a_heading_is_not_taken_for_its_end(text: str, written: str) -> None:
    """CommonMark 0.31, section 4.2: a closing sequence."""
    assert document_markdown(a_document(Heading(text=text, level=2))).split("\n")[4] == written


def test_each_line_of_a_quotation_stays_a_line_of_words() -> None:
    lines = document_markdown(a_document(Quotation(text="one\n- two\n1. three\n===\n\n\n> four\\"))).split("\n")

    assert lines[4:9] == ["> one\\", "> \\- two\\", "> 1\\. three\\", "> \\===", ">"]
    assert lines[9] == "> &gt; four\\\\"


def test_a_year_stays_at_the_right_of_a_name_from_the_right() -> None:
    """Unicode Annex 9: after a left-to-right mark (U+200E) figures no longer go with the letters before it."""
    text = document_markdown(a_document(Paragraph(words=words(f"{HEBREW}, 1934; {ARABIC} 1935"))))

    assert f"{HEBREW}\u200e, 1934; {ARABIC}\u200e 1935" in text


def test_the_text_says_first_and_last_what_stands_on_every_page() -> None:
    lines = document_markdown(a_whole_document(draft=True, running="DRAFT, not for display")).splitlines()

    assert lines[0] == lines[-1] == "*DRAFT, not for display*"


def _read_back(text: str) -> list[str]:
    told = []
    for block in blocks_of(text):
        if block.kind == "table":
            for row in (block.lines[0], *block.lines[2:]):
                told += [said(cell, begins=False) for cell in cells_of(row)]
        elif block.kind == "quotation":
            joined = "\n".join(block.lines).split("\n\n")
            told += [" ".join(said(line.removesuffix("\\")) for line in lines.split("\n")) for lines in joined]
        else:
            told += [said(line, begins=block.kind != "heading") for line in block.lines]
    return [on_one_line(each) for each in told]


def _told_by_hand(text: str) -> list[str]:
    text = text.replace("\u200e", "")  # the writer sets it too; the reader shows it nowhere
    one = on_one_line(shown(text))
    many = on_one_line(shown(f"a{text}b{text}{text}{text}"))
    box = on_one_line(f"{shown(text).rstrip('.:')}. {shown(text)}")
    quoted = [on_one_line(" ".join(lines)) for lines in shown_lines(text)]
    picture = f"[Picture, which a text file cannot show: {one}]"
    return [
        *(one, one, one, one, many, box, *quoted),
        *(one, many, one, one, f"{one}: {one}", f"{one}: {many}"),
        *(one, one, "b", one, "", "", one),
        *(one, picture, one, one, one),
    ]


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_texts_of_others_are_read_back_whole_and_are_no_markup(text: str) -> None:
    """Read by our own strict reader; markdown-it-py (CommonMark and GFM) read the same words from the same texts."""
    assert _read_back(document_markdown(hostile_document(text))) == _told_by_hand(text)


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_no_line_begins_with_what_is_not_ours(text: str) -> None:
    kinds = [block.kind for block in blocks_of(document_markdown(hostile_document(text)))]

    assert kinds == [
        *("paragraph", "heading", "heading", "paragraph", "paragraph", "paragraph", "quotation"),
        *("bullet -", "number )", "bullet -", "paragraph", "table", "heading", "paragraph", "paragraph", "paragraph"),
        "paragraph",
    ]


def test_a_table_of_figures_has_a_row_a_line() -> None:
    columns = (Column(heading="a|b"), Column(heading="c", figures=True))
    text = document_markdown(a_document(Table(caption="", columns=columns, rows=(("d\ne", "\\"), ("", "-1")))))

    table = blocks_of(text)[2]

    assert [[said(cell, begins=False) for cell in cells_of(line)] for line in (table.lines[0], *table.lines[2:])] == [
        ["a|b", "c"],
        ["d e", "\\"],
        ["", "-1"],
    ]
    assert table.lines[1] == "--- | ---: |"


@pytest.mark.parametrize(
    "bare", ["a *b", "- a", "<b>", "[a]", "https://a", "&copy;", "    code", "1. a", "# a", "a | b"]
)
def test_the_reader_of_these_checks_refuses_bare_markup(bare: str) -> None:
    with pytest.raises(AssertionError):
        said(bare)
    assert re.sub(r"\s+", " ", said(markdown_text(bare))) == re.sub(r"\s+", " ", bare.strip())
