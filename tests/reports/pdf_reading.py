"""A PDF read back by programs that had no part in writing it: its pages, its tags, its bookmarks, its typefaces."""

from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO
from typing import Any

import pdfplumber
import pikepdf
import pypdfium2
from pdfminer.cmapdb import CMapParser, FileUnicodeMap

_SHOWING = frozenset({"Tj", "TJ", "'", '"', "Do", "S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "sh", "INLINE IMAGE"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Tag:
    """An element of the tree of tags.

    Attributes:
        name: such as `H1`, without its slash.
        text: what stands in it itself and in the elements below it that are no blocks of their own; its alternative
            text where it has one.
        depth: 0 for the document.
        language: where it has one of its own.
    """

    name: str
    text: str
    depth: int
    language: str = ""


def texts_by_plumber(data: bytes) -> list[str]:
    """The text of each page, as one reader has it."""
    with pdfplumber.open(BytesIO(data)) as pdf:
        return [page.extract_text() for page in pdf.pages]


def texts_by_pdfium(data: bytes) -> list[str]:
    """The text of each page, as another reader has it."""
    pdf = pypdfium2.PdfDocument(data)
    try:
        return [_text_of(page) for page in pdf]
    finally:
        pdf.close()


def _text_of(page: Any) -> str:
    reader = page.get_textpage()
    text = str(reader.get_text_range())
    reader.close()
    page.close()
    return text


def boxes(data: bytes, *, pages: int | None = None) -> list[tuple[float, float, float, float]]:
    """The box of each character as shares of its page: left, top, right, lower edge; of the first pages, or of all."""
    found = []
    with pdfplumber.open(BytesIO(data)) as pdf:
        for page in pdf.pages[:pages]:
            wide, high = page.width, page.height
            found += [
                (each["x0"] / wide, each["top"] / high, each["x1"] / wide, each["bottom"] / high)
                for each in (*page.chars, *page.images)
            ]
    return found


def tags(data: bytes) -> list[Tag]:
    """The elements of the tree in reading order, with what stands in each."""
    marked = _marked_texts(data)
    with pikepdf.open(BytesIO(data)) as pdf:
        numbers = {page.obj.objgen: number for number, page in enumerate(pdf.pages)}
        return list(_walk(pdf.Root.StructTreeRoot, -1, numbers, marked))


def named(data: bytes, name: str) -> list[str]:
    """The texts of the tags of one name, in order."""
    return [tag.text for tag in tags(data) if tag.name == name]


def _walk(element: Any, depth: int, numbers: dict[Any, int], marked: dict[tuple[int, int], str]) -> Iterator[Tag]:
    if depth >= 0:
        own = "".join(marked.get(mark, "") for mark in _marks_below(element, numbers))
        text = str(element.get("/Alt", own))
        yield Tag(name=str(element.S)[1:], text=text, depth=depth, language=str(element.get("/Lang", "")))
    for kid in _kids(element):
        if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
            yield from _walk(kid, depth + 1, numbers, marked)


def _kids(element: Any) -> list[Any]:
    kids = element.get("/K", pikepdf.Array())
    return list(kids) if isinstance(kids, pikepdf.Array) else [kids]


def _marks_below(element: Any, numbers: dict[Any, int]) -> Iterator[tuple[int, int]]:
    for kid in _kids(element):
        if isinstance(kid, int):
            yield numbers[element.Pg.objgen], kid
        elif "/MCID" in kid:
            yield numbers[kid.get("/Pg", element.get("/Pg")).objgen], int(kid.MCID)
        elif "/S" in kid:
            yield from _marks_below(kid, numbers)


def _marked_texts(data: bytes) -> dict[tuple[int, int], str]:
    """What stands in each mark, by the codes of its letters and the table of its typeface.

    A stretch that says of itself what its text is (ISO 32000-1, 14.9.4) is taken at its word.
    """
    with pikepdf.open(BytesIO(data)) as pdf:
        return {
            (number, mark): text
            for number, page in enumerate(pdf.pages)
            for mark, text in _marked_on(page, _letters_of_faces(page)).items()
        }


def _steps(page: pikepdf.Page) -> list[tuple[Any, str]]:
    """What the content of a page does, one operator with its operands after another."""
    return [(step.operands, str(step.operator)) for step in pikepdf.parse_content_stream(page)]


def _marked_on(page: pikepdf.Page, faces: dict[str, dict[int, str]]) -> dict[int, str]:
    texts: dict[int, str] = {}
    open_marks: list[tuple[int | None, str | None]] = []
    face: dict[int, str] = {}
    for operands, operator in _steps(page):
        match operator:
            case "BDC" | "BMC":
                has_more = len(operands) > 1 and isinstance(operands[1], pikepdf.Dictionary)
                about = operands[1] if has_more else pikepdf.Dictionary()
                mark = int(about["/MCID"]) if "/MCID" in about else open_marks[-1][0] if open_marks else None
                said = str(about["/ActualText"]) if "/ActualText" in about else None
                open_marks.append((mark, said))
                if mark is not None and said is not None:
                    texts[mark] = texts.get(mark, "") + said
            case "EMC":
                open_marks.pop()
            case "Tf":
                face = faces[str(operands[0])]
            case "Tj" | "TJ" if open_marks and open_marks[-1][0] is not None:
                mark = open_marks[-1][0]
                if all(said is None for _, said in open_marks):
                    texts[mark] = texts.get(mark, "") + _spelled(operands[0], face)
    return texts


def _spelled(shown: Any, face: dict[int, str]) -> str:
    strings = shown if isinstance(shown, pikepdf.Array) else [shown]
    codes = b"".join(bytes(each) for each in strings if isinstance(each, pikepdf.String))
    return "".join(face.get(int.from_bytes(codes[place : place + 2]), "\ufffd") for place in range(0, len(codes), 2))


def _letters_of_faces(page: pikepdf.Page) -> dict[str, dict[int, str]]:
    found = {}
    for name, face in page.obj.Resources.get("/Font", pikepdf.Dictionary()).items():
        table = FileUnicodeMap()
        CMapParser(table, BytesIO(face.ToUnicode.read_bytes())).run()
        found[name] = dict(table.cid2unichr)
    return found


def reached_marks(data: bytes) -> set[tuple[int, int]]:
    """Every mark (page from 0, number on it) that the tree of tags leads to."""
    with pikepdf.open(BytesIO(data)) as pdf:
        numbers = {page.obj.objgen: number for number, page in enumerate(pdf.pages)}
        return set(_marks_below(pdf.Root.StructTreeRoot, numbers))


def marks_on_pages(data: bytes) -> set[tuple[int, int]]:
    """Every mark that stands in the content of a page."""
    with pikepdf.open(BytesIO(data)) as pdf:
        return {
            (number, int(operands[1].MCID))
            for number, page in enumerate(pdf.pages)
            for operands, operator in _steps(page)
            if operator == "BDC" and isinstance(operands[1], pikepdf.Dictionary) and "/MCID" in operands[1]
        }


def marks_told_back(data: bytes) -> set[tuple[int, int]]:
    """Every mark that a page's own list leads to an element for, which has that mark (ISO 32000-1, 14.7.4.4)."""
    found = set()
    with pikepdf.open(BytesIO(data)) as pdf:
        numbers = {page.obj.objgen: number for number, page in enumerate(pdf.pages)}
        entries = pdf.Root.StructTreeRoot.ParentTree.Nums
        tree = {int(entries[place]): entries[place + 1] for place in range(0, len(entries), 2)}
        for number, page in enumerate(pdf.pages):
            for mark, element in enumerate(tree[int(page.obj.StructParents)] if "/StructParents" in page.obj else ()):
                if (number, mark) in set(_marks_below(element, numbers)):
                    found.add((number, mark))
    return found


def unmarked(data: bytes) -> list[str]:
    """What is drawn on the pages outside of any mark: neither tagged nor said to be no part of the text."""
    found = []
    with pikepdf.open(BytesIO(data)) as pdf:
        for number, page in enumerate(pdf.pages, start=1):
            depth = 0
            for _, operator in _steps(page):
                depth += {"BDC": 1, "BMC": 1, "EMC": -1}.get(operator, 0)
                if not depth and operator in _SHOWING:
                    found.append(f"page {number}: {operator}")
    return found


def bookmarks(data: bytes) -> list[tuple[int, str, int]]:
    """Each bookmark: its level from 1, its title, and the page from 1 that it leads to."""
    pdf = pypdfium2.PdfDocument(data)
    try:
        return [(each.level + 1, each.get_title(), each.get_dest().get_index() + 1) for each in pdf.get_toc()]
    finally:
        pdf.close()


def links(data: bytes) -> list[tuple[int, int]]:
    """Each link: the page that it stands on and the page that it leads to, from 1; 0 where it leads nowhere."""
    with pikepdf.open(BytesIO(data)) as pdf:
        numbers = {page.obj.objgen: number for number, page in enumerate(pdf.pages, start=1)}
        names = pdf.Root.Names.Dests.Names if "/Names" in pdf.Root else pikepdf.Array()
        places = {str(names[place]): names[place + 1] for place in range(0, len(names), 2)}
        found = []
        for number, page in enumerate(pdf.pages, start=1):
            for link in page.obj.get("/Annots", pikepdf.Array()):
                leads = link.get("/Dest", pikepdf.Array())
                place = leads if isinstance(leads, pikepdf.Array) else places.get(str(leads), pikepdf.Array())
                found.append((number, numbers[place[0].objgen] if len(place) else 0))
        return found


def typefaces(data: bytes) -> dict[str, bool]:
    """Each typeface by its name, and whether its letters are in the file."""
    found: dict[str, bool] = {}
    with pikepdf.open(BytesIO(data)) as pdf:
        for each in pdf.objects:
            if isinstance(each, pikepdf.Dictionary) and each.get("/Type") == "/FontDescriptor":
                found[str(each.FontName)] = bool({"/FontFile", "/FontFile2", "/FontFile3"} & set(each.keys()))
            elif isinstance(each, pikepdf.Dictionary) and each.get("/Type") == "/Font":
                found.setdefault(str(each.get("/BaseFont", "")), "/DescendantFonts" in each)
    return found


def strays(data: bytes) -> list[str]:
    """The elements of the tree that name another parent than the one that holds them (ISO 32000-1, table 323)."""
    found = []
    with pikepdf.open(BytesIO(data)) as pdf:
        waiting = [pdf.Root.StructTreeRoot]
        while waiting:
            parent = waiting.pop()
            for kid in _kids(parent):
                if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
                    waiting.append(kid)
                    if kid.P.objgen != parent.objgen:
                        found.append(f"{kid.S} below {parent.get('/S', 'the root')}")
    return found


def links_in_words(data: bytes) -> list[str]:
    """What each link says of where it leads, and that the keys step to it in the order of the tags."""
    with pikepdf.open(BytesIO(data)) as pdf:
        return [
            f"{link.get('/Contents')} {page.obj.get('/Tabs')}"
            for page in pdf.pages
            for link in page.obj.get("/Annots", pikepdf.Array())
        ]
