"""The commands of the workshop: decide, made, query, used."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import click
from click.shell_completion import CompletionItem

from provenance.cli.completing import Completer, features, ids, records
from provenance.cli.keeping import by_option, json_option
from provenance.cli.progress import ProgressLines
from provenance.cli.shell import Answering, ReadingPages, Setting, page_width, show_json, today
from provenance.cli.who import resolve_by
from provenance.errors import UsageRefusedError

day_option = click.option("--date", "day", help="The date that the record carries (default: today).")


def _signed(command: Callable[..., None]) -> Callable[..., None]:
    """Give a command what everything that writes has: who writes and when, and the answer in JSON."""
    return by_option(day_option(json_option(click.pass_context(command))))


def _show(done: Any, *, as_json: bool) -> None:
    from provenance.reports.written import written_json, written_text

    if as_json:
        show_json(written_json(done))
    else:
        click.echo(written_text(done, page_width()))


def _features_or(*folders: str) -> Completer:
    """Offer features, and the ids of the records in these folders."""
    others = ids(*folders)

    def offer(ctx: click.Context, parameter: click.Parameter, typed: str) -> list[CompletionItem]:
        return features(ctx, parameter, typed) + others(ctx, parameter, typed)

    return offer


@click.command(cls=Answering)
@click.argument("subject", metavar="COMPONENT/FEATURE|PROPOSAL", shell_complete=_features_or("decisions"))
@click.option("--build", help="What to build, as the workshop reads it.")
@click.option("--why", help="Why; conjecture is declared here, by that word.")
@click.option(
    "--basis",
    multiple=True,
    metavar="CLAIM",
    shell_complete=ids("claims"),
    help="A claim that it rests on; may be repeated.",
)
@click.option("--set-aside", multiple=True, metavar="CLAIM=WHY", help="A claim that it goes against, and why.")
@click.option("--modern-change", metavar="REASON:NOTE", help="A departure that the present day asks for (safety: …).")
@click.option("--drawing", "drawings", multiple=True, metavar="NUMBER:ISSUE", help="A drawing that it is made to.")
@click.option("--tolerance", help="The limits for making it.")
@click.option("--stamp", help="How the new part is made identifiable as new.")
@click.option("--release", "is_released", is_flag=True, help="Release it for building; else it is proposed.")
@click.option(
    "--replaces",
    metavar="ID",
    shell_complete=ids("decisions"),
    help="The decision that it replaces (default: the one in force).",
)
@click.option("--id", metavar="ID", help="The id of the record (default: made of feature and build).")
@_signed
def decide(
    ctx: click.Context,
    /,
    subject: str,
    by: str | None,
    day: str | None,
    *,
    replaces: str | None,
    is_released: bool,
    as_json: bool,
    **given: Any,
) -> None:
    """Decide what to build for a feature, on what, and why; or release a proposal by its id.

    The grade that the value has now is kept with it. What is thin, unexplained or conjecture is said, and stops nobody.

    Example:
      provenance decide headlamp/kind --build gas --basis headlamp-kind-gas --why "as seen in 1934"
    """
    from provenance.tasks.deciding import Choice, release
    from provenance.tasks.deciding import decide as run

    setting: Setting = ctx.obj
    if "/" not in subject:
        if not is_released or any(given.values()):
            raise UsageRefusedError(
                f"`{subject}` names no feature", "write COMPONENT/FEATURE --build …, or PROPOSAL --release alone"
            )
        done = release(
            setting.start, subject, by=resolve_by(by, setting.start), today=day or today(), replaces=replaces
        )
    else:
        if not given["build"] or not given["why"]:
            raise UsageRefusedError("it is not said what to build, and why", "add --build … and --why …")
        choice = Choice(**given, replaces=replaces, is_released=is_released)
        done = run(setting.start, subject, choice, by=resolve_by(by, setting.start), today=day or today())
    _show(done, as_json=as_json)


@click.command(cls=ReadingPages)
@click.argument("feature", metavar="COMPONENT/FEATURE", shell_complete=features)
@click.option("--as-made", "value", required=True, metavar="VALUE", help="What it was made to, as measured.")
@click.option(
    "--fits", type=click.Choice(["well", "badly"]), help="Whether it fits; `badly` opens a query on both parts."
)
@click.option("--inspected-by", metavar="NAME", help="Who inspected it.")
@click.option("--photo", metavar="FILE", help="A picture of it, which is taken in; or the id of a source.")
@click.option("--note", help="Anything else, such as where it does not fit.")
@_signed
def made(ctx: click.Context, /, feature: str, by: str | None, day: str | None, *, as_json: bool, **given: Any) -> None:
    """Write down what was made to the decision in force on a feature, and whether it fits.

    Example:
      provenance made headlamp/height --as-made "40 1/2 in" --fits well --photo bench.jpg
    """
    from provenance.tasks.making import Piece, write_made

    setting: Setting = ctx.obj
    piece = Piece(**given)
    who = resolve_by(by, setting.start)
    with ProgressLines() as progress:
        done = write_made(setting.start, feature, piece, by=who, today=day or today(), on_progress=progress)
    _show(done, as_json=as_json)


@click.command(cls=Answering)
@click.argument(
    "about",
    metavar="COMPONENT/FEATURE|DECISION|PANEL|QUERY",
    shell_complete=_features_or("decisions", "panels", "queries"),
)
@click.option("--why", "--grounds", "why", help="On what grounds it is doubted.")
@click.option("--raised-by", metavar="NAME", help="Who raised it, where that is somebody else.")
@click.option("--would-settle", help="What would settle it.")
@click.option("--answer", help="Of a query: the answer.")
@click.option("--answered-by", metavar="NAME", help="Of an answer: who answers (default: who writes).")
@click.option("--id", "query_id", metavar="ID", help="The id of a new query (default: made of what it is about).")
@_signed
def query(
    ctx: click.Context,
    /,
    about: str,
    *,
    why: str | None,
    answer: str | None,
    by: str | None,
    day: str | None,
    answered_by: str | None,
    as_json: bool,
    **given: Any,
) -> None:
    """Put a feature, a decision or a panel in doubt; or answer a query by its id.

    Example:
      provenance query headlamp/kind --why "an old driver says oil" --raised-by "J. Marl"
    """
    from provenance.tasks.querying import answer_query, raise_query

    if (why is None) is (answer is None):
        raise UsageRefusedError(
            "it is either doubted or answered", "add --why … to put something in doubt, or --answer … to a query"
        )
    if (answer is not None and any(given.values())) or (why is not None and answered_by is not None):
        raise UsageRefusedError(
            "--raised-by, --would-settle and --id belong to a doubt, --answered-by to an answer", "leave out the others"
        )
    setting: Setting = ctx.obj
    start: Path = setting.start
    who, date = resolve_by(by, start), day or today()
    if answer is not None:
        done = answer_query(start, about, answer, answered_by=answered_by or who, today=date)
    else:
        done = raise_query(start, about, why or "", by=who, today=date, **given)
    _show(done, as_json=as_json)


@click.command(cls=Answering)
@click.argument(
    "name",
    metavar="ID",
    shell_complete=records("components", "sources", "claims", "copies", "decisions", "queries", "panels", "leads"),
)
@json_option
@click.pass_context
def used(ctx: click.Context, name: str, *, as_json: bool) -> None:
    """List every claim, decision, made part, panel and printed output that rests on a record or a feature.

    ID is that of a source, a claim, a decision, a component, a feature (component/feature) or a panel; where records of
    two kinds have the same, write the folder before it, as in sources/handbook.

    Example:
      provenance used handbook-1933
    """
    from provenance.reports.used import used_json, used_text
    from provenance.tasks.opening import open_folder
    from provenance.tasks.using import used as run

    setting: Setting = ctx.obj
    answer = run(open_folder(setting.start), name)
    if as_json:
        show_json(used_json(answer))
    else:
        click.echo(used_text(answer, page_width()))
