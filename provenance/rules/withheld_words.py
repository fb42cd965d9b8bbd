"""The words that must not reach the public: what identifies withheld sources, donors and people who are not named.

What the team writes in its own words, such as the reason of a decision, may name a source that is withheld. Such names
are struck out. Words that also stand in public records, such as the works that made an open drawing too, stay.
"""

import re
from collections.abc import Callable, Collection, Iterator

from provenance.records.archive import Archive
from provenance.records.sources import Source
from provenance.records.wording import fold_wording

STRUCK_OUT = "[withheld]"
SHORTEST_NAME = 4
SHORTEST_QUOTE = 16
"""Shorter words are too common to be struck out wherever they stand; common practice, no source."""


def striker(archive: Archive, withheld: Collection[str], unnamed: Collection[str]) -> Callable[[str], str]:
    """Give what strikes withheld words out of a text.

    Args:
        archive: the whole archive.
        withheld: ids of the sources that are withheld.
        unnamed: names of people who did not agree to be named.
    """
    public = set(_public_words(archive, withheld)) - {fold_wording(name) for name in unnamed}
    names = [*_names(archive, withheld), *unnamed]
    words = {name for name in names if _is_telling(name)}
    words |= {quote for quote in _quotes(archive, withheld) if len(quote) >= SHORTEST_QUOTE}
    struck = {word for word in words if fold_wording(word) not in public}
    if not struck:
        return lambda text: text
    longest_first = sorted(struck, key=lambda word: (-len(word), word))
    alternatives = "|".join(r"\s+".join(map(re.escape, word.split())) for word in longest_first)
    pattern = re.compile(rf"(?<!\w)(?:{alternatives})(?!\w)", re.IGNORECASE)
    return lambda text: pattern.sub(STRUCK_OUT, text)


def _is_telling(name: str) -> bool:
    return len(name) >= SHORTEST_NAME and any(letter.isalpha() for letter in name)


def _names(archive: Archive, withheld: Collection[str]) -> Iterator[str]:
    for source in archive.sources.values():
        yield from _givers(source)
        if source.id in withheld:
            yield from _identity(source)
    for claim in archive.claims.values():
        for item in claim.evidence:
            if item.source in withheld and item.at.who:
                yield item.at.who


def _givers(source: Source) -> Iterator[str]:
    givers = [each.giver for each in source.acquired]
    givers += [source.loan.owner] if source.loan else []
    givers += [source.rights.permission.giver] if source.rights and source.rights.permission else []
    yield from (giver for giver in givers if giver)


def _identity(source: Source) -> Iterator[str]:
    """What a source is known by; a title of one word, such as `Drawing`, says nothing of which."""
    if len(source.title.split()) > 1:
        yield source.title
    yield source.id
    told = [source.creator, source.holder, source.place, source.reference, source.occasion]
    told += [source.rights.holder, source.rights.credit] if source.rights else []
    for file in source.files:
        told += [name for path in (file.path, file.received_as) if path for name in _file_names(path)]
    told += [name for each in source.acquired if each.received_as for name in _file_names(each.received_as)]
    yield from (word for word in told if word)


def _file_names(path: str) -> tuple[str, str]:
    name = path.rpartition("/")[2]
    return name, name.rpartition(".")[0] or name


def _quotes(archive: Archive, withheld: Collection[str]) -> Iterator[str]:
    for claim in archive.claims.values():
        yield from (item.quote for item in claim.evidence if item.source in withheld and item.quote)


def _public_words(archive: Archive, withheld: Collection[str]) -> Iterator[str]:
    """What public records say in so many words, folded."""
    said: list[str | None] = [archive.title, "unknown"]
    if archive.subject:
        said += [archive.subject.name, archive.subject.kind]
    for source in archive.sources.values():
        if source.id not in withheld:
            said += [source.id, source.title, source.creator, source.holder, source.reference, source.occasion]
            said += [source.rights.credit] if source.rights else []
    for component in archive.components.values():
        said += [component.id, component.name, *component.also_called, *component.references]
        for feature in component.features:
            said += [feature.id, feature.name, *(word for each in feature.options for word in (each.id, each.name))]
    yield from (fold_wording(word) for word in said if word)
