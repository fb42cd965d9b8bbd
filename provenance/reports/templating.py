"""The texts of fixed form that lie beside this code, with places for values."""

from collections.abc import Callable, Mapping
from functools import cache
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined, Template


def environment(filters: Mapping[str, Callable[..., Any]]) -> Environment:
    """Where templates are found; a value that is put into one is escaped, and one that is missing is an error."""
    made = Environment(
        loader=PackageLoader("provenance", "reports/templates"),
        autoescape=True,
        undefined=StrictUndefined,
        auto_reload=False,
        trim_blocks=True,
        keep_trailing_newline=True,
    )
    made.filters.update(filters)
    return made


@cache
def _plain() -> Environment:
    return environment({})


def template(name: str) -> Template:
    """A template that needs no filter of its own."""
    return _plain().get_template(name)
