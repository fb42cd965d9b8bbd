"""The commands that ask: search, evidence, flags."""

import datetime as dt
from dataclasses import replace
from pathlib import Path
from typing import Any

import click

from provenance.cli.completing import features, flag_names, holders, ids, source_kinds, words
from provenance.cli.keeping import json_option
from provenance.cli.progress import ProgressLines
from provenance.cli.shell import PIPE_WIDTH, Answering, Setting, json_text, page_width, show_json, today
from provenance.reports.layout import plain

_DOSSIERS = ("html", "pdf", "docx")


@click.command(cls=Answering)
@click.argument("query")
@click.option(
    "--component",
    "components",
    multiple=True,
    metavar="ID",
    shell_complete=ids("components"),
    help="Only what speaks of this component.",
)
@click.option("--kind", shell_complete=words(source_kinds), help="Only sources of this kind, such as photograph.")
@click.option("--holder", shell_complete=holders, help="Only what this archive, museum or person holds.")
@click.option("--from", "since", metavar="DATE", help="Only what may be of this date or later (EDTF).")
@click.option("--until", metavar="DATE", help="Only what may be of this date or earlier (EDTF).")
@click.option("--state", type=click.Choice(["untagged", "tagged"]), help="Only finds, or only what was looked at.")
@click.option("--limit", type=click.IntRange(1, 1000), default=20, show_default=True, help="How many hits to show.")
@json_option
@click.pass_context
def search(ctx: click.Context, /, query: str, limit: int, *, as_json: bool, **narrowing: Any) -> None:
    """Find pages, sources and claims by what they say.

    Words are ranked, the best page first. "Quotation marks" ask for a phrase, +word insists, -word excludes, brack*
    begins a word, and title:, reference:, creator:, holder:, kind:, component: and claim: look in one place.

    Example:
      provenance search '"headlamp bracket" H-204' --kind manual
    """
    from provenance.reports.found import found_json, found_text
    from provenance.tasks.opening import open_folder
    from provenance.tasks.searching import Narrowing
    from provenance.tasks.searching import search as run

    setting: Setting = ctx.obj
    found = run(open_folder(setting.start), query, Narrowing(**narrowing), limit=limit)
    if as_json:
        show_json(found_json(found))
    else:
        click.echo(found_text(found, page_width()))


@click.command(cls=Answering)
@click.argument("place", metavar="COMPONENT[/FEATURE]", shell_complete=features)
@click.option(
    "--without",
    multiple=True,
    metavar="SOURCE",
    shell_complete=ids("sources"),
    help="Judge as if this source were withdrawn.",
)
@click.option(
    "--for",
    "audience",
    type=click.Choice(["team", "workshop", "contractor", "public"]),
    default="team",
    show_default=True,
    help="Whom it is for; a contractor and the public are shown nothing that is withheld or not cleared.",
)
@click.option(
    "--output",
    metavar="FILE",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Write it to a file whose name ends in .html, .pdf or .docx (the dossier, with pictures), .txt or .json.",
)
@click.option(
    "--draft", is_flag=True, help="For a contractor or the public: show what is not cleared, marked as a draft."
)
@click.option(
    "--date",
    "day",
    help="For a contractor or the public: the day for which access and permissions are looked at (default: today).",
)
@json_option
@click.pass_context
def evidence(
    ctx: click.Context,
    place: str,
    without: tuple[str, ...],
    audience: str,
    output: Path | None,
    *,
    day: str | None,
    draft: bool,
    as_json: bool,
) -> None:
    """Show what a fitting rests on, and how sure that is.

    A dossier, in HTML, PDF or DOCX, shows beside that the place in each source as a picture, the machines in order of
    production, every measure and what the sources go back to, what was decided and made, and what is in doubt.

    Example:
      provenance evidence headlamp --for workshop --output headlamp.pdf
    """
    from provenance.reports.evidence_json import evidence_json
    from provenance.tasks.evidence import evidence_for
    from provenance.tasks.opening import open_folder
    from provenance.tasks.output_files import format_of, require_place
    from provenance.tasks.public_evidence import public_answer

    setting: Setting = ctx.obj
    wanted = format_of(output, (*_DOSSIERS, "txt", "json")) if output else ""
    opened, view = open_folder(setting.start), None
    if output:
        require_place(output, opened.folder)
    if audience in {"contractor", "public"}:
        view, answer = public_answer(opened, place, audience=audience, day=day or today(), without=without, draft=draft)
    elif draft or day:
        raise click.UsageError("--draft and --date are for what a contractor or the public is shown")
    else:
        answer = replace(evidence_for(opened, place, without=without), audience=audience)
    said = _write(output, wanted, opened, answer, view, draft=draft) if output else ()
    if as_json:
        show_json(evidence_json(answer))
    elif output:
        for sentence in said:
            click.echo(plain(sentence))
    else:
        click.echo(_page(answer, page_width()))


def _write(output: Path, wanted: str, opened: Any, answer: Any, view: Any, *, draft: bool) -> tuple[str, ...]:
    """Write the file, and say so; and of which places a dossier has no picture."""
    from provenance.reports.evidence_json import evidence_json
    from provenance.tasks.output_files import write_output

    if wanted not in _DOSSIERS:
        write_output(output, f"{json_text(evidence_json(answer)) if wanted == 'json' else _page(answer, PIPE_WIDTH)}\n")
        return (f"written: {output}",)
    from provenance.tasks.dossiers import print_dossier

    with ProgressLines() as progress:
        dossier = print_dossier(opened, answer, wanted, view=view, draft=draft, on_progress=progress)
    write_output(output, dossier.data)
    return (f"written: {output}", *dossier.unpictured)


def _page(answer: Any, width: int) -> str:
    """The full answer; whoever makes the fitting gets the brief."""
    from provenance.reports.brief import brief_text
    from provenance.reports.evidence_text import evidence_text

    page = brief_text if answer.audience in {"workshop", "contractor"} else evidence_text
    return page(answer, width)


@click.command(cls=Answering)
@click.option("--rule", metavar="FLAG", shell_complete=words(flag_names), help="Only this flag, such as single-source.")
@click.option("--component", metavar="ID", shell_complete=ids("components"), help="Only flags about this component.")
@click.option("--strict", is_flag=True, help="Exit with 1 when anything is worse than a note.")
@json_option
@click.pass_context
def flags(ctx: click.Context, rule: str | None, component: str | None, *, strict: bool, as_json: bool) -> None:
    """Show what needs attention, the most urgent first.

    Example:
      provenance flags --rule single-source
    """
    from provenance.reports.flagged import flagged_json, flagged_text
    from provenance.tasks.flagging import raise_flags
    from provenance.tasks.opening import open_folder

    setting: Setting = ctx.obj
    day = dt.date.fromisoformat(today())
    flagged = raise_flags(open_folder(setting.start), today=day, rule=rule, component=component)
    if as_json:
        show_json(flagged_json(flagged))
    else:
        click.echo(flagged_text(flagged, page_width()))
    if strict and flagged.is_pressing:
        ctx.exit(1)
