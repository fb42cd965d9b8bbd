"""Correct the reading of a page: what a person reads there takes the place of what a machine read."""

import re
from collections.abc import Sequence

from provenance.errors import UnknownRecordError, UsageRefusedError
from provenance.records.archive import Archive
from provenance.reports.reading_corrected import PageToCorrect, lines_of_reading, lines_of_text
from provenance.reports.written import Written
from provenance.store.document import Document
from provenance.store.editing import AddKey, SetScalar
from provenance.store.record_kinds import RecordKind
from provenance.store.record_reading import read_record
from provenance.store.transcripts import page_file, page_transcript, read_transcript
from provenance.tasks.changing import NewText, RecordEdit, ReplacedText, Step, change
from provenance.tasks.given_values import require_record
from provenance.tasks.opening import Opened, Where
from provenance.tasks.page_readings import Readings, pages_of
from provenance.tasks.showing_sources import show_page
from provenance.tasks.tagging import LARGEST_TRANSCRIPT

ANSWER = "tag"
_BLANK = re.compile(r"\n{3,}")


def page_to_correct(opened: Opened, readings: Readings, source_id: str, number: int) -> PageToCorrect:
    """Lay a page out to be corrected.

    Args:
        opened: the archive.
        readings: of its pages.
        source_id: of the source.
        number: of the page, counted from 1.

    Raises:
        UnknownRecordError: there is no such source, or it has no such page.
    """
    shown = show_page(opened, readings, source_id, number)
    page = next(each for each in pages_of(shown.source, opened.archive) if each.page == number)
    machine = readings.reading_of(page)
    path = readings.transcript_of(page)
    if path is not None:
        text = read_transcript(path.read_text(encoding="utf-8-sig", errors="replace")).text
        lines = lines_of_text(text, machine.words if machine else ())
    else:
        lines = lines_of_reading(machine) if machine else ()
    return PageToCorrect(shown=shown, lines=lines, file=page_file(source_id, number))


def correct_reading(where: Where, source_id: str, number: int, text: str, *, by: str, today: str) -> Written:
    """Keep what a person reads on a page; of an earlier person's reading the history of the files tells.

    Args:
        where: the archive's folder, or the archive as it was opened before.
        source_id: of the source.
        number: of the page, counted from 1.
        text: what stands on the page, line by line; a blank line between two paragraphs.
        by: who read it, an id of `people`.
        today: the date that it carries.

    Raises:
        UnknownRecordError: there is no such source, or it has no such page.
        UsageRefusedError: the text says nothing, or is more than a page holds.
        WriteRefusedError: the record or the transcript cannot be written.
    """
    body = _body(text)
    made: list[Opened] = []

    def plan(opened: Opened) -> Sequence[Step]:
        made.append(opened)
        _require_page(opened.archive, source_id, number)
        kept = _kept(opened, source_id, number, body, f"by: {by}\ndate: {today}\n\n{body}")
        return [*_tagged(opened, source_id), *kept] if kept else []

    written = change(where, plan)
    said = () if written else ("It says just that already.",)
    return Written(standing=made[-1].standing, answer=ANSWER, record=source_id, written=written, said=said)


def _body(text: str) -> str:
    lines = (line.rstrip() for line in text.replace("\r\n", "\n").replace("\r", "\n").split("\n"))
    body = _BLANK.sub("\n\n", "\n".join(lines)).strip("\n")
    if not body.strip() or "\0" in body:
        raise UsageRefusedError("there is no text", "write what stands on the page")
    if len(body.encode()) > LARGEST_TRANSCRIPT:
        raise UsageRefusedError("that is more than one page holds", "give the words of this page alone")
    return f"{body}\n"


def _require_page(archive: Archive, source_id: str, number: int) -> None:
    source = require_record(archive.sources, source_id, "source", "sources")
    if all(page.page != number for page in pages_of(source, archive)):
        raise UnknownRecordError(f"“{source.title}” has no page {number}", "count the pages from 1")


def _kept(opened: Opened, source_id: str, number: int, body: str, written: str) -> list[Step]:
    file = page_file(source_id, number)
    there = page_transcript(opened.folder, source_id, number)
    if there is None:
        return [NewText(file=file, text=written)]
    if read_transcript(there.read_text(encoding="utf-8-sig", errors="replace")).text == body:
        return []
    return [ReplacedText(file=file, text=written)]


def _tagged(opened: Opened, source_id: str) -> list[Step]:
    """Whoever read a page has looked at the source, as with the command that stores a transcript."""
    file = RecordKind.SOURCE.file_of(source_id)
    document = read_record((opened.folder / file).read_bytes(), file)
    said = document.content.get("state") if isinstance(document, Document) else None
    if said == "tagged":
        return []
    step = SetScalar(("state",), "tagged") if said else AddKey((), "state", "tagged")
    return [RecordEdit(kind=RecordKind.SOURCE, id=source_id, changes=(step,))]
