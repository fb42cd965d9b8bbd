"""How judgement words its sentences: lists, titles, chances and points, for people without statistics."""

from collections.abc import Callable, Mapping, Sequence
from math import floor, log10

from provenance.records.sources import Source
from provenance.rules.copy_families import COPY
from provenance.rules.descent import UNSTATED, WITNESS

_SHOWN = 4


def listed(parts: Sequence[str], *, shown: int = _SHOWN) -> str:
    """Join parts as people do: a, b and c; of a long list the first few, and how many more."""
    if len(parts) > shown + 1:
        return f"{', '.join(parts[:shown])} and {len(parts) - shown} more"
    if len(parts) > 1:
        return f"{', '.join(parts[:-1])} and {parts[-1]}"
    return "".join(parts)


def listed_at_length(parts: Sequence[str], *, shown: int = _SHOWN) -> str:
    """Join parts that hold commas of their own: a; b; and c; of a long list the first few, and how many more."""
    if len(parts) > shown + 1:
        return f"{'; '.join(parts[:shown])}; and {in_words(len(parts) - shown)} more"
    if len(parts) > 1:
        return f"{'; '.join(parts[:-1])}; and {parts[-1]}"
    return "".join(parts)


_WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


def in_words(number: int) -> str:
    """Write a small number as a word, one beyond twelve in figures."""
    return _WORDS[number] if 0 <= number < len(_WORDS) else str(number)


def figure(value: float, *, to: float | None = None) -> str:
    """Write a figure to the place of the second figure of its give or take, itself where that is not given."""
    limit = abs(value if to is None else to)
    if limit == 0:
        return f"{value:g}"
    places = 1 - floor(log10(limit))
    return f"{round(value, places):.{max(places, 0)}f}"


def counted(number: int, one: str, several: str) -> str:
    """Write a number with its noun: 1 witness, 3 witnesses."""
    return f"{number} {one if number == 1 else several}"


def chance_in_words(posterior: float) -> str:
    """Write a chance as so many in 100."""
    hundredths = round(posterior * 100)
    if hundredths >= 100:
        return "more than 99 chances in 100"
    if hundredths < 1:
        return "less than 1 chance in 100"
    return f"about {counted(hundredths, 'chance', 'chances')} in 100"


def points(weight: float) -> str:
    """Write a weight in points, to one decimal where it has any."""
    rounded = f"{weight:.1f}".removesuffix(".0")
    return f"{rounded} {'point' if rounded == '1' else 'points'}"


def namer(sources: Mapping[str, Source]) -> Callable[[str], str]:
    """Give what names a part of a descent in words: a source by its title, a witness by name."""

    def name(part: str) -> str:
        if part == UNSTATED:
            return "the same unnamed origin"
        if part.startswith(WITNESS):
            return f"what is known from {part.removeprefix(WITNESS)}"
        if part.startswith(COPY):
            return "an original of which both may be copies"
        source = sources.get(part)
        return f"“{source.title}”" if source else f"“{part}”"

    return name
