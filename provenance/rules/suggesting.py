"""What a find may speak of: components, dates and examples that its text names, each with its reason.

A suggestion is for a person to take or leave; nothing is written. The score of a component, from 0 to 1, is
points / (points + 3): three points for a number of the part as it is written, two for one that reads as it once what
recognisers confuse is folded, two for its name, one for another name; each place counts, three at most for one wording
(our own choice).
"""

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from provenance.records.archive import Archive
from provenance.records.components import Component
from provenance.records.reference_numbers import Tier, compare_references, numbers_in, reference_key
from provenance.records.wording import fold_wording

_MOST_COUNTED = 3
_HALF = 3
_MOST_WORDS = 5
_WORD = re.compile(r"[^\W_]+")
_SHORTEST_NAME = 3


@dataclass(frozen=True, slots=True)
class PageText:
    """The text of one page of a find; `page` counts from 1, None stands for its title, and words for another place."""

    page: int | str | None
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Suggestion:
    """A component that a find may speak of; see the module for the score."""

    component: str
    why: str
    score: float


@dataclass(frozen=True, slots=True)
class _Naming:
    """A way in which a text names a component."""

    component: str
    wording: str
    points: int


@dataclass(frozen=True, slots=True)
class _Found:
    """One place where a component is named."""

    naming: _Naming
    page: int | str | None
    read_as: str = ""


@dataclass(frozen=True)
class Namings:
    """All ways in which the components of an archive are named, made ready once for many texts."""

    archive: Archive

    @cached_property
    def _names(self) -> Mapping[str, tuple[_Naming, ...]]:
        """By the letters of a name without its spaces and plural, so that `head lamps` is `headlamp`."""
        names: defaultdict[str, list[_Naming]] = defaultdict(list)
        for component in self.archive.components.values():
            for naming in _names_of(component):
                letters = _letters(_WORD.findall(naming.wording))
                if len(letters) >= _SHORTEST_NAME:
                    names[letters].append(naming)
        return {letters: tuple(namings) for letters, namings in names.items()}

    @cached_property
    def _numbers(self) -> Mapping[str, tuple[_Naming, ...]]:
        numbers: defaultdict[str, list[_Naming]] = defaultdict(list)
        for component in self.archive.components.values():
            for number in component.references:
                numbers[reference_key(number)].append(_Naming(component.id, number, 3))
        return {key: tuple(namings) for key, namings in numbers.items()}

    def suggest(self, pages: Sequence[PageText]) -> tuple[Suggestion, ...]:
        """Suggest the components that the pages name, the best first; none where none is named."""
        found: defaultdict[str, list[_Found]] = defaultdict(list)
        for page in pages:
            for place in [*self._by_name(page), *self._by_number(page)]:
                found[place.naming.component].append(place)
        suggested = (_suggestion(component, places) for component, places in found.items())
        return tuple(sorted(suggested, key=lambda each: (-each.score, each.component)))

    def _by_name(self, page: PageText) -> Iterator[_Found]:
        """Places where a name stands; the longest only, so that a `head lamp bracket` is no `head lamp`."""
        words = _WORD.findall(fold_wording(page.text))
        at = 0
        while at < len(words):
            lengths = range(min(_MOST_WORDS, len(words) - at), 0, -1)
            length = next((n for n in lengths if _letters(words[at : at + n]) in self._names), 0)
            for naming in self._names[_letters(words[at : at + length])] if length else ():
                yield _Found(naming, page.page)
            at += length or 1

    def _by_number(self, page: PageText) -> Iterator[_Found]:
        for read in numbers_in(page.text):
            for naming in self._numbers.get(read.key, ()):
                is_exact = compare_references(naming.wording, read.text) is Tier.EXACT
                scored = naming if is_exact else _Naming(naming.component, naming.wording, 2)
                yield _Found(scored, page.page, "" if is_exact else read.text)


def _names_of(component: Component) -> Iterator[_Naming]:
    yield _Naming(component.id, fold_wording(component.name), 2)
    for other in component.also_called:
        yield _Naming(component.id, fold_wording(other), 1)


def _letters(words: Sequence[str]) -> str:
    joined = "".join(words)
    return joined[:-1] if len(joined) > _SHORTEST_NAME and joined.endswith("s") else joined


def _suggestion(component: str, places: Sequence[_Found]) -> Suggestion:
    by_wording: defaultdict[tuple[_Naming, str], list[_Found]] = defaultdict(list)
    for place in places:
        by_wording[place.naming, place.read_as].append(place)
    points = sum(naming.points * min(len(found), _MOST_COUNTED) for (naming, _), found in by_wording.items())
    why = "; ".join(_reason(naming, read_as, found) for (naming, read_as), found in by_wording.items())
    return Suggestion(component=component, why=why, score=points / (points + _HALF))


def _place_in_words(page: int | str | None) -> str:
    if page is None:
        return "the title"
    return page if isinstance(page, str) else f"page {page}"


def _reason(naming: _Naming, read_as: str, places: Sequence[_Found]) -> str:
    pages = list(dict.fromkeys(_place_in_words(place.page) for place in places))
    more = f" and {len(pages) - _MOST_COUNTED} more" if len(pages) > _MOST_COUNTED else ""
    where = f"{', '.join(pages[:_MOST_COUNTED])}{more}"
    return f"“{naming.wording}” in {where}" + (f", read as {read_as}" if read_as else "")
