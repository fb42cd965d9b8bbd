"""The answer of `used`: what rests on a record, and would have to be looked at again if it were wrong."""

from dataclasses import dataclass

from provenance.reports.layout import counted, paragraph
from provenance.reports.standing import Standing
from provenance.rules.resting import Resting


@dataclass(frozen=True, slots=True, kw_only=True)
class Used:
    """What rests on a record or a feature.

    Attributes:
        of: what was asked about: a record file, or `component/feature`.
        rests: the nearest first; empty where nothing rests on it.
    """

    standing: Standing
    of: str
    rests: tuple[Resting, ...]


def used_json(used: Used) -> dict[str, object]:
    """The JSON answer `used`."""
    return {
        **used.standing.as_json("used"),
        "of": used.of,
        "rests": [{"record": each.record, "how": each.how} for each in used.rests],
    }


def used_text(used: Used, width: int) -> str:
    """The page that people read: a line for each record and each way in which it rests on what was asked about."""
    lines = used.standing.as_lines(width)
    if not used.rests:
        return "\n".join([*lines, *paragraph(f"Nothing rests on {used.of}.", width)])
    records = len({each.record for each in used.rests})
    lines += paragraph(f"{counted(records, 'record rests', 'records rest').capitalize()} on {used.of}:", width)
    for each in used.rests:
        lines += paragraph(f"{each.record} {each.how}", width, indent="  ", hang="      ")
    return "\n".join(lines)
