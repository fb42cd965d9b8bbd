"""What one file of the archive says, field by field, with the line of each field."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import TypeAlias

Value: TypeAlias = "str | int | Decimal | bool | list[Value] | dict[str, Value]"
"""What a field may hold. As read every scalar is text; the schema at its place alone makes it something else."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """What one file says, field by field.

    Attributes:
        file: path relative to the archive, with `/`.
        content: the fields; as read every scalar is text, after typing some are numbers.
        lines: the line, from 1, of each field by its path, such as `evidence[0].at.page`; the empty path is the record.
    """

    file: str
    content: dict[str, Value]
    lines: Mapping[str, int]

    def line_of(self, field: str) -> int | None:
        """The line of a field, or of the nearest part round it that is there; None for the record as a whole."""
        while field and field not in self.lines:
            field = outer_field(field)
        return self.lines.get(field) if field else None


def outer_field(field: str) -> str:
    """The path of the part that a field stands in: `evidence[0]` for `evidence[0].at`; empty for the record."""
    return field[: max(field.rfind("."), field.rfind("["), 0)]
