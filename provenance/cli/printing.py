"""The command that prints for visitors: appendix."""

from pathlib import Path

import click

from provenance.cli.completing import ids, style_names, words
from provenance.cli.shell import Answering, Setting, page_width, show_json, today


@click.command(cls=Answering)
@click.argument("panel", shell_complete=ids("panels"))
@click.option(
    "--output",
    required=True,
    metavar="FILE",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Where to write it: a name that ends in .html (one page, to be printed on A4), .pdf, .docx or .md.",
)
@click.option(
    "--style",
    metavar="NAME|FILE.csl",
    shell_complete=words(style_names),
    help="How sources are cited: iso-690-numeric (by number, the default), iso-690-author-date (by name and date), or "
    "a file of the Citation Style Language.",
)
@click.option("--draft", is_flag=True, help="Mark it as a draft; it may then show what is not cleared for print.")
@click.option("--date", "day", help="The day that it carries (default: today).")
@click.option("--json", "as_json", is_flag=True, help="Answer in JSON.")
@click.pass_context
def appendix(
    ctx: click.Context,
    panel: str,
    output: Path,
    style: str | None,
    day: str | None,
    *,
    draft: bool,
    as_json: bool,
) -> None:
    """Write the sources appendix of a panel, as the public may read it.

    Sources that are the team's or closed do not appear, and grades are judged without them. What is not cleared for
    print stops it, with the list of what to ask whom. The panel's record keeps the date and the digest of what it said.

    Example:
      provenance appendix lighting --output lighting.pdf
    """
    from provenance.reports.printed import printing_json, printing_text
    from provenance.tasks.printing import print_appendix

    setting: Setting = ctx.obj
    printed = print_appendix(setting.start, panel, output, day=day or today(), draft=draft, style=style)
    if as_json:
        show_json(printing_json(printed))
    else:
        click.echo(printing_text(printed, page_width()))
