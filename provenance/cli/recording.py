"""The commands that record what a source is and says: tag, claim."""

from pathlib import Path
from typing import Any

import click

from provenance.cli.completing import features, ids
from provenance.cli.keeping import by_option, json_option
from provenance.cli.shell import Answering, Setting, page_width, show_json, today
from provenance.cli.who import resolve_by

day_option = click.option("--date", "day", metavar="DATE", help="The date that is written down (default: today).")
try_option = click.option("--try", "only_try", is_flag=True, help="Tell which verdicts would change; write nothing.")
_LISTS = {"language": "languages", "topics": "components", "hazards": "hazards"}


@click.command(cls=Answering)
@click.argument("source", shell_complete=ids("sources"))
@click.option("--title", help="What the source is called.")
@click.option("--kind", help="What it is, such as photograph, drawing or letter.")
@click.option("--created", metavar="DATE", help="When it was made, such as `about June 1934`; not when it was scanned.")
@click.option("--creator", help="The person or works that made it: an id of `people`, or a name.")
@click.option("--occasion", help="Of photographs taken together: the same words in each.")
@click.option("--holder", help="The archive, museum or person that holds it.")
@click.option("--place", help="Where it is held.")
@click.option("--reference", help="The holder's own reference.")
@click.option("--language", "languages", multiple=True, metavar="TAG", help="A language of its text; may be repeated.")
@click.option(
    "--component",
    "components",
    multiple=True,
    metavar="ID",
    shell_complete=ids("components"),
    help="A component that it speaks of; may be repeated.",
)
@click.option(
    "--shows",
    multiple=True,
    metavar="KEY=VALUE,…",
    help="A machine that it shows: `9`, or `example=9,when=June 1934,known_by=number`; may be repeated.",
)
@click.option(
    "--derives-from",
    multiple=True,
    metavar="KEY=VALUE,…",
    help="What it was made from: `source=ID,how=print`; may be repeated.",
)
@click.option("--origin", help="stated or unstated: whether a book, website, notes or newspaper says where it has it.")
@click.option("--issue", help="The issue of a drawing, manual or catalogue.")
@click.option("--replaces", metavar="ID", shell_complete=ids("sources"), help="The earlier issue that it replaces.")
@click.option("--executed", help="Of a design: built, unbuilt or unknown.")
@click.option("--process", help="Of a picture: monochrome or colour.")
@click.option("--altered", help="Of a picture: retouched, censored, reversed or coloured.")
@click.option("--reliability", help="How far it is to be trusted, A to F.")
@click.option("--reliability-why", help="Why it was judged so.")
@click.option("--rights", metavar="KEY=VALUE,…", help="Whose rights: `statement=InC,holder=…,credit=…,publish=ask`.")
@click.option("--access", help="Who may see it: open, team or closed.")
@click.option("--access-until", metavar="DATE", help="Until when that is so.")
@click.option("--hazard", "hazards", multiple=True, help="A hazard of the thing itself; may be repeated.")
@click.option("--note", help="Anything else that the team wants to remember.")
@click.option(
    "--transcript",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="A person's reading of one page, as a text file; of a recording, in WebVTT.",
)
@click.option("--page", type=click.IntRange(min=1), help="The page of the transcript, counted from 1.")
@try_option
@by_option
@day_option
@json_option
@click.pass_context
def tag(
    ctx: click.Context, /, source: str, by: str | None, day: str | None, *, only_try: bool, as_json: bool, **given: Any
) -> None:
    """Say what a find is: its kind, its date, who made it, what it shows.

    The record keeps who registered it, and when; lists are added to, and one value takes the place of another.

    Example:
      provenance tag scan-4d7a --kind photograph --created "about June 1934" --shows 9
    """
    from provenance.tasks.opening import open_folder
    from provenance.tasks.tagging import Author, Tags, tag_source, try_tags

    setting: Setting = ctx.obj
    transcript: Path | None = given.pop("transcript")
    tags = Tags(
        lists={key: given.pop(option) for key, option in _LISTS.items()},
        shows=given.pop("shows"),
        derives_from=given.pop("derives_from"),
        rights=given.pop("rights"),
        transcript=transcript,
        page=given.pop("page"),
        words=given,
    )
    author = Author(by=resolve_by(by, setting.start), date=given_day(day)) if transcript else None
    if only_try:
        _show_tried(try_tags(open_folder(setting.start), source, tags, author), as_json=as_json)
    else:
        _show_written(tag_source(setting.start, source, tags, author), as_json=as_json)


@click.command(cls=Answering)
@click.argument("feature", metavar="COMPONENT/FEATURE", shell_complete=features)
@click.argument("value")
@click.option(
    "--source", required=True, metavar="ID", shell_complete=ids("sources"), help="The source that it is taken from."
)
@click.option("--page", type=click.IntRange(min=1), help="The page of the scan, counted from 1.")
@click.option("--page-label", help="The number printed on the page.")
@click.option("--region", help="The part of the page: `percent:12.5,40,30,8`; a quotation finds its own.")
@click.option("--time", help="Where in a recording: `00:12:31.000/00:12:44.000`.")
@click.option("--file", "file_number", type=click.IntRange(min=1), help="Which file of a source without pages, from 1.")
@click.option("--who", help="Who speaks there, where it is not the creator.")
@click.option("--quote", help="What stands there, letter for letter; it is looked up on the page.")
@click.option("--how", help="measured, shows, states, implies or analogy (default: what is usual for the kind).")
@click.option("--stance", help="supports or contradicts the value (default: supports).")
@click.option("--legibility", help="How well the place can be read: clear or doubtful.")
@click.option("--condition", help="Of a piece that was measured: sound, worn, corroded or distorted.")
@click.option(
    "--applies-to", metavar="KEY=VALUE,…", help="What it covers: `all`, `9`, `5..8` or `batch=third,from=1934`."
)
@click.option("--seen", metavar="KEY=VALUE,…", help="The machine that was seen: `6`, or `example=6,known_by=number`.")
@click.option("--sign", "signs", multiple=True, metavar="NAME=SEEN", help="A sign: seen, not-seen or out-of-view.")
@click.option("--via", metavar="ID", shell_complete=ids("sources"), help="The parent source through which it descends.")
@click.option("--uncertainty", help="Of a figure: give or take how much, with its unit.")
@click.option("--reasoning", help="Interpretation, apart from what can be seen.")
@click.option("--note", help="Anything else to remember of this item.")
@try_option
@by_option
@day_option
@json_option
@click.pass_context
def claim(
    ctx: click.Context,
    /,
    feature: str,
    value: str,
    by: str | None,
    day: str | None,
    *,
    only_try: bool,
    as_json: bool,
    **given: Any,
) -> None:
    """Enter what a source says of a feature, with the place where it says so.

    The evidence is added to the claim of that value and coverage; where there is none, one is begun.

    Example:
      provenance claim headlamp/kind acetylene --source handbook --applies-to all --quote "acetylene"
    """
    from provenance.tasks.claiming import add_evidence, try_evidence
    from provenance.tasks.evidence_items import Evidence
    from provenance.tasks.opening import open_folder

    setting: Setting = ctx.obj
    at = {key: given.pop(key) for key in ("page", "page_label", "region", "time", "who")}
    evidence = Evidence(
        feature=feature,
        value=value,
        at={**at, "file": given.pop("file_number")},
        whole={key: given.pop(key) for key in ("uncertainty", "reasoning")},
        item={key: given.pop(key) for key in ("how", "stance", "legibility", "condition", "via", "note")},
        **given,
    )
    person, date = resolve_by(by, setting.start), given_day(day)
    if only_try:
        opened = open_folder(setting.start)
        _show_tried(try_evidence(opened, evidence, by=person, today=date), as_json=as_json)
    else:
        _show_written(add_evidence(setting.start, evidence, by=person, today=date), as_json=as_json)


def given_day(given: str | None) -> str:
    """The date to write down: as given, in EDTF, else today's."""
    from provenance.tasks.given_values import given_date

    return given_date(given, "--date") if given else today()


def _show_written(written: Any, *, as_json: bool) -> None:
    from provenance.reports.tried import untried_json
    from provenance.reports.written import written_text

    if as_json:
        show_json(untried_json(written))
    else:
        click.echo(written_text(written, page_width()))


def _show_tried(tried: Any, *, as_json: bool) -> None:
    from provenance.reports.tried import tried_json, tried_text

    if as_json:
        show_json(tried_json(tried))
    else:
        click.echo(tried_text(tried, page_width()))
