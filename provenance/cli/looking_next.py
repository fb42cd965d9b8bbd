"""The command that says where to look next."""

import datetime as dt

import click

from provenance.cli.completing import ids
from provenance.cli.keeping import json_option
from provenance.cli.shell import Answering, Setting, page_width, show_json, today


@click.command("look-next", cls=Answering)
@click.option("--money", metavar="SUM", help="Choose what to follow within this sum, such as 250 or “250 GBP”.")
@click.option("--by", "grouped", type=click.Choice(["holder"]), help="Put together what one visit would serve.")
@click.option(
    "--component", metavar="ID", shell_complete=ids("components"), help="Only what tells of this component's features."
)
@json_option
@click.pass_context
def look_next(
    ctx: click.Context, money: str | None, grouped: str | None, component: str | None, *, as_json: bool
) -> None:
    """Show what would lift the weakest grades, and which leads to follow first.

    With --money every place is visited at most once, and a visit costs what the dearest lead followed on it costs.

    Example:
      provenance look-next --money 250
    """
    from provenance.reports.looked_next import looked_next_json
    from provenance.reports.looked_next_text import looked_next_text
    from provenance.tasks.looking_next import look_next as run
    from provenance.tasks.opening import open_folder

    setting: Setting = ctx.obj
    day = dt.date.fromisoformat(today())
    opened = open_folder(setting.start)
    looked = run(opened, today=day, money=money, group=grouped is not None, component=component)
    if as_json:
        show_json(looked_next_json(looked))
    else:
        click.echo(looked_next_text(looked, page_width()))
