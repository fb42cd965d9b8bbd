"""What the figures of a measure come to, in words."""

from collections.abc import Iterator

from provenance.rules.quantity_values import MeasuredValue, Quantity
from provenance.rules.sentences import figure, in_words


def figures_in_words(quantity: Quantity | None) -> Iterator[str]:
    """Say where a figure comes from, whether the measurements agree, and how closely it is known."""
    if quantity is None:
        return
    counted = [value for value in quantity.values if value.counted]
    if quantity.nominal is not None:
        yield "The figure is the one that the works laid down."
        yield from _beside_the_nominal(quantity, counted)
    elif quantity.mean is not None and quantity.expanded is not None:
        limit = f"{figure(quantity.expanded)} {quantity.unit}"
        if len(counted) == 1:
            yield f"It is the figure of one source, good to {limit} either way."
        else:
            yield f"It is the mean of {in_words(len(counted))} figures, good to {limit} either way."
        yield from _agreement(quantity, counted)
    else:
        yield "No sound piece was measured, so the figure is only as written."
    yield from _not_used(quantity)
    if quantity.needed is not None and quantity.not_close_enough:
        yield f"It has to be known to {figure(quantity.needed)} {quantity.unit} before it is built, and it is not."


def _beside_the_nominal(quantity: Quantity, counted: list[MeasuredValue]) -> Iterator[str]:
    if quantity.mean is None or quantity.expanded is None:
        return
    taken = "One measurement gives" if len(counted) == 1 else f"{in_words(len(counted)).capitalize()} measurements give"
    mean = figure(quantity.mean, to=quantity.expanded / 2)
    yield f"{taken} {mean} {quantity.unit}, good to {figure(quantity.expanded)} {quantity.unit} either way."
    yield from _agreement(quantity, counted)


def _agreement(quantity: Quantity, counted: list[MeasuredValue]) -> Iterator[str]:
    if quantity.disagreement:
        yield (
            "They differ by more than their own limits of error allow, so the limit given here is wider than theirs: "
            "look for what was measured differently."
        )
    elif len(counted) > 1:
        yield "They agree within their limits of error."


def _not_used(quantity: Quantity) -> Iterator[str]:
    unsound = sorted({str(value.condition) for value in quantity.values if value.condition != "sound"})
    if unsound:
        yield f"A piece that is {' or '.join(unsound)} speaks for the value and never sets it."
