"""The figures of a measure as people read them at a terminal: each as written and in the unit to build in."""

from collections.abc import Mapping

from provenance.reports.layout import paragraph
from provenance.rules.quantity_values import MeasuredValue, Quantity
from provenance.rules.sentences import figure, listed


def measure_lines(quantity: Quantity, titles: Mapping[str, str], width: int, margin: str) -> list[str]:
    """Lay out every figure of the best value with its give or take, then what they come to and what is near it.

    Args:
        quantity: the figures.
        titles: the titles of the sources, by id.
        width: of the page, in characters.
        margin: what each line begins with.
    """
    lines = [f"{margin}Figures, in {quantity.unit}:"]
    for value in quantity.values:
        lines += paragraph(value_words(value, titles), width, indent=f"{margin}  - ", hang=f"{margin}    ")
    for sentence in (together_words(quantity), near_words(quantity)):
        if sentence:
            lines += paragraph(sentence, width, indent=margin)
    return lines


def value_words(value: MeasuredValue, titles: Mapping[str, str]) -> str:
    """One figure with its give or take, as it was written, what it is, and the title of its source."""
    return (
        f"{rounded_words(value)}, written {value.written}; {what_it_is(value)}: "
        f"{titles.get(value.source, value.source)}"
    )


def rounded_words(value: MeasuredValue) -> str:
    """One figure with its give or take, both in the unit to build in and rounded alike."""
    return f"{figure(value.value, to=value.half_width)} give or take {figure(value.half_width)}"


def what_it_is(value: MeasuredValue) -> str:
    """Whether it was laid down or measured, on what sort of piece, and whether it counts."""
    kind = "laid down by the works" if value.is_nominal else "measured"
    state = "" if value.condition == "sound" else f" on a {value.condition} piece"
    counted = ", in the mean" if value.counted else ""
    return f"{kind}{state}{counted}" if value.weight else f"{kind}{state}, without weight"


def together_words(quantity: Quantity) -> str:
    """The mean of what was measured; empty where there is none."""
    if quantity.mean is None or quantity.expanded is None:
        return ""
    mean = f"{figure(quantity.mean, to=quantity.expanded / 2)} {quantity.unit}"
    wider = (
        f", widened by what they differ among one another ({figure(quantity.between)} {quantity.unit})"
        if quantity.between
        else ""
    )
    return f"Mean {mean}, give or take {figure(quantity.expanded)} {quantity.unit}{wider}."


def near_words(quantity: Quantity) -> str:
    """The sizes of the trade near the mean; empty where there are none."""
    if not quantity.near:
        return ""
    near = [f"{size.name} ({figure(size.value, to=quantity.expanded)} {quantity.unit})" for size in quantity.near]
    lie = "lies the size" if len(near) == 1 else "lie the sizes"
    return f"Within that {lie} of the trade {listed(near)}."
