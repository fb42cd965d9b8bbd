"""Tag a source: say what it is, who made it and when, what it speaks of; store a person's reading of a page."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from provenance.errors import UsageRefusedError
from provenance.records.sources import Source
from provenance.records.timed_text_parsing import SIGNATURE
from provenance.records.wording import quote
from provenance.reports.tried import Tried
from provenance.reports.written import Written
from provenance.rules.verdicts import Verdict
from provenance.store.document import Document
from provenance.store.editing import AddKey, Append, Change, SetScalar
from provenance.store.record_kinds import RecordKind
from provenance.store.record_reading import read_record
from provenance.store.transcripts import page_file, read_transcript
from provenance.tasks.changing import NewText, RecordEdit, Step, change
from provenance.tasks.given_values import DERIVES_FROM, RIGHTS, SHOWS, given_date, given_pairs, require_record
from provenance.tasks.opening import Opened, Where
from provenance.tasks.timed_transcripts import timed_transcript, without_author
from provenance.tasks.trying import try_out

ANSWER = "tag"
LARGEST_TRANSCRIPT = 1_000_000
_DATES = ("created", "access_until")


@dataclass(frozen=True, slots=True, kw_only=True)
class Tags:
    """What somebody says of a source.

    Attributes:
        words: fields that have one value, as in the schema of sources, dates as people say them; None for not said.
        lists: what is added to the lists of the record: language, hazards, topics.
        shows: each machine that it shows, as given: `example=9,when=June 1934`.
        derives_from: each source that it was made from, as given: `source=ID,how=print`.
        rights: whose rights it is under, as given: `statement=InC,publish=ask`; None for not said.
        transcript: a file with a person's reading of one page, or, in WebVTT, of what is said on a recording; None
            for none.
        page: which page that is, counted from 1; None for the only one, and for a recording.
    """

    words: Mapping[str, str | None] = field(default_factory=dict)
    lists: Mapping[str, Sequence[str]] = field(default_factory=dict)
    shows: Sequence[str] = ()
    derives_from: Sequence[str] = ()
    rights: str | None = None
    transcript: Path | None = None
    page: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Author:
    """Who made a transcript, an id of `people`, and on which day."""

    by: str
    date: str


def tag_source(where: Where, source: str, tags: Tags, author: Author | None) -> Written:
    """Write down what somebody says of a source; whoever registered it, and when, stays.

    Args:
        where: the archive's folder, or the archive as it was opened before.
        source: its id.
        tags: what is said of it.
        author: who made the transcript; needed only where there is one.

    Raises:
        UnknownRecordError: no such source.
        UsageRefusedError: a value that its field cannot have, or a transcript that cannot be stored.
        WriteRefusedError: the record cannot be changed without touching the rest.
    """
    made: list[tuple[Opened, tuple[str, ...]]] = []

    def plan(opened: Opened) -> Sequence[Step]:
        steps, said = plan_tags(opened, source, tags, author)
        made.append((opened, said))
        return steps

    written = change(where, plan)
    opened, said = made[-1]
    return Written(standing=opened.standing, answer=ANSWER, record=source, written=written, said=said)


def try_tags(
    opened: Opened,
    source: str,
    tags: Tags,
    author: Author | None,
    *,
    verdicts: Mapping[str, Verdict] | None = None,
) -> Tried:
    """Tell which verdicts the tags would change; nothing is written.

    Args:
        opened: the archive.
        source: the id of the source.
        tags: what would be said of it.
        author: who made the transcript; needed only where there is one.
        verdicts: on every feature of the archive as it is, where they are known; None to judge what is reached.

    Raises:
        UnknownRecordError: no such source.
        UsageRefusedError: as when it is tagged.
        WriteRefusedError: the source was written by somebody else since the archive was opened.
    """
    steps, said = plan_tags(opened, source, tags, author)
    return try_out(opened, steps, answer=ANSWER, record=source, said=said, verdicts=verdicts)


def plan_tags(
    opened: Opened, source_id: str, tags: Tags, author: Author | None
) -> tuple[tuple[Step, ...], tuple[str, ...]]:
    """Plan what `tag_source` writes: the steps, and sentences for the writer.

    Raises:
        UnknownRecordError: no such source, or no such component.
        UsageRefusedError: a value that its field cannot have, or a transcript that cannot be stored.
    """
    source = require_record(opened.archive.sources, source_id, "source", "sources")
    for component in tags.lists.get("topics", ()):
        require_record(opened.archive.components, component, "component", "components")
    there = _content(opened.folder, source_id)
    said: list[str] = []
    changes = tuple(_changes(there, tags, said))
    steps: list[Step] = [RecordEdit(kind=RecordKind.SOURCE, id=source_id, changes=changes)] if changes else []
    if tags.transcript is not None and author is not None:
        steps += _transcript(opened.folder, source, tags.transcript, tags.page, author)
    elif tags.page is not None:
        raise UsageRefusedError("--page is only for a transcript", "give its file with --transcript")
    if not steps:
        said.append(f"{source_id} says all of that already.")
    return tuple(steps), tuple(said)


def _content(folder: Path, source_id: str) -> dict[str, Any]:
    file = RecordKind.SOURCE.file_of(source_id)
    document = read_record((folder / file).read_bytes(), file)
    return document.content if isinstance(document, Document) else {}


def _changes(there: Mapping[str, Any], tags: Tags, said: list[str]) -> Iterator[Change]:
    for key, value in tags.words.items():
        if value is not None:
            option = f"--{key.replace('_', '-')}"
            yield from _one(there, (), key, given_date(value, option) if key in _DATES else value, said)
    for key, values in tags.lists.items():
        yield from _more(there, key, values)
    yield from _more(there, "shows", [given_pairs(each, "--shows", SHOWS) for each in tags.shows])
    parents = [given_pairs(each, "--derives-from", DERIVES_FROM) for each in tags.derives_from]
    yield from _more(there, "derives_from", parents)
    if tags.rights is not None:
        rights = given_pairs(tags.rights, "--rights", RIGHTS)
        if "rights" not in there:
            yield AddKey((), "rights", rights)
        else:
            for key, right in rights.items():
                yield from _one(there["rights"], ("rights",), key, right, said)
    yield from _one(there, (), "state", "tagged", [])


def _one(there: Mapping[str, Any], path: tuple[str, ...], key: str, value: object, said: list[str]) -> Iterator[Change]:
    """One value set or replaced; nothing where it stands there already."""
    if key not in there:
        yield AddKey(path, key, value)
    elif there[key] != value:
        said.append(f"{'.'.join((*path, key))} was {quote(str(there[key]))}, and is {quote(str(value))} now.")
        yield SetScalar((*path, key), value)


def _more(there: Mapping[str, Any], key: str, values: Sequence[object]) -> Iterator[Change]:
    """Items added to a list, each once, and none that it has."""
    listed = list(there.get(key, ()))
    new: list[object] = []
    for value in values:
        if value not in listed and value not in new:
            new.append(value)
    if listed:
        yield from (Append((key,), value) for value in new)
    elif new:
        yield AddKey((), key, new)


def _transcript(folder: Path, source: Source, file: Path, page: int | None, author: Author) -> list[Step]:
    """The step that stores a transcript; none where just that text is stored already."""
    timed = timed_transcript(source, file, page, by=author.by, date=author.date)
    if timed is not None:
        return _new_text(folder, *timed)
    if page is None and source.pages != 1:
        raise UsageRefusedError("it is not said which page the transcript is of", "say it with --page, from 1")
    number = page or 1
    if source.pages is not None and number > source.pages:
        raise UsageRefusedError(
            f"page {number} is beyond the end of {source.id}, which has {source.pages}", "count the pages from 1"
        )
    text = _text_of(file)
    return _new_text(folder, page_file(source.id, number), f"by: {author.by}\ndate: {author.date}\n\n{text}")


def _new_text(folder: Path, stored: str, text: str) -> list[Step]:
    """The step that stores it; whoever wrote the same text down before, and when, stays."""
    if (folder / stored).exists():
        there = (folder / stored).read_text(encoding="utf-8-sig", errors="replace")
        if _without_author(there) == _without_author(text):
            return []
        raise UsageRefusedError(f"there is a transcript {stored} already", "correct it there, by hand")
    return [NewText(file=stored, text=text)]


def _without_author(text: str) -> str:
    return without_author(text) if text.startswith(SIGNATURE) else read_transcript(text).text


def _text_of(file: Path) -> str:
    try:
        written = file.read_bytes()
        text = written.decode("utf-8-sig")
    except OSError as error:
        raise UsageRefusedError(f"{file} cannot be read: {error.strerror}", "name the file with the text") from error
    except UnicodeDecodeError as error:
        raise UsageRefusedError(f"{file} is no text in UTF-8", "save it as plain text in UTF-8") from error
    body = read_transcript(text).text
    if not body.strip() or "\0" in body or len(written) > LARGEST_TRANSCRIPT:
        raise UsageRefusedError(f"{file} is no text of one page", "give a file with the words of that page alone")
    return body if body.endswith("\n") else body + "\n"
