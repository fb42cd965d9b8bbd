"""Figures and units that cannot be read, or that can be read in more than one way."""

from provenance.records.wording import WordingError


class MeasureError(WordingError):
    """A figure or a unit that cannot be read, or is none of what is wanted in its place."""


class AmbiguousMeasureError(MeasureError):
    """A figure that can be read in more than one way.

    Attributes:
        choices: the readings, each written so that it can be read in one way only; all of them stand in the mend.
    """

    def __init__(self, what: str, *, choices: tuple[str, ...], note: str = "") -> None:
        """Name what is ambiguous, and the choices; `note` is added to the mend."""
        listed = ", ".join(f"`{choice}`" for choice in choices)
        mend = f"write which is meant: {' or '.join(listed.rsplit(', ', 1))}"
        super().__init__(what, f"{mend}; {note}" if note else mend)
        self.choices = choices
