"""Words as runs of WordprocessingML (ISO/IEC 29500-1): manner, language, direction, and links inside the document."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from html import escape

from provenance.reports.document import Run, Words
from provenance.reports.fit_text import is_turned_language, shown, stretches

_EAST_ASIAN = frozenset({"ja", "ko", "yue", "zh"})
_FIRST_NUMBER = re.compile(r"[0-9]+")


@dataclass(frozen=True, slots=True, kw_only=True)
class Target:
    """What words can lead to.

    Attributes:
        bookmark: its name.
        number: of an entry in its numbered list; None of everything else.
    """

    bookmark: str
    number: int | None = None


def xml_text(text: str) -> str:
    """Make a text fit to stand in XML, in an attribute too, whoever wrote it."""
    return escape(shown(text), quote=True)


def runs_xml(words: Words, targets: Mapping[str, Target]) -> str:
    """Write words.

    Args:
        words: as they came.
        targets: by anchor; whoever leads elsewhere is written as plain words.
    """
    return "".join(_linked(run, targets[run.to]) if run.to in targets else text_xml(run) for run in words)


def _linked(run: Run, target: Target) -> str:
    """Words that lead somewhere; the number of an entry in them is a field, so that it can be brought up to date."""
    found = _FIRST_NUMBER.search(run.text)
    if target.number is None or found is None or found[0] != str(target.number):
        inside = text_xml(run, link=True)
    else:
        before, after = run.text[: found.start()], run.text[found.end() :]
        number = text_xml(_with_text(run, found[0]), link=True)
        inside = (
            text_xml(_with_text(run, before), link=True)
            + _field(f" REF {target.bookmark} \\r \\h ", number)
            + text_xml(_with_text(run, after), link=True)
        )
    return f'<w:hyperlink w:anchor="{target.bookmark}" w:history="1">{inside}</w:hyperlink>'


def _with_text(run: Run, text: str) -> Run:
    return Run(text=text, strong=run.strong, slanted=run.slanted, language=run.language)


def _field(instruction: str, cached: str) -> str:
    """A field with what it showed when it was last brought up to date."""
    return (
        '<w:r><w:fldChar w:fldCharType="begin"/></w:r>'
        f'<w:r><w:instrText xml:space="preserve">{instruction}</w:instrText></w:r>'
        f'<w:r><w:fldChar w:fldCharType="separate"/></w:r>{cached}<w:r><w:fldChar w:fldCharType="end"/></w:r>'
    )


def text_xml(run: Run, *, link: bool = False) -> str:
    """Write some words in one manner; what runs from right to left in them is marked so."""
    return "".join(
        f'<w:r>{_manner(run, link=link, turned=turned)}<w:t xml:space="preserve">{escape(piece)}</w:t></w:r>'
        for piece, turned in stretches(shown(run.text))
    )


def _manner(run: Run, *, link: bool, turned: bool) -> str:
    """The properties of a run, in the order of the standard (17.3.2)."""
    marks = [
        '<w:rStyle w:val="Hyperlink"/>' if link else "",
        "<w:b/><w:bCs/>" if run.strong else "",
        "<w:i/><w:iCs/>" if run.slanted else "",
        "<w:rtl/>" if turned else "",
        _language(run.language, turned=turned),
    ]
    inside = "".join(marks)
    return f"<w:rPr>{inside}</w:rPr>" if inside else ""


def _language(tag: str, *, turned: bool) -> str:
    if not tag or turned != is_turned_language(tag):
        return ""
    if turned:
        return f'<w:lang w:bidi="{tag}"/>'
    east = f' w:eastAsia="{tag}"' if tag.split("-", maxsplit=1)[0].lower() in _EAST_ASIAN else ""
    return f'<w:lang w:val="{tag}"{east}/>'
