"""Every address that the pages have, found in the app itself, so that none is forgotten; and what each answers."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import pytest
from flask import Flask, template_rendered
from werkzeug.datastructures import ImmutableMultiDict
from werkzeug.routing import Rule

_LEADING_ON = range(300, 400)


@dataclass(frozen=True, slots=True, kw_only=True)
class Examples:
    """What there is in an archive to fill the addresses with.

    Attributes:
        arguments: for each name of an argument of an address, one that is there.
        own: by the name of a view, the arguments that stand in the place of those for it alone.
        queries: by the name of a view, what is asked behind its address, each beginning with `?` or empty; a view that
            is not named is asked for by its bare address.
    """

    arguments: Mapping[str, str | int]
    own: Mapping[str, Mapping[str, str | int]]
    queries: Mapping[str, tuple[str, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered:
    """What is answered at an address.

    Attributes:
        view: the name of the view that answers.
        address: the path, with what is asked behind it.
        code: the status.
        kind: the media type.
        is_page: whether a browser shows it as a page: it is HTML, and not handed out as a file.
        templates: the names of the templates that it is made of.
        body: all of it.
    """

    view: str
    address: str
    code: int
    kind: str
    is_page: bool
    templates: tuple[str, ...]
    body: bytes


def addresses(app: Flask, examples: Examples) -> list[tuple[str, str]]:
    """The name of each view that can be asked for, with each address to ask; files of our own stand for themselves.

    A view whose address cannot be filled fails: whoever adds one says what the archives have of it.
    """
    found = []
    binding = app.url_map.bind("localhost")
    for rule in sorted(app.url_map.iter_rules(), key=str):
        if rule.endpoint == "static" or "GET" not in (rule.methods or ()):
            continue
        path = binding.build(rule.endpoint, _values(rule, examples))
        found += [(rule.endpoint, path + query) for query in examples.queries.get(rule.endpoint, ("",))]
    unknown = {*examples.own, *examples.queries} - {view for view, _ in found}
    assert not unknown, f"there are no such views: {sorted(unknown)}"
    return found


def _values(rule: Rule, examples: Examples) -> dict[str, str | int]:
    there = {**examples.arguments, **examples.own.get(rule.endpoint, {})}
    missing = rule.arguments - set(there)
    if missing:
        pytest.fail(f"{rule.rule}: say in the table of examples what the archive has as {sorted(missing)}")
    return {name: there[name] for name in rule.arguments}


def answers(app: Flask, asked: list[tuple[str, str]]) -> Iterator[Answered]:
    """Ask at each address, without a browser."""
    client = app.test_client()
    for view, address in asked:
        used: list[str] = []

        def note(_: object, template: object, used: list[str] = used, **__: object) -> None:
            used.append(str(getattr(template, "name", "")))

        with template_rendered.connected_to(note, app):
            answer = client.get(address, base_url="http://localhost", buffered=True)
        yield Answered(
            view=view,
            address=address,
            code=answer.status_code,
            kind=answer.mimetype or "",
            is_page=answer.mimetype == "text/html"
            and answer.status_code not in _LEADING_ON
            and "Content-Disposition" not in answer.headers,
            templates=tuple(used),
            body=answer.data,
        )
        answer.close()


def parameters(app: Flask, asked: list[tuple[str, str]]) -> dict[str, frozenset[str]]:
    """By view, the names of all that it looks for behind its address while it answers there."""
    found: dict[str, set[str]] = {view: set() for view, _ in asked}
    noted: set[str] = set()

    class Noting(ImmutableMultiDict[str, str]):
        """What is asked behind an address; it keeps in mind which names are looked for."""

        def __getitem__(self, key: str) -> str:
            noted.add(key)
            return super().__getitem__(key)

        def __contains__(self, key: object) -> bool:
            noted.add(str(key))
            return super().__contains__(key)

        def get(self, key: str, *rest: Any, **more: Any) -> Any:
            noted.add(key)
            return super().get(key, *rest, **more)

        def getlist(self, key: str, *rest: Any, **more: Any) -> Any:
            noted.add(key)
            return super().getlist(key, *rest, **more)

    class NotingRequest(app.request_class):  # type: ignore[misc,name-defined]  # whatever class the app has
        parameter_storage_class = Noting

    plain, app.request_class = app.request_class, NotingRequest
    try:
        client = app.test_client()
        for view, address in asked:
            noted.clear()
            client.get(address, base_url="http://localhost", buffered=True).close()
            found[view] |= noted
    finally:
        app.request_class = plain
    return {view: frozenset(names) for view, names in found.items()}
