"""The parts of a long document joined into one PDF: pages, tags, bookmarks, names, headers and footers."""

import re
from collections.abc import Sequence
from io import BytesIO
from itertools import count

from pikepdf import Array, Dictionary, Name, Object, OutlineItem, Pdf, String
from pikepdf import open as read_pdf

from provenance.reports.document import Document, Heading, flat
from provenance.reports.document_values import FAR, values_of
from provenance.reports.pdf_pages import set_pages
from provenance.reports.pdf_parts import Part, packed
from provenance.reports.typefaces import Faces


def joined(parts: Sequence[Part], made: Sequence[bytes]) -> bytes:
    """Join the parts of a document, in order.

    Args:
        parts: of one document.
        made: each of them set.
    """
    if len(parts) == 1:
        return made[0]
    with read_pdf(BytesIO(made[0])) as whole:
        bookmarks = _bookmarks(whole)
        for part, data in zip(parts[1:], made[1:], strict=True):
            with read_pdf(BytesIO(data)) as other:
                bookmarks += _append(whole, other, continues=part.continues)
        _mend_links(whole)
        _write_bookmarks(whole, bookmarks, _levels(parts))
        _count_pages(whole)
        _lay_over(whole, _running(parts[0], len(whole.pages)))
        return packed(whole)


def _append(whole: Pdf, other: Pdf, *, continues: bool) -> list[tuple[str, Object]]:
    """Put the pages and the tags of a part behind those that there are; its bookmarks, now of the whole."""
    first = len(whole.pages)
    for page in other.pages:  # pages first: what is copied afterwards refers to them
        whole.pages.append(page)
    tags = whole.copy_foreign(other.Root.StructTreeRoot)
    roots = whole.Root.StructTreeRoot
    _renumber([page.obj for page in list(whole.pages)[first:]], tags, roots)
    _merge_roles(roots, tags)
    _merge_names(roots, tags, "/IDTree")
    _merge_elements(roots.K[0], tags.K[0], continues=continues)
    if "/Names" in other.Root:
        copied = whole.copy_foreign(other.make_indirect(other.Root.Names))
        if "/Names" not in whole.Root:
            whole.Root.Names = Dictionary(Dests=Dictionary(Names=[]))
        _merge_names(whole.Root.Names, copied, "/Dests")
    return [(title, whole.copy_foreign(other.make_indirect(place))) for title, place in _bookmarks(other)]


def _renumber(pages: Sequence[Object], tags: Object, roots: Object) -> None:
    """Give pages and links of a part numbers of their own, by which tags are found (ISO 32000-1, 14.7.4.4)."""
    first = int(roots.ParentTreeNextKey)
    for page in pages:
        for holder, key in ((page, "/StructParents"), *((link, "/StructParent") for link in page.get("/Annots", ()))):
            if key in holder:
                holder[key] = int(holder[key]) + first
    numbers = roots.ParentTree.Nums
    added = tags.ParentTree.Nums
    for place in range(0, len(added), 2):
        numbers.append(int(added[place]) + first)
        numbers.append(added[place + 1])
    roots.ParentTreeNextKey = first + int(tags.ParentTreeNextKey)


def _merge_roles(roots: Object, tags: Object) -> None:
    for role, stands_for in tags.get("/RoleMap", Dictionary()).items():
        roots.RoleMap[role] = stands_for


def _merge_names(into: Object, added: Object, tree: str) -> None:
    """Put the names of a part among those of the whole; they stand in order of their bytes (ISO 32000-1, 7.9.6)."""
    pairs = [*_pairs(into.get(tree)), *_pairs(added.get(tree))]
    pairs.sort(key=lambda pair: bytes(pair[0]))
    into[tree] = Dictionary(Names=Array([each for pair in pairs for each in pair]))


def _pairs(tree: Object | None) -> list[tuple[Object, Object]]:
    names = tree.Names if tree is not None else Array()
    return [(names[place], names[place + 1]) for place in range(0, len(names), 2)]


def _merge_elements(document: Object, added: Object, *, continues: bool) -> None:
    """Put what a part holds behind what there is; the rows of a table that goes on into that table."""
    elements = list(added.K)
    if continues:
        _merge_rows(document.K[-1], elements.pop(0))
    for element in elements:
        element.P = document
        document.K.append(element)


def _merge_rows(table: Object, added: Object) -> None:
    """The headings that stand above the rows of a part become a row among them, for they are on its page again."""
    body = next(each for each in table.K if each.S == "/TBody")
    for section in added.K:
        for row in section.K:
            row.P = body
            body.K.append(row)
    if "/A" in table:
        table.A = Array([each for each in table.A if "/BBox" not in each])  # it holds for one page alone


def _bookmarks(pdf: Pdf) -> list[tuple[str, Object]]:
    """Each bookmark with the place that it leads to, in the order in which they are read."""
    found: list[tuple[str, Object]] = []
    outlines = pdf.Root.get("/Outlines", Dictionary())
    waiting = [outlines.First] if "/First" in outlines else []
    while waiting:
        each = waiting.pop()
        found.append((str(each.Title), each.Dest))
        waiting += [each[key] for key in ("/Next", "/First") if key in each]
    return found


def _levels(parts: Sequence[Part]) -> list[int]:
    blocks = (block for part in parts for block in flat(part.document.blocks))
    return [block.level for block in blocks if isinstance(block, Heading)]


def _write_bookmarks(whole: Pdf, bookmarks: Sequence[tuple[str, Object]], levels: Sequence[int]) -> None:
    """Nest the bookmarks as their headings; side by side where a heading without a visible letter has none."""
    if len(levels) != len(bookmarks):
        levels = [1] * len(bookmarks)
    with whole.open_outline() as outline:
        outline.root.clear()
        above: list[tuple[int, OutlineItem]] = []
        for (title, place), level in zip(bookmarks, levels, strict=True):
            while above and above[-1][0] >= level:
                above.pop()
            item = OutlineItem(title, Array(place))
            (above[-1][1].children if above else outline.root).append(item)
            above.append((level, item))


def _mend_links(whole: Pdf) -> None:
    """Let what leads to another part lead to its anchor, now that both are here; keys step from link to link in order.

    A link says in words where it leads (ISO 14289-1, 7.18.5), and the order of the keys is that of the tags (7.18.3).
    """
    numbers = {page.obj.objgen: number for number, page in enumerate(whole.pages, start=1)}
    names = whole.Root.get("/Names", Dictionary()).get("/Dests")
    places = {str(name): place for name, place in _pairs(names)}
    for page in whole.pages:
        page.obj.Tabs = Name.S
        for link in page.obj.get("/Annots", ()):
            address = str(link.get("/A", Dictionary()).get("/URI", ""))
            if address.startswith(FAR):
                anchor = address.removeprefix(FAR)
                del link["/A"]
                link.Dest = String(anchor)
                link.Contents = String(f"Section, page {numbers[places[anchor][0].objgen]}")


def _count_pages(whole: Pdf) -> None:
    told = re.sub(rb"(?<=<xmpTPg:NPages>)\d+(?=<)", str(len(whole.pages)).encode(), whole.Root.Metadata.read_bytes())
    whole.Root.Metadata.write(told)


def _running(part: Part, pages: int) -> bytes:
    """Headers and footers alone, one page for each of the whole."""
    faces = Faces(part.typefaces)
    blank = Document(
        title=part.document.title,
        running=part.document.running,
        draft=part.document.draft,
        language=part.document.language,
        lying=part.document.lying,
        blocks=(),
    )
    return set_pages(values_of(blank, faces.families, blank_pages=pages), faces, is_universal=False, is_tagged=False)


def _lay_over(whole: Pdf, running: bytes) -> None:
    """Lay headers and footers over the pages, as what is no part of the text (ISO 32000-1, 14.8.2.2)."""
    with read_pdf(BytesIO(running)) as over:
        for number, page, above in zip(count(1), whole.pages, over.pages, strict=False):
            name = f"/Running{number}"
            page.add_resource(whole.copy_foreign(above.as_form_xobject()), Name.XObject, Name(name))
            page.contents_add(b"q\n", prepend=True)
            page.contents_add(f"\nQ\n/Artifact <</Type /Pagination>> BDC\nq {name} Do Q\nEMC\n".encode())
