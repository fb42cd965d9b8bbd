"""Components whose own words do not tell their features, options or signs apart."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence

from provenance.errors import Place, Problem
from provenance.records.archive import Archive
from provenance.records.components import Component, Feature
from provenance.records.wording import fold_wording


def ambiguous_components(archive: Archive) -> Iterator[Problem]:
    """Features, options and signs that another of the component is called by too (rule `named-twice`).

    A claim names a feature by its id, and an option by any of its words: where two have the same, nobody can tell
    which of them is meant.
    """
    for component in archive.components.values():
        file = f"components/{component.id}.yaml"
        yield from _of_component(component, file)
        for number, feature in enumerate(component.features):
            yield from _of_options(feature, file, f"features[{number}].options")


def _of_component(component: Component, file: str) -> Iterator[Problem]:
    for field, word, ids in (
        ("features", "feature", [feature.id for feature in component.features]),
        ("signs", "sign", [sign.id for sign in component.signs]),
    ):
        for name, places in _places([(each,) for each in ids]).items():
            yield from _twice(Place(file=file, field=f"{field}[{places[-1]}].id"), word, name, places)


def _of_options(feature: Feature, file: str, field: str) -> Iterator[Problem]:
    """An option may say one of its own words twice over; two options may not share one."""
    worded = [(option.id, option.name, *option.also) for option in feature.options]
    for name, places in _places(worded).items():
        yield from _twice(Place(file=file, field=f"{field}[{places[-1]}]"), "option", name, places)


def _places(worded: Sequence[tuple[str, ...]]) -> Mapping[str, list[int]]:
    """By each wording, folded, the places of those that are called by it."""
    places: dict[str, list[int]] = defaultdict(list)
    for number, words in enumerate(worded):
        for word in dict.fromkeys(map(fold_wording, words)):
            places[word].append(number)
    return places


def _twice(place: Place, word: str, name: str, places: Sequence[int]) -> Iterator[Problem]:
    if len(places) > 1:
        yield Problem(
            place=place,
            rule="named-twice",
            what=f"{len(places)} {word}s are called `{name}`",
            mend=f"give each {word} words of its own",
        )
