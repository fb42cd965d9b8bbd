"""The file that holds the parts of a text for word processors (ISO/IEC 29500-2): the same bytes each time."""

from collections.abc import Sequence
from hashlib import sha256
from io import BytesIO
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from docx.opc.constants import CONTENT_TYPE, RELATIONSHIP_TYPE
from docx.opc.packuri import PackURI
from docx.opc.part import Part
from docx.package import Package

from provenance.reports.document import Picture
from provenance.reports.drawn_points import png_of

FIRST_DAY = (1980, 1, 1, 0, 0, 0)  # the earliest that a zip can say
_ENDINGS = {"image/jpeg": "jpg", "image/png": "png"}
_SYSTEM = 3  # the zip says so wherever it was written


class TextPackage:
    """A text and the parts that it leads to."""

    def __init__(self, typefaces: Sequence[str] = ()) -> None:
        """Begin with a text of which nothing is known yet; its drawings are lettered in `typefaces` too."""
        self._package = Package()
        self._text = Part(PackURI("/word/document.xml"), CONTENT_TYPE.WML_DOCUMENT_MAIN)
        self._package.relate_to(self._text, RELATIONSHIP_TYPE.OFFICE_DOCUMENT)
        self._typefaces = typefaces
        self._pictures: dict[tuple[bytes, float], str] = {}

    def add_part(self, name: str, kind: str, xml: str) -> str:
        """Add a part of the text.

        Args:
            name: of its file, without the ending.
            kind: the name that the constants of content types and relationships have for it, such as `HEADER`.
            xml: the whole of it.

        Returns:
            The name of the relationship by which the text leads to it.
        """
        part = Part(PackURI(f"/word/{name}.xml"), getattr(CONTENT_TYPE, f"WML_{kind}"), xml.encode())
        return self._text.relate_to(part, getattr(RELATIONSHIP_TYPE, kind))

    def add_properties(self, core: str, extended: str) -> None:
        """Add what the file says of itself: its title, and by what it was written."""
        for name, xml, holds, leads in (
            ("core", core, CONTENT_TYPE.OPC_CORE_PROPERTIES, RELATIONSHIP_TYPE.CORE_PROPERTIES),
            ("app", extended, CONTENT_TYPE.OFC_EXTENDED_PROPERTIES, RELATIONSHIP_TYPE.EXTENDED_PROPERTIES),
        ):
            self._package.relate_to(Part(PackURI(f"/docProps/{name}.xml"), holds, xml.encode()), leads)

    def add_picture(self, picture: Picture) -> str:
        """Add a picture, or find it where it is there already; a drawing is turned into points.

        Returns:
            The name of its relationship.

        Raises:
            ValueError: it is of a type that a document does not hold.
        """
        is_drawing = picture.media_type == "image/svg+xml"
        known = (sha256(picture.data).digest(), picture.width if is_drawing else 0)
        if known not in self._pictures:
            media_type = "image/png" if is_drawing else picture.media_type
            if media_type not in _ENDINGS:
                raise ValueError(f"no picture of a document is of the type {media_type!r}")
            data = png_of(picture.data, picture.width, self._typefaces) if is_drawing else picture.data
            name = PackURI(f"/word/media/image{len(self._pictures) + 1}.{_ENDINGS[media_type]}")
            self._pictures[known] = self._text.relate_to(Part(name, media_type, data), RELATIONSHIP_TYPE.IMAGE)
        return self._pictures[known]

    def finished(self, xml: str) -> bytes:
        """The whole file, with `xml` as its text; no part of it says when it was written."""
        self._text._blob = xml.encode()  # noqa: SLF001  # the library fills it in on making a part alone
        written, dated = BytesIO(), BytesIO()
        self._package.save(written)
        with ZipFile(written) as before, ZipFile(dated, "w", ZIP_DEFLATED) as after:
            for name in before.namelist():
                entry = ZipInfo(name, FIRST_DAY)
                entry.compress_type, entry.create_system = ZIP_DEFLATED, _SYSTEM
                after.writestr(entry, before.read(name))
        return dated.getvalue()
