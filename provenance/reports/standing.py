"""What every answer begins with: which archive it is about, and which records take no part in it."""

from dataclasses import dataclass

from provenance.reports.layout import paragraph


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """A record that takes no part in an answer, and why."""

    file: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Which archive an answer is about.

    Attributes:
        archive: its title.
        left_out: the records that could not be used, in order of file; empty when there are none.
    """

    archive: str
    left_out: tuple[LeftOut, ...] = ()

    def as_json(self, answer: str) -> dict[str, object]:
        """Begin the JSON answer of that name."""
        return {
            "answer": answer,
            "archive": self.archive,
            "left_out": [{"file": record.file, "why": record.why} for record in self.left_out],
        }

    def as_lines(self, width: int) -> list[str]:
        """Begin the page that people read: nothing when every record could be used."""
        if not self.left_out:
            return []
        count = "one record takes" if len(self.left_out) == 1 else f"{len(self.left_out)} records take"
        said = f"Not the whole archive: {count} no part in this answer (`provenance check` names the mends)."
        lines = paragraph(said, width)
        for record in self.left_out:
            lines += paragraph(f"{record.file}: {record.why}", width, indent="  ", hang="    ")
        return [*lines, ""]
