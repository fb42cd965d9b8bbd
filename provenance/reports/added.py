"""The answer of `add`: what was added, and for a sheet what became of each of its rows."""

from dataclasses import dataclass
from enum import StrEnum

from provenance.reports.layout import counted, paragraph
from provenance.reports.written import Written, written_json, written_text


class RowState(StrEnum):
    """What became of a row of a sheet."""

    ADDED = "added"
    KNOWN = "known"
    REFUSED = "refused"
    SOUND = "sound"


_WORDS = {
    RowState.ADDED: "added",
    RowState.KNOWN: "known already",
    RowState.REFUSED: "refused",
    RowState.SOUND: "sound, not added",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class AddedRow:
    """What became of a row.

    Attributes:
        row: in the sheet, counted from 1 with the headings.
        component: the id of its component; None where it was refused.
        state: sound ones are added only where no row is refused.
        why: what the reader should know; empty where nothing was out of the ordinary.
    """

    row: int
    number: str
    name: str
    component: str | None
    state: RowState
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Added:
    """What was added; `rows` is empty where no sheet was."""

    written: Written
    rows: tuple[AddedRow, ...] = ()

    @property
    def has_refused(self) -> bool:
        """Whether a row was refused, so that none was added."""
        return any(row.state is RowState.REFUSED for row in self.rows)


def added_json(added: Added) -> dict[str, object]:
    """The JSON answer `add`."""
    rows = [
        {
            "row": row.row,
            "number": row.number,
            "name": row.name,
            "component": row.component,
            "state": row.state.value,
            "why": row.why,
        }
        for row in added.rows
    ]
    return {**written_json(added.written), "rows": rows}


def added_text(added: Added, width: int) -> str:
    """The page that people read: of a sheet what is out of the ordinary by row, the rest by number."""
    if not added.rows:
        return written_text(added.written, width)
    lines = added.written.standing.as_lines(width)
    for sentence in added.written.said:
        lines += paragraph(sentence, width)
    for row in added.rows:
        if row.why:
            called = " ".join(part for part in (row.number, row.name) if part)
            named = f", {called}" if called else ""
            to = f" -> {row.component}" if row.component else ""
            lines += paragraph(f"row {row.row}{named}: {_WORDS[row.state]}{to} ({row.why})", width, hang="    ")
    counts = [
        f"{sum(row.state is state for row in added.rows)} {_WORDS[state]}"
        for state in RowState
        if any(row.state is state for row in added.rows)
    ]
    lines += paragraph(f"{counted(len(added.rows), 'row').capitalize()}: {', '.join(counts)}.", width)
    if added.has_refused:
        lines += paragraph("Nothing was written: put the refused rows right, then give the same command again.", width)
    return "\n".join(lines)
