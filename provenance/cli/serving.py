"""The command that gives the pages to browsers: serve."""

import click

from provenance.cli.shell import Answering, Setting

DEFAULT_PORT = 8000


@click.command(cls=Answering)
@click.option(
    "--host",
    default="127.0.0.1",
    show_default=True,
    help="The name or number by which this machine is reached; others than itself then have to show a token.",
)
@click.option(
    "--port", type=click.IntRange(0, 65535), default=DEFAULT_PORT, show_default=True, help="0 for any that is free."
)
@click.pass_context
def serve(ctx: click.Context, host: str, port: int) -> None:
    """Show the archive in a browser, until Ctrl-C is pressed.

    The address is printed when it can be opened. Nothing is written by looking. The pages are the team's: they show
    what is held in confidence.

    Example:
      provenance serve
    """
    from provenance.web.serving import listen

    setting: Setting = ctx.obj
    serving = listen(setting.start, host=host, port=port)
    click.echo(serving.address)
    click.echo("open this address in a browser; Ctrl-C ends it", err=True)
    serving.run()
    click.echo("\nended", err=True)
