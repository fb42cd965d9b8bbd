"""Search: what says what was asked for, with the strip of the page where it stands, and what to narrow it to."""

from dataclasses import dataclass
from urllib.parse import urlencode

from flask import Blueprint, Response, request

from provenance.errors import UsageRefusedError
from provenance.records.archive import Archive
from provenance.tasks.kept_search import STATES, KeptSearch, with_strips
from provenance.tasks.searching import Narrowing
from provenance.web.asking import current, shown
from provenance.web.pieces import piece

pages = Blueprint("search_page", __name__)

HITS = 20
"""How many hits stand on one page; as many as `provenance search` shows."""

_LONGEST = 1000
_MOST_PAGES = 500
_GROUPS = {
    "kind": "Kind",
    "component": "Speaks of",
    "holder": "Held by",
    "decade": "May be of the",
    "state": "State",
    "from": "May be of this date or later",
    "until": "May be of this date or earlier",
}


@dataclass(frozen=True, slots=True)
class Address:
    """What the address of a search asks for.

    Attributes:
        query: as typed.
        chosen: what it is narrowed to, by group, in order; `decade` is an EDTF date such as `193X`.
        page: of hits, counted from 1.
    """

    query: str
    chosen: tuple[tuple[str, str], ...]
    page: int = 1

    def narrowing(self) -> Narrowing:
        """The same as the tasks are asked for it."""
        given = dict(self.chosen)
        return Narrowing(
            components=tuple(value for name, value in self.chosen if name == "component"),
            kind=given.get("kind"),
            holder=given.get("holder"),
            since=given.get("from") or given.get("decade"),
            until=given.get("until") or given.get("decade"),
            state=given.get("state"),
        )

    def choosing(self, name: str, value: str) -> str:
        """The address that is narrowed to one choice of a group, in the place of what was chosen there."""
        kept = [(other, each) for other, each in self.chosen if other != name]
        return self._to([*kept, (name, value)], 1)

    def chosen_words(self, archive: Archive) -> list[tuple[str, str, str]]:
        """What it is narrowed to, as people read it: the group, the choice, and the address without it."""
        return [(_GROUPS[name], _words(archive, name, value), self.without(name, value)) for name, value in self.chosen]

    def without(self, name: str, value: str) -> str:
        """The address that is narrowed to all but this."""
        return self._to([each for each in self.chosen if each != (name, value)], 1)

    def on_page(self, page: int) -> str:
        """The address of another page of the same hits."""
        return self._to(self.chosen, page)

    def _to(self, chosen: object, page: int) -> str:
        pairs = [("q", self.query), *chosen]  # type: ignore[misc]  # pairs, in a list or a tuple
        return "/search?" + urlencode([*pairs, ("page", page)] if page > 1 else pairs, errors="replace")


@pages.get("/search")
def search_page() -> str | tuple[str, int]:
    """Show the hits; how to ask, where nothing is asked."""
    asked = _asked()
    if not asked.query.strip():
        return shown("search.html", query="", found=None, refused=None, asked=asked, groups=_GROUPS, pages=0)
    now = current()
    kept = now.remembered("search", lambda: KeptSearch(now.opened, now.readings))
    narrowing = asked.narrowing()
    try:
        found = kept.find(asked.query, narrowing, limit=HITS, skip=(asked.page - 1) * HITS)
        choices = kept.choices(asked.query, narrowing)
    except UsageRefusedError as error:
        page = shown("search.html", query=asked.query, found=None, refused=error, asked=asked, groups=_GROUPS, pages=0)
        return page, 400
    return shown(
        "search.html",
        query=asked.query,
        found=found,
        refused=None,
        asked=asked,
        hits=with_strips(now.readings, found),
        choices=choices,
        groups=_GROUPS,
        pages=-(-found.total // HITS),
        first=(asked.page - 1) * HITS + 1,
    )


@pages.get("/cut-outs/strip")
def strip() -> Response:
    """Show a strip of a page, without marks."""
    return piece(is_bare=True)


def _words(archive: Archive, name: str, value: str) -> str:
    if name == "component" and value in archive.components:
        return archive.components[value].name
    if name == "decade":
        return value.replace("X", "0s")
    return STATES.get(value, value) if name == "state" else value


def _asked() -> Address:
    given = request.args
    chosen = [
        (name, value[:_LONGEST])
        for name in ("kind", "component", "holder", "decade", "from", "until", "state")
        for value in given.getlist(name)
        if value.strip()
    ]
    page = given.get("page", "1")
    number = int(page) if page.isascii() and page.isdigit() and len(page) < 6 else 1
    return Address(given.get("q", "")[:_LONGEST], tuple(dict.fromkeys(chosen)), min(max(number, 1), _MOST_PAGES))
