"""The commands on sources that look like copies of one another: copies, and its confirm, rule-out and show."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path
from typing import Any

import click

from provenance.cli.completing import ids, words
from provenance.cli.keeping import by_option, json_option
from provenance.cli.progress import ProgressLines
from provenance.cli.recording import day_option, given_day, try_option
from provenance.cli.shell import PIPE_WIDTH, Answering, AnsweringGroup, ReadingPages, Setting, page_width, show_json
from provenance.cli.who import resolve_by

RULINGS = ("open", "copy", "distinct", "all")
"""What may be asked for; the list of the pairs of these rulings."""


def _ways() -> Iterable[str]:
    """How one source may be made from another, as their list has them."""
    from provenance.records.kinds import Derivation

    return [each.value for each in Derivation]


def _of_a_ruling(command: Callable[..., None]) -> Callable[..., None]:
    """Give a command what both rulings have: the two sources, the reason, who rules and when, and trying."""
    for option in (
        click.pass_context,
        json_option,
        day_option,
        by_option,
        try_option,
        click.option("--why", required=True, help="The reason; it stays with the pair."),
        click.argument("other", metavar="B", shell_complete=ids("sources")),
        click.argument("one", metavar="A", shell_complete=ids("sources")),
    ):
        command = option(command)
    return command


@click.group(cls=AnsweringGroup, invoke_without_command=True)
@click.option(
    "--ruling", type=click.Choice(RULINGS), default="open", show_default=True, help="Only pairs that are ruled so."
)
@click.option(
    "--component",
    metavar="ID",
    shell_complete=ids("components"),
    help="Only pairs of which a source speaks of this component.",
)
@click.option("--source", metavar="ID", shell_complete=ids("sources"), help="Only pairs that this source is in.")
@json_option
@click.pass_context
def copies(ctx: click.Context, ruling: str, component: str | None, source: str | None, *, as_json: bool) -> None:
    """List the sources that look like copies of one another, and what each ruling on them would change.

    Copies are no witnesses for one another: until somebody rules on two that look alike, they count as one witness.
    Pairs come first that would change most.

    Example:
      provenance copies --component headlamp
    """
    if ctx.invoked_subcommand is not None:
        if ruling != RULINGS[0] or component or source or as_json:
            raise click.UsageError(
                "options of a ruling are given after its word: copies confirm A B --how print --why …", ctx
            )
        return
    from provenance.reports.copied import copies_json
    from provenance.reports.copied_text import copies_text
    from provenance.tasks.listing_copies import list_copies
    from provenance.tasks.opening import open_folder

    setting: Setting = ctx.obj
    answer = list_copies(open_folder(setting.start), ruling=ruling, component=component, source=source)
    if as_json:
        show_json(copies_json(answer))
    else:
        click.echo(copies_text(answer, page_width()))


@copies.command(cls=Answering)
@click.option("--how", shell_complete=words(_ways), help="How the one was made from the other, such as print or crop.")
@click.option(
    "--original",
    metavar="ID",
    shell_complete=ids("sources"),
    help="Which of the two the other was made from, where their dates do not say it; `neither` where both go back to a "
    "third that the archive does not hold.",
)
@_of_a_ruling
def confirm(
    ctx: click.Context, /, one: str, other: str, by: str | None, day: str | None, *, only_try: bool, **given: Any
) -> None:
    """Rule that one of the sources A and B was made from the other.

    The later one's record then says what it was made from; the pair keeps who ruled, when, and why.

    Example:
      provenance copies confirm scan-4d7a print-1934 --how print --why "the same crease at the top left"
    """
    from provenance.tasks.opening import open_folder
    from provenance.tasks.ruling import Confirmation, Signed, try_confirm
    from provenance.tasks.ruling import confirm as run

    setting: Setting = ctx.obj
    as_json = given.pop("as_json")
    signed = Signed(by=resolve_by(by, setting.start), date=given_day(day))
    names, found = (one, other), Confirmation(**given)
    if only_try:
        _show(try_confirm(open_folder(setting.start), names, found, signed), only_try=True, as_json=as_json)
    else:
        _show(run(setting.start, names, found, signed), only_try=False, as_json=as_json)


@copies.command(name="rule-out", cls=Answering)
@_of_a_ruling
def rule_out(
    ctx: click.Context, /, one: str, other: str, by: str | None, day: str | None, *, only_try: bool, **given: Any
) -> None:
    """Rule that neither of the sources A and B is a copy of the other; a pair once ruled on is not asked about again.

    Example:
      provenance copies rule-out scan-4d7a print-1934 --why "the driver has moved: a second exposure"
    """
    from provenance.tasks.opening import open_folder
    from provenance.tasks.ruling import Signed, try_rule_out
    from provenance.tasks.ruling import rule_out as run

    setting: Setting = ctx.obj
    as_json = given.pop("as_json")
    signed = Signed(by=resolve_by(by, setting.start), date=given_day(day))
    names, why = (one, other), given["why"]
    if only_try:
        _show(try_rule_out(open_folder(setting.start), names, why, signed), only_try=True, as_json=as_json)
    else:
        _show(run(setting.start, names, why, signed), only_try=False, as_json=as_json)


@copies.command(cls=ReadingPages)
@click.argument("one", metavar="A", shell_complete=ids("sources"))
@click.argument("other", metavar="B", shell_complete=ids("sources"))
@click.option(
    "--output",
    metavar="FILE",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Write the pictures side by side to a file that ends in .png, or what is printed to one that ends in .txt.",
)
@json_option
@click.pass_context
def show(ctx: click.Context, one: str, other: str, output: Path | None, *, as_json: bool) -> None:
    """Show what the sources A and B have in common, and where: by their pictures, and by the passages of their texts.

    Nothing is written into the archive but what is derived.

    Example:
      provenance copies show scan-4d7a print-1934 --output side-by-side.png
    """
    from provenance.reports.pair_shown import shown_json, shown_text
    from provenance.tasks.opening import open_folder
    from provenance.tasks.output_files import write_output
    from provenance.tasks.showing_copies import TEXT_FILE, show_pair

    setting: Setting = ctx.obj
    with ProgressLines() as progress:
        shown = show_pair(open_folder(setting.start), (one, other), output=output, on_progress=progress)
    if output and output.suffix.lower() == f".{TEXT_FILE}":
        write_output(output, f"{shown_text(replace(shown, output=None), PIPE_WIDTH)}\n")
    if as_json:
        show_json(shown_json(shown))
    else:
        click.echo(shown_text(shown, page_width()))


def _show(answer: Any, *, only_try: bool, as_json: bool) -> None:
    from provenance.reports.ruled import ruled_json, ruled_text
    from provenance.reports.tried import tried_json, tried_text

    if as_json:
        show_json((tried_json if only_try else ruled_json)(answer))
    else:
        click.echo((tried_text if only_try else ruled_text)(answer, page_width()))
