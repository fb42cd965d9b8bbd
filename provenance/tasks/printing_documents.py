"""Turn a finished document into the bytes of a file, in the format that is wanted."""

from collections.abc import Callable
from contextlib import closing

from provenance.errors import DerivedDataError, WriteRefusedError
from provenance.reports.document import Document
from provenance.reports.document_docx import document_docx
from provenance.reports.document_html import document_html
from provenance.reports.document_markdown import document_markdown
from provenance.reports.layout import listed
from provenance.reports.pdf_joining import joined
from provenance.reports.pdf_parts import MOST, Part, pdf_parts, set_part
from provenance.reports.typefaces import Faces, MissingCharacterError, named, require_characters
from provenance.store.record_files import list_record_files
from provenance.tasks.opening import Opened
from provenance.workers.outcomes import Outcome
from provenance.workers.running import run_in_workers

FONTS = "fonts"
"""The folder of an archive in which people put typefaces of their own."""

PART_SECONDS = 120.0
PART_BYTES = 1_500_000_000

_AT_ONCE = 2  # more would be quicker, and take more memory than half a gigabyte
_ENDINGS = frozenset({".ttf", ".otf", ".ttc", ".otc"})
_MOST_NAMED = 5
_SOUND_COPY = "put a sound copy of it in its place, or take it out of the folder"


def _not_told(_what: str, _done: int, _all: int) -> None:
    """Nobody is told how far it is."""


def printed(
    opened: Opened,
    document: Document,
    wanted: str,
    *,
    on_progress: Callable[[str, int, int], None] = _not_told,
    most: float = MOST,
) -> bytes:
    """The bytes of a document.

    Args:
        opened: the archive that it comes from.
        document: what is printed.
        wanted: `html`, `pdf`, `docx` or `md`; texts are in UTF-8.
        on_progress: told what is being done, how much of it is done, and of how much; of a long PDF alone.
        most: how much of a PDF is set at a time, as of `MOST`; what is longer is set in processes of their own.

    Raises:
        WriteRefusedError: no typeface has a character of a PDF, or a file among the archive's own typefaces is damaged.
        DerivedDataError: a page could not be set, for want of time or memory.
    """
    if wanted == "pdf":
        return _pdf(opened, document, on_progress, most)
    if wanted == "docx":
        return document_docx(document, _own_typefaces(opened, document))
    return (document_html if wanted == "html" else document_markdown)(document).encode()


def _pdf(opened: Opened, document: Document, on_progress: Callable[[str, int, int], None], most: float) -> bytes:
    typefaces = _own_typefaces(opened, document)
    try:
        require_characters(document, typefaces)
    except MissingCharacterError as missing:
        raise _cannot_print(opened, missing) from missing
    parts = pdf_parts(document, typefaces, most=most)
    if len(parts) == 1:
        return set_part(parts[0])
    return joined(parts, _set_apart(parts, on_progress))


def _set_apart(parts: tuple[Part, ...], on_progress: Callable[[str, int, int], None]) -> list[bytes]:
    """Set each part in a process of its own kind, which takes its memory with it when it ends."""
    made: dict[int, bytes] = {}
    outcomes = run_in_workers(
        set_part, parts, workers=_AT_ONCE, seconds_each=PART_SECONDS, memory_bytes=PART_BYTES, output_bytes=None
    )
    with closing(outcomes):
        for outcome in outcomes:
            made[outcome.job.number] = _value(outcome)
            on_progress("setting pages", len(made), len(parts))
    return [made[part.number] for part in parts]


def _value(outcome: Outcome[Part, bytes]) -> bytes:
    if outcome.value is not None:
        return outcome.value
    if outcome.fault is not None and outcome.fault.error is not None:
        raise outcome.fault.error
    what = outcome.fault.what if outcome.fault else "nothing came of it"
    raise DerivedDataError(
        f"part {outcome.job.number} of the PDF could not be set: {what}",
        "end other programs and run the command again, or write it as `.html`, `.csv` or `.xlsx`",
    )


def _own_typefaces(opened: Opened, document: Document) -> tuple[str, ...]:
    """The archive's own folder of typefaces, where there is one.

    Raises:
        WriteRefusedError: one of its files is no typeface that can be read.
    """
    folder = opened.folder / FONTS
    if not folder.is_dir():
        return ()
    faces = Faces((str(folder),))
    for path in sorted(folder.rglob("*")):
        if path.suffix.lower() in _ENDINGS and path.is_file() and str(path) not in faces.paths:
            raise WriteRefusedError(
                f"{path.relative_to(opened.folder).as_posix()} cannot be read as a typeface",
                _SOUND_COPY,
            )
    if broken := faces.broken(document):
        named_in_full = listed([f"“{family}”" for family in broken])
        raise WriteRefusedError(f"in the folder `{FONTS}` the typeface {named_in_full} is damaged", _SOUND_COPY)
    return (str(folder),)


def _cannot_print(opened: Opened, missing: MissingCharacterError) -> WriteRefusedError:
    holding = _records_with(opened, missing.character)
    others = f"; nor {listed([named(each) for each in missing.others])}" if missing.others else ""
    where = f"; it stands in {listed(holding)}" if holding else ""
    return WriteRefusedError(
        f"no typeface has {named(missing.character)}, in “{missing.around.strip()}”{where}{others}",
        f"put a font that has it (a .ttf or .otf file) into the archive's folder `{FONTS}`, or write it otherwise",
    )


def _records_with(opened: Opened, character: str) -> list[str]:
    """The files of the archive whose text holds a character, five at most."""
    files = ["archive.yaml", *(each.file for each in list_record_files(opened.folder).files)]
    found = [file for file in files if character in (opened.folder / file).read_text("utf-8", "replace")]
    more = [f"{len(found) - _MOST_NAMED} more"] if len(found) > _MOST_NAMED else []
    return [*found[:_MOST_NAMED], *more]
