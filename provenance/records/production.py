"""The production sequence: which examples were built, in which batches, in which order."""

from dataclasses import dataclass
from functools import cached_property

from provenance.records.dates import EdtfDate
from provenance.records.examples import BackwardsRangeError, ExampleRange, ExamplesError, ExampleSet


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """Examples that were built together.

    Attributes:
        batch: the name of the batch.
        examples: their numbers in order of building.
        built: when the batch was built.
    """

    batch: str
    examples: tuple[str, ...]
    built: EdtfDate


@dataclass(frozen=True, kw_only=True)
class Production:
    """All batches in order of building; this order is the production sequence. May be empty in a new archive."""

    batches: tuple[Batch, ...] = ()

    @cached_property
    def order(self) -> tuple[str, ...]:
        """The numbers of all examples, in order of building."""
        return tuple(example for batch in self.batches for example in batch.examples)

    @cached_property
    def _positions(self) -> dict[str, int]:
        return {example: position for position, example in enumerate(self.order)}

    @cached_property
    def _batches(self) -> dict[str, Batch]:
        return {example: batch for batch in self.batches for example in batch.examples}

    def __contains__(self, example: object) -> bool:
        """Whether an example of that number was built."""
        return example in self._positions

    def position(self, example: str) -> int:
        """The place of an example in the production sequence, counted from 0.

        Raises:
            KeyError: no such example.
        """
        return self._positions[example]

    def batch_of(self, example: str) -> Batch:
        """The batch that an example belongs to.

        Raises:
            KeyError: no such example.
        """
        return self._batches[example]

    def batch_named(self, name: str) -> Batch | None:
        """The batch of that name; None where there is none."""
        return next((batch for batch in self.batches if batch.batch == name), None)

    def expand(self, examples: ExampleSet) -> tuple[str, ...]:
        """Every example of a set, in the order of production, each once.

        Raises:
            ExamplesError: an example that was not built, or a run that goes backwards.
        """
        if examples.terms is None:
            return self.order
        named = {example for term in examples.terms for example in self._expand_term(term)}
        return tuple(sorted(named, key=self.position))

    def _expand_term(self, term: str | ExampleRange) -> tuple[str, ...]:
        if isinstance(term, str):
            self._require(term)
            return (term,)
        self._require(term.first)
        self._require(term.last)
        first, last = self.position(term.first), self.position(term.last)
        if last < first:
            raise BackwardsRangeError(
                f"{term} runs backwards: {term.last} was built before {term.first}",
                f"write {term.last}..{term.first}: a run goes in the order of production",
            )
        return self.order[first : last + 1]

    def _require(self, example: str) -> None:
        if example not in self:
            raise ExamplesError(
                f"there is no example `{example}`",
                f"name one of the production sequence in archive.yaml: {', '.join(self.order) or 'none is listed yet'}",
            )
