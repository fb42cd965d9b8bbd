"""A browser without a window that fills in the forms of the pages, as somebody does who has no script running."""

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

from flask.testing import FlaskClient

from provenance.web.app import create_app

ORIGIN = "http://localhost"
Typed = Mapping[str, str | Sequence[str]]


@dataclass(slots=True)
class Form:
    """A form as it stands on a page, with what a browser would send of it untouched."""

    action: str
    method: str
    fields: dict[str, list[str]] = field(default_factory=dict)
    choices: dict[str, list[str]] = field(default_factory=dict)


class _Forms(HTMLParser):
    def __init__(self, address: str) -> None:
        super().__init__()
        self.forms: list[Form] = []
        self._address = address
        self._form: Form | None = None
        self._select: str | None = None
        self._area: tuple[str, list[str]] | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = {name: value or "" for name, value in attrs}
        if tag == "form":
            self._form = Form(action=told.get("action", self._address), method=told.get("method", "get"))
            self.forms.append(self._form)
        elif self._form is None:
            return
        elif tag == "input" and told.get("name"):
            self._input(self._form, told)
        elif tag == "select":
            self._select = told["name"]
        elif tag == "option" and self._select is not None:
            self._option(self._form, self._select, told)
        elif tag == "textarea":
            self._area = (told["name"], [])

    def _input(self, form: Form, told: dict[str, str]) -> None:
        kind = told.get("type", "text")
        if kind in {"checkbox", "radio"}:
            form.choices.setdefault(told["name"], []).append(told.get("value", "on"))
            if "checked" in told:
                form.fields.setdefault(told["name"], []).append(told.get("value", "on"))
        elif kind not in {"file", "submit", "button"}:
            form.fields.setdefault(told["name"], []).append(told.get("value", ""))

    def _option(self, form: Form, select: str, told: dict[str, str]) -> None:
        value = told.get("value", "")
        form.choices.setdefault(select, []).append(value)
        if "selected" in told or select not in form.fields:
            form.fields[select] = [value]

    def handle_data(self, data: str) -> None:
        if self._area is not None:
            self._area[1].append(data)

    def handle_endtag(self, tag: str) -> None:
        if tag == "textarea" and self._area is not None and self._form is not None:
            name, pieces = self._area
            text = "".join(pieces).replace("\r\n", "\n").removeprefix("\n")
            self._form.fields.setdefault(name, []).append(text)
            self._area = None
        elif tag == "select":
            self._select = None
        elif tag == "form":
            self._form = None


def forms_of(answer: Any, address: str = "") -> list[Form]:
    """Every form of a page, in order."""
    parser = _Forms(address)
    parser.feed(answer.text)
    return parser.forms


class Desk:
    """Somebody at the pages of an archive.

    Attributes:
        client: their browser.
    """

    def __init__(self, folder: Path, by: str = "mh") -> None:
        """Sit down at an archive, as one of its people."""
        self.folder = folder
        self.by = by
        self.client: FlaskClient = create_app(folder).test_client()

    def open(self, address: str, action: str | None = None) -> Form:
        """Open a page and take the form on it that is sent to `action`; None for the first that writes."""
        answer = self.client.get(address)
        assert answer.status_code == 200, answer.text
        return self.form_of(answer, action)

    def form_of(self, answer: Any, action: str | None = None) -> Form:
        """The form of a page that is sent to `action`; None for the first that writes."""
        forms = [each for each in forms_of(answer) if each.method == "post"]
        return next(each for each in forms if action is None or each.action == action)

    def send(self, form: Form, typed: Typed | None = None, **fields: Any) -> Any:
        """Send a form with what is typed into it, in one's own name; `fields` are typed too, `_` for `-`."""
        filled: dict[str, Any] = {**form.fields, "by": self.by, **(typed or {})}
        filled |= {name.replace("_", "-"): value for name, value in fields.items()}
        sent = {name: _as_sent(value) for name, value in filled.items()}
        return self.client.post(form.action, data=sent, headers={"Origin": ORIGIN})


def _as_sent(value: Any) -> Any:
    """A value as a browser sends it: every line of it ends in a carriage return and a line feed (HTML, 4.10.22.4)."""
    if isinstance(value, str):
        return value.replace("\r\n", "\n").replace("\n", "\r\n")
    return [_as_sent(each) for each in value] if isinstance(value, list) else value


def state_of_records(folder: Path) -> dict[str, str]:
    """The digest of every file of an archive but the derived ones, by its name: equal while nothing was written."""
    return {
        str(path.relative_to(folder)): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and ".derived" not in path.parts
    }
