"""The commands that change one's mind: withdraw, rename."""

from typing import Any

import click

from provenance.cli.completing import records
from provenance.cli.keeping import by_option, json_option
from provenance.cli.recording import day_option, given_day
from provenance.cli.shell import Answering, Setting, page_width, show_json
from provenance.cli.who import resolve_by


@click.command(cls=Answering)
@click.argument("record", metavar="ID", shell_complete=records("sources", "claims", "decisions"))
@click.option("--why", required=True, help="The reason; it stays with the record.")
@click.option("--source", metavar="ID", shell_complete=records("sources"), help="Of a claim: only what rests on this.")
@by_option
@day_option
@json_option
@click.pass_context
def withdraw(
    ctx: click.Context, record: str, *, why: str, source: str | None, by: str | None, day: str | None, as_json: bool
) -> None:
    """Take a source, a claim, one item of its evidence or a decision out of judgement; it stays in the archive.

    ID is the record's id, with its folder where two are called so (sources/scan-1); CLAIM#2 is the second item of
    evidence of a claim.

    Example:
      provenance withdraw headlamp-kind-electric#2 --why "the lamp in the picture is a hand lamp"
    """
    from provenance.tasks.withdrawing import withdraw as run

    setting: Setting = ctx.obj
    who = resolve_by(by, setting.start)
    written = run(setting.start, record, why=why, by=who, today=given_day(day), source=source)
    _show(written, as_json=as_json)


@click.command(cls=Answering)
@click.argument(
    "record",
    shell_complete=records("components", "sources", "claims", "decisions", "queries", "panels", "leads"),
)
@click.argument("new_id", metavar="NEW")
@json_option
@click.pass_context
def rename(ctx: click.Context, record: str, new_id: str, *, as_json: bool) -> None:
    """Give a record another id, and change every record that names it.

    RECORD is the record's id, with its folder where two are called so (sources/scan-1). Originals stay where they are;
    transcripts move with their source. Stopped half-way, the same command does the rest.

    Example:
      provenance rename sources/scan0042-053f1e3a letter-1933-03-02
    """
    from provenance.tasks.renaming import rename as run

    setting: Setting = ctx.obj
    _show(run(setting.start, record, new_id), as_json=as_json)


def _show(written: Any, *, as_json: bool) -> None:
    from provenance.reports.written import written_json, written_text

    if as_json:
        show_json(written_json(written))
    else:
        click.echo(written_text(written, page_width()))
