"""A document made ready for a format: what says nothing is gone, and every link leads somewhere."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from provenance.reports.document import (
    Block,
    Boxed,
    Document,
    Entry,
    Figure,
    Heading,
    Listing,
    Paragraph,
    Quotation,
    Table,
    Terms,
    Together,
    Words,
    flat,
    words,
)
from provenance.reports.fit_text import language_tag

NOTHING_SAID = "—"  # stands where a word has nothing said of it: no format has a definition without one
_NOT_IN_ANCHORS = re.compile(r"[^A-Za-z0-9-]")


def settled(document: Document) -> Document:
    """Leave out what says nothing, make anchors safe and unique, and take links that lead nowhere for plain words.

    Of two blocks with one anchor the first has it. Language tags that are not well formed are left out. The texts
    themselves stay as they came. A document that is settled already comes back equal.
    """
    settling = _Settling(names=_names_of_anchors(document.blocks), given=set())
    blocks = tuple(settling.kept(document.blocks))
    return replace(document, blocks=blocks, language=language_tag(document.language))


def _anchors(blocks: tuple[Block, ...]) -> Iterator[str]:
    for block in flat(blocks):
        if isinstance(block, Heading):
            yield block.anchor if block.text.strip() else ""
        elif isinstance(block, Paragraph):
            yield block.anchor if any(run.text.strip() for run in block.words) else ""
        elif isinstance(block, Listing):
            yield from (entry.anchor for entry in block.entries)


def _names_of_anchors(blocks: tuple[Block, ...]) -> dict[str, str]:
    """Each anchor of the document with a name that is safe in an address and in no case that of another."""
    names: dict[str, str] = {}
    taken: set[str] = set()
    for anchor in _anchors(blocks):
        if anchor and anchor not in names:
            wanted = _NOT_IN_ANCHORS.sub(lambda found: f"-{ord(found[0]):x}-", anchor)
            name, number = wanted, 1
            while name.lower() in taken:
                number += 1
                name = f"{wanted}-{number}"
            names[anchor] = name
            taken.add(name.lower())
    return names


@dataclass(frozen=True, slots=True, kw_only=True)
class _Settling:
    """What is known while a document is gone through: the names of its anchors, and which are given away."""

    names: dict[str, str]
    given: set[str]

    def kept(self, blocks: tuple[Block, ...]) -> Iterator[Block]:
        for block in blocks:
            settled_block = self._settle(block)
            if settled_block is not None:
                yield settled_block

    def _settle(self, block: Block) -> Block | None:
        match block:
            case Heading():
                return replace(block, anchor=self._name(block.anchor)) if block.text.strip() else None
            case Paragraph():
                said = self._words(block.words)
                return replace(block, words=said, anchor=self._name(block.anchor)) if said else None
            case Boxed():
                return block if block.name.strip() or block.text.strip() else None
            case Quotation():
                language = language_tag(block.language)
                return replace(block, language=language) if block.text.strip() else None
            case Listing():
                entries = tuple(self._entry(entry) for entry in block.entries)
                return replace(block, entries=entries) if entries else None
            case _:
                return self._settle_larger(block)

    def _settle_larger(self, block: Terms | Table | Figure | Together) -> Block | None:
        match block:
            case Terms():
                pairs = tuple(
                    (word if word.strip() else NOTHING_SAID, self._words(meaning) or words(NOTHING_SAID))
                    for word, meaning in block.pairs
                    if word.strip() or self._words(meaning)
                )
                return replace(block, pairs=pairs) if pairs else None
            case Figure():
                return replace(block, caption=self._words(block.caption))
            case Together():
                blocks = tuple(self.kept(block.blocks))
                return replace(block, blocks=blocks) if blocks else None
            case Table():
                return block

    def _name(self, anchor: str) -> str:
        name = self.names.get(anchor, "")
        if name in self.given:
            return ""
        self.given.add(name)
        return name

    def _entry(self, entry: Entry) -> Entry:
        """An entry stays, whatever it says: those after it keep their numbers."""
        return replace(entry, words=self._words(entry.words) or words(NOTHING_SAID), anchor=self._name(entry.anchor))

    def _words(self, said: Words) -> Words:
        runs = tuple(
            replace(run, to=self.names.get(run.to, ""), language=language_tag(run.language)) for run in said if run.text
        )
        return runs if any(run.text.strip() for run in runs) else ()


def name_of_box(name: str) -> str:
    """The first word of a box with the full stop that parts it from what follows; empty where there is none."""
    return f"{name.rstrip('.:')}." if name else ""
