"""The command that says what to look for in a picture: signs."""

import click

from provenance.cli.completing import features
from provenance.cli.keeping import json_option
from provenance.cli.shell import Answering, Setting, page_width, show_json


@click.command(cls=Answering)
@click.argument("feature", metavar="COMPONENT/FEATURE", shell_complete=features)
@json_option
@click.pass_context
def signs(ctx: click.Context, feature: str, *, as_json: bool) -> None:
    """List what to look for in a picture, to tell the options of a choice apart.

    The most telling sign comes first, with what it would mean, who says so, where it was looked for already, and the
    photographs and films in which nobody has looked yet.

    Example:
      provenance signs headlamp/kind
    """
    from provenance.reports.signs import signs_json, signs_text
    from provenance.tasks.opening import open_folder
    from provenance.tasks.signs import signs_for

    setting: Setting = ctx.obj
    answer = signs_for(open_folder(setting.start), feature)
    if as_json:
        show_json(signs_json(answer))
    else:
        click.echo(signs_text(answer, page_width()))
