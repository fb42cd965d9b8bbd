"""The command that shows what was made from what: descent."""

from pathlib import Path

import click
from click.shell_completion import CompletionItem

from provenance.cli.completing import features, ids
from provenance.cli.keeping import json_option
from provenance.cli.shell import PIPE_WIDTH, Answering, Setting, json_text, page_width, show_json
from provenance.reports.layout import plain


def _sources_and_features(ctx: click.Context, param: click.Parameter, typed: str) -> list[CompletionItem]:
    return [*ids("sources")(ctx, param, typed), *features(ctx, param, typed)]


@click.command(cls=Answering)
@click.argument("name", metavar="SOURCE|COMPONENT/FEATURE", shell_complete=_sources_and_features)
@click.option(
    "--output",
    metavar="FILE",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Write it to a file whose name ends in .svg (a drawing), .txt or .json.",
)
@json_option
@click.pass_context
def descent(ctx: click.Context, name: str, output: Path | None, *, as_json: bool) -> None:
    """Show what a source was made from and what was made from it, or what everything behind a feature goes back to.

    Of a source it names the features that rest on it alone; of a feature the source on which all its witnesses hang.

    Example:
      provenance descent photo-no9-carrowsea-1934 --output descent.svg
    """
    from provenance.reports.descended import descended_json
    from provenance.reports.descended_svg import descended_svg
    from provenance.reports.descended_text import descended_text
    from provenance.tasks.descending import descent_of
    from provenance.tasks.opening import open_folder
    from provenance.tasks.output_files import format_of, require_place, write_output

    setting: Setting = ctx.obj
    wanted = format_of(output, ("svg", "txt", "json")) if output else ""
    opened = open_folder(setting.start)
    if output:
        require_place(output, opened.folder)
    answer = descent_of(opened, name)
    if output:
        if wanted == "json":
            text = json_text(descended_json(answer))
        else:
            text = descended_svg(answer) if wanted == "svg" else descended_text(answer, PIPE_WIDTH)
        write_output(output, f"{text}\n")
    if as_json:
        show_json(descended_json(answer))
    elif output:
        click.echo(plain(f"written: {output}"))
    else:
        click.echo(descended_text(answer, page_width()))
