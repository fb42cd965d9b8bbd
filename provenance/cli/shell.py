"""The one place where an error becomes an exit code, and an answer becomes what is printed."""

import datetime as dt
import errno
import inspect
import io
import json
import logging
import os
import re
import shutil
import sys
import traceback
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import click

from provenance import __version__
from provenance.errors import ProvenanceError, WriteRefusedError
from provenance.reports.layout import plain

PIPE_WIDTH = 100
STOPPED = 130
"""What a program exits with that Ctrl-C stopped: 128 and the number of the signal, as shells have it."""

_JSON = "--json"
# JSON writes the characters below a space as numbers by itself; these it lets through.
_UNSEEN = re.compile("[\x7f-\x9f\u2028-\u202e\u2066-\u2069\ud800-\udfff]")


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """What holds for every command: where to look for the archive."""

    start: Path


class Answering(click.Command):
    """A command that answers a question or does one thing.

    Attributes:
        after_stop: what somebody may want to know who stopped it with Ctrl-C.
    """

    after_stop = "the same command can be given again"

    def format_help_text(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write what the command does, and its example on a line of its own, as it is typed."""
        del ctx
        unwrapped = inspect.cleandoc(self.help or "").replace("\nExample:\n", "\n\b\nExample:\n")
        formatter.write_paragraph()
        with formatter.indentation():
            formatter.write_text(unwrapped)


class AnsweringGroup(Answering, click.Group):
    """Commands that belong together."""

    command_class = Answering


class ReadingPages(Answering):
    """A command that reads pages, and keeps each as it is read."""

    after_stop = (
        "what was taken in and read is kept; the same command goes on with the rest, and `provenance rebuild` reads "
        "the pages that are still missing"
    )


class _Shell(click.Group):
    """All commands; failures are told in words, or as JSON where `--json` was asked for."""

    command_class = Answering

    def make_context(
        self, info_name: str | None, args: list[str], parent: click.Context | None = None, **extra: Any
    ) -> click.Context:
        """Read what stands before the command."""
        wants_json = _JSON in args
        try:
            ctx = super().make_context(info_name, args, parent, **extra)
        except click.UsageError as error:
            if not wants_json:
                raise
            _tell_usage(error)
            raise click.exceptions.Exit(error.exit_code) from error
        ctx.meta[_JSON] = wants_json
        return ctx

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command; an error of ours becomes a message and its exit code."""
        wants_json = ctx.meta[_JSON]
        try:
            return super().invoke(ctx)
        except ProvenanceError as error:
            before = f"; written before that: {', '.join(error.written)}" if error.written else ""
            _tell(f"{error.what}{before}", error.mend, wants_json=wants_json)
            ctx.exit(error.exit_code)
        except click.UsageError as error:
            if not wants_json:
                raise
            _tell_usage(error)
            ctx.exit(error.exit_code)
        except OSError as error:
            if error.errno == errno.EPIPE or not _is_of_printing(error):
                raise
            _tell_unprinted(error)
            ctx.exit(WriteRefusedError.exit_code)
        except (KeyboardInterrupt, click.Abort):
            _tell_stop(self.commands.get(ctx.invoked_subcommand or ""), wants_json=wants_json)
            ctx.exit(STOPPED)

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

    \b
    Example:
      provenance evidence headlamp
    """  # noqa: D301  click wants a real control character before a paragraph that is not to be wrapped
    if "NO_COLOR" in os.environ:
        ctx.color = False
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8")
    _listen(ctx, verbose=verbose)
    ctx.obj = Setting(start=archive)


class _PlainFormatter(logging.Formatter):
    """Log lines that hold names of files and other texts from outside."""

    def formatMessage(self, record: logging.LogRecord) -> str:  # noqa: N802  named by the standard library
        return plain(super().formatMessage(record))


def _listen(ctx: click.Context, *, verbose: bool) -> None:
    """Hand on what is logged while the command runs, or keep it from being printed."""
    handler: logging.Handler = logging.StreamHandler(sys.stderr) if verbose else logging.NullHandler()
    handler.setFormatter(_PlainFormatter("%(message)s"))
    log, ours = logging.getLogger(), logging.getLogger("provenance")
    log.addHandler(handler)
    ours.setLevel(logging.INFO if verbose else logging.NOTSET)
    ctx.call_on_close(lambda: log.removeHandler(handler))


def _tell(what: str, mend: str, *, wants_json: bool) -> None:
    if wants_json:
        show_json({"answer": "error", "what": what, "mend": mend})
        return
    click.echo(f"error: {_plain_lines(what)}", err=True)
    if mend:
        click.echo(f"  mend: {_plain_lines(mend)}", err=True)


def _plain_lines(text: str) -> str:
    """A text that names faults of files line by line, made plain."""
    return "\n".join(map(plain, text.split("\n")))


def _tell_usage(error: click.UsageError) -> None:
    usage = error.ctx.get_usage() if error.ctx else ""
    _tell(error.format_message(), usage, wants_json=True)


def _is_of_printing(error: OSError) -> bool:
    """Whether it is the printing that failed: then click's own code, which prints, was the last to be called."""
    *_, (frame, _) = traceback.walk_tb(error.__traceback__)
    return frame.f_globals.get("__name__") == "click.utils"


def _tell_unprinted(error: OSError) -> None:
    """Say that the answer is lost; what is left of it is not tried again when the program ends."""
    with suppress(OSError, ValueError), Path(os.devnull).open("w", encoding="utf-8") as nowhere:
        os.dup2(nowhere.fileno(), sys.stdout.fileno())
    _tell(
        f"the answer could not be printed: {error.strerror or error}",
        "what was to be written in the archive is written; see whether there is room where the output goes",
        wants_json=False,
    )


def _tell_stop(command: click.Command | None, *, wants_json: bool) -> None:
    after = command.after_stop if isinstance(command, Answering) else Answering.after_stop
    if wants_json:
        _tell("it was stopped", after, wants_json=True)
    else:
        click.echo(f"\nstopped; {after}", err=True)


def show_json(answer: Mapping[str, object]) -> None:
    """Print an answer as JSON."""
    click.echo(json_text(answer))


def json_text(answer: Mapping[str, object]) -> str:
    """Write an answer as JSON; characters that a terminal would obey are written as their numbers."""
    written = json.dumps(answer, ensure_ascii=False, allow_nan=False, indent=2)
    return _UNSEEN.sub(lambda found: f"\\u{ord(found[0]):04x}", written)


def page_width() -> int:
    """How many characters a line may have: the terminal's, or 100 where there is none."""
    if not sys.stdout.isatty():
        return PIPE_WIDTH
    return min(max(shutil.get_terminal_size((PIPE_WIDTH, 24)).columns, 60), 120)


def today() -> str:
    """Today's local calendar date, as records write it."""
    return dt.datetime.now().astimezone().date().isoformat()
