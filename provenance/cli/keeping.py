"""The commands that keep an archive: new, ingest, check, rebuild, upgrade."""

from pathlib import Path
from typing import Any

import click

from provenance.cli.progress import ProgressLines
from provenance.cli.shell import Answering, ReadingPages, Setting, page_width, show_json, today
from provenance.cli.who import VARIABLE, resolve_by, resolve_first_by

json_option = click.option("--json", "as_json", is_flag=True, help="Answer in JSON.")
by_option = click.option("--by", help=f"Who is writing: an id of `people` (else {VARIABLE}, else the local settings).")


@click.command(cls=Answering)
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path, file_okay=False))
@click.option("--title", help="What the archive is about.")
@click.option("--by", help=f"The id of the first of its people, such as their initials (else {VARIABLE}).")
@click.option("--name", help="That person's name.")
@json_option
def new(folder: Path, title: str | None, by: str | None, name: str | None, *, as_json: bool) -> None:
    """Begin an archive in DIR.

    Example:
      provenance new our-railcar --title "Railcar No. 9" --by mh --name "M. Hollin"
    """
    from provenance.reports.kept import begun_json, begun_text
    from provenance.tasks.new import begin

    begun = begin(folder, title=title or folder.resolve().name, by=resolve_first_by(by), name=name)
    if as_json:
        show_json(begun_json(begun))
    else:
        click.echo(begun_text(begun, page_width()))


@click.command(cls=ReadingPages)
@click.argument("paths", metavar="PATH…", nargs=-1, required=True, type=click.Path(path_type=Path))
@by_option
@click.option("--date", "day", help="The date that the records carry, and on which the files came (default: today).")
@click.option("--together", is_flag=True, help="The files make one source, in the order of their names.")
@click.option("--lot", metavar="NAME", help="The lot that they came with; their order in it is kept.")
@click.option("--from", "giver", metavar="NAME", help="From whom they came; this never leaves the archive.")
@click.option("--rights", metavar="CODE", help="Their rights statement or licence, such as InC.")
@click.option("--access", help="Who may see them: open, team or closed.")
@click.option("--workers", type=click.IntRange(1, 64), help="How many pages are read at a time (default: one a core).")
@json_option
@click.pass_context
def ingest(
    ctx: click.Context,
    /,
    paths: tuple[Path, ...],
    by: str | None,
    day: str | None,
    workers: int | None,
    *,
    as_json: bool,
    **said: Any,
) -> None:
    """Register files as sources, read their pages, and make them searchable.

    Files are copied, never moved. Ctrl-C is safe: the next call goes on with the rest. The two sides of a photograph
    are one source with --together.

    Example:
      provenance ingest ~/scans --by mh
    """
    from provenance.reports.ingested import ingested_json, ingested_text
    from provenance.tasks.batches import Batch
    from provenance.tasks.ingest import ingest as run
    from provenance.tasks.opening import open_folder

    setting: Setting = ctx.obj
    opened = open_folder(setting.start)
    who = resolve_by(by, setting.start)
    with ProgressLines() as progress:
        done = run(
            opened, paths, by=who, today=day or today(), batch=Batch(**said), workers=workers, on_progress=progress
        )
    if as_json:
        show_json(ingested_json(done))
    else:
        click.echo(ingested_text(done, page_width()))
    if done.has_unread:
        ctx.exit(1)


@click.command(cls=Answering)
@click.option("--fixity", is_flag=True, help="Read every original and compare its digest.")
@json_option
@click.pass_context
def check(ctx: click.Context, *, fixity: bool, as_json: bool) -> None:
    """Name every fault in the records: file, line, field, what is wrong, and the mend.

    Example:
      provenance check --fixity
    """
    from provenance.reports.checked import checked_json, checked_text
    from provenance.tasks.checking import check_folder

    setting: Setting = ctx.obj
    checked = check_folder(setting.start, fixity=fixity)
    if as_json:
        show_json(checked_json(checked))
    else:
        click.echo(checked_text(checked, page_width()))
    if checked.is_faulty:
        ctx.exit(1)


@click.command(cls=ReadingPages)
@click.option("--prune", is_flag=True, help="Also remove readings that no source needs any more.")
@click.option("--workers", type=click.IntRange(1, 64), help="How many pages are read at a time (default: one a core).")
@json_option
@click.pass_context
def rebuild(ctx: click.Context, workers: int | None, *, prune: bool, as_json: bool) -> None:
    """Make anew what is derived: readings that are missing, and the whole search index.

    Example:
      provenance rebuild
    """
    from provenance.reports.kept import rebuilt_json, rebuilt_text
    from provenance.tasks.opening import open_folder
    from provenance.tasks.rebuilding import rebuild as run

    setting: Setting = ctx.obj
    opened = open_folder(setting.start)
    with ProgressLines() as progress:
        rebuilt = run(opened, prune=prune, workers=workers, on_progress=progress)
    if as_json:
        show_json(rebuilt_json(rebuilt))
    else:
        click.echo(rebuilt_text(rebuilt, page_width()))
    if rebuilt.unread:
        ctx.exit(1)


@click.command(cls=Answering)
@json_option
@click.pass_context
def upgrade(ctx: click.Context, *, as_json: bool) -> None:
    """Bring an archive of an earlier format up to today's.

    Example:
      provenance upgrade
    """
    from provenance.reports.kept import upgraded_json, upgraded_text
    from provenance.tasks.upgrading import upgrade_folder

    setting: Setting = ctx.obj
    upgraded = upgrade_folder(setting.start)
    if as_json:
        show_json(upgraded_json(upgraded))
    else:
        click.echo(upgraded_text(upgraded, page_width()))
