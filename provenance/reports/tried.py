"""What a change to the records would do to the verdicts, before anything is written."""

from collections.abc import Sequence
from dataclasses import dataclass

from provenance.reports.evidence_text import chance
from provenance.reports.layout import counted, listed, paragraph
from provenance.reports.standing import Standing
from provenance.reports.written import Written, written_json
from provenance.rules.verdicts import Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """A feature whose verdict would change.

    Attributes:
        before: the verdict as it is.
        after: as it would be.
        decisions: ids of the decisions on the feature that are not withdrawn, in order.
        made: those of them to which something was made already.
        panels: ids of the panels that speak of the feature or its component, in order.
    """

    before: Verdict
    after: Verdict
    decisions: tuple[str, ...] = ()
    made: tuple[str, ...] = ()
    panels: tuple[str, ...] = ()

    @property
    def feature(self) -> str:
        """`component/feature`."""
        return self.after.feature


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """A change that was looked at and not written.

    Attributes:
        answer: the name of the command.
        record: the id of the record that it is about.
        files: the record files that would be written, in order; empty where there is nothing to do.
        said: sentences for the writer.
        changes: by feature, in order.
    """

    standing: Standing
    answer: str
    record: str
    files: tuple[str, ...]
    said: tuple[str, ...]
    changes: tuple[Change, ...]


def tried_json(tried: Tried) -> dict[str, object]:
    """The JSON answer; nothing was written, so `written` is empty."""
    return {
        **tried.standing.as_json(tried.answer),
        "record": tried.record,
        "written": [],
        "said": list(tried.said),
        "changes": changes_json(tried.changes),
    }


def changes_json(changes: Sequence[Change]) -> list[dict[str, object]]:
    """What changes, as every JSON answer writes it."""
    return [
        {
            "feature": change.feature,
            "before": _side(change.before),
            "after": _side(change.after),
            "decisions": list(change.decisions),
            "made": list(change.made),
            "panels": list(change.panels),
        }
        for change in changes
    ]


def untried_json(written: Written) -> dict[str, object]:
    """The JSON answer of the same command when it wrote: nobody looked at what changes."""
    return {**written_json(written), "changes": None}


def tried_text(tried: Tried, width: int) -> str:
    """The page that people read."""
    would = f"It would write {listed(tried.files)}." if tried.files else "Nothing would be to do."
    lines = tried.standing.as_lines(width)
    lines += paragraph(f"Only tried: nothing was written. {would}", width)
    for sentence in tried.said:
        lines += paragraph(sentence, width)
    if not tried.changes:
        return "\n".join([*lines, "No verdict would change."])
    lines += ["", "These verdicts would change:" if len(tried.changes) > 1 else "One verdict would change:"]
    for change in tried.changes:
        lines += ["", *change_lines(change, width)]
    return "\n".join(lines)


def change_lines(change: Change, width: int, *, indent: str = "") -> list[str]:
    """What changes of one feature: its name, then what was and what will be, and what hangs on it."""
    lines = paragraph(f"{change.feature} ({change.after.name})", width, indent=indent, hang=f"{indent}  ")
    for sentence in change_sentences(change):
        lines += paragraph(sentence, width, indent=f"{indent}  ", hang=f"{indent}    ")
    return lines


def change_sentences(change: Change) -> tuple[str, ...]:
    """What would change of one feature, and what hangs on it, a sentence each."""
    before, after = _in_words(change.before), _in_words(change.after)
    sentences = [f"before: {before}", f"after: {after}"]
    if before == after:
        sentences = [f"as before ({after}), but for less than one chance in a hundred"]
    if change.decisions:
        sentences.append(f"decided on it: {listed(change.decisions)}; see whether that still holds")
    if change.made:
        sentences.append(f"made already, after {listed(change.made)}")
    if change.panels:
        sentences.append(f"told to visitors on the panel {listed(change.panels)}")
    return tuple(sentences)


def _side(verdict: Verdict) -> dict[str, object]:
    return {
        "grade": verdict.grade.value,
        "lines": verdict.lines,
        "posterior": verdict.posterior,
        "value": verdict.value,
    }


def _in_words(verdict: Verdict) -> str:
    if verdict.value is None:
        return "nothing supports any value"
    witnesses = counted(verdict.lines, "independent witness", "independent witnesses")
    return f"{verdict.shown}: {verdict.grade.value}, chance {chance(verdict.posterior)}, {witnesses}"
