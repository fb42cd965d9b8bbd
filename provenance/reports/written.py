"""The answer of a command that writes: which record files, and what the writer should know."""

from dataclasses import dataclass

from provenance.reports.layout import paragraph
from provenance.reports.standing import Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """What was written.

    Attributes:
        answer: the name of the answer, which is that of the command.
        record: the id of the record that it is about.
        written: record files in the order in which they were written; empty when there was nothing to do.
        said: sentences for the writer; empty for nothing out of the ordinary.
    """

    standing: Standing
    answer: str
    record: str
    written: tuple[str, ...]
    said: tuple[str, ...] = ()


def written_json(written: Written) -> dict[str, object]:
    """The JSON answer of a writing command."""
    return {
        **written.standing.as_json(written.answer),
        "record": written.record,
        "written": list(written.written),
        "said": list(written.said),
    }


def written_text(written: Written, width: int) -> str:
    """The page that people read."""
    lines = written.standing.as_lines(width)
    for sentence in written.said:
        lines += paragraph(sentence, width)
    for file in written.written:
        lines += paragraph(f"written: {file}", width)
    return "\n".join(lines or ["Nothing was to do."])
