"""The words of a drawing of figures, and all that it tells for who cannot see it."""

from collections.abc import Iterator, Mapping

from provenance.reports.layout import counted, plain
from provenance.reports.measure_text import near_words, together_words, value_words
from provenance.rules.quantity_values import Quantity
from provenance.rules.sentences import figure

MOST_TOLD = 40
"""So many figures are told in words one by one, those first that set the value; of more the number."""


def measure_title(quantity: Quantity) -> str:
    """What is drawn."""
    return f"What is laid down and measured, in {quantity.unit}"


def nominal_words(quantity: Quantity) -> str:
    """The figure that is laid down and is the value; empty where none is."""
    if quantity.nominal is None or quantity.nominal_written is None:
        return ""
    closely = ""
    if quantity.mean is None and quantity.expanded is not None:
        closely = f", give or take {figure(quantity.expanded)} {quantity.unit}"
    limit = min((each.half_width for each in quantity.values if each.is_nominal), default=quantity.expanded or 0.0)
    written = figure(quantity.nominal, to=limit)
    return f"Laid down by the works, and the value: {quantity.nominal_written} ({written} {quantity.unit}{closely})."


def needed_words(quantity: Quantity) -> str:
    """How closely it must be known and whether it is; empty where nothing is asked."""
    if quantity.needed is None:
        return ""
    asked = f"It must be known to give or take {figure(quantity.needed)} {quantity.unit}"
    if quantity.expanded is None:
        return f"{asked}; how closely it is known nothing says."
    known = f"it is known to give or take {figure(quantity.expanded)} {quantity.unit}"
    return f"{asked}; {known}, which is {'not ' if quantity.not_close_enough else ''}close enough."


def by_weight(quantity: Quantity) -> list[int]:
    """The places of the figures, those first that set the value: the nominal that it is, and what the mean is over."""

    def first(place: int) -> tuple[bool, bool]:
        value = quantity.values[place]
        is_the_value = value.is_nominal and value.written == quantity.nominal_written
        return not (is_the_value or value.counted), not value.weight

    return sorted(range(len(quantity.values)), key=first)


def measure_in_full(quantity: Quantity, titles: Mapping[str, str]) -> str:
    """All that the drawing tells, in words that stand without it.

    Of more than `MOST_TOLD` figures those that set the value are told, and how many more there are.
    """
    return plain(" ".join(_sentences(quantity, titles)))


def _sentences(quantity: Quantity, titles: Mapping[str, str]) -> Iterator[str]:
    yield f"{measure_title(quantity)}: {counted(len(quantity.values), 'figure')}."
    told = sorted(by_weight(quantity)[:MOST_TOLD])
    yield from (f"{value_words(quantity.values[place], titles).rstrip('.')}." for place in told)
    if len(quantity.values) > len(told):
        yield f"And {counted(len(quantity.values) - len(told), 'further figure')}, not told here."
    summed = (nominal_words(quantity), together_words(quantity), near_words(quantity), needed_words(quantity))
    yield from filter(None, summed)
