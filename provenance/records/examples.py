"""Which examples of the machine something speaks of, as people write it: all, "9", 5..8, ["2", 5..8]."""

from dataclasses import dataclass

from provenance.records.wording import WordingError


class ExamplesError(WordingError):
    """A set of examples cannot be read, or names what was never built."""


class BackwardsRangeError(ExamplesError):
    """A run of examples goes against the order of production."""


@dataclass(frozen=True, slots=True)
class ExampleRange:
    """A run of examples in the order of production, both ends included."""

    first: str
    last: str

    def __str__(self) -> str:
        """Write the run as people type it."""
        return f"{self.first}..{self.last}"


@dataclass(frozen=True, slots=True)
class ExampleSet:
    """A set of examples as written.

    Attributes:
        terms: single numbers and runs; None means all examples of the production sequence.
    """

    terms: tuple[str | ExampleRange, ...] | None

    def __str__(self) -> str:
        """Write the set as people read it."""
        return "all" if self.terms is None else ", ".join(str(term) for term in self.terms)


def parse_examples(written: str | list[str] | tuple[str, ...]) -> ExampleSet:
    """Read a set of examples as it stands in a record.

    Raises:
        ExamplesError: nothing is named, or a run has no beginning or no end.
    """
    if written == "all":
        return ExampleSet(None)
    terms = [written] if isinstance(written, str) else list(written)
    if not terms:
        raise ExamplesError("no example is named", 'name the examples: all, "9", 5..8 or ["2", 5..8]')
    return ExampleSet(tuple(_term(term) for term in terms))


def _term(written: str) -> str | ExampleRange:
    if written == "all" or not written.strip():
        raise ExamplesError(f"`{written}` is no example", "write `all` alone, without a list, for every example")
    if ".." not in written:
        return written
    first, _, last = written.partition("..")
    if not first or not last or ".." in last:
        raise ExamplesError(f"`{written}` is no run of examples", "write the first and the last, as in 5..8")
    return ExampleRange(first, last)
