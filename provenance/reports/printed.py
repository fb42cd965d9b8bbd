"""The answer of `appendix`: where it was written, and what was kept of it."""

from dataclasses import dataclass

from provenance.reports.layout import counted, paragraph
from provenance.reports.standing import Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class Printing:
    """What was printed.

    Attributes:
        panel: the id of the panel.
        output: the file, as it was named.
        draft: whether it is marked as a draft; a draft is not kept in the panel's record.
        style: the style of its citations, as it was named.
        sources: how many sources it cites.
        written: record files that were written; empty for a draft, or when the same was kept already.
        said: sentences for the curator, who is of the team; they may name what is withheld.
    """

    standing: Standing
    panel: str
    output: str
    draft: bool
    style: str
    sources: int
    written: tuple[str, ...]
    said: tuple[str, ...]


def printing_json(printing: Printing) -> dict[str, object]:
    """The JSON answer `appendix`."""
    return {
        **printing.standing.as_json("appendix"),
        "record": printing.panel,
        "output": printing.output,
        "draft": printing.draft,
        "style": printing.style,
        "sources": printing.sources,
        "written": list(printing.written),
        "said": list(printing.said),
    }


def printing_text(printing: Printing, width: int) -> str:
    """The page that people read."""
    lines = printing.standing.as_lines(width)
    for sentence in printing.said:
        lines += paragraph(sentence, width)
    what = "A draft" if printing.draft else "The appendix"
    lines += paragraph(f"{what} of {printing.panel} cites {counted(printing.sources, 'source')}.", width)
    for file in (printing.output, *printing.written):
        lines += paragraph(f"written: {file}", width)
    return "\n".join(lines)
