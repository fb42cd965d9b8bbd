"""The words that must not reach the public: what identifies withheld sources, donors and people who are not named.

What the team writes in its own words, such as the reason of a decision or the name of a component, may name a source
that is withheld. Such names are struck out. Words that also stand in public records, such as the works that made an
open drawing too, stay. A part is often called just as a picture of it is, and so does not lose its name to that title;
the name of a person it does lose.
"""

import re
from collections.abc import Callable, Collection, Iterable, Iterator
from functools import cache

from provenance.records.archive import Archive
from provenance.records.sources import Source
from provenance.records.wording import fold_wording

STRUCK_OUT = "[withheld]"
SHORTEST_NAME = 4
SHORTEST_QUOTE = 16
"""Shorter words are too common to be struck out wherever they stand; common practice, no source."""

_BLANK = r"\s+"
_FEW = 8


def striker(archive: Archive, withheld: Collection[str], unnamed: Collection[str]) -> Callable[[str], str]:
    """Give what strikes withheld words out of a text.

    Args:
        archive: the whole archive.
        withheld: ids of the sources that are withheld.
        unnamed: names of people who did not agree to be named.
    """
    public = _folded(_public_words(archive, withheld)) - _folded(unnamed)
    with_titles = public | _folded(_titles(archive)) - _folded(unnamed)
    struck = _telling({*_people(archive, withheld), *unnamed}, public)
    struck |= _telling(_makers_and_holders(archive, withheld), with_titles)
    struck |= _telling(_identities(archive, withheld), with_titles | _folded(_words_of_parts(archive)))
    struck |= {quote for quote in _quotes(archive, withheld) if fold_wording(quote) not in with_titles}
    if not struck:
        return lambda text: text
    pattern = re.compile(rf"(?<!\w)(?:{_any_of(map(_letters, struck))})(?!\w)", re.IGNORECASE)
    return cache(lambda text: pattern.sub(STRUCK_OUT, text))  # holders and credit lines come again and again


def _letters(word: str) -> tuple[str, ...]:
    """A word as patterns of its letters, capitals as small ones; any blank stands for any."""
    letters = (re.escape(letter) for letter in " ".join(word.split()))
    return tuple(_BLANK if each == r"\ " else each.lower() if each.isascii() else each for each in letters)


def _any_of(words: Iterable[tuple[str, ...]]) -> str:
    """A pattern of any of many words, the longest first; those that begin alike share their beginning.

    Thousands of words one after another would each be tried at every place.
    """
    listed = sorted(set(words), key=lambda word: (-len(word), word))
    if len(listed) <= _FEW:
        return "|".join(map("".join, listed))
    beginning: dict[str, list[tuple[str, ...]]] = {}
    for word in listed:
        beginning.setdefault(word[0] if word else "", []).append(word[1:])
    return "|".join(f"{first}(?:{_any_of(rest)})" if first else "" for first, rest in beginning.items())


def _telling(names: Iterable[str], sayable: Collection[str]) -> set[str]:
    """Those names that are more than a few letters or figures, and that nobody may say."""
    telling = {name for name in names if len(name) >= SHORTEST_NAME and any(letter.isalpha() for letter in name)}
    return {name for name in telling if fold_wording(name) not in sayable}


def _folded(words: Iterable[str | None]) -> set[str]:
    return {fold_wording(word) for word in words if word}


def _people(archive: Archive, withheld: Collection[str]) -> Iterator[str]:
    """Donors, owners and those who permitted, of any source; who speaks in a withheld one."""
    for source in archive.sources.values():
        yield from _givers(source)
    for claim in archive.claims.values():
        for item in claim.evidence:
            if item.source in withheld and item.at.who:
                yield item.at.who


def _givers(source: Source) -> Iterator[str]:
    givers = [each.giver for each in source.acquired]
    givers += [source.loan.owner] if source.loan else []
    givers += [source.rights.permission.giver] if source.rights and source.rights.permission else []
    yield from (giver for giver in givers if giver)


def _makers_and_holders(archive: Archive, withheld: Collection[str]) -> Iterator[str]:
    for source in (archive.sources[each] for each in withheld):
        told = [source.creator, source.holder]
        told += [source.rights.holder, source.rights.credit] if source.rights else []
        yield from (name for name in told if name)


def _identities(archive: Archive, withheld: Collection[str]) -> Iterator[str]:
    for each in withheld:
        yield from _identity(archive.sources[each])


def _identity(source: Source) -> Iterator[str]:
    """What a source is known by; a title of one word, such as `Drawing`, says nothing of which."""
    if len(source.title.split()) > 1:
        yield source.title
    yield source.id
    told = [source.place, source.reference, source.occasion]
    for file in source.files:
        told += [name for path in (file.path, file.received_as) if path for name in _file_names(path)]
    told += [name for each in source.acquired if each.received_as for name in _file_names(each.received_as)]
    yield from (word for word in told if word)


def _file_names(path: str) -> tuple[str, str]:
    name = path.rpartition("/")[2]
    return name, name.rpartition(".")[0] or name


def _quotes(archive: Archive, withheld: Collection[str]) -> Iterator[str]:
    for claim in archive.claims.values():
        quotes = (item.quote for item in claim.evidence if item.source in withheld)
        yield from (quote for quote in quotes if quote and len(quote) >= SHORTEST_QUOTE)


def _public_words(archive: Archive, withheld: Collection[str]) -> Iterator[str | None]:
    """What open sources say of themselves, and the answers that a feature may have, such as the names of works."""
    yield "unknown"
    for source in archive.sources.values():
        if source.id not in withheld:
            yield from (source.id, source.title, source.creator, source.holder, source.reference, source.occasion)
            yield source.rights.credit if source.rights else None
    for feature in archive.features.values():
        yield from (word for option in feature.options for word in (option.id, option.name))


def _titles(archive: Archive) -> Iterator[str | None]:
    """What the archive and its machine are called."""
    yield archive.title
    if archive.subject:
        yield from (archive.subject.name, archive.subject.kind)


def _words_of_parts(archive: Archive) -> Iterator[str]:
    for component in archive.components.values():
        yield from (component.id, component.name, *component.also_called, *component.references)
        for feature in component.features:
            yield from (feature.id, feature.name)
