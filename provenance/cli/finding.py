"""The commands for what nobody has looked at yet: finds, split."""

import click

from provenance.cli.completing import ids
from provenance.cli.keeping import by_option, json_option
from provenance.cli.shell import Answering, Setting, page_width, show_json, today
from provenance.cli.who import resolve_by


@click.command(cls=Answering)
@json_option
@click.pass_context
def finds(ctx: click.Context, *, as_json: bool) -> None:
    """Show what nobody has looked at yet, and which components, dates and examples it names.

    Example:
      provenance finds
    """
    from provenance.reports.looked_over import finds_json, finds_text
    from provenance.tasks.finds import look_over_finds
    from provenance.tasks.opening import open_folder

    setting: Setting = ctx.obj
    answer = look_over_finds(open_folder(setting.start))
    if as_json:
        show_json(finds_json(answer))
    else:
        click.echo(finds_text(answer, page_width()))


@click.command(cls=Answering)
@click.argument("source", metavar="SOURCE", shell_complete=ids("sources"))
@click.option("--pages", required=True, metavar="3..7", help="The pages of SOURCE that it stands on.")
@click.option("--id", "record_id", required=True, metavar="ID", help="The id of the new source.")
@click.option("--title", help="Its title (default: that of SOURCE with the pages).")
@by_option
@click.option("--date", "day", help="The date that the record carries (default: today).")
@json_option
@click.pass_context
def split(
    ctx: click.Context,
    /,
    source: str,
    *,
    pages: str,
    record_id: str,
    title: str | None,
    by: str | None,
    day: str | None,
    as_json: bool,
) -> None:
    """Make some pages of SOURCE a source of their own: a letter in a bundle, a photograph in an album.

    Their pages keep the numbers that they have in SOURCE.

    Example:
      provenance split record-office-bundle --pages 3..7 --id letter-1933-02-14
    """
    from provenance.reports.written import written_json, written_text
    from provenance.tasks.splitting import split_off

    setting: Setting = ctx.obj
    who = resolve_by(by, setting.start)
    done = split_off(setting.start, source, pages, record_id, title=title, by=who, today=day or today())
    if as_json:
        show_json(written_json(done))
    else:
        click.echo(written_text(done, page_width()))
