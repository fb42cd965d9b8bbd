"""The one place where an error becomes an exit code, and an answer becomes what is printed."""

import datetime as dt
import inspect
import json
import logging
import os
import shutil
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import click

from provenance import __version__
from provenance.errors import ProvenanceError

PIPE_WIDTH = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """What holds for every command: where to look for the archive."""

    start: Path


class Answering(click.Command):
    """A command whose failures are told in words, or as JSON where `--json` was asked for."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Read the options; a usage fault under `--json` is an answer too."""
        wants_json = "--json" in args
        try:
            return super().parse_args(ctx, args)
        except click.UsageError as error:
            if not wants_json:
                raise
            show_json({"answer": "error", "what": error.format_message(), "mend": ctx.get_usage()})
            ctx.exit(error.exit_code)

    def format_help_text(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write what the command does, and its example on a line of its own, as it is typed."""
        del ctx
        unwrapped = inspect.cleandoc(self.help or "").replace("\nExample:\n", "\n\b\nExample:\n")
        formatter.write_paragraph()
        with formatter.indentation():
            formatter.write_text(unwrapped)

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command; an error of ours becomes a message and its exit code."""
        try:
            return super().invoke(ctx)
        except ProvenanceError as error:
            if ctx.params.get("as_json"):
                show_json({"answer": "error", "what": error.what, "mend": error.mend})
            else:
                click.echo(f"error: {error}", err=True)
            ctx.exit(error.exit_code)


class _Shell(click.Group):
    command_class = Answering

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Name the commands in the order in which a newcomer meets them."""
        del ctx
        return list(self.commands)


@click.group(cls=_Shell, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": PIPE_WIDTH})
@click.option(
    "--archive",
    type=click.Path(path_type=Path, file_okay=False),
    default=Path(),
    show_default="the nearest folder above with an archive.yaml",
    help="The archive's folder.",
)
@click.option("--verbose", is_flag=True, help="Tell on the error output what is being done.")
@click.version_option(__version__, prog_name="provenance")
@click.pass_context
def main(ctx: click.Context, archive: Path, *, verbose: bool) -> None:
    """Keep the evidence behind each fitting of a reproduced machine, find it again, and weigh it.

    Example:
      provenance evidence headlamp
    """
    if "NO_COLOR" in os.environ:
        ctx.color = False
    if verbose:
        logging.basicConfig(level=logging.INFO, stream=sys.stderr, format="%(message)s")
    ctx.obj = Setting(start=archive)


def show_json(answer: Mapping[str, object]) -> None:
    """Print an answer as JSON."""
    click.echo(json.dumps(answer, ensure_ascii=False, indent=2))


def page_width() -> int:
    """How many characters a line may have: the terminal's, or 100 where there is none."""
    if not sys.stdout.isatty():
        return PIPE_WIDTH
    return min(max(shutil.get_terminal_size((PIPE_WIDTH, 24)).columns, 60), 120)


def today() -> str:
    """Today's local calendar date, as records write it."""
    return dt.datetime.now().astimezone().date().isoformat()
