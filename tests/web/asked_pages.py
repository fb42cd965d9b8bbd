"""Pages asked for without a browser, and what stands on them."""

import re
from html import unescape
from html.parser import HTMLParser
from pathlib import Path

from flask.testing import FlaskClient

from provenance.web.app import create_app

NOT_IN_RECORDS = frozenset(
    {
        "a byte order mark and other signs unseen",
        "breaks that only some know",
        "code points that are no characters",
        "control characters",
        "half a character",
    }
)
"""What no record may hold, of the hostile texts, so that no page comes to show it."""


def client_of(folder: Path) -> FlaskClient:
    """A client of the pages of an archive."""
    return create_app(folder).test_client()


def asked(client: FlaskClient, address: str) -> tuple[int, str]:
    """The status of an answer, and the answer as text."""
    answer = client.get(address, base_url="http://localhost")
    return answer.status_code, answer.data.decode("utf-8", "replace")


def text_of(page: str) -> str:
    """What can be read on a page, on one line."""
    return " ".join(unescape(re.sub(r"<[^>]*>", " ", page)).split())


class Outline(HTMLParser):
    """The elements of a page with the names of what is said of each, but for those that tell only of direction."""

    def __init__(self, page: str) -> None:
        """Read a page."""
        super().__init__()
        self.elements: list[tuple[str, ...]] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note an element."""
        if tag != "bdi":
            self.elements.append((tag, *(name for name, _ in attrs if name != "dir")))


def escaped(text: str) -> str:
    """A text as it can stand in a record between double quotes, whatever is in it (YAML 1.2, section 5.7)."""
    return "".join(f"\\U{ord(letter):08x}" for letter in text)
