"""What an original is, by its content and not by its name, and how many pages it has."""

from dataclasses import dataclass
from pathlib import Path

from provenance.errors import UnreadableOriginalError
from provenance.pages.pdf_counts import count_pages
from provenance.pages.pictures import look_at_picture
from provenance.pages.plain_files import open_plain
from provenance.pages.plain_text import read_text
from provenance.pages.signatures import (
    HEAD_BYTES,
    HTML,
    MARKDOWN,
    PAGED_TYPES,
    PDF,
    PICTURES,
    PLAIN_TEXT,
    TYPES_OF_NAMES,
    type_by_content,
    why_unread,
)
from provenance.pages.timed_texts import note_on_faults, read_timed_text
from provenance.records.recordings import TIMED_TYPES

_TAIL_BYTES = 2048


@dataclass(frozen=True, slots=True, kw_only=True)
class OriginalFacts:
    """What an original is.

    Attributes:
        media_type: by content, as in the IANA registry; Markdown by its name's ending.
        pages: how many; a text is one page, and so is a picture but for a TIFF of several; None where the kind is not
            opened by pages.
        note: what a person should know (such as a name that promises another kind); empty for nothing.
    """

    media_type: str
    pages: int | None
    note: str = ""

    @property
    def is_read(self) -> bool:
        """Whether its pages can be read."""
        return self.media_type in PAGED_TYPES


def identify(path: Path) -> OriginalFacts:
    """Tell what an original is, by its content.

    To be run in a worker: a file made to do harm can end the process that opens it.

    Raises:
        UnreadableOriginalError: missing, no plain file, empty, cut short, locked by a password, damaged, or neither
            what its name says nor anything known.
    """
    head = _read_head(path)
    media_type = type_by_content(head)
    claimed = TYPES_OF_NAMES.get(path.suffix.lower())
    if media_type is None:
        raise UnreadableOriginalError(_unknown(path, claimed), "open it with the program that made it, and compare")
    if media_type in {PLAIN_TEXT, HTML} and claimed not in {None, PLAIN_TEXT, MARKDOWN, *TIMED_TYPES}:
        raise UnreadableOriginalError(
            f"{path.name} is named like {claimed} and holds text: perhaps a failed download or a stand-in for the file",
            "get the file itself; if it is a text, name it .txt",
        )
    if media_type == PLAIN_TEXT and claimed == MARKDOWN:
        media_type = MARKDOWN
    note = f"named like {claimed}, and is {media_type}" if claimed not in {None, media_type} else ""
    return _facts(path, media_type, note)


def _facts(path: Path, media_type: str, note: str) -> OriginalFacts:
    """Count the pages; look closer at the kinds that can be opened."""
    if media_type == PDF:
        count = count_pages(path)
        notes = _join(note, count.note, _note_on_end(path, count.pages))
        return OriginalFacts(media_type=media_type, pages=count.pages, note=notes)
    if media_type in PICTURES:
        facts = look_at_picture(path, media_type)
        return OriginalFacts(media_type=media_type, pages=facts.pages, note=_join(note, facts.note))
    if media_type in TIMED_TYPES:
        timed, decoded = read_timed_text(path, media_type)
        return OriginalFacts(media_type=media_type, pages=1, note=_join(note, decoded.note, note_on_faults(timed)))
    if media_type in PAGED_TYPES:
        return OriginalFacts(media_type=media_type, pages=1, note=_join(note, read_text(path).note))
    return OriginalFacts(media_type=media_type, pages=None, note=_join(note, why_unread(media_type)))


def _read_head(path: Path) -> bytes:
    """Read the first bytes of a plain file that has any."""
    with open_plain(path) as file:
        head = file.read(HEAD_BYTES)
    if not head:
        raise UnreadableOriginalError(f"{path.name} is empty (0 bytes)", "get the file again from where it came")
    return head


def _note_on_end(path: Path, pages: int) -> str:
    """Say so when a PDF lacks the marker that ends every whole one (ISO 32000-1, 7.5.5)."""
    with path.open("rb") as file:
        file.seek(max(0, path.stat().st_size - _TAIL_BYTES))
        is_whole = b"%%EOF" in file.read()
    return "" if is_whole else f"without its end marker: it may be cut short; pages found: {pages}"


def _unknown(path: Path, claimed: str | None) -> str:
    if claimed is None:
        return f"{path.name} is of no kind that is known here"
    return f"{path.name} is named like {claimed} and is neither that nor anything known: mislabelled or damaged"


def _join(*notes: str) -> str:
    return "; ".join(note for note in notes if note)
