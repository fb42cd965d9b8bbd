"""What the shell offers when the Tab key is pressed: ids of components, features, sources, claims and the like."""

from collections.abc import Callable
from pathlib import Path

import click
from click.shell_completion import CompletionItem

HOW_TO = """\b
Completion of commands, options and ids with the Tab key is switched on by a line in
  ~/.bashrc   eval "$(_PROVENANCE_COMPLETE=bash_source provenance)"
  ~/.zshrc    eval "$(_PROVENANCE_COMPLETE=zsh_source provenance)"
  config.fish _PROVENANCE_COMPLETE=fish_source provenance | source
"""

Completer = Callable[[click.Context, click.Parameter, str], list[CompletionItem]]


def ids(*folders: str) -> Completer:
    """Offer the ids of the records in these folders."""

    def offer(ctx: click.Context, _: click.Parameter, typed: str) -> list[CompletionItem]:
        from provenance.tasks.completing import ids_beginning

        return [CompletionItem(each) for each in ids_beginning(_start(ctx), folders, typed)]

    return offer


def records(*folders: str) -> Completer:
    """Offer ids, and once a folder was typed, folder and id."""

    def offer(ctx: click.Context, _: click.Parameter, typed: str) -> list[CompletionItem]:
        from provenance.tasks.completing import ids_beginning

        found = ids_beginning(_start(ctx), folders, typed, with_folder="/" in typed)
        return [CompletionItem(each) for each in found]

    return offer


def features(ctx: click.Context, _: click.Parameter, typed: str) -> list[CompletionItem]:
    """Offer components, and behind the stroke their features."""
    from provenance.tasks.completing import features_beginning

    return [CompletionItem(each) for each in features_beginning(_start(ctx), typed)]


def _start(ctx: click.Context) -> Path:
    given = ctx.find_root().params.get("archive")
    return given if isinstance(given, Path) else Path()
