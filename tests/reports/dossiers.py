"""Dossiers of made archives, as the task composes them, with made pictures."""

from collections.abc import Iterator

from reports.answering import the_answer

from provenance.records.archive import Archive
from provenance.reports.document import (
    Block,
    Boxed,
    Document,
    Figure,
    Heading,
    Listing,
    Paragraph,
    Picture,
    Quotation,
    Table,
    Terms,
    Words,
    flat,
)
from provenance.reports.dossier import Dossier, Pictured, Pictures, compose_dossier, places_shown
from provenance.reports.dossier_document import dossier_document
from provenance.reports.evidence import Evidence
from provenance.rules.weights import weights_of


def a_picture(says: str = "a page") -> Picture:
    return Picture(data=b"\x89PNG", media_type="image/png", says=says, width=80, height=40)


def pictures_of(evidence: Evidence, *, said: str = "a part of it") -> Pictures:
    """A picture of every place that is shown."""
    return {place: Pictured(picture=a_picture(place[0]), said=said) for place in places_shown(evidence)}


def the_dossier(archive: Archive, evidence: Evidence | None = None, pictures: Pictures | None = None) -> Dossier:
    answer = evidence or the_answer(archive)
    return compose_dossier(answer, archive, pictures_of(answer) if pictures is None else pictures, {})


def the_document(archive: Archive, evidence: Evidence | None = None, pictures: Pictures | None = None) -> Document:
    return dossier_document(the_dossier(archive, evidence, pictures), weights_of(archive))


def text_of(words: Words) -> str:
    return "".join(run.text for run in words)


def texts(blocks: tuple[Block, ...]) -> Iterator[str]:
    """What can be read, block by block; of a figure what it shows and its caption."""
    for block in flat(blocks):
        match block:
            case Heading():
                yield block.text
            case Paragraph():
                yield text_of(block.words)
            case Boxed():
                yield f"{block.name}: {block.text}"
            case Quotation():
                yield block.text
            case Listing():
                yield from (text_of(entry.words) for entry in block.entries)
            case Terms():
                yield from (f"{word}: {text_of(said)}" for word, said in block.pairs)
            case Figure():
                yield f"[{block.picture.says}] {text_of(block.caption)}"
            case Table():
                yield block.caption


def chapter(document: Document, heading: str) -> tuple[Block, ...]:
    """What stands under the first heading of that text, up to the next heading."""
    blocks = tuple(flat(document.blocks))
    start = next(n for n, block in enumerate(blocks) if isinstance(block, Heading) and block.text == heading)
    end = next((n for n, block in enumerate(blocks) if n > start and isinstance(block, Heading)), len(blocks))
    return blocks[start + 1 : end]


def entries(listing: Block) -> list[str]:
    assert isinstance(listing, Listing)
    return [text_of(entry.words) for entry in listing.entries]
