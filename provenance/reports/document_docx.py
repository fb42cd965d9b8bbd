"""A document as a file that word processors open and people go on writing in: the same bytes each time."""

import re
from collections.abc import Iterator, Sequence

from provenance.reports.document import Block, Document, Heading, Listing, Paragraph, Run, flat
from provenance.reports.document_settled import settled
from provenance.reports.docx_blocks import TWIPS_PER_MILLIMETRE, Blocks
from provenance.reports.docx_package import TextPackage
from provenance.reports.docx_words import Target, text_xml
from provenance.reports.fit_text import is_turned_language, shown
from provenance.reports.templating import template

SHORT_SIDE, LONG_SIDE = 210.0, 297.0  # of A4 in millimetres, ISO 216
MARGIN, EDGE = 20.0, 10.0  # in millimetres, round the text and round what stands on every page
CAPTION_HEIGHT = 30.0  # in millimetres, kept free below a picture
LONGEST_BOOKMARK = 40  # characters; word processors take no longer name (common practice, no source)
_NOT_IN_BOOKMARKS = re.compile(r"[^A-Za-z0-9]")
_DECLARATION = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
_SPACES = " ".join(
    f'xmlns:{prefix}="http://schemas.openxmlformats.org/{space}"'
    for prefix, space in {
        "w": "wordprocessingml/2006/main",
        "r": "officeDocument/2006/relationships",
        "wp": "drawingml/2006/wordprocessingDrawing",
        "a": "drawingml/2006/main",
        "pic": "drawingml/2006/picture",
    }.items()
)


def document_docx(document: Document, typefaces: Sequence[str] = ()) -> bytes:
    """Write the whole file; the same document gives the same bytes.

    Headings, lists, captions, quotations and cautions have styles of their own, so that an editor can go on with them.
    What leads to a numbered entry is a field: whoever puts an entry in between has its numbers brought up to date.
    Drawings are turned into points, since word processors do not draw all of SVG.

    Args:
        document: what is written.
        typefaces: folders of further typefaces for the letters in drawings, looked in after our own.

    Raises:
        ValueError: a picture is of a type that a document does not hold.
    """
    ready = settled(document)
    package = TextPackage(typefaces)
    across, down = (LONG_SIDE, SHORT_SIDE) if ready.lying else (SHORT_SIDE, LONG_SIDE)
    blocks = Blocks(
        targets=_targets(ready.blocks),
        width=across - 2 * MARGIN,
        height=down - 2 * MARGIN - CAPTION_HEIGHT,
        place=package.add_picture,
    )
    body = blocks.xml(ready.blocks)
    header = package.add_part("header1", "HEADER", _header(ready))
    footer = package.add_part("footer1", "FOOTER", template("docx_footer.xml").render())
    turned = is_turned_language(ready.language)
    package.add_part("styles", "STYLES", template("docx_styles.xml").render(language=ready.language, turned=turned))
    package.add_part("numbering", "NUMBERING", template("docx_numbering.xml").render(lists=blocks.lists))
    package.add_part("settings", "SETTINGS", template("docx_settings.xml").render(language=ready.language))
    package.add_part("fontTable", "FONT_TABLE", template("docx_fonts.xml").render())
    core = template("docx_core.xml").render(title=shown(ready.title), language=ready.language)
    package.add_properties(core, template("docx_app.xml").render())
    section = _section(header, footer, across, down)
    return package.finished(f"{_DECLARATION}<w:document {_SPACES}><w:body>{body}{section}</w:body></w:document>")


def _header(document: Document) -> str:
    style = "DraftHeader" if document.draft else "Header"
    running = f'<w:p><w:pPr><w:pStyle w:val="{style}"/></w:pPr>{text_xml(Run(text=document.running))}</w:p>'
    return f"{_DECLARATION}<w:hdr {_SPACES}>{running}</w:hdr>"


def _section(header: str, footer: str, across: float, down: float) -> str:
    """What holds for every page: its size, its margins, what stands above and below."""
    wide, high, margin, edge = (round(length * TWIPS_PER_MILLIMETRE) for length in (across, down, MARGIN, EDGE))
    lying = ' w:orient="landscape"' if across > down else ""
    return (
        f'<w:sectPr><w:headerReference w:type="default" r:id="{header}"/>'
        f'<w:footerReference w:type="default" r:id="{footer}"/><w:pgSz w:w="{wide}" w:h="{high}"{lying}/>'
        f'<w:pgMar w:top="{margin}" w:right="{margin}" w:bottom="{margin}" w:left="{margin}"'
        f' w:header="{edge}" w:footer="{edge}" w:gutter="0"/></w:sectPr>'
    )


def _targets(blocks: tuple[Block, ...]) -> dict[str, Target]:
    """What words can lead to, each under a name that a bookmark may have and that no other has."""
    targets: dict[str, Target] = {}
    taken: set[str] = set()
    for anchor, number in _anchors(blocks):
        wanted = _NOT_IN_BOOKMARKS.sub("_", anchor)
        wanted = wanted if wanted[0].isalpha() else f"at_{wanted}"
        name, again = wanted[:LONGEST_BOOKMARK], 1
        while name.lower() in taken:
            again += 1
            name = f"{wanted[: LONGEST_BOOKMARK - 6]}_{again}"
        taken.add(name.lower())
        targets[anchor] = Target(bookmark=name, number=number)
    return targets


def _anchors(blocks: tuple[Block, ...]) -> Iterator[tuple[str, int | None]]:
    """Each anchor with the number that its entry has in a numbered list."""
    for block in flat(blocks):
        if isinstance(block, Heading | Paragraph) and block.anchor:
            yield block.anchor, None
        elif isinstance(block, Listing):
            for number, entry in enumerate(block.entries, 1):
                if entry.anchor:
                    yield entry.anchor, number if block.numbered else None
