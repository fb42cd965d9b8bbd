"""The command that prints whole lists: register."""

from pathlib import Path

import click

from provenance.cli.progress import ProgressLines
from provenance.cli.shell import Answering, Setting, page_width, show_json, today


@click.command(cls=Answering)
@click.argument("which", type=click.Choice(["sources", "features"]))
@click.option(
    "--output",
    required=True,
    metavar="FILE",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Where to write it: a name that ends in .html, .pdf (A4, lying), .csv or .xlsx.",
)
@click.option("--draft", is_flag=True, help="Mark it as a draft; it may then be of an archive that is not whole.")
@click.option("--date", "day", help="The day that it carries (default: today).")
@click.option("--json", "as_json", is_flag=True, help="Answer in JSON.")
@click.pass_context
def register(ctx: click.Context, which: str, output: Path, day: str | None, *, draft: bool, as_json: bool) -> None:
    """Write the list of all sources with their provenance, or of all features with their grades.

    It is for the public: of the team's sources it tells only how many there are, of closed ones nothing, and grades are
    judged without them. Nothing of a source is quoted or shown, so what is not cleared for print does not stop it; each
    row says whether it is.

    Example:
      provenance register sources --output sources.xlsx
    """
    from provenance.reports.registered import registered_json, registered_text
    from provenance.tasks.printing_registers import print_register

    setting: Setting = ctx.obj
    with ProgressLines() as progress:
        answer = print_register(setting.start, which, output, day=day or today(), draft=draft, on_progress=progress)
    if as_json:
        show_json(registered_json(answer))
    else:
        click.echo(registered_text(answer, page_width()))
