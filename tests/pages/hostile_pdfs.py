"""PDFs written byte by byte for tests: broken, odd, and made to do harm (ISO 32000-1 says what a whole one is)."""

import zlib
from pathlib import Path

CATALOG = b"<</Type/Catalog/Pages 2 0 R>>"
ONE_PAGE = b"<</Type/Pages/Kids[3 0 R]/Count 1>>"
TEXT = b"BT /F 12 Tf 20 100 Td (The lamp bracket stands on the headstock) Tj ET"
FONT = b"/Resources<</Font<</F<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>>>>>"
SQUARE = b"/MediaBox[0 0 400 200]"


def write_pdf(path: Path, *objects: bytes, trailer: bytes = b"<</Root 1 0 R>>", has_table: bool = True) -> Path:
    """Write a PDF of these objects, numbered from 1; without its table of places an engine has to search for them."""
    path.parent.mkdir(parents=True, exist_ok=True)
    written, places = b"%PDF-1.7\n", []
    for number, each in enumerate(objects, start=1):
        places.append(len(written))
        written += b"%d 0 obj" % number + each + b"\nendobj\n"
    table = b""
    if has_table:
        table = b"xref\n0 %d\n0000000000 65535 f \n" % (len(objects) + 1)
        table += b"".join(b"%010d 00000 n \n" % place for place in places)
    size = b"/Size %d>>" % (len(objects) + 1)
    end = b"trailer\n" + trailer.removesuffix(b">>") + size + b"\nstartxref\n%d\n%%%%EOF\n" % len(written)
    path.write_bytes(written + table + end)
    return path


def page(more: bytes = SQUARE) -> bytes:
    """A page whose parent is object 2."""
    return b"<</Type/Page/Parent 2 0 R" + more + b">>"


def stream(data: bytes, more: bytes = b"") -> bytes:
    """A stream of these bytes."""
    return b"<</Length %d" % len(data) + more + b">>stream\n" + data + b"\nendstream"


def drawn(content: bytes = TEXT, box: bytes = SQUARE) -> tuple[bytes, bytes, bytes, bytes]:
    """The four objects of a document of one page with this content."""
    return CATALOG, ONE_PAGE, page(box + FONT + b"/Contents 4 0 R"), stream(content)


def pages_of_text(path: Path, pages: int, *, count: int | None = None) -> Path:
    """Write a document of so many pages of a line of text each, which states that it has `count` of them."""
    kids = b" ".join(b"%d 0 R" % number for number in range(3, 2 * pages + 3, 2))
    objects = [CATALOG, b"<</Type/Pages/Kids[%s]/Count %d>>" % (kids, pages if count is None else count)]
    for number in range(3, 2 * pages + 3, 2):
        objects += [page(SQUARE + FONT + b"/Contents %d 0 R" % (number + 1)), stream(TEXT)]
    return write_pdf(path, *objects)


def unfolding(total: int, repeated: bytes = b" ") -> bytes:
    """Bytes that unfold to about so many (zlib, RFC 1950): a thousandth of them.

    Each block is packed without a look back at the one before it, so that one serves for all.
    """
    packer, chunk = zlib.compressobj(9), repeated * (1_000_000 // len(repeated))
    packed, check = packer.compress(chunk) + packer.flush(zlib.Z_FULL_FLUSH), zlib.adler32(chunk)
    block = packer.compress(chunk) + packer.flush(zlib.Z_FULL_FLUSH)
    times = total // len(chunk) - 1
    for _ in range(times):
        check = zlib.adler32(chunk, check)
    last_and_empty = zlib.compressobj(9, zlib.DEFLATED, -15).flush()
    return packed + block * times + last_and_empty + check.to_bytes(4, "big")


def bomb(path: Path, *, total: int = 3_000_000_000, content: bytes = b" ") -> Path:
    """Write a page whose content unfolds to so many bytes."""
    packed = stream(unfolding(total, content), b"/Filter/FlateDecode")
    return write_pdf(path, CATALOG, ONE_PAGE, page(SQUARE + b"/Contents 4 0 R"), packed)


def bomb_of_objects(path: Path) -> Path:
    """Write a document whose pages lie in a stream of objects that unfolds to gigabytes; its table is lost."""
    packed = stream(unfolding(3_000_000_000), b"/Type/ObjStm/N 1/First 10/Filter/FlateDecode")
    return write_pdf(path, CATALOG, ONE_PAGE, page(), packed, has_table=False)


def loop_of_pages(path: Path) -> Path:
    """Write a page tree that holds itself."""
    return write_pdf(path, CATALOG, b"<</Type/Pages/Kids[2 0 R]/Count 1>>")


def nested_arrays(path: Path, depth: int = 100_000) -> Path:
    """Write a page with arrays within arrays, a hundred thousand deep, where its children should stand."""
    kids = b"[" * depth + b"3 0 R" + b"]" * depth
    return write_pdf(path, CATALOG, b"<</Type/Pages/Kids " + kids + b"/Count 1>>", page())


def nested_beside(path: Path, depth: int = 100_000) -> Path:
    """Write a sound page that carries such arrays beside what is drawn."""
    first, second, _, content = drawn()
    third = page(SQUARE + FONT + b"/Contents 4 0 R/X " + b"[" * depth + b"]" * depth)
    return write_pdf(path, first, second, third, content)


def deep_tree(path: Path, depth: int = 3000) -> Path:
    """Write a page under thousands of levels of page tree."""
    levels = [b"<</Type/Pages/Kids[%d 0 R]/Count 1>>" % (number + 3) for number in range(depth)]
    return write_pdf(path, CATALOG, *levels, page())


def self_reference(path: Path) -> Path:
    """Write a page whose content is an object that is nothing but a reference to itself."""
    return write_pdf(path, CATALOG, ONE_PAGE, page(SQUARE + b"/Contents 4 0 R"), b" 4 0 R")


def with_actions(path: Path, program: Path) -> Path:
    """Write a page of text that, when opened, would start a program and run a script that opens an address."""
    names = b"/Names<</JavaScript<</Names[(a)5 0 R]>>>>"
    launch = b"/OpenAction<</S/Launch/F(%s)/Unix<</F(%s)>>>>" % ((str(program).encode(),) * 2)
    script = (
        b"<</S/JavaScript/JS(app.launchURL\\('http://127.0.0.1:9/'\\); this.submitForm\\('http://127.0.0.1:9/'\\))>>"
    )
    catalog = CATALOG.removesuffix(b">>") + names + launch + b">>"
    _, tree, _, content = drawn()
    opened = page(SQUARE + FONT + b"/Contents 4 0 R/AA<</O 5 0 R/C 5 0 R>>")
    return write_pdf(path, catalog, tree, opened, content, script)
