import inspect
import re
from io import BytesIO
from typing import Any
from xml.etree import ElementTree as ET
from zipfile import ZipFile

import docx
import pytest
from docx.oxml.section import CT_SectPr
from docx.oxml.settings import CT_Settings
from docx.oxml.styles import CT_Style
from docx.oxml.table import CT_TblPr, CT_TcPr
from docx.oxml.text.font import CT_RPr
from docx.oxml.text.parfmt import CT_PPr
from PIL import Image
from reports.documents import a_document, a_drawing, a_photograph, a_whole_document
from reports.hostile import HEBREW, HOSTILE, hostile_document
from reports.read_docx import (
    SPACES,
    attribute,
    local_name,
    paragraphs_of,
    parts_of,
    targets_of,
    xml_of,
)

from provenance.reports.document import (
    Figure,
    Paragraph,
    Picture,
    Quotation,
    Run,
    words,
)
from provenance.reports.document_docx import document_docx


def test_a_drawing_becomes_points_with_its_hatching_on_white() -> None:
    written = document_docx(a_document(Figure(picture=a_drawing(), caption=())))

    (name,) = (name for name in parts_of(written) if name.startswith("word/media/"))
    image = Image.open(BytesIO(parts_of(written)[name])).convert("L")

    assert name.endswith(".png")
    assert abs(image.width - 80 / 25.4 * 200) <= 1
    assert image.getpixel((image.width - 2, 2)) == 255
    hatched = image.crop((30, 30, 270, 120))  # within the rectangle
    assert 0.1 < sum(shade < 128 for shade in hatched.tobytes()) / (hatched.width * hatched.height) < 0.5


def test_a_picture_that_stands_twice_lies_in_the_file_once() -> None:
    figure = Figure(picture=a_photograph(), caption=words("a"))

    names = [name for name in parts_of(document_docx(a_document(figure, figure))) if "media" in name]

    assert names == ["word/media/image1.jpg"]


def test_a_picture_of_another_type_is_refused() -> None:
    picture = Picture(data=b"GIF89a", media_type="image/gif", says="a", width=1, height=1)

    with pytest.raises(ValueError, match="'image/gif'"):
        document_docx(a_document(Figure(picture=picture, caption=())))


def test_the_same_document_gives_the_same_bytes_and_no_day_of_writing() -> None:
    written = document_docx(a_whole_document())

    assert written == document_docx(a_whole_document())
    with ZipFile(BytesIO(written)) as archive:
        assert {entry.date_time for entry in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        assert {entry.create_system for entry in archive.infolist()} == {3}
        assert archive.namelist()[0] == "[Content_Types].xml"
    assert not re.search(rb"python-docx|W3CDTF|creator|lastModifiedBy", b"".join(parts_of(written).values()))


def test_a_typeface_has_another_to_stand_in_for_it() -> None:
    (font,) = xml_of(document_docx(a_document()), "word/fontTable.xml")

    alternative = font.find("w:altName", SPACES)

    assert attribute(font, "w:name") == "Arimo"
    assert alternative is not None
    assert attribute(alternative, "w:val") == "Arial"


def test_every_part_is_led_to_and_has_a_type() -> None:
    written = document_docx(a_whole_document())
    names = {name for name in parts_of(written) if not name.endswith(".rels") and name != "[Content_Types].xml"}
    types = ET.fromstring(parts_of(written)["[Content_Types].xml"])
    endings = {each.attrib["Extension"] for each in types if local_name(each) == "Default"}
    overridden = {each.attrib["PartName"].removeprefix("/") for each in types if local_name(each) == "Override"}

    assert targets_of(written) == names
    assert all(name in overridden or name.rpartition(".")[2] in endings for name in names)
    used = {attribute(each, "r:embed") for each in xml_of(written).iter(f"{{{SPACES['a']}}}blip")}
    related = ET.fromstring(parts_of(written)["word/_rels/document.xml.rels"])
    assert used <= {each.attrib["Id"] for each in related}


def test_every_style_that_is_used_is_defined() -> None:
    written = document_docx(a_whole_document(draft=True))
    defined = {attribute(each, "w:styleId") for each in xml_of(written, "word/styles.xml").findall("w:style", SPACES)}

    used = {
        attribute(each, "w:val")
        for name in ("word/document.xml", "word/header1.xml", "word/footer1.xml", "word/styles.xml")
        for each in xml_of(written, name).iter()
        if local_name(each) in {"pStyle", "rStyle", "tblStyle", "basedOn", "next"}
    }

    assert used <= defined


def _order_of(kind: type) -> tuple[str, ...]:
    """The order in which ISO/IEC 29500-1 lets properties stand, as python-docx has it from the standard's schema."""
    found = re.search(r"_tag_seq = \((.*?)\n    \)", inspect.getsource(kind), re.DOTALL)
    assert found
    return tuple(re.findall(r'"(w:\w+)"', found[1]))


_KINDS: dict[str, type] = {
    "pPr": CT_PPr,
    "rPr": CT_RPr,
    "sectPr": CT_SectPr,
    "tblPr": CT_TblPr,
    "tcPr": CT_TcPr,
    "style": CT_Style,
    "settings": CT_Settings,
}


_ORDERS = {name: _order_of(kind) for name, kind in _KINDS.items()}


_ORDERS["sectPr"] = ("w:headerReference", "w:footerReference", *_ORDERS["sectPr"])  # it has them apart


def _out_of_order(part: ET.Element) -> list[str]:
    found = []
    for element in part.iter():
        order = _ORDERS.get(local_name(element))
        if order:
            names = [f"w:{local_name(each)}" for each in element]
            assert set(names) <= set(order), names
            places = [order.index(name) for name in names]
            found += [] if places == sorted(places) else [f"{local_name(element)}: {names}"]
    return found


def test_properties_stand_in_the_order_of_the_standard() -> None:
    both = (Quotation(text=HEBREW), Paragraph(words=(Run(text=HEBREW, strong=True, slanted=True, language="he"),)))
    for document in (a_whole_document(draft=True, lying=True), a_document(*both), hostile_document(HEBREW)):
        for name, data in parts_of(document_docx(document)).items():
            if name.startswith("word/") and name.endswith(".xml"):
                assert _out_of_order(ET.fromstring(data)) == [], name


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_no_part_holds_what_xml_does_not_have(text: str) -> None:
    """XML 1.0, section 2.2; and what Unicode calls no character."""
    for name, data in parts_of(document_docx(hostile_document(text))).items():
        if name.endswith((".xml", ".rels")):
            assert not re.search("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ufdd0-\ufdef\ufffe\uffff]", data.decode())


def _read_by_its_library(written: bytes) -> Any:
    return docx.Document(BytesIO(written))


def test_what_was_written_can_be_written_again_by_the_library_and_says_the_same() -> None:
    written = document_docx(a_whole_document())
    again = BytesIO()
    _read_by_its_library(written).save(again)

    assert paragraphs_of(again.getvalue()) == paragraphs_of(written)
