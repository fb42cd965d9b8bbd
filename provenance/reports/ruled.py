"""The answer of a ruling on two sources that look like copies: what was written, and which verdicts that changed."""

from dataclasses import dataclass

from provenance.reports.layout import paragraph
from provenance.reports.standing import Standing
from provenance.reports.tried import Change, change_lines, change_sentences, changes_json

_NOT_LOOKED_AT = "It is not said yet which example is represented, so no verdict was looked at."
_NOTHING_CHANGES = "No verdict changes."


@dataclass(frozen=True, slots=True, kw_only=True)
class Ruled:
    """What was ruled.

    Attributes:
        answer: the name of the answer.
        record: the id of the pair.
        written: record files in the order in which they were written; empty when there was nothing to do.
        said: sentences for the writer.
        changes: what changed, by feature, in order; None where nothing can be judged yet.
    """

    standing: Standing
    answer: str
    record: str
    written: tuple[str, ...]
    said: tuple[str, ...]
    changes: tuple[Change, ...] | None


def ruled_json(ruled: Ruled) -> dict[str, object]:
    """The JSON answers `copies-confirm` and `copies-rule-out`."""
    return {
        **ruled.standing.as_json(ruled.answer),
        "record": ruled.record,
        "written": list(ruled.written),
        "said": list(ruled.said),
        "changes": None if ruled.changes is None else changes_json(ruled.changes),
    }


def ruled_text(ruled: Ruled, width: int) -> str:
    """The page that people read."""
    lines = ruled.standing.as_lines(width)
    for sentence in ruled.said:
        lines += paragraph(sentence, width)
    if not ruled.written:
        return "\n".join([*lines, "Nothing was to do."])
    lines += _changed(ruled, width)
    for file in ruled.written:
        lines += paragraph(f"written: {file}", width)
    return "\n".join(lines)


def changed_sentences(ruled: Ruled) -> tuple[str, ...]:
    """Which verdicts have changed, a sentence for each; nothing where nothing was written."""
    if not ruled.written:
        return ()
    if ruled.changes is None:
        return (_NOT_LOOKED_AT,)
    changed = tuple(f"{each.feature}: {'; '.join(change_sentences(each))}." for each in ruled.changes)
    return changed or (_NOTHING_CHANGES,)


def _changed(ruled: Ruled, width: int) -> list[str]:
    if ruled.changes is None:
        return paragraph(_NOT_LOOKED_AT, width)
    if not ruled.changes:
        return [_NOTHING_CHANGES]
    lines = ["", "These verdicts have changed:" if len(ruled.changes) > 1 else "One verdict has changed:"]
    for change in ruled.changes:
        lines += ["", *change_lines(change, width)]
    return [*lines, ""]
