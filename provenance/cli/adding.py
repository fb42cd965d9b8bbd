"""The command that adds to the archive: add component, feature, panel, statement, lead, person."""

from pathlib import Path
from typing import Any

import click

from provenance.cli.completing import features, ids
from provenance.cli.keeping import by_option, json_option
from provenance.cli.shell import AnsweringGroup, Setting, page_width, show_json, today
from provenance.cli.who import resolve_by

day_option = click.option("--date", "day", help="The date that the record carries (default: today).")


@click.group(cls=AnsweringGroup, invoke_without_command=True)
@click.option("--sheet", type=click.Path(path_type=Path, dir_okay=False), help="A parts tree: .csv or .xlsx.")
@by_option
@day_option
@json_option
@click.pass_context
def add(ctx: click.Context, sheet: Path | None, by: str | None, day: str | None, *, as_json: bool) -> None:
    """Add a component, a feature, a panel, a statement of one, a lead or a person; or a parts tree with --sheet.

    The columns of a sheet are number, name, part of, quantity and examples, or what works call them. Where one row is
    refused, none is added.

    Example:
      provenance add component headlamp --name Headlamp --reference H-204
      provenance add --sheet parts.csv
    """
    if ctx.invoked_subcommand is not None:
        if sheet or by or day or as_json:
            raise click.UsageError("options of what is added are given after its word: add component ID --by …", ctx)
        return
    if sheet is None:
        named = "a component, feature, panel, statement, lead or person"
        raise click.UsageError(f"say what to add: {named}, or --sheet FILE", ctx)
    from provenance.tasks.parts_sheets import add_sheet

    setting: Setting = ctx.obj
    added = add_sheet(setting.start, sheet, by=resolve_by(by, setting.start), today=day or today())
    _show(added, as_json=as_json)
    if added.has_refused:
        ctx.exit(1)


@add.command()
@click.argument("record_id", metavar="ID")
@click.option("--name", required=True, help="What the part is called.")
@click.option("--part-of", metavar="ID", shell_complete=ids("components"), help="The component that it belongs to.")
@click.option("--reference", "references", multiple=True, help="A part, stores or drawing number; may be repeated.")
@click.option("--also", "also_called", multiple=True, help="Another word for it; may be repeated.")
@click.option("--hazard", "hazards", multiple=True, help="A hazard of the part, such as asbestos; may be repeated.")
@click.option("--made-as", help="What the made part is: reproduction, substitute and so on.")
@click.option("--needed-by", metavar="DATE", help="When the build programme needs it: EDTF, or June 2027.")
@click.option("--prominence", help="To visitors: hidden, visible or focal.")
@by_option
@day_option
@json_option
@click.pass_context
def component(
    ctx: click.Context, /, record_id: str, by: str | None, day: str | None, *, as_json: bool, **fields: Any
) -> None:
    """Add the component ID: an assembly, a sub-assembly or a fitting.

    Example:
      provenance add component headlamp --name Headlamp --reference H-204 --prominence focal
    """
    _add_record(ctx, "component", record_id, fields, by=by, day=day, as_json=as_json)


@add.command()
@click.argument("name_of_feature", metavar="COMPONENT/ID", shell_complete=features)
@click.option("--name", required=True, help="What is to be decided.")
@click.option("--aspect", required=True, help="What about the part it is: form, dimension, finish and so on.")
@click.option("--kind", required=True, help="What sort of value it has: choice, text, quantity or presence.")
@click.option("--unit", help="Of a quantity: the unit to build in.")
@click.option("--needed", help="Of a quantity: within how much it must be known before it is built.")
@click.option("--datum", help="Of a dimension or position: from where it is taken.")
@click.option("--changes", help="at-build (from one example to the next) or in-service.")
@click.option("--option", "options", multiple=True, metavar="ID=NAME", help="Of a choice: a value; may be repeated.")
@click.option("--same", multiple=True, metavar="A|B", help="Of a text: wordings that mean the same; may be repeated.")
@json_option
@click.pass_context
def feature(
    ctx: click.Context,
    /,
    name_of_feature: str,
    options: tuple[str, ...],
    same: tuple[str, ...],
    *,
    as_json: bool,
    **fields: Any,
) -> None:
    """Add a feature to a component: one thing that must be decided before it is made.

    Example:
      provenance add feature headlamp/fuel --name Fuel --aspect form --kind choice --option oil=Oil --option gas=Gas
    """
    from provenance.tasks.adding import add_feature, given_option

    fields |= {"options": [given_option(each) for each in options], "same": [_wordings(each) for each in same]}
    setting: Setting = ctx.obj
    _show(add_feature(setting.start, name_of_feature, fields), as_json=as_json)


@add.command()
@click.argument("record_id", metavar="ID")
@click.option("--title", required=True, help="The title of the panel.")
@click.option(
    "--component",
    "components",
    multiple=True,
    metavar="ID",
    shell_complete=ids("components"),
    help="What it speaks of; may be repeated.",
)
@by_option
@day_option
@json_option
@click.pass_context
def panel(
    ctx: click.Context, /, record_id: str, by: str | None, day: str | None, *, as_json: bool, **fields: Any
) -> None:
    """Add an interpretation panel, whose statements are added one by one with `add statement`.

    Example:
      provenance add panel lighting --title "How the railcar was lit" --component headlamp
    """
    _add_record(ctx, "panel", record_id, fields, by=by, day=day, as_json=as_json)


@add.command()
@click.argument("panel_id", metavar="PANEL", shell_complete=ids("panels"))
@click.option("--text", required=True, help="The sentence as it is to be printed.")
@click.option(
    "--feature",
    "spoken_of",
    multiple=True,
    metavar="COMPONENT/ID",
    shell_complete=features,
    help="What it speaks of; may be repeated.",
)
@json_option
@click.pass_context
def statement(ctx: click.Context, panel_id: str, text: str, spoken_of: tuple[str, ...], *, as_json: bool) -> None:
    """Add a statement to a panel, with the features that it speaks of.

    Example:
      provenance add statement lighting --text "She burnt gas." --feature headlamp/kind
    """
    from provenance.tasks.adding import add_statement

    setting: Setting = ctx.obj
    _show(add_statement(setting.start, panel_id, text, spoken_of), as_json=as_json)


@add.command()
@click.argument("record_id", metavar="ID")
@click.option("--what", required=True, help="What is held there.")
@click.option("--holder", help="The archive, museum or person.")
@click.option("--place", help="Where that is.")
@click.option("--reference", help="The holder's reference.")
@click.option(
    "--hoped-for",
    multiple=True,
    metavar="COMPONENT/FEATURE",
    shell_complete=features,
    help="What it may tell; may be repeated.",
)
@click.option("--effort", help="small, medium or large.")
@click.option("--cost", help="What a visit or an order costs.")
@click.option("--chance", help="How likely it is to tell that.")
@by_option
@day_option
@json_option
@click.pass_context
def lead(
    ctx: click.Context, /, record_id: str, by: str | None, day: str | None, *, as_json: bool, **fields: Any
) -> None:
    """Add a lead: holdings that have not been searched yet.

    Example:
      provenance add lead works-albums --what "Albums of the works" --place Orrin --hoped-for headlamp/kind
    """
    _add_record(ctx, "lead", record_id, fields, by=by, day=day, as_json=as_json)


@add.command()
@click.argument("person_id", metavar="ID")
@click.option("--name", required=True, help="The person's name.")
@click.option("--credited-as", help="How print names them (default: by name).")
@json_option
@click.pass_context
def person(ctx: click.Context, person_id: str, name: str, credited_as: str | None, *, as_json: bool) -> None:
    """Add a person to the team's people.

    Example:
      provenance add person tw --name "T. Wenlark"
    """
    from provenance.tasks.adding import add_person

    setting: Setting = ctx.obj
    _show(add_person(setting.start, person_id, name, credited_as), as_json=as_json)


def _add_record(
    ctx: click.Context,
    kind: str,
    record_id: str,
    fields: dict[str, Any],
    *,
    by: str | None,
    day: str | None,
    as_json: bool,
) -> None:
    from provenance.tasks.adding import add_record

    setting: Setting = ctx.obj
    who = resolve_by(by, setting.start)
    _show(add_record(setting.start, kind, record_id, fields, by=who, today=day or today()), as_json=as_json)


def _show(added: Any, *, as_json: bool) -> None:
    from provenance.reports.added import added_json, added_text

    if as_json:
        show_json(added_json(added))
    else:
        click.echo(added_text(added, page_width()))


def _wordings(typed: str) -> list[str]:
    return [wording.strip() for wording in typed.split("|")]
