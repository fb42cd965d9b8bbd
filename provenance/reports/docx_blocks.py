"""The blocks of a document as paragraphs and tables of WordprocessingML (ISO/IEC 29500-1)."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

from provenance.reports.document import (
    Block,
    Boxed,
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
    Words,
)
from provenance.reports.document_settled import name_of_box
from provenance.reports.docx_words import Target, runs_xml, text_xml, xml_text
from provenance.reports.fit_text import runs_from_the_right, shown_lines

TWIPS_PER_MILLIMETRE = 1440 / 25.4
EMU_PER_MILLIMETRE = 36_000
FIRST_OWN_LIST = 3  # the two before it are those of the styles
LONGEST_UNCUT_ROW = 1500  # characters; a longer row may be cut by the foot of a page
_STYLES = {1: "Title", 2: "Heading1", 3: "Heading2", 4: "Heading3"}
_KEEP = "<w:keepNext/>"


@dataclass(slots=True, kw_only=True)
class Blocks:
    """Writes blocks one after another, and counts what has to be counted.

    Attributes:
        targets: what words can lead to, by anchor.
        width: of the text, in millimetres.
        height: of the text, in millimetres.
        place: puts a picture into the file and tells the name of its relationship.
        lists: how many numbered lists have been written.
    """

    targets: Mapping[str, Target]
    width: float
    height: float
    place: Callable[[Picture], str]
    lists: int = 0
    _bookmarks: int = field(default=0, init=False)
    _pictures: int = field(default=0, init=False)
    _keeping: bool = field(default=False, init=False)

    def xml(self, blocks: tuple[Block, ...]) -> str:
        """Write blocks that are settled."""
        return "".join(piece for block in blocks for piece in self._block(block))

    def _block(self, block: Block) -> Iterator[str]:
        match block:
            case Heading():
                yield self._paragraph(_STYLES[block.level], text_xml(Run(text=block.text)), anchor=block.anchor)
            case Paragraph():
                style = "SmallPrint" if block.small else ""
                yield self._paragraph(style, self._runs(block.words), anchor=block.anchor)
            case Boxed():
                yield self._boxed(block)
            case Quotation():
                yield from self._quotation(block)
            case Listing():
                yield from self._listing(block)
            case _:
                yield from self._larger_block(block)

    def _larger_block(self, block: Terms | Table | Figure | Together) -> Iterator[str]:
        match block:
            case Terms():
                for word, meaning in block.pairs:
                    yield self._paragraph("DefinedWord", text_xml(Run(text=word)))
                    yield self._paragraph("Definition", self._runs(meaning))
            case Table():
                yield from self._table(block)
            case Figure():
                yield from self._figure(block)
            case Together():
                yield self._together(block)

    def _runs(self, words: Words) -> str:
        return runs_xml(words, self.targets)

    def _paragraph(self, style: str, inside: str, *, anchor: str = "", more: str = "", keep: bool = False) -> str:
        """A paragraph; `more` are further properties, in the order of the standard (17.3.1)."""
        named = f'<w:pStyle w:val="{style}"/>' if style else ""
        kept = _KEEP if keep or self._keeping else ""
        properties = f"<w:pPr>{named}{kept}{more}</w:pPr>" if named or kept or more else ""
        if anchor in self.targets:
            self._bookmarks += 1
            start = f'<w:bookmarkStart w:id="{self._bookmarks}" w:name="{self.targets[anchor].bookmark}"/>'
            inside = f'{start}{inside}<w:bookmarkEnd w:id="{self._bookmarks}"/>'
        return f"<w:p>{properties}{inside}</w:p>"

    def _together(self, block: Together) -> str:
        """Every paragraph is kept with the next, but for the last."""
        before, self._keeping = self._keeping, True
        inside = self.xml(block.blocks)
        self._keeping = before
        if not before:
            head, _, tail = inside.rpartition(_KEEP)
            inside = head + tail
        return inside

    def _boxed(self, block: Boxed) -> str:
        name = text_xml(Run(text=name_of_box(block.name), strong=True))
        between = " " if name and block.text else ""
        return self._paragraph("Caution", name + text_xml(Run(text=between + block.text)))

    def _quotation(self, block: Quotation) -> Iterator[str]:
        for lines in shown_lines(block.text):
            more = "<w:bidi/>" if runs_from_the_right(lines[0]) else ""
            runs = (text_xml(Run(text=line, language=block.language)) for line in lines)
            yield self._paragraph("Quote", "<w:r><w:br/></w:r>".join(runs), more=more)

    def _listing(self, block: Listing) -> Iterator[str]:
        style, number = "ListBullet", 1
        if block.numbered:
            style, number = "ListNumber", FIRST_OWN_LIST + self.lists
            self.lists += 1
        more = f'<w:numPr><w:ilvl w:val="0"/><w:numId w:val="{number}"/></w:numPr>'
        for entry in block.entries:
            yield self._paragraph(style, self._runs(entry.words), anchor=entry.anchor, more=more)

    def _table(self, block: Table) -> Iterator[str]:
        whole = sum(column.share for column in block.columns)
        widths = [round(self.width * TWIPS_PER_MILLIMETRE * column.share / whole) for column in block.columns]
        if block.caption.strip():
            yield self._paragraph("Caption", text_xml(Run(text=block.caption)), keep=True)
        yield (
            f'<w:tbl><w:tblPr><w:tblStyle w:val="TableGrid"/><w:tblW w:w="{sum(widths)}" w:type="dxa"/>'
            '<w:tblLayout w:type="fixed"/><w:tblLook w:val="0020" w:firstRow="1" w:lastRow="0" w:firstColumn="0"'
            ' w:lastColumn="0" w:noHBand="1" w:noVBand="1"/>'
            f'<w:tblCaption w:val="{xml_text(block.caption)}"/></w:tblPr><w:tblGrid>'
        )
        yield "".join(f'<w:gridCol w:w="{width}"/>' for width in widths)
        yield "</w:tblGrid>"
        sides = ['<w:jc w:val="right"/>' if column.figures else "" for column in block.columns]
        headings = tuple(column.heading for column in block.columns)
        yield self._row(headings, widths, sides, heads=True)
        for row in block.rows:
            yield self._row(row, widths, sides)
        yield f"</w:tbl>{self._paragraph('TableEnd', '')}"

    def _row(self, texts: tuple[str, ...], widths: list[int], sides: list[str], *, heads: bool = False) -> str:
        marks = "<w:cantSplit/>" if sum(map(len, texts)) < LONGEST_UNCUT_ROW else ""
        marks += "<w:tblHeader/>" if heads else ""
        shade = '<w:shd w:val="clear" w:color="auto" w:fill="EEF1F3"/>' if heads else ""
        style = "TableHeading" if heads else "TableText"
        cells = "".join(
            f'<w:tc><w:tcPr><w:tcW w:w="{width}" w:type="dxa"/>{shade}</w:tcPr>'
            f"{self._paragraph(style, text_xml(Run(text=text)), more=side)}</w:tc>"
            for text, width, side in zip(texts, widths, sides, strict=True)
        )
        return f"<w:tr><w:trPr>{marks}</w:trPr>{cells}</w:tr>" if marks else f"<w:tr>{cells}</w:tr>"

    def _figure(self, block: Figure) -> Iterator[str]:
        yield self._paragraph("Picture", f"<w:r>{self._drawing(block.picture)}</w:r>", keep=bool(block.caption))
        if block.caption:
            yield self._paragraph("Caption", self._runs(block.caption))

    def _drawing(self, picture: Picture) -> str:
        self._pictures += 1
        shrunk = min(1.0, self.width / picture.width, self.height / picture.height)
        wide, high = (round(side * shrunk * EMU_PER_MILLIMETRE) for side in (picture.width, picture.height))
        identity = f'id="{self._pictures}" name="Picture {self._pictures}" descr="{xml_text(picture.says)}"'
        return (
            '<w:drawing><wp:inline distT="0" distB="0" distL="0" distR="0">'
            f'<wp:extent cx="{wide}" cy="{high}"/><wp:docPr {identity}/>'
            '<wp:cNvGraphicFramePr><a:graphicFrameLocks noChangeAspect="1"/></wp:cNvGraphicFramePr><a:graphic>'
            '<a:graphicData uri="http://schemas.openxmlformats.org/drawingml/2006/picture"><pic:pic><pic:nvPicPr>'
            f"<pic:cNvPr {identity}/><pic:cNvPicPr/></pic:nvPicPr>"
            f'<pic:blipFill><a:blip r:embed="{self.place(picture)}"/><a:stretch><a:fillRect/></a:stretch>'
            f'</pic:blipFill><pic:spPr><a:xfrm><a:off x="0" y="0"/><a:ext cx="{wide}" cy="{high}"/></a:xfrm>'
            '<a:prstGeom prst="rect"><a:avLst/></a:prstGeom></pic:spPr></pic:pic></a:graphicData></a:graphic>'
            "</wp:inline></w:drawing>"
        )
