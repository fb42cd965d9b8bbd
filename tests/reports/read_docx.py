"""Looks into a file for word processors with the readers of the standard library."""

from io import BytesIO
from pathlib import PurePosixPath
from xml.etree import ElementTree as ET
from zipfile import ZipFile

SPACES = {
    "w": "http://schemas.openxmlformats.org/wordprocessingml/2006/main",
    "wp": "http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing",
    "r": "http://schemas.openxmlformats.org/officeDocument/2006/relationships",
    "a": "http://schemas.openxmlformats.org/drawingml/2006/main",
}


def parts_of(written: bytes) -> dict[str, bytes]:
    """Every part of the file, by its name."""
    with ZipFile(BytesIO(written)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def xml_of(written: bytes, name: str = "word/document.xml") -> ET.Element:
    """One part, parsed."""
    return ET.fromstring(parts_of(written)[name])


def attribute(element: ET.Element, name: str) -> str:
    """An attribute by its prefixed name; empty where it is not there."""
    prefix, _, local = name.partition(":")
    return element.get(f"{{{SPACES[prefix]}}}{local}", "")


def local_name(element: ET.Element) -> str:
    """The name of an element without its namespace."""
    return element.tag.rpartition("}")[2]


def text_of(element: ET.Element) -> str:
    """The words of a paragraph; a line break is one."""
    said = {"br": "\n"}
    return "".join(
        (each.text or "") if local_name(each) == "t" else said.get(local_name(each), "") for each in element.iter()
    )


def paragraphs_of(written: bytes) -> list[tuple[str, str]]:
    """Every paragraph with its style (empty for the ordinary one) and its words, those in tables too, in order."""
    told = []
    for paragraph in xml_of(written).iter(f"{{{SPACES['w']}}}p"):
        style = paragraph.find("w:pPr/w:pStyle", SPACES)
        told.append(("" if style is None else attribute(style, "w:val"), text_of(paragraph)))
    return told


def targets_of(written: bytes) -> set[str]:
    """Every part that some part of the file leads to, by its name."""
    found = set()
    for name, data in parts_of(written).items():
        if name.endswith(".rels"):
            folder = PurePosixPath(name).parent.parent
            for each in ET.fromstring(data):
                target = each.attrib["Target"]
                assert each.get("TargetMode", "Internal") == "Internal", target
                found.add(target.removeprefix("/") if target.startswith("/") else str(folder / target))
    return found


def fields_of(part: ET.Element) -> list[tuple[str, str]]:
    """The instruction of every field with what it showed last."""
    fields: list[tuple[str, str]] = []
    state = "end"
    for run in part.iter(f"{{{SPACES['w']}}}r"):
        mark = run.find("w:fldChar", SPACES)
        if mark is not None:
            state = attribute(mark, "w:fldCharType")
            fields += [("", "")] if state == "begin" else []
        elif state != "end":
            instruction, cached = fields[-1]
            told = run.findtext("w:instrText", "", SPACES)
            fields[-1] = (instruction + told, cached + (text_of(run) if state == "separate" else ""))
    return fields
