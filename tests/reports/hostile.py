"""Texts that people, scans and names of files may bring in, each of which some format would obey instead of showing."""

from provenance.reports.document import (
    Boxed,
    Column,
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
    Terms,
    Together,
)

HEBREW, ARABIC = "ישראל", "سكة حديد"

HOSTILE = {
    "a script": "<script>alert(1)</script>",
    "a picture that calls": '"><img src=x onerror=alert(1)>',
    "an attribute": "' onmouseover='alert(1)",
    "a tag that ends what it stands in": "</td></p></li></blockquote></figure></main>",
    "a comment": "<!-- hidden -->",
    "an address that is a program": "javascript:alert(1)",
    "an address": "see https://example.org/a?b=1&c=2 or www.example.org or me@example.org",
    "the end of marked data": "a ]]> b <![CDATA[ c",
    "character references": "&amp; &lt;b&gt; &#65; &nbsp; &",
    "an expression of a template": "{{ 7*7 }} ${7*7} #{7*7}",
    "a statement of a template": "{% raw %}{% endraw %}{# gone #}",
    "a string that is formatted": "{0} {name!r} %s %(x)s",
    "control characters": "a\x00b\x01c\x08d\x1b[31me\x7ff\x85g\x9bh",
    "code points that are no characters": "a\ufffeb\uffffc\ufdd0d\U0001fffee",
    "half a character": "a\ud800b\udc80c",
    "writing turned round": "a\u202egnorw\u202cb\u2066c\u2069d",
    "breaks that only some know": "a\u2028b\u2029c\x0bd\x0ce\x1cf",
    "a byte order mark and other signs unseen": "\ufeffa\u200bb\u00adc\u200ed",
    "a link of Markdown": "[x](javascript:alert(1)) ![y](z) [a]: b <https://c>",
    "a heading of Markdown": "# heading #",
    "a heading underlined": "===",
    "a rule": "---",
    "a rule of stars": "* * *",
    "a row of a table": "| pipe | --- | \\| \\",
    "code": "`a` ``b`` ~~~ ```c",
    "emphasis": "*a* **b** __c__ _d_ ~~e~~ ***",
    "an item": "- item",
    "an item with a plus": "+ item",
    "an item with a number": "1. item",
    "an item with a number and a bracket": "12) item",
    "a quotation": "> quoted",
    "a footnote": "a[^1] $x$ ^up^ :::note",
    "backslashes": "C:\\new\\table \\# \\",
    "a formula": "=1+1",
    "a formula that calls": '=HYPERLINK("https://example.org","x")',
    "a formula with an at": "@SUM(1)",
    "a field of a word processor": " REF source_1 \\r \\h { PAGE } INCLUDETEXT",
    "a Hebrew name beside a year": f"{HEBREW}, 1934 (1935)",
    "an Arabic name beside a year": f"From {ARABIC} 1934; {ARABIC}, 1935",
    "a long word": "x" * 500,
    "a long text with line breaks": "The lamp, as it was seen.\r\n  - with its lens\n\n" * 400,
    "spaces before and after": "   between   ",
}


def hostile_document(text: str) -> Document:
    """A document with the text in every place where one can stand, and as every anchor and language too."""
    run = Run(text=text, to=text, language=text)
    manners = (
        Run(text="a"),
        Run(text=text, strong=True),
        Run(text="b"),
        Run(text=text, slanted=True),
        Run(text=text, strong=True, slanted=True, to=f"{text}2"),
        run,
    )
    picture = Picture(data=b"\x89PNG", media_type="image/png", says=text, width=20, height=10)
    return Document(
        title=text,
        running=text,
        language=text,
        blocks=(
            Heading(text=text, level=1),
            Heading(text=text, level=2, anchor=text),
            Paragraph(words=(run,)),
            Paragraph(words=manners, small=True, anchor=f"{text}1"),
            Boxed(name=text, text=text),
            Quotation(text=text, language=text),
            Listing(entries=(Entry(words=(run,), anchor=f"{text}2"), Entry(words=manners))),
            Listing(entries=(Entry(words=(run,), anchor=f"{text}3"), Entry(words=(run,))), numbered=True),
            Terms(pairs=((text, (run,)), (text, manners))),
            Table(caption=text, columns=(Column(heading=text), Column(heading="b")), rows=((text, ""), ("", text))),
            Together(
                blocks=(Heading(text=text, level=3), Figure(picture=picture, caption=(run,)), Paragraph(words=(run,)))
            ),
        ),
    )


def on_one_line(text: str) -> str:
    """A text as a reader sees it where line breaks and several spaces are one space."""
    return " ".join(text.split())
