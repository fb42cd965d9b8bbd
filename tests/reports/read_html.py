"""Reads a page with the parser of the standard library, and refuses what a careful reader of HTML would stumble on."""

from dataclasses import dataclass, field
from html.parser import HTMLParser

VOID = frozenset({"br", "col", "img", "input", "link", "meta"})
# What of a page says something by itself; `p` in a box or a quotation too.
_TELLING = frozenset({"title", "h1", "h2", "h3", "h4", "p", "li", "dt", "dd", "caption", "th", "td", "figcaption"})


@dataclass
class Element:
    """An element with what stands in it, in order."""

    tag: str
    attributes: dict[str, str]
    inside: list["Element | str"] = field(default_factory=list)

    @property
    def text(self) -> str:
        """All its words; a line break is one."""
        return "".join(
            each if isinstance(each, str) else "\n" if each.tag == "br" else each.text for each in self.inside
        )

    def all(self, *tags: str) -> "list[Element]":
        """Every element in it, at any depth, in order; those with one of the tags where some are named."""
        found = []
        for each in self.inside:
            if isinstance(each, Element):
                found += [each] if not tags or each.tag in tags else []
                found += each.all(*tags)
        return found

    def told(self) -> list[tuple[str, str]]:
        """What the page says, with the tag of what says it."""
        return [(each.tag, each.text) for each in self.all(*_TELLING)]


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.open = [Element("", {})]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert len(dict(attrs)) == len(attrs), f"an attribute of {tag} stands twice"
        element = Element(tag, {name: value or "" for name, value in attrs})
        self.open[-1].inside.append(element)
        if tag not in VOID:
            self.open.append(element)

    def handle_endtag(self, tag: str) -> None:
        if tag not in VOID:
            assert self.open.pop().tag == tag, f"{tag} is closed out of order"

    def handle_data(self, data: str) -> None:
        self.open[-1].inside.append(data)

    def handle_comment(self, data: str) -> None:
        raise AssertionError(data)

    def unknown_decl(self, data: str) -> None:
        raise AssertionError(data)


def read_html(page: str) -> Element:
    """Read a whole page; every element closes in order."""
    reader = _Reader()
    reader.feed(page)
    reader.close()
    (whole,) = reader.open
    return whole
