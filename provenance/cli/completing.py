"""What the shell offers when the Tab key is pressed: ids of components, features, sources, claims and the like."""

import os
import re
from collections.abc import Callable, Iterable
from pathlib import Path

import click
from click.shell_completion import CompletionItem

HOW_TO = """\b
Completion of commands, options and ids with the Tab key is switched on by a line in
  ~/.bashrc   eval "$(_PROVENANCE_COMPLETE=bash_source provenance)"
  ~/.zshrc    eval "$(_PROVENANCE_COMPLETE=zsh_source provenance)"
  config.fish _PROVENANCE_COMPLETE=fish_source provenance | source
"""

_ASKED_BY = "_PROVENANCE_COMPLETE"
_FOR_BASH = re.compile(r"[^\w@%+=:,./-]")
"""What bash would take for more than a letter of a word."""

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


def words(find: Callable[[], Iterable[str]]) -> Completer:
    """Offer words that are the same in every archive, such as the names of flags."""

    def offer(_: click.Context, __: click.Parameter, typed: str) -> list[CompletionItem]:
        return [CompletionItem(each) for each in find() if each.startswith(typed)]

    return offer


def flag_names() -> Iterable[str]:
    """The names of all flags, in order."""
    from provenance.rules.flag_values import ALL_FLAGS

    return sorted(ALL_FLAGS)


def source_kinds() -> Iterable[str]:
    """The kinds of source, as their list has them."""
    from provenance.records.kinds import SourceKind

    return [kind.value for kind in SourceKind]


def style_names() -> Iterable[str]:
    """The names of our own styles of citation."""
    from provenance.tasks.citing_styles import our_styles

    return our_styles()


def holders(ctx: click.Context, _: click.Parameter, typed: str) -> list[CompletionItem]:
    """Offer who holds sources; for bash, which puts in words as they come, with a stroke before each space."""
    from provenance.tasks.completing import holders_beginning

    found = holders_beginning(_start(ctx), typed)
    if os.environ.get(_ASKED_BY, "").startswith("bash"):
        found = tuple(_FOR_BASH.sub(r"\\\g<0>", each) for each in found)
    return [CompletionItem(each) for each in found]


def features(ctx: click.Context, _: click.Parameter, typed: str) -> list[CompletionItem]:
    """Offer components, and behind the stroke their features."""
    from provenance.tasks.completing import features_beginning

    return [CompletionItem(each) for each in features_beginning(_start(ctx), typed)]


def _start(ctx: click.Context) -> Path:
    given = ctx.find_root().params.get("archive")
    return given if isinstance(given, Path) else Path()
