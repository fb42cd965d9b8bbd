"""The answer of `check`: every fault with its place and mend."""

from dataclasses import dataclass

from provenance.errors import Problem, Severity
from provenance.reports.layout import counted, paragraph, plain
from provenance.reports.standing import Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """What was found wrong.

    Attributes:
        problems: in the order in which a person walks through the files.
        records: how many records were found.
        files_checked: record files looked at, and originals.
        digests_compared: whether the originals were read, or only looked for.
    """

    standing: Standing
    problems: tuple[Problem, ...]
    records: int
    files_checked: int
    digests_compared: bool

    @property
    def is_faulty(self) -> bool:
        """Whether anything is worse than a note."""
        return any(problem.severity is not Severity.NOTE for problem in self.problems)


def checked_json(checked: Checked) -> dict[str, object]:
    """The JSON answer `check`."""
    return {
        **checked.standing.as_json("check"),
        "problems": [
            {
                "file": problem.place.file,
                "line": problem.place.line,
                "field": problem.place.field,
                "rule": problem.rule,
                "what": problem.what,
                "mend": problem.mend,
                "severity": problem.severity.value,
            }
            for problem in checked.problems
        ],
        "records": checked.records,
        "files_checked": checked.files_checked,
        "digests_compared": checked.digests_compared,
    }


def checked_text(checked: Checked, width: int) -> str:
    """The page that people read: two lines a fault, then how many there are of each severity.

    Where one file breaks one rule over and over, the first ten places stand for the rest. A fault is not wrapped:
    editors and other programs follow `file:line:` only at the beginning of a line.
    """
    lines = [line for alike in _alike(checked.problems) for line in _alike_lines(alike)]
    if lines:
        lines.append("")
    originals = (
        "The originals were read and their digests compared."
        if checked.digests_compared
        else "The originals were only looked for; `provenance check --fixity` reads them."
    )
    counts = [
        counted(sum(problem.severity is severity for problem in checked.problems), name)
        for severity, name in ((Severity.ERROR, "error"), (Severity.WARN, "warning"), (Severity.NOTE, "note"))
    ]
    lines += paragraph(f"{counted(checked.records, 'record').capitalize()}: {', '.join(counts)}.", width)
    return "\n".join([*lines, *paragraph(originals, width)])


_SHOWN = 10


def _alike(problems: tuple[Problem, ...]) -> list[list[Problem]]:
    """Group faults of one rule that follow one another in one file."""
    groups: dict[tuple[str, str], list[Problem]] = {}
    for problem in problems:
        groups.setdefault((problem.place.file, problem.rule), []).append(problem)
    order = {problem: number for number, problem in enumerate(problems)}
    few = [[problem] for group in groups.values() if len(group) <= _SHOWN for problem in group]
    many = [group for group in groups.values() if len(group) > _SHOWN]
    return sorted(few + many, key=lambda group: order[group[0]])


def _alike_lines(problems: list[Problem]) -> list[str]:
    lines = [line for problem in problems[:_SHOWN] for line in _fault_lines(problem)]
    if len(problems) > _SHOWN:
        first = problems[0]
        lines.append(plain(f"{first.place.file}: and {len(problems) - _SHOWN} more of the same kind [{first.rule}]"))
    return lines


def _fault_lines(problem: Problem) -> tuple[str, str]:
    fault, _, mend = str(problem).rpartition("\n  mend: ")
    return plain(fault), f"  mend: {plain(mend)}"
