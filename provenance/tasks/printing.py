"""Print the sources appendix of a panel, and keep in the panel's record what it said."""

from collections.abc import Sequence
from pathlib import Path

from provenance.errors import UnknownRecordError, WriteRefusedError
from provenance.exchange.csl_json import csl_items
from provenance.records.archive import Archive
from provenance.records.dates import parse_edtf
from provenance.records.decisions import Panel
from provenance.reports.appendix import compose_appendix
from provenance.reports.appendix_document import appendix_document
from provenance.reports.citations import Citing
from provenance.reports.date_words import date_words
from provenance.reports.printed import Printing
from provenance.rules.judging import judge_all
from provenance.rules.panel_flags import panel_digest
from provenance.rules.public_values import PublicArchive
from provenance.rules.verdicts import Verdict
from provenance.store.editing import Append
from provenance.store.record_kinds import RecordKind
from provenance.tasks.changing import RecordEdit, Step, change
from provenance.tasks.citing_styles import style_sheet
from provenance.tasks.going_public import day_of, require_cleared, still_to_clear, through_the_door
from provenance.tasks.nearest import nearest_mend
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.output_files import format_of, output_ready, require_place
from provenance.tasks.printing_documents import printed

FORMATS = ("html", "pdf", "docx", "md")
SAY_OTHERWISE = "word it anew, or change who may see the source"


def print_appendix(
    folder: Path, panel_id: str, output: Path, *, day: str, draft: bool, style: str | None = None
) -> Printing:
    """Write the appendix of a panel to a file; the panel's record keeps the digest of what it said, but for a draft.

    The record is written when the file is on the disk whole, and before it has its name: none is found that the record
    does not know of.

    Args:
        folder: the archive's folder, or one inside it.
        panel_id: the panel.
        output: a file that ends in `.html`, `.pdf`, `.docx` or `.md`; an earlier one of that name is replaced.
        day: the day that it carries, on which closures and permissions are looked at.
        draft: whether it is marked as a draft; then it may show what is not cleared.
        style: how sources are cited: a name, or a file that ends in `.csl`; None for ours, by number.

    Raises:
        UnknownRecordError: there is no such panel.
        UsageRefusedError: no such format, no single day, a place where nothing may be written, or a style that cannot
            be used.
        WriteRefusedError: the archive is not whole, something is not cleared, or the disk refuses; nothing is changed.
    """
    wanted = format_of(output, FORMATS)
    when = day_of(day)
    sheet = style_sheet(style)
    opened = open_folder(folder)
    require_place(output, opened.folder)
    panel = panel_named(opened.archive, panel_id)
    view = through_the_door(opened, when, draft=draft)
    if not draft:
        _require_sayable(panel, view.archive.panels[panel_id])
    citing = Citing(style=sheet, items=csl_items(view, date_words))
    appendix = compose_appendix(view, panel_id, citing, printed=parse_edtf(day), draft=draft)
    require_cleared(appendix.not_cleared, draft=draft)
    entry = {"date": day, "digest": panel_digest(view, panel_id)}

    def plan(now: Opened) -> Sequence[Step]:
        return () if draft else _keeping(now, panel_id, entry)

    with output_ready(output, printed(opened, appendix_document(appendix), wanted)):
        written = change(opened.folder, plan)
    return Printing(
        standing=opened.standing,
        panel=panel_id,
        output=str(output),
        draft=draft,
        style=sheet.name,
        sources=len(appendix.sources),
        written=written,
        said=(
            *still_to_clear(appendix.not_cleared),
            *overtaken(panel, entry["digest"]),
            *said_to_curator(opened.archive, view, panel),
        ),
    )


def panel_named(archive: Archive, panel_id: str) -> Panel:
    """The panel of that id.

    Raises:
        UnknownRecordError: there is none; the nearest are named.
    """
    if panel_id not in archive.panels:
        mend = nearest_mend(panel_id, archive.panels, "the panels are the files in the folder panels")
        raise UnknownRecordError(f"there is no panel `{panel_id}`", mend)
    return archive.panels[panel_id]


def _keeping(opened: Opened, panel_id: str, entry: dict[str, str]) -> Sequence[Step]:
    """The same printing is kept once."""
    printed = panel_named(opened.archive, panel_id).printed
    if printed and (printed[-1].date.text, printed[-1].digest) == (entry["date"], entry["digest"]):
        return ()
    return [RecordEdit(kind=RecordKind.PANEL, id=panel_id, changes=(Append(("printed",), entry),))]


def _require_sayable(panel: Panel, public: Panel) -> None:
    """Refuse a panel whose own words name what is withheld."""
    for what in unsayable(panel, public):
        raise WriteRefusedError(what, SAY_OTHERWISE)


def unsayable(panel: Panel, public: Panel) -> tuple[str, ...]:
    """Where a panel's own words name what is withheld, a clause each.

    Args:
        panel: as the team wrote it.
        public: as the public may read it.
    """
    own, shown = ([each.title, *(statement.text for statement in each.statements)] for each in (panel, public))
    return tuple(
        f"{f'statement {number}' if number else 'the title'} of the panel names what is withheld from the public: it "
        f"would read “{sayable}”"
        for number, (said, sayable) in enumerate(zip(own, shown, strict=True))
        if said != sayable
    )


def overtaken(panel: Panel, digest: str) -> tuple[str, ...]:
    """A sentence where a panel does not say any more what it said when it was printed last.

    Args:
        panel: the panel.
        digest: of what it says now.
    """
    # Printing anew ends the flag for a panel that was overtaken; so it is said once more what has to be done.
    last = panel.printed[-1] if panel.printed else None
    if last is None or last.digest == digest:
        return ()
    when = date_words(last.date)
    changed = f"Since it was printed on {when}, a statement, or a grade or value behind one, has changed"
    return (f"{changed}: read its statements again before it is hung.",)


def said_to_curator(archive: Archive, view: PublicArchive, panel: Panel) -> tuple[str, ...]:
    """What the curator should know: statements that rest on nothing, and what is judged otherwise in public."""
    bare = [
        f"Statement {number} names no feature, so no evidence is cited for it."
        for number, statement in enumerate(panel.statements, 1)
        if not statement.features
    ]
    features = {feature for statement in panel.statements for feature in statement.features} & view.in_confidence
    whole = judge_all(archive, only=features)
    differing = [
        f"{each} is {_standing(view.verdicts[each])} in public, and {_standing(whole[each])} with what is withheld: "
        f"{', '.join(_withheld_behind(whole[each], archive, view))}."
        for each in sorted(features)
    ]
    return (*bare, *differing)


def _standing(verdict: Verdict) -> str:
    return f"{verdict.grade} (“{verdict.shown}”)" if verdict.shown is not None else str(verdict.grade)


def _withheld_behind(verdict: Verdict, archive: Archive, view: PublicArchive) -> list[str]:
    items = (item for candidate in verdict.candidates for item in candidate.items)
    return sorted(
        {each for item in items for each in item.descent & archive.sources.keys() - view.archive.sources.keys()}
    )
